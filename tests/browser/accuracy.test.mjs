// The page cuts the stock a second time. What it comes to must be what provecut found.
import assert from "node:assert/strict";
import { test } from "node:test";
import path from "node:path";
import { folderWith, job, localCut, makePage, open, program, sample, settled } from "./harness.mjs";

// The page's heights at the end of program `index` against the height map that provecut handed on for the moment after
// it: cells that differ by more than 0.02 mm, and those of them whose height is not even found in the cells beside (on
// a steep wall a height differs where the wall stands some micrometres elsewhere; arcs are cut as chords).
const differing = (page, index) =>
  page.evaluate(async (index) => {
    const { player, report, store, watch } = window.provecut;
    player.seekIn(index, report.programs[index].time_s);
    await new Promise((done) => {
      const look = () => (watch.ready && watch.stage.atRest ? done() : requestAnimationFrame(look));
      look();
    });
    const { top } = watch.stage.cut.readTop();
    const { before } = await store.program(index);
    const after = await store.after(index);
    const { nx, ny } = before;
    let off = 0;
    let far = 0;
    let cut = 0;
    for (let j = 1; j < ny - 1; ++j) {
      for (let i = 1; i < nx - 1; ++i) {
        const c = j * nx + i;
        const mine = Math.max(top[c], before.floor[c]);
        if (after.top[c] < before.top[c] - 0.02) ++cut;
        if (Math.abs(mine - after.top[c]) <= 0.02) continue;
        ++off;
        const beside = [-1, 0, 1].flatMap((y) => [-1, 0, 1].map((x) => after.top[c + y * nx + x]));
        if (mine < Math.min(...beside) - 0.02 || mine > Math.max(...beside) + 0.02) ++far;
      }
    }
    return { off, far, cut };
  }, index);

// Under the axis of a pointed bit provecut gives the whole cell the tip's depth, so that no groove is missed; the page
// draws the height at the cell's centre. Such bits are held to one cell alone; so is the taper ball: on its flank of 10
// degrees 0.02 mm of height are 3.5 um sideways, finer than the page's moves are written.
const within = ({ off, far, cut }, pointed) => (pointed || off < 0.05 * cut + 10) && far < 0.002 * cut + 3;
const numerals = 3; // the sample's program of the vee

test("for every program of the sample the page's heights are provecut's", async () => {
  const page = await open((await makePage(sample, ["--cell", "0.4"])).file); // a raster that the page takes as it is
  const n = await page.evaluate(() => window.provecut.report.programs.length);
  assert.equal(n, 9);
  for (let i = 0; i < n; ++i) {
    const { off, far, cut } = await differing(page, i);
    assert.ok(cut > 100, `program ${i} cuts something`);
    assert.ok(
      within({ off, far, cut }, i === numerals),
      `program ${i}: ${off} of ${cut} cut cells differ, ${far} by more than a cell`,
    );
  }
  assert.deepEqual(page.faults, []);
  await page.close();
});

const shapes = {
  flat: `shape = "flat"\ndiameter = 8`,
  ball: `shape = "ball"\ndiameter = 8`,
  bull: `shape = "bull"\ndiameter = 8\ncorner_radius = 1.5`,
  vee: `shape = "vee"\ndiameter = 12\nangle = 60`,
  "taper-ball": `shape = "taper-ball"\ndiameter = 8\ntip_radius = 1\ntaper = 10`,
  drill: `shape = "drill"\ndiameter = 8\nangle = 118`,
};

const moves = [
  ...["G0 X15 Y15", "G1 Z-4 F600", "G1 X80 Y15", "G1 X80 Y40 Z-9", "G1 X20 Y50 Z-1"],
  ...["G2 X60 Y60 I20 J5 Z-5", "G0 Z5", "G0 X90 Y70", "G1 Z-7", "G0 Z5"],
];

test("every shape of tool, level, climbing, falling and straight down, is cut as provecut cuts it", async () => {
  for (const [name, shape] of Object.entries(shapes)) {
    const folder = await folderWith({
      "a.nc": program(moves),
      "job.toml": job({ name: "shapes", size: [100, 80, 12], cell: 0.25, tools: [shape] }),
    });
    const page = await open((await makePage(path.join(folder, "job.toml"))).file);
    const { off, far, cut } = await differing(page, 0);
    assert.ok(cut > 5000, `${name} cuts`);
    assert.ok(
      within({ off, far, cut }, name === "vee" || name === "taper-ball"),
      `${name}: ${off} of ${cut} cut cells differ, ${far} by more than a cell`,
    );
    await page.close();
  }
});

test("the pictures of the spots are cut as the view is", async () => {
  const page = await open((await makePage(sample)).file);
  await page.evaluate(() => window.provecut.player.seekIn(1, window.provecut.report.programs[1].time_s * 0.6));
  await settled(page);
  const { moves, before, top, place, tools, thickness } = await page.evaluate(async () => {
    const { watch, store, report } = window.provecut;
    const { moves, before } = await store.program(1);
    return {
      moves: {
        pieces: moves.pieces,
        points: Array.from(moves.points),
        drawn: Array.from(moves.drawn),
        moveOf: Array.from(moves.moveOf),
        tool: Array.from(moves.tool),
      },
      before: { ...before, overhangs: [], top: Array.from(before.top), floor: Array.from(before.floor) },
      top: Array.from(watch.stage.cut.readTop().top),
      place: watch.stage.place,
      tools: report.scene.tools,
      thickness: report.scene.stock.size[2],
    };
  });
  const { windowOf, cutWindow } = await localCut();
  const loaded = { before, moves: { ...moves, points: Float32Array.from(moves.points) } };
  const { cell, nx } = before;
  const centre = [0, 1].map((k) => Math.round(place.point[k] / cell[k]) * cell[k]);
  const w = windowOf(loaded, centre, 60 * cell[0], 45 * cell[0], cell[0]);
  cutWindow(w, loaded, tools, thickness, place);
  let off = 0;
  let cells = 0;
  let cut = 0;
  for (let j = 0; j < w.ny; ++j) {
    for (let i = 0; i < w.nx; ++i) {
      if (!w.inside[j * w.nx + i]) continue;
      const x = Math.floor((w.x0 + (i + 0.5) * w.step) / cell[0]);
      const y = Math.floor((w.y0 + (j + 0.5) * w.step) / cell[1]);
      ++cells;
      if (w.top[j * w.nx + i] < before.top[y * nx + x] - 0.02) ++cut;
      if (Math.abs(w.top[j * w.nx + i] - top[y * nx + x]) > 0.02) ++off;
    }
  }
  assert.ok(cells > 1000 && cut > 100, `${cut} of ${cells} cells are cut`);
  assert.ok(off < 0.02 * cells, `${off} of ${cells} cells differ`);
  await page.close();
});
