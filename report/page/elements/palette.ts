// Colours: the Okabe-Ito set for kinds, which people with any colour vision tell apart, and a scale of even steps in
// perceived lightness for amounts. A second cue (shape, dashes, hatching) stands beside every colour.
import * as THREE from "three";

export const okabeIto = {
  orange: "#e69f00",
  sky: "#56b4e9",
  green: "#009e73",
  yellow: "#f0e442",
  blue: "#0072b2",
  vermillion: "#d55e00",
  purple: "#cc79a7",
} as const;

// Of a piece that nothing holds, over the stock's own colour; page_parts.css has the same hue.
export const loosePiece = { fill: "rgb(112 62 190 / 50%)", line: "rgb(62 22 130 / 80%)" } as const;

// Björn Ottosson's OKLab, to sRGB.
function srgbOfOklch(lightness: number, chroma: number, hueDegrees: number): [number, number, number] {
  const a = chroma * Math.cos((hueDegrees * Math.PI) / 180);
  const b = chroma * Math.sin((hueDegrees * Math.PI) / 180);
  const l = (lightness + 0.3963377774 * a + 0.2158037573 * b) ** 3;
  const m = (lightness - 0.1055613458 * a - 0.0638541728 * b) ** 3;
  const s = (lightness - 0.0894841775 * a - 1.291485548 * b) ** 3;
  const linear = [
    4.0767416621 * l - 3.3077115913 * m + 0.2309699292 * s,
    -1.2684380046 * l + 2.6097574011 * m - 0.3413193965 * s,
    -0.0041960863 * l - 0.7034186147 * m + 1.707614701 * s,
  ];
  const gamma = (v: number): number => (v <= 0.0031308 ? 12.92 * v : 1.055 * v ** (1 / 2.4) - 0.055);
  return linear.map((v) => Math.round(255 * Math.min(1, Math.max(0, gamma(Math.min(1, Math.max(0, v))))))) as [
    number,
    number,
    number,
  ];
}

// 0: little, pale straw; 1: much, deep blue-violet. Lightness falls in even steps.
export function scaleColour(share: number): [number, number, number] {
  const t = Math.min(1, Math.max(0, share));
  return srgbOfOklch(0.93 - 0.63 * t, 0.07 + 0.09 * Math.sin(Math.PI * Math.min(1, t * 0.85 + 0.15)), 95 + 190 * t);
}

export const scaleCss = (share: number): string => `rgb(${scaleColour(share).join(" ")})`;

export function scaleTexture(): THREE.DataTexture {
  const data = new Uint8Array(256 * 4);
  for (let i = 0; i < 256; ++i) data.set([...scaleColour(i / 255), 255], 4 * i);
  const texture = new THREE.DataTexture(data, 256, 1);
  texture.minFilter = texture.magFilter = THREE.LinearFilter;
  texture.needsUpdate = true;
  return texture;
}

// A tile of even noise, always the same.
export function noiseTexture(): THREE.DataTexture {
  const data = new Uint8Array(256 * 256);
  let state = 12345;
  for (let i = 0; i < data.length; ++i) {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    data[i] = state >>> 24;
  }
  const texture = new THREE.DataTexture(data, 256, 256, THREE.RedFormat);
  texture.wrapS = texture.wrapT = THREE.RepeatWrapping;
  texture.minFilter = texture.magFilter = THREE.LinearFilter;
  texture.needsUpdate = true;
  return texture;
}

// The face of the stock and the wood inside, by material.
export const materialColours: Record<string, { face: number; inside: number; grain: number }> = {
  softwood: { face: 0xe3c594, inside: 0xeed7ac, grain: 1 },
  hardwood: { face: 0xd2aa79, inside: 0xe2c295, grain: 1 },
  plywood: { face: 0xd9bd8f, inside: 0xe6d0a6, grain: 0.8 },
  mdf: { face: 0xb8976b, inside: 0xc4a67c, grain: 0.15 },
  board: { face: 0xc2a578, inside: 0xcbb187, grain: 0.3 },
  acrylic: { face: 0xcfdbe0, inside: 0xdfe9ec, grain: 0 },
  polycarbonate: { face: 0xc9d6dc, inside: 0xdbe6ea, grain: 0 },
  hdpe: { face: 0xe8e9e6, inside: 0xf1f2ef, grain: 0 },
  "solid-surface": { face: 0xd8d4cc, inside: 0xe3dfd8, grain: 0.1 },
  aluminium: { face: 0xb9bfc4, inside: 0xd2d7da, grain: 0.1 },
  brass: { face: 0xcdb26a, inside: 0xdcc788, grain: 0.1 },
  foam: { face: 0xdfe3cf, inside: 0xebeee0, grain: 0 },
};
