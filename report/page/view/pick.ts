// What stands under a point of the canvas.
import * as THREE from "three";
import type { StockCut } from "../cut/stock_cut";
import type { Moves } from "../data/moves";

export interface Spot {
  x: number;
  y: number;
  width: number;
  height: number;
  camera: THREE.Camera;
} // CSS pixels

const reach = 7;

// The nearest piece of a move that is drawn.
export function pickMove(
  moves: Moves,
  { x, y, width, height, camera }: Spot,
  shown: { now: number; rapids: boolean; toCome: boolean },
): number | undefined {
  const e = new THREE.Matrix4().multiplyMatrices(camera.projectionMatrix, camera.matrixWorldInverse).elements;
  const screen = (i: number): [number, number, number] => {
    const px = moves.points[3 * i];
    const py = moves.points[3 * i + 1];
    const pz = moves.points[3 * i + 2];
    const w = e[3] * px + e[7] * py + e[11] * pz + e[15];
    return [
      (((e[0] * px + e[4] * py + e[8] * pz + e[12]) / w + 1) / 2) * width,
      ((1 - (e[1] * px + e[5] * py + e[9] * pz + e[13]) / w) / 2) * height,
      w,
    ];
  };
  let best: number | undefined;
  let nearest = reach;
  let from = screen(0);
  for (let p = 0; p < moves.pieces; ++p) {
    const to = screen(p + 1);
    const a = from;
    const m = moves.moveOf[p];
    from = to;
    if (
      !moves.drawn[p] ||
      a[2] <= 0 ||
      to[2] <= 0 ||
      (!shown.toCome && moves.begin[m] > shown.now) ||
      (!shown.rapids && (moves.kind[m] & 7) === 0)
    ) {
      continue;
    }
    const dx = to[0] - a[0];
    const dy = to[1] - a[1];
    const whole2 = dx * dx + dy * dy;
    const t = whole2 > 0 ? Math.min(1, Math.max(0, ((x - a[0]) * dx + (y - a[1]) * dy) / whole2)) : 0;
    const far = Math.hypot(a[0] + t * dx - x, a[1] + t * dy - y);
    if (far >= nearest) continue;
    nearest = far;
    best = p;
  }
  return best;
}

// The piece that cut the upper face there: down through the heights in steps of a cell.
export function pickSurface(
  cut: StockCut,
  { x, y, width, height, camera }: Spot,
  thickness: number,
): number | undefined {
  const ray = new THREE.Raycaster();
  ray.setFromCamera(new THREE.Vector2((x / width) * 2 - 1, 1 - (y / height) * 2), camera);
  const { origin, direction } = ray.ray;
  if (direction.z >= 0) return undefined;
  const { nx, ny, cell } = cut.faces;
  const { top, piece } = cut.readTop();
  const step = Math.min(cell[0], cell[1]) / Math.max(0.2, Math.hypot(direction.x, direction.y));
  const last = -origin.z / direction.z;
  for (let t = Math.max(0, (thickness - origin.z) / direction.z); t <= last; t += step) {
    const i = Math.floor((origin.x + direction.x * t) / cell[0]);
    const j = Math.floor((origin.y + direction.y * t) / cell[1]);
    if (i < 0 || j < 0 || i >= nx || j >= ny) continue;
    if (origin.z + direction.z * t <= top[j * nx + i] + 1e-3) {
      return piece[j * nx + i] > 0 ? piece[j * nx + i] - 1 : undefined;
    }
  }
  return undefined;
}
