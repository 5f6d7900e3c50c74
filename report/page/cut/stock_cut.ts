// The stock's upper face, cut by the graphics processor: a raster of heights seen from above, as the depth of a render
// target. Each piece of a move draws the tool's lower envelope, and the depth test keeps the lowest.
import * as THREE from "three";
import { cutFragment, cutVertex } from "./cut_shader";
import { FacePaint } from "./face_paint";
import { coverVertex, heightTexture, listTexture, Pass } from "./gpu_pass";
import type { Faces, LoadedProgram, Place } from "../data/moves";
import { openRadii } from "./open_radius";
import { Relief } from "./relief";
import type { Scene, Tool } from "../data/report_data";

const unpackFragment = /* glsl */ `
precision highp float;
uniform highp sampler2D packedDepth, packedPiece, heights;
uniform bool fromHeights;
uniform vec2 depthRange;
out vec4 piece;
void main() {
  ivec2 c = ivec2(gl_FragCoord.xy);
  piece = vec4(0.0);
  if (fromHeights) {
    gl_FragDepth = (texelFetch(heights, c, 0).r - depthRange.x) / (depthRange.y - depthRange.x);
    return;
  }
  vec3 b = floor(texelFetch(packedDepth, c, 0).rgb * 255.0 + 0.5);
  gl_FragDepth = (b.r + b.g * 256.0 + b.b * 65536.0) / 16777215.0;
  piece = texelFetch(packedPiece, c, 0);
}
`;

const packFragment = /* glsl */ `
precision highp float;
uniform highp sampler2D depth, pieces;
layout(location = 0) out vec4 packedDepth;
layout(location = 1) out vec4 packedPiece;
void main() {
  ivec2 c = ivec2(gl_FragCoord.xy);
  float v = floor(texelFetch(depth, c, 0).r * 16777215.0 + 0.5);
  packedDepth = vec4(mod(v, 256.0), mod(floor(v / 256.0), 256.0), floor(v / 65536.0), 255.0) / 255.0;
  packedPiece = texelFetch(pieces, c, 0);
}
`;

const underNumber = { flat: 0, ball: 1, cone: 2, bull: 3, profile: 4 } as const;
const pointsWide = 2048;
const checkpointPieces = 20000;
const maxCheckpoints = 12;
const piecesAtOnce = 20000;

interface Range {
  first: number;
  end: number;
  tool?: Tool;
  opens: number;
}
interface Region {
  x0: number;
  y0: number;
  x1: number;
  y1: number;
}
interface Checkpoint {
  pieces: number;
  target: THREE.WebGLRenderTarget;
}

// Where nothing stands, in a hole or beside round stock, the upper face lies beneath the lower one, as tools leave it.
const withHolesOpen = ({ top, floor }: Faces): Float32Array => top.map((z, c) => (z > floor[c] ? z : floor[c] - 0.5));

export class StockCut {
  faces!: Faces;
  readonly depthRange = new THREE.Vector2();
  readonly thickness: number;
  points!: THREE.DataTexture;
  floor!: THREE.DataTexture;
  target!: THREE.WebGLRenderTarget; // depth: the upper face; colour: the piece that cut it last, counted from 1
  topPaint!: THREE.WebGLRenderTarget; // the faces as they look, alpha 0 in holes; and the way to a wall's line
  floorPaint!: THREE.WebGLRenderTarget;
  readonly paint: FacePaint;
  relief!: Relief;
  private readonly tools: Tool[];
  private program?: LoadedProgram;
  private ranges: Range[] = [];
  private start!: THREE.DataTexture;
  private checkpoints: Checkpoint[] = [];
  private done = 0; // whole pieces that are cut
  private dirty?: Region;
  private floorPainted = false;
  private readonly cut: Pass;
  private readonly unpack: Pass;
  private readonly pack: Pass;

  constructor(
    private readonly renderer: THREE.WebGLRenderer,
    scene: Scene,
  ) {
    this.tools = scene.tools;
    this.thickness = scene.stock.size[2];
    this.depthRange.set(-scene.spoilboard.thickness - 1, this.thickness + 0.01);
    this.paint = new FacePaint(renderer, scene, this.depthRange);
    const range = { depthRange: this.depthRange };
    this.cut = new Pass(
      cutVertex,
      cutFragment,
      {
        ...range,
        points: null,
        pointsWide,
        size: new THREE.Vector2(),
        opens: 0,
        radius: 0,
        flatRadius: 0,
        arcRadius: 0,
        rise: 0,
        under: 0,
        heights: new Float32Array(33),
        lastPiece: -1,
        lastPoint: new THREE.Vector3(),
      },
      { depthTest: true, depthWrite: true, depthFunc: THREE.LessDepth },
    );
    this.unpack = new Pass(
      coverVertex,
      unpackFragment,
      { ...range, packedDepth: null, packedPiece: null, heights: null, fromHeights: true },
      { depthTest: true, depthWrite: true, depthFunc: THREE.AlwaysDepth },
    );
    this.pack = new Pass(coverVertex, packFragment, { depth: null, pieces: null });
    const like = new THREE.WebGLRenderTarget(1, 1);
    for (const pass of [this.unpack, this.cut]) pass.compile(renderer, like);
    this.paint.compile(like);
    like.dispose();
  }

