// The part of the page where the cut is watched: view, layers, section, what the machine does now, its lines of code,
// time.
import { CodeLines } from "./code_lines";
import { h } from "../elements/dom";
import { icon } from "../elements/icons";
import { LayerMenu } from "./layer_menu";
import { boxIn, isBefore, looseAt, momentsOf } from "../data/pieces";
import { Marks } from "./marks";
import { type LoadedProgram, placeAt } from "../data/moves";
import type { Player } from "./player";
import { readout } from "./readout";
import { keyList } from "./key_list";
import type { Report } from "../data/report_data";
import { SectionPanel } from "./section_panel";
import { spotOf } from "../data/spot";
import type { Stage } from "../view/stage";
import type { Store } from "../data/store";
import { Timeline } from "./timeline";
import { clock, plural, toWork, Wording } from "../data/wording";

export class Watch {
  readonly element: HTMLElement;
  stage?: Stage;
  onSelect: (finding: number) => void = () => {};
  readonly timeline: Timeline;
  readonly canvas = h("canvas", { tabindex: 0, role: "img", "aria-label": "3D view of the stock" });
  private readonly marks: Marks;
  private readonly readout = h("div", { class: "readout", "aria-live": "off" });
  private readonly code = new CodeLines((line) => this.goToLine(line));
  readonly menu: LayerMenu;
  private readonly panel: SectionPanel;
  private readonly wording: Wording;
  private loaded?: LoadedProgram;
  private shownProgram = -1;
  private loading = -1;
  private selected = -1;
  private loose: number[] = []; // pieces that nothing holds at the moment
  private follow = false;

  constructor(
    private readonly report: Report,
    private readonly store: Store,
    private readonly player: Player,
  ) {
    this.wording = new Wording(report);
    this.timeline = new Timeline(report, player, {
      select: (f) => this.onSelect(f),
      showPiece: (p, at) => void this.showPiece(p, at),
      step: (n) => this.step(n),
      neighbour: (by) => this.neighbour(by),
    });
    this.marks = new Marks(report, (f) => this.onSelect(f));
    this.panel = new SectionPanel(report, (section) => this.stage?.setSection(section));
    const thickness = this.wording.given(report.scene.stock.size[2]);
    this.menu = new LayerMenu(this.panel.chooser, thickness, () => this.layersChanged());
    this.element = h(
      "section",
      { class: "watch", id: "watch", "aria-label": "Replay of the cut", keydown: (e: KeyboardEvent) => this.key(e) },
      h(
        "div",
        { class: "view" },
        this.canvas,
        this.marks.element,
        this.viewTools(),
        this.menu.element,
        this.menu.legend,
        keyList(report.findings.length > 0, report.scene.pieces.length > 0),
      ),
      this.panel.element,
      this.readout,
      this.timeline.element,
      this.code.element,
    );
    this.canvas.addEventListener("pointerdown", (e) => this.pointerDown(e));
    this.drawLegend();
    player.onChange((moved) => (moved ? this.moved() : this.timeline.update()));
    player.onChange(() => this.run());
  }

  private viewTools(): HTMLElement {
    const tool = (name: string, label: string, act: () => void, key = ""): HTMLElement => {
      const title = key ? `${label} (${key})` : label;
      return h("button", { type: "button", title, "aria-label": label, click: act }, icon(name));
    };
    const follow = tool("tool", "Follow the tool", () => {
      this.follow = !this.follow;
      follow.setAttribute("aria-pressed", String(this.follow));
      this.moved();
    });
    follow.setAttribute("aria-pressed", "false");
    return h(
      "div",
      { class: "view-tools", role: "group", "aria-label": "View" },
      tool("whole", "Show the whole stock", () => this.stage?.frameAll(), "W"),
      tool("above", "View from above", () => this.stage?.frameAll("above"), "A"),
      tool("beneath", "View from below", () => this.stage?.frameAll("beneath"), "B"),
      follow,
    );
  }

  start(stage: Stage): void {
    this.stage = stage;
    stage.onFrame = () => this.placeMarks();
    stage.onStill = () => void this.drawSection(stage);
    stage.setLayers(this.menu.layers);
  }

  private layersChanged(): void {
    this.stage?.setLayers(this.menu.layers);
    this.stage?.setColourBy(this.menu.colourBy);
    this.marks.element.hidden = !this.menu.layers.findings;
    this.drawLegend();
  }

