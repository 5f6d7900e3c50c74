// Bits that are wider below than above: what the view, the section and the page's words make of what they leave
// hanging.
import assert from "node:assert/strict";
import path from "node:path";
import { test } from "node:test";
import { folderWith, job, makePage, open, program, settled } from "./harness.mjs";

// A groove of 60 mm along X at Y 30, the bit sunk at its start and lifted there again; stock 100 x 60 x 20.
async function grooved(profile, depth) {
  const radius = Math.max(...profile.map(([r]) => r));
  const folder = await folderWith({
    "a.nc": program(["G0 X20 Y30", `G1 Z-${depth} F600`, "G1 X80", "G1 X20", "G0 Z5"]),
    "b.nc": program(["G0 X90 Y10", "G1 Z-2 F600", "G0 Z5"], 2),
    "job.toml": job({
      name: "groove",
      size: [100, 60, 20],
      cell: 0.25,
      tools: [
        `shape = "form"\ndiameter = ${2 * radius}\nprofile = ${JSON.stringify(profile)}`,
        `shape = "flat"\ndiameter = 4`,
      ],
      programs: ["a.nc", "b.nc"],
      flutes: 18,
    }),
  });
  return open((await makePage(path.join(folder, "job.toml"))).file);
}

const atEnd = (page, program) =>
  page
    .evaluate((i) => window.provecut.player.seekIn(i, window.provecut.report.programs[i].time_s), program)
    .then(() => settled(page));

// What the section across X at 60 mm reads with its caliper at a Y.
async function readAt(page, y) {
  await page.evaluate((y) => {
    const choose = document.querySelector("input[name=section][value=X]");
    const [place, measure] = document.querySelectorAll(".section-panel input[type=range]");
    if (!choose.checked) choose.click();
    for (const [input, value] of [
      [place, 0.6],
      [measure, y / 60],
    ]) {
      input.value = value;
      input.dispatchEvent(new Event("input"));
    }
  }, y);
  await settled(page);
  await page.waitForTimeout(200);
  return page.evaluate(() => document.querySelector(".section-panel .reading").textContent);
}

const keyhole = [
  [5, 0],
  [5, 4],
  [2, 4],
  [2, 18],
]; // head 10 wide and 4 high on a neck of 4

test("a section shows the material over and under a keyhole's groove, before and after programs", async () => {
  const page = await grooved(keyhole, 10);
  for (const index of [0, 1]) {
    await atEnd(page, index);
    // The floor lies at Z -10, the roof at Z -6; under the neck nothing overhangs; beside the head all is whole.
    assert.match(
      await readAt(page, 33.6),
      /6\.00 mm thick from Z −6\.00 to Z 0\.00; below the undercut 10\.00 mm thick from Z −20\.00 to Z −10\.00/,
    );
    assert.match(await readAt(page, 30.6), /Y 30\.\d+: 10\.00 mm thick from Z −20\.00 to Z −10\.00/);
    assert.match(await readAt(page, 36.1), /: 20\.00 mm thick from Z −20\.00 to Z 0\.00/);
    assert.equal(
      await page.evaluate(() => document.querySelectorAll(".section-picture .section-wood").length),
      7,
      "whole, over and under, open, over and under, whole",
    );
  }
  await page.evaluate(() => window.provecut.player.seekIn(0, 0));
  await settled(page);
  assert.match(await readAt(page, 33.6), /20\.00 mm thick/);
  assert.deepEqual(page.faults, []);
  await page.close();
});

test("the view opens what the bit opens, no more, and says that hollows are drawn filled", async () => {
  const tan = Math.tan((14 * Math.PI) / 180);
  const dovetail = [
    [8, 0],
    [8 - 10 * tan, 10],
    [8 - 10 * tan, 18],
  ];
  for (const [profile, depth, widths] of [
    [keyhole, 10, { neck: 2 }],
    [dovetail, 8, { neck: 8 - 8 * tan }],
    [keyhole, 3, { neck: 5 }],
  ]) {
    const page = await grooved(profile, depth);
    await atEnd(page, 0);
    const seen = await page.evaluate(async () => {
      const { watch, store } = window.provecut;
      const { cut } = watch.stage;
      const { top } = cut.readTop();
      const after = await store.after(0);
      const { nx, ny, cell } = cut.faces;
      let off = 0;
      let open = 0;
      for (let c = 0; c < top.length; ++c) if (Math.abs(top[c] - after.top[c]) > 0.02) ++off;
      const column = Math.floor(60 / cell[0]);
      for (let j = 0; j < ny; ++j) if (top[j * nx + column] < 19) ++open;
      return {
        off,
        width: open * cell[1],
        cut: after.top.filter((z) => z < 19).length,
        text: document.querySelector(".filled-hollows")?.textContent,
      };
    });
    assert.ok(Math.abs(seen.width - 2 * widths.neck) <= 0.51, `open ${seen.width} mm wide, not ${2 * widths.neck}`);
    assert.ok(seen.cut > 1000 && seen.off < 0.06 * seen.cut, `${seen.off} of ${seen.cut} cells differ from provecut's`);
    if (depth > 3) assert.match(seen.text, /draws undercuts filled/);
    else assert.equal(seen.text, undefined);
    await page.close();
  }
});
