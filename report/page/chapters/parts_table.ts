// The parts in order of time, and which of them are loose at the moment shown.
import { type Cell, section, table } from "./tables";
import { h } from "../elements/dom";
import { levelIcon } from "../elements/icons";
import type { Part, Report, Tab } from "../data/report_data";
import { Wording } from "../data/wording";

const maxParts = 200;

export class PartsTable {
  readonly element: HTMLElement | null;
  private readonly rows: HTMLElement[] = [];

  // `show` goes to the moment when a part is parted.
  constructor(report: Report, show: (part: number) => void) {
    if (report.parts.length === 0) {
      this.element = null;
      return;
    }
    const wording = new Wording(report);
    const shown = report.parts.slice(0, maxParts);
    const rows = shown.map((p, i): Cell[] => [
      h(
        "span",
        {},
        h("button", { type: "button", class: "link", click: () => show(i) }, placeOf(p)),
        h("span", { class: "loose-now", hidden: true }, "loose now"),
      ),
      p.setup,
      sizeOf(p, wording),
      { amount: wording.volume(p.volume_mm3) },
      p.free
        ? h("span", { class: "counts" }, levelIcon("stop", 15), "nothing, it comes loose")
        : p.held_by.join(", ") || "–",
      p.tabs.length > 0 ? tabList(p.tabs, wording) : "–",
      report.scene.pieces[i].changes.join("; ") || "–",
    ]);
    const more = report.parts.length - shown.length;
    const head = ["Line", "Setup", "Size", "Volume", "Held by", "Tabs", "What becomes of it"];
    this.element = section(
      "parts",
      "Parts and tabs",
      table("Parts and tabs", head, rows),
      more > 0 && h("p", { class: "quiet" }, `and ${more} more`),
    );
    this.rows = [...this.element.querySelectorAll<HTMLElement>("tbody > tr")];
  }

  // Those that nothing holds at the moment.
  mark(loose: number[]): void {
    for (const [i, row] of this.rows.entries()) {
      const now = loose.includes(i);
      row.classList.toggle("loose", now);
      row.querySelector<HTMLElement>(".loose-now")!.hidden = !now;
    }
  }
}

const placeOf = (p: Part): string => `${p.program}${p.line ? `:${p.line}` : ""}`;

function sizeOf(part: Part, wording: Wording): string {
  if (!part.bounds) return "–";
  const [low, high] = part.bounds;
  return wording.size([high[0] - low[0], high[1] - low[1], high[2] - low[2]]);
}

function tabList(tabs: Tab[], wording: Wording): HTMLElement {
  const items = tabs.map((t) => {
    const size = `${wording.length(t.length_mm)} long, ${wording.length(t.thickness_mm)} thick`;
    return h("li", {}, `${wording.place(t.at)}: ${size}, ${wording.area(t.area_mm2)}`);
  });
  return h(
    "details",
    {},
    h("summary", {}, tabs.length === 1 ? "one tab" : `${tabs.length} tabs`),
    h("ul", {}, ...items),
  );
}
