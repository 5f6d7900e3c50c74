// Parts as they come off: their marks on the timeline, their colour while they are loose, their rows.
import assert from "node:assert/strict";
import { before, test } from "node:test";
import path from "node:path";
import { folderWith, job, makePage, open, pixels, program, settled } from "./harness.mjs";

const tools = ['shape = "flat"\ndiameter = 6'];

// A square kerf right through stock of 10 mm, 25 mm wide inside; the last line closes it.
const kerf = (x, y) => {
  const [l, r, f, b] = [x - 15.5, x + 15.5, y - 15.5, y + 15.5];
  return [`G0 X${l} Y${f}`, "G1 Z-10.2 F600", `G1 X${r}`, `G1 Y${b}`, `G1 X${l}`, `G1 Y${f}`, "G0 Z5"];
};
// All that the kerf leaves.
const clear = (x, y) => {
  const lines = [];
  for (let at = x - 12; at <= x + 12; at += 4) {
    lines.push(`G0 X${at} Y${y - 14}`, "G1 Z-10.2 F600", `G1 Y${y + 14}`, "G0 Z5");
  }
  return lines;
};

// Two squares come loose, the first is milled away; then the stock is flipped with the second still in it.
let page;
before(async () => {
  const front = job({ name: "two squares", size: [120, 80, 10], cell: 0.25, tools });
  const folder = await folderWith({
    "job.toml": `${front}[[setup]]
name = "back"
flip = "left-right"
zero = ["left", "front", "top"]
[[setup.program]]
file = "b.nc"
`,
    "a.nc": program([...kerf(30, 40), ...kerf(85, 40), ...clear(30, 40)]),
    "b.nc": program(["G0 X60 Y10", "G1 Z-1 F600", "G1 X62", "G0 Z5"]),
  });
  page = await open((await makePage(path.join(folder, "job.toml"))).file);
  await page.evaluate(() => {
    const { watch } = window.provecut;
    Object.assign(watch.menu.layers, { moves: false, tool: false, findings: false });
    watch.stage.setLayers(watch.menu.layers);
  });
});

const pieces = () => page.evaluate(() => window.provecut.report.scene.pieces);

async function go(index, s) {
  await page.evaluate(([index, s]) => window.provecut.player.seekIn(index, s), [index, s]);
  await settled(page);
}

// How much of a square of 20 mm about a place of the stock's upper face is violet: more blue than green, which no wood
// is.
async function violet(x, y) {
  await page.evaluate(() => window.provecut.watch.stage.frameAll("above", true));
  await settled(page);
  const box = await page.evaluate(
    ([x, y]) => {
      const { stage, canvas } = window.provecut.watch;
      const [low, high] = [stage.project([x - 10, y - 10, 10]), stage.project([x + 10, y + 10, 10])];
      return { low, high, width: canvas.clientWidth, height: canvas.clientHeight };
    },
    [x, y],
  );
  const { width, height, bytes } = await pixels(page);
  const [kx, ky] = [width / box.width, height / box.height];
  let [all, those] = [0, 0];
  for (let row = Math.ceil(box.high.y * ky); row < box.low.y * ky; ++row) {
    for (let column = Math.ceil(box.low.x * kx); column < box.high.x * kx; ++column) {
      const at = 4 * ((height - 1 - row) * width + column);
      ++all;
      if (bytes[at + 2] > bytes[at + 1]) ++those;
    }
  }
  return those / all;
}

test("every parting has a mark on the timeline that says what becomes of the part", async () => {
  const marks = await page.locator(".parting").all();
  assert.equal(marks.length, 2);
  const [first, second] = await pieces();
  assert.match(first.line, /^a\.nc line 10: part 25 × 25 mm comes loose; the bit cuts into it on lines/);
  assert.match(first.line, /on lines \d+-\d+; milled away by line \d+$/);
  assert.match(second.line, /^a\.nc line 17: part 25 × 25 mm comes loose$/);
  for (const [i, { line, at: moments }] of [first, second].entries()) {
    const [at] = moments;
    assert.equal(await marks[i].getAttribute("aria-label"), line);
    assert.equal(await marks[i].getAttribute("title"), line);
    const share = await marks[i].evaluate((m) => Number.parseFloat(m.style.left) / 100);
    const total = await page.evaluate(() => window.provecut.player.total);
    assert.ok(Math.abs(share * total - at.s) < 0.01 * total, `${share} of ${total} s, parted at ${at.s} s`);
  }
});

test("a piece takes a colour of its own when the replay passes its move, and only it", async () => {
  const [first, second] = await pieces();
  await go(0, first.at[0].s - 0.1);
  assert.equal(await violet(30, 40), 0);
  await go(0, first.at[0].s);
  assert.ok((await violet(30, 40)) > 0.95);
  assert.equal(await violet(85, 40), 0);
  await go(0, second.at[0].s);
  assert.ok((await violet(85, 40)) > 0.95);
  assert.equal(await violet(56, 40), 0, "what is left of the stock between them");
});

test("it has no colour any more once it is milled away", async () => {
  const [first] = await pieces();
  await go(0, first.gone.s);
  assert.equal(await violet(30, 40), 0);
  assert.ok((await violet(85, 40)) > 0.95);
});

