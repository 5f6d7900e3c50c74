// Everything by keyboard alone.
import assert from "node:assert/strict";
import { before, test } from "node:test";
import { makePage, open, settled, trouble } from "./harness.mjs";

let page;
before(async () => {
  page = await open((await makePage(trouble)).file);
});

const time = () => page.evaluate(() => window.provecut.player.time);

async function tabTo(selector, most = 200) {
  for (let k = 0; k < most; ++k) {
    await page.keyboard.press("Tab");
    if (await page.evaluate((s) => document.activeElement?.matches(s), selector)) return;
  }
  assert.fail(`Tab does not reach ${selector}`);
}

test("the first stop is a link past the head to the findings", async () => {
  await page.keyboard.press("Tab");
  assert.equal(await page.evaluate(() => document.activeElement.textContent), "Skip to the findings");
});

test("a finding is opened with Tab and Enter", async () => {
  await tabTo(".card-open");
  await tabTo(".card-open");
  const before = await time();
  await page.keyboard.press("Enter");
  await page.waitForFunction((t) => window.provecut.player.time !== t, before);
});

test("the slider steps from move to move, and by larger strides", async () => {
  await page.locator("#moment").focus();
  const line = () => page.evaluate(() => document.querySelector(".code .now .line-number").textContent);
  await page.keyboard.press("Home");
  assert.equal(await time(), 0);
  await settled(page);
  await page.keyboard.press("ArrowRight");
  await page.keyboard.press("ArrowRight");
  await settled(page);
  const two = await time();
  const there = await line();
  await page.keyboard.press("ArrowRight");
  await settled(page);
  assert.ok((await time()) > two);
  await page.keyboard.press("ArrowLeft");
  await settled(page);
  assert.equal(await line(), there);
  await page.keyboard.press("End");
  assert.equal(await time(), await page.evaluate(() => window.provecut.player.total));
  assert.match((await page.locator("#moment").getAttribute("aria-valuetext")) ?? "", /\.nc|of/);
});

test("the view turns with the arrow keys when it has the focus", async () => {
  await page.locator(".view > canvas").focus();
  const camera = () => page.evaluate(() => window.provecut.watch.stage.camera.position.toArray());
  const before = await camera();
  await page.keyboard.press("ArrowLeft");
  assert.notDeepEqual(await camera(), before);
  await page.keyboard.press(" ");
  assert.equal(await page.evaluate(() => window.provecut.player.playing), true);
  await page.keyboard.press(" ");
  assert.equal(await page.evaluate(() => window.provecut.player.playing), false);
});

test("a layer is switched with Space, and what has the focus shows it", async () => {
  await page.locator(".layers > summary").focus();
  await page.keyboard.press("Enter");
  await page.keyboard.press("Tab");
  const before = await page.evaluate(() => window.provecut.watch.menu.layers.moves);
  assert.equal(await page.evaluate(() => document.activeElement.dataset.layer), "moves");
  await page.keyboard.press("Space");
  assert.equal(await page.evaluate(() => window.provecut.watch.menu.layers.moves), !before);
  assert.notEqual(await page.evaluate(() => getComputedStyle(document.activeElement).outlineStyle), "none");
});

test("a section is set and measured", async () => {
  await page.locator("input[name=section][value=none]").focus();
  await page.keyboard.press("ArrowRight");
  await page.keyboard.press("ArrowRight");
  await settled(page);
  assert.equal(await page.locator(".section-panel").isVisible(), true);
  await page.waitForFunction(() => /thick|no stock/.test(document.querySelector(".reading").textContent));
});

test("the keys are named on the buttons that do the same, and in a list below the replay", async () => {
  const title = (label) => page.locator(`.watch button[aria-label="${label}"]`).getAttribute("title");
  assert.equal(await title("Next finding"), "Next finding (N)");
  assert.equal(await title("Previous finding"), "Previous finding (P)");
  assert.equal(await title("Play"), "Play (Space)");
  assert.equal(await title("Show the whole stock"), "Show the whole stock (W)");
  assert.equal(await title("View from above"), "View from above (A)");
  await page.locator(".key-list > summary").focus();
  await page.keyboard.press("Enter");
  const named = await page.locator(".key-list kbd").allTextContents();
  for (const key of ["N", "P", "Space", ",", ".", "W", "A", "B", "+"]) assert.ok(named.includes(key), key);
  assert.equal(await page.locator(".key-list dt").first().isVisible(), true);
});

test("no fault was met on the way", () => assert.deepEqual(page.faults, []));
