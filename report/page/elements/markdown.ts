// The pages of the rules, which provecut writes itself: headings, paragraphs, lists, tables as they stand, indented
// code.
import { h } from "./dom";

function inline(text: string): (Node | string)[] {
  return text
    .split(/(`[^`]+`)/)
    .filter(Boolean)
    .map((part) => (part.startsWith("`") && part.length > 1 ? h("code", {}, part.slice(1, -1)) : part));
}

export function markdown(text: string): HTMLElement {
  const out = h("div", { class: "prose" });
  let paragraph: string[] = [];
  let code: string[] = [];
  let list: HTMLUListElement | undefined;
  let fenced = false;
  const flush = (): void => {
    if (paragraph.length > 0) {
      const words = paragraph.join(" ");
      if (words.startsWith("- ")) {
        list ??= out.appendChild(h("ul"));
        list.append(h("li", {}, ...inline(words.slice(2))));
      } else {
        list = undefined;
        out.append(h("p", {}, ...inline(words)));
      }
    }
    if (code.length > 0) out.append(h("pre", { tabindex: 0 }, code.join("\n"))); // it may be wider than the screen
    paragraph = [];
    code = [];
  };
  for (const line of text.split("\n")) {
    if (line.startsWith("```")) {
      flush();
      fenced = !fenced;
    } else if (fenced || line.startsWith("    ") || line.startsWith("|")) {
      if (paragraph.length > 0) flush();
      list = undefined;
      code.push(fenced ? line : line.replace(/^ {4}/, ""));
    } else if (line.trim() === "") {
      flush();
    } else if (line.startsWith("#")) {
      flush();
      list = undefined;
      out.append(h("h4", {}, line.replace(/^#+\s*/, "")));
    } else {
      if (line.startsWith("- ") || code.length > 0) flush();
      paragraph.push(line.trim());
    }
  }
  flush();
  return out;
}
