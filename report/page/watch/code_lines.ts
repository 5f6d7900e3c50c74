// The program's lines about the one at work.
import { h } from "../elements/dom";

const around = 3;

export class CodeLines {
  readonly element = h("ol", { class: "code", "aria-label": "Program lines" });
  private shown = -1;

  constructor(private readonly goTo: (line: number) => void) {}

  // Another program is shown: its lines are not those that stand here.
  forget(): void {
    this.shown = -1;
  }

  show(line: number, lines: string[]): void {
    if (line === this.shown) return;
    this.shown = line;
    const first = Math.max(1, Math.min(line - around, lines.length - 2 * around - 1));
    const last = Math.min(lines.length, first + 2 * around);
    const rows: HTMLElement[] = [];
    for (let n = first; n <= last; ++n) rows.push(this.row(n, lines[n - 1], n === line));
    this.element.replaceChildren(...rows);
  }

  private row(n: number, text: string, now: boolean): HTMLElement {
    const go = h(
      "button",
      { type: "button", tabindex: -1, click: () => this.goTo(n) },
      h("span", { class: "line-number" }, n),
      h("bdi", {}, text || " "),
    );
    return h("li", { class: now ? "now" : undefined, value: n, "aria-current": now ? "true" : undefined }, go);
  }
}
