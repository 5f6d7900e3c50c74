// Puts the page together and connects its parts.
import { Cards } from "./cards";
import { byId, h } from "./dom";
import { holdDownPlans } from "./hold_down_plan";
import { levelIcon } from "./icons";
import { Player } from "./player";
import { readReport, type Report } from "./report_data";
import { Stage } from "./stage";
import { Store } from "./store";
import { cautions, partsTable, programsTable, quoteTable, section, timeBars, toolsTable } from "./tables";
import { Watch } from "./watch";
import { caution, duration, plural, verdictSentence, verdictWord, Wording } from "./wording";

const report = readReport(), player = new Player(report), store = new Store(report), watch = new Watch(report, store, player);
const cards = new Cards(report, store, (finding) => select(finding));
watch.onSelect = (finding) => select(finding);

function select(finding: number, atOnce = false): void {
  cards.mark(finding);
  if (!atOnce) cards.reveal(finding);
  void watch.showFinding(finding, atOnce);
}

// What to look at first: what is hit, else the first of the worst with a place.
function firstFinding(r: Report): number {
  const open = r.findings.map((f, i) => [f, i] as const).filter(([f, i]) => !f.accepted && r.scene.excerpts[i].order >= 0 && f.level !== "note");
  const hit = open.find(([f]) => f.rule === "hold-down-hit") ?? open.find(([f]) => f.level === "stop" && f.at) ?? open[0];
  return hit ? hit[1] : -1;
}

function head(): HTMLElement {
  const wording = new Wording(report), level = report.verdict === "clear" || report.verdict === "note" ? "clear" : report.verdict, { scene } = report;
  const counts = (["stop", "look", "note"] as const).map((l) => [l, report.findings.filter((f) => f.level === l && !f.accepted).length] as const).filter(([, n]) => n > 0);
  const accepted = report.findings.filter((f) => f.accepted).length;
  return h("header", { class: `head verdict-${level}` },
    h("div", { class: "verdict" }, levelIcon(level, 44), h("div", {}, h("p", { class: "verdict-word" }, verdictWord[report.verdict]), h("p", { class: "verdict-sentence" }, verdictSentence(report)))),
    h("div", { class: "job" }, h("h1", {}, report.job || "Job"),
      h("p", {}, [`Stock ${wording.given(...scene.stock.size)}, ${scene.stock.material}`, plural(scene.setups.length, "setup", "setups"), plural(report.programs.length, "program", "programs"), duration(report.time.total_s)].join(" · ")),
      h("p", { class: "counts" }, ...counts.flatMap(([l, n]) => [levelIcon(l, 16), l === "note" ? plural(n, "note", "notes") : `${n} ${l}`]), accepted > 0 && h("span", { class: "accepted-count" }, `${accepted} accepted`))),
    h("p", { class: "caution" }, caution));
}

// What to do first, and what could not be checked: beside the view, above the findings.
function firstThings(): HTMLElement[] {
  const first = report.findings.map((f, i) => [f, i] as const).filter(([f]) => !f.accepted && f.level === (report.verdict === "stop" ? "stop" : "look"));
  const worst = firstFinding(report), chosen = [...first.filter(([, i]) => i === worst), ...first.filter(([, i]) => i !== worst)].slice(0, 3);
  const out: HTMLElement[] = [];
  if (chosen.length > 0) {
    out.push(h("section", { class: `first level-${chosen[0][0].level}`, "aria-labelledby": "first-title" }, h("h2", { id: "first-title" }, "What to do first"), h("ol", {}, ...chosen.map(([f, i]) => h("li", {}, h("a", { href: `#finding-${i}`, click: (e: Event) => {
      e.preventDefault();
      select(i);
    } }, f.help || f.message), " ", h("code", {}, `${f.program ?? ""}${f.line ? `:${f.line}` : ""}`))))));
  }
  if (report.findings.length === 0 && report.complete) out.push(h("section", { class: "first level-clear", "aria-labelledby": "looked-title" }, h("h2", { id: "looked-title" }, "What was looked at"), h("ul", {}, ...lookedAt().map((t) => h("li", {}, t)))));
  if (report.not_checked.length > 0) out.push(h("section", { class: "first level-look not-checked", "aria-labelledby": "unchecked-title" }, h("h2", { id: "unchecked-title" }, "Not checked"), h("ul", {}, ...report.not_checked.map((t) => h("li", {}, t)))));
  return out;
}

function lookedAt(): string[] {
  const { scene } = report, moves = report.programs.reduce((n, p) => n + p.moves, 0);
  return [
    `${plural(report.programs.length, "program", "programs")}, read whole: ${plural(moves, "move", "moves")} in ${plural(scene.setups.length, "setup", "setups")}.`,
    scene.hold_downs.length > 0 ? `${plural(scene.hold_downs.length, "hold-down", "hold-downs")} against cutter, shank, collet nut and spindle on every move that they stand beside.` : "No hold-downs: the job lists none.",
    "Depth, floors, pieces and tabs, on the stock as each move finds it.",
    "Not the real zero, not what nobody listed, not a dull or a wrong bit: see the cautions.",
  ];
}

function build(): void {
  document.title = `${verdictWord[report.verdict]}: ${report.job || "job"}`;
  const chapters = [programsTable(report, (p) => player.seekIn(p, 0)), section("hold-downs", "Hold-downs", holdDownPlans(report)), partsTable(report), toolsTable(report), timeBars(report), quoteTable(report), cautions()].filter((c) => c !== null);
  const links = [["watch", "The cut"], ["findings", "Findings"], ...chapters.map((c) => [c.id, c.querySelector("h2")!.textContent!])];
  if (report.scene.assumed.length > 0) chapters[0].append(h("ul", { class: "quiet" }, ...report.scene.assumed.map((a) => h("li", {}, a))));
  byId("page").append(h("a", { class: "skip", href: "#findings" }, "To the findings"), head(),
    h("nav", { "aria-label": "On this page" }, h("ul", {}, ...links.map(([id, name]) => h("li", {}, h("a", { href: `#${id}` }, name))))),
    h("main", {}, h("div", { class: "prove" }, watch.element, h("div", { class: "beside" }, ...firstThings(), cards.element)), ...chapters),
    h("footer", {}, h("p", {}, "Made by provecut. Everything on this page is in this file; it asks nothing of any network.")));
}

async function show(): Promise<void> {
  let stage: Stage | undefined;
  try {
    stage = new Stage(watch.canvas, report);
    watch.start(stage);
  } catch (error) {
    watch.element.querySelector(".view")!.classList.add("without-graphics");
    watch.element.querySelector(".view")!.append(h("p", { class: "no-graphics" }, "This browser gives the page no WebGL 2, so the cut cannot be drawn. Everything else on the page is there."));
    console.info(error);
  }
  // The view comes first, then the pictures of the cards.
  void Promise.resolve(report.programs.length > 0 ? stage?.firstStill : undefined).then(() => cards.drawPicturesWhenSeen());
  const first = firstFinding(report);
  if (report.programs.length === 0) return;
  if (first >= 0) {
    select(first, true);
  } else {
    player.seek(player.total);
    const wait = (): void => {
      if (watch.ready) stage?.frameAll("front", true);
      else requestAnimationFrame(wait);
    };
    wait();
  }
  addEventListener("beforeprint", () => {
    for (const d of document.querySelectorAll("details")) if (!d.closest(".layers") && !d.closest(".card")) d.open = true;
    stage?.drawFine();
  });
}

build();
void show();
Object.assign(window, { provecut: { report, player, store, watch, cards } });
