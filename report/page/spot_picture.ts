// The small pictures of a finding's spot: from above, and as a section through the tool.
import { s } from "./dom";
import { cutWindow, type Window, windowOf } from "./local_cut";
import type { LoadedProgram } from "./moves";
import { materialColours } from "./palette";
import type { BodyPiece, HoldDown, Report, Scene, Setup, Tool } from "./report_data";
import type { Spot } from "./spot";
import { Wording } from "./wording";

type P2 = [number, number];
const pictureWidth = 240, pictureHeight = 180;

const pathOf = (points: P2[]): string => `M${points.map(([x, y]) => `${x.toFixed(2)} ${y.toFixed(2)}`).join("L")}`;

// The heights of the window as a shaded picture.
function relief(w: Window, thickness: number, material: string): string {
  const canvas = document.createElement("canvas");
  canvas.width = w.nx;
  canvas.height = w.ny;
  const context = canvas.getContext("2d")!, image = context.createImageData(w.nx, w.ny);
  const colours = materialColours[material] ?? materialColours.softwood;
  for (let j = 0; j < w.ny; ++j)
    for (let i = 0; i < w.nx; ++i) {
      const c = j * w.nx + i, out = 4 * ((w.ny - 1 - j) * w.nx + i);
      if (!w.inside[c] || w.top[c] <= w.floor[c] + 1e-3) continue;
      const z = w.top[c];
      const slopeX = (i + 1 < w.nx && w.inside[c + 1] ? w.top[c + 1] : z) - (i > 0 && w.inside[c - 1] ? w.top[c - 1] : z);
      const slopeY = (j + 1 < w.ny && w.inside[c + w.nx] ? w.top[c + w.nx] : z) - (j > 0 && w.inside[c - w.nx] ? w.top[c - w.nx] : z);
      const light = Math.min(1.12, Math.max(0.45, 1 + (0.12 * (slopeX + slopeY)) / w.step - 0.32 * ((thickness - z) / thickness)));
      const base = thickness - z > 0.02 ? colours.inside : colours.face;
      for (const [k, shift] of [16, 8, 0].entries()) image.data[out + k] = Math.min(255, ((base >> shift) & 255) * light);
      image.data[out + 3] = 255;
    }
  context.putImageData(image, 0, 0);
  return canvas.toDataURL();
}

function outlineOf(hold: HoldDown): P2[] {
  if (hold.outline) return hold.outline;
  const [x, y] = hold.at!, r = hold.diameter! / 2;
  return Array.from({ length: 48 }, (_, k) => [x + r * Math.cos((k * Math.PI) / 24), y + r * Math.sin((k * Math.PI) / 24)]);
}

let pictures = 0;

function hatch(id: string, kind: string): SVGElement {
  const step = kind === "met" ? 5 : 8;
  return s("pattern", { id, width: step, height: step, patternUnits: "userSpaceOnUse", patternTransform: "rotate(45)" },
    s("rect", { width: step, height: step, class: `hatch-ground ${kind}` }), s("path", { d: `M${step / 2} 0V${step}`, class: `hatch-line ${kind}` }));
}

const widthAt = (piece: BodyPiece): number => Math.max(...piece.outline.map(([r]) => r));
const radiusOfParts = (tool: Tool, parts: string[]): number => Math.max(0, ...tool.pieces.filter((p) => parts.includes(p.part)).map(widthAt));

interface Frame { centre: P2; across: number }

// How much of the surroundings makes the picture tell what happens.
function frameOf(report: Report, spot: Spot, part: string, tool?: Tool): Frame {
  const reach = tool ? radiusOfParts(tool, part === "cutter" ? ["cutter"] : ["cutter", "nut"]) : 5;
  let across = Math.max(28, reach * 5.5), centre: P2 = [spot.place.point[0], spot.place.point[1]];
  if (spot.holdDown) {
    const outline = outlineOf(spot.holdDown), xs = outline.map((p) => p[0]), ys = outline.map((p) => p[1]);
    const near: P2 = [Math.min(Math.max(centre[0], Math.min(...xs)), Math.max(...xs)), Math.min(Math.max(centre[1], Math.min(...ys)), Math.max(...ys))];
    const size = Math.min(30, Math.max(Math.max(...xs) - Math.min(...xs), Math.max(...ys) - Math.min(...ys)));
    centre = [(centre[0] + near[0]) / 2, (centre[1] + near[1]) / 2];
    across = Math.max(across, 2.6 * size, 2.6 * Math.hypot(near[0] - spot.place.point[0], near[1] - spot.place.point[1]) + 2 * reach);
  }
  return { centre, across: Math.min(across, report.scene.stock.size[0] * 1.5 + 40) };
}

