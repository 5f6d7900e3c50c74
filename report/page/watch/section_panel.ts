// A section through the stock: where it is and where it is measured are chosen here.
import { h } from "../elements/dom";
import type { Overhangs } from "../data/moves";
import type { Report, Setup } from "../data/report_data";
import { axisNames, levelSection, type SectionStock, uprightSection } from "./section_drawing";
import type { Stage } from "../view/stage";
import type { Section } from "../view/stock_view";
import { Wording } from "../data/wording";

export class SectionPanel {
  readonly element = h("div", { class: "section-panel", hidden: true });
  readonly chooser: HTMLElement;
  private axis: 0 | 1 | 2 | 3 = 0;
  private readonly share = [0.5, 0.5, 0.5, 0.75]; // where along each axis
  private caliper = 0.5;
  private setup?: Setup;
  private heights?: Omit<SectionStock, "setup" | "wording">;
  private readonly place: HTMLInputElement;
  private readonly measure: HTMLInputElement;
  private readonly placeText = h("output");
  private readonly reading = h("output", { class: "reading", "aria-live": "polite" });
  private readonly picture = h("div", { class: "section-picture" });
  private readonly wording: Wording;

  constructor(
    private readonly report: Report,
    private readonly changed: (section: Section) => void,
  ) {
    this.wording = new Wording(report);
    this.place = h("input", {
      type: "range",
      min: 0,
      max: 1,
      step: 0.001,
      value: 0.5,
      "aria-label": "Section position",
      input: () => {
        this.share[this.axis] = Number(this.place.value);
        this.tell();
      },
    });
    this.measure = h("input", {
      type: "range",
      min: 0,
      max: 1,
      step: 0.001,
      value: 0.5,
      "aria-label": "Measuring position",
      input: () => {
        this.caliper = Number(this.measure.value);
        this.drawPicture();
      },
    });
    const choices = axisNames.map((name, i) =>
      h(
        "label",
        {},
        h("input", {
          type: "radio",
          name: "section",
          value: name,
          checked: i === 0,
          change: () => {
            this.axis = i as 0 | 1 | 2 | 3;
            this.place.value = String(this.share[i]);
            this.element.hidden = i === 0;
            this.tell();
          },
        }),
        name,
      ),
    );
    this.chooser = h("fieldset", { class: "section-choice" }, h("legend", {}, "Section across"), ...choices);
    this.element.append(
      h(
        "div",
        { class: "section-controls" },
        h("label", {}, "Section at ", this.place, this.placeText),
        h("label", {}, "Measure at ", this.measure),
        this.reading,
      ),
      this.picture,
    );
    this.picture.addEventListener("pointermove", (e) => {
      const box = this.picture.getBoundingClientRect();
      this.caliper = Math.min(1, Math.max(0, (e.clientX - box.left) / box.width));
      this.measure.value = String(this.caliper);
      this.drawPicture();
    });
  }

  // When the view has come to rest: heights are read back from the cut.
  draw(stage: Stage, setup: Setup, overhangs: Overhangs): void {
    this.setup = setup;
    if (this.axis === 0) return;
    const { faces } = stage.cut;
    this.heights = { top: stage.cut.readTop().top, floor: faces.floor, nx: faces.nx, ny: faces.ny, overhangs };
    this.drawPicture();
  }

  private get at(): number {
    const size = this.setup?.size ?? this.report.scene.stock.size;
    return this.axis === 0 ? 0 : this.share[this.axis] * size[this.axis - 1];
  }

  private tell(): void {
    this.changed({ axis: this.axis, place: this.at });
    if (this.axis === 0) return;
    const work = this.at - (this.setup?.zero[this.axis - 1] ?? 0);
    this.placeText.textContent = ` ${axisNames[this.axis]} ${this.wording.number(work)}`;
    this.drawPicture();
  }

  private drawPicture(): void {
    if (!this.heights || !this.setup || this.axis === 0) return;
    const stock: SectionStock = { ...this.heights, setup: this.setup, wording: this.wording };
    const drawn =
      this.axis === 3
        ? levelSection(stock, this.at, this.caliper)
        : uprightSection(stock, this.axis, this.at, this.caliper);
    this.picture.replaceChildren(drawn.picture);
    this.reading.textContent = drawn.reading;
  }
}
