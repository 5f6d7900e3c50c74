// Signs of findings over the view, at their places.
import { h } from "../elements/dom";
import { levelIcon } from "../elements/icons";
import type { LoadedProgram } from "../data/moves";
import type { Report } from "../data/report_data";
import { spotOf } from "../data/spot";
import type { Stage } from "../view/stage";
import { toSetup } from "../data/wording";

const edge = 4; // kept free inside the view's edge, pixels

export class Marks {
  readonly element = h("div", { class: "marks", "aria-hidden": "true" });
  private places: { element: HTMLElement; point: [number, number, number] }[] = [];

  constructor(
    private readonly report: Report,
    private readonly select: (finding: number) => void,
  ) {}

  // Those of one program, and the selected finding's.
  make(index: number, program: LoadedProgram, selected: number): void {
    this.places = [];
    const nodes: HTMLElement[] = [];
    const setup = this.report.scene.setups[this.report.scene.programs[index].setup];
    for (const [i, f] of this.report.findings.entries()) {
      if (this.report.scene.excerpts[i].order !== index || (!f.at && i !== selected)) continue;
      const point = f.at ? toSetup(setup, f.at) : spotOf(this.report, f, index, program)?.point;
      if (!point) continue;
      const chosen = i === selected;
      const element = h(
        "button",
        {
          type: "button",
          tabindex: -1,
          class: `mark level-${f.level}${chosen ? " chosen" : ""}`,
          title: f.message,
          click: () => this.select(i),
        },
        levelIcon(f.level, chosen ? 26 : 18),
        chosen && h("span", { class: "mark-text" }, this.report.scene.excerpts[i].label),
      );
      if (chosen) nodes.push(element);
      else nodes.unshift(element);
      this.places.push({ element, point });
    }
    this.element.replaceChildren(...nodes);
  }

  place(stage: Stage, canvas: HTMLCanvasElement): void {
    const wide = canvas.clientWidth;
    const beside = 56 + edge;
    const words = this.element.querySelector<HTMLElement>(".mark-text")?.offsetWidth ?? 0;
    for (const { element, point } of this.places) {
      const at = stage.project(point);
      element.style.display = at ? "" : "none";
      if (!at) continue;
      // Words that would leave the view on the right stand on the left, or over the mark where there is room on neither
      // side.
      const right = at.x + beside + words <= wide;
      const left = at.x - beside - words >= 0;
      element.classList.toggle("leftward", !right && left);
      element.classList.toggle("aloft", !right && !left);
      element.style.setProperty(
        "--aside",
        `${Math.max(edge - at.x, Math.min(-words / 2, wide - edge - words - at.x))}px`,
      );
      // In shares of the view, so that they stay where they are on paper.
      element.style.left = `${((100 * at.x) / wide).toFixed(2)}%`;
      element.style.top = `${((100 * at.y) / canvas.clientHeight).toFixed(2)}%`;
    }
  }
}