test("flipped, the loose part is coloured where it is now", async () => {
  await go(1, 0);
  assert.ok((await violet(120 - 85, 40)) > 0.95);
  assert.equal(await violet(85, 40), 0);
});

test("the rows of loose parts are marked, and the legend has their key", async () => {
  const [first, second] = await pieces();
  const marked = () => page.locator("#parts tbody tr").evaluateAll((rows) => rows.map((r) => r.matches(".loose")));
  const said = () => page.locator("#parts .loose-now:visible").count();
  await go(0, first.at[0].s - 0.1);
  assert.deepEqual(await marked(), [false, false]);
  assert.equal(await said(), 0);
  assert.equal(await page.locator(".key.loose").count(), 0);
  await go(0, second.at[0].s);
  assert.deepEqual(await marked(), [true, true]);
  assert.equal(await said(), 2);
  assert.equal(await page.locator(".key.loose").textContent(), "loose piece");
  assert.match(await page.locator(".view > canvas").getAttribute("aria-label"), /2 loose pieces$/);
  await go(0, first.gone.s);
  assert.deepEqual(await marked(), [false, true]);
});

test("marks are reached by keyboard: one stop, arrows between them, Enter shows the moment", async () => {
  const [first, second] = await pieces();
  const time = () => page.evaluate(() => window.provecut.player.time);
  await page.locator("#moment").focus();
  await page.keyboard.press("Home");
  await page.keyboard.press("Tab");
  const focused = () => page.evaluate(() => document.activeElement.getAttribute("aria-label"));
  assert.equal(await focused(), first.line);
  await page.keyboard.press("ArrowRight");
  assert.equal(await focused(), second.line);
  await page.keyboard.press("Enter");
  await settled(page);
  assert.ok(Math.abs((await time()) - second.at[0].s) < 1e-6);
  await page.keyboard.press("Tab");
  assert.notEqual(await focused(), first.line);
});

test("N and P go from parting to parting, and so does a part's row", async () => {
  const [first, second] = await pieces();
  const time = () => page.evaluate(() => window.provecut.player.time);
  await page.locator(".view > canvas").focus();
  await go(0, 0);
  for (const [key, part] of [
    ["N", first],
    ["N", second],
    ["N", second],
    ["P", first],
  ]) {
    await page.keyboard.press(key);
    await settled(page);
    assert.ok(Math.abs((await time()) - part.at[0].s) < 1e-6, key);
  }
  await page.locator("#parts tbody button", { hasText: "a.nc:17" }).click();
  await settled(page);
  assert.ok(Math.abs((await time()) - second.at[0].s) < 1e-6);
});

// Tabs of 8 x 3 mm in front and at the back; the second program cuts both.
test("a part on tabs has one row and two marks: left on them, and cut off them", async () => {
  const front = job({ name: "on tabs", size: [100, 80, 10], cell: 0.25, tools });
  const tabbed = [
    "G0 X38.5 Y18.5",
    "G1 Z-10.2 F600",
    "G1 X53",
    "G1 Z-7",
    "G1 X67",
    "G1 Z-10.2",
    "G1 X81.5",
    "G1 Y61.5",
  ];
  tabbed.push("G1 X67", "G1 Z-7", "G1 X53", "G1 Z-10.2", "G1 X38.5", "G1 Y18.5", "G0 Z5");
  const cut = (y) => [`G0 X53 Y${y}`, "G1 Z-10.2 F600", "G1 X67", "G0 Z5"];
  const folder = await folderWith({
    "job.toml": `${front}[[setup.program]]\nfile = "b.nc"\n`,
    "a.nc": program(tabbed),
    "b.nc": program([...cut(18.5), ...cut(61.5)]),
  });
  const other = await open((await makePage(path.join(folder, "job.toml"))).file);
  const [part, ...more] = await other.evaluate(() => window.provecut.report.scene.pieces);
  assert.deepEqual(more, []);
  assert.match(
    part.line,
    /^a\.nc line \d+: part 37 × 37 mm left on 2 tabs \(.*\); b\.nc line \d+ cuts its last tab: now loose/,
  );
  assert.deepEqual(
    part.at.map((at) => at.program),
    [0, 1],
  );
  assert.deepEqual(part.loose, part.at[1]);
  const cells = await other.locator("#parts tbody tr > *").allTextContents();
  assert.match(cells.at(-1), /^b\.nc line \d+ cuts its last tab: now loose$/);
  assert.match(cells.at(-2), /^2 tabs/);
  const marks = await other.locator(".parting").all();
  assert.equal(marks.length, 2);
  assert.equal(await other.locator('.parting[tabindex="0"]').count(), 1, "one stop for the Tab key");
  assert.equal(await marks[0].locator(".parting-icon.loose").count(), 0);
  assert.equal(await marks[1].locator(".parting-icon.loose").count(), 1);
  await marks[1].click();
  await other.waitForFunction((s) => Math.abs(window.provecut.player.timeInProgram - s) < 1e-6, part.at[1].s);
  assert.equal(await other.evaluate(() => window.provecut.player.program), 1);
  assert.deepEqual(other.faults, []);
});

test("no fault was met on the way", () => assert.deepEqual(page.faults, []));