  load(program: LoadedProgram, grainAlongY: boolean): void {
    const before = this.faces;
    this.program = program;
    this.faces = program.before;
    const { nx, ny, cell } = this.faces;
    if (!before || before.nx !== nx || before.ny !== ny) this.makeTargets(nx, ny);
    for (const c of this.checkpoints) c.target.dispose();
    this.checkpoints = [];
    this.relief = new Relief(this.faces);
    this.start?.dispose();
    this.floor?.dispose();
    this.points?.dispose();
    this.start = heightTexture(withHolesOpen(this.faces), nx, ny);
    this.floor = heightTexture(this.faces.floor, nx, ny);
    const { points, pieces } = program.moves;
    this.points = listTexture(pieces + 1, pointsWide, (data) => {
      for (let i = 0; i <= pieces; ++i) data.set(points.subarray(3 * i, 3 * i + 3), 4 * i);
    });
    this.ranges = this.toolRanges();
    this.cut.set({ points: this.points, size: new THREE.Vector2(nx * cell[0], ny * cell[1]) });
    this.resume();
    this.paint.load(this.faces, this.target.depthTexture!, this.floor, grainAlongY);
    this.floorPainted = false;
  }

  // The faces with or without their colours of depth.
  setByDepth(on: boolean): void {
    if (on === this.paint.byDepth) return;
    this.paint.byDepth = on;
    if (!this.program) return;
    this.floorPainted = false;
    this.dirty = this.everything();
    this.refresh();
  }

  // Cuts up to a place; false while there is more to do in a next frame.
  cutTo(place: Place): boolean {
    if (!this.program) return true;
    if (place.piece < this.done) this.goBack(place.piece);
    const end = Math.min(place.piece, this.done + piecesAtOnce);
    this.cutRange(this.done, end);
    this.done = end;
    if (end < place.piece) {
      this.keepCheckpoint();
      this.refresh();
      return false;
    }
    this.keepCheckpoint();
    if (place.piece < this.program.moves.pieces) {
      // The piece at work, as far as the tool has come: cutting it again further on takes away nothing twice.
      this.cut.set({ lastPiece: place.piece, lastPoint: new THREE.Vector3(...place.point) });
      this.cutRange(place.piece, place.piece + 1, place.point);
      this.cut.set({ lastPiece: -1 });
    }
    this.refresh();
    return true;
  }

  // The lower face as it looks, painted when it is first looked at.
  paintFloor(): void {
    if (!this.floorPainted) this.paint.draw(this.floorPaint, true);
    this.floorPainted = true;
  }

  // Heights of the upper face as they are now, mm; read back, so for moments when nothing moves.
  readTop(): { top: Float32Array; piece: Uint32Array } {
    const { nx, ny } = this.faces;
    const target = this.packed();
    const depth = new Uint8Array(nx * ny * 4);
    const piece = new Uint8Array(nx * ny * 4);
    this.renderer.readRenderTargetPixels(target, 0, 0, nx, ny, depth, undefined, 0);
    this.renderer.readRenderTargetPixels(target, 0, 0, nx, ny, piece, undefined, 1);
    target.dispose();
    const top = new Float32Array(nx * ny);
    const scale = (this.depthRange.y - this.depthRange.x) / 16777215;
    for (let i = 0, b = 0; i < top.length; ++i, b += 4) {
      top[i] = this.depthRange.x + (depth[b] + depth[b + 1] * 256 + depth[b + 2] * 65536) * scale;
    }
    return { top, piece: new Uint32Array(piece.buffer) };
  }

  private makeTargets(nx: number, ny: number): void {
    for (const t of [this.target, this.topPaint, this.floorPaint]) {
      t?.depthTexture?.dispose();
      t?.dispose();
    }
    const nearest = { minFilter: THREE.NearestFilter, magFilter: THREE.NearestFilter, generateMipmaps: false };
    const depthTexture = new THREE.DepthTexture(nx, ny, THREE.UnsignedIntType);
    this.target = new THREE.WebGLRenderTarget(nx, ny, { ...nearest, depthTexture });
    const smooth = {
      count: 2,
      minFilter: THREE.LinearFilter,
      magFilter: THREE.LinearFilter,
      generateMipmaps: false,
      depthBuffer: false,
    };
    this.topPaint = new THREE.WebGLRenderTarget(nx, ny, smooth);
    this.floorPaint = new THREE.WebGLRenderTarget(nx, ny, smooth);
  }

