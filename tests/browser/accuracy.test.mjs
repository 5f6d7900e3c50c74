// The page cuts the stock a second time. What it comes to must be what provecut found.
import assert from "node:assert/strict";
import { before, test } from "node:test";
import { folderWith, makePage, open, sample, settled } from "./harness.mjs";
import path from "node:path";

// The page's heights at the end of program `index` against the height map that provecut handed on for the moment after it: cells
// that differ by more than 0.02 mm, and those of them whose height is not even found in the cells beside (on a steep wall a
// height differs where the wall stands some micrometres elsewhere; arcs are cut as chords).
const differing = (page, index) => page.evaluate(async (index) => {
  const { player, report, store, watch } = window.provecut;
  player.seekIn(index, report.programs[index].time_s);
  await new Promise((done) => { const look = () => (watch.ready && watch.stage.atRest ? done() : requestAnimationFrame(look)); look(); });
  const { top } = watch.stage.cut.readTop(), { before } = await store.program(index), after = await store.after(index), { nx, ny } = before;
  let off = 0, far = 0, cut = 0;
  for (let j = 1; j < ny - 1; ++j)
    for (let i = 1; i < nx - 1; ++i) {
      const c = j * nx + i, mine = Math.max(top[c], before.floor[c]);
      if (after.top[c] < before.top[c] - 0.02) ++cut;
      if (Math.abs(mine - after.top[c]) <= 0.02) continue;
      ++off;
      const beside = [-1, 0, 1].flatMap((y) => [-1, 0, 1].map((x) => after.top[c + y * nx + x]));
      if (mine < Math.min(...beside) - 0.02 || mine > Math.max(...beside) + 0.02) ++far;
    }
  return { off, far, cut };
}, index);

// Under the axis of a pointed bit provecut gives the whole cell the tip's depth, so that no groove is missed; the page draws the
// height at the cell's centre. Such bits are held to one cell alone; so is the taper ball: on its
// flank of 10 degrees 0.02 mm of height are 3.5 um sideways, finer than the page's moves are written.
const within = ({ off, far, cut }, pointed) => (pointed || off < 0.05 * cut + 10) && far < 0.002 * cut + 3;
const numerals = 3;  // the sample's program of the vee

test("for every program of the sample the page's heights are provecut's", async () => {
  const page = await open((await makePage(sample, ["--cell", "0.4"])).file);  // a raster that the page takes as it is
  const n = await page.evaluate(() => window.provecut.report.programs.length);
  assert.equal(n, 9);
  for (let i = 0; i < n; ++i) {
    const { off, far, cut } = await differing(page, i);
    assert.ok(cut > 100, `program ${i} cuts something`);
    assert.ok(within({ off, far, cut }, i === numerals), `program ${i}: ${off} of ${cut} cut cells differ, ${far} by more than a cell`);
  }
  assert.deepEqual(page.faults, []);
  await page.close();
});

const shapes = {
  flat: `shape = "flat"\ndiameter = 8`, ball: `shape = "ball"\ndiameter = 8`, bull: `shape = "bull"\ndiameter = 8\ncorner_radius = 1.5`,
  vee: `shape = "vee"\ndiameter = 12\nangle = 60`, "taper-ball": `shape = "taper-ball"\ndiameter = 8\ntip_radius = 1\ntaper = 10`, drill: `shape = "drill"\ndiameter = 8\nangle = 118`,
};

test("every shape of tool, level, climbing, falling and straight down, is cut as provecut cuts it", async () => {
  for (const [name, shape] of Object.entries(shapes)) {
    const folder = await folderWith({
      "a.nc": "G21 G90 G17 T1 M6\nS18000 M3\nG4 P5\nG0 Z5\nG0 X15 Y15\nG1 Z-4 F600\nG1 X80 Y15\nG1 X80 Y40 Z-9\nG1 X20 Y50 Z-1\nG2 X60 Y60 I20 J5 Z-5\nG0 Z5\nG0 X90 Y70\nG1 Z-7\nG0 Z5\nM5\nM30\n",
      "job.toml": `version = 1\nname = "shapes"\nunits = "mm"\n[stock]\nsize = [100, 80, 12]\n[limits]\nvoxel = 0.25\n[[tool]]\nnumber = 1\nname = "bit"\n${shape}\nflute_length = 22\nstickout = 35\n[[setup]]\nname = "top"\nzero = ["left", "front", "top"]\n[[setup.program]]\nfile = "a.nc"\n`,
    });
    const page = await open((await makePage(path.join(folder, "job.toml"))).file);
    const { off, far, cut } = await differing(page, 0);
    assert.ok(cut > 5000, `${name} cuts`);
    assert.ok(within({ off, far, cut }, name === "vee" || name === "taper-ball"), `${name}: ${off} of ${cut} cut cells differ, ${far} by more than a cell`);
    await page.close();
  }
});

test("the pictures of the spots are cut as the view is", async () => {
  const page = await open((await makePage(sample)).file);
  await page.evaluate(() => window.provecut.player.seekIn(1, window.provecut.report.programs[1].time_s * 0.6));
  await settled(page);
  const worst = await page.evaluate(async () => {
    const { watch, store, cards } = window.provecut, { stage } = watch, program = await store.program(1), { top } = stage.cut.readTop(), { nx, cell } = stage.cut.faces;
    const [x, y] = stage.place.point, w = cards.windowAt(program, [Math.round(x / cell[0]) * cell[0], Math.round(y / cell[1]) * cell[1]], stage.place, cell[0]);
    let off = 0, cells = 0;
    for (let j = 0; j < w.ny; ++j)
      for (let i = 0; i < w.nx; ++i) {
        if (!w.inside[j * w.nx + i]) continue;
        const c = Math.floor((w.y0 + (j + 0.5) * w.step) / cell[1]) * nx + Math.floor((w.x0 + (i + 0.5) * w.step) / cell[0]);
        ++cells;
        if (Math.abs(w.top[j * w.nx + i] - top[c]) > 0.02) ++off;
      }
    return { off, cells };
  });
  assert.ok(worst.cells > 1000);
  assert.ok(worst.off < 0.02 * worst.cells, `${worst.off} of ${worst.cells} cells differ`);
  await page.close();
});
