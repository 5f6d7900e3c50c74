// The part of the page where the cut is watched: view, layers, sections, what the machine does now, its lines of code, time.
import type { Section } from "./stock_view";
import { h } from "./dom";
import { icon } from "./icons";
import type { ColourBy } from "./move_view";
import { Marks } from "./marks";
import { type LoadedProgram, type Moves, feedReached, Kind, kindOf, placeAt } from "./moves";
import { scaleCss } from "./palette";
import type { Player } from "./player";
import type { Report } from "./report_data";
import { SectionPanel } from "./section_panel";
import { spotOf } from "./spot";
import type { Layers, Stage } from "./stage";
import type { Store } from "./store";
import { legend, Timeline } from "./timeline";
import { clock, toWork, Wording } from "./wording";

const kindWords: Record<Kind, string> = { [Kind.rapid]: "rapid", [Kind.feed]: "feed", [Kind.cw]: "arc", [Kind.ccw]: "arc", [Kind.dwell]: "dwell", [Kind.probe]: "probe" };

const layerNames: [keyof Layers, string][] = [
  ["moves", "Moves done"], ["rapids", "Rapids"], ["toCome", "Moves to come"], ["findings", "Findings"], ["holdDowns", "Hold-downs"], ["tool", "Tool"], ["spoilboard", "Spoilboard"], ["depth", "Depth on the stock"],
];

export class Watch {
  readonly element: HTMLElement;
  layers: Layers = { moves: true, rapids: true, toCome: false, holdDowns: true, spoilboard: true, tool: true, findings: true, depth: false };
  stage?: Stage;
  onSelect: (finding: number) => void = () => {};
  readonly timeline: Timeline;
  readonly canvas = h("canvas", { tabindex: 0, role: "img", "aria-label": "The stock as it is cut" });
  private readonly marks: Marks;
  private readonly readout = h("div", { class: "readout", "aria-live": "off" });
  private readonly code = h("ol", { class: "code", "aria-label": "Lines of the program" });
  private readonly legend = h("div", { class: "legend-place" });
  private readonly panel: SectionPanel;
  private readonly wording: Wording;
  private loaded?: LoadedProgram;
  private shownProgram = -1;
  private loading = -1;
  private colourBy: ColourBy = "kind";
  private selected = -1;
  private follow = false;
  private shownLine = -1;

  constructor(private readonly report: Report, private readonly store: Store, private readonly player: Player) {
    this.wording = new Wording(report);
    this.timeline = new Timeline(report, player, { select: (f) => this.onSelect(f), step: (n) => this.step(n), neighbour: (by) => this.neighbour(by) });
    this.marks = new Marks(report, this.wording, (f) => this.onSelect(f));
    this.panel = new SectionPanel(report, (section) => this.setSection(section));
    const tool = (name: string, label: string, act: () => void) => h("button", { type: "button", title: label, "aria-label": label, click: act }, icon(name));
    const follow = tool("tool", "Follow the tool", () => {
      this.follow = !this.follow;
      follow.setAttribute("aria-pressed", String(this.follow));
      this.moved();
    });
    follow.setAttribute("aria-pressed", "false");
    this.element = h("section", { class: "watch", id: "watch", "aria-label": "The cut, moment by moment", keydown: (e: KeyboardEvent) => this.key(e) },
      h("div", { class: "view" }, this.canvas, this.marks.element,
        h("div", { class: "view-tools", role: "group", "aria-label": "Point of view" },
          tool("whole", "Whole stock", () => this.stage?.frameAll()), tool("above", "From straight above", () => this.stage?.frameAll("above")),
          tool("beneath", "The face beneath", () => this.stage?.frameAll("beneath")), follow),
        this.layerMenu(), this.legend),
      this.panel.element, this.readout, this.timeline.element, this.code);
    this.canvas.addEventListener("pointerdown", (e) => this.pointerDown(e));
    this.drawLegend();
    player.onChange((moved) => (moved ? this.moved() : this.timeline.update()));
    player.onChange(() => this.run());
  }

