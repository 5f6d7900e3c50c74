// Findings that are gone with a likely cause lie folded under it.
import assert from "node:assert/strict";
import { readdir, readFile } from "node:fs/promises";
import path from "node:path";
import { before, test } from "node:test";
import { folderWith, makePage, open, sample, settled } from "./harness.mjs";

// The sample with the front's zero on the wrong face, and a screw in the tray whatever the zero is.
let page;
before(async () => {
  const folder = path.dirname(sample);
  const files = {};
  for (const name of await readdir(folder)) files[name] = await readFile(path.join(folder, name), "utf8");
  files["job.toml"] = files["job.toml"]
    .replace('zero = ["left", "front", "top"]', 'zero = ["left", "front", "bottom"]')
    .replace("at = [15, 20]", "at = [60, 60]");
  page = await open((await makePage(path.join(await folderWith(files), "job.toml"))).file);
});

const counted = (cause) =>
  page.evaluate((c) => window.provecut.report.findings.filter((f) => f.likely_cause === c).length, cause);

test("one cause is told without a number, with the line to write", async () => {
  const box = page.locator("section", { has: page.locator("#cause-title") });
  assert.equal(await page.locator("#cause-title").textContent(), "Likely cause");
  assert.match(await box.textContent(), /Is Z zero on the top of the stock in setup front\?/);
  assert.equal(await box.locator("> ol").count(), 0);
  assert.equal(await box.locator(".cause > pre").textContent(), 'zero = ["left", "front", "top"]');
});

test("each finding is told once: under the cause, or among the findings", async () => {
  const [under, beside] = [await counted(0), await counted(null)];
  assert.ok(under > 20 && beside > 0, `${under} under the cause, ${beside} beside it`);
  assert.equal(await page.locator(".under-cause .card").count(), under);
  assert.equal(await page.locator("#cards .card").count(), beside);
  assert.match(await page.locator("#cards").textContent(), /screw SW/);
});

test("they are folded until asked for, a line each, and each line opens as its card", async () => {
  const row = page.locator(".gone").first();
  assert.equal(await row.isVisible(), false);
  await page.locator(".under-cause > summary").click();
  assert.equal(await row.isVisible(), true);
  assert.equal(await row.locator(".card").isVisible(), false);
  await row.locator("> summary").click();
  assert.equal(await row.locator(".card").isVisible(), true);
});

test("what is chosen elsewhere on the page is unfolded", async () => {
  const last = await page.evaluate(() => {
    document.querySelectorAll(".under-cause, .gone").forEach((d) => (d.open = false));
    const index = window.provecut.report.findings.findLastIndex((f) => f.likely_cause === 0);
    window.provecut.watch.onSelect(index);
    return index;
  });
  await settled(page);
  assert.equal(await page.locator(`#finding-${last}`).isVisible(), true);
  assert.deepEqual(page.faults, []);
});
