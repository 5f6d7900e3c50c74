// A finding's spot from above: the stock as it is cut at the moment, what holds it, the moves, the tool.
import { s } from "../elements/dom";
import { cutWindow, type Window, windowOf } from "../cut/local_cut";
import { materialColours } from "../elements/palette";
import type { LoadedProgram } from "../data/moves";
import type { Point2 } from "../data/report_data";
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
  radiusOfParts,
  scaleBar,
  type SpotView,
} from "./spot_view";

// The heights of the window as a shaded picture.
function relief(w: Window, thickness: number, material: string): string {
  const canvas = document.createElement("canvas");
  canvas.width = w.nx;
  canvas.height = w.ny;
  const context = canvas.getContext("2d")!;
  const image = context.createImageData(w.nx, w.ny);
  const colours = materialColours[material] ?? materialColours.softwood;
  for (let j = 0; j < w.ny; ++j) {
    for (let i = 0; i < w.nx; ++i) {
      const c = j * w.nx + i;
      const out = 4 * ((w.ny - 1 - j) * w.nx + i);
      if (!w.inside[c] || w.top[c] <= w.floor[c] + 1e-3) continue;
      const z = w.top[c];
      const slopeX =
        (i + 1 < w.nx && w.inside[c + 1] ? w.top[c + 1] : z) - (i > 0 && w.inside[c - 1] ? w.top[c - 1] : z);
      const slopeY =
        (j + 1 < w.ny && w.inside[c + w.nx] ? w.top[c + w.nx] : z) -
        (j > 0 && w.inside[c - w.nx] ? w.top[c - w.nx] : z);
      const light = Math.min(
        1.12,
        Math.max(0.45, 1 + (0.12 * (slopeX + slopeY)) / w.step - 0.32 * ((thickness - z) / thickness)),
      );
      const base = thickness - z > 0.02 ? colours.inside : colours.face;
      for (const [k, shift] of [16, 8, 0].entries()) {
        image.data[out + k] = Math.min(255, ((base >> shift) & 255) * light);
      }
      image.data[out + 3] = 255;
    }
  }
  context.putImageData(image, 0, 0);
  return canvas.toDataURL();
}

function movesNear(
  program: LoadedProgram,
  spot: Spot,
  window: Window,
  to: (p: Point2) => Point2,
  flagged: boolean,
): string {
  const { moves } = program;
  const x1 = window.x0 + window.nx * window.step;
  const y1 = window.y0 + window.ny * window.step;
  const first = flagged ? moves.firstPiece[spot.moves[0]] : Math.max(0, spot.place.piece - 3000);
  const end = flagged ? moves.firstPiece[spot.moves[1] + 1] : Math.min(moves.pieces, spot.place.piece + 300);
  let path = "";
  let last = -2;
  for (let p = first; p < end; ++p) {
    if (!moves.drawn[p]) continue;
    const a = moves.points.subarray(3 * p, 3 * p + 2);
    const b = moves.points.subarray(3 * p + 3, 3 * p + 5);
    if (
      Math.max(a[0], b[0]) < window.x0 ||
      Math.min(a[0], b[0]) > x1 ||
      Math.max(a[1], b[1]) < window.y0 ||
      Math.min(a[1], b[1]) > y1
    ) {
      continue;
    }
    const [ax, ay] = to([a[0], a[1]]);
    const [bx, by] = to([b[0], b[1]]);
    path += `${last === p - 1 ? "" : `M${ax.toFixed(1)} ${ay.toFixed(1)}`}L${bx.toFixed(1)} ${by.toFixed(1)}`;
    last = p;
  }
  return path;
}

// Circles as wide as the cutter, and as the nut where it is not the cutter that is at fault.
function toolRings({ tool, part }: SpotView, [cx, cy]: Point2, scale: number): SVGElement[] {
  if (!tool) return [];
  const kinds = part === "cutter" ? (["cutter"] as const) : (["cutter", "nut"] as const);
  return kinds.map((kind) =>
    s("circle", { cx, cy, r: radiusOfParts(tool, [kind]) * scale, class: `tool-ring ${kind}` }),
  );
}

export function spotPlan(view: SpotView): SVGSVGElement {
  const { report, program, spot, setup, frame } = view;
  const high = (frame.across * pictureHeight) / pictureWidth;
  const w = windowOf(program, frame.centre, frame.across, high, frame.across / pictureWidth);
  cutWindow(w, program, report.scene.tools, report.scene.stock.size[2], spot.place);
  const pattern = newPattern();
  const scale = 1 / w.step;
  const to = ([x, y]: Point2): Point2 => [(x - w.x0) * scale, pictureHeight - (y - w.y0) * scale];
  const [left, top] = to([0, setup.size[1]]);
  const half = (setup.size[0] / 2) * scale;
  const centre = to([spot.place.point[0], spot.place.point[1]]);
  const whole = { width: pictureWidth, height: pictureHeight };
  const href = relief(w, setup.size[2], report.scene.stock.material);
  const flagged = movesNear(program, spot, w, to, true);
  return picture(
    `${view.title}, from above`,
    [hatch(pattern, "hit")],
    [
      s("rect", { ...whole, class: "board" }),
      s("image", { href, ...whole, preserveAspectRatio: "none" }),
      report.scene.stock.round
        ? s("circle", { cx: left + half, cy: top + half, r: half, class: "stock-edge" })
        : s("rect", {
            x: left,
            y: top,
            width: setup.size[0] * scale,
            height: setup.size[1] * scale,
            class: "stock-edge",
          }),
      ...view.holds.map((hold) =>
        s("path", { d: `${pathOf(outlineOf(hold).map(to))}Z`, ...holdLook(view, hold, pattern) }),
      ),
      s("path", { d: movesNear(program, spot, w, to, false), class: "way" }),
      s("path", { d: flagged, class: "way under" }),
      s("path", { d: flagged, class: "way flagged" }),
      ...toolRings(view, centre, scale),
      cross(centre),
      scaleBar(report, frame.across),
    ],
  );
}
