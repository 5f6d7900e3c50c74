// The three-dimensional view: the machine's bed with stock, hold-downs, moves and tool at one moment of the job.
import * as THREE from "three";
import { OrbitControls } from "three/addons/controls/OrbitControls.js";
import { StockCut } from "../cut/stock_cut";
import { StockView, type Section } from "./stock_view";
import { holdDownView, spoilboardView } from "./fixture_view";
import { type ColourBy, MoveView } from "./move_view";
import { type LoadedProgram, type Place, placeAt } from "../data/moves";
import { looseAt, outlineIn } from "../data/pieces";
import { pickMove, pickSurface } from "./pick";
import type { Report } from "../data/report_data";
import { toolView } from "./tool_view";

export interface Layers {
  moves: boolean;
  rapids: boolean;
  toCome: boolean;
  holdDowns: boolean;
  spoilboard: boolean;
  tool: boolean;
  findings: boolean;
  depth: boolean;
}

// Vertices of a face while something moves, and at rest.
const coarse = 24_000;
const fine = 1_200_000;
const fineInSoftware = 600_000;

function drawnInSoftware(): boolean {
  const gl = document.createElement("canvas").getContext("webgl2");
  const info = gl?.getExtension("WEBGL_debug_renderer_info");
  const name = gl && info ? String(gl.getParameter(info.UNMASKED_RENDERER_WEBGL)) : "";
  gl?.getExtension("WEBGL_lose_context")?.loseContext();
  return /swiftshader|llvmpipe|software/i.test(name);
}

export class Stage {
  readonly renderer: THREE.WebGLRenderer;
  readonly camera = new THREE.PerspectiveCamera(32, 1, 1, 20000);
  readonly cut: StockCut;
  readonly stock: StockView;
  readonly moves = new MoveView();
  place: Place = { move: 0, piece: 0, point: [0, 0, 0] };
  busy = false; // the cut has not caught up with the moment yet
  onFrame: () => void = () => {};
  onStill: () => void = () => {};
  private tellFirstStill: () => void = () => {};
  readonly firstStill = new Promise<void>((done) => {
    this.tellFirstStill = done;
  });
  private readonly scene = new THREE.Scene();
  private readonly controls: OrbitControls;
  private readonly fine: number;
  private fitted = "";
  private fixtures = new THREE.Group();
  private board = new THREE.Group();
  private tools = new Map<number, THREE.Group>();
  private loaded?: LoadedProgram;
  private shownProgram = -1;
  private time = 0;
  private loose = ""; // pieces that the stock is coloured for
  private wanted = false;
  private stillSince = 0;
  private refined = false;
  private flight?: {
    from: THREE.Vector3;
    to: THREE.Vector3;
    fromTarget: THREE.Vector3;
    toTarget: THREE.Vector3;
    began: number;
  };
  private layers: Layers = {
    moves: true,
    rapids: true,
    toCome: false,
    holdDowns: true,
    spoilboard: true,
    tool: true,
    findings: true,
    depth: false,
  };

  constructor(
    private readonly canvas: HTMLCanvasElement,
    private readonly report: Report,
  ) {
    const { scene } = report;
    // Without a graphics processor smooth edges and the last vertices cost more than they give.
    const inSoftware = drawnInSoftware();
    this.fine = inSoftware ? fineInSoftware : fine;
    this.renderer = new THREE.WebGLRenderer({
      canvas,
      antialias: !inSoftware,
      alpha: true,
      preserveDrawingBuffer: true,
      powerPreference: "high-performance",
    });
    this.renderer.autoClear = false;
    // To ask whether a shader compiled waits for it; a browser complains of a bad one anyway.
    this.renderer.debug.checkShaderErrors = false;
    this.camera.up.set(0, 0, 1);
    this.cut = new StockCut(this.renderer, scene);
    this.stock = new StockView(this.cut, scene);
    this.scene.add(this.stock.group, this.moves.mesh, this.fixtures, this.board);
    this.scene.add(new THREE.HemisphereLight(0xffffff, 0x8a8378, 2.0));
    const key = new THREE.DirectionalLight(0xffffff, 1.6);
    key.position.set(-0.45, -0.35, 0.82);
    this.scene.add(key);
    this.renderer.compile(this.scene, this.camera);
    this.controls = new OrbitControls(this.camera, canvas);
    this.controls.zoomToCursor = true;
    this.controls.addEventListener("change", () => this.touch());
    this.controls.addEventListener("start", () => {
      this.flight = undefined;
    });
    new ResizeObserver(() => this.resize()).observe(canvas.parentElement!);
    this.resize();
  }

  // Nothing moves and the fine picture is there.
  get atRest(): boolean {
    return this.loaded !== undefined && this.refined && !this.busy && !this.flight;
  }

