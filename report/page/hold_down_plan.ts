// The plan of hold-downs: for each stretch of the job in which the same ones stand, the stock from above with what holds it.
import { h, s } from "./dom";
import { levelIcon } from "./icons";
import type { HoldDown, Places, Report } from "./report_data";
import { toWork, Wording } from "./wording";

interface Stretch { setup: number; programs: number[]; holds: number[] }

function stretches(report: Report): Stretch[] {
  const out: Stretch[] = [];
  for (const [i, p] of report.scene.programs.entries()) {
    const last = out.at(-1);
    if (last && last.setup === p.setup && last.holds.join() === p.hold_downs.join()) last.programs.push(i);
    else out.push({ setup: p.setup, programs: [i], holds: p.hold_downs });
  }
  return out;
}

const middle = (hold: HoldDown): [number, number] => {
  if (hold.at) return hold.at;
  const xs = hold.outline!.map((p) => p[0]), ys = hold.outline!.map((p) => p[1]);
  return [(Math.min(...xs) + Math.max(...xs)) / 2, (Math.min(...ys) + Math.max(...ys)) / 2];
};

const signs: Record<HoldDown["kind"], string> = { screw: "M-2.2-2.2 2.2 2.2M-2.2 2.2 2.2-2.2", clamp: "M-3 0H3", pin: "M0-.1V.1", tape: "M-3-1H3M-3 1H3", other: "" };

// Hatched, so that it reads as an area of its own without its colour too.
function freeArea(places: Places, X: (x: number) => number, Y: (y: number) => number): SVGElement[] {
  const id = `free-hatch-${places.first}`, d = places.rings.map((ring) => `M${ring.map((p) => `${X(p[0]).toFixed(1)} ${Y(p[1]).toFixed(1)}`).join("L")}Z`).join("");
  return [
    s("defs", {}, s("pattern", { id, width: 9, height: 9, patternUnits: "userSpaceOnUse", patternTransform: "rotate(45)" }, s("path", { d: "M0 0V9", class: "free-line" }))),
    s("path", { d, class: "free", "fill-rule": "evenodd" }), s("path", { d, fill: `url(#${id})`, "fill-rule": "evenodd", class: "free-hatch" }),
  ];
}

function freeText(report: Report, places: Places): string {
  const wording = new Wording(report), { clearance } = report.scene.limits, margin = clearance > 0 ? ` by ${wording.given(clearance)}` : "";
  const form = `a ${places.form}${places.listed ? "" : " (usual; the job lists none)"}`;
  if (places.rings.length === 0) return `Nowhere on or beside the stock is ${form} clear of these programs' moves${margin}.`;
  const share = places.share < 0.01 ? "less than 1 %" : `${Math.round(places.share * 100)} %`;
  const doubt = places.doubts.length > 0 ? ` But ${places.doubts.join(" and ")}: it may be less.` : "";
  return `With its middle in the hatched area ${form} is clear of every move of these programs${margin}: ${share} of the stock. There may be a little more; provecut place tells the edge exactly.${doubt}`;
}

// What the lines and areas of the plans mean.
function planLegend(): HTMLElement {
  const key = (text: string, ...shapes: SVGElement[]): HTMLElement => h("li", {}, s("svg", { viewBox: "0 0 28 16", class: "plan plan-key", "aria-hidden": "true" }, ...shapes), text);
  return h("ul", { class: "plan-legend", "aria-label": "What the plans show" },
    key("free for a hold-down's middle", s("rect", { x: 1, y: 1, width: 26, height: 14, class: "free" }), s("path", { d: "M3 15 13 1M11 15 21 1M19 15 26 5", class: "free-line" })),
    key("reach of the moves", s("rect", { x: 2, y: 2, width: 24, height: 12, class: "reach" })),
    key("hold-down", s("circle", { cx: 14, cy: 8, r: 6, class: "hold" })),
    key("hold-down that is hit", s("circle", { cx: 14, cy: 8, r: 6, class: "hold met" })));
}

