// Size and speed: bars of the page. Times of whole processes are checked against a run of the same machine where that
// is a noisy one.
import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import { stat } from "node:fs/promises";
import path from "node:path";
import { test } from "node:test";
import { folderWith, job, makePage, open, sample } from "./harness.mjs";

// How much slower than on an idle core of 2.5 GHz things are now: from a chain of 10^8 multiplications and additions,
// each of which waits four cycles for the one before.
function slowness() {
  const began = performance.now();
  let x = 1;
  for (let i = 0; i < 1e8; ++i) x = (Math.imul(x, 1103515245) + 12345) | 0;
  return Math.max(1, (performance.now() - began) / 1000 / 0.16 + (x & 0));
}

// Wanted: shown within 2 s, a frame within 50 ms, on an idle core. Other work on the machine only ever makes a run
// longer, so the best of several counts. Seen on two cores without a graphics processor, idle and busy: the verdict and
// the findings on the screen after 0.8 s; the stock cut to its moment and drawn finely after 1.5 to 3.5 s; frames of 23
// to 47 ms. Half as much again is left.
const shown_s = 2;
const cut_s = 3.5;
const frame_ms = 70;

async function bestOf(runs, measure) {
  const all = [];
  for (let k = 0; k < runs; ++k) {
    const before = slowness();
    const value = await measure();
    all.push(value / Math.max(before, slowness()));
  }
  console.log(all.map((v) => v.toPrecision(3)).join(" "));
  return Math.min(...all);
}

test("the sample's verdict and findings are shown within 2 s, its stock is cut and drawn soon after", async () => {
  const { file } = await makePage(sample);
  await (await open(file)).close(); // the browser itself is started
  const shown = [];
  const best = await bestOf(6, async () => {
    const began = performance.now();
    const page = await open(file);
    const seconds = (performance.now() - began) / 1000;
    // The page has no text before its script has put in the verdict, the cards and all the rest.
    const painted_s = await page.evaluate(
      () => performance.getEntriesByName("first-contentful-paint")[0].startTime / 1000,
    );
    shown.push(painted_s / slowness());
    await page.close();
    return seconds;
  });
  console.log(`shown after ${shown.map((s) => s.toPrecision(3)).join(" ")} s`);
  assert.ok(Math.min(...shown) < shown_s, `shown after ${Math.min(...shown)} s`);
  assert.ok(best < cut_s, `cut and drawn after ${best} s`);
});

test("a frame of the sample's replay in software takes some fiftieths of a second", async () => {
  const page = await open((await makePage(sample)).file);
  const best = await bestOf(5, () =>
    page.evaluate(async () => {
      const { player, watch, report } = window.provecut;
      const { stage } = watch;
      const gl = stage.renderer.getContext();
      const pixel = new Uint8Array(4);
      const took = [];
      player.seekIn(1, 0);
      await new Promise((done) => {
        const look = () => (watch.ready && watch.stage.atRest ? done() : requestAnimationFrame(look));
        look();
      });
      stage.frameAll("front", true);
      // Each frame is waited for to the last pixel.
      for (let k = 1; k <= 40; ++k) {
        const began = performance.now();
        player.seekIn(1, (report.programs[1].time_s * k) / 41);
        stage.frame();
        gl.readPixels(0, 0, 1, 1, gl.RGBA, gl.UNSIGNED_BYTE, pixel);
        took.push(performance.now() - began);
      }
      return took.sort((a, b) => a - b)[20];
    }),
  );
  assert.ok(best < frame_ms, `median ${best} ms`);
  await page.close();
});

// As tests/bench/bare_height_kernel.h makes it: rows of a ball-nose finish over gentle waves.
function finishing(moves) {
  const lines = ["G21 G90 G17 G94", "T1 M6", "S18000 M3", "G4 P5", "G0 Z10"];
  let forward = true;
  let n = 0;
  for (let y = 0; y <= 300 && n <= moves; y += 0.3, forward = !forward) {
    for (let k = 0; k <= 600 && n <= moves; ++k, ++n) {
      const x = forward ? k * 0.5 : 300 - k * 0.5;
      const z = -6 + 2.5 * Math.sin(x / 17) + 1.5 * Math.cos(y / 11 + x / 40);
      lines.push(
        n === 0 ? `G0 X${x.toFixed(3)} Y${y.toFixed(3)}\nG1 F2000` : "",
        `G1 X${x.toFixed(3)} Y${y.toFixed(3)} Z${z.toFixed(3)}`,
      );
    }
  }
  lines.push("G0 Z10", "M5", "M30", "");
  return lines.filter((l, i) => l !== "" || i === lines.length - 1).join("\n");
}

test("a program of 560 000 moves: at most 25 MB, made within 4 s or twice the check's time, and shown", async () => {
  const folder = await folderWith({
    "a.nc": finishing(560000),
    "job.toml": job({ name: "finishing", size: [300, 300, 20], cell: 0.2, tools: [`shape = "ball"\ndiameter = 3`] }),
  });
  const file = path.join(folder, "job.toml");
  let plain = Infinity;
  let best = { seconds: Infinity };
  // In turns, and the best of each: other work on the machine only ever makes a run longer.
  for (let k = 0; k < 3; ++k) {
    const began = performance.now();
    execFileSync(process.env.PROVECUT, ["check", file, "--quiet", "--fail-on", "never"], { stdio: "ignore" });
    plain = Math.min(plain, (performance.now() - began) / 1000);
    const made = await makePage(file);
    if (made.seconds < best.seconds) best = made;
  }
  const { size } = await stat(best.file);
  console.log(
    `${(size / 1e6).toFixed(1)} MB, made in ${best.seconds.toFixed(2)} s, the check alone ${plain.toFixed(2)} s`,
  );
  assert.ok(size <= 25e6, `${size} bytes`);
  assert.ok(best.seconds <= 4 || best.seconds <= 2 * plain, `${best.seconds} s, the check alone ${plain} s`);
  const page = await open(best.file);
  assert.deepEqual(page.faults, []);
  await page.close();
});
