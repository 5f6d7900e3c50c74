// Made from report/schemas/report-1.schema.json: node tests/typescript/check.mjs FOLDER-WITH-NODE_MODULES types --write

export type TextOrNull = null | string;
export type CountOrNull = null | number;
export type Level = "note" | "look" | "stop";
/**
 * @minItems 3
 * @maxItems 3
 */
export type Point = [number, number, number];
export type Seconds = number;
/**
 * Lowest and highest corner; null: empty.
 */
export type Box = null | [Point, Point];
export type MomentOrNull = null | { program: string; line: CountOrNull };
/**
 * Lines in order, as first and last of those that run on.
 */
export type Stretches = [number, number][];
/**
 * At most two decimals.
 */
export type Money = number;

/**
 * What `provecut check --format json` writes. Lengths are mm and points are work coordinates of the setup named beside them, unless a name says otherwise. null: not known, or it does not apply.
 */
export interface Report {
  /**
   * Version of this layout.
   */
  provecut: 1;
  job: string;
  /**
   * The worst level of the findings that are not accepted. Never clear when complete is false.
   */
  verdict: "clear" | "note" | "look" | "stop";
  complete: boolean;
  /**
   * What could not be checked, and why.
   */
  not_checked: string[];
  /**
   * The date of the job's lock file; null: it has none.
   */
  locked_on: TextOrNull;
  /**
   * Another description of the job under which most of its stops and looks are gone and none is new: tried, the likeliest first. Nothing of it is applied; verdict and counts stay as they are.
   *
   * @maxItems 3
   */
  likely_causes: [] | [LikelyCause] | [LikelyCause, LikelyCause] | [LikelyCause, LikelyCause, LikelyCause];
  /**
   * Grouped by rule, program and subject; sorted by level, then by order in the job.
   */
  findings: Finding[];
  /**
   * Every single move that enters a hold-down, one entry per part of the tool.
   */
  hits: Hit[];
  /**
   * In the order of the job.
   */
  programs: Program[];
  /**
   * Every part and offcut that was cut out or left on tabs, in order of time; each once.
   */
  parts: Part[];
  /**
   * What holds the stock and its parts at the end of a program.
   */
  holding: Holding[];
  /**
   * Blind holes from both faces that overlap seen from above.
   */
  hole_pairs: HolePair[];
  time: Time;
  /**
   * If the job has a [quote] section; null: an amount is too large to count.
   */
  quote?: null | Quote;
  stock: Stock;
}
export interface LikelyCause {
  kind:
    | "zero-face"
    | "zero-corner"
    | "flip"
    | "stock-turned"
    | "thickness"
    | "unit"
    | "arc-centres"
    | "tool-number"
    | "tool-diameter"
    | "order"
    | "missing-program"
    | "decimal-point"
    | "distance-mode"
    | "hold-downs";
  question: string;
  /**
   * The setup whose findings were counted; null: those of the whole job.
   */
  setup: TextOrNull;
  stops: Gone;
  looks: Gone;
  effect: string;
  /**
   * What to change if so, and where.
   */
  change: string;
  /**
   * To paste there.
   */
  lines: string[];
  /**
   * The file to change; null: there is no job file.
   */
  file: TextOrNull;
  /**
   * Where in it.
   */
  line: CountOrNull;
  /**
   * Another one explains it as well.
   */
  one_of_several: boolean;
}
export interface Gone {
  gone: number;
  of: number;
}
export interface Finding {
  rule: string;
  level: Level;
  setup: TextOrNull;
  /**
   * The file as the job file names it, or the job file itself; null: the whole job.
   */
  program: TextOrNull;
  line: CountOrNull;
  /**
   * From 1, in code points.
   */
  column: CountOrNull;
  /**
   * One past the last.
   */
  end_column: CountOrNull;
  /**
   * Last line of the group.
   */
  last_line: CountOrNull;
  /**
   * Number of moves in the group.
   */
  moves: number;
  subject: TextOrNull;
  at: null | Point;
  /**
   * See `provecut explain RULE` for what it measures.
   */
  amount: number | null;
  unit: TextOrNull;
  message: string;
  help: string;
  /**
   * @minItems 1
   */
  related?: [Related, ...Related[]];
  /**
   * The reason given in the job file; the verdict does not count it.
   */
  accepted?: string;
  /**
   * Index into likely_causes: under that description the finding is gone. null: it stays, or none is told.
   */
  likely_cause: number | null;
}
export interface Related {
  file: string;
  line: CountOrNull;
  column: CountOrNull;
  message: string;
}
export interface Hit {
  setup: string;
  program: string;
  line: number;
  /**
   * The hold-down's name.
   */
  subject: string;
  tool: number;
  /**
   * cutter, shank, collet nut, spindle, or the name of a spindle attachment.
   */
  tool_part: string;
  motion: "rapid" | "feed" | "arc";
  plunge: boolean;
  entry: Point;
  overlap_mm: number;
}
export interface Program {
  setup: string;
  file: string;
  /**
   * Of the file's bytes.
   */
  sha256: string;
  /**
   * The file against the job's lock file.
   */
  lock: "no-lock" | "not-in-lock" | "same" | "same-moves" | "other-program";
  tools: number[];
  lines: number;
  moves: number;
  /**
   * The sum of cutting_s to tool_change_s.
   */
  time_s: Seconds;
  /**
   * cutting_s + air_s.
   */
  feed_s: Seconds;
  /**
   * Feed moves that cut.
   */
  cutting_s: Seconds;
  /**
   * Feed moves that cut nothing.
   */
  air_s: Seconds;
  rapid_s: Seconds;
  dwell_s: Seconds;
  /**
   * Program stops (M0, M1, M60).
   */
  stop_s: Seconds;
  /**
   * Spindle starts and stops.
   */
  spindle_s: Seconds;
  tool_change_s: Seconds;
  feed_mm: number;
  rapid_mm: number;
  removed_mm3: number;
  bounds: Box;
  deepest_below_top_mm: number;
  /**
   * The load on each tool that cuts, in order of first use.
   */
  loads: Load[];
}
export interface Load {
  tool: number;
  /**
   * Time in the cut.
   */
  cutting_s: Seconds;
  /**
   * Chip load at the speed reached, mean over that time.
   */
  mean_chip_load_mm: number;
  /**
   * Maximum undeformed chip thickness.
   */
  max_chip_thickness_mm: number;
  max_chip_line: CountOrNull;
  /**
   * Maximum radial width of cut.
   */
  max_radial_mm: number;
  mean_removal_mm3_min: number;
  max_removal_mm3_min: number;
  /**
   * At the cutter; null if the material is not known.
   */
  max_power_w: number | null;
  max_force_n: number | null;
  /**
   * null if the stickout is not known.
   */
  max_deflection_mm: number | null;
}
export interface Part {
  setup: string;
  /**
   * The program that cuts it out or leaves it on tabs; `setup` is that program's.
   */
  program: string;
  line: CountOrNull;
  /**
   * Index of the part it came off; null: the stock.
   */
  parent: null | number;
  /**
   * Volume, area and bounds are those at `line`.
   */
  volume_mm3: number;
  plan_area_mm2: number;
  bounds: Box;
  /**
   * When it was cut out or left on tabs: hold-downs by name, "tabs", "tape".
   */
  held_by: string[];
  /**
   * Hold-downs that held it until the program in `loosened`, which starts with it loose; else empty.
   */
  held_before: string[];
  tabs: Tab[];
  /**
   * Maximum force of one tooth beside the tabbed part; null: not judged.
   */
  tooth_force_n: null | number;
  /**
   * The weakest tab's side load divided by that force.
   */
  tab_margin: null | number;
  /**
   * Where the last of its tabs is cut through; null: nowhere, or it had none.
   */
  tabs_cut: MomentOrNull;
  /**
   * Nothing holds it from this entry's `line` on.
   */
  free: boolean;
  /**
   * Where it comes loose; null: something holds it. `line` null: it is loose when the program starts.
   */
  loosened: MomentOrNull;
  /**
   * Lines that cut into the loose part or right beside it. Cuts into pieces that come off it count too.
   */
  cut_while_loose: { program: string; into: Stretches; beside: Stretches }[];
  /**
   * Indexes of the parts that came off it. What is left stays this part.
   */
  split: number[];
  /**
   * Where the last of it is milled away; null: it stays.
   */
  milled: MomentOrNull;
  /**
   * What became of it, in order of time.
   *
   * @minItems 1
   */
  events: [PartEvent, ...PartEvent[]];
}
export interface Tab {
  at: Point;
  length_mm: number;
  thickness_mm: number;
  area_mm2: number;
  /**
   * A thin skin along most of the part's outline.
   */
  onion_skin: boolean;
  /**
   * Angle between the grain and the direction across the kerf; null: no grain.
   */
  grain_deg: null | number;
  /**
   * Side load that breaks it; 0 for an onion skin, null without a material.
   */
  side_load_n: null | number;
}
export interface PartEvent {
  what: "cut_out" | "left_on_tabs" | "tabs_cut" | "hold_downs_removed" | "hold_milled_away" | "milled_away";
  program: string;
  /**
   * null: the program starts so, or the line is not known.
   */
  line: CountOrNull;
  /**
   * What holds it from then on.
   */
  held_by: string[];
}
export interface Holding {
  setup: string;
  program: string;
  /**
   * The rest of the stock first; at most 100.
   */
  pieces: {
    /**
     * false: the rest of the stock.
     */
    part: boolean;
    bounds: Box;
    plan_area_mm2: number;
    /**
     * By name, with tape, without pins.
     */
    hold_downs: string[];
    tape_mm2: number;
    tabs: number;
    /**
     * Total of its tabs and skins.
     */
    tab_area_mm2: number;
    onion_skin_mm: null | number;
  }[];
}
export interface HolePair {
  setup: string;
  /**
   * Program of the later hole.
   */
  program: string;
  line: CountOrNull;
  other_program: string;
  other_line: CountOrNull;
  at: Point;
  axes_apart_mm: number;
  /**
   * Between the tips; negative: they overlap by that much.
   */
  skin_mm: number;
  /**
   * mm the skin gains if the stock is 1 mm thicker than stated.
   */
  skin_gains_with_stock: -1 | 0 | 1;
}
/**
 * total_s is the sum of the parts after high_s.
 */
