// A section through the stock: where it lies is chosen here, its outline is drawn flat with a caliper that measures thickness.
import type { Section } from "./stock_view";
import { h, s } from "./dom";
import type { Hanging } from "./moves";
import type { Report, Setup } from "./report_data";
import type { Stage } from "./stage";
import { toWork, Wording } from "./wording";

const axisNames = ["none", "X", "Y", "Z"] as const;
interface Run { from: number; to: number }   // of material along the measuring line
type Upright = [low: number, high: number];  // of material in one column

export class SectionPanel {
  readonly element = h("div", { class: "section-panel", hidden: true });
  readonly chooser: HTMLElement;
  private axis: 0 | 1 | 2 | 3 = 0;
  private readonly share = [0.5, 0.5, 0.5, 0.75];  // where along each axis
  private caliper = 0.5;
  private setup?: Setup;
  private heights?: { top: Float32Array; floor: Float32Array; nx: number; ny: number; hanging: Hanging };
  private readonly place: HTMLInputElement;
  private readonly measure: HTMLInputElement;
  private readonly placeText = h("output");
  private readonly reading = h("output", { class: "reading", "aria-live": "polite" });
  private readonly picture = h("div", { class: "section-picture" });
  private readonly wording: Wording;

  constructor(private readonly report: Report, private readonly changed: (section: Section) => void) {
    this.wording = new Wording(report);
    this.place = h("input", { type: "range", min: 0, max: 1, step: 0.001, value: 0.5, "aria-label": "Where the section lies", input: () => {
      this.share[this.axis] = Number(this.place.value);
      this.tell();
    } });
    this.measure = h("input", { type: "range", min: 0, max: 1, step: 0.001, value: 0.5, "aria-label": "Where the thickness is measured", input: () => {
      this.caliper = Number(this.measure.value);
      this.drawPicture();
    } });
    const choices = axisNames.map((name, i) => h("label", {}, h("input", { type: "radio", name: "section", value: name, checked: i === 0, change: () => {
      this.axis = i as 0 | 1 | 2 | 3;
      this.place.value = String(this.share[i]);
      this.element.hidden = i === 0;
      this.tell();
    } }), name));
    this.chooser = h("fieldset", { class: "section-choice" }, h("legend", {}, "Section across"), ...choices);
    this.element.append(h("div", { class: "section-controls" }, h("label", {}, "Section at ", this.place, this.placeText), h("label", {}, "Measure at ", this.measure), this.reading), this.picture);
    this.picture.addEventListener("pointermove", (e) => {
      const box = this.picture.getBoundingClientRect();
      this.caliper = Math.min(1, Math.max(0, (e.clientX - box.left) / box.width));
      this.measure.value = String(this.caliper);
      this.drawPicture();
    });
  }

  // When the view has come to rest: heights are read back from the cut.
  draw(stage: Stage, setup: Setup, hanging: Hanging): void {
    this.setup = setup;
    if (this.axis === 0) return;
    const { faces } = stage.cut;
    this.heights = { top: stage.cut.readTop().top, floor: faces.floor, nx: faces.nx, ny: faces.ny, hanging };
    this.drawPicture();
  }

  private get at(): number {
    const size = this.setup?.size ?? this.report.scene.stock.size;
    return this.axis === 0 ? 0 : this.share[this.axis] * size[this.axis - 1];
  }

  private tell(): void {
    this.changed({ axis: this.axis, place: this.at });
    if (this.axis === 0) return;
    const work = this.workOf(this.axis - 1, this.at);
    this.placeText.textContent = ` ${axisNames[this.axis]} ${this.wording.number(work)}`;
    this.drawPicture();
  }

  private workOf(axis: number, value: number): number {
    const point: [number, number, number] = [0, 0, 0];
    point[axis] = value;
    return this.setup ? toWork(this.setup, point)[axis] : value;
  }

  private drawPicture(): void {
    if (!this.heights || !this.setup || this.axis === 0) return;
    if (this.axis === 3) this.drawFlat();
    else this.drawUpright();
  }

