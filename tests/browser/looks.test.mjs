// On a phone, on paper, in the dark, and for those who do not see it.
import assert from "node:assert/strict";
import { appendFile, cp, readFile } from "node:fs/promises";
import path from "node:path";
import { before, test } from "node:test";
import { folderWith, makePage, open, pictured, require, sample, settled, trouble } from "./harness.mjs";

let clear;
let stop;
before(async () => {
  [clear, stop] = [await makePage(sample), await makePage(trouble)];
});

test("at 390 pixels nothing is wider than the screen", async () => {
  const page = await open(stop.file, { viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true });
  const wide = await page.evaluate(() => {
    document.querySelector(".layers").open = true;
    const over = [];
    for (const e of document.querySelectorAll("body *")) {
      if (
        e.closest(
          ".table-scroll, nav ul, pre, .marks, .track, .code, svg, .plan-scroll, .section-picture, details:not([open])",
        )
      ) {
        continue;
      }
      const box = e.getBoundingClientRect();
      if (box.width > 0 && (box.right > innerWidth + 1 || box.left < -1) && !e.classList.contains("skip")) {
        over.push(`${e.tagName}.${e.className}`);
      }
    }
    return { over, scroll: document.documentElement.scrollWidth };
  });
  assert.deepEqual(wide.over, []);
  assert.ok(wide.scroll <= 390, `${wide.scroll} pixels wide`);
  // What is pressed is large enough for a finger (WCAG 2.2, 2.5.8: 24 pixels).
  const small = await page.evaluate(
    () =>
      [...document.querySelectorAll(".transport button, .view-tools button, .chip, .layers > summary")]
        .map((b) => b.getBoundingClientRect())
        .filter((b) => b.width > 0 && (b.width < 24 || b.height < 24)).length,
  );
  assert.equal(small, 0);
  await page.locator(".card-open").first().tap();
  await page.waitForFunction(() => document.querySelector(".card.selected") !== null);
  assert.deepEqual(page.faults, []);
  await page.close();
});

test("no number of the readout is cut short, however wide the screen", async () => {
  const page = await open(stop.file);
  const moments = await page.evaluate(() => [0.2, 0.5, 0.7, 0.95].map((share) => share * window.provecut.player.total));
  for (const width of [320, 390, 600, 901, 1024, 1280, 1600]) {
    await page.setViewportSize({ width, height: 768 });
    for (const moment of moments) {
      await page.evaluate((time) => window.provecut.player.seek(time), moment);
      await settled(page);
      const cut = await page.evaluate(() =>
        [...document.querySelectorAll(".readout dl > div:not(.name, .setup)")]
          .filter((d) => d.lastChild.scrollWidth > d.lastChild.clientWidth)
          .map((d) => d.textContent),
      );
      assert.deepEqual(cut, [], `at ${width} pixels`);
      assert.ok(
        await page.evaluate(() => {
          const r = document.querySelector(".readout");
          return r.scrollHeight <= r.clientHeight;
        }),
        `all rows at ${width} pixels`,
      );
    }
  }
  await page.close();
});

test("the words of a chosen mark stay inside a narrow view, with their amount", async () => {
  const page = await open(stop.file, { viewport: { width: 390, height: 844 } });
  const n = await page.evaluate(() => window.provecut.report.findings.length);
  let seen = 0;
  for (let i = 0; i < n; ++i) {
    await page.evaluate((i) => window.provecut.watch.showFinding(i, true), i);
    await settled(page);
    const words = await page.evaluate(() => {
      const text = document.querySelector(".mark.chosen .mark-text");
      const box = text?.getBoundingClientRect();
      const view = document.querySelector(".view").getBoundingClientRect();
      return (
        text && {
          inside: box.left >= view.left && box.right <= view.right && box.top >= view.top,
          cut: text.scrollWidth > text.clientWidth,
          text: text.textContent,
        }
      );
    });
    if (!words) continue;
    assert.ok(words.inside && !words.cut, words.text);
    ++seen;
  }
  assert.ok(seen > 10);
  await page.close();
});

