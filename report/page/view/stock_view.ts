// The stock in the view: two faces, four sides and the faces of a section, all from the rasters of StockCut.
import * as THREE from "three";
import type { StockCut } from "../cut/stock_cut";
import { colourOf, figure } from "../cut/face_paint";
import { materialColours } from "../elements/palette";
import { FaceGrid } from "../cut/relief";
import { LooseTint } from "./loose_tint";
import type { Point2, Scene } from "../data/report_data";

const common = /* glsl */ `
precision highp float;
precision highp int;
uniform highp sampler2D upper, lower;
uniform vec2 upperRange;
uniform vec3 size;         // of the stock in the setup, mm
ivec2 within(ivec2 c) { return clamp(c, ivec2(0), textureSize(lower, 0) - 1); }
float topAt(ivec2 c) { return mix(upperRange.x, upperRange.y, texelFetch(upper, within(c), 0).r); }
float floorAt(ivec2 c) { return texelFetch(lower, within(c), 0).r; }
`;

// Loose pieces have a colour of their own.
const tinted = /* glsl */ `
uniform sampler2D loose;
vec3 tinted(vec3 wood, vec2 uv) {
  vec4 tint = texture(loose, uv);
  return wood * (1.0 - tint.a) + tint.rgb;
}
`;

const cutAway = /* glsl */ `
uniform int cutAxis;       // 0 none, 1 x, 2 y, 3 z
uniform float cutPlace;
bool cutAway(vec3 p) {
  return (cutAxis == 1 && p.x < cutPlace) || (cutAxis == 2 && p.y < cutPlace) || (cutAxis == 3 && p.z > cutPlace);
}
`;

// A grid over one face; each vertex stands over the middle of a cell, or on the line of a wall that is not a vertex
// away.
const faceVertex = /* glsl */ `
${common}
uniform mat4 projectionMatrix, viewMatrix;
uniform highp sampler2D toWall;
uniform ivec2 grid;
uniform bool underside;
out vec3 place;
out float low;
void main() {
  int row = gl_VertexID / (grid.x + 1);
  ivec2 at = ivec2(gl_VertexID - row * (grid.x + 1), row), cells = textureSize(lower, 0);
  vec2 uv = vec2(at) / vec2(grid), apart = vec2(cells) / vec2(grid);
  ivec2 c = min(at * cells / grid, cells - 1);
  low = floorAt(c);
  // The stock's outline stays where it is.
  if (all(greaterThan(at, ivec2(0))) && all(lessThan(at, grid))) {
    vec2 shift = (texelFetch(toWall, c, 0).xy * 255.0 - 128.0) / 63.0;
    if (length(shift) > length(apart)) shift = vec2(0.0);
    uv = (vec2(c) + 0.5 + shift) / vec2(cells);
  }
  // Where the tool went through, the wall ends beneath the lower face.
  place = vec3(uv * size.xy, underside ? low : max(topAt(c), low - 0.5));
  gl_Position = projectionMatrix * viewMatrix * vec4(place, 1.0);
}
`;

const faceFragment = /* glsl */ `
precision highp float;
precision highp int;
${cutAway}
${tinted}
uniform sampler2D paint, holes;
uniform vec3 size;
uniform bool underside;
in vec3 place;
in float low;
out vec4 colour;
void main() {
  vec2 uv = place.xy / size.xy;
  colour = texture(paint, uv);
  // In a hole the upper face lies beneath the lower one; its wall does not.
  if ((underside ? texture(holes, uv).a < 0.5 : place.z < low - 0.01) || cutAway(place)) discard;
  colour = vec4(tinted(colour.rgb, uv), 1.0);
}
`;

const sideVertex = /* glsl */ `
${common}
uniform mat4 projectionMatrix, viewMatrix;
in vec3 corner;    // place along the edge in plan, 0 to 1; whether the upper end
in vec3 outward;
out vec3 place;
out vec3 normal;
void main() {
  vec2 inside = corner.xy * vec2(textureSize(lower, 0)) - 0.5 * outward.xy - 0.01;
  ivec2 c = ivec2(clamp(inside, vec2(0.0), vec2(textureSize(lower, 0)) - 1.0));
  float low = floorAt(c);
  place = vec3(corner.xy * size.xy, corner.z > 0.5 ? max(topAt(c), low) : low);
  normal = outward;
  gl_Position = projectionMatrix * viewMatrix * vec4(place, 1.0);
}
`;

