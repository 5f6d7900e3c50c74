// What both pictures of a finding's spot are drawn from, and what they share.
import { s } from "../elements/dom";
import type { LoadedProgram } from "../data/moves";
import type { BodyPiece, HoldDown, PartWord, Point2, Report, Setup, Tool } from "../data/report_data";
import type { Spot } from "../data/spot";

export const pictureWidth = 240;
export const pictureHeight = 180;

export interface SpotView {
  report: Report;
  program: LoadedProgram;
  spot: Spot;
  part: PartWord; // at fault
  title: string;
  setup: Setup;
  holds: HoldDown[]; // fitted
  tool?: Tool;
  frame: Frame;
}

export function spotView(report: Report, program: LoadedProgram, spot: Spot, part: PartWord, title: string): SpotView {
  const { scene } = report;
  const entry = scene.programs[spot.program];
  const tool = scene.tools.find((t) => t.number === program.moves.tool[spot.place.move]);
  const frame = frameOf(report, spot, part, tool);
  return {
    report,
    program,
    spot,
    part,
    title,
    setup: scene.setups[entry.setup],
    holds: entry.hold_downs.map((i) => scene.hold_downs[i]),
    tool,
    frame,
  };
}

export const pathOf = (points: Point2[]): string =>
  `M${points.map(([x, y]) => `${x.toFixed(2)} ${y.toFixed(2)}`).join("L")}`;

export function outlineOf(hold: HoldDown): Point2[] {
  if (hold.outline) return hold.outline;
  const [x, y] = hold.at!;
  const r = hold.diameter! / 2;
  return Array.from({ length: 48 }, (_, k) => [
    x + r * Math.cos((k * Math.PI) / 24),
    y + r * Math.sin((k * Math.PI) / 24),
  ]);
}

export function hatch(id: string, kind: string): SVGElement {
  const step = kind === "hit" ? 5 : 8;
  return s(
    "pattern",
    { id, width: step, height: step, patternUnits: "userSpaceOnUse", patternTransform: "rotate(45)" },
    s("rect", { width: step, height: step, class: `hatch-ground ${kind}` }),
    s("path", { d: `M${step / 2} 0V${step}`, class: `hatch-line ${kind}` }),
  );
}

const widthAt = (piece: BodyPiece): number => Math.max(...piece.outline.map(([r]) => r));
export const radiusOfParts = (tool: Tool, parts: PartWord[]): number =>
  Math.max(0, ...tool.pieces.filter((p) => parts.includes(p.part)).map(widthAt));

export interface Frame {
  centre: Point2;
  across: number;
}

// How much of the surroundings makes the picture tell what happens.
function frameOf(report: Report, spot: Spot, part: PartWord, tool?: Tool): Frame {
  const reach = tool ? radiusOfParts(tool, part === "cutter" ? ["cutter"] : ["cutter", "nut"]) : 5;
  let across = Math.max(28, reach * 5.5);
  let centre: Point2 = [spot.place.point[0], spot.place.point[1]];
  if (spot.holdDown) {
    const outline = outlineOf(spot.holdDown);
    const xs = outline.map((p) => p[0]);
    const ys = outline.map((p) => p[1]);
    const near: Point2 = [
      Math.min(Math.max(centre[0], Math.min(...xs)), Math.max(...xs)),
      Math.min(Math.max(centre[1], Math.min(...ys)), Math.max(...ys)),
    ];
    const size = Math.min(30, Math.max(Math.max(...xs) - Math.min(...xs), Math.max(...ys) - Math.min(...ys)));
    centre = [(centre[0] + near[0]) / 2, (centre[1] + near[1]) / 2];
    across = Math.max(
      across,
      2.6 * size,
      2.6 * Math.hypot(near[0] - spot.place.point[0], near[1] - spot.place.point[1]) + 2 * reach,
    );
  }
  return { centre, across: Math.min(across, report.scene.stock.size[0] * 1.5 + 40) };
}

// A bar as long as some round number of the unit.
export function scaleBar(report: Report, across: number): SVGElement {
  const { units } = report.scene;
  const unit = units === "in" ? 25.4 : 1;
  const wanted = across / 4 / unit;
  const step = [0.1, 0.25, 0.5, 1, 2, 5, 10, 20, 50, 100, 200].filter((v) => v <= wanted).at(-1) ?? 0.1;
  const length = (step * unit * pictureWidth) / across;
  return s(
    "g",
    { class: "scale-bar" },
    s("path", { d: `M8 ${pictureHeight - 12}v4h${length.toFixed(1)}v-4` }),
    s("text", { x: 12 + length, y: pictureHeight - 8 }, `${step} ${units}`),
  );
}

export function picture(title: string, patterns: SVGElement[], children: (SVGElement | null)[]): SVGSVGElement {
  return s(
    "svg",
    { viewBox: `0 0 ${pictureWidth} ${pictureHeight}`, class: "spot", role: "img", "aria-label": title },
    s("defs", {}, ...patterns),
    ...children,
  );
}

// Looks of a hold-down: the one of the finding is hatched.
export const holdLook = (view: SpotView, hold: HoldDown, pattern: string): { class: string; fill?: string } =>
  hold === view.spot.holdDown ? { class: "hold hit", fill: `url(#${pattern})` } : { class: "hold" };

export const cross = ([x, y]: Point2): SVGElement =>
  s("path", { d: `M${x - 5} ${y}h10M${x} ${y - 5}v10`, class: "cross" });

let patterns = 0;

// Names of patterns must differ over the whole page.
export const newPattern = (): string => `spot-${++patterns}`;
