// What the report counts: programs, tools, parts and tabs, time, the quote, as tables and bars.
import { type Child, h, s } from "./dom";
import { levelIcon } from "./icons";
import type { Level, Report } from "./report_data";
import { caution, duration, plural, Wording } from "./wording";

type Cell = Child | { amount: Child };

function table(name: string, head: string[], rows: Cell[][], foot?: Cell[]): HTMLElement {
  const amounts = head.map((_, i) => rows.some((r) => isAmount(r[i])));
  const cell = (c: Cell): Child => (isAmount(c) ? c.amount : (c as Child));
  const line = (cells: Cell[]) => h("tr", {}, ...cells.map((c, i) => (i === 0 ? h("th", { scope: "row" }, cell(c)) : h("td", { class: amounts[i] ? "amount" : undefined }, cell(c)))));
  return h("div", { class: "table-scroll", role: "region", tabindex: 0, "aria-label": name },
    h("table", {}, h("thead", {}, h("tr", {}, ...head.map((t, i) => h("th", { scope: "col", class: amounts[i] ? "amount" : undefined }, t)))), h("tbody", {}, ...rows.map(line)), foot ? h("tfoot", {}, line(foot)) : null));
}

const isAmount = (c: Cell): c is { amount: Child } => typeof c === "object" && c !== null && "amount" in c;

const section = (id: string, title: string, ...children: Child[]): HTMLElement => h("section", { id, class: "chapter", "aria-labelledby": `${id}-title` }, h("h2", { id: `${id}-title` }, title), ...children);

export function programsTable(report: Report, go: (program: number) => void): HTMLElement {
  const wording = new Wording(report);
  const found = (i: number): Child => {
    const levels = report.findings.filter((_, k) => report.scene.excerpts[k].order === i && !report.findings[k].accepted).map((f) => f.level);
    const counts = (["stop", "look", "note"] as Level[]).map((l) => [l, levels.filter((x) => x === l).length] as const).filter(([, n]) => n > 0);
    return counts.length === 0 ? h("span", { class: "counts" }, levelIcon("clear", 15), "clear") : h("span", { class: "counts" }, ...counts.flatMap(([l, n]) => [levelIcon(l, 15), `${n} ${l}`]));
  };
  const rows = report.programs.map((p, i): Cell[] => [
    h("button", { type: "button", class: "link", click: () => go(i) }, p.file), p.setup, p.tools.map((t) => wording.tool(t)).join(", "), { amount: duration(p.time_s) }, { amount: String(p.moves) },
    { amount: wording.volume(p.removed_mm3) }, { amount: wording.length(p.deepest_below_top_mm) }, found(i)]);
  const sum = (pick: (p: Report["programs"][number]) => number): number => report.programs.reduce((a, p) => a + pick(p), 0);
  return section("programs", "Programs", table("Programs", ["Program", "Setup", "Tool", "Time", "Moves", "Removed", "Deepest", "Found"], rows,
    ["Together", "", "", { amount: duration(sum((p) => p.time_s)) }, { amount: String(sum((p) => p.moves)) }, { amount: wording.volume(sum((p) => p.removed_mm3)) }, "", ""]));
}

export function toolsTable(report: Report): HTMLElement {
  const wording = new Wording(report), w = (mm: number | null): Cell => ({ amount: mm === null || mm === 0 ? "–" : wording.given(mm) });
  const used = (n: number): string => report.programs.filter((p) => p.tools.includes(n)).map((p) => p.file).join(", ") || "not used";
  return section("tools", "Tools", table("Tools", ["Tool", "Shape", "Diameter", "Flutes", "Flute length", "Stick-out", "Deepest pass", "Used in"],
    report.scene.tools.map((t): Cell[] => [`T${t.number} ${t.name}`, t.shape, w(t.diameter), { amount: String(t.flutes) }, w(t.flute_length), w(t.stickout), w(t.max_stepdown), used(t.number)])));
}

export function partsTable(report: Report): HTMLElement | null {
  if (report.parts.length === 0) return null;
  const wording = new Wording(report);
  const shown = report.parts.slice(0, 200), rows = shown.map((p): Cell[] => {
    const size = p.bounds ? wording.size([p.bounds[1][0] - p.bounds[0][0], p.bounds[1][1] - p.bounds[0][1], p.bounds[1][2] - p.bounds[0][2]]) : "–";
    const tabs = p.tabs.length > 0 ? h("details", {}, h("summary", {}, plural(p.tabs.length, "tab", "tabs")), h("ul", {}, ...p.tabs.map((t) => h("li", {}, `${wording.place(t.at, 1)}: ${wording.length(t.length_mm)} long, ${wording.length(t.thickness_mm)} thick, ${wording.area(t.area_mm2)}`)))) : "–";
    const held = p.free ? h("span", { class: "counts" }, levelIcon("stop", 15), "nothing: it comes free") : p.held_by.join(", ") || "–";
    return [`${p.program}${p.line ? `:${p.line}` : ""}`, p.setup, size, { amount: wording.volume(p.volume_mm3) }, held, tabs];
  });
  return section("parts", "Parts and tabs", table("Parts and tabs", ["Freed at", "Setup", "Size", "Volume", "Held by", "Tabs"], rows),
    report.parts.length > shown.length ? h("p", { class: "quiet" }, `and ${report.parts.length - shown.length} more`) : null);
}