const sideFragment = /* glsl */ `
precision highp float;
precision highp int;
${cutAway}
${figure}
${tinted}
uniform vec3 faceColour, insideColour, size;
in vec3 place;
in vec3 normal;
out vec4 colour;
void main() {
  if (cutAway(place)) discard;
  vec3 wood = mix(faceColour, insideColour, 0.4) * (1.0 + figure(vec3(place.xy, place.z * 1.7)));
  wood = tinted(wood, (place.xy - 0.2 * normal.xy) / size.xy);
  colour = vec4(wood * (0.7 + 0.3 * dot(normal, vec3(-0.45, -0.35, 0.0))), 1.0);
}
`;

// The face of a section: a sheet through the whole stock, drawn where there is material.
const sectionVertex = /* glsl */ `
precision highp float;
uniform mat4 projectionMatrix, viewMatrix;
in vec3 position;
uniform vec3 from, across, up;
out vec3 place;
void main() {
  place = from + position.x * across + position.y * up;
  gl_Position = projectionMatrix * viewMatrix * vec4(place, 1.0);
}
`;

const sectionFragment = /* glsl */ `
${common}
uniform vec3 insideColour;
uniform int cutAxis;
in vec3 place;
out vec4 colour;
void main() {
  ivec2 c = ivec2(place.xy / size.xy * vec2(textureSize(lower, 0)));
  if (place.z > topAt(c) || place.z < floorAt(c)) discard;
  vec3 across = cutAxis == 1 ? place.yzx : cutAxis == 2 ? place.xzy : place;
  float hatch = abs(fract((across.x + across.y) / 2.4) - 0.5) * 2.0;
  float line = smoothstep(0.25 - fwidth(hatch), 0.25, hatch);
  colour = vec4(mix(insideColour * 0.45, insideColour * 0.92, line), 1.0);
}
`;

// Quads along the four edges.
function sidesGeometry(along: number, across: number): THREE.BufferGeometry {
  const corners: number[] = [];
  const outward: number[] = [];
  const index: number[] = [];
  const side = (steps: number, at: (t: number) => [number, number], normal: [number, number, number]) => {
    const first = corners.length / 3;
    for (let i = 0; i <= steps; ++i) {
      for (const end of [0, 1]) {
        corners.push(...at(i / steps), end);
        outward.push(...normal);
      }
    }
    for (let i = 0; i < steps; ++i) {
      const a = first + 2 * i;
      index.push(a, a + 1, a + 2, a + 1, a + 3, a + 2);
    }
  };
  side(along, (t) => [t, 0], [0, -1, 0]);
  side(along, (t) => [t, 1], [0, 1, 0]);
  side(across, (t) => [0, t], [-1, 0, 0]);
  side(across, (t) => [1, t], [1, 0, 0]);
  const geometry = new THREE.BufferGeometry();
  geometry.setAttribute("corner", new THREE.Float32BufferAttribute(corners, 3));
  geometry.setAttribute("outward", new THREE.Float32BufferAttribute(outward, 3));
  geometry.setIndex(index);
  return geometry;
}

export interface Section {
  axis: 0 | 1 | 2 | 3;
  place: number;
}

export class StockView {
  readonly group = new THREE.Group();
  private readonly shared: Record<string, { value: unknown }>;
  private readonly top: THREE.Mesh;
  private readonly bottom: THREE.Mesh;
  private readonly sides: THREE.Mesh;
  private readonly section: THREE.Mesh;
  private sidesMade = "";
  private readonly grids = new Map<string, FaceGrid>();
  private readonly tint = new LooseTint();

