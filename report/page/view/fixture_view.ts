// What holds the stock, and the spoilboard under it.
import * as THREE from "three";
import { okabeIto } from "../elements/palette";
import type { HoldDown, Scene, Setup } from "../data/report_data";

const kindColours: Record<HoldDown["kind"], number> = {
  screw: 0x8d9aa5,
  clamp: 0x4f5b66,
  pin: 0xb89a5a,
  tape: 0xd8d2c4,
  glue: 0xd8d2c4,
  vacuum: 0xb9c4cc,
  vise: 0x4f5b66,
  "side-clamp": 0x4f5b66,
  other: 0x6d7480,
};

function steel(colour: number): THREE.MeshLambertMaterial {
  return new THREE.MeshLambertMaterial({ color: colour });
}

// A hold-down that is hit is vermillion with dark bands: the bands are for those who do not see the colour.
function hitMaterial(): THREE.MeshLambertMaterial {
  const material = new THREE.MeshLambertMaterial({
    color: okabeIto.vermillion,
    emissive: okabeIto.vermillion,
    emissiveIntensity: 0.35,
  });
  material.onBeforeCompile = (shader) => {
    shader.vertexShader = shader.vertexShader.replace(
      "void main() {",
      "varying vec3 vPlace;\nvoid main() {\nvPlace = (modelMatrix * vec4(position, 1.0)).xyz;",
    );
    shader.fragmentShader = shader.fragmentShader
      .replace("void main() {", "varying vec3 vPlace;\nvoid main() {")
      .replace(
        "#include <dithering_fragment>",
        `if (fract((vPlace.x + vPlace.y + vPlace.z) / 5.0) < 0.28) gl_FragColor.rgb *= 0.45;
        #include <dithering_fragment>`,
      );
  };
  return material;
}

function cylinder(radius: number, low: number, high: number, material: THREE.Material, topRadius = radius): THREE.Mesh {
  const mesh = new THREE.Mesh(new THREE.CylinderGeometry(topRadius, radius, high - low, 40), material);
  mesh.rotation.x = Math.PI / 2;
  mesh.position.z = (low + high) / 2;
  return mesh;
}

function prism(outline: [number, number][], low: number, high: number, material: THREE.Material): THREE.Mesh {
  const shape = new THREE.Shape(outline.map(([x, y]) => new THREE.Vector2(x, y)));
  const mesh = new THREE.Mesh(new THREE.ExtrudeGeometry(shape, { depth: high - low, bevelEnabled: false }), material);
  mesh.position.z = low;
  return mesh;
}

export function holdDownView(hold: HoldDown, setup: Setup, hit: boolean): THREE.Group {
  const group = new THREE.Group();
  const material = hit ? hitMaterial() : steel(kindColours[hold.kind]);
  const face = setup.size[2];
  const board = -setup.lift;
  const top =
    hold.kind === "pin" && hold.depth_in_stock
      ? hold.depth_in_stock
      : ["tape", "glue", "vacuum"].includes(hold.kind)
        ? board + 0.2
        : face + hold.top;
  if (hold.at && hold.diameter) {
    const radius = hold.diameter / 2;
    const body = new THREE.Group();
    if (hold.kind === "screw") {
      body.add(cylinder(radius, face, Math.max(top, face + 0.2), material, radius * 0.86));
      body.add(
        cylinder(
          Math.min(radius * 0.9, (hold.shaft_diameter ?? hold.diameter * 0.5) / 2),
          board - 10,
          face,
          steel(0x767f87),
        ),
      );
      // The recess for the driver, so that it reads as a screw.
      for (const turn of [0, Math.PI / 2]) {
        const slot = new THREE.Mesh(new THREE.BoxGeometry(radius * 1.1, radius * 0.24, 0.1), steel(0x22272b));
        slot.position.z = top + 0.03;
        slot.rotation.z = turn + 0.5;
        body.add(slot);
      }
    } else {
      body.add(cylinder(radius, board - (hold.kind === "pin" ? 8 : 0), top, material));
    }
    body.position.set(hold.at[0], hold.at[1], 0);
    group.add(body);
  } else if (hold.outline) {
    group.add(prism(hold.outline, board, Math.max(top, board + 0.2), material));
  }
  for (const mesh of [...group.children]) {
    mesh.traverse((part) => {
      if (!(part instanceof THREE.Mesh) || part.geometry instanceof THREE.BoxGeometry) return;
      const edges = new THREE.LineSegments(
        new THREE.EdgesGeometry(part.geometry, 40),
        new THREE.LineBasicMaterial({ color: 0x1c1f22, transparent: true, opacity: 0.55 }),
      );
      edges.position.copy(part.position);
      edges.rotation.copy(part.rotation);
      part.parent!.add(edges);
    });
  }
  return group;
}

export function spoilboardView(scene: Scene, setup: Setup): THREE.Group {
  const margin = 0.12 * Math.max(setup.size[0], setup.size[1]) + 30;
  const [w, d] = setup.size;
  const thick = scene.spoilboard.thickness;
  const group = new THREE.Group();
  const board = new THREE.Mesh(
    new THREE.BoxGeometry(w + 2 * margin, d + 2 * margin, thick),
    new THREE.MeshBasicMaterial({
      color: 0xa59a86,
      polygonOffset: true,
      polygonOffsetFactor: 1,
      polygonOffsetUnits: 1,
    }),
  );
  board.position.set(w / 2, d / 2, -setup.lift - thick / 2 - 0.02);
  group.add(board);
  const lines: number[] = [];
  const z = -setup.lift + 0.02;
  const step = 50;
  for (let x = Math.ceil(-margin / step) * step; x <= w + margin; x += step) {
    lines.push(x, -margin, z, x, d + margin, z);
  }
  for (let y = Math.ceil(-margin / step) * step; y <= d + margin; y += step) {
    lines.push(-margin, y, z, w + margin, y, z);
  }
  const geometry = new THREE.BufferGeometry().setAttribute("position", new THREE.Float32BufferAttribute(lines, 3));
  group.add(
    new THREE.LineSegments(geometry, new THREE.LineBasicMaterial({ color: 0x857a67, transparent: true, opacity: 0.6 })),
  );
  // The stock's front left corner: x to the right, y to the back.
  const axis = (x: number, y: number, colour: string) => {
    const arrow = new THREE.ArrowHelper(
      new THREE.Vector3(x, y, 0),
      new THREE.Vector3(-margin * 0.45, -margin * 0.45, z),
      margin * 0.7,
      new THREE.Color(colour),
      margin * 0.18,
      margin * 0.1,
    );
    group.add(arrow);
  };
  axis(1, 0, okabeIto.vermillion);
  axis(0, 1, okabeIto.green);
  return group;
}
