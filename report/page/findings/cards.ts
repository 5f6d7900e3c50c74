// The findings as cards, which of them are shown, and when their pictures are drawn.
import { cardOf, placeOf } from "./card";
import { h } from "../elements/dom";
import { levelIcon } from "../elements/icons";
import type { Finding, Report } from "../data/report_data";
import { spotOf } from "../data/spot";
import { spotPlan } from "./spot_plan";
import { spotSection } from "./spot_section";
import { spotView } from "./spot_view";
import type { Store } from "../data/store";
import { levelCount, levels, Wording } from "../data/wording";

// What the filters tell apart: findings that the job file accepts count with none of the levels.
const kinds = ["stop", "look", "note", "accepted"] as const;
type Kind = (typeof kinds)[number];
const kindOf = (f: Finding): Kind => (f.accepted ? "accepted" : f.level);

export class Cards {
  readonly element: HTMLElement;
  private readonly cards: HTMLElement[] = [];
  private readonly shown = new Set<Kind>(kinds);

  constructor(
    private readonly report: Report,
    private readonly store: Store,
    select: (finding: number) => void,
  ) {
    const list = h("ol", { class: "cards" });
    for (const [i, finding] of report.findings.entries()) {
      const card = cardOf(report, i, select);
      this.cards.push(card);
      if (finding.likely_cause === null) list.append(h("li", { "data-kind": kindOf(finding) }, card));
    }
    const none = report.findings.length > 0 ? "No others: all are gone with the likely cause." : "No findings.";
    this.element = h(
      "section",
      { class: "findings", id: "findings", "aria-labelledby": "findings-title" },
      h("div", { class: "section-head" }, h("h2", { id: "findings-title" }, "Findings"), this.filters(list)),
      list.childElementCount > 0 ? list : h("p", { class: "quiet" }, none),
    );
  }

  // The findings that are gone with a likely cause: a line each, which opens as its card. null: none is.
  under(cause: number): HTMLElement | null {
    const gone = [...this.report.findings.entries()].filter(([, f]) => f.likely_cause === cause);
    if (gone.length === 0) return null;
    const counts = levels
      .map((l) => [l, gone.filter(([, f]) => f.level === l).length] as const)
      .filter(([, n]) => n > 0)
      .map(([l, n]) => levelCount(l, n));
    const rows = gone.map(([i, f]) =>
      h(
        "li",
        {},
        h(
          "details",
          { class: `gone level-${f.level}` },
          h("summary", {}, levelIcon(f.level, 16), h("code", {}, placeOf(f)), h("span", {}, f.message)),
          this.cards[i],
        ),
      ),
    );
    return h(
      "details",
      { class: "under-cause" },
      h("summary", {}, `Gone then: ${counts.join(", ")}`),
      h("ol", {}, ...rows),
    );
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
    if (!this.shown.has(kind) && card.closest(".cards")) this.show(kind, true);
    for (let at = card.parentElement; at; at = at.parentElement) if (at instanceof HTMLDetailsElement) at.open = true;
    const box = card.getBoundingClientRect();
    if (box.top < 0 || box.bottom > innerHeight) {
      card.scrollIntoView({
        block: "nearest",
        behavior: matchMedia("(prefers-reduced-motion: reduce)").matches ? "auto" : "smooth",
      });
    }
  }

  private filters(list: HTMLElement): HTMLElement {
    const wording = new Wording(this.report);
    const bar = h("div", { class: "filters", role: "group", "aria-label": "Show findings by level" });
    for (const kind of kinds) {
      const n = this.report.findings.filter((f) => f.likely_cause === null && kindOf(f) === kind).length;
      if (n === 0) continue;
      bar.append(
        h(
          "button",
          {
            type: "button",
            class: "chip",
            "data-kind": kind,
            "aria-pressed": "true",
            click: () => this.show(kind, !this.shown.has(kind)),
          },
          ...(kind === "accepted" ? [`Accepted ${n}`] : [levelIcon(kind, 16), `${wording.level(kind)} ${n}`]),
        ),
      );
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

  drawPicturesWhenSeen(): void {
    const watcher = new IntersectionObserver(
      (entries) => {
        for (const entry of entries) {
          if (!entry.isIntersecting) continue;
          watcher.unobserve(entry.target);
          const index = Number((entry.target as HTMLElement).dataset.finding);
          void this.draw(this.cards[index], index);
        }
      },
      { rootMargin: "300px" },
    );
    for (const card of this.cards) watcher.observe(card);
    this.drawRestWhenIdle();
  }

  // Paper cannot wait for pictures that are first wanted when it is printed. By program, so that each is unpacked once.
  private drawRestWhenIdle(): void {
    const { excerpts } = this.report.scene;
    const rest = [...this.cards.keys()].sort((a, b) => excerpts[a].order - excerpts[b].order);
    // Not every browser tells when it has nothing to do.
    const whenIdle = (f: () => void): void =>
      void ("requestIdleCallback" in globalThis ? requestIdleCallback(f) : setTimeout(f, 100));
    const next = (): void => {
      const index = rest.shift();
      if (index !== undefined) void this.draw(this.cards[index], index).then(() => whenIdle(next));
    };
    whenIdle(next);
  }

  private async draw(card: HTMLElement, index: number): Promise<void> {
    const holder = card.querySelector<HTMLElement>(".spots");
    if (!holder || holder.childElementCount > 0) return;
    const finding = this.report.findings[index];
    const { order, part } = this.report.scene.excerpts[index];
    const program = await this.store.program(order);
    const spot = spotOf(this.report, finding, order, program);
    if (holder.childElementCount > 0) return;
    if (!spot || spot.place.point.some((v) => !Number.isFinite(v))) return holder.remove();
    const view = spotView(this.report, program, spot, part, finding.message);
    holder.append(
      h("figure", {}, spotPlan(view), h("figcaption", {}, "from above")),
      h("figure", {}, spotSection(view), h("figcaption", {}, "section")),
    );
  }
}
