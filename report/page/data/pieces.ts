// Pieces that come off the stock: which of them are loose at a moment, and their outlines in a setup.
import type { Moment, Piece, Point2, Scene, Setup } from "./report_data";

// So near its end a move counts as passed: a step of the replay stops just before it.
const passed = 2e-4;

const isPast = (moment: Moment, program: number, time: number): boolean =>
  moment.program < program || (moment.program === program && moment.s <= time + passed);

export const isBefore = (a: Moment, b: Moment): boolean =>
  a.program < b.program || (a.program === b.program && a.s < b.s - passed);

// When the pieces come off and their hold changes, in order of time.
export const momentsOf = (pieces: Piece[]): { piece: number; at: Moment }[] =>
  pieces
    .flatMap(({ at }, piece) => at.map((moment) => ({ piece, at: moment })))
    .sort((a, b) => a.at.program - b.at.program || a.at.s - b.at.s);

// Indices of the pieces that nothing holds and that are not milled away yet.
export function looseAt(scene: Scene, program: number, time: number): number[] {
  const isLoose = ({ loose, gone }: Piece): boolean =>
    loose !== null && isPast(loose, program, time) && !(gone !== null && isPast(gone, program, time));
  return scene.pieces.flatMap((piece, i) => (isLoose(piece) ? [i] : []));
}

export const outlineIn = ({ from_stock: [x, y] }: Setup, piece: Piece): Point2[][] =>
  piece.outline.map((ring) => ring.map(([a, b]): Point2 => [x[0] * a + x[1] * b + x[2], y[0] * a + y[1] * b + y[2]]));

// The corners of its box in plan; undefined where it has no outline.
export function boxIn(setup: Setup, piece: Piece): [Point2, Point2] | undefined {
  const points = outlineIn(setup, piece).flat();
  if (points.length === 0) return undefined;
  const xs = points.map((p) => p[0]);
  const ys = points.map((p) => p[1]);
  const least = (v: number[]): number => v.reduce((a, b) => Math.min(a, b));
  const most = (v: number[]): number => v.reduce((a, b) => Math.max(a, b));
  return [
    [least(xs), least(ys)],
    [most(xs), most(ys)],
  ];
}
