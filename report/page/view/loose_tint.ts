// Loose pieces as a picture of the stock in plan, which its faces lay over their own colour. Hatched, for those who do
// not see the colour.
import * as THREE from "three";
import type { Point2 } from "../data/report_data";
import { loosePiece } from "../elements/palette";

const longSide = 2048; // pixels
const finest = 10; // pixels to a mm

export class LooseTint {
  readonly texture: THREE.CanvasTexture;
  private readonly canvas = document.createElement("canvas");

  constructor() {
    this.canvas.width = this.canvas.height = 1;
    this.texture = new THREE.CanvasTexture(this.canvas);
    this.texture.premultiplyAlpha = true;
    this.texture.generateMipmaps = false;
    this.texture.minFilter = THREE.LinearFilter;
  }

  // Pieces as rings in the setup frame, of stock as large as that.
  draw([width, depth]: [number, number], pieces: Point2[][][]): void {
    const scale = pieces.length > 0 ? Math.min(finest, longSide / Math.max(width, depth)) : 0;
    const size = [width, depth].map((mm) => Math.max(1, Math.round(mm * scale)));
    if (this.canvas.width !== size[0] || this.canvas.height !== size[1]) {
      [this.canvas.width, this.canvas.height] = size;
      this.texture.dispose();
    }
    const pen = this.canvas.getContext("2d")!;
    pen.resetTransform();
    pen.clearRect(0, 0, this.canvas.width, this.canvas.height);
    // The picture counts down from the back edge.
    pen.setTransform(scale, 0, 0, -scale, 0, depth * scale);
    const apart = Math.max(3.5, Math.max(width, depth) / 110);
    for (const rings of pieces) this.drawPiece(pen, rings, apart, [width, depth]);
    this.texture.needsUpdate = true;
  }

  private drawPiece(
    pen: CanvasRenderingContext2D,
    rings: Point2[][],
    apart: number,
    [width, depth]: [number, number],
  ): void {
    const shape = new Path2D();
    for (const ring of rings) {
      for (const [x, y] of ring) shape.lineTo(x, y);
      shape.closePath();
    }
    pen.save();
    pen.clip(shape, "evenodd");
    pen.fillStyle = loosePiece.fill;
    pen.fillRect(0, 0, width, depth);
    pen.strokeStyle = loosePiece.line;
    pen.lineWidth = apart / 5;
    pen.beginPath();
    for (let x = -depth; x < width; x += apart) {
      pen.moveTo(x, 0);
      pen.lineTo(x + depth, depth);
    }
    pen.stroke();
    pen.lineWidth = apart / 2;
    pen.stroke(shape);
    pen.restore();
  }
}
