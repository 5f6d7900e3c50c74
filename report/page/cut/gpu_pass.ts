// A pass of the graphics processor over a raster: a shader, its inputs, a target.
import * as THREE from "three";

const camera = new THREE.Camera();

export const coverVertex = /* glsl */ `
precision highp float;
void main() { gl_Position = vec4(vec2(gl_VertexID == 1 ? 3.0 : -1.0, gl_VertexID == 2 ? 3.0 : -1.0), 0.0, 1.0); }
`;

export class Pass {
  readonly material: THREE.RawShaderMaterial;
  private readonly geometry = new THREE.BufferGeometry();
  private readonly scene = new THREE.Scene();

  // With vertices numbered from 0 and no other input; `vertex` makes positions of the numbers.
  constructor(
    vertex: string,
    fragment: string,
    uniforms: Record<string, unknown>,
    more: THREE.ShaderMaterialParameters = {},
  ) {
    this.material = new THREE.RawShaderMaterial({
      glslVersion: THREE.GLSL3,
      vertexShader: vertex,
      fragmentShader: fragment,
      depthTest: false,
      depthWrite: false,
      blending: THREE.NoBlending,
      side: THREE.DoubleSide,
      uniforms: Object.fromEntries(Object.entries(uniforms).map(([name, value]) => [name, { value }])),
      ...more,
    });
    const mesh = new THREE.Mesh(this.geometry, this.material);
    mesh.frustumCulled = false;
    this.scene.add(mesh);
  }

  // Lets the shader be compiled while other things are done.
  compile(renderer: THREE.WebGLRenderer, like: THREE.WebGLRenderTarget): void {
    renderer.setRenderTarget(like);
    renderer.compile(this.scene, camera);
    renderer.setRenderTarget(null);
  }

  set(values: Record<string, unknown>): void {
    for (const [name, value] of Object.entries(values)) this.material.uniforms[name].value = value;
  }

  draw(renderer: THREE.WebGLRenderer, target: THREE.WebGLRenderTarget, firstVertex = 0, vertices = 3): void {
    this.geometry.setDrawRange(firstVertex, vertices);
    renderer.setRenderTarget(target);
    renderer.render(this.scene, camera);
    renderer.setRenderTarget(null);
  }
}

// A texture of single heights, row by row.
export function heightTexture(heights: Float32Array, nx: number, ny: number): THREE.DataTexture {
  const texture = new THREE.DataTexture(heights, nx, ny, THREE.RedFormat, THREE.FloatType);
  texture.internalFormat = "R32F";
  texture.minFilter = texture.magFilter = THREE.NearestFilter;
  texture.needsUpdate = true;
  return texture;
}

// Four numbers to an entry, as many rows as it takes; `wide` entries to a row.
export function listTexture(entries: number, wide: number, fillIn: (data: Float32Array) => void): THREE.DataTexture {
  const rows = Math.max(1, Math.ceil(entries / wide));
  const data = new Float32Array(rows * wide * 4);
  fillIn(data);
  const texture = new THREE.DataTexture(data, wide, rows, THREE.RGBAFormat, THREE.FloatType);
  texture.minFilter = texture.magFilter = THREE.NearestFilter;
  texture.needsUpdate = true;
  return texture;
}
