// How a face of the stock looks, painted once where it changes: wood or sheet, light on slopes, shade between walls.
// The view then only has to lay the picture on.
import * as THREE from "three";
import { coverVertex, Pass } from "./gpu_pass";
import type { Faces } from "../data/moves";
import { materialColours, noiseTexture, scaleTexture } from "../elements/palette";
import type { Scene } from "../data/report_data";

// Streaks along the grain, from a small tile of noise; about -0.1 to 0.1.
export const figure = /* glsl */ `
uniform sampler2D noise;
uniform float grain;
uniform bool grainAlongY;
float figure(vec3 p) {
  if (grain <= 0.0) return 0.0;
  vec2 q = grainAlongY ? p.yx : p.xy;
  float bend = texture(noise, q * vec2(0.006, 0.03) / 256.0).r * 5.0;
  float lines = texture(noise, vec2(q.x * 0.012, (q.y + p.z * 0.6) * 0.55 + bend) / 256.0).r;
  return grain * (lines - 0.5) * 0.2;
}
`;

const fragment = /* glsl */ `
precision highp float;
precision highp int;
uniform highp sampler2D upper, lower;
uniform vec2 upperRange, cell;      // heights of depth 0 and 1; mm of a cell
uniform float thickness;
uniform bool upsideDown, byDepth;   // the lower face, seen from below
uniform vec3 faceColour, insideColour;
uniform highp sampler2D scale;
${figure}
layout(location = 0) out vec4 colour;
layout(location = 1) out vec4 toWall;  // way to the line of a wall close by, in 63rds of a cell; 128: none
ivec2 last;
float upperAt(ivec2 c) { return mix(upperRange.x, upperRange.y, texelFetch(upper, c, 0).r); }
float heightOf(ivec2 c) {
  c = clamp(c, ivec2(0), last);
  return upsideDown ? -texelFetch(lower, c, 0).r : upperAt(c);
}
vec4 around(ivec2 c, ivec2 a, ivec2 b) {
  return vec4(heightOf(c + a), heightOf(c - a), heightOf(c + b), heightOf(c - b));
}
float most(vec4 v) { return max(max(v.x, v.y), max(v.z, v.w)); }
void main() {
  ivec2 c = ivec2(gl_FragCoord.xy);
  last = textureSize(lower, 0) - 1;
  float z = heightOf(c);
  vec4 near = around(c, ivec2(1, 0), ivec2(0, 1));
  vec4 askew = around(c, ivec2(1, 1), ivec2(-1, 1));
  vec4 next = around(c, ivec2(2, 0), ivec2(0, 2));
  vec2 slope = (near.yw - near.xz) / (2.0 * cell), shift = vec2(0.0);
  float share = 0.0;  // of the wall in how the cell looks
  // The raster has a round wall as steps: where it stands and which way it faces is told from all cells around.
  if (most(max(max(abs(near - z), abs(askew - z)), abs(next - near))) > 2.5 * max(cell.x, cell.y)) {
    float low = z, high = z, sum = 0.0;
    vec2 uphill = vec2(0.0);
    for (int y = -2; y <= 2; ++y)
      for (int x = -2; x <= 2; ++x) {
        float h = heightOf(c + ivec2(x, y));
        low = min(low, h);
        high = max(high, h);
        sum += h;
        uphill += h * vec2(x, y);
      }
    vec2 way = normalize(uphill + 1e-9), across = abs(way);
    float share25 = (sum / 25.0 - low) / (high - low);
    float inside = 5.0 * max(across.x, across.y) * (share25 - 0.5);  // of the wall's line, cells
    shift = -inside * way;
    share = 1.0 - smoothstep(0.4, 1.4, abs(inside));
    slope = mix(slope, -way * (high - low) / (2.0 * cell), share);
    z = mix(z, 0.5 * (low + high), share);
  }
  toWall = vec4((shift * 63.0 + 128.0) / 255.0, 0.0, 1.0);
  vec3 normal = normalize(vec3(slope, 1.0));
  // Walls around keep light off: how steeply the surroundings rise.
  float closed = 0.0;
  int far = max(2, int(1.3 / min(cell.x, cell.y)));
  for (int k = 0; k < 4; ++k) {
    ivec2 way = ivec2(k < 2 ? far : -far, k % 2 == 0 ? far : -far);
    closed += clamp((heightOf(c + way) - z) / (float(far) * (cell.x + cell.y)), 0.0, 1.0);
  }
  float open = 1.0 - (0.16 - 0.08 * share) * closed, depth = upsideDown ? -z : thickness - z;
  vec3 base = depth > 0.02 ? insideColour : faceColour;
  base *= 1.0 + figure(vec3(gl_FragCoord.xy * cell, depth));
  vec3 scaled = texture(scale, vec2(clamp(depth / thickness, 0.0, 1.0), 0.5)).rgb;
  if (byDepth && depth > 0.02) base = mix(base, scaled, 0.88);
  float key = max(dot(normal, normalize(vec3(-0.45, -0.35, 0.82))), 0.0);
  float fill = max(dot(normal, normalize(vec3(0.6, 0.5, 0.35))), 0.0);
  float light = 0.66 + 0.10 * normal.z + 0.36 * key + 0.10 * fill;
  float low = texelFetch(lower, c, 0).r, high = upperAt(c);
  colour = vec4(min(base * light * open, 1.0), high - low > 0.001 ? 1.0 : 0.0);
}
`;

export const colourOf = (hex: number): THREE.Vector3 =>
  new THREE.Vector3((hex >> 16) / 255, ((hex >> 8) & 255) / 255, (hex & 255) / 255);

export class FacePaint {
  byDepth = false;
  readonly noise = noiseTexture();
  private readonly pass: Pass;

  constructor(
    private readonly renderer: THREE.WebGLRenderer,
    scene: Scene,
    upperRange: THREE.Vector2,
  ) {
    const colours = materialColours[scene.stock.material] ?? materialColours.softwood;
    this.pass = new Pass(coverVertex, fragment, {
      upper: null,
      lower: null,
      upperRange,
      cell: new THREE.Vector2(),
      thickness: scene.stock.size[2],
      upsideDown: false,
      byDepth: false,
      faceColour: colourOf(colours.face),
      insideColour: colourOf(colours.inside),
      scale: scaleTexture(),
      noise: this.noise,
      grain: colours.grain,
      grainAlongY: false,
    });
  }

  load(faces: Faces, upper: THREE.Texture, lower: THREE.Texture, grainAlongY: boolean): void {
    this.pass.set({ upper, lower, cell: new THREE.Vector2(...faces.cell), grainAlongY });
  }

  compile(like: THREE.WebGLRenderTarget): void {
    this.pass.compile(this.renderer, like);
  }

  // Into the part of the target that its scissor leaves.
  draw(target: THREE.WebGLRenderTarget, upsideDown: boolean): void {
    this.pass.set({ upsideDown, byDepth: this.byDepth });
    this.pass.draw(this.renderer, target);
  }
}