  constructor(
    private readonly cut: StockCut,
    scene: Scene,
  ) {
    const colours = materialColours[scene.stock.material] ?? materialColours.softwood;
    this.shared = {
      upper: { value: null },
      lower: { value: null },
      upperRange: { value: cut.depthRange },
      size: { value: new THREE.Vector3() },
      faceColour: { value: colourOf(colours.face) },
      insideColour: { value: colourOf(colours.inside) },
      grain: { value: colours.grain },
      grainAlongY: { value: false },
      noise: { value: cut.paint.noise },
      loose: { value: this.tint.texture },
      cutAxis: { value: 0 },
      cutPlace: { value: 0 },
    };
    const mesh = (
      vertexShader: string,
      fragmentShader: string,
      geometry: THREE.BufferGeometry,
      uniforms: Record<string, { value: unknown }>,
    ): THREE.Mesh => {
      const material = new THREE.RawShaderMaterial({
        glslVersion: THREE.GLSL3,
        vertexShader,
        fragmentShader,
        side: THREE.DoubleSide,
        uniforms: { ...this.shared, ...uniforms },
      });
      const made = new THREE.Mesh(geometry, material);
      made.frustumCulled = false;
      this.group.add(made);
      return made;
    };
    const face = (underside: boolean) => ({
      grid: { value: new THREE.Vector2() },
      underside: { value: underside },
      paint: { value: null },
      toWall: { value: null },
      holes: { value: null },
    });
    this.top = mesh(faceVertex, faceFragment, new THREE.BufferGeometry(), face(false));
    this.bottom = mesh(faceVertex, faceFragment, new THREE.BufferGeometry(), face(true));
    this.sides = mesh(sideVertex, sideFragment, new THREE.BufferGeometry(), {});
    const sheet = new THREE.PlaneGeometry(1, 1).translate(0.5, 0.5, 0);
    this.section = mesh(sectionVertex, sectionFragment, sheet, {
      from: { value: new THREE.Vector3() },
      across: { value: new THREE.Vector3() },
      up: { value: new THREE.Vector3() },
    });
    this.section.visible = false;
  }

  // After StockCut has loaded another program.
  load(size: [number, number, number], grainAlongY: boolean): void {
    const { cut, shared } = this;
    shared.upper.value = cut.target.depthTexture;
    shared.lower.value = cut.floor;
    (shared.size.value as THREE.Vector3).set(...size);
    shared.grainAlongY.value = grainAlongY;
    for (const [face, paint] of [
      [this.top, cut.topPaint],
      [this.bottom, cut.floorPaint],
    ] as const) {
      const u = (face.material as THREE.RawShaderMaterial).uniforms;
      [u.paint.value, u.toWall.value] = paint.textures;
      u.holes.value = cut.topPaint.texture;
    }
  }

  // Pieces as rings in the setup frame.
  setLoose(pieces: Point2[][][]): void {
    const { x, y } = this.shared.size.value as THREE.Vector3;
    this.tint.draw([x, y], pieces);
  }

  // Vertices of a face at most about; the raster itself sets the finest. After setEye.
  setDetail(vertices: number): void {
    const { nx, ny } = this.cut.faces;
    const step = Math.max(1, Math.sqrt((nx * ny) / vertices));
    const columns = Math.max(1, Math.round(nx / step));
    const rows = Math.max(1, Math.round(ny / step));
    for (const face of [this.top, this.bottom]) {
      const underside = face === this.bottom;
      const key = `${columns} ${rows} ${underside}`;
      let grid = this.grids.get(key);
      if (!grid) this.grids.set(key, (grid = new FaceGrid(columns, rows)));
      if (face.visible) grid.update(this.cut.relief, underside);
      face.geometry = grid.geometry;
      ((face.material as THREE.RawShaderMaterial).uniforms.grid.value as THREE.Vector2).set(columns, rows);
    }
    const key = `${columns} ${rows}`;
    if (key === this.sidesMade) return;
    this.sidesMade = key;
    this.sides.geometry.dispose();
    this.sides.geometry = sidesGeometry(columns, rows);
  }

  // The face that is turned away cannot be seen, except where a section or a hole opens the view.
  setEye(eye: THREE.Vector3): void {
    const opened = this.shared.cutAxis.value !== 0;
    this.bottom.visible = opened || eye.z < this.cut.thickness;
    this.top.visible = opened || eye.z > -1;
    if (this.bottom.visible) this.cut.paintFloor();
  }

  setSection({ axis, place }: Section): void {
    this.shared.cutAxis.value = axis;
    this.shared.cutPlace.value = place;
    this.section.visible = axis !== 0;
    if (axis === 0) return;
    const size = this.shared.size.value as THREE.Vector3;
    const u = (this.section.material as THREE.RawShaderMaterial).uniforms;
    const set = (name: string, x: number, y: number, z: number) => (u[name].value as THREE.Vector3).set(x, y, z);
    set("from", axis === 1 ? place : 0, axis === 2 ? place : 0, axis === 3 ? place : 0);
    set("across", axis === 1 ? 0 : size.x, axis === 1 ? size.y : 0, 0);
    set("up", 0, axis === 3 ? size.y : 0, axis === 3 ? 0 : size.z);
  }
}
