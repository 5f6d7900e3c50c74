// The findings as cards: what happens, where, its pictures, its line of code, what to do.
import { h } from "./dom";
import { levelIcon } from "./icons";
import { cutWindow, type Window, windowOf } from "./local_cut";
import { markdown } from "./markdown";
import type { LoadedProgram, Place } from "./moves";
import type { Finding, Hit, Report } from "./report_data";
import { spotOf } from "./spot";
import { spotPictures } from "./spot_picture";
import type { Store } from "./store";
import { levelWord, plural, Wording } from "./wording";

export type Select = (finding: number) => void;

// What the filters tell apart: findings that the job file accepts count with none of the levels.
const kinds = ["stop", "look", "note", "accepted"] as const;
type Kind = (typeof kinds)[number];
const kindOf = (f: Finding): Kind => (f.accepted ? "accepted" : f.level);

export class Cards {
  readonly element: HTMLElement;
  private readonly cards: HTMLElement[] = [];
  private readonly shown = new Set<Kind>(kinds);

  constructor(private readonly report: Report, private readonly store: Store, private readonly select: Select) {
    const list = h("ol", { class: "cards" });
    for (const [i, finding] of report.findings.entries()) {
      const card = this.card(finding, i);
      this.cards.push(card);
      list.append(h("li", { "data-kind": kindOf(finding) }, card));
    }
    this.element = h("section", { class: "findings", id: "findings", "aria-labelledby": "findings-title" },
      h("div", { class: "section-head" }, h("h2", { id: "findings-title" }, "Findings"), this.filters(list)),
      report.findings.length > 0 ? list : h("p", { class: "quiet" }, "Nothing was found."));
  }

  mark(finding: number): void {
    for (const [i, card] of this.cards.entries()) {
      card.classList.toggle("selected", i === finding);
      if (i === finding) card.querySelector(".card-open")!.setAttribute("aria-current", "true");
      else card.querySelector(".card-open")!.removeAttribute("aria-current");
    }
  }

  reveal(finding: number): void {
    const card = this.cards[finding];
    const kind = kindOf(this.report.findings[finding]);
    if (!this.shown.has(kind)) this.show(kind, true);
    const box = card.getBoundingClientRect();
    if (box.top < 0 || box.bottom > innerHeight) card.scrollIntoView({ block: "nearest", behavior: matchMedia("(prefers-reduced-motion: reduce)").matches ? "auto" : "smooth" });
  }

  // Every picture, for paper.
  async drawAll(): Promise<void> {
    await Promise.all(this.cards.map((card, i) => this.draw(card, i)));
  }

  // A window about a point as the pictures show it, for whoever wants to hold it against the view.
  windowAt(program: LoadedProgram, centre: [number, number], place: Place, step: number): Window {
    const w = windowOf(program, centre, 60 * step, 45 * step, step);
    cutWindow(w, program, this.report.scene.tools, this.report.scene.stock.size[2], place);
    return w;
  }

  private filters(list: HTMLElement): HTMLElement {
    const bar = h("div", { class: "filters", role: "group", "aria-label": "Levels shown" });
    for (const kind of kinds) {
      const n = this.report.findings.filter((f) => kindOf(f) === kind).length;
      if (n === 0) continue;
      bar.append(h("button", { type: "button", class: "chip", "data-kind": kind, "aria-pressed": "true", click: () => this.show(kind, !this.shown.has(kind)) },
        ...(kind === "accepted" ? [`Accepted ${n}`] : [levelIcon(kind, 16), `${levelWord[kind]} ${n}`])));
    }
    list.id = "cards";
    return bar;
  }

  private show(kind: Kind, on: boolean): void {
    if (on) this.shown.add(kind);
    else this.shown.delete(kind);
    this.element.querySelector(`.chip[data-kind=${kind}]`)!.setAttribute("aria-pressed", String(on));
    for (const item of this.element.querySelectorAll<HTMLElement>(`li[data-kind=${kind}]`)) item.hidden = !on;
  }

