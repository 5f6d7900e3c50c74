// A bit that is wider below than above leaves material hanging. The heights of the view know one run of material to a
// cell, so such a bit opens there only what it opens up to the stock's face; the hollow beside is shown by the section.
import type { Tool } from "../data/report_data";

// How far from its axis the tool leaves nothing above it, when `height` of the stock stands above its tip.
export function openRadius(tool: Tool, height: number): number {
  const lines = tool.pieces
    .filter((p) => p.part === "cutter" || p.part === "shank")
    .flatMap((p) => p.outline.slice(1).map((to, i) => [p.outline[i], to] as const));
  const widest = Math.max(...lines.flatMap(([a, b]) => [a[0], b[0]]).filter((r) => r <= tool.under.radius + 1e-6));
  const from =
    Math.min(
      ...lines
        .flatMap(([a, b]) => [a, b])
        .filter(([r]) => r >= widest - 1e-6 && r <= tool.under.radius + 1e-6)
        .map(([, z]) => z),
    ) + 1e-6;
  let radius = tool.under.radius;
  for (const [a, b] of lines) {
    const low = Math.max(from, Math.min(a[1], b[1]));
    const high = Math.min(height, Math.max(a[1], b[1]));
    if (low > high) continue;
    for (const z of [low, high]) {
      radius = Math.min(
        radius,
        b[1] === a[1] ? Math.min(a[0], b[0]) : a[0] + ((b[0] - a[0]) * (z - a[1])) / (b[1] - a[1]),
      );
    }
  }
  return radius;
}

// The same for straight pieces of moves, kept for each hundredth of a millimetre. Straight down or up the widest part
// itself comes through all that stands above; on a way aside only what follows it does.
export function openRadii(thickness: number): (tool: Tool, from: ArrayLike<number>, to: ArrayLike<number>) => number {
  const known = new Map<Tool, Map<number, number>>();
  return (tool, from, to) => {
    const upright = from[0] === to[0] && from[1] === to[1];
    const tip = upright ? Math.max(from[2], to[2]) : Math.min(from[2], to[2]);
    const level = Math.ceil((thickness - tip) * 100 - 1e-3);
    const own = known.get(tool) ?? new Map<number, number>();
    known.set(tool, own);
    let radius = own.get(level);
    if (radius === undefined) own.set(level, (radius = openRadius(tool, level / 100)));
    return radius;
  };
}
