// Formatter, linter and the types made from the schemas:
// node check.mjs FOLDER-WITH-NODE_MODULES format|lint|types [--write]
// Without --write it says what is wrong and ends with 1; with it, it puts right what it can.
import { readdirSync, readFileSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import path from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { lineLength, lintRules } from "./lint_rules.mjs";

const root = path.resolve(path.dirname(fileURLToPath(import.meta.url)), "../..");
const [modules, task, write] = process.argv.slice(2);
const require = createRequire(path.join(modules, "package.json"));
const load = async (name) => {
  const found = await import(pathToFileURL(require.resolve(name)).href);
  return found.default ?? found;
};

const filesOf = (folder, ...endings) =>
  readdirSync(path.join(root, folder), { recursive: true })
    .filter((name) => endings.some((ending) => name.endsWith(ending)))
    .map((name) => path.join(root, folder, name));
const made = (file) => file.endsWith("_types.ts");
const scripts = [
  ...filesOf("report/page", ".ts", ".mjs"),
  ...filesOf("tests/browser", ".mjs"),
  ...filesOf("tests/typescript", ".mjs"),
].filter((file) => !made(file));
const styles = filesOf("report/page", ".css");

// What each file holds, or would hold, put right.
async function formatted() {
  const prettier = await load("prettier");
  const wanted = new Map();
  for (const file of [...scripts, ...styles]) {
    wanted.set(
      file,
      await prettier.format(readFileSync(file, "utf8"), {
        filepath: file,
        printWidth: lineLength,
        objectWrap: "collapse",
      }),
    );
  }
  return wanted;
}

// A reference with a description of its own keeps its type's name.
const named = (node) => {
  if (Array.isArray(node)) return node.map(named);
  if (typeof node !== "object" || node === null) return node;
  const { $ref, ...rest } = node;
  if ($ref && rest.description) return { ...rest, allOf: [{ $ref }] };
  return Object.fromEntries(Object.entries(node).map(([key, value]) => [key, named(value)]));
};

// One file of types for each schema that the page's data follow.
async function types() {
  const { compile } = await load("json-schema-to-typescript");
  const sources = [
    ["report/schemas/report-1.schema.json", "report/page/data/report_types.ts", "Report"],
    ["report/page/data/scene.schema.json", "report/page/data/scene_types.ts", "Scene"],
  ];
  const wanted = new Map();
  for (const [from, to, name] of sources) {
    const schema = JSON.parse(readFileSync(path.join(root, from), "utf8"));
    delete schema.if; // says what the verdict may be; a type cannot
    delete schema.then;
    delete schema.else;
    const text = await compile(named({ ...schema, title: name }), name, {
      bannerComment: `// Made from ${from}: node tests/typescript/check.mjs FOLDER-WITH-NODE_MODULES types --write`,
      style: { printWidth: lineLength, objectWrap: "collapse", bracketSpacing: true },
    });
    wanted.set(path.join(root, to), text);
  }
  return wanted;
}

function compare(wanted) {
  let different = 0;
  for (const [file, text] of wanted) {
    if (readFileSync(file, { encoding: "utf8", flag: write ? "a+" : "r" }) === text) continue;
    if (write) writeFileSync(file, text);
    else console.log(`${path.relative(root, file)} is not as ${task} would have it`);
    if (!write) ++different;
  }
  return different;
}

async function lint() {
  const { ESLint } = await load("eslint");
  const rules = lintRules(await load("@eslint/js"), await load("typescript-eslint"));
  const eslint = new ESLint({ cwd: root, overrideConfigFile: true, overrideConfig: rules, fix: write === "--write" });
  const results = await eslint.lintFiles(scripts);
  if (write) await ESLint.outputFixes(results);
  const faults = results.reduce((n, r) => n + r.errorCount + r.warningCount, 0);
  if (faults > 0) console.log((await eslint.loadFormatter()).format(results));
  return faults;
}

const tasks = { format: async () => compare(await formatted()), types: async () => compare(await types()), lint };
if (!(task in tasks)) throw new Error(`format, lint or types, not ${task}`);
process.exit((await tasks[task]()) > 0 ? 1 : 0);
