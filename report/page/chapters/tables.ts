// What the report counts, as tables: programs, tools, the quote; and the cautions.
import { type Child, h } from "../elements/dom";
import { levelIcon } from "../elements/icons";
import type { ProgramReport, QuoteTable, Report } from "../data/report_data";
import { count, hoursText, levelCount, levels, Wording } from "../data/wording";

export type Cell = Child | { amount: Child };

const isAmount = (c: Cell): c is { amount: Child } => typeof c === "object" && c !== null && "amount" in c;

export const section = (id: string, title: string, ...children: Child[]): HTMLElement =>
  h(
    "section",
    { id, class: "chapter", "aria-labelledby": `${id}-title` },
    h("h2", { id: `${id}-title` }, title),
    ...children,
  );

// A table that scrolls by itself where the screen is narrower.
export const scrolling = (name: string, ...children: Child[]): HTMLElement =>
  h("div", { class: "table-scroll", role: "region", tabindex: 0, "aria-label": name }, h("table", {}, ...children));

export function table(name: string, head: string[], rows: Cell[][], foot?: Cell[]): HTMLElement {
  const kind = head.map((_, i) => (rows.some((r) => isAmount(r[i])) ? "amount" : undefined));
  const cell = (c: Cell): Child => (isAmount(c) ? c.amount : (c as Child));
  const line = (cells: Cell[]): HTMLElement => {
    const [first, ...rest] = cells;
    const data = rest.map((c, i) => h("td", { class: kind[i + 1] }, cell(c)));
    return h("tr", {}, h("th", { scope: "row" }, cell(first)), ...data);
  };
  const titles = head.map((t, i) => h("th", { scope: "col", class: kind[i] }, t));
  return scrolling(
    name,
    h("thead", {}, h("tr", {}, ...titles)),
    h("tbody", {}, ...rows.map(line)),
    foot ? h("tfoot", {}, line(foot)) : null,
  );
}

// How many findings of each level a program has.
function foundIn(report: Report, program: number): HTMLElement {
  const open = report.findings.filter((f, k) => report.scene.excerpts[k].order === program && !f.accepted);
  const counts = levels.map((l) => [l, open.filter((f) => f.level === l).length] as const).filter(([, n]) => n > 0);
  return counts.length === 0
    ? h("span", { class: "counts" }, levelIcon("clear", 15), "clear")
    : h("span", { class: "counts" }, ...counts.flatMap(([l, n]) => [levelIcon(l, 15), levelCount(l, n)]));
}

// Which export this is: the first digits of its digest, as on the setup sheet, and what the lock file says.
function exportOf(report: Report, p: ProgramReport): string {
  const digest = p.sha256.slice(0, 8);
  const words = {
    "no-lock": "",
    "not-in-lock": "not in the lock",
    same: `as locked on ${report.locked_on}`,
    "same-moves": `saved again since ${report.locked_on}, same moves`,
    "other-program": `changed since ${report.locked_on}`,
  }[p.lock];
  return words ? `${digest}, ${words}` : digest;
}

export function programsTable(report: Report, go: (program: number) => void): HTMLElement {
  const wording = new Wording(report);
  const rows = report.programs.map((p, i): Cell[] => [
    h("button", { type: "button", class: "link", click: () => go(i) }, p.file),
    p.setup,
    p.tools.map((t) => wording.tool(t)).join(", "),
    { amount: hoursText(p.time_s) },
    { amount: count(p.moves) },
    { amount: wording.volume(p.removed_mm3) },
    { amount: wording.given(p.deepest_below_top_mm) },
    exportOf(report, p),
    foundIn(report, i),
  ]);
  const sum = (pick: (p: ProgramReport) => number): number => report.programs.reduce((a, p) => a + pick(p), 0);
  const total: Cell[] = [
    "Total",
    "",
    "",
    { amount: hoursText(sum((p) => p.time_s)) },
    { amount: count(sum((p) => p.moves)) },
    { amount: wording.volume(sum((p) => p.removed_mm3)) },
    "",
    "",
    "",
  ];
  const head = ["Program", "Setup", "Tool", "Time", "Moves", "Removed", "Deepest cut", "SHA-256", "Findings"];
  return section("programs", "Programs", table("Programs", head, rows, total));
}

export function toolsTable(report: Report): HTMLElement {
  const wording = new Wording(report);
  const length = (mm: number | null): Cell => ({ amount: mm ? wording.given(mm) : "–" });
  const used = (tool: number): string => {
    const programs = report.programs.filter((p) => p.tools.includes(tool));
    return programs.map((p) => p.file).join(", ") || "not used";
  };
  const rows = report.scene.tools.map((t): Cell[] => [
    `T${t.number} ${t.name}`,
    t.shape,
    length(t.diameter),
    { amount: String(t.flutes) },
    length(t.flute_length),
    length(t.stickout),
    length(t.max_stepdown),
    used(t.number),
  ]);
  const head = ["Tool", "Shape", "Diameter", "Flutes", "Flute length", "Stickout", "Max. stepdown", "Used in"];
  return section("tools", "Tools", table("Tools", head, rows));
}

// What makes the times too short, said where a time or a price is read.
export const tooShort = (report: Report, so: string): HTMLElement[] =>
  report.scene.times_too_short.map((why) => h("p", { class: "too-short" }, levelIcon("look", 16), `${why}, so ${so}.`));

export function quoteTable(report: Report): HTMLElement | null {
  const { quote } = report.scene;
  if (!quote) return null;
  const quantities = quote.quantities.map((q) => h("th", { scope: "col", class: "amount" }, `for ${q}`));
  const head = h(
    "tr",
    {},
    h("th", { scope: "col" }, `In ${quote.currency}`),
    h("th", { scope: "col" }, "Working"),
    ...quantities,
  );
  return section(
    "quote",
    "Quote",
    ...tooShort(report, "the price is too low"),
    scrolling("Quote", h("thead", {}, head), h("tbody", {}, ...quote.rows.map(quoteRow))),
    quote.assumptions.length > 0 &&
      h(
        "details",
        { open: true },
        h("summary", {}, "How this price was worked out"),
        h("ul", { class: "quiet" }, ...quote.assumptions.map((a) => h("li", {}, a))),
      ),
  );
}

const quoteRow = (row: QuoteTable["rows"][number]): HTMLElement =>
  h(
    "tr",
    { class: row.kind },
    h("th", { scope: "row" }, row.name),
    h("td", {}, row.working),
    ...row.amounts.map((a) => h("td", { class: "amount" }, a)),
  );

export function cautions(report: Report): HTMLElement {
  const { no_guarantee, cautions: paragraphs } = report.scene.words;
  return section(
    "cautions",
    "Cautions",
    h("p", { class: "lead" }, no_guarantee),
    ...paragraphs.map((text) => h("p", {}, text)),
  );
}
