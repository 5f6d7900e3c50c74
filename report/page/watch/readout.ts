// What the machine does at the moment shown, as labelled numbers.
import { h } from "../elements/dom";
import { feedReached, Kind, kindOf, type Moves } from "../data/moves";
import type { Point3 } from "../data/report_data";
import type { Wording } from "../data/wording";

// One moment of a program.
export interface Moment {
  file: string;
  setup: string;
  moves: Moves;
  move: number;
  time: number; // from the program's start, s
  tip: Point3; // work coordinates
}

const none = "\u2013";
const nearlyFull = 0.95; // of the programmed feed: not worth telling

const cell = (kind: string, name: string, value: string): HTMLElement =>
  h("div", { class: kind }, h("dt", {}, name), h("dd", {}, value));

// Between two moves, or behind the last, the axes wait.
function motionWord({ moves, move, time }: Moment, motions: string[]): string {
  const kind = kindOf(moves, move);
  const waits = time < moves.begin[move] - 1e-6 || (kind !== Kind.dwell && time > moves.end[move] + 1e-6);
  // The heading says "Move" already, and narrow screens have no room to say it twice.
  return waits ? "waiting" : motions[kind].replace(/ move$/, "");
}

function feedText({ moves, move }: Moment, wording: Wording): string {
  const kind = kindOf(moves, move);
  const feeds = kind === Kind.feed || kind === Kind.cw || kind === Kind.ccw;
  if (!feeds || !(moves.feed[move] > 0)) return none;
  const reached = feedReached(moves, move);
  // Without the comma, which a screen of 320 pixels has no room for.
  const feed = wording.feed(moves.feed[move]).replace(",", "");
  return reached < nearlyFull ? `${Math.round(reached * 100)} % of ${feed}` : feed;
}

// A pass that takes little on its way takes more in a corner.
function widthOfCut({ moves, move }: Moment, wording: Wording): string {
  if (!(moves.widthMax[move] > 0)) return none;
  const mean = wording.fine(moves.width[move]);
  const max = wording.fine(moves.widthMax[move]);
  return mean === max ? mean : `${wording.number(moves.width[move])}, up to ${max}`;
}

// `motions` are the words for the kinds of move.
export function readout(moment: Moment, wording: Wording, motions: string[]): HTMLElement {
  const { moves, move, tip } = moment;
  return h(
    "dl",
    {},
    cell("name", "Program", moment.file),
    cell("name", "Tool", wording.tool(moves.tool[move])),
    cell("setup", "Setup", moment.setup),
    cell("move", "Move", motionWord(moment, motions)),
    cell("axis", "X", wording.number(tip[0])),
    cell("axis", "Y", wording.number(tip[1])),
    cell("axis", "Z", wording.number(tip[2])),
    cell("long", "Feed", feedText(moment, wording)),
    cell("short", "Line", String(moves.line[move])),
    cell("long", "Width of cut", widthOfCut(moment, wording)),
    cell("short", "Depth of cut", moves.axial[move] > 0 ? wording.length(moves.axial[move]) : none),
  );
}
