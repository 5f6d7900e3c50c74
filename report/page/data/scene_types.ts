// Made from report/page/data/scene.schema.json: node tests/typescript/check.mjs FOLDER-WITH-NODE_MODULES types --write

export type Texts = string[];
/**
 * @minItems 3
 * @maxItems 3
 */
export type Point3 = [number, number, number];
export type PartWord = "cutter" | "shank" | "nut" | "spindle" | "spindle_attachment";
/**
 * @minItems 2
 * @maxItems 2
 */
export type Point2 = [number, number];
export type Indices = number[];

/**
 * What stands on the machine and what the page says beside the report. Lengths in mm, points in the setup frame: from the front left corner of the stock's underside, as the stock lies in the setup.
 */
export interface Scene {
  words: Words;
  /**
   * What lengths are shown in.
   */
  units: "mm" | "in";
  stock: {
    size: Point3;
    grain: "x" | "y" | "none";
    material: string;
    /**
     * A disc: x and y of `size` are its diameter.
     */
    round?: true;
  };
  spoilboard: { thickness: number };
  limits: { clearance: number };
  tools: Tool[];
  hold_downs: HoldDown[];
  setups: Setup[];
  programs: SceneProgram[];
  /**
   * One beside each finding.
   */
  excerpts: Excerpt[];
  rules: { [k: string]: Rule };
  time_assumptions: { time: Texts; low: Texts; high: Texts };
  /**
   * Why the time of a program is.
   */
  times_too_short: Texts;
  assumed: Texts;
  quote?: QuoteTable;
  places: Places[];
  /**
   * One beside each part of the report.
   */
  pieces: Piece[];
}
/**
 * Sentences that every format says alike.
 */
export interface Words {
  verdict: string;
  verdict_sentence: string;
  levels: { stop: string; look: string; note: string };
  no_guarantee: string;
  cautions: Texts;
  /**
   * By the number of the kind of move.
   */
  motions: Texts;
}
export interface Tool {
  number: number;
  name: string;
  shape: string;
  diameter: number;
  flutes: number;
  flute_length: number;
  stickout: number;
  max_stepdown: number | null;
  under: Underside;
  pieces: BodyPiece[];
}
/**
 * Of the cutter, as heights above its tip.
 */
export interface Underside {
  kind: "flat" | "ball" | "cone" | "bull" | "profile";
  radius: number;
  flat_radius: number;
  arc_radius: number;
  rise: number;
  /**
   * Of a profile, from the axis to the radius in even steps.
   */
  heights?: number[];
}
/**
 * A body of revolution: half its outline from the tip up, as radius and height.
 */
export interface BodyPiece {
  part: PartWord;
  outline: Point2[];
  /**
   * Of a spindle attachment.
   */
  name?: string;
}
/**
 * Round ones have a middle and a diameter, others an outline.
 */
export interface HoldDown {
  name: string;
  kind: "screw" | "clamp" | "pin" | "tape" | "glue" | "vacuum" | "vise" | "side-clamp" | "other";
  /**
   * Above the stock.
   */
  top: number;
  at?: Point2;
  diameter?: number;
  outline?: Point2[];
  depth_in_stock?: number;
  shaft_diameter?: number;
}
export interface Setup {
  name: string;
  /**
   * Degrees.
   */
  rotate: number;
  size: Point3;
  zero: Point3;
  /**
   * A place in plan from the stock frame: for x and y the factors of the stock's x and y, and what is added.
   *
   * @minItems 2
   * @maxItems 2
   */
  from_stock: [Point3, Point3];
  /**
   * Of the stock above the spoilboard.
   */
  lift: number;
}
export interface SceneProgram {
  file: string;
  setup: number;
  hold_downs: Indices;
  /**
   * Hold-downs that a move of the program enters.
   */
  hit: Indices;
  /**
   * What to do at the machine before it; empty: nothing.
   */
  change: string;
  heights: { nx: number; ny: number; cell: Point2 };
  /**
   * Before or after it material hangs over a hollow.
   */
  overhangs: boolean;
  moves?: MoveStreams;
}
/**
 * Of the packed moves: how many, how many straight pieces, the bytes of each stream. Absent where they are too many to show.
 */
export interface MoveStreams {
  count: number;
  segments: number;
  streams: { [k: string]: number };
}
export interface Excerpt {
  /**
   * Of the program; -1: the job as a whole.
   */
  order: number;
  /**
   * When the line's first move begins, from the program's start.
   */
  begin_s: number | null;
  /**
   * The line.
   */
  text: string;
  /**
   * Cells of it that are marked: the first, one past the last.
   */
  mark: Point2;
  /**
   * The part of the tool at fault.
   */
  part: PartWord;
  /**
   * A short phrase for the view.
   */
  label: string;
}
export interface Rule {
  summary: string;
  /**
   * Markdown.
   */
  page: string;
}
export interface QuoteTable {
  currency: string;
  quantities: number[];
  rows: { kind: "cost" | "sum" | "remark"; name: string; working: string; amounts: Texts }[];
  assumptions: Texts;
}
/**
 * Where the middle of a form of hold-down is clear of all moves of the programs from `first` on that run with the same hold-downs.
 */
export interface Places {
  first: number;
  form: string;
  /**
   * false: a common size, the job lists none.
   */
  listed: boolean;
  /**
   * Of the stock.
   */
  share: number;
  resolution: number;
  doubts: Texts;
  /**
   * Even-odd.
   */
  rings: Point2[][];
}
export interface Piece {
  /**
   * What became of it.
   */
  line: string;
  /**
   * What became of it after it was cut out or left on tabs: the end of `line`, clause by clause.
   */
  changes: string[];
  /**
   * Cut out or left on tabs, and whenever its hold changes.
   *
   * @minItems 1
   */
  at: [Moment, ...Moment[]];
  loose: null | Moment;
  /**
   * Milled away.
   */
  gone: null | Moment;
  /**
   * As it came off, in the stock frame; even-odd. Empty: too much to show.
   */
  outline: Point2[][];
}
export interface Moment {
  program: number;
  /**
   * From the program's start.
   */
  s: number;
}
