// Puts the page together and connects its parts.
import { Cards } from "./findings/cards";
import { byId, h } from "./elements/dom";
import { firstFinding, firstThings, head } from "./findings/head";
import { looseAt } from "./data/pieces";
import { holdDownPlans } from "./chapters/hold_down_plan";
import { Player } from "./watch/player";
import { readReport } from "./data/report_data";
import { Stage } from "./view/stage";
import { Store } from "./data/store";
import { PartsTable } from "./chapters/parts_table";
import { cautions, programsTable, quoteTable, section, toolsTable } from "./chapters/tables";
import { timeBars } from "./chapters/time_bars";
import { Watch } from "./watch/watch";

const report = readReport();
const player = new Player(report);
const store = new Store(report);
const watch = new Watch(report, store, player);
const parts = new PartsTable(report, (part) => {
  watch.element.scrollIntoView({ block: "nearest" });
  void watch.showPiece(part);
});
const cards = new Cards(report, store, (finding) => select(finding));
watch.onSelect = (finding) => select(finding);

player.onChange((moved) => {
  if (moved) parts.mark(looseAt(report.scene, player.program, player.timeInProgram));
});

function select(finding: number, atOnce = false): void {
  cards.mark(finding);
  if (!atOnce) cards.reveal(finding);
  void watch.showFinding(finding, atOnce);
}

function chapters(): HTMLElement[] {
  const programs = programsTable(report, (p) => player.seekIn(p, 0));
  const { assumed } = report.scene;
  if (assumed.length > 0) programs.append(h("ul", { class: "quiet" }, ...assumed.map((a) => h("li", {}, a))));
  return [
    programs,
    section("hold-downs", "Hold-downs", holdDownPlans(report)),
    parts.element,
    toolsTable(report),
    timeBars(report),
    quoteTable(report),
    cautions(report),
  ].filter((c) => c !== null);
}

function build(): void {
  document.title = `${report.scene.words.verdict}: ${report.job || "job"}`;
  const shown = chapters();
  const links = [
    ["watch", "Replay"],
    ["findings", "Findings"],
    ...shown.map((c) => [c.id, c.querySelector("h2")!.textContent!]),
  ];
  const items = links.map(([id, name]) => h("li", {}, h("a", { href: `#${id}` }, name)));
  const beside = h("div", { class: "beside" }, ...firstThings(report, cards, select), cards.element);
  byId("page").append(
    h("a", { class: "skip", href: "#findings" }, "Skip to the findings"),
    head(report),
    h("nav", { "aria-label": "On this page" }, h("ul", {}, ...items)),
    h("main", {}, h("div", { class: "check" }, watch.element, beside), ...shown),
    h("footer", {}, h("p", {}, "Made by provecut. The whole page is in this one file and works offline.")),
  );
}

// The view, where the browser can draw one.
function makeStage(): Stage | undefined {
  try {
    const stage = new Stage(watch.canvas, report);
    watch.start(stage);
    return stage;
  } catch (error) {
    const view = watch.element.querySelector(".view")!;
    const words = "This browser has no WebGL 2, so there is no 3D view. The rest of the report is complete.";
    view.classList.add("without-graphics");
    view.append(h("p", { class: "no-graphics" }, words));
    console.info(error);
    return undefined;
  }
}

// Without a finding to show: the whole stock at the end of the job.
function showEnd(stage: Stage | undefined): void {
  player.seek(player.total);
  const wait = (): void => {
    if (watch.ready) stage?.frameAll("front", true);
    else requestAnimationFrame(wait);
  };
  wait();
}

function openForPrint(stage: Stage | undefined): void {
  for (const d of document.querySelectorAll("details")) {
    if (!d.closest(".layers") && !d.closest(".card") && !d.matches(".gone")) d.open = true;
  }
  stage?.drawFine();
}

function show(): void {
  const stage = makeStage();
  // The view comes first, then the pictures of the cards.
  const drawn = report.programs.length > 0 ? stage?.firstStill : undefined;
  void Promise.resolve(drawn).then(() => cards.drawPicturesWhenSeen());
  if (report.programs.length === 0) return;
  const first = firstFinding(report);
  if (first >= 0) select(first, true);
  else showEnd(stage);
  addEventListener("beforeprint", () => openForPrint(stage));
}

build();
show();
// For the console of the browser, and for tests.
Object.assign(window, { provecut: { report, player, store, watch } });
