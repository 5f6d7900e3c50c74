// Signs of levels: each has its own shape, so that colour is never the only cue.
import { s } from "./dom";
import type { Level } from "../data/report_data";

const outline: Record<Level | "clear", string> = {
  stop: "M7 1.5h10l5.5 5.5v10L17 22.5H7L1.5 17V7z",
  look: "M12 2 23 21.5H1z",
  note: "M12 1.8a10.2 10.2 0 1 0 0 20.4 10.2 10.2 0 0 0 0-20.4z",
  clear: "M3 1.8h18a1.2 1.2 0 0 1 1.2 1.2v18a1.2 1.2 0 0 1-1.2 1.2H3A1.2 1.2 0 0 1 1.8 21V3A1.2 1.2 0 0 1 3 1.8z",
};
const sign: Record<Level | "clear", string> = {
  stop: "M7.5 7.5l9 9m0-9l-9 9",
  look: "M12 8.5v6m0 3v.2",
  note: "M12 11v6m0-10v.2",
  clear: "M6.5 12.5l4 4 7.5-9",
};

export function levelIcon(level: Level | "clear", size = 20): SVGSVGElement {
  return s(
    "svg",
    { viewBox: "0 0 24 24", width: size, height: size, class: `icon icon-${level}`, "aria-hidden": "true" },
    s("path", { d: outline[level], class: "icon-body" }),
    s("path", { d: sign[level], class: "icon-sign" }),
  );
}

// A piece that comes off: filled where nothing holds it.
export function partingIcon(loose: boolean, size = 14): SVGSVGElement {
  return s(
    "svg",
    {
      viewBox: "0 0 24 24",
      width: size,
      height: size,
      class: `parting-icon${loose ? " loose" : ""}`,
      "aria-hidden": "true",
    },
    s("path", { d: "M2.5 3.5h7v17h-7z" }),
    s("path", { d: "M14.5 3.5h7v17h-7z" }),
  );
}

const strokes: Record<string, string> = {
  play: "M7 4.5v15l12-7.5z",
  pause: "M7 4.5v15M17 4.5v15",
  back: "M18 5v14L8 12zM6 5v14",
  next: "M6 5v14l10-7zM18 5v14",
  whole: "M4 9V4h5M20 9V4h-5M4 15v5h5M20 15v5h-5",
  above: "M12 3v12m-5-5 5 5 5-5M4 20h16",
  beneath: "M12 21V9m-5 5 5-5 5 5M4 4h16",
  tool: "M9 3h6v8l-3 4-3-4zM12 15v6",
  layers: "M12 3 2.5 8.5 12 14l9.5-5.5zM3 13l9 5.2L21 13",
  section: "M4 4h16v16H4zM4 20 20 4",
};

export function icon(name: keyof typeof strokes | string, size = 20): SVGSVGElement {
  return s(
    "svg",
    { viewBox: "0 0 24 24", width: size, height: size, class: `line-icon line-icon-${name}`, "aria-hidden": "true" },
    s("path", { d: strokes[name] }),
  );
}
