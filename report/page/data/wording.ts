// Numbers and names as they are read: lengths in the job file's unit, times in hours, minutes and seconds. Lengths,
// areas and volumes are rounded as in the findings' own sentences; positions have a decimal more.
import type { Level, Point3, Report, Setup } from "./report_data";

const mmPerInch = 25.4;

export class Wording {
  private readonly inches: boolean;

  constructor(private readonly report: Report) {
    this.inches = report.scene.units === "in";
  }

  get unit(): string {
    return this.inches ? "in" : "mm";
  }
  // A position, without its unit.
  number(mm: number, decimals = this.inches ? 3 : 2): string {
    const text = this.shown(mm).toFixed(decimals);
    return Number(text) === 0 ? text.replace("-", "") : text.replace("-", "\u2212");
  }
  length(mm: number, decimals = this.inches ? 3 : 1): string {
    return `${this.number(mm, decimals)} ${this.unit}`;
  }
  // As finely as a position: what a caliper reads.
  measured(mm: number): string {
    return this.length(mm, this.inches ? 3 : 2);
  }
  size(size: Point3): string {
    return `${size.map((v) => this.trimmed(v, this.inches ? 3 : 2)).join(" × ")} ${this.unit}`;
  }
  // What the job file says, not rounded: 3.175 mm are not 3.17.
  given(...mm: number[]): string {
    return `${mm.map((v) => this.trimmed(v, this.inches ? 5 : 4)).join(" × ")} ${this.unit}`;
  }
  area(mm2: number): string {
    return this.inches ? `${(mm2 / mmPerInch ** 2).toFixed(4)} in²` : `${mm2.toFixed(1)} mm²`;
  }
  // A V-cut takes little: enough decimals that it is not shown as nothing.
  volume(mm3: number): string {
    const value = this.inches ? mm3 / mmPerInch ** 3 : mm3 / 1000;
    let decimals = this.inches ? 2 : 1;
    while (value > 0 && decimals < 4 && value < 0.95 * 10 ** -decimals) ++decimals;
    return `${value.toFixed(decimals)} ${this.inches ? "in³" : "cm³"}`;
  }
  feed(mmPerMin: number): string {
    return this.inches ? `${(mmPerMin / mmPerInch).toFixed(1)} in/min` : `${Math.round(mmPerMin)} mm/min`;
  }
  place(p: Point3, decimals?: number): string {
    return `X ${this.number(p[0], decimals)}  Y ${this.number(p[1], decimals)}  Z ${this.number(p[2], decimals)}`;
  }
  tool(number: number): string {
    const tool = this.report.scene.tools.find((t) => t.number === number);
    return tool?.name ? `T${number} ${tool.name}` : number === 0 ? "no tool" : `T${number}`;
  }
  level(level: Level): string {
    return this.report.scene.words.levels[level];
  }

  private shown(mm: number): number {
    return this.inches ? mm / mmPerInch : mm;
  }
  private trimmed(mm: number, decimals: number): string {
    return String(Number(this.shown(mm).toFixed(decimals))).replace("-", "\u2212");
  }
}

export const toSetup = (setup: Setup, p: Point3): Point3 => [
  p[0] + setup.zero[0],
  p[1] + setup.zero[1],
  p[2] + setup.zero[2],
];
export const toWork = (setup: Setup, p: Point3): Point3 => [
  p[0] - setup.zero[0],
  p[1] - setup.zero[1],
  p[2] - setup.zero[2],
];

// In sentences: "57 min 11 s".
export function duration(seconds: number): string {
  const s = Math.round(seconds);
  if (s < 60) return `${s} s`;
  if (s < 3600) return `${Math.floor(s / 60)} min${s % 60 > 0 ? ` ${s % 60} s` : ""}`;
  const minutes = Math.floor((s % 3600) / 60);
  return `${Math.floor(s / 3600)} h${minutes > 0 ? ` ${minutes} min` : ""}`;
}

// In tables: "0:57:11".
export function hoursText(seconds: number): string {
  const s = Math.round(seconds);
  const two = (n: number): string => String(n).padStart(2, "0");
  return `${Math.floor(s / 3600)}:${two(Math.floor((s % 3600) / 60))}:${two(s % 60)}`;
}

export function clock(seconds: number): string {
  const s = Math.max(0, Math.round(seconds));
  const two = (n: number): string => String(n).padStart(2, "0");
  return s < 3600
    ? `${Math.floor(s / 60)}:${two(s % 60)}`
    : `${Math.floor(s / 3600)}:${two(Math.floor((s % 3600) / 60))}:${two(s % 60)}`;
}

// "4,182"
export const count = (n: number): string => n.toLocaleString("en-US");

export const plural = (n: number, one: string, many: string): string => `${count(n)} ${n === 1 ? one : many}`;

export const levels: readonly Level[] = ["stop", "look", "note"];

// "3 stop", "13 to check first", "2 notes"
export function levelCount(level: Level, n: number): string {
  if (level === "note") return plural(n, "note", "notes");
  return level === "stop" ? `${n} stop` : `${n} to check first`;
}
