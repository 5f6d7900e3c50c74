// A program's moves as flat arrays: what report/formats/page/page_moves.cpp packed.
import { readBytes, type SceneProgram } from "./report_data";

export const enum Kind {
  rapid,
  feed,
  cw,
  ccw,
  dwell,
  probe,
}
export const removes = 8;
export const jump = 16;
export const unplaced = 32;
export const spindleOn = 64;

// Straight pieces run from point i to point i + 1; move m has those from firstPiece[m] up to firstPiece[m + 1].
export interface Moves {
  count: number;
  kind: Uint8Array; // Kind in the lowest three bits, flags above
  line: Uint32Array;
  tool: Int32Array;
  begin: Float64Array; // s from the program's start; between one move's end and the next one's begin the axes wait
  end: Float64Array;
  axial: Float32Array; // mm, axial depth of cut: the most material above the tip
  width: Float32Array; // mm, radial depth of cut: mean, and the maximum anywhere along the move
  widthMax: Float32Array;
  feed: Float32Array; // mm/min, 0: none
  rpm: Float32Array;
  firstPiece: Uint32Array;
  pieces: number;
  points: Float32Array; // x, y, z in mm of the setup frame
  moveOf: Uint32Array; // of each piece
  drawn: Uint8Array; // of each piece: 0 where it only leads to the start of the next one
  lengthTo: Float64Array; // of each piece: way from its move's start to the piece's end
}

class Numbers {
  at = 0;
  constructor(private readonly bytes: Uint8Array) {}
  count(): number {
    let value = 0;
    let scale = 1;
    for (;;) {
      const byte = this.bytes[this.at++];
      value += (byte & 127) * scale;
      if (byte < 128) return value;
      scale *= 128;
    }
  }
  signed(): number {
    const value = this.count();
    return value % 2 === 0 ? value / 2 : -(value + 1) / 2;
  }
}

function steps<T extends Float32Array | Float64Array | Uint32Array | Int32Array>(
  into: T,
  bytes: Uint8Array,
  scale: number,
  from = 0,
  stride = 1,
): T {
  const numbers = new Numbers(bytes);
  let value = 0;
  for (let i = from; i < into.length; i += stride) {
    value += numbers.signed();
    into[i] = value * scale;
  }
  return into;
}

export function unpackMoves(bytes: Uint8Array, shape: NonNullable<SceneProgram["moves"]>): Moves {
  const part = new Map<string, Uint8Array>();
  let at = 0;
  for (const [name, length] of Object.entries(shape.streams)) {
    part.set(name, bytes.subarray(at, at + length));
    at += length;
  }
  const stream = (name: string): Uint8Array => part.get(name) ?? new Uint8Array();
  const n = shape.count;
  const pieces = shape.segments;

  const kind = stream("kind");
  const firstPiece = new Uint32Array(n + 1);
  const perMove = new Numbers(stream("pieces"));
  for (let m = 0; m < n; ++m) firstPiece[m + 1] = firstPiece[m] + perMove.count();
  const hundredths = (name: string): Float32Array => {
    const numbers = new Numbers(stream(name));
    return new Float32Array(n).map(() => numbers.count() / 100);
  };
  // The first point has no piece that leads to it: the machine stands there already.
  const points = new Float32Array(3 * (pieces + 1));
  for (const [axis, name] of ["x", "y", "z"].entries()) steps(points.subarray(3), stream(name), 1e-3, axis, 3);
  points.set(points.subarray(3, 6), 0);

  const moveOf = new Uint32Array(pieces);
  const drawn = new Uint8Array(pieces);
  const lengthTo = new Float64Array(pieces);
  for (let m = 0; m < n; ++m) {
    let way = 0;
    for (let p = firstPiece[m]; p < firstPiece[m + 1]; ++p) {
      moveOf[p] = m;
      const leads = (kind[m] & unplaced) !== 0 || ((kind[m] & jump) !== 0 && p === firstPiece[m]);
      drawn[p] = leads ? 0 : 1;
      if (!leads) {
        way += Math.hypot(
          points[3 * p + 3] - points[3 * p],
          points[3 * p + 4] - points[3 * p + 1],
          points[3 * p + 5] - points[3 * p + 2],
        );
      }
      lengthTo[p] = way;
    }
  }
  return {
    count: n,
    kind,
    firstPiece,
    pieces,
    points,
    moveOf,
    drawn,
    lengthTo,
    axial: hundredths("axial"),
    width: hundredths("width"),
    widthMax: hundredths("max_radial_depth"),
    line: steps(new Uint32Array(n), stream("line"), 1),
    tool: steps(new Int32Array(n), stream("tool"), 1),
    begin: steps(new Float64Array(n), stream("begin"), 1e-4),
    end: steps(new Float64Array(n), stream("end"), 1e-4),
    feed: steps(new Float32Array(n), stream("feed"), 1),
    rpm: steps(new Float32Array(n), stream("rpm"), 1),
  };
}

