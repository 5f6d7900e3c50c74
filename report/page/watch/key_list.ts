// The keys of the replay, on the page where they are wanted.
import { h } from "../elements/dom";

const always: [string[], string][] = [
  [["Space"], "play or pause"],
  [[",", "."], "one move back, one on"],
  [["W", "A", "B"], "whole stock, from above, from below"],
  [["arrows", "+", "−"], "turn and zoom the view"],
];
const ofFindings: [string[], string] = [["N", "P"], "next, previous finding"];
const ofParts: [string[], string] = [["Shift N", "Shift P"], "next, previous change to a part"];

export function keyList(findings: boolean, parts: boolean): HTMLElement {
  const rows = [...(findings ? [ofFindings] : []), ...(parts ? [ofParts] : []), ...always];
  return h(
    "details",
    { class: "key-list" },
    h("summary", {}, "Keys"),
    h("p", { class: "quiet" }, "They work once you have clicked into the view."),
    h(
      "dl",
      {},
      ...rows.flatMap(([keys, what]) => [h("dt", {}, ...keys.map((k) => h("kbd", {}, k))), h("dd", {}, what)]),
    ),
  );
}
