// What the view shows and how moves are coloured: the menu and the legend.
import { h, s } from "../elements/dom";
import { icon } from "../elements/icons";
import type { ColourBy } from "../view/move_view";
import { scaleCss } from "../elements/palette";
import type { Layers } from "../view/stage";

const layerNames: [keyof Layers, string][] = [
  ["moves", "Moves so far"],
  ["rapids", "Rapids"],
  ["toCome", "Moves ahead"],
  ["findings", "Findings"],
  ["holdDowns", "Hold-downs"],
  ["tool", "Tool"],
  ["spoilboard", "Spoilboard"],
  ["depth", "Stock coloured by depth"],
];

const colourings: [ColourBy, string][] = [
  ["kind", "Type of move"],
  ["depth", "Depth"],
  ["engagement", "Width of cut"],
  ["feed", "Feed reached"],
];

export class LayerMenu {
  readonly element: HTMLElement;
  readonly legend = h("div", { class: "legend-place" });
  layers: Layers = {
    moves: true,
    rapids: true,
    toCome: false,
    holdDowns: true,
    spoilboard: true,
    tool: true,
    findings: true,
    depth: false,
  };
  colourBy: ColourBy = "kind";

  // `more` stands below the choices; `thickness` is the stock's, as the legend of depth writes it.
  constructor(
    more: HTMLElement,
    private readonly thickness: string,
    private readonly changed: () => void,
  ) {
    this.element = h(
      "details",
      { class: "layers" },
      h("summary", {}, icon("layers"), "Layers"),
      h(
        "div",
        { class: "layers-body" },
        h("fieldset", {}, h("legend", {}, "Show"), ...layerNames.map(([name, label]) => this.layerBox(name, label))),
        h("fieldset", {}, h("legend", {}, "Colour moves by"), ...colourings.map(([by, text]) => this.colour(by, text))),
        more,
      ),
    );
  }

  private layerBox(name: keyof Layers, label: string): HTMLElement {
    const change = (e: Event): void => {
      this.layers[name] = (e.target as HTMLInputElement).checked;
      this.changed();
    };
    const input = h("input", { type: "checkbox", checked: this.layers[name], "data-layer": name, change });
    return h("label", {}, input, label);
  }

  private colour(by: ColourBy, label: string): HTMLElement {
    const change = (): void => {
      this.colourBy = by;
      this.changed();
    };
    const input = h("input", { type: "radio", name: "colour-by", checked: by === this.colourBy, value: by, change });
    return h("label", {}, input, label);
  }

  // `overhangs`: the program shown leaves or finds undercuts; `loose`: a piece that nothing holds is shown.
  drawLegend(overhangs: boolean, loose: boolean): void {
    const scale = Array.from({ length: 24 }, (_, i) => scaleCss(i / 23));
    const { moves, rapids, depth } = this.layers;
    const by = moves ? this.colourBy : undefined;
    const rows: Node[] = [];
    if (by === "kind") rows.push(keys(rapids));
    if (loose) rows.push(h("div", { class: "keys" }, h("span", { class: "key loose" }, "loose piece")));
    if (depth || by === "depth") rows.push(legend(scale, "depth 0", this.thickness));
    if (by === "engagement") rows.push(legend(scale, "width of cut: none", "full diameter"));
    if (by === "feed") rows.push(legend(scale, "feed reached: 100 %", "0 %"));
    if (overhangs) {
      const text =
        "This view draws undercuts filled. To see one, choose a section under Layers before or after the program.";
      rows.push(h("p", { class: "filled-hollows" }, text));
    }
    this.legend.replaceChildren(...rows);
  }
}

const keys = (rapids: boolean): HTMLElement =>
  h(
    "div",
    { class: "keys" },
    h("span", { class: "key feed" }, "feed"),
    h("span", { class: "key plunge" }, "plunge"),
    rapids && h("span", { class: "key rapid" }, "rapid"),
  );

// A small picture of an even scale, with its ends named.
function legend(stops: string[], low: string, high: string): HTMLElement {
  return h(
    "div",
    { class: "legend" },
    h("span", {}, low),
    s(
      "svg",
      { viewBox: `0 0 ${stops.length} 1`, preserveAspectRatio: "none", "aria-hidden": "true" },
      ...stops.map((colour, i) => s("rect", { x: i, width: 1.05, height: 1, fill: colour })),
    ),
    h("span", {}, high),
  );
}