  get size(): [number, number, number] {
    return this.report.scene.setups[this.report.scene.programs[Math.max(0, this.shownProgram)].setup].size;
  }

  show(index: number, program: LoadedProgram): void {
    const { scene } = this.report;
    const entry = scene.programs[index];
    const setup = scene.setups[entry.setup];
    this.loaded = program;
    this.shownProgram = index;
    const { grain } = scene.stock;
    const alongY = grain !== "none" && (grain === "y") !== (setup.rotate % 180 !== 0);
    this.cut.load(program, alongY);
    this.stock.load(setup.size, alongY);
    this.loose = "";
    this.stock.setLoose([]);
    this.moves.load(
      program.moves,
      this.cut.points,
      setup.size[2],
      new Map(this.report.scene.tools.map((t) => [t.number, t.diameter])),
    );
    this.scene.remove(this.fixtures, this.board);
    this.fixtures = new THREE.Group();
    for (const i of entry.hold_downs) {
      this.fixtures.add(holdDownView(scene.hold_downs[i], setup, entry.hit.includes(i)));
    }
    this.board = spoilboardView(scene, setup);
    this.scene.add(this.fixtures, this.board);
    this.setLayers(this.layers);
  }

  setTime(time: number): void {
    this.time = time;
    if (!this.loaded) return;
    this.place = placeAt(this.loaded.moves, time);
    this.moves.setTime(time, this.place);
    this.colourLoose();
    const tool = this.toolOf(this.loaded.moves.tool[this.place.move]);
    for (const view of this.tools.values()) view.visible = this.layers.tool && view === tool;
    tool?.position.set(...this.place.point);
    this.busy = true;
    this.touch();
  }

  private colourLoose(): void {
    const { scene } = this.report;
    const loose = looseAt(scene, this.shownProgram, this.time);
    if (loose.join() === this.loose) return;
    this.loose = loose.join();
    const setup = scene.setups[scene.programs[this.shownProgram].setup];
    this.stock.setLoose(loose.map((i) => outlineIn(setup, scene.pieces[i])));
  }

  // Made when it is first at work.
  private toolOf(number: number): THREE.Group | undefined {
    const tool = this.report.scene.tools.find((t) => t.number === number);
    let view = this.tools.get(number);
    if (!tool || view) return view;
    view = toolView(tool);
    this.tools.set(number, view);
    this.scene.add(view);
    return view;
  }

  setLayers(layers: Layers): void {
    this.layers = { ...layers };
    this.moves.setShown(layers.moves && layers.rapids, layers.moves, layers.toCome);
    this.fixtures.visible = layers.holdDowns;
    this.board.visible = layers.spoilboard;
    this.cut.setByDepth(layers.depth);
    this.setTime(this.time);
  }

  setColourBy(by: ColourBy): void {
    this.moves.setColourBy(by);
    this.touch();
  }

  setSection(section: Section): void {
    this.stock.setSection(section);
    this.touch();
  }

  // The whole stock: from the front and above, straight from above, or its other face.
  frameAll(from: "front" | "above" | "beneath" = "front", atOnce = false): void {
    const [w, d, t] = this.size;
    const target = new THREE.Vector3(w / 2, d / 2, t / 2);
    const direction =
      from === "above"
        ? new THREE.Vector3(0, -0.001, 1)
        : new THREE.Vector3(-0.12, -0.78, from === "beneath" ? -0.95 : 0.95);
    this.flyTo(target, direction.normalize(), this.distanceFor(w, d + t), atOnce);
  }

  // The same view of another point.
  lookAt(point: [number, number, number]): void {
    const target = new THREE.Vector3(...point);
    const by = target.clone().sub(this.controls.target);
    this.camera.position.add(by);
    this.controls.target.copy(target);
    this.controls.update();
    this.touch();
  }

  // The piece of a move that is drawn under a point of the canvas, else the piece that cut the surface there.
  pick(x: number, y: number): number | undefined {
    if (!this.loaded) return undefined;
    const spot = { x, y, width: this.canvas.clientWidth, height: this.canvas.clientHeight, camera: this.camera };
    const shown = { now: this.time, rapids: this.layers.rapids, toCome: this.layers.toCome };
    return (
      (this.layers.moves ? pickMove(this.loaded.moves, spot, shown) : undefined) ??
      pickSurface(this.cut, spot, this.size[2])
    );
  }

  frameSpot(point: [number, number, number], across: number, atOnce = false): void {
    const direction = new THREE.Vector3(-0.35, -0.8, 0.62).normalize();
    this.flyTo(new THREE.Vector3(...point), direction, this.distanceFor(across, across), atOnce);
  }

