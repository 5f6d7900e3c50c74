// A finding's spot in section: a vertical plane through the tool's axis and, where there is one, the hold-down.
import { s } from "../elements/dom";
import { cutWindow, windowOf } from "../cut/local_cut";
import type { HoldDown, Point2 } from "../data/report_data";
import type { Spot } from "../data/spot";
import {
  cross,
  hatch,
  holdLook,
  newPattern,
  outlineOf,
  pathOf,
  picture,
  pictureHeight,
  pictureWidth,
  scaleBar,
  type SpotView,
} from "./spot_view";

interface Plane {
  origin: Point2; // the tool's axis
  along: Point2;
  middle: number; // of the picture, along the plane from the axis
}

// Place along the plane and height, to the picture.
type ToPicture = (p: Point2) => Point2;

// Where a vertical plane through the tool's axis cuts a footprint: from and to along the plane.
function crossing(outline: Point2[], origin: Point2, direction: Point2): Point2[] {
  const meets: number[] = [];
  for (let k = 0; k < outline.length; ++k) {
    const a = outline[k];
    const b = outline[(k + 1) % outline.length];
    const side = (p: Point2): number => (p[0] - origin[0]) * -direction[1] + (p[1] - origin[1]) * direction[0];
    const sa = side(a);
    const sb = side(b);
    if (sa > 0 === sb > 0) continue;
    const t = sa / (sa - sb);
    const x = a[0] + t * (b[0] - a[0]);
    const y = a[1] + t * (b[1] - a[1]);
    meets.push((x - origin[0]) * direction[0] + (y - origin[1]) * direction[1]);
  }
  meets.sort((a, b) => a - b);
  const spans: Point2[] = [];
  for (let k = 0; k + 1 < meets.length; k += 2) spans.push([meets[k], meets[k + 1]]);
  return spans;
}

function directionOf(spot: Spot): Point2 {
  if (!spot.holdDown) return [1, 0];
  const outline = outlineOf(spot.holdDown);
  const xs = outline.map((p) => p[0]);
  const ys = outline.map((p) => p[1]);
  const [x, y] = spot.place.point;
  const middle: Point2 = [
    Math.min(Math.max(x, Math.min(...xs)), Math.max(...xs)),
    Math.min(Math.max(y, Math.min(...ys)), Math.max(...ys)),
  ];
  const aim: Point2 =
    middle[0] === x && middle[1] === y
      ? [(Math.min(...xs) + Math.max(...xs)) / 2, (Math.min(...ys) + Math.max(...ys)) / 2]
      : middle;
  const dx = aim[0] - x;
  const dy = aim[1] - y;
  const far = Math.hypot(dx, dy);
  if (far < 0.5) return [1, 0];
  return dx < -1e-9 ? [-dx / far, -dy / far] : [dx / far, dy / far]; // the picture reads from left to right
}

// The middle of the picture in plan lies on the plane where the frame's own middle does.
function planeOf({ spot, frame }: SpotView): Plane {
  const origin: Point2 = [spot.place.point[0], spot.place.point[1]];
  const along = directionOf(spot);
  const middle = (frame.centre[0] - origin[0]) * along[0] + (frame.centre[1] - origin[1]) * along[1];
  return { origin, along, middle };
}

// The lowest height shown: the tip and the stock's face are in sight, and not much below the spoilboard.
function lowest({ report, spot, setup }: SpotView, high: number): number {
  const thickness = setup.size[2];
  const belowTip = Math.min(spot.place.point[2], thickness) - high * 0.45;
  const board = -report.scene.spoilboard.thickness * 0.6 - 2;
  return Math.min(Math.max(belowTip, board), thickness - high * 0.3);
}

function woodOutlines(line: LineCell[], to: ToPicture): Point2[][] {
  const outlines: Point2[][] = [];
  let upper: Point2[] = [];
  let lower: Point2[] = [];
  const close = (): void => {
    if (upper.length > 1) outlines.push([...upper, ...lower.reverse()]);
    upper = [];
    lower = [];
  };
  for (const cell of line) {
    if (!cell.solid) {
      close();
      continue;
    }
    upper.push(to([cell.u, cell.top]));
    lower.push(to([cell.u, cell.floor]));
  }
  close();
  return outlines;
}