export const kindOf = (moves: Moves, m: number): Kind => moves.kind[m] & 7;
export const lengthOf = (moves: Moves, m: number): number =>
  moves.firstPiece[m + 1] > moves.firstPiece[m] ? moves.lengthTo[moves.firstPiece[m + 1] - 1] : 0;

// Mean speed of a feed move as a share of its programmed feed; 1 where it has none.
export function feedReached(moves: Moves, m: number): number {
  const seconds = moves.end[m] - moves.begin[m];
  const kind = kindOf(moves, m);
  if (kind === Kind.rapid || kind === Kind.dwell || !(moves.feed[m] > 0) || !(seconds > 0)) return 1;
  return Math.min(1, (lengthOf(moves, m) * 60) / seconds / moves.feed[m]);
}

export interface Place {
  move: number;
  piece: number;
  point: [number, number, number];
}

// Where the tip is at a time from the program's start: on the move at work, or at rest behind the last that ended.
export function placeAt(moves: Moves, time: number): Place {
  let low = 0;
  let high = moves.count; // the first move that begins after `time`
  while (low < high) {
    const middle = (low + high) >> 1;
    if (moves.begin[middle] <= time) low = middle + 1;
    else high = middle;
  }
  const move = Math.max(0, low - 1);
  const first = moves.firstPiece[move];
  const last = moves.firstPiece[move + 1];
  const at = (i: number): [number, number, number] => [
    moves.points[3 * i],
    moves.points[3 * i + 1],
    moves.points[3 * i + 2],
  ];
  if (moves.count === 0 || first === last) {
    return { move, piece: Math.min(first, moves.pieces), point: at(Math.min(first, moves.pieces)) };
  }
  const seconds = moves.end[move] - moves.begin[move];
  const share = time < moves.begin[move] ? 0 : seconds > 0 ? Math.min(1, (time - moves.begin[move]) / seconds) : 1;
  const way = share * moves.lengthTo[last - 1];
  let piece = first;
  while (piece < last - 1 && (moves.lengthTo[piece] < way || moves.drawn[piece] === 0)) ++piece;
  const from = piece > first ? moves.lengthTo[piece - 1] : 0;
  const whole = moves.lengthTo[piece] - from;
  const t = moves.drawn[piece] === 0 ? 1 : whole > 0 ? Math.min(1, Math.max(0, (way - from) / whole)) : share;
  const a = at(piece);
  const b = at(piece + 1);
  return { move, piece, point: [a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t, a[2] + (b[2] - a[2]) * t] };
}

// Of cells in which material hangs over a hollow all segments of material, from below.
export type Overhangs = Map<number, [number, number][]>;

export interface Faces {
  nx: number;
  ny: number;
  cell: [number, number];
  top: Float32Array;
  floor: Float32Array;
  overhangs: Overhangs;
}

export function unpackFaces(
  bytes: Uint8Array,
  overhangBytes: Uint8Array | undefined,
  nx: number,
  ny: number,
  cell: [number, number],
  thickness: number,
): Faces {
  const cells = nx * ny;
  const overhangs: Overhangs = new Map();
  const numbers = new Numbers(overhangBytes ?? new Uint8Array());
  const height = (): number => (numbers.count() * thickness) / 65535;
  for (let c = 0; overhangBytes && numbers.at < overhangBytes.length;) {
    c += numbers.count();
    overhangs.set(
      c,
      Array.from({ length: numbers.count() }, () => [height(), height()]),
    );
  }
  const face = (at: number): Float32Array => {
    const heights = new Float32Array(cells);
    let value = 0;
    for (let i = 0; i < cells; ++i) {
      value = (value + bytes[at + i] + (bytes[at + cells + i] << 8)) & 0xffff;
      heights[i] = (value * thickness) / 65535;
    }
    return heights;
  };
  return { nx, ny, cell, top: face(0), floor: face(2 * cells), overhangs };
}

// A program ready to be shown; everything is read once, when it is first wanted.
export interface LoadedProgram {
  moves: Moves;
  before: Faces;
  lines: string[];
}

export async function loadProgram(program: SceneProgram, index: number, thickness: number): Promise<LoadedProgram> {
  const [moves, before, overhangs, text] = await Promise.all(
    ["moves", "before", "overhangs-before", "text"].map((kind) => readBytes(kind, index)),
  );
  const h = program.heights;
  const none = { count: 0, segments: 0, streams: {} };
  return {
    moves: unpackMoves(moves ?? new Uint8Array(), program.moves && moves ? program.moves : none),
    before: unpackFaces(before!, overhangs, h.nx, h.ny, h.cell, thickness),
    lines: text ? new TextDecoder().decode(text).split("\n") : [],
  };
}