const timeKinds = ["cutting", "in the air", "rapids", "spindle", "tool change", "dwell", "stop"] as const;

export function timeBars(report: Report): HTMLElement {
  const rows = report.programs.map((p) => ({ name: p.file, parts: [p.cutting_s, p.air_s, p.rapid_s, p.spindle_s, p.tool_change_s, p.dwell_s, p.stop_s], total: p.time_s }));
  const most = Math.max(1, ...rows.map((r) => r.total));
  const bars = rows.map((r) => {
    let x = 0;
    const pieces = r.parts.map((seconds, k) => {
      const bar = seconds > 0 ? s("rect", { x: (x / most) * 1000, width: Math.max(0.5, (seconds / most) * 1000), height: 20, class: `bar kind-${k}`, fill: k >= 1 ? `url(#time-${k})` : undefined }, s("title", {}, `${timeKinds[k]} ${duration(seconds)}`)) : null;
      x += seconds;
      return bar;
    });
    return h("li", {}, h("span", { class: "bar-name" }, r.name), s("svg", { viewBox: "0 0 1000 20", preserveAspectRatio: "none", role: "img", "aria-label": `${r.name}: ${r.parts.map((v, k) => (v > 0 ? `${timeKinds[k]} ${duration(v)}` : "")).filter(Boolean).join(", ")}` }, ...pieces), h("span", { class: "bar-time" }, duration(r.total)));
  });
  const pattern = (k: number, d: string) => s("pattern", { id: `time-${k}`, width: 6, height: 6, patternUnits: "userSpaceOnUse" }, s("rect", { width: 6, height: 6, class: `bar-ground kind-${k}` }), s("path", { d, class: "bar-line" }));
  const used = timeKinds.map((_, k) => rows.some((r) => r.parts[k] > 0));
  const { time } = report;
  return section("time", "Time", h("p", { class: "lead" }, h("strong", {}, duration(time.total_s)), ` in all; from ${duration(time.low_s)} to ${duration(time.high_s)}.`),
    s("svg", { width: 0, height: 0, "aria-hidden": "true", class: "patterns" }, s("defs", {}, pattern(1, "M2 3H4"), pattern(2, "M0 3H6"), pattern(3, "M0 6 6 0"), pattern(4, "M3 0V6"), pattern(5, "M0 0 6 6"), pattern(6, "M0 0H6M0 0V6"))),
    h("ul", { class: "time-legend" }, ...timeKinds.map((name, k) => used[k] && h("li", {}, s("svg", { viewBox: "0 0 18 12", width: 18, height: 12, "aria-hidden": "true" }, s("rect", { width: 18, height: 12, class: `bar kind-${k}`, fill: k >= 1 ? `url(#time-${k})` : undefined })), name))),
    h("ul", { class: "bars" }, ...bars),
    h("details", {}, h("summary", {}, "What these times rest on"), ...(["time", "low", "high"] as const).map((key) => h("div", {}, h("h4", {}, { time: "The time", low: "At least", high: "At most" }[key]), h("ul", {}, ...report.scene.time_assumptions[key].map((a) => h("li", {}, a)))))));
}

export function quoteTable(report: Report): HTMLElement | null {
  const { quote } = report.scene;
  if (!quote) return null;
  const head = h("tr", {}, h("th", { scope: "col" }, `In ${quote.currency}`), h("th", { scope: "col" }, "Working"), ...quote.quantities.map((q) => h("th", { scope: "col", class: "amount" }, `for ${q}`)));
  return section("quote", "Quote", h("div", { class: "table-scroll", role: "region", tabindex: 0, "aria-label": "Quote" }, h("table", {}, h("thead", {}, head),
    h("tbody", {}, ...quote.rows.map((r) => h("tr", { class: r.kind }, h("th", { scope: "row" }, r.name), h("td", {}, r.working), ...r.amounts.map((a) => h("td", { class: "amount" }, a))))))),
    quote.assumptions.length > 0 ? h("ul", { class: "quiet" }, ...quote.assumptions.map((a) => h("li", {}, a))) : null);
}

export function cautions(): HTMLElement {
  return section("cautions", "Cautions", h("p", { class: "lead" }, caution), h("p", {},
    "A clear answer is no permission. The check knows the files and nothing else: not where the zero really is, not a screw that nobody listed, not a bit of another diameter or one that creeps out of its collet, not a bowed stock, lost steps or a dull edge. " +
    "Make the first run above the work. Wear eye and hearing protection; keep hands and sleeves away until the spindle stands still; take dust at the bit and wear a mask; never leave a running machine, and look into the dust collector afterwards. " +
    "Makers' manuals, your local rules and, where the law asks for it, trained people come before anything written here."));
}

export { section };