  private drawLegend(): void {
    const { scene } = this.report;
    const { program, timeInProgram } = this.player;
    this.loose = looseAt(scene, program, timeInProgram);
    this.menu.drawLegend(scene.programs[program]?.overhangs ?? false, this.loose.length > 0);
  }

  // Hollows under overhangs are known before and after each program.
  private async drawSection(stage: Stage): Promise<void> {
    const index = this.shownProgram;
    const ended = this.player.timeInProgram >= this.report.programs[index].time_s;
    const { overhangs } = ended ? await this.store.after(index) : this.loaded!.before;
    if (index === this.shownProgram) {
      this.panel.draw(stage, this.report.scene.setups[this.report.scene.programs[index].setup], overhangs);
    }
  }

  // Shows the finding's moment and place.
  async showFinding(index: number, atOnce = false): Promise<void> {
    this.selected = index;
    const order = this.report.scene.excerpts[index].order;
    if (order < 0) return this.makeMarks();
    this.player.play(false);
    const program = await this.store.program(order);
    const finding = this.report.findings[index];
    const spot = spotOf(this.report, finding, order, program);
    if (this.selected !== index) return;
    if (!spot) {
      this.player.seekIn(order, 0);
      return this.makeMarks();
    }
    this.player.seekIn(order, spot.time);
    await this.settled();
    const hold = spot.holdDown;
    const reach = hold?.diameter ?? (hold?.outline ? 30 : 14);
    this.stage?.frameSpot(spot.point, Math.max(70, reach * 7), atOnce);
    this.makeMarks();
  }

  // Shows a piece at a moment; not told, when it is cut out or left on tabs.
  async showPiece(index: number, at = this.report.scene.pieces[index].at[0]): Promise<void> {
    const { scene } = this.report;
    const piece = scene.pieces[index];
    const setup = scene.setups[scene.programs[at.program].setup];
    this.player.play(false);
    this.player.seekIn(at.program, at.s);
    await this.settled();
    const box = boxIn(setup, piece);
    if (!box) return;
    const [low, high] = box;
    const across = Math.max(high[0] - low[0], high[1] - low[1]);
    this.stage?.frameSpot([(low[0] + high[0]) / 2, (low[1] + high[1]) / 2, setup.size[2]], Math.max(70, across * 1.8));
  }

  get ready(): boolean {
    return this.shownProgram === this.player.program;
  }

  private settled(): Promise<void> {
    return new Promise((done) => {
      const look = (): void => {
        if (this.ready) done();
        else requestAnimationFrame(look);
      };
      look();
    });
  }

  private moved(): void {
    this.timeline.update();
    if (this.player.program !== this.shownProgram) return this.load(this.player.program);
    this.stage?.setTime(this.player.timeInProgram);
    if (this.follow && this.stage) this.stage.lookAt(this.stage.place.point);
    if (looseAt(this.report.scene, this.shownProgram, this.player.timeInProgram).join() !== this.loose.join()) {
      this.drawLegend();
    }
    this.tellState();
  }

  private load(index: number): void {
    if (this.loading === index) return;
    this.loading = index;
    void this.store.program(index).then((program) => {
      if (this.player.program !== index) return;
      this.loading = -1;
      this.loaded = program;
      this.shownProgram = index;
      this.code.forget();
      this.stage?.show(index, program);
      this.drawLegend();
      this.makeMarks();
      this.moved();
    });
  }

  private tellState(): void {
    const program = this.loaded;
    if (!program || program.moves.count === 0) return;
    const { scene } = this.report;
    const { moves, lines } = program;
    const time = this.player.timeInProgram;
    const { move, point } = placeAt(moves, time);
    const { file, setup: index } = scene.programs[this.shownProgram];
    const setup = scene.setups[index];
    const tip = toWork(setup, point);
    const moment = { file, setup: setup.name, moves, move, time, tip };
    this.readout.replaceChildren(readout(moment, this.wording, scene.words.motions));
    const line = moves.line[move];
    this.code.show(line, lines);
    this.timeline.describe(`${file}, line ${line}, ${clock(this.player.time)} of ${clock(this.player.total)}`);
    const loose = this.loose.length > 0 ? `, ${plural(this.loose.length, "loose piece", "loose pieces")}` : "";
    const where = `${this.wording.tool(moves.tool[move])} at ${this.wording.place(tip)}${loose}`;
    this.canvas.setAttribute(
      "aria-label",
      `3D view of the stock: setup ${setup.name}, ${file}, line ${line}, ${where}`,
    );
  }

