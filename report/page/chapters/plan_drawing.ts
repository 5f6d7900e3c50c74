// The stock from above with its hold-downs, the reach of the moves and the area that is free for a hold-down.
import { h, s } from "../elements/dom";
import type { HoldDown, Places, Point2, Report, Setup } from "../data/report_data";

// Programs that follow each other in one setup with the same hold-downs.
export interface Stretch {
  setup: number;
  programs: number[];
  holds: number[];
}

// Millimetres of the setup frame to units of the drawing.
interface Sheet {
  x: (mm: number) => number;
  y: (mm: number) => number;
  scale: number;
  high: number;
}

const drawingWidth = 700;

export function middle(hold: HoldDown): Point2 {
  if (hold.at) return hold.at;
  const xs = hold.outline!.map((p) => p[0]);
  const ys = hold.outline!.map((p) => p[1]);
  return [(Math.min(...xs) + Math.max(...xs)) / 2, (Math.min(...ys) + Math.max(...ys)) / 2];
}

function corners(hold: HoldDown): Point2[] {
  if (hold.outline) return hold.outline;
  const [x, y] = hold.at!;
  const r = hold.diameter!;
  return [
    [x - r, y - r],
    [x + r, y + r],
  ];
}

function sheetOf(setup: Setup, holds: HoldDown[]): Sheet {
  const [w, d] = setup.size;
  const points: Point2[] = [[0, 0], [w, d], ...holds.flatMap(corners)];
  const margin = Math.max(w, d) * 0.055;
  const xs = points.map((p) => p[0]);
  const ys = points.map((p) => p[1]);
  const left = Math.min(...xs) - margin;
  const top = Math.max(...ys) + margin;
  const scale = drawingWidth / (Math.max(...xs) + margin - left);
  return {
    x: (mm) => (mm - left) * scale,
    y: (mm) => (top - mm) * scale,
    scale,
    high: (top - Math.min(...ys) + margin) * scale,
  };
}

const signs: Record<HoldDown["kind"], string> = {
  screw: "M-2.2-2.2 2.2 2.2M-2.2 2.2 2.2-2.2",
  clamp: "M-3 0H3",
  pin: "M0-.1V.1",
  tape: "M-3-1H3M-3 1H3",
  glue: "M-3-1H3M-3 1H3",
  vacuum: "M-3 1L0-2 3 1",
  vise: "M-3 0H3",
  "side-clamp": "M-3 0H3",
  other: "",
};

function holdDownShape(hold: HoldDown, hit: boolean, to: Sheet): SVGElement {
  const [cx, cy] = middle(hold);
  const look = { class: hit ? "hold hit" : "hold" };
  const body = hold.outline
    ? s("polygon", { points: hold.outline.map((p) => `${to.x(p[0])},${to.y(p[1])}`).join(" "), ...look })
    : s("circle", { cx: to.x(cx), cy: to.y(cy), r: Math.max(4, (hold.diameter! / 2) * to.scale), ...look });
  const place = `translate(${to.x(cx)} ${to.y(cy)})`;
  return s("g", {}, body, s("path", { d: signs[hold.kind], transform: place, class: "hold-sign" }));
}

function holdDownName(hold: HoldDown, hit: boolean, to: Sheet, stockWidth: number): SVGElement {
  const [cx, cy] = middle(hold);
  const atRight = cx > stockWidth * 0.75;
  const atTop = to.y(cy) < 40;
  return s(
    "text",
    {
      x: to.x(cx) + (atRight ? -9 : 9),
      y: to.y(cy) + (atTop ? 16 : -9),
      "text-anchor": atRight ? "end" : "start",
      class: hit ? "hit" : undefined,
    },
    hit ? `${hold.name}: hit` : hold.name,
  );
}

