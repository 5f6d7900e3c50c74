// Cuts each program of cuts.json as exact solids and holds our stock against them.
//   node compare.mjs STOCK_DUMP cuts.json
// Reference: Manifold (npm manifold-3d, see the lock file): stock less the union of all sweeps. A convex piece of a tool
// swept along a straight move is the convex hull of the piece at both ends; a tool is the union of its convex pieces.
// Facets: a circle has 256 corners on it, so that it lies inside the true one by at most R (1 - cos(pi / 256)) = 7.6e-5 R,
// under a micrometre here; an arc of a profile has 32 lines per quarter turn (3.1e-4 of its radius at most, inside); an arc
// of a path has chords that leave it by at most a micrometre.
// Asked for: removed volumes agree within 0.5 %, and where the two disagree about a point, the reference's surface is
// within one cell of it: along x, y or z, or at one of 81 places within its cell.
import { execFileSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';

const [dump, file] = process.argv.slice(2);
// The package lies where the tests were built, not beside this file.
const require = createRequire(pathToFileURL(join(process.cwd(), 'package.json')));
const { default: Module } = await import(pathToFileURL(require.resolve('manifold-3d')).href);
const wasm = await Module();
wasm.setup();
const { Manifold } = wasm;
const corners = 256, quarter = 32;

const arc = (centre, radius, from, to) => Array.from({ length: quarter + 1 }, (_, k) => {
  const a = from + (to - from) * k / quarter;
  return [centre[0] + radius * Math.cos(a), centre[1] + radius * Math.sin(a)];
});

// The tool's half profiles, [radius, height] from the tip up, one per convex piece.
function convexPieces(t) {
  const R = t.diameter / 2, rad = Math.PI / 180, top = [[R, t.flute_length]];
  switch (t.shape) {
    case 'flat':
    case 'surfacing': return [[[R, 0], ...top]];
    case 'ball': return [[...arc([0, R], R, -Math.PI / 2, 0), ...top]];
    case 'bull': return [[...arc([R - t.corner_radius, t.corner_radius], t.corner_radius, -Math.PI / 2, 0), ...top]];
    case 'vee':
    case 'drill': {
      const tip = (t.tip_diameter ?? 0) / 2;
      return [[[tip, 0], [R, (R - tip) / Math.tan(t.angle / 2 * rad)], ...top]];
    }
    case 'taper-ball': {
      const a = t.taper * rad, r = t.tip_radius, r0 = r * Math.cos(a), h0 = r * (1 - Math.sin(a));
      return [[...arc([0, r], r, -Math.PI / 2, -a), [R, h0 + (R - r0) / Math.tan(a)], ...top]];
    }
    case 'form': return t.profile.slice(1).map((p, i) => [t.profile[i], p]).filter(([a, b]) => b[1] > a[1]);
  }
  throw new Error(`no shape ${t.shape}`);
}

function ringsAt(piece, [x, y, z]) {
  const points = [];
  for (const [r, h] of piece) {
    if (r === 0) points.push([x, y, z + h]);
    else for (let k = 0; k < corners; ++k) {
      const a = 2 * Math.PI * k / corners;
      points.push([x + r * Math.cos(a), y + r * Math.sin(a), z + h]);
    }
  }
  return points;
}

function straightPath(moves) {
  const path = [];
  for (const m of moves) {
    if (Array.isArray(m)) { path.push(m); continue; }
    const from = path.at(-1), [cx, cy] = m.centre, r = Math.hypot(from[0] - cx, from[1] - cy);
    const a0 = Math.atan2(from[1] - cy, from[0] - cx);
    let a1 = Math.atan2(m.to[1] - cy, m.to[0] - cx);
    if (m.arc === 'ccw') while (a1 <= a0 + 1e-9) a1 += 2 * Math.PI;
    else while (a1 >= a0 - 1e-9) a1 -= 2 * Math.PI;
    const chords = Math.ceil(Math.abs(a1 - a0) / (2 * Math.acos(1 - 0.001 / r)));
    for (let k = 1; k <= chords; ++k) {
      const s = k / chords, a = a0 + (a1 - a0) * s;
      path.push([cx + r * Math.cos(a), cy + r * Math.sin(a), from[2] + (m.to[2] - from[2]) * s]);
    }
  }
  return path;
}

// Stock and swept tool in the setup frame; flipped back to the stock frame in the end.
function exactStock(cut) {
  const [W, D, T] = cut.size, path = straightPath(cut.moves).map(([x, y, z]) => [x, y, z + T]);
  const sweeps = [];
  for (const piece of convexPieces(cut.tool)) {
    for (let i = 1; i < path.length; ++i) sweeps.push(Manifold.hull([...ringsAt(piece, path[i - 1]), ...ringsAt(piece, path[i])]));
  }
  let stock = Manifold.cube([W, D, T]).subtract(Manifold.union(sweeps));
  if (cut.flip === 'left-right') stock = stock.rotate([0, 180, 0]).translate([W, 0, T]);
  if (cut.flip === 'front-back') stock = stock.rotate([180, 0, 0]).translate([0, D, T]);
  return stock;
}

// Heights at which vertical lines through the raster's centres, or shifted from there by a share of the cell, cross the solid: [low, high, low, high, …] per dexel.
function dexelsOf(solid, nx, ny, cx, cy, shift = 0.5) {
  const mesh = solid.getMesh(), dexels = Array.from({ length: nx * ny }, () => []);
  const at = v => { const k = mesh.triVerts[v] * mesh.numProp; return [mesh.vertProperties[k], mesh.vertProperties[k + 1], mesh.vertProperties[k + 2]]; };
  const dx = 1.3e-5, dy = 2.7e-5;  // so that no line meets an edge
  for (let t = 0; t < mesh.triVerts.length; t += 3) {
    const a = at(t), b = at(t + 1), c = at(t + 2);
    const area = (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);
    if (area === 0) continue;
    const y0 = Math.max(0, Math.ceil((Math.min(a[1], b[1], c[1]) - dy) / cy - shift)), y1 = Math.min(ny - 1, Math.floor((Math.max(a[1], b[1], c[1]) - dy) / cy - shift));
    const x0 = Math.max(0, Math.ceil((Math.min(a[0], b[0], c[0]) - dx) / cx - shift)), x1 = Math.min(nx - 1, Math.floor((Math.max(a[0], b[0], c[0]) - dx) / cx - shift));
    for (let iy = y0; iy <= y1; ++iy) for (let ix = x0; ix <= x1; ++ix) {
      const x = (ix + shift) * cx + dx, y = (iy + shift) * cy + dy;
      const u = ((b[0] - x) * (c[1] - y) - (b[1] - y) * (c[0] - x)) / area, v = ((c[0] - x) * (a[1] - y) - (c[1] - y) * (a[0] - x)) / area;
      if (u < 0 || v < 0 || u + v > 1) continue;
      dexels[iy * nx + ix].push([u * a[2] + v * b[2] + (1 - u - v) * c[2], area > 0 ? 1 : -1]);
    }
  }
  return dexels.map(crossings => {
    crossings.sort((p, q) => p[0] - q[0]);
    const heights = [];
    let inside = 0;
    for (const [z, up] of crossings) {
      const now = inside - up;  // an upward face ends material
      if (inside === 0 || now === 0) heights.push(z);
      inside = now;
    }
    if (inside !== 0) throw new Error('a line leaves the solid open');
    return heights;
  });
}

const holds = (runs, z) => { for (let i = 0; i + 1 < runs.length; i += 2) if (z > runs[i] && z < runs[i + 1]) return true; return false; };

let failed = 0, compared = 0;
for (const cut of JSON.parse(readFileSync(file, 'utf8')).cuts) {
  const lines = execFileSync(dump, [file, cut.name], { encoding: 'utf8', maxBuffer: 1 << 28 }).trimEnd().split('\n');
  const [nx, ny, cx, cy, removed] = lines[0].split(' ').map(Number);
  const ours = lines.slice(1).map(l => l === '' ? [] : l.split(' ').map(Number));
  if (ours.length !== nx * ny) throw new Error(`${cut.name}: ${ours.length} dexels, not ${nx * ny}`);
  const solid = exactStock(cut), exact = dexelsOf(solid, nx, ny, cx, cy);
  // Looked at only where it is needed: eight steps to a cell, from corner to corner.
  const steps = 8, stride = steps * nx + 1;
  let fineDexels;
  const fine = () => (fineDexels ??= dexelsOf(solid, stride, steps * ny + 1, cx / steps, cy / steps, 0));
  const truth = cut.size[0] * cut.size[1] * cut.size[2] - solid.volume(), error = removed / truth - 1;
  if (!(truth > 100)) throw new Error(`${cut.name}: the reference cut nothing`);

  let worst = 0, off = 0, where = '';
  for (let iy = 0; iy < ny; ++iy) for (let ix = 0; ix < nx; ++ix) {
    const k = iy * nx + ix, a = ours[k], b = exact[k];
    const bounds = [...a, ...b].sort((p, q) => p - q);
    for (let i = 0; i + 1 < bounds.length; ++i) {
      // Between two heights that follow each other both stay what they are.
      const middle = (bounds[i] + bounds[i + 1]) / 2;
      if (bounds[i + 1] - bounds[i] < 1e-4 || holds(a, middle) === holds(b, middle)) continue;
      for (let z = bounds[i] + 1e-5; z < bounds[i + 1]; z += cut.cell / 2) {
        const is = holds(b, z);
        let nearest = Math.min(...b.map(h => Math.abs(h - z)), Infinity);
        for (const [sx, sy] of [[1, 0], [-1, 0], [0, 1], [0, -1]]) {
          const jx = ix + sx, jy = iy + sy;
          const there = jx >= 0 && jy >= 0 && jx < nx && jy < ny && holds(exact[jy * nx + jx], z);
          if (there !== is) nearest = Math.min(nearest, sx ? cx : cy);
        }
        for (let sy = 0; nearest > cut.cell + 1e-6 && sy <= steps; ++sy) for (let sx = 0; sx <= steps; ++sx) {
          const runs = fine()[(iy * steps + sy) * stride + ix * steps + sx], aside = Math.hypot((sx / steps - 0.5) * cx, (sy / steps - 0.5) * cy);
          const up = holds(runs, z) !== is ? 0 : Math.min(...runs.map(h => Math.abs(h - z)), Infinity);
          nearest = Math.min(nearest, Math.hypot(aside, up));
        }
        worst = Math.max(worst, nearest);
        if (nearest > cut.cell + 1e-6) { ++off; where = `${ix} ${iy} ${z.toFixed(3)}`; }
      }
    }
  }
  const good = Math.abs(error) <= 0.005 && off === 0;
  console.log(`${good ? 'ok    ' : 'FAILED'} ${cut.name}: ${removed.toFixed(3)} mm3 taken, exact ${truth.toFixed(3)} (${(100 * error).toFixed(3)} %), surface off by at most ${worst.toFixed(4)} mm${off ? `, ${off} points too far, such as ${where}` : ''}`);
  failed += good ? 0 : 1;
  ++compared;
}
if (compared < 10) throw new Error('fewer than ten programs');
process.exit(failed ? 1 : 0);