  start(stage: Stage): void {
    this.stage = stage;
    stage.onFrame = () => this.placeMarks();
    stage.onStill = () => void this.drawSection(stage);
    stage.setLayers(this.layers);
  }

  // Hollows under hanging material are known before and after each program.
  private async drawSection(stage: Stage): Promise<void> {
    const index = this.shownProgram, ended = this.player.timeInProgram >= this.report.programs[index].time_s;
    const { hanging } = ended ? await this.store.after(index) : this.loaded!.before;
    if (index === this.shownProgram) this.panel.draw(stage, this.report.scene.setups[this.report.scene.programs[index].setup], hanging);
  }

  // Shows the finding's moment and place.
  async showFinding(index: number, atOnce = false): Promise<void> {
    this.selected = index;
    const order = this.report.scene.excerpts[index].order;
    if (order < 0) return this.makeMarks();
    this.player.play(false);
    const program = await this.store.program(order);
    const finding = this.report.findings[index], spot = spotOf(this.report, finding, order, program);
    if (this.selected !== index) return;
    if (!spot) {
      this.player.seekIn(order, 0);
      return this.makeMarks();
    }
    this.player.seekIn(order, spot.time);
    await this.settled();
    const hold = spot.holdDown, reach = hold?.diameter ?? (hold?.outline ? 30 : 14);
    this.stage?.frameSpot(spot.point, Math.max(70, reach * 7), atOnce);
    this.makeMarks();
  }

  get ready(): boolean { return this.shownProgram === this.player.program; }

  private settled(): Promise<void> {
    return new Promise((done) => {
      const look = (): void => {
        if (this.ready) done();
        else requestAnimationFrame(look);
      };
      look();
    });
  }

  private setSection(section: Section): void { this.stage?.setSection(section); }

  private moved(): void {
    this.timeline.update();
    const index = this.player.program;
    if (index !== this.shownProgram) {
      if (this.loading !== index) {
        this.loading = index;
        void this.store.program(index).then((program) => {
          if (this.player.program !== index) return;
          this.loading = -1;
          this.loaded = program;
          this.shownProgram = index;
          this.shownLine = -1;
          this.stage?.show(index, program);
          this.drawLegend();
          this.makeMarks();
          this.moved();
        });
      }
      return;
    }
    this.stage?.setTime(this.player.timeInProgram);
    if (this.follow && this.stage) this.stage.lookAt(this.stage.place.point);
    this.tellState();
  }

  private tellState(): void {
    const program = this.loaded;
    if (!program || program.moves.count === 0) return;
    const time = this.player.timeInProgram, place = placeAt(program.moves, time), m = place.move, { moves } = program;
    const entry = this.report.scene.programs[this.shownProgram], setup = this.report.scene.setups[entry.setup];
    const kind = kindOf(moves, m), cutting = kind === Kind.feed || kind === Kind.cw || kind === Kind.ccw;
    const waits = time < moves.begin[m] - 1e-6 || (kind !== Kind.dwell && time > moves.end[m] + 1e-6);
    const cell = (kind: string, name: string, value: string) => h("div", { class: kind }, h("dt", {}, name), h("dd", {}, value));
    const [x, y, z] = toWork(setup, place.point), reached = feedReached(moves, m), feed = this.wording.feed(moves.feed[m]);
    this.readout.replaceChildren(h("dl", {},
      cell("name", "Program", entry.file), cell("name", "Tool", this.wording.tool(moves.tool[m])), cell("setup", "Setup", setup.name), cell("move", "Move", waits ? "waits" : kindWords[kind]),
      cell("axis", "X", this.wording.number(x)), cell("axis", "Y", this.wording.number(y)), cell("axis", "Z", this.wording.number(z)),
      cell("long", "Feed", cutting && moves.feed[m] > 0 ? (reached < 0.95 ? `${Math.round(reached * 100)} % of ${feed}` : feed) : "\u2013"),
      cell("short", "Line", String(moves.line[m])), cell("long", "Width met", this.widthMet(moves, m)),
      cell("short", "Depth met", moves.axial[m] > 0 ? this.wording.length(moves.axial[m]) : "\u2013")));
    this.showCode(moves.line[m]);
    this.timeline.describe(`${entry.file}, line ${moves.line[m]}, ${clock(this.player.time)} of ${clock(this.player.total)}`);
    this.canvas.setAttribute("aria-label", `The stock as it is cut: setup ${setup.name}, ${entry.file}, line ${moves.line[m]}, ${this.wording.tool(moves.tool[m])} at ${this.wording.place([x, y, z])}`);
  }

