// The verdict and the job at the top of the page, and what to do first beside the view.
import type { Cards } from "./cards";
import { h } from "../elements/dom";
import { levelIcon } from "../elements/icons";
import type { Finding, LikelyCause, Report } from "../data/report_data";
import { duration, levelCount, levels, plural, Wording } from "../data/wording";

export function head(report: Report): HTMLElement {
  const { words } = report.scene;
  const level = report.verdict === "note" ? "clear" : report.verdict;
  return h(
    "header",
    { class: `head verdict-${level}` },
    h(
      "div",
      { class: "verdict" },
      levelIcon(level, 44),
      h(
        "div",
        {},
        h("p", { class: "verdict-word" }, words.verdict),
        h("p", { class: "verdict-sentence" }, words.verdict_sentence),
      ),
    ),
    h("div", { class: "job" }, h("h1", {}, report.job || "Job"), h("p", {}, jobLine(report)), counts(report)),
    h("p", { class: "caution" }, words.no_guarantee),
  );
}

function jobLine(report: Report): string {
  const { stock, setups } = report.scene;
  const wording = new Wording(report);
  const size = stock.round
    ? `${wording.given(stock.size[0])} round, ${wording.given(stock.size[2])} thick`
    : wording.given(...stock.size);
  return [
    `Stock ${size}, ${stock.material}`,
    plural(setups.length, "setup", "setups"),
    plural(report.programs.length, "program", "programs"),
    duration(report.time.total_s),
  ].join(" · ");
}

function counts(report: Report): HTMLElement {
  const open = report.findings.filter((f) => !f.accepted);
  const accepted = report.findings.length - open.length;
  const found = levels.map((l) => [l, open.filter((f) => f.level === l).length] as const).filter(([, n]) => n > 0);
  return h(
    "p",
    { class: "counts" },
    ...found.flatMap(([l, n]) => [levelIcon(l, 16), levelCount(l, n)]),
    accepted > 0 && h("span", { class: "accepted-count" }, `${accepted} accepted`),
  );
}

// What the page opens on: what is hit, else the first of the worst with a place. -1: nothing calls for it.
export function firstFinding(report: Report): number {
  const open = [...report.findings.entries()].filter(
    ([i, f]) => !f.accepted && report.scene.excerpts[i].order >= 0 && f.level !== "note",
  );
  const worst = (of: typeof open): (typeof open)[number] | undefined =>
    of.find(([, f]) => f.rule === "hold-down-hit") ?? of.find(([, f]) => f.level === "stop" && f.at) ?? of[0];
  return (worst(open.filter(([, f]) => f.likely_cause === null)) ?? worst(open))?.[0] ?? -1;
}

// What to do first, and what could not be checked: beside the view, above the findings.
export function firstThings(report: Report, cards: Cards, select: (finding: number) => void): HTMLElement[] {
  const out: HTMLElement[] = [];
  const causes = report.likely_causes.map((cause, i) => likelyCause(cause, cards.under(i)));
  if (causes.length === 1) out.push(box("cause-title", "look", "Likely cause", causes[0]));
  if (causes.length > 1) {
    out.push(box("cause-title", "look", "Likely causes", h("ol", {}, ...causes.map((cause) => h("li", {}, cause)))));
  }
  const open = [...report.findings.entries()].filter(([, f]) => !f.accepted && f.likely_cause === null);
  const level = open.some(([, f]) => f.level === "stop") ? "stop" : "look";
  const worst = firstFinding(report);
  const chosen = open
    .filter(([, f]) => f.level === level)
    .sort(([i], [j]) => Number(j === worst) - Number(i === worst))
    .slice(0, 3);
  if (chosen.length > 0) {
    const steps = chosen.map(([i, f]) => firstStep(f, i, select));
    out.push(box("first-title", level, "Do this first", h("ol", {}, ...steps)));
  }
  if (report.findings.length === 0 && report.complete) {
    out.push(box("checked-title", "clear", "What was checked", list(whatWasChecked(report))));
  }
  if (report.not_checked.length > 0) {
    out.push(box("unchecked-title", "look not-checked", "Not checked", list(report.not_checked)));
  }
  return out;
}

const list = (texts: string[]): HTMLElement => h("ul", {}, ...texts.map((t) => h("li", {}, t)));

const box = (id: string, level: string, title: string, content: HTMLElement): HTMLElement =>
  h("section", { class: `first level-${level}`, "aria-labelledby": id }, h("h2", { id }, title), content);

function likelyCause(cause: LikelyCause, gone: HTMLElement | null): HTMLElement {
  return h(
    "div",
    { class: "cause" },
    h("p", {}, h("strong", {}, cause.question), ` ${cause.effect}`),
    h("p", {}, `If so: ${cause.change}`),
    cause.lines.length > 0 && h("pre", {}, cause.lines.join("\n")),
    gone,
  );
}

function firstStep(finding: Finding, index: number, select: (finding: number) => void): HTMLElement {
  const click = (e: Event): void => {
    e.preventDefault();
    select(index);
  };
  const where = finding.program ? `${finding.program}${finding.line ? `:${finding.line}` : ""}` : "";
  return h(
    "li",
    {},
    where !== "" && h("code", {}, where),
    where !== "" && ": ",
    h("a", { href: `#finding-${index}`, click }, finding.message),
    finding.help !== "" && `. ${finding.help}`,
  );
}

function whatWasChecked(report: Report): string[] {
  const { setups, hold_downs: holdDowns } = report.scene;
  const moves = report.programs.reduce((n, p) => n + p.moves, 0);
  const programs = plural(report.programs.length, "program", "programs");
  const fitted = plural(holdDowns.length, "hold-down", "hold-downs");
  return [
    `${programs}, read to the end: ${plural(moves, "move", "moves")} in ${plural(setups.length, "setup", "setups")}.`,
    holdDowns.length > 0
      ? `${fitted} against cutter, shank, collet nut and spindle, on every move they are fitted for.`
      : "No hold-downs: the job lists none.",
    "Depths, floors, parts and tabs, in the stock as it is at each move.",
    "Not checked: where your zero really is, anything you did not list, a dull or wrong bit. See Cautions.",
  ];
}
