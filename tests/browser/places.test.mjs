// Where hold-downs may stand, as the plans of the page show it, checked against what `provecut place` says of each
// hold-down.
import assert from "node:assert/strict";
import { spawnSync } from "node:child_process";
import path from "node:path";
import { test } from "node:test";
import { folderWith, job, makePage, open, sample, trouble } from "./harness.mjs";

const placesOf = (job) =>
  JSON.parse(
    spawnSync(process.env.PROVECUT, ["place", job, "--format", "json"], { encoding: "utf8", maxBuffer: 1 << 28 })
      .stdout,
  );

for (const [name, job] of [
  ["the sample", sample],
  ["the trouble sample", trouble],
]) {
  test(`in ${name} a hold-down whose middle is drawn free is clear of every program it stands in`, async () => {
    const told = placesOf(job);
    const page = await open((await makePage(job)).file);
    const drawn = await page.evaluate(() => {
      const { scene } = window.provecut.report;
      const out = [];
      for (const [k, figure] of [...document.querySelectorAll(".plan-card")].entries()) {
        const forms = [...figure.querySelectorAll(".free-choice input")];
        for (let f = 0; f < Math.max(1, forms.length); ++f) {
          forms[f]?.click();
          const free = figure.querySelector("svg.plan path.free");
          const text = figure.querySelector(".free-text").textContent;
          for (const hold of figure.querySelectorAll("svg.plan .hold")) {
            const box = hold.getBBox();
            const point = figure.querySelector("svg.plan").createSVGPoint();
            point.x = box.x + box.width / 2;
            point.y = box.y + box.height / 2;
            const label = [...figure.querySelectorAll("tbody th")][
              [...figure.querySelectorAll("svg.plan .hold")].indexOf(hold)
            ].textContent;
            const { kind } = scene.hold_downs.find((h) => h.name === label);
            out.push({ k, label, kind, text, inside: free !== null && free.isPointInFill(point) });
          }
        }
      }
      const stretches = scene.places.map((p) => p.first).filter((p, i, all) => all.indexOf(p) === i);
      return { out, stretches, programs: scene.programs.length };
    });
    let held = 0;
    let clearInside = 0;
    for (const { k, label, kind, text, inside } of drawn.out) {
      if (!text.includes(` mm ${kind}, top`)) continue; // the area is that of another form
      const first = drawn.stretches[k];
      const last = (drawn.stretches[k + 1] ?? drawn.programs) - 1;
      const clear = told.programs
        .slice(first, last + 1)
        .every((p) => p.hold_downs.find((h) => h.name === label).state === "clear");
      if (inside) assert.ok(clear, `${label} from program ${first} on is drawn free`);
      if (inside) ++clearInside;
      ++held;
    }
    assert.ok(held >= 10, `${held} hold-downs stand`);
    assert.ok(clearInside >= 8, `${clearInside} of ${held} are drawn free`);
    assert.deepEqual(page.faults, []);
    await page.close();
  });
}

test("the area has a pattern, a legend and words", async () => {
  const page = await open((await makePage(trouble)).file);
  const seen = await page.evaluate(() => {
    const svg = document.querySelector(".plan-card svg.plan");
    const hatch = svg.querySelector(".free-hatch");
    return {
      fill: hatch.getAttribute("fill"),
      pattern: svg.querySelector("pattern").id,
      label: svg.getAttribute("aria-label"),
      legend: document.querySelector(".plan-legend").textContent,
      text: document.querySelector(".free-text").textContent,
    };
  });
  assert.equal(seen.fill, `url(#${seen.pattern})`);
  assert.match(seen.label, /Setup front from above: clamp S, clamp N\. With its centre in the hatched area/);
  assert.match(seen.label, /a 30 × 60 mm clamp, top 35 mm is clear/);
  assert.match(seen.legend, /free for a hold-down's centre/);
  assert.match(seen.text, /clear of every move of these programs by 3 mm: \d+ % of the stock/);
  await page.close();
});

test("each plan says what to do before it: hold-downs are fitted before others are removed", async () => {
  const page = await open((await makePage(trouble)).file);
  const changes = await page.locator(".plan-card .change").allTextContents();
  const fit = "Fit screw SW, screw NW, screw NE and screw SE";
  assert.deepEqual(changes, [
    "Fit clamp S and clamp N.",
    `${fit}, then remove clamp S and clamp N.`,
    "Remove all hold-downs. Put pin W and pin E into the spoilboard. Flip the stock left to right and place it. " +
      "Fit clamp S and clamp N.",
    `${fit}, then remove clamp N.`,
  ]);
  await page.close();
});

test("where a program leaves no room the page says so, and names a usual screw where the job lists none", async () => {
  const rows = Array.from(
    { length: 41 },
    (_, k) => `G1 X${k % 2 ? -100 : 160} Y${-100 + 6 * k}\nG1 Y${-94 + 6 * k}`,
  ).join("\n");
  const folder = await folderWith({
    "a.nc": `G21 G90 G17 T1 M6\nS18000 M3\nG4 P5\nG0 Z5\nG0 X-100 Y-100\nG1 Z-1 F2000\n${rows}\nG0 Z40\nM5\nM30\n`,
    "job.toml": job({ name: "facing", size: [60, 40, 12], cell: 0.5, tools: [`shape = "flat"\ndiameter = 8`] }),
  });
  const page = await open((await makePage(path.join(folder, "job.toml"))).file);
  const text = await page.evaluate(() => document.querySelector(".free-text").textContent);
  assert.match(
    text,
    new RegExp(
      "^No spot on or beside the stock keeps a 9\\.5 mm screw, top 3\\.7 mm \\(a common size; the job lists none\\) " +
        "clear of these programs' moves by 3 mm\\.$",
    ),
  );
  await page.close();
});