  // A pass that meets little on its way meets more in a corner.
  private widthMet(moves: Moves, m: number): string {
    const mean = this.wording.length(moves.width[m]), most = this.wording.length(moves.widthMost[m]);
    return moves.widthMost[m] > 0 ? (mean === most ? mean : `${this.wording.number(moves.width[m])}, up to ${most}`) : "\u2013";
  }

  private showCode(line: number): void {
    if (line === this.shownLine) return;
    this.shownLine = line;
    const { lines } = this.loaded!, around = 3, first = Math.max(1, Math.min(line - around, lines.length - 2 * around - 1));
    const rows: HTMLElement[] = [];
    for (let n = first; n <= Math.min(lines.length, first + 2 * around); ++n) {
      rows.push(h("li", { class: n === line ? "now" : undefined, value: n, "aria-current": n === line ? "true" : undefined },
        h("button", { type: "button", tabindex: -1, click: () => this.goToLine(n) }, h("span", { class: "line-number" }, n), h("bdi", {}, lines[n - 1] || " "))));
    }
    this.code.replaceChildren(...rows);
  }

  goToLine(line: number): void {
    const moves = this.loaded?.moves, m = moves ? moves.line.indexOf(line) : -1;
    if (moves && m >= 0) this.player.seekIn(this.shownProgram, (moves.begin[m] + moves.end[m]) / 2);
  }

  private step(by: number): void {
    const moves = this.loaded?.moves;
    if (!moves || moves.count === 0) return;
    const m = placeAt(moves, this.player.timeInProgram).move + by;
    if (m < 0 && this.shownProgram > 0) return this.player.seekIn(this.shownProgram - 1, this.report.programs[this.shownProgram - 1].time_s);
    if (m >= moves.count && this.shownProgram + 1 < this.report.programs.length) return this.player.seekIn(this.shownProgram + 1, 0);
    const to = Math.min(moves.count - 1, Math.max(0, m));
    // Just before its end: at the end itself the next move begins.
    this.player.seekIn(this.shownProgram, Math.max(moves.begin[to], moves.end[to] - Math.min(1e-4, (moves.end[to] - moves.begin[to]) / 2)));
  }

  private neighbour(by: number): void {
    const n = this.report.findings.length;
    if (n > 0) this.onSelect(this.selected < 0 ? (by > 0 ? 0 : n - 1) : (this.selected + by + n) % n);
  }

  private run(): void {
    if (!this.player.playing || this.running) return;
    this.running = true;
    let last = performance.now();
    const tick = (now: number): void => {
      if (!this.player.playing) {
        this.running = false;
        return;
      }
      // A long pause between two frames (another program is unpacked) is not made up for.
      this.player.advance(Math.min(0.1, (now - last) / 1000));
      last = now;
      requestAnimationFrame(tick);
    };
    requestAnimationFrame(tick);
  }
  private running = false;

  private layerMenu(): HTMLElement {
    const boxes = layerNames.map(([name, label]) => h("label", {}, h("input", { type: "checkbox", checked: this.layers[name], "data-layer": name, change: (e: Event) => {
      this.layers[name] = (e.target as HTMLInputElement).checked;
      this.stage?.setLayers(this.layers);
      this.marks.element.hidden = !this.layers.findings;
      this.drawLegend();
    } }), label));
    const colours = ([["kind", "Kind"], ["depth", "Depth"], ["engagement", "Engagement"], ["feed", "Feed reached"]] as [ColourBy, string][]).map(([by, label]) =>
      h("label", {}, h("input", { type: "radio", name: "colour-by", checked: by === this.colourBy, value: by, change: () => {
        this.colourBy = by;
        this.stage?.setColourBy(by);
        this.drawLegend();
      } }), label));
    return h("details", { class: "layers" }, h("summary", {}, icon("layers"), "Layers"),
      h("div", { class: "layers-body" }, h("fieldset", {}, h("legend", {}, "Show"), ...boxes), h("fieldset", {}, h("legend", {}, "Colour of moves"), ...colours), this.panel.chooser));
  }