  private toolRanges(): Range[] {
    const { moves } = this.program!;
    const { points } = moves;
    const radiusOf = openRadii(this.thickness);
    const ranges: Range[] = [];
    for (let m = 0; m < moves.count; ++m) {
      const end = moves.firstPiece[m + 1];
      for (let p = moves.firstPiece[m]; p < end; ++p) {
        const tool = moves.drawn[p] === 0 ? undefined : this.tools.find((t) => t.number === moves.tool[m]);
        const last = ranges.at(-1);
        const opens = tool
          ? radiusOf(tool, points.subarray(3 * p, 3 * p + 3), points.subarray(3 * p + 3, 3 * p + 6))
          : 0;
        if (last && last.tool === tool && last.opens === opens && last.end === p) last.end = p + 1;
        else ranges.push({ first: p, end: p + 1, tool, opens });
      }
    }
    return ranges;
  }

  private resume(): void {
    this.unpack.set({ fromHeights: true, heights: this.start });
    this.unpack.draw(this.renderer, this.target);
    this.done = 0;
    this.dirty = this.everything();
  }

  private goBack(piece: number): void {
    const checkpoint = this.checkpoints.filter((c) => c.pieces <= piece).at(-1);
    if (!checkpoint) return this.resume();
    const [depth, pieces] = checkpoint.target.textures;
    this.unpack.set({ fromHeights: false, packedDepth: depth, packedPiece: pieces });
    this.unpack.draw(this.renderer, this.target);
    this.done = checkpoint.pieces;
    this.dirty = this.everything();
  }

  private packed(): THREE.WebGLRenderTarget {
    const { nx, ny } = this.faces;
    const target = new THREE.WebGLRenderTarget(nx, ny, {
      count: 2,
      minFilter: THREE.NearestFilter,
      magFilter: THREE.NearestFilter,
      depthBuffer: false,
    });
    this.pack.set({ depth: this.target.depthTexture, pieces: this.target.texture });
    this.pack.draw(this.renderer, target);
    return target;
  }

  private keepCheckpoint(): void {
    const last = this.checkpoints.at(-1)?.pieces ?? 0;
    const apart = Math.max(checkpointPieces, this.program!.moves.pieces / maxCheckpoints);
    if (this.done - last >= apart) this.checkpoints.push({ pieces: this.done, target: this.packed() });
  }

  private cutRange(first: number, end: number, lastPoint?: [number, number, number]): void {
    for (const range of this.ranges) {
      const from = Math.max(first, range.first);
      const to = Math.min(end, range.end);
      if (from >= to || !range.tool) continue;
      const u = range.tool.under;
      const heights = new Float32Array(33);
      heights.set(u.heights ?? []);
      this.cut.set({
        opens: range.opens,
        radius: u.radius,
        flatRadius: u.flat_radius,
        arcRadius: u.arc_radius,
        rise: u.rise,
        under: underNumber[u.kind],
        heights,
      });
      this.cut.draw(this.renderer, this.target, 6 * from, 6 * (to - from));
      this.markDirty(from, to, u.radius, lastPoint);
    }
  }

  private everything(): Region {
    return { x0: 0, y0: 0, x1: this.faces.nx, y1: this.faces.ny };
  }

  private markDirty(first: number, end: number, radius: number, lastPoint?: [number, number, number]): void {
    const { points } = this.program!.moves;
    const { cell, nx, ny } = this.faces;
    const reach = radius + 2;
    const d: Region = { x0: nx, y0: ny, x1: 0, y1: 0, ...this.dirty };
    for (let i = first; i < end; ++i) {
      const a = points.subarray(3 * i, 3 * i + 3);
      const b = i === end - 1 && lastPoint ? lastPoint : points.subarray(3 * i + 3, 3 * i + 6);
      if (Math.min(a[2], b[2]) >= this.thickness) continue;
      const x0 = Math.max(0, Math.floor((Math.min(a[0], b[0]) - reach) / cell[0]));
      const x1 = Math.min(nx, Math.ceil((Math.max(a[0], b[0]) + reach) / cell[0]));
      const y0 = Math.max(0, Math.floor((Math.min(a[1], b[1]) - reach) / cell[1]));
      const y1 = Math.min(ny, Math.ceil((Math.max(a[1], b[1]) + reach) / cell[1]));
      if (x0 >= x1 || y0 >= y1) continue;
      this.relief.touch(x0, y0, x1, y1);
      d.x0 = Math.min(d.x0, x0);
      d.y0 = Math.min(d.y0, y0);
      d.x1 = Math.max(d.x1, x1);
      d.y1 = Math.max(d.y1, y1);
    }
    this.dirty = d;
  }

  private refresh(): void {
    const d = this.dirty;
    this.dirty = undefined;
    if (!d || d.x0 >= d.x1 || d.y0 >= d.y1) return;
    this.topPaint.scissor.set(d.x0, d.y0, d.x1 - d.x0, d.y1 - d.y0);
    this.topPaint.scissorTest = true;
    this.paint.draw(this.topPaint, false);
    this.topPaint.scissorTest = false;
  }
}
