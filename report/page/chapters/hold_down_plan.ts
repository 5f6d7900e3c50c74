// The plans of hold-downs: one for each stretch of the job with the same ones, what to change before it, and a table.
import { h } from "../elements/dom";
import { levelIcon } from "../elements/icons";
import { middle, planDrawing, planLegend, type Stretch } from "./plan_drawing";
import type { HoldDown, Places, Report } from "../data/report_data";
import { scrolling } from "./tables";
import { shareText, Wording } from "../data/wording";

function stretches(report: Report): Stretch[] {
  const out: Stretch[] = [];
  for (const [i, p] of report.scene.programs.entries()) {
    const last = out.at(-1);
    if (last?.setup === p.setup && last.holds.join() === p.hold_downs.join()) last.programs.push(i);
    else out.push({ setup: p.setup, programs: [i], holds: p.hold_downs });
  }
  return out;
}

function freeText(report: Report, places: Places): string {
  const wording = new Wording(report);
  const { clearance } = report.scene.limits;
  const margin = clearance > 0 ? ` by ${wording.given(clearance)}` : "";
  const form = `a ${places.form}${places.listed ? "" : " (a common size; the job lists none)"}`;
  if (places.rings.length === 0) {
    return `No spot on or beside the stock keeps ${form} clear of these programs' moves${margin}.`;
  }
  const doubt = places.doubts.length > 0 ? ` But ${places.doubts.join(" and ")}: it may be less.` : "";
  return [
    `With its centre in the hatched area, ${form} is clear of every move of these programs${margin}:`,
    `${shareText(places.share)} of the stock.`,
    `Free space within ${wording.given(places.resolution)} of its edge may not be shown;`,
    `provecut place gives it to 1 mm, or finer with --resolution.${doubt}`,
  ].join(" ");
}

// The plan with the free area of one form of hold-down, and a choice where several are fitted.
function planWithPlaces(report: Report, stretch: Stretch): HTMLElement {
  const forms = report.scene.places.filter((p) => p.first === stretch.programs[0]);
  const drawing = h("div", { class: "plan-scroll" });
  const words = h("p", { class: "free-text", "aria-live": "polite" });
  const show = (places?: Places): void => {
    words.textContent = places ? freeText(report, places) : "";
    drawing.replaceChildren(planDrawing(report, stretch, places, words.textContent));
  };
  show(forms[0]);
  const choices = forms.map((places, i) => {
    const input = { type: "radio", name: `free-${stretch.programs[0]}`, checked: i === 0, change: () => show(places) };
    return h("label", {}, h("input", input), places.form);
  });
  const choice =
    forms.length > 1 && h("fieldset", { class: "free-choice" }, h("legend", {}, "Free area for"), ...choices);
  return h("div", { class: "plan-with-places" }, choice, drawing, words);
}

function holdDownRow(hold: HoldDown, wording: Wording): HTMLElement {
  const [x, y] = middle(hold);
  const top =
    hold.kind === "pin" && hold.depth_in_stock
      ? `${wording.given(hold.depth_in_stock)} into the stock`
      : wording.given(hold.top);
  const amounts = [wording.dimension(x), wording.dimension(y), top];
  return h(
    "tr",
    {},
    h("th", { scope: "row" }, hold.name),
    h("td", {}, hold.kind),
    ...amounts.map((text) => h("td", { class: "amount" }, text)),
  );
}

function holdDownTable(report: Report, stretch: Stretch): HTMLElement {
  const wording = new Wording(report);
  const setup = report.scene.setups[stretch.setup];
  const titles = ["Hold-down", "Kind", "X", "Y", "Top"].map((t, i) =>
    h("th", { scope: "col", class: i > 1 ? "amount" : undefined }, t),
  );
  const rows = stretch.holds.map((i) => holdDownRow(report.scene.hold_downs[i], wording));
  return h(
    "div",
    {},
    h("p", { class: "quiet" }, `Centres from the stock's front left corner in this setup, in ${wording.unit}:`),
    scrolling(`Hold-downs of setup ${setup.name}`, h("thead", {}, h("tr", {}, ...titles)), h("tbody", {}, ...rows)),
  );
}

function planCard(report: Report, stretch: Stretch): HTMLElement {
  const { scene } = report;
  const { change } = scene.programs[stretch.programs[0]];
  const files = stretch.programs.map((i) => scene.programs[i].file);
  return h(
    "figure",
    { class: "plan-card" },
    h(
      "figcaption",
      {},
      h("h3", {}, `Setup ${scene.setups[stretch.setup].name}: ${files.join(", ")}`),
      change !== "" && h("p", { class: "change" }, levelIcon("note", 16), change),
    ),
    planWithPlaces(report, stretch),
    stretch.holds.length > 0 ? holdDownTable(report, stretch) : h("p", { class: "quiet" }, "No hold-downs."),
  );
}

export const holdDownPlans = (report: Report): HTMLElement =>
  h("div", {}, planLegend(), h("div", { class: "plans" }, ...stretches(report).map((st) => planCard(report, st))));