export interface Time {
  total_s: Seconds;
  low_s: Seconds;
  high_s: Seconds;
  /**
   * Feed moves that cut.
   */
  cutting_s: Seconds;
  /**
   * Feed moves that cut nothing.
   */
  air_s: Seconds;
  rapid_s: Seconds;
  dwell_s: Seconds;
  /**
   * Program stops (M0, M1, M60).
   */
  stop_s: Seconds;
  /**
   * Spindle starts and stops.
   */
  spindle_s: Seconds;
  tool_change_s: Seconds;
}
export interface Quote {
  currency: string;
  /**
   * Parts from one piece of stock.
   */
  parts_per_stock: number;
  /**
   * One for each quantity, in the order of the job file.
   *
   * @minItems 1
   */
  lines: [
    {
      quantity: number;
      /**
       * price / quantity, rounded.
       */
      each: Money;
      /**
       * price + tax.
       */
      total: Money;
      /**
       * Costs and rounding, total.
       */
      cost: Money;
      /**
       * From the exact cost, rounded once.
       */
      price: Money;
      /**
       * Of the rounded price.
       */
      tax: Money;
      /**
       * With the low time.
       */
      low_price: Money;
      /**
       * With the high time.
       */
      high_price: Money;
      /**
       * Difference between cost and the costs rounded one by one.
       */
      rounding: number;
      /**
       * Pieces of stock the quantity needs.
       */
      stock_pieces: number;
      /**
       * The price if whole pieces of stock are bought, no waste added; where parts share stock.
       */
      whole_pieces_price?: Money;
      costs: {
        name: string;
        working: string;
        /**
         * True: charged once an order. False: for each part.
         */
        once: boolean;
        /**
         * Amount for the whole quantity.
         */
        amount: Money;
      }[];
    },
    ...{
      quantity: number;
      /**
       * price / quantity, rounded.
       */
      each: Money;
      /**
       * price + tax.
       */
      total: Money;
      /**
       * Costs and rounding, total.
       */
      cost: Money;
      /**
       * From the exact cost, rounded once.
       */
      price: Money;
      /**
       * Of the rounded price.
       */
      tax: Money;
      /**
       * With the low time.
       */
      low_price: Money;
      /**
       * With the high time.
       */
      high_price: Money;
      /**
       * Difference between cost and the costs rounded one by one.
       */
      rounding: number;
      /**
       * Pieces of stock the quantity needs.
       */
      stock_pieces: number;
      /**
       * The price if whole pieces of stock are bought, no waste added; where parts share stock.
       */
      whole_pieces_price?: Money;
      costs: {
        name: string;
        working: string;
        /**
         * True: charged once an order. False: for each part.
         */
        once: boolean;
        /**
         * Amount for the whole quantity.
         */
        amount: Money;
      }[];
    }[]
  ];
  assumed: string[];
  time_assumed: Assumed;
}
/**
 * How the three times were worked out.
 */
export interface Assumed {
  time: string[];
  low: string[];
  high: string[];
}
export interface Stock {
  cell_mm: Point;
  removed_mm3: number;
  remaining_mm3: number;
}