function holdShapes(view: SpotView, hold: HoldDown, plane: Plane, to: ToPicture, pattern: string): SVGElement[] {
  const { lift, size } = view.setup;
  const top = hold.kind === "pin" && hold.depth_in_stock ? hold.depth_in_stock : size[2] + hold.top;
  const bottom = hold.kind === "screw" ? size[2] : -lift;
  return crossing(outlineOf(hold), plane.origin, plane.along).map(([from, end]) => {
    const [x, y] = to([from, top]);
    const [right, low] = to([end, bottom]);
    const size = { width: Math.max(0.5, right - x), height: Math.max(0.5, low - y) };
    return s("rect", { x, y, ...size, ...holdLook(view, hold, pattern) });
  });
}

function toolShapes({ tool, part, spot }: SpotView, to: ToPicture): SVGElement[] {
  const tip = spot.place.point[2];
  return (tool?.pieces ?? []).map((piece) => {
    const right = piece.outline.map(([r, z]) => to([r, tip + z]));
    const left = piece.outline.map(([r, z]) => to([-r, tip + z])).reverse();
    const fault = piece.part === part ? " at-fault" : "";
    return s("path", { d: `${pathOf([...right, ...left])}Z`, class: `body ${piece.part}${fault}` });
  });
}

export function spotSection(view: SpotView): SVGSVGElement {
  const { report, frame, setup, spot } = view;
  const scale = pictureWidth / frame.across;
  const plane = planeOf(view);
  const low = lowest(view, pictureHeight / scale);
  const to: ToPicture = ([u, z]) => [(u - plane.middle) * scale + pictureWidth / 2, pictureHeight - (z - low) * scale];
  const pattern = newPattern();
  const wood = `${pattern}-wood`;
  const outlines = woodOutlines(windowLine(view, plane), to);
  const board = to([0, -setup.lift])[1];
  return picture(
    `${view.title}, section`,
    [hatch(pattern, "hit"), hatch(wood, "wood")],
    [
      s("rect", { width: pictureWidth, height: pictureHeight, class: "air" }),
      s("rect", { y: board, width: pictureWidth, height: Math.max(0, pictureHeight - board), class: "board" }),
      ...outlines.map((o) => s("path", { d: `${pathOf(o)}Z`, class: "wood", fill: `url(#${wood})` })),
      ...view.holds.flatMap((hold) => holdShapes(view, hold, plane, to, pattern)),
      ...toolShapes(view, to),
      cross(to([0, spot.place.point[2]])),
      scaleBar(report, frame.across),
    ],
  );
}

interface LineCell {
  u: number;
  top: number;
  floor: number;
  solid: boolean;
}

// The stock along the plane, cut up to the moment.
function windowLine({ report, program, spot, frame: { across } }: SpotView, plane: Plane): LineCell[] {
  const { origin, along, middle } = plane;
  const { tools, stock } = report.scene;
  const step = across / pictureWidth;
  const cells: LineCell[] = [];
  const straightX = Math.abs(along[1]) < 1e-9;
  // Along x one thin window does; else a square one that holds the whole line.
  const centre: Point2 = [origin[0] + along[0] * middle, origin[1] + along[1] * middle];
  const w = straightX ? windowOf(program, centre, across, step, step) : windowOf(program, centre, across, across, step);
  cutWindow(w, program, tools, stock.size[2], spot.place);
  for (let k = 0; k < pictureWidth; ++k) {
    const u = middle - across / 2 + (k + 0.5) * step;
    const i = Math.floor((origin[0] + along[0] * u - w.x0) / step);
    const j = straightX ? 0 : Math.floor((origin[1] + along[1] * u - w.y0) / step);
    const c = j * w.nx + i;
    const inside = i >= 0 && j >= 0 && i < w.nx && j < w.ny && w.inside[c] === 1;
    cells.push({
      u,
      top: inside ? w.top[c] : 0,
      floor: inside ? w.floor[c] : 0,
      solid: inside && w.top[c] > w.floor[c] + 1e-3,
    });
  }
  return cells;
}
