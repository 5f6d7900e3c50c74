// The findings lead to their moment and place.
import assert from "node:assert/strict";
import { before, test } from "node:test";
import { makePage, open, pictured, pixels, settled, share, trouble } from "./harness.mjs";

let page;
before(async () => {
  page = await open((await makePage(trouble)).file);
});

const state = () =>
  page.evaluate(() => {
    const { player, watch } = window.provecut;
    const { stage } = watch;
    return {
      time: player.time,
      program: player.program,
      slider: Number(document.getElementById("moment").value),
      camera: stage.camera.position.toArray(),
      line: Number(document.querySelector(".code .now .line-number").textContent),
    };
  });

test("the page opens on the hold-down that is hit, with its mark in sight", async () => {
  const mark = page.locator(".mark.chosen");
  assert.match(await mark.textContent(), /screw SW|clamp S/);
  const box = await mark.boundingBox();
  const view = await page.locator(".view").boundingBox();
  assert.ok(box.x > view.x && box.x < view.x + view.width && box.y > view.y && box.y < view.y + view.height);
  // Vermillion is on the screen: the hold-down that is met.
  const p = await pixels(page);
  let red = 0;
  for (let i = 0; i < p.bytes.length; i += 4) {
    if (p.bytes[i] > 150 && p.bytes[i + 1] < p.bytes[i] * 0.62 && p.bytes[i + 2] < p.bytes[i] * 0.4) ++red;
  }
  assert.ok(red > 150, `${red} vermillion pixels`);
});

test("a click on a finding moves slider, program and view to it", async () => {
  const before = await state();
  const picture = await pixels(page);
  const other = page.locator(".card", { hasText: "20-tray.nc:169" }).first();
  await other.locator(".card-open").click();
  await page.waitForFunction(() => window.provecut.player.program === 1);
  await settled(page);
  const after = await state();
  assert.notEqual(after.time, before.time);
  assert.ok(Math.abs(after.slider - after.time) < 1e-6, `${after.slider} and ${after.time}`);
  assert.equal(after.line, 169);
  assert.notDeepEqual(after.camera, before.camera);
  assert.ok(share(picture, await pixels(page)) > 0.05);
  assert.equal(await other.evaluate((card) => card.classList.contains("selected")), true);
});

test("each located finding's moment has the tool at its place", async () => {
  const n = await page.evaluate(() => window.provecut.report.findings.length);
  let looked = 0;
  for (let i = 0; i < n; ++i) {
    const f = await page.evaluate(
      (i) => ({ f: window.provecut.report.findings[i], order: window.provecut.report.scene.excerpts[i].order }),
      i,
    );
    // Of a hit the report gives the place of the tip as it enters.
    if (f.order < 0 || !f.f.at || f.f.rule !== "hold-down-hit") continue;
    await page.evaluate((i) => window.provecut.watch.showFinding(i, true), i);
    await settled(page);
    const tip = await page.evaluate(() => {
      const { watch, report, player } = window.provecut;
      const setup = report.scene.setups[report.scene.programs[player.program].setup];
      return watch.stage.place.point.map((v, k) => v - setup.zero[k]);
    });
    for (let k = 0; k < 3; ++k) assert.ok(Math.abs(tip[k] - f.f.at[k]) < 0.5, `${f.f.message}: ${tip} and ${f.f.at}`);
    ++looked;
  }
  assert.ok(looked >= 2);
});

test("every card with a place gets both its pictures", async () => {
  await pictured(page);
  const counts = await page.evaluate(() =>
    [...document.querySelectorAll(".spots")].map((s) => s.querySelectorAll("svg").length),
  );
  assert.ok(counts.length > 10);
  assert.deepEqual([...new Set(counts)], [2]);
});

test("a click on a move shows its line", async () => {
  await page.evaluate(() => window.provecut.player.seekIn(1, window.provecut.report.programs[1].time_s));
  await settled(page);
  await page.evaluate(() => window.provecut.watch.stage.frameAll("above", true));
  await settled(page);
  const want = await page.evaluate(() => {
    // The middle of the longest feed move that is done.
    const { watch, store } = window.provecut;
    const { stage } = watch;
    return store.program(1).then(({ moves }) => {
      let best = 0;
      let length = 0;
      for (let p = 0; p < moves.pieces; ++p) {
        const m = moves.moveOf[p];
        const l = Math.hypot(
          moves.points[3 * p + 3] - moves.points[3 * p],
          moves.points[3 * p + 4] - moves.points[3 * p + 1],
        );
        if (moves.drawn[p] && (moves.kind[m] & 7) === 1 && l > length) [best, length] = [p, l];
      }
      const middle = [0, 1, 2].map((k) => (moves.points[3 * best + k] + moves.points[3 * best + 3 + k]) / 2);
      return { at: stage.project(middle) };
    });
  });
  await page.evaluate(() => {
    document.querySelector(".marks").hidden = true;
  }); // a finding's sign may stand over the move
  const before = await state();
  const view = await page.locator(".view > canvas").boundingBox();
  await page.mouse.click(view.x + want.at.x, view.y + want.at.y);
  await page.waitForFunction((time) => window.provecut.player.time !== time, before.time);
  await settled(page);
  const after = await state();
  // Several passes may lie over each other on the screen: the line shown must be one whose move passes under the click.
  const distance = await page.evaluate(
    ([line, x, y]) =>
      window.provecut.store.program(1).then(({ moves }) => {
        const { stage } = window.provecut.watch;
        let nearest = Infinity;
        for (let p = 0; p < moves.pieces; ++p) {
          if (moves.line[moves.moveOf[p]] !== line) continue;
          for (let t = 0; t <= 1; t += 0.02) {
            const q = stage.project(
              [0, 1, 2].map((k) => moves.points[3 * p + k] * (1 - t) + moves.points[3 * p + 3 + k] * t),
            );
            nearest = Math.min(nearest, Math.hypot(q.x - x, q.y - y));
          }
        }
        return nearest;
      }),
    [after.line, want.at.x, want.at.y],
  );
  assert.ok(distance < 9, `line ${after.line} passes ${distance} pixels from the click`);
});

test("no fault was met on the way", () => assert.deepEqual(page.faults, []));
