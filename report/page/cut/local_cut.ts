// A small window of the stock, cut here without the graphics processor: for the pictures of the spots, and to hold the
// other cut against. The same closed forms as in cut_shader.ts.
import type { LoadedProgram, Place } from "../data/moves";
import { openRadii } from "./open_radius";
import type { Tool, Underside } from "../data/report_data";

function surface(u: Underside, d: number): number {
  switch (u.kind) {
    case "flat":
      return 0;
    case "ball":
      return u.radius - Math.sqrt(Math.max(u.radius * u.radius - d * d, 0));
    case "cone":
      return u.rise * Math.max(d - u.flat_radius, 0);
    case "bull": {
      const e = Math.max(d - u.flat_radius, 0);
      return u.arc_radius - Math.sqrt(Math.max(u.arc_radius * u.arc_radius - e * e, 0));
    }
    case "profile": {
      const heights = u.heights ?? [0];
      const step = Math.min(Math.max((d / u.radius) * (heights.length - 1), 0), heights.length - 1);
      const i = Math.min(Math.floor(step), heights.length - 2);
      return heights[i] + (heights[i + 1] - heights[i]) * (step - i);
    }
  }
}

function lead(u: Underside, q: number, chord: number, slope: number): number {
  const m = Math.abs(slope);
  let ahead = chord;
  if (u.kind === "ball") ahead = (chord * m) / Math.sqrt(1 + m * m);
  else if (u.kind === "cone" && m < u.rise) {
    ahead = Math.min(
      Math.max(
        (q * m) / Math.sqrt(u.rise * u.rise - m * m),
        Math.sqrt(Math.max(u.flat_radius * u.flat_radius - q * q, 0)),
      ),
      chord,
    );
  } else if (u.kind === "bull" || u.kind === "profile") {
    let low = 0;
    let high = chord;
    for (let k = 0; k < 14; ++k) {
      const a = (low + high) / 2;
      const b = a + (high - low) * 0.01;
      if (surface(u, Math.hypot(q, b)) - surface(u, Math.hypot(q, a)) < m * (b - a)) low = a;
      else high = b;
    }
    ahead = (low + high) / 2;
  }
  return slope > 0 ? ahead : -ahead;
}

export interface Window {
  x0: number;
  y0: number;
  nx: number;
  ny: number;
  step: number;
  top: Float32Array;
  floor: Float32Array;
  inside: Uint8Array;
}

// Square cells of `step` mm about a point of the setup frame; outside the stock there is nothing.
export function windowOf(
  program: LoadedProgram,
  centre: [number, number],
  width: number,
  depth: number,
  step: number,
): Window {
  const nx = Math.ceil(width / step);
  const ny = Math.ceil(depth / step);
  const x0 = centre[0] - width / 2;
  const y0 = centre[1] - depth / 2;
  const w: Window = {
    x0,
    y0,
    nx,
    ny,
    step,
    top: new Float32Array(nx * ny),
    floor: new Float32Array(nx * ny),
    inside: new Uint8Array(nx * ny),
  };
  const faces = program.before;
  for (let j = 0; j < ny; ++j) {
    for (let i = 0; i < nx; ++i) {
      const cx = Math.floor((x0 + (i + 0.5) * step) / faces.cell[0]);
      const cy = Math.floor((y0 + (j + 0.5) * step) / faces.cell[1]);
      if (cx < 0 || cy < 0 || cx >= faces.nx || cy >= faces.ny) continue;
      const from = cy * faces.nx + cx;
      const to = j * nx + i;
      w.top[to] = faces.top[from];
      w.floor[to] = faces.floor[from];
      w.inside[to] = 1;
    }
  }
  return w;
}

function cutPiece(w: Window, u: Underside, r: number, a: ArrayLike<number>, b: ArrayLike<number>): void {
  const i0 = Math.max(0, Math.floor((Math.min(a[0], b[0]) - r - w.x0) / w.step));
  const i1 = Math.min(w.nx - 1, Math.floor((Math.max(a[0], b[0]) + r - w.x0) / w.step));
  const j0 = Math.max(0, Math.floor((Math.min(a[1], b[1]) - r - w.y0) / w.step));
  const j1 = Math.min(w.ny - 1, Math.floor((Math.max(a[1], b[1]) + r - w.y0) / w.step));
  if (i0 > i1 || j0 > j1) return;
  const dx = b[0] - a[0];
  const dy = b[1] - a[1];
  const whole = Math.hypot(dx, dy);
  const still = whole <= 1e-6;
  const ux = still ? 1 : dx / whole;
  const uy = still ? 0 : dy / whole;
  const slope = still ? 0 : (b[2] - a[2]) / whole;
  for (let j = j0; j <= j1; ++j) {
    for (let i = i0; i <= i1; ++i) {
      const px = w.x0 + (i + 0.5) * w.step - a[0];
      const py = w.y0 + (j + 0.5) * w.step - a[1];
      let z: number;
      if (still) {
        const d = Math.hypot(px, py);
        if (d > r) continue;
        z = Math.min(a[2], b[2]) + surface(u, d);
      } else {
        const q = Math.abs(px * uy - py * ux);
        const along = px * ux + py * uy;
        const beside = along - Math.min(Math.max(along, 0), whole);
        if (q * q + beside * beside > r * r) continue;
        const at = slope === 0 ? along : along - lead(u, q, Math.sqrt(Math.max(r * r - q * q, 0)), slope);
        const s = Math.min(Math.max(at, 0), whole);
        z = a[2] + s * slope + surface(u, Math.hypot(q, along - s));
      }
      const cell = j * w.nx + i;
      if (z < w.top[cell]) w.top[cell] = z;
    }
  }
}

// All that the program cut in the window up to a place.
export function cutWindow(w: Window, program: LoadedProgram, tools: Tool[], thickness: number, place: Place): void {
  const { moves } = program;
  const byNumber = new Map(tools.map((t) => [t.number, t]));
  const radiusOf = openRadii(thickness);
  const at = (i: number): Float32Array => moves.points.subarray(3 * i, 3 * i + 3);
  const cut = (p: number, to: ArrayLike<number>): void => {
    const tool = moves.drawn[p] ? byNumber.get(moves.tool[moves.moveOf[p]]) : undefined;
    if (tool) cutPiece(w, tool.under, radiusOf(tool, at(p), to), at(p), to);
  };
  for (let p = 0; p < Math.min(place.piece, moves.pieces); ++p) cut(p, at(p + 1));
  if (place.piece < moves.pieces) cut(place.piece, place.point);
}