test("accepted findings are counted apart, the same in the head and over the cards", async () => {
  const folder = await folderWith({});
  const from = path.dirname(trouble);
  await cp(from, folder, { recursive: true });
  await appendFile(path.join(folder, "job.toml"), `\n[[accept]]\nrule = "bed-hit"\nreason = "a plate lies there"\n`);
  const page = await open((await makePage(path.join(folder, "job.toml"))).file);
  const counts = await page.evaluate(() => ({
    // "10 stop", "13 to check first", "1 note", "2 accepted"
    head: [...document.querySelector(".job .counts").textContent.matchAll(/(\d+) (?:to )?([a-z ]+?)s?(?=\d|$)/g)].map(
      (m) => `${m[2]} ${m[1]}`,
    ),
    chips: [...document.querySelectorAll(".chip")].map((c) => c.textContent.toLowerCase()),
    gap: parseFloat(getComputedStyle(document.querySelector(".accepted-count")).marginLeft),
  }));
  assert.deepEqual(counts.head, counts.chips);
  assert.ok(
    counts.chips.some((c) => /^accepted [1-9]/.test(c)),
    `${counts.chips}`,
  );
  assert.ok(counts.gap >= 4);
  await page.locator(".chip[data-kind=accepted]").click();
  assert.equal(await page.locator(".card.accepted:visible").count(), 0);
  await page.close();
});

test("the dark scheme is dark, and text keeps its contrast in it", async () => {
  const page = await open(clear.file, { colorScheme: "dark" });
  const light = await page.evaluate(() => {
    const [r, g, b] = getComputedStyle(document.body)
      .backgroundColor.match(/[\d.]+/g)
      .map(Number);
    return (r + g + b) / 3;
  });
  assert.ok(light < 60, `background ${light}`);
  await page.close();
});

for (const [name, options] of [
  ["light", {}],
  ["dark", { colorScheme: "dark" }],
  ["phone", { viewport: { width: 390, height: 844 } }],
]) {
  test(`axe-core finds nothing serious: ${name}`, async () => {
    const page = await open(stop.file, { ...options, bypassCSP: true });
    await page.evaluate(() => {
      for (const d of document.querySelectorAll(".layers, .chapter details")) d.open = true;
    });
    await page.evaluate(await readFile(require.resolve("axe-core/axe.min.js"), "utf8"));
    const { violations, passes } = await page.evaluate(() => window.axe.run(document, { resultTypes: ["violations"] }));
    const told = violations.map(
      (v) =>
        `${v.impact} ${v.id}: ${v.nodes
          .slice(0, 4)
          .map((n) => n.target.join(" "))
          .join("; ")}`,
    );
    assert.ok(passes.length > 20, "axe-core looked at the page");
    assert.deepEqual(
      told.filter((t) => /^(serious|critical)/.test(t)),
      [],
    );
    await page.close();
  });
}

test("it prints: pages of A4 with the verdict, every finding and the picture of the view", async () => {
  const page = await open(stop.file);
  await page.emulateMedia({ media: "print" });
  assert.equal(await page.locator("nav").isVisible(), false);
  assert.equal(await page.locator(".verdict-word").isVisible(), true);
  const findings = await page.evaluate(() => window.provecut.report.findings.length);
  assert.equal(await page.locator(".card:visible").count(), findings);
  const pdf = await page.pdf({ format: "A4", printBackground: true });
  assert.equal(pdf.subarray(0, 5).toString(), "%PDF-");
  const pages = (pdf.toString("latin1").match(/\/Type\s*\/Page\b/g) ?? []).length;
  assert.ok(pages >= 3 && pages <= 14, `${pages} pages`);
  assert.match(pdf.toString("latin1"), /\/Subtype\s*\/Image/);
  await page.close();
});

test("every finding's pictures are drawn for paper, though nobody scrolled to them", async () => {
  const page = await open(stop.file);
  await pictured(page);
  await page.emulateMedia({ media: "print" });
  const cards = await page.evaluate(() =>
    [...document.querySelectorAll(".spots")].map((s) =>
      [...s.querySelectorAll("svg")].map((p) => p.getBoundingClientRect().height),
    ),
  );
  assert.ok(cards.length > 10);
  for (const heights of cards) assert.ok(heights.length === 2 && Math.min(...heights) > 50, `${heights}`);
  await page.close();
});

test("pictures have text in their place", async () => {
  const page = await open(stop.file);
  await pictured(page);
  const without = await page.evaluate(() =>
    [...document.querySelectorAll("svg, canvas, img")]
      .filter((e) => !e.closest("[aria-hidden=true]") && !e.getAttribute("aria-label") && !e.querySelector("title"))
      .map((e) => e.outerHTML.slice(0, 80)),
  );
  assert.deepEqual(without, []);
  assert.match(await page.locator(".view > canvas").getAttribute("aria-label"), /setup .*line \d+/);
  await page.close();
});