  private drawUpright(): void {
    const { nx, ny } = this.heights!, size = this.setup!.size, alongX = this.axis === 2;
    const n = alongX ? nx : ny, length = size[alongX ? 0 : 1], across = Math.min((alongX ? ny : nx) - 1, Math.floor((this.at / size[alongX ? 1 : 0]) * (alongX ? ny : nx)));
    const cell = (k: number): number => (alongX ? across * nx + k : k * nx + across);
    // An outline for each layer of material, from where the number of layers changes to where it does again.
    const outlines: [number, number, number][][] = [];
    let open: [number, number, number][][] = [];
    for (let k = 0; k <= n; ++k) {
      const runs = k < n ? this.runsOf(cell(k)) : [];
      if (runs.length !== open.length) {
        for (const outline of open) outline.push([(k / n) * length, outline.at(-1)![1], outline.at(-1)![2]]);
        open = runs.map(([low, high]) => [[(k / n) * length, high, low]]);
        outlines.push(...open);
      }
      for (const [i, [low, high]] of runs.entries()) open[i].push([((k + 0.5) / n) * length, high, low]);
    }
    const k = Math.min(n - 1, Math.floor(this.caliper * n)), measured = this.runsOf(cell(k)), u = ((k + 0.5) / n) * length;
    // Heights are drawn larger than lengths: a board is long and thin.
    const stretch = Math.max(1, Math.min(6, length / size[2] / 9)), high = size[2] * stretch, y = (z: number): string => (high - z * stretch).toFixed(2);
    const svg = s("svg", { viewBox: `0 ${-high * 0.05} ${length} ${high * 1.1}`, preserveAspectRatio: "none", role: "img", "aria-label": `Section across ${axisNames[this.axis]}` },
      // Edges first: where two outlines meet their areas cover them.
      ...["section-edge", "section-wood"].flatMap((kind) => outlines.map((r) =>
        s("path", { class: kind, d: `M${r.map((p) => `${p[0].toFixed(2)} ${y(p[1])}`).join("L")}L${[...r].reverse().map((p) => `${p[0].toFixed(2)} ${y(p[2])}`).join("L")}Z` }))),
      s("path", { class: "caliper", d: `M${u} ${-high * 0.05}V${high * 1.05}` }),
      ...measured.map(([low, high]) => s("path", { class: "caliper-span", d: `M${u} ${y(high)}V${y(low)}` })));
    this.picture.replaceChildren(svg);
    const axis = alongX ? 0 : 1, where = `at ${alongX ? "X" : "Y"} ${this.wording.number(this.workOf(axis, u))}`;
    const told = measured.map(([low, high]) => `${this.wording.length(high - low)} thick from Z ${this.wording.number(this.workOf(2, low))} to Z ${this.wording.number(this.workOf(2, high))}`);
    this.reading.textContent = measured.length > 0 ? `${where}: ${told.reverse().join("; under a hollow ")}${stretch > 1 ? ` (heights drawn ${stretch.toFixed(1)}×)` : ""}` : `nothing left ${where}`;
  }

  // All material of a column, from below.
  private runsOf(c: number): Upright[] {
    const { top, floor, hanging } = this.heights!;
    const runs: Upright[] = hanging.get(c)?.map(([low, high]) => [low, Math.min(high, top[c])]) ?? [[floor[c], top[c]]];
    return runs.filter(([low, high]) => high - low >= 1e-3);
  }

  private drawFlat(): void {
    const { nx, ny } = this.heights!, size = this.setup!.size, z = this.at;
    const canvas = h("canvas", { width: nx, height: ny, role: "img", "aria-label": `Section at Z ${this.wording.number(this.workOf(2, z))}` });
    const context = canvas.getContext("2d")!, image = context.createImageData(nx, ny);
    const solid = (c: number): boolean => this.runsOf(c).some(([low, high]) => high > z && low < z);
    for (let j = 0; j < ny; ++j)
      for (let i = 0; i < nx; ++i) if (solid(j * nx + i)) image.data.set([176, 136, 84, 255], 4 * ((ny - 1 - j) * nx + i));
    context.putImageData(image, 0, 0);
    // Measured along X through the middle of what the second slider chooses in Y.
    const row = Math.min(ny - 1, Math.floor(this.caliper * ny)), runs: Run[] = [];
    for (let i = 0; i < nx; ++i) {
      if (!solid(row * nx + i)) continue;
      const last = runs.at(-1);
      if (last && last.to === i) last.to = i + 1;
      else runs.push({ from: i, to: i + 1 });
    }
    context.fillStyle = "#d55e00";
    context.fillRect(0, ny - 1 - row, nx, Math.max(1, Math.round(ny / 300)));
    this.picture.replaceChildren(canvas);
    const cell = size[0] / nx, thinnest = runs.reduce((a, r) => Math.min(a, (r.to - r.from) * cell), Infinity);
    this.reading.textContent = runs.length === 0 ? "nothing on this line"
      : `at Y ${this.wording.number(this.workOf(1, ((row + 0.5) / ny) * size[1]))}: ${runs.length} ${runs.length === 1 ? "piece" : "pieces"} of material, the narrowest ${this.wording.length(thinnest)} (to ±${this.wording.length(cell)})`;
  }
}
