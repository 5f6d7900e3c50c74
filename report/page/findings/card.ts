// One finding as a card: what happens, where, room for its pictures, its line of code, what to do.
import { h } from "../elements/dom";
import { levelIcon } from "../elements/icons";
import { markdown } from "../elements/markdown";
import type { Finding, Report, Scene } from "../data/report_data";
import { plural, Wording } from "../data/wording";

const maxRelated = 4;

export function cardOf(report: Report, index: number, select: (finding: number) => void): HTMLElement {
  const f = report.findings[index];
  const wording = new Wording(report);
  const excerpt = report.scene.excerpts[index];
  const located = excerpt.order >= 0 && f.line !== null;
  const open = h("button", { type: "button", class: "card-open", click: () => select(index) }, f.message);
  return h(
    "article",
    { class: `card level-${f.level}${f.accepted ? " accepted" : ""}`, id: `finding-${index}`, "data-finding": index },
    h(
      "header",
      {},
      h("span", { class: "badge" }, levelIcon(f.level, 18), f.accepted ? "Accepted" : wording.level(f.level)),
      h("code", { class: "where" }, placeOf(f)),
    ),
    h("h3", {}, open),
    located && h("div", { class: "spots", "data-order": excerpt.order }),
    excerpt.text !== "" && codeLine(f, excerpt),
    f.help !== "" && h("p", { class: "help" }, h("strong", {}, "Do: "), f.help),
    f.accepted && h("p", { class: "help" }, h("strong", {}, "Accepted: "), f.accepted),
    facts(report, f, wording),
    related(f),
    aboutRule(report.scene, f.rule),
  );
}

export const placeOf = (f: Finding): string => (f.program ? `${f.program}${f.line ? `:${f.line}` : ""}` : "whole job");

// Marks count terminal cells; where wide characters stand before them the mark is left out rather than put wrong.
function codeLine(f: Finding, { text, mark: [from, to] }: Scene["excerpts"][number]): HTMLElement {
  const plain = /^[\x20-\x7e]*$/.test(text);
  const parts =
    plain && to > from ? [text.slice(0, from), h("mark", {}, text.slice(from, to)), text.slice(to)] : [text];
  return h(
    "pre",
    { class: "code-line", tabindex: 0, "aria-label": `Line ${f.line}` },
    h("span", { class: "line-number" }, f.line ?? ""),
    ...parts,
  );
}

function facts(report: Report, f: Finding, wording: Wording): HTMLElement {
  const several = report.scene.setups.length > 1;
  const lines = f.last_line && f.line && f.last_line > f.line ? `, lines ${f.line} to ${f.last_line}` : "";
  return h(
    "p",
    { class: "facts" },
    f.at && h("span", {}, `${wording.place(f.at)}${several && f.setup ? `, setup ${f.setup}` : ""}`),
    f.moves > 1 && h("span", {}, `${plural(f.moves, "move", "moves")}${lines}`),
  );
}

function related(f: Finding): HTMLElement | null {
  const told = (f.related ?? []).filter((r) => r.message !== "").slice(0, maxRelated);
  if (told.length === 0) return null;
  const items = told.map((r) => h("li", {}, `${r.message}${r.line ? ` (${r.file}:${r.line})` : ""}`));
  return h("ul", { class: "related" }, ...items);
}

function aboutRule({ rules }: Scene, id: string): HTMLElement {
  const rule = rules[id];
  if (!rule) return h("p", { class: "facts" }, h("code", {}, id));
  const title = h("summary", {}, "About ", h("code", {}, id));
  return h("details", {}, title, h("p", {}, rule.summary), markdown(rule.page));
}
