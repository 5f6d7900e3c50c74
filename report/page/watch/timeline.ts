// The job's time as a slider over its programs, and what plays it.
import { h } from "../elements/dom";
import { icon, levelIcon, partingIcon } from "../elements/icons";
import type { Player } from "./player";
import { isBefore, momentsOf } from "../data/pieces";
import type { Moment, Report } from "../data/report_data";
import { clock } from "../data/wording";

const rates = [1, 5, 10, 50, 100, 500, 1000];

export interface TimelineActions {
  select: (finding: number) => void;
  showPiece: (piece: number, at: Moment) => void;
  step: (moves: number) => void;
  neighbour: (by: number) => void;
}

export class Timeline {
  readonly element: HTMLElement;
  private readonly slider: HTMLInputElement;
  private readonly playButton: HTMLButtonElement;
  private readonly now = h("span", { class: "clock" });
  private readonly bands: HTMLElement[] = [];

  constructor(
    private readonly report: Report,
    private readonly player: Player,
    private readonly actions: TimelineActions,
  ) {
    this.slider = h("input", {
      type: "range",
      min: 0,
      max: player.total,
      step: "any",
      value: 0,
      id: "moment",
      "aria-label": "Time in the job",
      input: () => player.seek(Number(this.slider.value)),
      keydown: (e: KeyboardEvent) => this.key(e),
    });
    this.playButton = h("button", { type: "button", class: "play", click: () => player.play(!player.playing) });
    const rate = h(
      "select",
      {
        "aria-label": "Replay speed",
        change: (e: Event) => player.setRate(Number((e.target as HTMLSelectElement).value)),
      },
      ...rates.map((r) => h("option", { value: r, selected: r === player.rate }, `${r}×`)),
    );
    const button = (name: string, label: string, key: string, act: () => void) =>
      h("button", { type: "button", "aria-label": label, title: `${label} (${key})`, click: act }, icon(name));
    this.element = h(
      "div",
      { class: "timeline" },
      h(
        "div",
        { class: "transport" },
        button("back", "Previous finding", "P", () => actions.neighbour(-1)),
        this.playButton,
        button("next", "Next finding", "N", () => actions.neighbour(1)),
        rate,
        this.now,
      ),
      h("div", { class: "track" }, this.programBands(), this.slider, this.ticks()),
      this.partings(),
    );
    this.update();
  }

  update(): void {
    const { player } = this;
    if (document.activeElement !== this.slider || Number(this.slider.value) !== player.time) {
      this.slider.value = String(player.time);
    }
    this.now.textContent = `${clock(player.time)} of ${clock(player.total)}`;
    this.playButton.replaceChildren(icon(player.playing ? "pause" : "play"));
    const label = player.playing ? "Pause" : "Play";
    this.playButton.setAttribute("aria-label", label);
    this.playButton.title = `${label} (Space)`;
    this.element.style.setProperty("--share", String(player.total > 0 ? player.time / player.total : 0));
    for (const [i, band] of this.bands.entries()) band.classList.toggle("current", i === player.program);
  }

  describe(text: string): void {
    this.slider.setAttribute("aria-valuetext", text);
  }

  private key(e: KeyboardEvent): void {
    const page = this.player.total / 20;
    const acts: Record<string, () => void> = {
      ArrowRight: () => this.actions.step(1),
      ArrowUp: () => this.actions.step(1),
      ArrowLeft: () => this.actions.step(-1),
      ArrowDown: () => this.actions.step(-1),
      PageUp: () => this.player.seek(this.player.time + page),
      PageDown: () => this.player.seek(this.player.time - page),
      Home: () => this.player.seek(0),
      End: () => this.player.seek(this.player.total),
    };
    const act = acts[e.key];
    if (!act) return;
    e.preventDefault();
    act();
  }

  private share(time: number): string {
    return `${((this.player.total > 0 ? time / this.player.total : 0) * 100).toFixed(3)}%`;
  }

  private programBands(): HTMLElement {
    const row = h("div", { class: "bands" });
    for (const [i, p] of this.report.programs.entries()) {
      const band = h(
        "button",
        {
          type: "button",
          class: `band${this.report.scene.programs[i].setup % 2 ? " odd" : ""}`,
          title: `${p.file}, setup ${p.setup}`,
          click: () => this.player.seekIn(i, 0),
        },
        h("span", {}, p.file.replace(/\.[^.]*$/, "")),
      );
      band.setAttribute("aria-label", `${p.file}, setup ${p.setup}: go to its start`);
      band.style.left = this.share(this.player.begins[i]);
      band.style.width = this.share(p.time_s);
      this.bands.push(band);
      row.append(band);
    }
    return row;
  }

  // Findings where they happen. The cards do the same for the keyboard.
  private ticks(): HTMLElement {
    const row = h("div", { class: "ticks", "aria-hidden": "true" });
    for (const [i, f] of this.report.findings.entries()) {
      const excerpt = this.report.scene.excerpts[i];
      if (excerpt.order < 0 || excerpt.begin_s === null) continue;
      const tick = h(
        "button",
        {
          type: "button",
          tabindex: -1,
          class: `tick level-${f.level}`,
          title: `${this.report.scene.words.levels[f.level]}: ${f.message}`,
          click: () => this.actions.select(i),
        },
        levelIcon(f.level, 13),
      );
      tick.style.left = this.share(this.player.begins[excerpt.order] + excerpt.begin_s);
      row.append(tick);
    }
    return row;
  }

  // Where parts are cut out or their hold changes. One stop for the Tab key; arrows go from one to the next.
  private partings(): HTMLElement | false {
    const { pieces } = this.report.scene;
    const marks = momentsOf(pieces).map(({ piece: i, at }, n) => {
      const piece = pieces[i];
      const mark = h(
        "button",
        {
          type: "button",
          tabindex: n === 0 ? 0 : -1,
          class: "parting",
          title: piece.line,
          "aria-label": piece.line,
          click: () => this.actions.showPiece(i, at),
        },
        partingIcon(piece.loose !== null && !isBefore(at, piece.loose)),
      );
      mark.style.left = this.share(this.player.begins[at.program] + at.s);
      return mark;
    });
    const key = (e: KeyboardEvent): void => {
      const by = { ArrowRight: 1, ArrowDown: 1, ArrowLeft: -1, ArrowUp: -1 }[e.key];
      const to = by && marks[marks.indexOf(e.target as HTMLButtonElement) + by];
      if (!to) return;
      e.preventDefault();
      for (const mark of marks) mark.tabIndex = mark === to ? 0 : -1;
      to.focus();
    };
    return (
      marks.length > 0 &&
      h("div", { class: "partings", role: "group", "aria-label": "Changes to parts", keydown: key }, ...marks)
    );
  }
}
