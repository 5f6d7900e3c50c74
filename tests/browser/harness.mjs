// A page made by provecut, opened in Chromium as a double click would.
import { execFile } from "node:child_process";
import { mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import path from "node:path";
import { after } from "node:test";
import { pathToFileURL } from "node:url";

export const require = createRequire(path.join(process.env.PROVECUT_MODULES, "package.json"));
const { chromium } = require("playwright-core");

export const sample = path.join(process.env.PROVECUT_SOURCE_DIR, "samples/cribbage-board/job.toml");
export const trouble = path.join(process.env.PROVECUT_SOURCE_DIR, "samples/cribbage-board-trouble/job.toml");

const folders = [];
const browsers = [];
after(async () => {
  for (const browser of browsers) await browser.close();
  for (const folder of folders) await rm(folder, { recursive: true, force: true });
});

export async function folderWith(files) {
  const folder = await mkdtemp(path.join(tmpdir(), "provecut-page-"));
  folders.push(folder);
  for (const [name, text] of Object.entries(files)) await writeFile(path.join(folder, name), text);
  return folder;
}

// A job of one setup with its zero at the stock's front left corner, on top. `tools`: lines of TOML for each, numbered
// from 1; they get flutes and a stick-out that are long enough.
export function job({ name, size, cell, tools, programs = ["a.nc"], material = "softwood", flutes = 22 }) {
  const bits = tools.map(
    (tool, i) => `[[tool]]
number = ${i + 1}
name = "bit ${i + 1}"
${tool}
flute_length = ${flutes}
stickout = 35`,
  );
  const files = programs.map((file) => `[[setup.program]]\nfile = "${file}"`);
  return `version = 1
name = "${name}"
units = "mm"
[stock]
size = [${size.join(", ")}]
material = "${material}"
[limits]
cell = ${cell}
${bits.join("\n")}
[[setup]]
name = "top"
zero = ["left", "front", "top"]
${files.join("\n")}
`;
}

// A program that takes a tool, starts the spindle, lifts to Z 5, does what `lines` say and ends.
export const program = (lines, tool = 1) =>
  [`G21 G90 G17 T${tool} M6`, "S18000 M3", "G4 P5", "G0 Z5", ...lines, "M5", "M30", ""].join("\n");

// The page's own module that cuts a window of the stock for the small pictures.
export async function localCut() {
  const typescript = require("typescript");
  const folder = await folderWith({});
  const options = { module: typescript.ModuleKind.ESNext, target: typescript.ScriptTarget.ES2022 };
  for (const name of ["open_radius", "local_cut"]) {
    const source = await readFile(path.join(process.env.PROVECUT_SOURCE_DIR, `report/page/cut/${name}.ts`), "utf8");
    const { outputText } = typescript.transpileModule(source, { compilerOptions: options });
    const linked = outputText.replaceAll(/from "\.\/(\w+)"/g, 'from "./$1.mjs"');
    await writeFile(path.join(folder, `${name}.mjs`), linked);
  }
  return import(pathToFileURL(path.join(folder, "local_cut.mjs")).href);
}

// Path of the page, and how long provecut took as a whole process.
export async function makePage(job, more = []) {
  const out = path.join(await folderWith({}), "report.html");
  const began = performance.now();
  await new Promise((done, fail) => {
    execFile(
      process.env.PROVECUT,
      ["check", job, "--format", "html", "--output", out, "--fail-on", "never", ...more],
      (error, _, errors) => {
        // 1: a program was not read whole, which the trouble sample wants.
        if (error && error.code !== 1) fail(new Error(`${error.message}\n${errors}`));
        else done();
      },
    );
  });
  return { file: out, seconds: (performance.now() - began) / 1000 };
}

let shared;
export async function browser() {
  if (!shared) {
    shared = chromium.launch({
      executablePath: process.env.PROVECUT_CHROMIUM,
      args: [
        "--no-sandbox",
        "--use-angle=swiftshader",
        "--enable-unsafe-swiftshader",
        "--ignore-gpu-blocklist",
        "--disable-background-networking",
        "--disable-component-update",
        "--no-first-run",
      ],
    });
    browsers.push(await shared);
  }
  return shared;
}

// Opens the page; `page.faults` gathers what went wrong and `page.asked` every request. Waits until the cut has caught
// up.
export async function open(file, options = {}) {
  const page = await (
    await browser()
  ).newPage({ viewport: { width: 1280, height: 720 }, reducedMotion: "reduce", ...options });
  page.faults = [];
  page.asked = [];
  page.on("console", (message) => {
    if (
      ["error", "warning"].includes(message.type()) &&
      !/GPU stall due to ReadPixels|GL Driver Message/.test(message.text())
    ) {
      page.faults.push(message.text());
    }
  });
  page.on("pageerror", (error) => page.faults.push(error.message));
  page.on("request", (request) => page.asked.push(request.url()));
  await page.goto(pathToFileURL(file).href, { timeout: 120000 });
  await settled(page);
  return page;
}

// Until the program is loaded, the stock is cut up to the moment and the fine picture is drawn.
export async function settled(page) {
  await page.waitForFunction(
    () => {
      const { watch } = window.provecut ?? {};
      return watch?.stage ? watch.ready && watch.stage.atRest : document.querySelector(".no-graphics") !== null;
    },
    undefined,
    { timeout: 240000 },
  );
}

// Until the small pictures of all findings are drawn, which the page does as soon as it has nothing else to do.
export const pictured = (page) =>
  page.waitForFunction(() => document.querySelector(".spots:empty") === null, undefined, { timeout: 240000 });

// Colours of the view, four bytes to a pixel, from the lowest row up.
export const pixels = (page) =>
  page.evaluate(() => {
    const { stage } = window.provecut.watch;
    const gl = stage.renderer.getContext();
    stage.drawFine();
    const bytes = new Uint8Array(gl.drawingBufferWidth * gl.drawingBufferHeight * 4);
    gl.readPixels(0, 0, gl.drawingBufferWidth, gl.drawingBufferHeight, gl.RGBA, gl.UNSIGNED_BYTE, bytes);
    return { width: gl.drawingBufferWidth, height: gl.drawingBufferHeight, bytes: Array.from(bytes) };
  });

export const share = (a, b, least = 12) => {
  let differ = 0;
  for (let i = 0; i < a.bytes.length; i += 4) {
    if (
      Math.abs(a.bytes[i] - b.bytes[i]) +
        Math.abs(a.bytes[i + 1] - b.bytes[i + 1]) +
        Math.abs(a.bytes[i + 2] - b.bytes[i + 2]) >
      least
    ) {
      ++differ;
    }
  }
  return differ / (a.bytes.length / 4);
};