  // Keyboard: turn by angles, move nearer by a factor.
  orbit(turn: number, tilt: number, nearer = 1): void {
    const offset = this.camera.position.clone().sub(this.controls.target);
    const s = new THREE.Spherical().setFromVector3(new THREE.Vector3(offset.x, offset.z, -offset.y));
    s.theta += turn;
    s.phi = Math.min(Math.PI - 0.02, Math.max(0.02, s.phi + tilt));
    s.radius /= nearer;
    const v = new THREE.Vector3().setFromSpherical(s);
    this.camera.position.copy(this.controls.target).add(new THREE.Vector3(v.x, -v.z, v.y));
    this.controls.update();
    this.touch();
  }

  // Where a point comes to lie in the canvas, CSS pixels; undefined behind the camera.
  project(point: [number, number, number]): { x: number; y: number } | undefined {
    const v = new THREE.Vector3(...point).project(this.camera);
    if (v.z > 1) return undefined;
    return { x: ((v.x + 1) / 2) * this.canvas.clientWidth, y: ((1 - v.y) / 2) * this.canvas.clientHeight };
  }

  touch(): void {
    this.stillSince = performance.now();
    this.refined = false;
    this.request();
  }

  request(): void {
    if (this.wanted) return;
    this.wanted = true;
    requestAnimationFrame(() => {
      this.wanted = false;
      this.frame();
    });
  }

  private distanceFor(across: number, deep: number): number {
    const half = Math.tan(THREE.MathUtils.degToRad(this.camera.fov) / 2);
    return Math.max(across / 2 / (half * this.camera.aspect), deep / 2 / half) * 1.12 + deep * 0.2;
  }

  private flyTo(target: THREE.Vector3, direction: THREE.Vector3, distance: number, atOnce: boolean): void {
    const to = target.clone().addScaledVector(direction, distance);
    if (atOnce || matchMedia("(prefers-reduced-motion: reduce)").matches) {
      this.camera.position.copy(to);
      this.controls.target.copy(target);
      this.controls.update();
      this.flight = undefined;
    } else {
      this.flight = {
        from: this.camera.position.clone(),
        to,
        fromTarget: this.controls.target.clone(),
        toTarget: target,
        began: performance.now(),
      };
    }
    this.touch();
    if (atOnce) this.stillSince = -Infinity;
  }

  private resize(): void {
    const box = this.canvas.parentElement!;
    const ratio = Math.min(2, devicePixelRatio || 1);
    const width = Math.max(1, box.clientWidth);
    const height = Math.max(1, box.clientHeight);
    const key = `${width} ${height} ${ratio}`;
    if (key === this.fitted) return;
    this.fitted = key;
    this.renderer.setPixelRatio(ratio);
    this.renderer.setSize(width, height, false);
    this.camera.aspect = width / height;
    this.camera.updateProjectionMatrix();
    this.moves.setScreen(width * ratio, height * ratio, ratio);
    this.touch();
  }

  // Draws now, whole and fine: for pictures and for paper.
  drawFine(): void {
    if (!this.loaded) return;
    while (!this.cut.cutTo(this.place)) continue;
    this.busy = false;
    this.moves.drawAround();
    this.draw(this.fine);
    this.refined = true;
  }

  private draw(vertices: number): void {
    this.stock.setEye(this.camera.position);
    this.stock.setDetail(vertices);
    this.board.visible = this.layers.spoilboard && this.camera.position.z > 0;
    const distance = this.camera.position.distanceTo(this.controls.target);
    this.camera.near = Math.max(0.5, distance / 50);
    this.camera.far = distance * 20 + 2000;
    this.camera.updateProjectionMatrix();
    this.renderer.clear();
    this.renderer.render(this.scene, this.camera);
  }

  frame(): void {
    if (!this.loaded) return;
    const began = performance.now();
    if (this.flight) {
      const t = Math.min(1, (began - this.flight.began) / 600);
      const k = t * t * (3 - 2 * t);
      this.controls.target.lerpVectors(this.flight.fromTarget, this.flight.toTarget, k);
      this.camera.position.lerpVectors(this.flight.from, this.flight.to, k);
      if (t >= 1) this.flight = undefined;
      this.controls.update();
      this.stillSince = began;
    }
    if (this.loaded && this.busy) this.busy = !this.cut.cutTo(this.place);
    const still = !this.busy && !this.flight && began - this.stillSince > 180;
    if (still && !this.refined) {
      this.drawFine();
      this.onStill();
      this.tellFirstStill();
    } else if (!still) {
      this.moves.drawAround(this.place.piece);
      this.draw(coarse);
    }
    this.onFrame();
    if (this.busy || this.flight || !this.refined) this.request();
  }
}
