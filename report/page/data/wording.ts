// Numbers and names as they are read: lengths in the job file's unit, times in hours, minutes and seconds. Each
// quantity has the rounding that provecut's other outputs give it (report/base: dimension_text.h, wording.h,
// number_text.h).
import type { Level, Point3, Report, Setup } from "./report_data";

const mmPerInch = 25.4;
const finestDecimals = 6;

const minus = (text: string): string => text.replace("-", "\u2212");

// As printf has it, half to even: toFixed() alone would round 12.5 to 13 where the other outputs say 12.
function rounded(value: number, decimals: number): string {
  const halfway = Math.abs(value * 2 ** (decimals + 1)) % 2 === 1;
  if (!halfway) return value.toFixed(decimals);
  const below = Math.floor(value * 10 ** decimals);
  return ((below % 2 === 0 ? below : below + 1) / 10 ** decimals).toFixed(decimals);
}

// Fixed decimals, never "-0.0".
function fixed(value: number, decimals: number): string {
  const text = rounded(value, decimals);
  return Number(text) === 0 ? text.replace("-", "") : minus(text);
}

// At most that many decimals, no idle zeros.
const short = (value: number, decimals: number): string => minus(String(Number(rounded(value, decimals)) + 0));

const thousands = (text: string): string => text.replace(/\B(?=(\d{3})+(?!\d))(?<!\.\d*)/g, ",");

// As measured: more decimals than usual where it would read as 0 without being 0.
function measured(value: number, usual: number): string {
  let decimals = usual;
  while (value !== 0 && decimals < finestDecimals && Math.abs(value) < 0.5 * 10 ** -decimals) ++decimals;
  return short(value, decimals);
}

// "61 %", "0.4 %", "< 0.1 %"
export function shareText(share: number): string {
  const percent = share * 100;
  if (percent > 0 && percent < 0.05) return "< 0.1 %";
  return `${rounded(percent, percent > 0 && percent < 0.95 ? 1 : 0)} %`;
}

export class Wording {
  private readonly inches: boolean;

  constructor(private readonly report: Report) {
    this.inches = report.scene.units === "in";
  }

  get unit(): string {
    return this.inches ? "in" : "mm";
  }
  // A place that moves or is pointed at, without its unit: fixed decimals, so that it does not jump about.
  number(mm: number): string {
    return fixed(this.shown(mm), this.inches ? 3 : 2);
  }
  // A length as it was measured.
  length(mm: number): string {
    return `${measured(this.shown(mm), this.inches ? 3 : 2)} ${this.unit}`;
  }
  // Where a tenth says too little: widths of cut, and what the section's caliper reads.
  fine(mm: number): string {
    return `${this.number(mm)} ${this.unit}`;
  }
  // A part: the plan as it was measured, the thickness as the stock's own.
  size([x, y, z]: Point3): string {
    const plan = [x, y].map((v) => short(this.shown(v), this.inches ? 2 : 1));
    return `${[...plan, this.dimension(z)].join(" × ")} ${this.unit}`;
  }
  // As it was set or written: 3.175 mm are not 3.17.
  dimension(mm: number): string {
    return short(this.shown(mm), 4);
  }
  given(...mm: number[]): string {
    return `${mm.map((v) => this.dimension(v)).join(" × ")} ${this.unit}`;
  }
  area(mm2: number): string {
    return this.inches ? `${measured(mm2 / mmPerInch ** 2, 4)} in²` : `${measured(mm2, mm2 < 20 ? 1 : 0)} mm²`;
  }
  // A V-cut takes little: enough decimals that it is not shown as nothing.
  volume(mm3: number): string {
    const value = this.inches ? mm3 / mmPerInch ** 3 : mm3 / 1000;
    let decimals = this.inches ? 2 : 1;
    while (value > 0 && decimals < 4 && value < 0.95 * 10 ** -decimals) ++decimals;
    return `${rounded(value, decimals)} ${this.inches ? "in³" : "cm³"}`;
  }
  feed(mmPerMin: number): string {
    return `${thousands(measured(this.shown(mmPerMin), this.inches ? 1 : 0))} ${this.unit}/min`;
  }
  // Where a finding is: as many decimals as tell something, at least one.
  place(p: Point3): string {
    const axes = p.map((mm) => short(this.shown(mm), this.inches ? 4 : 3).replace(/^[^.]*$/, "$&.0"));
    return `X ${axes[0]}  Y ${axes[1]}  Z ${axes[2]}`;
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
export const count = (n: number): string => thousands(String(n));

export const plural = (n: number, one: string, many: string): string => `${count(n)} ${n === 1 ? one : many}`;

export const levels: readonly Level[] = ["stop", "look", "note"];

// "3 stop", "13 to check first", "2 notes"
export function levelCount(level: Level, n: number): string {
  if (level === "note") return plural(n, "note", "notes");
  return level === "stop" ? `${n} stop` : `${n} to check first`;
}