function movesNear(program: LoadedProgram, spot: Spot, window: Window, to: (p: P2) => P2, flagged: boolean): string {
  const { moves } = program, x1 = window.x0 + window.nx * window.step, y1 = window.y0 + window.ny * window.step;
  const first = flagged ? moves.firstPiece[spot.moves[0]] : Math.max(0, spot.place.piece - 3000);
  const end = flagged ? moves.firstPiece[spot.moves[1] + 1] : Math.min(moves.pieces, spot.place.piece + 300);
  let path = "", last = -2;
  for (let p = first; p < end; ++p) {
    if (!moves.drawn[p]) continue;
    const a = moves.points.subarray(3 * p, 3 * p + 2), b = moves.points.subarray(3 * p + 3, 3 * p + 5);
    if (Math.max(a[0], b[0]) < window.x0 || Math.min(a[0], b[0]) > x1 || Math.max(a[1], b[1]) < window.y0 || Math.min(a[1], b[1]) > y1) continue;
    const [ax, ay] = to([a[0], a[1]]), [bx, by] = to([b[0], b[1]]);
    path += `${last === p - 1 ? "" : `M${ax.toFixed(1)} ${ay.toFixed(1)}`}L${bx.toFixed(1)} ${by.toFixed(1)}`;
    last = p;
  }
  return path;
}

function scaleBar(across: number, wording: Wording, inches: boolean): SVGElement {
  const unit = inches ? 25.4 : 1, wanted = across / 4 / unit;
  const step = [0.1, 0.25, 0.5, 1, 2, 5, 10, 20, 50, 100, 200].filter((v) => v <= wanted).at(-1) ?? 0.1;
  const length = (step * unit * pictureWidth) / across;
  return s("g", { class: "scale-bar" }, s("path", { d: `M8 ${pictureHeight - 12}v4h${length.toFixed(1)}v-4` }),
    s("text", { x: 12 + length, y: pictureHeight - 8 }, `${step} ${wording.unit}`));
}

export interface SpotPictures { plan: SVGSVGElement; section: SVGSVGElement }

export function spotPictures(report: Report, program: LoadedProgram, spot: Spot, part: string, title: string): SpotPictures {
  const wording = new Wording(report), { scene } = report, entry = scene.programs[spot.program], setup = scene.setups[entry.setup];
  const tool = scene.tools.find((t) => t.number === program.moves.tool[spot.place.move]);
  const frame = frameOf(report, spot, part, tool), high = (frame.across * pictureHeight) / pictureWidth;
  const window = windowOf(program, frame.centre, frame.across, high, frame.across / pictureWidth);
  cutWindow(window, program, scene.tools, scene.stock.size[2], spot.place);
  const inches = scene.units === "in";
  return {
    plan: planPicture(report, program, spot, window, setup, entry.hold_downs, tool, part, title, scaleBar(frame.across, wording, inches)),
    section: sectionPicture(report, spot, frame, program, setup, entry.hold_downs, tool, part, title, scaleBar(frame.across, wording, inches)),
  };
}

function picture(title: string, patterns: SVGElement[], children: (SVGElement | null)[]): SVGSVGElement {
  return s("svg", { viewBox: `0 0 ${pictureWidth} ${pictureHeight}`, class: "spot", role: "img", "aria-label": title }, s("defs", {}, ...patterns), ...children);
}

