// Where and when a finding happens: its move, the moment the tool is nearest to the point that it names, and the tool's
// place then.
import { type LoadedProgram, lengthOf, type Place } from "./moves";
import type { Finding, HoldDown, Report } from "./report_data";
import { toSetup } from "./wording";

export interface Spot {
  program: number;
  point: [number, number, number]; // setup frame
  time: number; // from the program's start, s
  place: Place;
  moves: [number, number]; // first and last move of the finding's lines
  holdDown?: HoldDown;
}

function firstMoveOfLine(program: LoadedProgram, line: number): number {
  return program.moves.line.indexOf(line);
}

// The place on move `m` nearest to `point`, and the share of the move's way up to there.
function nearestOn(
  program: LoadedProgram,
  m: number,
  point: ArrayLike<number>,
): { distance: number; place: Place; share: number } | undefined {
  const { moves } = program;
  let best: { distance: number; place: Place; share: number } | undefined;
  for (let p = moves.firstPiece[m]; p < moves.firstPiece[m + 1]; ++p) {
    if (!moves.drawn[p]) continue;
    const a = moves.points.subarray(3 * p, 3 * p + 3);
    const b = moves.points.subarray(3 * p + 3, 3 * p + 6);
    const d = [b[0] - a[0], b[1] - a[1], b[2] - a[2]];
    const whole2 = d[0] ** 2 + d[1] ** 2 + d[2] ** 2;
    const t =
      whole2 > 0
        ? Math.min(
            1,
            Math.max(0, ((point[0] - a[0]) * d[0] + (point[1] - a[1]) * d[1] + (point[2] - a[2]) * d[2]) / whole2),
          )
        : 1;
    const at: [number, number, number] = [a[0] + t * d[0], a[1] + t * d[1], a[2] + t * d[2]];
    const distance = Math.hypot(point[0] - at[0], point[1] - at[1], point[2] - at[2]);
    if (best && best.distance <= distance) continue;
    const whole = lengthOf(moves, m);
    const way = (p > moves.firstPiece[m] ? moves.lengthTo[p - 1] : 0) + t * Math.sqrt(whole2);
    best = { distance, place: { move: m, piece: p, point: at }, share: whole > 0 ? way / whole : 1 };
  }
  return best;
}

export function spotOf(report: Report, finding: Finding, order: number, program: LoadedProgram): Spot | undefined {
  const { moves } = program;
  const setup = report.scene.setups[report.scene.programs[order].setup];
  const line = finding.line ?? 0;
  let first = firstMoveOfLine(program, line);
  // A line without a move of its own: the first one behind it.
  if (first < 0) first = moves.line.findIndex((l) => l >= line);
  if (first < 0 || moves.count === 0) return undefined;
  let last = first;
  while (last + 1 < moves.count && moves.line[last + 1] === moves.line[first]) ++last;
  const end = moves.points.subarray(3 * moves.firstPiece[first + 1], 3 * moves.firstPiece[first + 1] + 3);
  const point = finding.at ? toSetup(setup, finding.at) : ([end[0], end[1], end[2]] as [number, number, number]);
  let best: ReturnType<typeof nearestOn>;
  let move = first;
  for (let m = first; m <= last; ++m) {
    const near = nearestOn(program, m, point);
    if (near && (!best || near.distance < best.distance)) {
      best = near;
      move = m;
    }
  }
  const place = best?.place ?? { move: first, piece: moves.firstPiece[first], point };
  // At the very end of a move the next one begins: a hair before it, the line is still this one.
  const time = moves.begin[move] + Math.min(best?.share ?? 0, 0.9999) * (moves.end[move] - moves.begin[move]);
  return {
    program: order,
    point,
    time,
    place,
    moves: [first, last],
    holdDown: report.scene.hold_downs.find((h) => h.name === finding.subject),
  };
}
