// Signs of findings over the view, at their places.
import { h } from "./dom";
import { levelIcon } from "./icons";
import type { LoadedProgram } from "./moves";
import type { Report } from "./report_data";
import { spotOf } from "./spot";
import type { Stage } from "./stage";
import { toLying, type Wording } from "./wording";

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
      const point = f.at ? toLying(setup, f.at) : spotOf(this.report, f, index, program)?.point;
      if (!point) continue;
      const chosen = i === selected;
      const element = h("button", { type: "button", tabindex: -1, class: `mark level-${f.level}${chosen ? " chosen" : ""}`, title: f.message, click: () => this.select(i) },
        levelIcon(f.level, chosen ? 26 : 18), chosen && h("span", { class: "mark-text" }, shortText(f.subject, f.rule, f.amount !== null ? this.wording.amount(f.amount, f.unit) : null)));
      if (chosen) nodes.push(element);
      else nodes.unshift(element);
      this.places.push({ element, point });
    }
    this.element.replaceChildren(...nodes);
  }

  place(stage: Stage, canvas: HTMLCanvasElement): void {
    for (const { element, point } of this.places) {
      const at = stage.project(point);
      element.style.display = at ? "" : "none";
      if (!at) continue;
      // Words that would leave the view on the right stand on the left.
      element.classList.toggle("leftward", at.x > canvas.clientWidth * 0.62);
      // In shares of the view, so that they stay where they are on paper.
      element.style.left = `${((100 * at.x) / canvas.clientWidth).toFixed(2)}%`;
      element.style.top = `${((100 * at.y) / canvas.clientHeight).toFixed(2)}%`;
    }
  }
}

const shortText = (subject: string | null, rule: string, amount: string | null): string => [subject ?? rule.replaceAll("-", " "), amount].filter(Boolean).join(" \u00b7 ");