  goToLine(line: number): void {
    const moves = this.loaded?.moves;
    const m = moves ? moves.line.indexOf(line) : -1;
    if (moves && m >= 0) this.player.seekIn(this.shownProgram, (moves.begin[m] + moves.end[m]) / 2);
  }

  private step(by: number): void {
    const moves = this.loaded?.moves;
    if (!moves || moves.count === 0) return;
    const m = placeAt(moves, this.player.timeInProgram).move + by;
    if (m < 0 && this.shownProgram > 0) {
      return this.player.seekIn(this.shownProgram - 1, this.report.programs[this.shownProgram - 1].time_s);
    }
    if (m >= moves.count && this.shownProgram + 1 < this.report.programs.length) {
      return this.player.seekIn(this.shownProgram + 1, 0);
    }
    const to = Math.min(moves.count - 1, Math.max(0, m));
    // Just before its end: at the end itself the next move begins.
    this.player.seekIn(
      this.shownProgram,
      Math.max(moves.begin[to], moves.end[to] - Math.min(1e-4, (moves.end[to] - moves.begin[to]) / 2)),
    );
  }

  private neighbour(by: number): void {
    const n = this.report.findings.length;
    if (n > 0) this.onSelect(this.selected < 0 ? (by > 0 ? 0 : n - 1) : (this.selected + by + n) % n);
  }

  // The next moment at which a piece comes off or its hold changes, or the one before.
  private neighbourPiece(by: number): void {
    const moments = momentsOf(this.report.scene.pieces);
    const now = { program: this.player.program, s: this.player.timeInProgram };
    const next =
      by > 0 ? moments.find(({ at }) => isBefore(now, at)) : moments.filter(({ at }) => isBefore(at, now)).at(-1);
    if (next) void this.showPiece(next.piece, next.at);
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

  private makeMarks(): void {
    if (this.loaded) this.marks.make(this.shownProgram, this.loaded, this.selected);
    this.placeMarks();
  }

  private placeMarks(): void {
    if (this.stage) this.marks.place(this.stage, this.canvas);
  }

  // A press that does not turn the view picks the move under it.
  private pointerDown(down: PointerEvent): void {
    const up = (e: PointerEvent): void => {
      removeEventListener("pointerup", up);
      if (Math.hypot(e.clientX - down.clientX, e.clientY - down.clientY) > 4 || !this.stage || !this.loaded) return;
      const box = this.canvas.getBoundingClientRect();
      const piece = this.stage.pick(e.clientX - box.left, e.clientY - box.top);
      if (piece === undefined) return;
      const { moves } = this.loaded;
      const m = moves.moveOf[piece];
      const whole = moves.lengthTo[moves.firstPiece[m + 1] - 1];
      const share = whole > 0 ? moves.lengthTo[piece] / whole : 1;
      this.player.play(false);
      this.player.seekIn(this.shownProgram, moves.begin[m] + (moves.end[m] - moves.begin[m]) * Math.min(share, 0.9999));
    };
    addEventListener("pointerup", up);
  }

  private key(e: KeyboardEvent): void {
    const target = e.target as HTMLElement;
    if (
      e.ctrlKey ||
      e.metaKey ||
      e.altKey ||
      (target !== this.canvas && /^(input|select|button|summary|textarea)$/i.test(target.tagName))
    ) {
      return;
    }
    const turn = 0.12;
    const acts: Record<string, () => void> = {
      ArrowLeft: () => this.stage?.orbit(-turn, 0),
      ArrowRight: () => this.stage?.orbit(turn, 0),
      ArrowUp: () => this.stage?.orbit(0, -turn),
      ArrowDown: () => this.stage?.orbit(0, turn),
      "+": () => this.stage?.orbit(0, 0, 1.2),
      "=": () => this.stage?.orbit(0, 0, 1.2),
      "-": () => this.stage?.orbit(0, 0, 1 / 1.2),
      " ": () => this.player.play(!this.player.playing),
      ",": () => this.step(-1),
      ".": () => this.step(1),
      n: () => this.neighbour(1),
      p: () => this.neighbour(-1),
      N: () => this.neighbourPiece(1),
      P: () => this.neighbourPiece(-1),
      w: () => this.stage?.frameAll(),
      a: () => this.stage?.frameAll("above"),
      b: () => this.stage?.frameAll("beneath"),
    };
    const act = acts[e.key];
    if (!act) return;
    e.preventDefault();
    act();
  }
}
