// The page is one file that needs nothing else.
import assert from "node:assert/strict";
import { readFile, stat } from "node:fs/promises";
import { before, test } from "node:test";
import { makePage, open, sample, trouble } from "./harness.mjs";

let clear;
let stop;
before(async () => {
  [clear, stop] = await Promise.all([makePage(sample), makePage(trouble)]);
});

test("it opens from a file without a fault, and no request leaves it", async () => {
  for (const { file } of [clear, stop]) {
    const page = await open(file);
    assert.deepEqual(page.faults, []);
    const left = page.asked.filter((url) => !/^(file|data|blob):/.test(url));
    assert.deepEqual(left, []);
    assert.equal(
      page.asked.filter((url) => url.startsWith("file:")).length,
      1,
      "the page itself is the only file read",
    );
    await page.close();
  }
});

test("its policy lets no script or style in but its own, and no connection out", async () => {
  const page = await open(clear.file);
  const did = await page.evaluate(async () => {
    const seen = [];
    addEventListener("securitypolicyviolation", (e) => seen.push(e.effectiveDirective));
    const script = document.createElement("script");
    try {
      script.textContent = "window.foreign = true";
    } catch {
      seen.push("trusted-types");
    }
    document.body.append(script);
    const style = document.createElement("style");
    style.textContent = "body { display: none }";
    document.head.append(style);
    const image = document.createElement("img");
    image.src = "https://example.invalid/x.png";
    document.body.append(image);
    await fetch("https://example.invalid/").catch(() => {});
    await new Promise((done) => setTimeout(done, 300));
    return { foreign: window.foreign === true, display: getComputedStyle(document.body).display, seen };
  });
  assert.equal(did.foreign, false);
  assert.notEqual(did.display, "none");
  for (const directive of ["style-src-elem", "img-src", "connect-src"]) {
    assert.ok(did.seen.includes(directive), `${directive} in ${did.seen}`);
  }
  await page.close();
});

test("the samples' pages are at most 4 MB", async () => {
  for (const { file } of [clear, stop]) assert.ok((await stat(file)).size <= 4e6, `${(await stat(file)).size} bytes`);
});

test("the file names no address on a network but the names of two standards, and points to no other file", async () => {
  const text = await readFile(clear.file, "latin1");
  const addresses = [...new Set(text.match(/\b(?:https?|wss?):\/\/[^\s"'`<>)\\]+/g) ?? [])].sort();
  assert.deepEqual(addresses, ["http://www.w3.org/1999/xhtml", "http://www.w3.org/2000/svg"]);
  assert.doesNotMatch(text, /<(?:script|img|iframe|link)[^>]+(?:src|href)=/);
});
