// Signs of findings over the view, at their places.
import { h } from "./dom";
import { levelIcon } from "./icons";
import type { LoadedProgram } from "./moves";
import type { Finding, Report } from "./report_data";
import { spotOf } from "./spot";
import type { Stage } from "./stage";
import { toSetup, type Wording } from "./wording";

const edge = 4;  // kept free inside the view's edge, pixels

export class Marks {
  readonly element = h("div", { class: "marks", "aria-hidden": "true" });
  private places: { element: HTMLElement; point: [number, number, number] }[] = [];

  constructor(private readonly report: Report, private readonly wording: Wording, private readonly select: (finding: number) => void) {}

  // Those of one program, and the selected finding's.
  make(index: number, program: LoadedProgram, selected: number): void {
    this.places = [];
    const nodes: HTMLElement[] = [], setup = this.report.scene.setups[this.report.scene.programs[index].setup];
    for (const [i, f] of this.report.findings.entries()) {
      if (this.report.scene.excerpts[i].order !== index || (!f.at && i !== selected)) continue;
      const point = f.at ? toSetup(setup, f.at) : spotOf(this.report, f, index, program)?.point;
      if (!point) continue;
      const chosen = i === selected;
      const element = h("button", { type: "button", tabindex: -1, class: `mark level-${f.level}${chosen ? " chosen" : ""}`, title: f.message, click: () => this.select(i) },
        levelIcon(f.level, chosen ? 26 : 18), chosen && this.text(f));
      if (chosen) nodes.push(element);
      else nodes.unshift(element);
      this.places.push({ element, point });
    }
    this.element.replaceChildren(...nodes);
  }

  // Names may be cut short, amounts not.
  private text(f: Finding): HTMLElement {
    const amount = f.amount !== null && h("span", {}, ` \u00b7 ${this.wording.amount(f.amount, f.unit)}`);
    return h("span", { class: "mark-text" }, h("span", { class: "mark-name" }, f.subject ?? f.rule.replaceAll("-", " ")), amount);
  }

  place(stage: Stage, canvas: HTMLCanvasElement): void {
    const wide = canvas.clientWidth, beside = 56 + edge, words = this.element.querySelector<HTMLElement>(".mark-text")?.offsetWidth ?? 0;
    for (const { element, point } of this.places) {
      const at = stage.project(point);
      element.style.display = at ? "" : "none";
      if (!at) continue;
      // Words that would leave the view on the right stand on the left, or over the mark where there is room on neither side.
      const right = at.x + beside + words <= wide, left = at.x - beside - words >= 0;
      element.classList.toggle("leftward", !right && left);
      element.classList.toggle("aloft", !right && !left);
      element.style.setProperty("--aside", `${Math.max(edge - at.x, Math.min(-words / 2, wide - edge - words - at.x))}px`);
      // In shares of the view, so that they stay where they are on paper.
      element.style.left = `${((100 * at.x) / wide).toFixed(2)}%`;
      element.style.top = `${((100 * at.y) / canvas.clientHeight).toFixed(2)}%`;
    }
  }
}