// Hatched, so that it reads as an area of its own without its colour too.
function freeArea(places: Places, to: Sheet): SVGElement[] {
  const id = `free-hatch-${places.first}`;
  const rings = places.rings.map((ring) => {
    const points = ring.map((p) => `${to.x(p[0]).toFixed(1)} ${to.y(p[1]).toFixed(1)}`);
    return `M${points.join("L")}Z`;
  });
  const shape = { d: rings.join(""), "fill-rule": "evenodd" };
  const hatch = s(
    "pattern",
    { id, width: 9, height: 9, patternUnits: "userSpaceOnUse", patternTransform: "rotate(45)" },
    s("path", { d: "M0 0V9", class: "free-line" }),
  );
  return [
    s("defs", {}, hatch),
    s("path", { ...shape, class: "free" }),
    s("path", { ...shape, fill: `url(#${id})`, class: "free-hatch" }),
  ];
}

function reachOf(report: Report, program: number, setup: Setup, to: Sheet): SVGElement | null {
  const { bounds } = report.programs[program];
  if (!bounds) return null;
  const [low, high] = bounds;
  return s("rect", {
    x: to.x(low[0] + setup.zero[0]),
    y: to.y(high[1] + setup.zero[1]),
    width: (high[0] - low[0]) * to.scale,
    height: (high[1] - low[1]) * to.scale,
    class: "reach",
  });
}

const zeroSign = (setup: Setup, to: Sheet): SVGElement =>
  s(
    "g",
    { class: "zero", transform: `translate(${to.x(setup.zero[0])} ${to.y(setup.zero[1])})` },
    s("path", { d: "M-7 0H16M0 7V-16" }),
    s("circle", { r: 4 }),
    s("text", { x: 7, y: 16 }, "zero"),
  );

// `words` says what the free area means, for those who do not see it.
export function planDrawing(report: Report, stretch: Stretch, places?: Places, words = ""): SVGSVGElement {
  const { scene } = report;
  const setup = scene.setups[stretch.setup];
  const holds = stretch.holds.map((i) => scene.hold_downs[i]);
  const hit = stretch.holds.map((i) => stretch.programs.some((p) => scene.programs[p].hit.includes(i)));
  const to = sheetOf(setup, holds);
  const [w, d] = setup.size;
  const names = holds.map((hold) => hold.name).join(", ") || "no hold-downs";
  return s(
    "svg",
    {
      viewBox: `0 0 ${drawingWidth} ${to.high.toFixed(1)}`,
      class: "plan",
      role: "img",
      "aria-label": `Setup ${setup.name} from above: ${names}${words && `. ${words}`}`,
    },
    scene.stock.round
      ? s("circle", { cx: to.x(w / 2), cy: to.y(d / 2), r: (w / 2) * to.scale, class: "plan-stock" })
      : s("rect", { x: to.x(0), y: to.y(d), width: w * to.scale, height: d * to.scale, class: "plan-stock" }),
    ...(places ? freeArea(places, to) : []),
    ...stretch.programs.map((i) => reachOf(report, i, setup, to)),
    ...holds.map((hold, k) => holdDownShape(hold, hit[k], to)),
    ...holds.map((hold, k) => holdDownName(hold, hit[k], to, w)),
    zeroSign(setup, to),
  );
}

// What the lines and areas of the plans mean.
export function planLegend(): HTMLElement {
  const key = (text: string, ...shapes: SVGElement[]): HTMLElement =>
    h("li", {}, s("svg", { viewBox: "0 0 28 16", class: "plan plan-key", "aria-hidden": "true" }, ...shapes), text);
  return h(
    "ul",
    { class: "plan-legend", "aria-label": "Legend" },
    key(
      "free for a hold-down's centre",
      s("rect", { x: 1, y: 1, width: 26, height: 14, class: "free" }),
      s("path", { d: "M3 15 13 1M11 15 21 1M19 15 26 5", class: "free-line" }),
    ),
    key("reach of the moves", s("rect", { x: 2, y: 2, width: 24, height: 12, class: "reach" })),
    key("hold-down", s("circle", { cx: 14, cy: 8, r: 6, class: "hold" })),
    key("hold-down that is hit", s("circle", { cx: 14, cy: 8, r: 6, class: "hold hit" })),
  );
}
