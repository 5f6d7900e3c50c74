// Where the time goes: a bar for each program, and how the times were worked out.
import { h, s } from "../elements/dom";
import type { ProgramReport, Report } from "../data/report_data";
import { section, tooShort } from "./tables";
import { duration, hoursText } from "../data/wording";

// Each kind has a hatching of its own beside its colour; the first is plain.
const kinds: { name: string; seconds: (p: ProgramReport) => number; hatch?: string }[] = [
  { name: "cutting", seconds: (p) => p.cutting_s },
  { name: "cutting moves in air", seconds: (p) => p.air_s, hatch: "M2 3H4" },
  { name: "rapids", seconds: (p) => p.rapid_s, hatch: "M0 3H6" },
  { name: "spindle", seconds: (p) => p.spindle_s, hatch: "M0 6 6 0" },
  { name: "tool changes", seconds: (p) => p.tool_change_s, hatch: "M3 0V6" },
  { name: "dwells", seconds: (p) => p.dwell_s, hatch: "M0 0 6 6" },
  { name: "program stops", seconds: (p) => p.stop_s, hatch: "M0 0H6M0 0V6" },
];

const look = (kind: number): { class: string; fill?: string } => ({
  class: `bar kind-${kind}`,
  fill: kinds[kind].hatch ? `url(#time-${kind})` : undefined,
});

function patterns(): SVGSVGElement {
  const hatched = kinds.map(({ hatch }, k) =>
    hatch
      ? s(
          "pattern",
          { id: `time-${k}`, width: 6, height: 6, patternUnits: "userSpaceOnUse" },
          s("rect", { width: 6, height: 6, class: `bar-ground kind-${k}` }),
          s("path", { d: hatch, class: "bar-line" }),
        )
      : null,
  );
  return s("svg", { width: 0, height: 0, "aria-hidden": "true", class: "patterns" }, s("defs", {}, ...hatched));
}

function key(kind: number): HTMLElement {
  const sample = s("rect", { width: 18, height: 12, ...look(kind) });
  const picture = s("svg", { viewBox: "0 0 18 12", width: 18, height: 12, "aria-hidden": "true" }, sample);
  return h("li", {}, picture, kinds[kind].name);
}

function bar(program: ProgramReport, longest: number): HTMLElement {
  const told: string[] = [];
  const pieces: SVGElement[] = [];
  let from = 0;
  for (const [k, { name, seconds }] of kinds.entries()) {
    const took = seconds(program);
    if (took <= 0) continue;
    told.push(`${name} ${duration(took)}`);
    const place = { x: (from / longest) * 1000, width: Math.max(0.5, (took / longest) * 1000), height: 20 };
    pieces.push(s("rect", { ...place, ...look(k) }, s("title", {}, told.at(-1))));
    from += took;
  }
  const label = `${program.file}: ${told.join(", ")}`;
  return h(
    "li",
    {},
    h("span", { class: "bar-name" }, program.file),
    s("svg", { viewBox: "0 0 1000 20", preserveAspectRatio: "none", role: "img", "aria-label": label }, ...pieces),
    h("span", { class: "bar-time" }, hoursText(program.time_s)),
  );
}

function howWorkedOut(report: Report): HTMLElement {
  const titles = { time: "Planned", low: "Low", high: "High" };
  const lists = (["time", "low", "high"] as const).map((key) => {
    const items = report.scene.time_assumptions[key].map((a) => h("li", {}, a));
    return h("div", {}, h("h3", {}, titles[key]), h("ul", {}, ...items));
  });
  return h("details", {}, h("summary", {}, "How these times were worked out"), ...lists);
}

export function timeBars(report: Report): HTMLElement {
  const { time, programs } = report;
  const longest = Math.max(1, ...programs.map((p) => p.time_s));
  const used = kinds.flatMap(({ seconds }, k) => (programs.some((p) => seconds(p) > 0) ? [k] : []));
  return section(
    "time",
    "Time",
    h(
      "p",
      { class: "lead" },
      h("strong", {}, duration(time.total_s)),
      ` planned (low ${duration(time.low_s)}, high ${duration(time.high_s)}).`,
    ),
    ...tooShort(report, "its time is too short"),
    patterns(),
    h("ul", { class: "time-legend" }, ...used.map(key)),
    h("ul", { class: "bars" }, ...programs.map((p) => bar(p, longest))),
    howWorkedOut(report),
  );
}
