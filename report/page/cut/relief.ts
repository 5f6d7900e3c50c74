// Where the stock is level, and a grid over one of its faces that spends few triangles there.
import * as THREE from "three";
import type { Faces } from "../data/moves";

const block = 8;
const tile = 8; // cells, squares of the grid

// The height of each block of cells; none (NaN, which equals nothing) where it is not one height.
function blockHeights(heights: Float32Array, nx: number, ny: number): Float32Array {
  const wide = Math.ceil(nx / block);
  const blocks = new Float32Array(wide * Math.ceil(ny / block)).fill(Infinity);
  for (let j = 0; j < ny; ++j) {
    const row = Math.floor(j / block) * wide;
    for (let i = 0; i < nx; ++i) {
      const b = row + Math.floor(i / block);
      const z = heights[j * nx + i];
      if (blocks[b] !== z) blocks[b] = blocks[b] === Infinity ? z : NaN;
    }
  }
  return blocks;
}

export class Relief {
  readonly upper: Float32Array;
  readonly lower: Float32Array;
  version = 0; // grows when a block of the upper face ceases to be level
  private readonly wide: number;
  private readonly high: number;

  constructor(private readonly faces: Faces) {
    const { nx, ny } = faces;
    this.wide = Math.ceil(nx / block);
    this.high = Math.ceil(ny / block);
    this.upper = blockHeights(faces.top, nx, ny);
    this.lower = blockHeights(faces.floor, nx, ny);
    // Where the stock is cut through, the upper face follows the lower one.
    for (let b = 0; b < this.upper.length; ++b) if (Number.isNaN(this.lower[b])) this.upper[b] = NaN;
  }

  // The tool was in these cells.
  touch(x0: number, y0: number, x1: number, y1: number): void {
    const { i0, j0, i1, j1 } = this.blocksOf(x0, y0, x1, y1);
    for (let j = j0; j <= j1; ++j) {
      for (let i = i0; i <= i1; ++i) {
        const b = j * this.wide + i;
        if (Number.isNaN(this.upper[b])) continue;
        this.upper[b] = NaN;
        ++this.version;
      }
    }
  }

  // Triangles of a grid over a face into `index`; how many numbers were written. A level tile is a fan about its
  // middle, with a side in one stretch where the next tile is level too, so that no crack opens between tiles. On the
  // stock's outline the sides of the stock have every point.
  grid(heights: Float32Array, columns: number, rows: number, index: Uint32Array): number {
    const across = Math.ceil(columns / tile);
    const along = Math.ceil(rows / tile);
    const level = new Uint8Array(across * along);
    for (let ty = 0; ty < along; ++ty) {
      for (let tx = 0; tx < across; ++tx) {
        level[ty * across + tx] = this.levelTile(heights, columns, rows, tx, ty) ? 1 : 0;
      }
    }
    const isLevel = (tx: number, ty: number): boolean =>
      tx >= 0 && ty >= 0 && tx < across && ty < along && level[ty * across + tx] === 1;
    let at = 0;
    const vertex = (x: number, y: number): number => y * (columns + 1) + x;
    const triangle = (a: number, b: number, c: number): void => {
      index[at++] = a;
      index[at++] = b;
      index[at++] = c;
    };
    for (let ty = 0; ty < along; ++ty) {
      for (let tx = 0; tx < across; ++tx) {
        const x0 = tx * tile;
        const y0 = ty * tile;
        const x1 = Math.min(columns, x0 + tile);
        const y1 = Math.min(rows, y0 + tile);
        if (level[ty * across + tx] === 0) {
          for (let y = y0; y < y1; ++y) {
            for (let x = x0; x < x1; ++x) {
              const a = vertex(x, y);
              const b = a + columns + 1;
              triangle(a, a + 1, b + 1);
              triangle(a, b + 1, b);
            }
          }
          continue;
        }
        const middle = vertex((x0 + x1) >> 1, (y0 + y1) >> 1);
        const side = (from: number, by: number, steps: number, whole: boolean): void => {
          for (let k = 0; k < steps; k += whole ? steps : 1) {
            triangle(middle, from + k * by, from + (whole ? steps : k + 1) * by);
          }
        };
        side(vertex(x0, y0), 1, x1 - x0, isLevel(tx, ty - 1));
        side(vertex(x1, y0), columns + 1, y1 - y0, isLevel(tx + 1, ty));
        side(vertex(x1, y1), -1, x1 - x0, isLevel(tx, ty + 1));
        side(vertex(x0, y1), -columns - 1, y1 - y0, isLevel(tx - 1, ty));
      }
    }
    return at;
  }

  // With the cells just outside, from which vertices on its edge take their heights.
  private levelTile(heights: Float32Array, columns: number, rows: number, tx: number, ty: number): boolean {
    const x0 = tx * tile;
    const y0 = ty * tile;
    const x1 = Math.min(columns, x0 + tile);
    const y1 = Math.min(rows, y0 + tile);
    const { nx, ny } = this.faces;
    if (x1 - x0 < 2 || y1 - y0 < 2) return false;
    const { i0, j0, i1, j1 } = this.blocksOf(
      (x0 / columns) * nx - 1,
      (y0 / rows) * ny - 1,
      (x1 / columns) * nx + 1,
      (y1 / rows) * ny + 1,
    );
    const z = heights[j0 * this.wide + i0];
    for (let j = j0; j <= j1; ++j) for (let i = i0; i <= i1; ++i) if (heights[j * this.wide + i] !== z) return false;
    return true;
  }

  private blocksOf(x0: number, y0: number, x1: number, y1: number): { i0: number; j0: number; i1: number; j1: number } {
    return {
      i0: Math.max(0, Math.floor(x0 / block)),
      j0: Math.max(0, Math.floor(y0 / block)),
      i1: Math.min(this.wide - 1, Math.floor(x1 / block)),
      j1: Math.min(this.high - 1, Math.floor(y1 / block)),
    };
  }
}

// The grid of one face at one fineness, made anew where the relief has changed since.
export class FaceGrid {
  readonly geometry = new THREE.BufferGeometry();
  private readonly index: THREE.BufferAttribute;
  private made?: { relief: Relief; version: number };

  constructor(
    readonly columns: number,
    readonly rows: number,
  ) {
    this.index = new THREE.BufferAttribute(new Uint32Array(columns * rows * 6), 1).setUsage(THREE.DynamicDrawUsage);
    this.geometry.setIndex(this.index);
  }

  update(relief: Relief, underside: boolean): void {
    const version = underside ? 0 : relief.version;
    if (this.made?.relief === relief && this.made.version === version) return;
    this.made = { relief, version };
    const used = relief.grid(
      underside ? relief.lower : relief.upper,
      this.columns,
      this.rows,
      this.index.array as Uint32Array,
    );
    this.index.clearUpdateRanges();
    this.index.addUpdateRange(0, used);
    this.index.needsUpdate = true;
    this.geometry.setDrawRange(0, used);
  }
}
