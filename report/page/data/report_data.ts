// What the page is given: the report as `--format json` writes it, without its single hits, and the scene beside it.
// Lengths in mm, points of the report in work coordinates, points of the scene in the setup frame.
import type { Report as WrittenReport } from "./report_types";
import type { Scene } from "./scene_types";

export type { Finding, Level, LikelyCause, Part, Point as Point3, Program as ProgramReport, Tab } from "./report_types";
export type {
  BodyPiece,
  HoldDown,
  Moment,
  PartWord,
  Piece,
  Places,
  Point2,
  QuoteTable,
  Scene,
  SceneProgram,
  Setup,
  Tool,
  Underside,
} from "./scene_types";

export type Report = Omit<WrittenReport, "hits"> & { scene: Scene };

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
