// What the page is given: the report as `--format json` writes it, and the scene beside it. Lengths in mm, points of the
// report in work coordinates, points of the scene in the lying frame of their setup.

export type Level = "stop" | "look" | "note";
export type Point2 = [number, number];
export type Point3 = [number, number, number];

export interface Related { file: string; line: number | null; column: number | null; message: string }

export interface Finding {
  rule: string; level: Level; setup: string | null; program: string | null; line: number | null; column: number | null;
  end_column: number | null; last_line: number | null; moves: number; subject: string | null; at: Point3 | null;
  amount: number | null; unit: string | null; message: string; help: string; related?: Related[]; accepted?: string;
}

export interface Hit {
  setup: string; program: string; line: number; subject: string; tool: number; tool_part: string; motion: string;
  plunge: boolean; entry: Point3; overlap_mm: number;
}

export interface ProgramReport {
  setup: string; file: string; tools: number[]; lines: number; moves: number; time_s: number; cutting_s: number; air_s: number; rapid_s: number;
  dwell_s: number; stop_s: number; spindle_s: number; tool_change_s: number; feed_mm: number; rapid_mm: number; removed_mm3: number; bounds: [Point3, Point3] | null;
  deepest_below_top_mm: number;
}

export interface Tab { at: Point3; length_mm: number; thickness_mm: number; area_mm2: number }

export interface Part {
  setup: string; program: string; line: number | null; volume_mm3: number; bounds: [Point3, Point3] | null; held_by: string[];
  tabs: Tab[]; free: boolean;
}

export interface Under { kind: "flat" | "ball" | "cone" | "bull" | "profile"; radius: number; flat_radius: number; arc_radius: number; rise: number; heights?: number[] }
export interface BodyPiece { part: "cutter" | "shank" | "nut" | "spindle" | "spindle_attachment"; outline: Point2[]; name?: string }

export interface Tool {
  number: number; name: string; shape: string; diameter: number; flutes: number; flute_length: number; shank_diameter: number;
  stickout: number; max_stepdown: number | null; plunge_feed: number | null; under: Under; pieces: BodyPiece[];
}

export interface HoldDown {
  name: string; kind: "screw" | "clamp" | "pin" | "tape" | "other"; top: number; at?: Point2; diameter?: number; outline?: Point2[];
  depth_in_stock?: number; shaft_diameter?: number;
}

export interface Setup { name: string; turn: string; rotate: number; size: Point3; zero: Point3; lift: number; hold_downs: number[] }

// Where a form of hold-down is clear of all moves of the programs from `first` on that run with the same hold-downs: places of
// its middle, even-odd over the rings.
export interface Places { first: number; form: string; listed: boolean; share: number; resolution: number; doubts: string[]; rings: Point2[][] }

export interface Heights { nx: number; ny: number; cell: Point2 }

export interface SceneProgram {
  file: string; setup: number; hold_downs: number[]; through: boolean; low_s: number; high_s: number; heights: Heights;
  hangs?: boolean;  // before or after it material hangs over a hollow
  moves?: { count: number; segments: number; streams: Record<string, number> };
}

export interface Quote {
  currency: string; quantities: number[]; assumptions: string[];
  rows: { kind: "cost" | "sum" | "remark"; name: string; working: string; amounts: string[] }[];
}

export interface Scene {
  units: "mm" | "in"; job_file: string;
  stock: { size: Point3; grain: "x" | "y" | "none"; material: string; tolerance: number };
  spoilboard: { thickness: number; skim: number };
  limits: { clearance: number; min_floor: number };
  tools: Tool[]; hold_downs: HoldDown[]; setups: Setup[]; programs: SceneProgram[]; places: Places[];
  // Beside each finding: which program, when its first move begins, its line and the cells of it that are marked.
  excerpts: { order: number; begin_s: number | null; text: string; mark: [number, number] }[];
  rules: Record<string, { summary: string; page: string }>;
  time_assumptions: { time: string[]; low: string[]; high: string[] };
  assumed: string[]; quote?: Quote;
}

export interface Report {
  job: string; verdict: "clear" | "note" | "look" | "stop"; complete: boolean; not_checked: string[]; findings: Finding[];
  hits: Hit[]; hits_in_all: number; programs: ProgramReport[]; parts: Part[];
  time: { total_s: number; low_s: number; high_s: number; cutting_s: number; rapid_s: number; tool_change_s: number; spindle_s: number };
  stock: { cell_mm: Point3; removed_mm3: number; remaining_mm3: number };
  scene: Scene;
}

export function readReport(): Report {
  return JSON.parse(document.getElementById("report")!.textContent!) as Report;
}

// Bytes of one of the page's data elements; undefined where the page has none of that name.
export async function readBytes(kind: string, index: number): Promise<Uint8Array | undefined> {
  const text = document.getElementById(`${kind}-${index}`)?.textContent;
  if (!text) return undefined;
  const packed = atob(text.trim());
  const bytes = new Uint8Array(packed.length);
  for (let i = 0; i < packed.length; ++i) bytes[i] = packed.charCodeAt(i);
  const stream = new Blob([bytes]).stream().pipeThrough(new DecompressionStream("deflate"));
  return new Uint8Array(await new Response(stream).arrayBuffer());
}
