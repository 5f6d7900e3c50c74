// The cut is replayed: the surface changes with the moment, and what is cut through can be seen through.
import assert from "node:assert/strict";
import { before, test } from "node:test";
import path from "node:path";
import { folderWith, job, makePage, open, pixels, program, sample, settled, share } from "./harness.mjs";

let page;
before(async () => {
  page = await open((await makePage(sample)).file);
});

const bare = () =>
  page.evaluate(() => {
    const { watch } = window.provecut;
    Object.assign(watch.menu.layers, { moves: false, tool: false, holdDowns: false });
    watch.stage.setLayers(watch.menu.layers);
  });

async function at(program, share) {
  await page.evaluate(
    ([program, share]) => {
      const { player, report } = window.provecut;
      player.seekIn(program, report.programs[program].time_s * share);
    },
    [program, share],
  );
  await settled(page);
}

test("the stock's surface differs between moments of a program", async () => {
  await bare();
  await at(1, 0);
  await page.evaluate(() => window.provecut.watch.stage.frameAll("front", true));
  await settled(page);
  const start = await pixels(page);
  await at(1, 0.5);
  const middle = await pixels(page);
  await at(1, 1);
  const end = await pixels(page);
  assert.ok(share(start, middle) > 0.002, `start and middle differ in ${share(start, middle)}`);
  assert.ok(share(middle, end) > 0.002, `middle and end differ in ${share(middle, end)}`);
});

test("going back restores the surface to the pixel", async () => {
  await bare();
  await at(1, 0.3);
  const first = await pixels(page);
  await at(1, 0.9);
  await at(1, 0.3);
  assert.equal(share(first, await pixels(page), 3), 0);
});

test("the hole of a through-cut shows the spoilboard beneath", async () => {
  await bare();
  const last = await page.evaluate(() => window.provecut.report.programs.length - 1);
  await at(last, 1);
  await page.evaluate(() => window.provecut.watch.stage.frameAll("above", true));
  await settled(page);
  // A place where the raster says that nothing is left, well inside a hole, and one on the stock's face.
  const places = await page.evaluate(() => {
    const { stage } = window.provecut.watch;
    const { top } = stage.cut.readTop();
    const { nx, ny, cell, floor } = stage.cut.faces;
    const open = (i, j) => top[j * nx + i] <= floor[j * nx + i] + 1e-3;
    let hole;
    for (let j = 8; j < ny - 8 && !hole; ++j) {
      for (let i = 8; i < nx - 8 && !hole; ++i) {
        let all = true;
        for (let d = -6; d <= 6 && all; ++d) all = open(i + d, j) && open(i, j + d);
        if (all) hole = [(i + 0.5) * cell[0], (j + 0.5) * cell[1], 0];
      }
    }
    return { hole: hole && stage.project(hole), face: stage.project([cell[0] * 4, cell[1] * 4, stage.size[2]]) };
  });
  assert.ok(places.hole, "the outline leaves a hole");
  const withBoard = await pixels(page);
  await page.evaluate(() => {
    const { watch } = window.provecut;
    watch.menu.layers.spoilboard = false;
    watch.stage.setLayers(watch.menu.layers);
  });
  await settled(page);
  const without = await pixels(page);
  const colour = (p, { x, y }) => {
    const at = 4 * ((p.height - 1 - Math.round(y)) * p.width + Math.round(x));
    return p.bytes.slice(at, at + 4);
  };
  assert.notDeepEqual(
    colour(withBoard, places.hole),
    colour(without, places.hole),
    "with the spoilboard gone the hole shows what is behind",
  );
  assert.equal(colour(without, places.hole)[3], 0, "nothing at all is drawn in the hole");
  assert.deepEqual(
    colour(withBoard, places.face),
    colour(without, places.face),
    "the stock's face hides the spoilboard",
  );
});

test("the wall of a round hole is drawn whole, and its shade changes little by little", async () => {
  const folder = await folderWith({
    "a.nc": program(["G0 X48 Y30", "G1 Z-12.5 F600", "G2 I-18 J0", "G0 Z5"]),
    "job.toml": job({
      name: "ring",
      size: [60, 60, 12],
      cell: 0.2,
      tools: [`shape = "flat"\ndiameter = 8`],
      material: "mdf",
    }),
  });
  const page = await open((await makePage(path.join(folder, "job.toml"))).file);
  await page.evaluate(() => {
    const { player, watch } = window.provecut;
    player.seek(player.total);
    Object.assign(watch.menu.layers, { moves: false, tool: false });
    watch.stage.setLayers(watch.menu.layers);
    watch.stage.frameAll("front", true);
  });
  await settled(page);
  const places = await page.evaluate(() => {
    const { stage } = window.provecut.watch;
    // Along the far outer wall and the near inner one, that the ring's slot leaves in sight.
    return [
      [22, 20, 160],
      [14, 220, 320],
    ].map(([radius, from, to]) =>
      Array.from({ length: 2 * (to - from) }, (_, k) => {
        const a = ((from + k / 2) * Math.PI) / 180;
        return stage.project([30 + radius * Math.cos(a), 30 + radius * Math.sin(a), 10.5]);
      }),
    );
  });
  const p = await pixels(page);
  for (const line of places) {
    const light = line.map(({ x, y }) => {
      const at = 4 * ((p.height - 1 - Math.round(y)) * p.width + Math.round(x));
      return p.bytes[at + 3] === 0 ? NaN : (p.bytes[at] + p.bytes[at + 1] + p.bytes[at + 2]) / 3;
    });
    const leaps = light.slice(1).map((v, k) => Math.abs(v - light[k]));
    assert.ok(
      leaps.every((d) => d < 12),
      `from ${Math.min(...light)} to ${Math.max(...light)}, by ${Math.max(...leaps)} at once`,
    );
  }
  assert.deepEqual(page.faults, []);
  await page.close();
});

test("playing moves time on by the rate chosen", async () => {
  const went = await page.evaluate(async () => {
    const { player } = window.provecut;
    player.seek(0);
    player.setRate(10);
    player.play(true);
    const began = performance.now();
    await new Promise((done) => setTimeout(done, 1500));
    player.play(false);
    return { time: player.time, seconds: (performance.now() - began) / 1000 };
  });
  assert.ok(went.time > 2 && went.time <= went.seconds * 10 + 1.5, `${went.time} s of the job in ${went.seconds} s`);
});

test("no fault was met on the way", () => assert.deepEqual(page.faults, []));
