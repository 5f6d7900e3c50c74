// The moment that is shown: a time of the whole job, program after program, and whether it runs.
import type { Report } from "../data/report_data";

export class Player {
  time = 0;
  playing = false;
  rate = 10;
  readonly begins: number[] = [];
  readonly total: number;
  private readonly listeners: ((moved: boolean) => void)[] = [];

  constructor(readonly report: Report) {
    let at = 0;
    for (const p of report.programs) {
      this.begins.push(at);
      at += p.time_s;
    }
    this.total = at;
  }

  onChange(listener: (moved: boolean) => void): void {
    this.listeners.push(listener);
  }

  // The program at work; at the seam of two the one `hint`, so that a program's end can be looked at.
  get program(): number {
    return this.programAt;
  }
  get timeInProgram(): number {
    return this.time - this.begins[this.programAt];
  }
  private programAt = 0;

  seek(time: number): void {
    this.time = Math.min(this.total, Math.max(0, time));
    let p = 0;
    while (p + 1 < this.begins.length && this.begins[p + 1] <= this.time) ++p;
    this.programAt = p;
    this.tell(true);
  }

  seekIn(program: number, time: number): void {
    this.programAt = program;
    this.time = Math.min(
      this.begins[program] + Math.max(0, time),
      this.begins[program] + this.report.programs[program].time_s,
    );
    this.tell(true);
  }

  play(on: boolean): void {
    if (on && this.time >= this.total) this.seek(0);
    this.playing = on;
    this.tell(false);
  }

  advance(seconds: number): void {
    if (!this.playing) return;
    const time = this.time + seconds * this.rate;
    if (time >= this.total) this.playing = false;
    // A program is shown to its end before the next one begins.
    const end = this.begins[this.programAt] + this.report.programs[this.programAt].time_s;
    if (this.time < end && time > end) this.seekIn(this.programAt, this.report.programs[this.programAt].time_s);
    else this.seek(time);
  }

  setRate(rate: number): void {
    this.rate = rate;
    this.tell(false);
  }

  private tell(moved: boolean): void {
    for (const listener of this.listeners) listener(moved);
  }
}
