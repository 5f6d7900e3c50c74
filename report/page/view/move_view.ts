// The moves in the view: ribbons of even width on the screen, drawn from the same list of points as the cut.
import * as THREE from "three";
import { listTexture } from "../cut/gpu_pass";
import { feedReached, Kind, kindOf, type Moves, type Place } from "../data/moves";
import { scaleTexture } from "../elements/palette";
import { pieceLookup } from "../cut/cut_shader";

export type ColourBy = "kind" | "depth" | "engagement" | "feed";
const colourNumber: Record<ColourBy, number> = { kind: 0, depth: 1, engagement: 2, feed: 3 };

const vertex = /* glsl */ `
precision highp float;
precision highp int;
${pieceLookup}
// Time of the piece's end, maximum width of cut as a share of the bit's, share of the feed reached, kind and flags.
uniform highp sampler2D facts;
uniform mat4 projectionMatrix, viewMatrix;
uniform vec2 screen;
uniform float width, now, thickness;
uniform int colourBy, atWork;    // the piece at work ends at the tip
uniform vec3 tip;
uniform bool rapids, feeds, toCome;
out vec4 tint;
out float way;
out float value;
flat out int kind;
void main() {
  int piece = gl_VertexID / 6, corner = gl_VertexID % 6;
  vec4 f = texelFetch(facts, ivec2(piece % pointsWide, piece / pointsWide), 0);
  kind = int(f.w) & 7;
  bool drawn = (int(f.w) & 8) != 0, past = f.x <= now || piece == atWork;
  vec3 a = pointAt(piece), b = piece == atWork ? tip : pointAt(piece + 1);
  vec4 ca = projectionMatrix * viewMatrix * vec4(a, 1.0), cb = projectionMatrix * viewMatrix * vec4(b, 1.0);
  bool shown = drawn && (kind == 0 ? rapids : feeds) && (past || toCome) && ca.w > 0.1 && cb.w > 0.1;
  if (!shown) {
    gl_Position = vec4(2.0, 2.0, 2.0, 1.0);
    return;
  }
  vec2 pa = ca.xy / ca.w * screen * 0.5, pb = cb.xy / cb.w * screen * 0.5, side = pb - pa;
  float apart = length(side);
  side = apart > 1e-4 ? side / apart : vec2(1.0, 0.0);
  bool far = corner == 1 || corner == 2 || corner == 4, left = corner == 2 || corner == 4 || corner == 5;
  vec2 p = (far ? pb : pa) + vec2(-side.y, side.x) * (left ? 0.5 : -0.5) * width + side * (far ? 0.3 : -0.3) * width;
  vec4 c = far ? cb : ca;
  gl_Position = vec4(p / (screen * 0.5) * c.w, c.z - 0.0004 * c.w, c.w);
  way = far ? apart : 0.0;
  bool plunge = b.z < a.z - 1e-4 && length(b.xy - a.xy) < a.z - b.z;
  value = colourBy == 1 ? (thickness - min(a.z, b.z)) / thickness : colourBy == 2 ? f.y : 1.0 - f.z;
  vec3 byKind = kind == 0 ? vec3(0.902, 0.624, 0.0) : plunge ? vec3(0.8, 0.475, 0.655) : vec3(0.0, 0.447, 0.698);
  tint = vec4(byKind, past ? 1.0 : 0.22);
}
`;

const fragment = /* glsl */ `
precision highp float;
precision highp int;
uniform highp sampler2D scale;
uniform int colourBy;
in vec4 tint;
in float way;
in float value;
flat in int kind;
out vec4 colour;
void main() {
  if (kind == 0 && mod(way, 9.0) > 5.0) discard;  // rapids are dashed
  colour = tint;
  if (colourBy != 0 && kind != 0) colour.rgb = texture(scale, vec2(clamp(value, 0.0, 1.0), 0.5)).rgb;
}
`;

const uniforms = () => ({
  points: { value: null as THREE.DataTexture | null },
  pointsWide: { value: 2048 },
  facts: { value: null as THREE.DataTexture | null },
  screen: { value: new THREE.Vector2() },
  width: { value: 2 },
  now: { value: 0 },
  thickness: { value: 1 },
  colourBy: { value: 0 },
  atWork: { value: -1 },
  tip: { value: new THREE.Vector3() },
  rapids: { value: true },
  feeds: { value: true },
  toCome: { value: false },
  scale: { value: scaleTexture() },
});

const maxInMotion = 40_000; // pieces

export class MoveView {
  readonly mesh: THREE.Mesh;
  private pieces = 0;
  private readonly uniforms = uniforms();

  constructor() {
    const material = new THREE.RawShaderMaterial({
      glslVersion: THREE.GLSL3,
      vertexShader: vertex,
      fragmentShader: fragment,
      uniforms: this.uniforms,
      transparent: true,
      depthWrite: false,
      side: THREE.DoubleSide,
    });
    this.mesh = new THREE.Mesh(new THREE.BufferGeometry(), material);
    this.mesh.frustumCulled = false;
    this.mesh.renderOrder = 2;
  }

  // `diameters` of the tools, by number.
  load(moves: Moves, points: THREE.DataTexture, thickness: number, diameters: Map<number, number>): void {
    this.uniforms.facts.value?.dispose();
    const facts = listTexture(moves.pieces, 2048, (data) => {
      for (let p = 0; p < moves.pieces; ++p) {
        const m = moves.moveOf[p];
        const last = moves.lengthTo[moves.firstPiece[m + 1] - 1];
        const share = last > 0 ? moves.lengthTo[p] / last : 1;
        data[4 * p] = moves.begin[m] + (moves.end[m] - moves.begin[m]) * share;
        data[4 * p + 1] = moves.widthMax[m] / (diameters.get(moves.tool[m]) ?? Infinity);
        data[4 * p + 2] = kindOf(moves, m) === Kind.rapid ? 1 : feedReached(moves, m);
        data[4 * p + 3] = kindOf(moves, m) + (moves.drawn[p] ? 8 : 0);
      }
    });
    this.uniforms.points.value = points;
    this.uniforms.facts.value = facts;
    this.uniforms.thickness.value = thickness;
    this.pieces = moves.pieces;
    this.drawAround();
  }

  // All moves, or of a long program those about one piece only: enough while the view moves.
  drawAround(piece?: number): void {
    const first =
      piece === undefined || this.pieces <= maxInMotion ? 0 : Math.max(0, Math.floor(piece - 0.8 * maxInMotion));
    const count = piece === undefined ? this.pieces : Math.min(this.pieces - first, maxInMotion);
    this.mesh.geometry.setDrawRange(6 * first, 6 * count);
  }

  setTime(now: number, place: Place): void {
    this.uniforms.now.value = now;
    this.uniforms.atWork.value = place.piece;
    this.uniforms.tip.value.set(...place.point);
  }
  setScreen(width: number, height: number, ratio: number): void {
    this.uniforms.screen.value.set(width, height);
    this.uniforms.width.value = 1.6 * ratio;
  }
  setShown(rapids: boolean, feeds: boolean, toCome: boolean): void {
    this.uniforms.rapids.value = rapids;
    this.uniforms.feeds.value = feeds;
    this.uniforms.toCome.value = toCome;
    this.mesh.visible = rapids || feeds;
  }
  setColourBy(by: ColourBy): void {
    this.uniforms.colourBy.value = colourNumber[by];
  }
}
