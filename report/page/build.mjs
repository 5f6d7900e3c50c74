// Makes one file of the page: node build.mjs FOLDER-WITH-NODE_MODULES OUT.cpp
// Script and style stand in the page itself; its content-security policy names them by their hashes, so nothing else
// can run.
import { createHash } from "node:crypto";
import { readFileSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import path from "node:path";
import { fileURLToPath } from "node:url";

const here = path.dirname(fileURLToPath(import.meta.url));
const [modules, out] = process.argv.slice(2);
const esbuild = createRequire(path.join(modules, "package.json"))("esbuild");

const common = {
  bundle: true,
  minify: true,
  write: false,
  charset: "utf8",
  legalComments: "inline",
  target: ["es2022"],
  nodePaths: [path.join(modules, "node_modules")],
};
const bundle = (file, more) =>
  esbuild.buildSync({ ...common, ...more, entryPoints: [path.join(here, file)] }).outputFiles[0].text;

// An inline script or style must not hold what would end it.
const inline = (text, tag) => text.replaceAll(`</${tag}`, `<\\/${tag}`).replaceAll("<!--", "<\\!--").trim();
const hash = (text) => `'sha256-${createHash("sha256").update(text).digest("base64")}'`;

const script = inline(bundle("main.ts", { format: "esm" }), "script");
const style = inline(bundle("style/page.css"), "style");
const policy = [
  "default-src 'none'",
  `script-src ${hash(script)}`,
  `style-src ${hash(style)}`,
  "img-src data: blob:",
  "base-uri 'none'",
  "form-action 'none'",
  "require-trusted-types-for 'script'",
  "trusted-types 'none'",
].join("; ");

const fill = { POLICY: policy, SCRIPT: script, STYLE: style };
const page = readFileSync(path.join(here, "page.html"), "utf8").replace(
  /\{\{(POLICY|SCRIPT|STYLE)\}\}/g,
  (_, name) => fill[name],
);
const [head, tail, ...rest] = page.split("{{DATA}}\n");
if (tail === undefined || rest.length > 0) throw new Error("page.html must hold {{DATA}} once");

// As C++: adjacent literals, because compilers need only take 65536 characters in one.
const literal = (text) =>
  (text.match(/[\s\S]{1,15000}/gu) ?? []).map((part) => `R"page~(${part})page~"`).join("\n    ");
writeFileSync(
  out,
  `// Made by report/page/build.mjs.
#include "report/formats/page/page_shell.h"

namespace provecut {

std::string_view pageHead() {
  static constexpr char text[] = ${literal(head)};
  return {text, sizeof text - 1};
}

std::string_view pageTail() {
  static constexpr char text[] = ${literal(tail)};
  return {text, sizeof text - 1};
}

}  // namespace provecut
`,
);
