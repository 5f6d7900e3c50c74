// A finishing pass that takes 0.25 mm along a wall meets ten times that on arriving in a square inside corner: the page
// shows it.
import assert from "node:assert/strict";
import path from "node:path";
import { before, test } from "node:test";
import { folderWith, makePage, open, settled } from "./harness.mjs";

// A pocket of 40 x 40 roughed with a 6 mm bit, its corners cleared to 0.25 mm from the walls; then the pass along two
// of them. Sharp corners of what is left: the roughing bit is 0.5 mm across, so that the corner it leaves is square but
// for 0.25 mm.
const program = () => {
  const lines = ["G21 G90 G17 G94", "T2 M6", "S18000 M3", "G4 P5", "G0 X30 Y30 Z5"];
  lines.push("G1 Z-3 F1000");
  for (let y = 30; y <= 69.4; y += 0.4) {
    lines.push(`G1 Y${y.toFixed(3)}`, `G1 X${(Math.round((y - 30) / 0.4) % 2 ? 30 : 69.5).toFixed(3)}`);
  }
  lines.push("G1 Y69.5", "G1 X30", "G1 X69.5", "G1 Y30", "G0 Z5");
  lines.push("T1 M6", "S18000 M3", "G4 P5", "G0 X40 Y67 Z5", "G1 Z-3 F1000", "G1 X67", "G1 Y40", "G0 Z5", "M30");
  return `${lines.join("\n")}\n`;
};
const job = `version = 1
[stock]
size = [100, 100, 12]
[limits]
cell = 0.1
[[tool]]
number = 1
shape = "flat"
diameter = 6
[[tool]]
number = 2
shape = "flat"
diameter = 0.5
flute_length = 4
[[setup]]
[[setup.program]]
file = "a.nc"
`;

let page;
before(async () => {
  const folder = await folderWith({ "a.nc": program(), "job.toml": job });
  page = await open((await makePage(path.join(folder, "job.toml"))).file);
});

const line = program().split("\n").indexOf("G1 X67") + 1;

test("the readout of the move says what it meets on its way and in the corner", async () => {
  await page.evaluate((line) => window.provecut.watch.goToLine(line), line);
  await settled(page);
  const met = await page.evaluate(
    () =>
      [...document.querySelectorAll(".readout div")].find((d) => d.firstChild.textContent === "Width of cut").lastChild
        .textContent,
  );
  const [mean, most] = met.match(/[\d.]+/g).map(Number);
  // 0.25 on the straight: the roughing reaches 69.75, the pass 70. In the corner a_e + 2 sqrt(2 r a_e - a_e²) = 2.648
  // (geometry of two circles), a little less because the corner that it meets is round by 0.25 mm.
  assert.ok(mean >= 0.24 && mean <= 0.45, met);
  assert.ok(most >= 2.2 && most <= 2.75, met);
});

test("its colour by engagement is that of its maximum width, as a share of the bit's", async () => {
  const shown = await page.evaluate((line) => {
    const { stage } = window.provecut.watch;
    const { moves } = window.provecut.watch.loaded;
    const m = moves.line.indexOf(line);
    const piece = moves.firstPiece[m];
    return { share: stage.moves.uniforms.facts.value.image.data[4 * piece + 1], most: moves.widthMax[m] };
  }, line);
  assert.ok(Math.abs(shown.share - shown.most / 6) < 1e-3, JSON.stringify(shown));
});
