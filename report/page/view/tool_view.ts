// The tool with shank, collet nut, spindle and what travels with it, as bodies of revolution; the tip at the origin.
import * as THREE from "three";
import type { PartWord, Tool } from "../data/report_data";

const looks: Record<PartWord, { colour: number; opacity: number }> = {
  cutter: { colour: 0xc9d1d6, opacity: 1 },
  shank: { colour: 0x99a2a9, opacity: 1 },
  nut: { colour: 0x3d444b, opacity: 0.92 },
  spindle: { colour: 0x5f6870, opacity: 0.3 },
  spindle_attachment: { colour: 0x56b4e9, opacity: 0.22 },
};

// The flutes as a dark helix on the cutter.
function fluted(material: THREE.MeshLambertMaterial, flutes: number, pitch: number): void {
  material.onBeforeCompile = (shader) => {
    shader.vertexShader = shader.vertexShader.replace(
      "void main() {",
      "varying vec3 vLocal;\nvoid main() {\nvLocal = position;",
    );
    shader.fragmentShader = shader.fragmentShader
      .replace("void main() {", "varying vec3 vLocal;\nvoid main() {")
      .replace(
        "#include <dithering_fragment>",
        `float around = atan(vLocal.z, vLocal.x) / 6.2831853 * ${flutes.toFixed(1)};
        float flute = fract(around + vLocal.y / ${pitch.toFixed(3)});
        float land = smoothstep(0.0, 0.12, flute) * smoothstep(0.55, 0.42, flute) + step(0.6, flute);
        gl_FragColor.rgb *= mix(0.42, 1.0, land);
        #include <dithering_fragment>`,
      );
  };
}

export function toolView(tool: Tool): THREE.Group {
  const group = new THREE.Group();
  for (const piece of tool.pieces) {
    const look = looks[piece.part];
    const first = piece.outline[0];
    const last = piece.outline.at(-1)!;
    const outline = [[0, first[1]], ...piece.outline, [0, last[1]]].map(
      ([r, z]) => new THREE.Vector2(Math.max(r, 0), z),
    );
    const material = new THREE.MeshLambertMaterial({
      color: look.colour,
      transparent: look.opacity < 1,
      opacity: look.opacity,
      depthWrite: look.opacity === 1,
      side: THREE.DoubleSide,
    });
    if (piece.part === "cutter") {
      fluted(material, Math.max(1, tool.flutes), Math.max(6, tool.diameter * 2.5) / Math.max(1, tool.flutes));
    }
    const mesh = new THREE.Mesh(new THREE.LatheGeometry(outline, 48), material);
    mesh.rotation.x = Math.PI / 2; // a lathe turns about y; the spindle stands along z
    mesh.renderOrder = look.opacity < 1 ? 4 : 1;
    group.add(mesh);
    if (piece.part === "nut" || piece.part === "spindle" || piece.part === "spindle_attachment") {
      const rim = new THREE.LineSegments(
        new THREE.EdgesGeometry(mesh.geometry, 40),
        new THREE.LineBasicMaterial({ color: 0x1c1f22, transparent: true, opacity: 0.5 }),
      );
      rim.rotation.copy(mesh.rotation);
      rim.renderOrder = 5;
      group.add(rim);
    }
  }
  return group;
}
