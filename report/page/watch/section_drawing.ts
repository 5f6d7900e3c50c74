// Sections of the stock drawn flat, with a caliper and what it reads.
import { h, s } from "../elements/dom";
import type { Overhangs } from "../data/moves";
import type { Setup } from "../data/report_data";
import { type Wording } from "../data/wording";

export const axisNames = ["none", "X", "Y", "Z"] as const;

// The stock at one moment, as rasters of its two faces.
export interface SectionStock {
  top: Float32Array;
  floor: Float32Array;
  nx: number;
  ny: number;
  overhangs: Overhangs;
  setup: Setup;
  wording: Wording;
}

export interface DrawnSection {
  picture: Element;
  reading: string;
}

type Segment = [low: number, high: number]; // of material in one cell
type OutlinePoint = [along: number, high: number, low: number];

const colour = { wood: [176, 136, 84, 255], caliper: "#d55e00" };

// All material over a cell, from below.
function segmentsOf({ top, floor, overhangs }: SectionStock, c: number): Segment[] {
  const segments: Segment[] = overhangs.get(c)?.map(([low, high]) => [low, Math.min(high, top[c])]) ?? [
    [floor[c], top[c]],
  ];
  return segments.filter(([low, high]) => high - low >= 1e-3);
}

// An outline for each layer of material, from where the number of layers changes to where it does again.
function layersOf(dexels: Segment[][], length: number): OutlinePoint[][] {
  const n = dexels.length;
  const outlines: OutlinePoint[][] = [];
  let open: OutlinePoint[][] = [];
  for (let k = 0; k <= n; ++k) {
    const segments = dexels[k] ?? [];
    const edge = (k / n) * length;
    if (segments.length !== open.length) {
      for (const outline of open) outline.push([edge, outline.at(-1)![1], outline.at(-1)![2]]);
      open = segments.map(([low, high]) => [[edge, high, low]]);
      outlines.push(...open);
    }
    for (const [i, [low, high]] of segments.entries()) open[i].push([((k + 0.5) / n) * length, high, low]);
  }
  return outlines;
}

function outlinePath(outline: OutlinePoint[], y: (z: number) => string): string {
  const upper = outline.map(([u, high]) => `${u.toFixed(2)} ${y(high)}`);
  const lower = outline.map(([u, , low]) => `${u.toFixed(2)} ${y(low)}`).reverse();
  return `M${upper.join("L")}L${lower.join("L")}Z`;
}

// "6.00 mm thick from Z −6.00 to Z 0.00; below the undercut …", from above.
function thicknessText(segments: Segment[], { setup, wording }: SectionStock): string {
  const told = segments.map(([low, high]) => {
    const from = wording.number(low - setup.zero[2]);
    const to = wording.number(high - setup.zero[2]);
    return `${wording.fine(high - low)} thick from Z ${from} to Z ${to}`;
  });
  return told.reverse().join("; below the undercut ");
}

// Across X (1) or Y (2) at `at`; `share` is where the caliper measures along the section.
export function uprightSection(stock: SectionStock, axis: 1 | 2, at: number, share: number): DrawnSection {
  const { nx, ny, setup, wording } = stock;
  const across = axis - 1; // 0: the section segments along Y, 1: along X
  const along = 1 - across;
  const cells = [nx, ny];
  const n = cells[along];
  const length = setup.size[along];
  const fixed = Math.min(cells[across] - 1, Math.floor((at / setup.size[across]) * cells[across]));
  const dexels = Array.from({ length: n }, (_, k) => segmentsOf(stock, along === 0 ? fixed * nx + k : k * nx + fixed));
  const k = Math.min(n - 1, Math.floor(share * n));
  const u = ((k + 0.5) / n) * length;
  // Heights are drawn larger than lengths: a board is long and thin.
  const stretch = Math.max(1, Math.min(6, length / setup.size[2] / 9));
  const where = `at ${axisNames[along + 1]} ${wording.number(u - setup.zero[along])}`;
  const drawn = stretch > 1 ? ` (height drawn ${Number(stretch.toFixed(1))} times too large)` : "";
  return {
    picture: uprightPicture(dexels, length, setup.size[2], stretch, { u, segments: dexels[k] }, axisNames[axis]),
    reading: dexels[k].length > 0 ? `${where}: ${thicknessText(dexels[k], stock)}${drawn}` : `no stock ${where}`,
  };
}

function uprightPicture(
  dexels: Segment[][],
  length: number,
  thickness: number,
  stretch: number,
  caliper: { u: number; segments: Segment[] },
  axis: string,
): SVGSVGElement {
  const high = thickness * stretch;
  const y = (z: number): string => (high - z * stretch).toFixed(2);
  const paths = layersOf(dexels, length).map((outline) => outlinePath(outline, y));
  return s(
    "svg",
    {
      viewBox: `0 ${-high * 0.05} ${length} ${high * 1.1}`,
      preserveAspectRatio: "none",
      role: "img",
      "aria-label": `Section across ${axis}`,
    },
    // Edges first: where two outlines meet their areas cover them.
    ...["section-edge", "section-wood"].flatMap((kind) => paths.map((d) => s("path", { class: kind, d }))),
    s("path", { class: "caliper", d: `M${caliper.u} ${-high * 0.05}V${high * 1.05}` }),
    ...caliper.segments.map(([low, top]) =>
      s("path", { class: "caliper-span", d: `M${caliper.u} ${y(top)}V${y(low)}` }),
    ),
  );
}

// At height `z`; the caliper measures along X, at `share` of Y.
export function levelSection(stock: SectionStock, z: number, share: number): DrawnSection {
  const { nx, ny, setup, wording } = stock;
  const solid = (c: number): boolean => segmentsOf(stock, c).some(([low, high]) => high > z && low < z);
  const row = Math.min(ny - 1, Math.floor(share * ny));
  const picture = levelPicture(stock, solid, row);
  picture.setAttribute("aria-label", `Section at Z ${wording.number(z - setup.zero[2])}`);
  const lengths: number[] = []; // in cells, of the pieces on the line
  for (let i = 0, before = false; i < nx; ++i) {
    const now = solid(row * nx + i);
    if (now && before) ++lengths[lengths.length - 1];
    else if (now) lengths.push(1);
    before = now;
  }
  if (lengths.length === 0) return { picture, reading: "no stock here" };
  const cell = setup.size[0] / nx;
  const at = wording.number(((row + 0.5) / ny) * setup.size[1] - setup.zero[1]);
  const narrowest = wording.fine(Math.min(...lengths) * cell);
  const pieces = lengths.length > 1 ? `${lengths.length} pieces; the narrowest is ` : "";
  return { picture, reading: `at Y ${at}: ${pieces}${narrowest} wide (±${wording.fine(cell)})` };
}

function levelPicture({ nx, ny }: SectionStock, solid: (c: number) => boolean, row: number): HTMLCanvasElement {
  const canvas = h("canvas", { width: nx, height: ny, role: "img" });
  const context = canvas.getContext("2d")!;
  const image = context.createImageData(nx, ny);
  for (let j = 0; j < ny; ++j) {
    for (let i = 0; i < nx; ++i) {
      if (solid(j * nx + i)) image.data.set(colour.wood, 4 * ((ny - 1 - j) * nx + i));
    }
  }
  context.putImageData(image, 0, 0);
  context.fillStyle = colour.caliper;
  context.fillRect(0, ny - 1 - row, nx, Math.max(1, Math.round(ny / 300)));
  return canvas;
}