function planPicture(report: Report, program: LoadedProgram, spot: Spot, w: Window, setup: Setup, holds: number[], tool: Tool | undefined, part: string, title: string, bar: SVGElement): SVGSVGElement {
  const id = `p${++pictures}`, scale = 1 / w.step;
  const to = ([x, y]: P2): P2 => [(x - w.x0) * scale, pictureHeight - (y - w.y0) * scale];
  const [bx, by] = to([0, setup.size[1]]), centre = to([spot.place.point[0], spot.place.point[1]]);
  const holdDowns = holds.map((i) => {
    const hold = report.scene.hold_downs[i], met = hold === spot.holdDown;
    return s("path", { d: `${pathOf(outlineOf(hold).map(to))}Z`, class: met ? "hold met" : "hold", fill: met ? `url(#${id}m)` : undefined });
  });
  const circle = (radius: number, kind: string) => s("circle", { cx: centre[0], cy: centre[1], r: radius * scale, class: `tool-ring ${kind}` });
  const rings = tool ? [circle(radiusOfParts(tool, ["cutter"]), "cutter"), ...(part !== "cutter" ? [circle(radiusOfParts(tool, ["nut"]), "nut")] : [])] : [];
  return picture(`${title}, from above`, [hatch(`${id}m`, "met")], [
    s("rect", { width: pictureWidth, height: pictureHeight, class: "board" }),
    s("image", { href: relief(w, setup.size[2], report.scene.stock.material), width: pictureWidth, height: pictureHeight, preserveAspectRatio: "none" }),
    s("rect", { x: bx, y: by, width: setup.size[0] * scale, height: setup.size[1] * scale, class: "stock-edge" }),
    ...holdDowns,
    s("path", { d: movesNear(program, spot, w, to, false), class: "way" }),
    s("path", { d: movesNear(program, spot, w, to, true), class: "way under" }),
    s("path", { d: movesNear(program, spot, w, to, true), class: "way flagged" }),
    ...rings,
    s("path", { d: `M${centre[0] - 5} ${centre[1]}h10M${centre[0]} ${centre[1] - 5}v10`, class: "cross" }),
    bar,
  ]);
}

// Where a vertical plane through the tool's axis cuts a footprint: from and to along the plane.
function crossing(outline: P2[], origin: P2, direction: P2): P2[] {
  const meets: number[] = [];
  for (let k = 0; k < outline.length; ++k) {
    const a = outline[k], b = outline[(k + 1) % outline.length];
    const side = (p: P2): number => (p[0] - origin[0]) * -direction[1] + (p[1] - origin[1]) * direction[0];
    const sa = side(a), sb = side(b);
    if (sa > 0 === sb > 0) continue;
    const t = sa / (sa - sb), x = a[0] + t * (b[0] - a[0]), y = a[1] + t * (b[1] - a[1]);
    meets.push((x - origin[0]) * direction[0] + (y - origin[1]) * direction[1]);
  }
  meets.sort((a, b) => a - b);
  const spans: P2[] = [];
  for (let k = 0; k + 1 < meets.length; k += 2) spans.push([meets[k], meets[k + 1]]);
  return spans;
}

function directionOf(spot: Spot): P2 {
  if (!spot.holdDown) return [1, 0];
  const outline = outlineOf(spot.holdDown), xs = outline.map((p) => p[0]), ys = outline.map((p) => p[1]);
  const [x, y] = spot.place.point;
  const middle: P2 = [Math.min(Math.max(x, Math.min(...xs)), Math.max(...xs)), Math.min(Math.max(y, Math.min(...ys)), Math.max(...ys))];
  const aim: P2 = middle[0] === x && middle[1] === y ? [(Math.min(...xs) + Math.max(...xs)) / 2, (Math.min(...ys) + Math.max(...ys)) / 2] : middle;
  const dx = aim[0] - x, dy = aim[1] - y, far = Math.hypot(dx, dy);
  if (far < 0.5) return [1, 0];
  return dx < -1e-9 ? [-dx / far, -dy / far] : [dx / far, dy / far];  // the picture reads from left to right
}

