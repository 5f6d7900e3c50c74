// Names, comments and file names that carry markup, quotes, terminal escapes and marks that turn text round are shown
// as text.
import assert from "node:assert/strict";
import path from "node:path";
import { before, test } from "node:test";
import { folderWith, makePage, open, pictured } from "./harness.mjs";

const markup = `</script><script>window.broken=1</script><img src=x onerror="window.broken=2">'"&amp;`;
// Control characters are refused in a job file; a program may hold anything.
const turned = "red\u202eNTFR\u2066";
const escapes = "\u001b]0;title\u0007\u001b[31mred\u202eNTFR\u2066";
const escaped = (c) => `\\u${c.codePointAt(0).toString(16).padStart(4, "0")}`;
const toml = (text) => {
  const characters = [...text].map((c) => (c < " " || c === '"' || c === "\\" || c > "~" ? escaped(c) : c));
  return `"${characters.join("")}"`;
};

let page;
let file;
before(async () => {
  const program = `a<b>'&"].nc`;
  const folder = await folderWith({
    [program]: [
      ...[`(${markup})`, `(${escapes})`, "G21 G90 G17 T1 M6", "S18000 M3", "G4 P5", "G0 Z10", "G0 X12 Y12"],
      ...[`G1 Z-3 F600 (${markup.replaceAll(")", "]")} ${escapes})`, "G1 X60 Y40", "G0 Z10", "G1 X<img> Y5"],
      ...["M5", "M30", ""],
    ].join("\n"),
    "job.toml": `version = 1
name = ${toml(markup + turned)}
units = "mm"
[stock]
size = [100, 80, 10]
[[tool]]
number = 1
name = ${toml(`bit ${markup}`)}
shape = "flat"
diameter = 6
flute_length = 20
stickout = 30
[[spindle_attachment]]
name = ${toml(`shoe ${markup}`)}
diameter = 80
bottom = -6
top = 40
[[hold_down]]
name = ${toml(`screw ${markup}${turned}`)}
kind = "screw"
at = [12, 12]
diameter = 9
top = 4
[[setup]]
name = ${toml(`front ${markup}${turned}`)}
zero = ["left", "front", "top"]
hold_downs = [${toml(`screw ${markup}${turned}`)}]
[[setup.program]]
file = ${toml(program)}
[quote]
currency = ${toml("<b>USD")}
machine_rate = 45
`,
  });
  ({ file } = await makePage(path.join(folder, "job.toml")));
  page = await open(file);
  await pictured(page);
});

test("nothing of it runs or becomes an element", async () => {
  assert.equal(await page.evaluate(() => window.broken), undefined);
  assert.equal(await page.locator("img").count(), 0);
  assert.equal(await page.evaluate(() => document.querySelectorAll("script:not([id])").length), 1);
  assert.deepEqual(page.faults, []);
  assert.deepEqual(
    page.asked.filter((url) => !/^(file|data|blob):/.test(url)),
    [],
  );
});

test("the words are there to be read, as they are written", async () => {
  const text = await page.evaluate(() => document.body.innerText);
  assert.ok(text.includes("</script><script>window.broken=1</script>"));
  assert.ok(text.includes(`<img src=x onerror="window.broken=2">'"&amp;`));
  assert.match(await page.title(), /<\/script>/);
});

test("no control character and no mark that turns text round is left, in text or in attributes", async () => {
  const found = await page.evaluate(() => {
    // eslint-disable-next-line no-control-regex -- these are what is looked for
    const bad = /[\u0000-\u0008\u000b-\u001f\u007f-\u009f\u200e\u200f\u202a-\u202e\u2066-\u2069]/;
    const out = [];
    if (bad.test(document.title)) out.push("title");
    for (const e of document.querySelectorAll("body *:not(script)")) {
      for (const a of e.attributes) if (bad.test(a.value)) out.push(`${e.tagName} ${a.name}`);
      for (const n of e.childNodes) {
        if (n.nodeType === Node.TEXT_NODE && bad.test(n.data)) out.push(`${e.tagName}: ${n.data.slice(0, 60)}`);
      }
    }
    return out;
  });
  assert.deepEqual(found, []);
});

test("lines of code show their comments as text while the replay goes over them", async () => {
  for (const line of [7, 8, 9]) {
    await page.evaluate((line) => window.provecut.watch.goToLine(line), line);
    const code = await page.evaluate(() => document.querySelector(".code").innerText);
    assert.match(code, /<script>window\.broken=1<\/script>|G1/);
  }
  assert.equal(await page.evaluate(() => window.broken), undefined);
});