function plan(report: Report, stretch: Stretch, places?: Places): SVGSVGElement {
  const setup = report.scene.setups[stretch.setup], [w, d] = setup.size;
  const points = [[0, 0], [w, d], ...stretch.holds.flatMap((i) => {
    const hold = report.scene.hold_downs[i];
    return hold.outline ?? [[hold.at![0] - hold.diameter!, hold.at![1] - hold.diameter!], [hold.at![0] + hold.diameter!, hold.at![1] + hold.diameter!]];
  })];
  const margin = Math.max(w, d) * 0.055, x0 = Math.min(...points.map((p) => p[0])) - margin, x1 = Math.max(...points.map((p) => p[0])) + margin;
  const y0 = Math.min(...points.map((p) => p[1])) - margin, y1 = Math.max(...points.map((p) => p[1])) + margin;
  const scale = 700 / (x1 - x0), X = (x: number): number => (x - x0) * scale, Y = (y: number): number => (y1 - y) * scale;
  const files = stretch.programs.map((i) => report.scene.programs[i].file), met = new Set(report.hits.filter((hit) => files.includes(hit.program) && hit.setup === setup.name).map((hit) => hit.subject));
  const names: SVGElement[] = [], shapes = stretch.holds.map((i) => {
    const hold = report.scene.hold_downs[i], [cx, cy] = middle(hold), isMet = met.has(hold.name), kind = isMet ? "hold met" : "hold";
    const right = cx > w * 0.75, high = Y(cy) < 40;
    names.push(s("text", { x: X(cx) + (right ? -9 : 9) * 1, y: Y(cy) + (high ? 16 : -9), "text-anchor": right ? "end" : "start", class: isMet ? "met" : undefined }, `${hold.name}${isMet ? " – is hit" : ""}`));
    return s("g", {}, hold.outline ? s("polygon", { points: hold.outline.map((p) => `${X(p[0])},${Y(p[1])}`).join(" "), class: kind }) : s("circle", { cx: X(cx), cy: Y(cy), r: Math.max(4, (hold.diameter! / 2) * scale), class: kind }),
      s("path", { d: signs[hold.kind], transform: `translate(${X(cx)} ${Y(cy)})`, class: "hold-sign" }));
  });
  // Reach of the programs' moves at work.
  const reach = stretch.programs.map((i) => report.programs[i].bounds).filter((b) => b !== null)
    .map(([low, high]) => s("rect", { x: X(low[0] + setup.zero[0]), y: Y(high[1] + setup.zero[1]), width: (high[0] - low[0]) * scale, height: (high[1] - low[1]) * scale, class: "reach" }));
  const zero = [X(setup.zero[0]), Y(setup.zero[1])];
  return s("svg", { viewBox: `0 0 700 ${((y1 - y0) * scale).toFixed(1)}`, class: "plan", role: "img", "aria-label": `Setup ${setup.name} from above: ${stretch.holds.map((i) => report.scene.hold_downs[i].name).join(", ") || "no hold-downs"}${places ? `. ${freeText(report, places)}` : ""}` },
    s("rect", { x: X(0), y: Y(d), width: w * scale, height: d * scale, class: "plan-stock" }),
    ...(places ? freeArea(places, X, Y) : []),
    ...reach, ...shapes, ...names,
    s("g", { class: "zero", transform: `translate(${zero[0]} ${zero[1]})` }, s("path", { d: "M-7 0H16M0 7V-16" }), s("circle", { r: 4 }), s("text", { x: 7, y: 16 }, "zero")));
}

// The plan with the free area of one form of hold-down, and a choice where several stand there.
function planWithPlaces(report: Report, stretch: Stretch): HTMLElement {
  const forms = report.scene.places.filter((p) => p.first === stretch.programs[0]), drawing = h("div", { class: "plan-scroll" }), words = h("p", { class: "free-text", "aria-live": "polite" });
  const show = (places?: Places): void => {
    drawing.replaceChildren(plan(report, stretch, places));
    words.textContent = places ? freeText(report, places) : "";
  };
  show(forms[0]);
  const choice = forms.length > 1 && h("fieldset", { class: "free-choice" }, h("legend", {}, "Free area for"), ...forms.map((places, i) =>
    h("label", {}, h("input", { type: "radio", name: `free-${stretch.programs[0]}`, checked: i === 0, change: () => show(places) }), places.form)));
  return h("div", { class: "plan-with-places" }, choice, drawing, words);
}

export function holdDownPlans(report: Report): HTMLElement {
  const wording = new Wording(report), out = h("div", { class: "plans" });
  let before: Stretch | undefined;
  for (const stretch of stretches(report)) {
    const setup = report.scene.setups[stretch.setup], names = (list: number[]): string => list.map((i) => report.scene.hold_downs[i].name).join(", ");
    const same = before?.setup === stretch.setup, off = same ? before!.holds.filter((i) => !stretch.holds.includes(i)) : [], on = same ? stretch.holds.filter((i) => !before!.holds.includes(i)) : [];
    const files = stretch.programs.map((i) => report.scene.programs[i].file);
    const change = same ? [off.length > 0 && `Take off ${names(off)}.`, on.length > 0 && `Put on ${names(on)}.`].filter(Boolean).join(" ") : setup.turn === "none" && !before ? "" : `Turn the stock ${setup.turn === "left-right" ? "over about an axis along Y" : setup.turn === "front-back" ? "over about an axis along X" : "as in the first setup"}${setup.rotate ? `, then ${setup.rotate}° counter-clockwise` : ""}.`;
    out.append(h("figure", { class: "plan-card" },
      h("figcaption", {}, h("h3", {}, `Setup ${setup.name}: ${files.join(", ")}`), change && h("p", { class: "change" }, levelIcon("note", 16), change)),
      planWithPlaces(report, stretch),
      h("div", { class: "table-scroll", role: "region", tabindex: 0, "aria-label": `Hold-downs of setup ${setup.name}` }, h("table", {}, h("thead", {}, h("tr", {}, ...["Hold-down", "Kind", "X", "Y", "Top"].map((t, i) => h("th", { scope: "col", class: i > 1 ? "amount" : undefined }, t)))),
        h("tbody", {}, ...stretch.holds.map((i) => {
          const hold = report.scene.hold_downs[i], [x, y] = toWork(setup, [...middle(hold), 0]);
          return h("tr", {}, h("th", { scope: "row" }, hold.name), h("td", {}, hold.kind), h("td", { class: "amount" }, wording.number(x)), h("td", { class: "amount" }, wording.number(y)), h("td", { class: "amount" }, hold.kind === "pin" && hold.depth_in_stock ? `${wording.given(hold.depth_in_stock)} into the stock` : wording.given(hold.top)));
        }))))));
    before = stretch;
  }
  return h("div", {}, planLegend(), out);
}