function sectionPicture(report: Report, spot: Spot, frame: Frame, program: LoadedProgram, setup: Setup, holds: number[], tool: Tool | undefined, part: string, title: string, bar: SVGElement): SVGSVGElement {
  const id = `p${++pictures}`, scale = pictureWidth / frame.across, { scene } = report, along = directionOf(spot), tip = spot.place.point;
  const origin: P2 = [tip[0], tip[1]];
  // The middle of the picture in plan lies on the plane where the frame's own middle does.
  const middle = (frame.centre[0] - origin[0]) * along[0] + (frame.centre[1] - origin[1]) * along[1];
  const high = pictureHeight / scale, thickness = setup.size[2];
  const low = Math.min(Math.max(Math.min(tip[2], thickness) - high * 0.45, -scene.spoilboard.thickness * 0.6 - 2), thickness - high * 0.3);
  const to = ([u, z]: P2): P2 => [(u - middle) * scale + pictureWidth / 2, pictureHeight - (z - low) * scale];

  const samples = pictureWidth, upper: P2[] = [], lower: P2[] = [], runs: P2[][] = [];
  const flush = (): void => {
    if (upper.length > 1) runs.push([...upper, ...lower.reverse()]);
    upper.length = lower.length = 0;
  };
  const line = windowLine(program, origin, along, middle, frame.across, samples, spot, scene);
  for (const cell of line) {
    if (!cell.solid) {
      flush();
      continue;
    }
    upper.push(to([cell.u, cell.top]));
    lower.push(to([cell.u, cell.floor]));
  }
  flush();

  const board = to([0, -setup.lift])[1];
  const holdShapes = holds.flatMap((i) => {
    const hold = scene.hold_downs[i], met = hold === spot.holdDown;
    return crossing(outlineOf(hold), origin, along).map(([a, b]) => {
      const top = hold.kind === "pin" && hold.depth_in_stock ? hold.depth_in_stock : thickness + hold.top;
      const bottom = hold.kind === "screw" ? thickness : -setup.lift;
      const p = to([a, top]), q = to([b, bottom]);
      return s("rect", { x: p[0], y: p[1], width: Math.max(0.5, q[0] - p[0]), height: Math.max(0.5, q[1] - p[1]), class: met ? "hold met" : "hold", fill: met ? `url(#${id}m)` : undefined });
    });
  });
  const bodies = tool?.pieces.map((piece) => {
    const right = piece.outline.map(([r, z]) => to([r, tip[2] + z])), left = piece.outline.map(([r, z]) => to([-r, tip[2] + z])).reverse();
    return s("path", { d: `${pathOf([...right, ...left])}Z`, class: `body ${piece.part}${piece.part === part ? " at-fault" : ""}` });
  }) ?? [];
  const at = to([0, tip[2]]);
  return picture(`${title}, section`, [hatch(`${id}m`, "met"), hatch(`${id}w`, "wood")], [
    s("rect", { width: pictureWidth, height: pictureHeight, class: "air" }),
    s("rect", { y: board, width: pictureWidth, height: Math.max(0, pictureHeight - board), class: "board" }),
    ...runs.map((r) => s("path", { d: `${pathOf(r)}Z`, class: "wood", fill: `url(#${id}w)` })),
    ...holdShapes, ...bodies,
    s("path", { d: `M${at[0] - 5} ${at[1]}h10M${at[0]} ${at[1] - 5}v10`, class: "cross" }),
    bar,
  ]);
}

interface LineCell { u: number; top: number; floor: number; solid: boolean }

// The stock along the plane, cut up to the moment.
function windowLine(program: LoadedProgram, origin: P2, along: P2, middle: number, across: number, samples: number, spot: Spot, scene: Scene): LineCell[] {
  const step = across / samples, cells: LineCell[] = [];
  const straightX = Math.abs(along[1]) < 1e-9;
  // Along x one thin window does; else a square one that holds the whole line.
  const centre: P2 = [origin[0] + along[0] * middle, origin[1] + along[1] * middle];
  const w = straightX ? windowOf(program, centre, across, step, step) : windowOf(program, centre, across, across, step);
  cutWindow(w, program, scene.tools, scene.stock.size[2], spot.place);
  for (let k = 0; k < samples; ++k) {
    const u = middle - across / 2 + (k + 0.5) * step;
    const i = Math.floor((origin[0] + along[0] * u - w.x0) / step), j = straightX ? 0 : Math.floor((origin[1] + along[1] * u - w.y0) / step);
    const c = j * w.nx + i, inside = i >= 0 && j >= 0 && i < w.nx && j < w.ny && w.inside[c] === 1;
    cells.push({ u, top: inside ? w.top[c] : 0, floor: inside ? w.floor[c] : 0, solid: inside && w.top[c] > w.floor[c] + 1e-3 });
  }
  return cells;
}
