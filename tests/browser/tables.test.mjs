// The tables and bars say what provecut's other outputs say.
import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import { before, test } from "node:test";
import { makePage, open, sample, trouble } from "./harness.mjs";

let page;
before(async () => {
  page = await open((await makePage(sample)).file);
});

// Seconds of the page's durations: "18 s", "3 min 5 s", "1 h 2 min".
const seconds = (text) =>
  [...text.matchAll(/(\d+) (h|min|s)/g)].reduce((sum, [, n, unit]) => sum + n * { h: 3600, min: 60, s: 1 }[unit], 0);

test("the bars tell cutting and air apart as the time command does", async () => {
  const { programs } = JSON.parse(
    execFileSync(process.env.PROVECUT, ["time", sample, "--format", "json"], { encoding: "utf8", maxBuffer: 1 << 28 }),
  );
  const bars = await page.evaluate(() =>
    [...document.querySelectorAll(".bars svg")].map((b) => b.getAttribute("aria-label")),
  );
  assert.equal(bars.length, programs.length);
  let in_air = 0;
  for (const [i, { time }] of programs.entries()) {
    const told = (kind) => seconds(bars[i].match(new RegExp(`[ ,]${kind} (\\d[^,]*)`))?.[1] ?? "");
    for (const [kind, s] of [
      ["cutting", time.cutting_s],
      ["cutting moves in air", time.air_s],
      ["rapids", time.rapid_s],
    ]) {
      assert.ok(Math.abs(told(kind) - s) <= 1, `${bars[i]}: ${kind} ${s}`);
    }
    if (time.air_s > 1) ++in_air;
  }
  assert.ok(in_air > 0, "some program feeds through air");
  assert.match(await page.locator(".time-legend").textContent(), /cutting moves in air/);
});

test("how the times were worked out is what the time command says", async () => {
  const { assumed } = JSON.parse(
    execFileSync(process.env.PROVECUT, ["time", sample, "--format", "json"], { encoding: "utf8", maxBuffer: 1 << 28 }),
  );
  const said = await page.locator("#time details li").allTextContents();
  for (const key of ["time", "low", "high"]) {
    // That air is told apart from cutting is said by the page's bars.
    for (const text of assumed[key].filter((t) => !t.includes("count as air"))) assert.ok(said.includes(text), text);
  }
  assert.ok(said.some((text) => text.includes("start over X0 Y0")));
});

test("lengths of the job file stand as they are given", async () => {
  const row = page.locator("#tools tbody tr", { hasText: "1/8 in" }).first();
  assert.match(await row.textContent(), /3\.175 mm/);
  assert.match(await page.locator(".job").textContent(), /480 × 130 × 19\.05 mm/);
});

test("what makes the time and the price too low is said beside both", async () => {
  const { not_checked } = JSON.parse(
    execFileSync("sh", ["-c", '"$PROVECUT" quote "$0" --format json || true', trouble], {
      encoding: "utf8",
      maxBuffer: 1 << 28,
    }),
  );
  assert.ok(not_checked.length > 0);
  const troubled = await open((await makePage(trouble)).file);
  const said = (chapter) => troubled.locator(`#${chapter} > .too-short`).allTextContents();
  assert.deepEqual(
    await said("time"),
    not_checked.map((why) => `${why}, so its time is too short.`),
  );
  assert.deepEqual(
    await said("quote"),
    not_checked.map((why) => `${why}, so the price is too low.`),
  );
  await troubled.close();
});

test("deepest cuts and parts have the rounding of the text report", async () => {
  const text = execFileSync(process.env.PROVECUT, ["check", sample], { encoding: "utf8" }).replace(/\s+/g, " ");
  const column = (table, name) =>
    page.evaluate(
      ([table, name]) => {
        const at = [...document.querySelectorAll(`${table} thead th`)].findIndex((t) => t.textContent === name);
        return [...document.querySelectorAll(`${table} tbody tr`)].map((row) => row.children[at].textContent);
      },
      [table, name],
    );
  const deepest = await column("#programs", "Deepest cut");
  assert.equal(deepest.length, 9);
  for (const depth of deepest) assert.ok(text.includes(` ${depth} `), depth);
  const sizes = await column("#parts", "Size");
  assert.ok(sizes.length > 0);
  for (const size of sizes) {
    const [, plan] = size.match(/^(.*) × [\d.]+ mm$/);
    assert.ok(text.includes(`: part ${plan} mm `) || text.includes(`: offcut ${plan} mm `), size);
  }
});

test("no fault was met on the way", () => assert.deepEqual(page.faults, []));
