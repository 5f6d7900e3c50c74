// Numbers and names as they are read: lengths in the job file's unit, times in hours, minutes and seconds.
import type { Level, Point3, Report, Setup } from "./report_data";

export class Wording {
  private readonly inches: boolean;
  constructor(private readonly report: Report) { this.inches = report.scene.units === "in"; }

  get unit(): string { return this.inches ? "in" : "mm"; }
  number(mm: number, decimals = this.inches ? 3 : 2): string {
    const text = (this.inches ? mm / 25.4 : mm).toFixed(decimals);
    return Number(text) === 0 ? text.replace("-", "") : text.replace("-", "\u2212");
  }
  length(mm: number, decimals?: number): string { return `${this.number(mm, decimals)} ${this.unit}`; }
  short(mm: number, decimals = this.inches ? 3 : 2): string { return String(Number((this.inches ? mm / 25.4 : mm).toFixed(decimals))).replace("-", "\u2212"); }
  size(size: Point3): string { return `${size.map((v) => this.short(v)).join(" × ")} ${this.unit}`; }
  // What the job file says, not rounded: 3.175 mm are not 3.17.
  given(...mm: number[]): string { return `${mm.map((v) => this.short(v, this.inches ? 5 : 4)).join(" × ")} ${this.unit}`; }
  area(mm2: number): string { return this.inches ? `${(mm2 / 645.16).toFixed(3)} in²` : `${mm2.toFixed(mm2 < 100 ? 1 : 0)} mm²`; }
  volume(mm3: number): string {
    if (this.inches) return `${(mm3 / 16387.064).toFixed(mm3 < 1639 ? 3 : 2)} in³`;
    return `${(mm3 / 1000).toFixed(mm3 < 1000 ? 3 : 1)} cm³`;
  }
  feed(mmPerMin: number): string { return this.inches ? `${(mmPerMin / 25.4).toFixed(1)} in/min` : `${Math.round(mmPerMin)} mm/min`; }
  place(p: Point3, decimals?: number): string { return `X ${this.number(p[0], decimals)}  Y ${this.number(p[1], decimals)}  Z ${this.number(p[2], decimals)}`; }
  // Finding amounts come with the unit that the rule gives.
  amount(value: number, unit: string | null): string {
    if (unit === "mm") return this.length(value);
    if (unit === "mm2") return this.area(value);
    return `${Number(value.toFixed(3))}${unit ? ` ${unit}` : ""}`;
  }
  tool(number: number): string {
    const tool = this.report.scene.tools.find((t) => t.number === number);
    return tool?.name ? `T${number} ${tool.name}` : number === 0 ? "no tool" : `T${number}`;
  }
}

export const toSetup = (setup: Setup, p: Point3): Point3 => [p[0] + setup.zero[0], p[1] + setup.zero[1], p[2] + setup.zero[2]];
export const toWork = (setup: Setup, p: Point3): Point3 => [p[0] - setup.zero[0], p[1] - setup.zero[1], p[2] - setup.zero[2]];

export function duration(seconds: number): string {
  const s = Math.round(seconds);
  if (s < 60) return `${s} s`;
  if (s < 3600) return `${Math.floor(s / 60)} min ${String(s % 60).padStart(2, "0")} s`;
  return `${Math.floor(s / 3600)} h ${String(Math.floor((s % 3600) / 60)).padStart(2, "0")} min`;
}

export function clock(seconds: number): string {
  const s = Math.max(0, Math.round(seconds)), two = (n: number): string => String(n).padStart(2, "0");
  return s < 3600 ? `${Math.floor(s / 60)}:${two(s % 60)}` : `${Math.floor(s / 3600)}:${two(Math.floor((s % 3600) / 60))}:${two(s % 60)}`;
}

export const plural = (n: number, one: string, many: string): string => `${n} ${n === 1 ? one : many}`;

export const levelWord: Record<Level, string> = { stop: "Stop", look: "Look", note: "Note" };
export const verdictWord = { stop: "Stop", look: "Look first", note: "Clear, with notes", clear: "Clear" } as const;

export function verdictSentence(report: Report): string {
  if (report.verdict === "stop") return "Do not run this job as it is.";
  if (!report.complete) return "Not all could be checked: look before you run this job.";
  if (report.verdict === "look") return "Look before you run this job.";
  return "Nothing found that speaks against running this job.";
}

export const caution = "A check is no guarantee: dry-run above the work, hand at the emergency stop, goggles and mask on.";