  private drawLegend(): void {
    const scale = Array.from({ length: 24 }, (_, i) => scaleCss(i / 23)), rows: Node[] = [];
    if (this.layers.moves && this.colourBy === "kind") {
      rows.push(h("div", { class: "keys" }, h("span", { class: "key feed" }, "feed"), h("span", { class: "key plunge" }, "plunge"), this.layers.rapids && h("span", { class: "key rapid" }, "rapid")));
    }
    const thickness = this.wording.length(this.report.scene.stock.size[2]);
    if (this.layers.depth || (this.layers.moves && this.colourBy === "depth")) rows.push(legend(scale, "depth 0", thickness));
    if (this.layers.moves && this.colourBy === "engagement") rows.push(legend(scale, "most width met 0", "100 % of the bit's"));
    if (this.layers.moves && this.colourBy === "feed") rows.push(legend(scale, "feed reached 100 %", "0 %"));
    if (this.report.scene.programs[this.player.program]?.hangs) rows.push(h("p", { class: "filled-hollows" }, "Hollows under hanging material are drawn filled here; a section (Layers) shows them, before and after a program."));
    this.legend.replaceChildren(...rows);
  }

  private makeMarks(): void {
    if (this.loaded) this.marks.make(this.shownProgram, this.loaded, this.selected);
    this.placeMarks();
  }

  private placeMarks(): void { if (this.stage) this.marks.place(this.stage, this.canvas); }

  // A press that does not turn the view picks the move under it.
  private pointerDown(down: PointerEvent): void {
    const up = (e: PointerEvent): void => {
      removeEventListener("pointerup", up);
      if (Math.hypot(e.clientX - down.clientX, e.clientY - down.clientY) > 4 || !this.stage || !this.loaded) return;
      const box = this.canvas.getBoundingClientRect();
      const piece = this.stage.pick(e.clientX - box.left, e.clientY - box.top);
      if (piece === undefined) return;
      const { moves } = this.loaded, m = moves.moveOf[piece];
      const whole = moves.lengthTo[moves.firstPiece[m + 1] - 1], share = whole > 0 ? moves.lengthTo[piece] / whole : 1;
      this.player.play(false);
      this.player.seekIn(this.shownProgram, moves.begin[m] + (moves.end[m] - moves.begin[m]) * Math.min(share, 0.9999));
    };
    addEventListener("pointerup", up);
  }

  private key(e: KeyboardEvent): void {
    const target = e.target as HTMLElement;
    if (e.ctrlKey || e.metaKey || e.altKey || (target !== this.canvas && /^(input|select|button|summary|textarea)$/i.test(target.tagName))) return;
    const turn = 0.12, acts: Record<string, () => void> = {
      ArrowLeft: () => this.stage?.orbit(-turn, 0), ArrowRight: () => this.stage?.orbit(turn, 0), ArrowUp: () => this.stage?.orbit(0, -turn), ArrowDown: () => this.stage?.orbit(0, turn),
      "+": () => this.stage?.orbit(0, 0, 1.2), "=": () => this.stage?.orbit(0, 0, 1.2), "-": () => this.stage?.orbit(0, 0, 1 / 1.2),
      " ": () => this.player.play(!this.player.playing), ",": () => this.step(-1), ".": () => this.step(1), n: () => this.neighbour(1), p: () => this.neighbour(-1),
      w: () => this.stage?.frameAll(), a: () => this.stage?.frameAll("above"), b: () => this.stage?.frameAll("beneath"),
    };
    const act = acts[e.key];
    if (!act) return;
    e.preventDefault();
    act();
  }
}