  private card(f: Finding, index: number): HTMLElement {
    const wording = new Wording(this.report), excerpt = this.report.scene.excerpts[index], several = this.report.scene.setups.length > 1;
    const where = f.program ? `${f.program}${f.line ? `:${f.line}` : ""}` : "the job as a whole";
    const [from, to] = excerpt.mark;
    // Marks count terminal cells; where wide characters stand before them the mark is left out rather than put wrong.
    const plain = [...excerpt.text].length === excerpt.text.length && /^[\x20-\x7e]*$/.test(excerpt.text);
    const code = excerpt.text && h("pre", { class: "code-line", tabindex: 0, "aria-label": `Line ${f.line}` }, h("span", { class: "line-number" }, f.line ?? ""),
      ...(plain && to > from ? [excerpt.text.slice(0, from), h("mark", {}, excerpt.text.slice(from, to)), excerpt.text.slice(to)] : [excerpt.text]));
    const facts = [
      f.at ? h("span", {}, `${wording.place(f.at)}${several && f.setup ? `, setup ${f.setup}` : ""}`) : null,
      f.moves > 1 ? h("span", {}, f.last_line && f.line && f.last_line > f.line ? `${f.moves} moves, lines ${f.line} to ${f.last_line}` : plural(f.moves, "move", "moves")) : null,
    ];
    const related = (f.related ?? []).filter((r) => r.message && !/^also here$/i.test(r.message)).slice(0, 4)
      .map((r) => h("li", {}, `${r.message}${r.line ? ` (${r.file}:${r.line})` : ""}`));
    const rule = this.report.scene.rules[f.rule], located = excerpt.order >= 0 && f.line !== null;
    const title = h("h3", {}, h("button", { type: "button", class: "card-open", click: () => this.select(index) }, f.message));
    return h("article", { class: `card level-${f.level}${f.accepted ? " accepted" : ""}`, id: `finding-${index}`, "data-finding": index },
      h("header", {}, h("span", { class: "badge" }, levelIcon(f.level, 18), f.accepted ? "Accepted" : levelWord[f.level]), h("code", { class: "where" }, where)),
      title,
      located ? h("div", { class: "spots", "data-order": excerpt.order }) : null,
      code || null,
      f.help ? h("p", { class: "help" }, h("strong", {}, "Do: "), f.help) : null,
      f.accepted ? h("p", { class: "help" }, h("strong", {}, "Accepted: "), f.accepted) : null,
      h("p", { class: "facts" }, ...facts),
      related.length > 0 ? h("ul", { class: "related" }, ...related) : null,
      rule ? h("details", {}, h("summary", {}, "About ", h("code", {}, f.rule)), h("p", {}, rule.summary), markdown(rule.page)) : h("p", { class: "facts" }, h("code", {}, f.rule)));
  }

  drawPicturesWhenSeen(): void {
    const watcher = new IntersectionObserver((entries) => {
      for (const entry of entries) {
        if (!entry.isIntersecting) continue;
        watcher.unobserve(entry.target);
        const index = Number((entry.target as HTMLElement).dataset.finding);
        void this.draw(this.cards[index], index);
      }
    }, { rootMargin: "300px" });
    for (const card of this.cards) watcher.observe(card);
    this.drawRestWhenIdle();
  }

  // Paper cannot wait for pictures that are first wanted when it is printed. By program, so that each is unpacked once.
  private drawRestWhenIdle(): void {
    const { excerpts } = this.report.scene, rest = [...this.cards.keys()].sort((a, b) => excerpts[a].order - excerpts[b].order);
    // Not every browser tells when it has nothing to do.
    const whenIdle = (f: () => void): void => void ("requestIdleCallback" in globalThis ? requestIdleCallback(f) : setTimeout(f, 100));
    const next = (): void => {
      const index = rest.shift();
      if (index !== undefined) void this.draw(this.cards[index], index).then(() => whenIdle(next));
    };
    whenIdle(next);
  }

  private async draw(card: HTMLElement, index: number): Promise<void> {
    const holder = card.querySelector<HTMLElement>(".spots");
    if (!holder || holder.childElementCount > 0) return;
    const finding = this.report.findings[index], order = this.report.scene.excerpts[index].order;
    const program = await this.store.program(order), spot = spotOf(this.report, finding, order, program);
    if (holder.childElementCount > 0) return;
    if (!spot || spot.place.point.some((v) => !Number.isFinite(v))) return holder.remove();
    const pictures = spotPictures(this.report, program, spot, partOf(this.report, finding), finding.message);
    holder.append(h("figure", {}, pictures.plan, h("figcaption", {}, "from above")), h("figure", {}, pictures.section, h("figcaption", {}, "section")));
  }
}

// The part of the tool that a finding speaks of.
export function partOf(report: Report, finding: Finding): string {
  if (finding.rule === "nut-hit") return /spindle/.test(finding.message) ? "spindle" : "nut";
  const hit: Hit | undefined = report.hits.find((h) => h.program === finding.program && h.line === finding.line && h.subject === finding.subject);
  const word = hit?.tool_part ?? "cutter";
  return word === "collet nut" ? "nut" : word === "cutter" || word === "shank" || word === "spindle" ? word : "spindle_attachment";
}
