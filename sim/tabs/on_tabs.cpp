#include "sim/tabs/on_tabs.h"

#include <algorithm>
#include <limits>
#include <map>
#include <optional>

#include "parser/base/check.h"
#include "sim/path/setup_frame.h"
#include "sim/pieces/holding.h"
#include "sim/pieces/piece_outline.h"
#include "sim/stock/cut.h"
#include "sim/stock/cut_gaps.h"
#include "sim/stock/dexel_replay.h"
#include "sim/tabs/tab_stages.h"

namespace provecut::pieces {

namespace {

using cutting::Cell;

constexpr std::size_t max_web_cells = 60;  // whose last cut is looked for, about
constexpr std::size_t max_stages = 6;      // of a program, that are looked at

// Of length 1 along the grain; (0, 0): none.
SetupDirection2 grainInSetup(const ProgramAt& at) {
  if (at.job.stock.grain == Grain::none) return {};
  const StockDirection2 along = at.job.stock.grain == Grain::x ? StockDirection2{1, 0} : StockDirection2{0, 1};
  return stockToSetup(at.job.stock, at.setup, along);
}

// What was found, in the setup frame, as it is told: in work coordinates.
Piece tell(const ProgramCut& cut, const PieceShape& shape, const std::vector<int>& held, std::uint32_t move) {
  Piece p;
  p.move = move;
  p.volume_mm3 = shape.volume_mm3;
  p.plan_area_mm2 = shape.plan_area_mm2;
  p.bounds = setupToWork(cut.at.setup, shape.box);
  p.at = setupToWork(cut.at.setup, cellCentre(cut.after, shape.seed));
  p.held_by_hold_downs = held;
  p.held_by_tape =
      std::any_of(held.begin(), held.end(), [&](int h) { return cut.at.job.hold_downs[h].kind == HoldDownKind::tape; });
  return p;
}

Tab tell(const Setup& setup, const FoundTab& f) {
  Tab t;
  t.at = setupToWork(setup, f.at);
  t.length_mm = f.length_mm;
  t.thickness_mm = f.thickness_mm;
  t.area_mm2 = f.area_mm2;
  t.kerf_mm = f.kerf_mm;
  t.grain_deg = f.grain_deg;
  t.along_grain = f.along_grain;
  t.onion_skin = f.onion_skin;
  return t;
}

TabTotals totals(const std::vector<Tab>& tabs) {
  TabTotals all;
  for (const Tab& t : tabs) {
    if (t.onion_skin) {
      all.skin_mm = t.thickness_mm;
    } else {
      ++all.tabs;
    }
    all.area_mm2 += t.area_mm2;
  }
  return all;
}

// What holds the parts themselves, apart from their tabs.
std::vector<std::vector<int>> heldAlone(const ProgramCut& cut, const std::vector<TabbedPart>& parts) {
  Pieces alone;
  alone.label.assign(cut.after.top.size(), 0);
  for (const TabbedPart& part : parts) {
    alone.shapes.push_back(part.shape);
    for (const Cell c : part.cells) alone.label[c] = static_cast<Label>(alone.shapes.size());
  }
  return heldBy(cut.after, alone, cut.at.job, cut.at.entry.hold_downs);
}

// The pieces of the program as if the tabs had never been there: what parts then is left on them.
struct WithoutTabs {
  Pieces was, now;
  Parting parting;
  std::vector<std::optional<std::size_t>> of_label;  // per label of `now`: which of the pieces
};

WithoutTabs withoutTabs(const ProgramCut& cut, const std::vector<TabbedPart>& parts, const ProgramRun& run) {
  const Mask webs = webMask(cut.after, parts);
  WithoutTabs w{labelPieces(cut.before, &webs), labelPieces(cut.after, &webs), {}, {}};
  w.parting = partingOf({cut.before, cut.after, w.was, w.now, cut.contacts, cut.at.job, {}, lastCut(cut.program, run)});
  w.of_label.resize(w.now.shapes.size() + 1);
  for (std::size_t k = 0; k < w.parting.pieces.size(); ++k) {
    if (const Label l = w.parting.pieces[k].now; l != 0) w.of_label[l] = k;
  }
  return w;
}

// The move that left the part on its tabs: the one that parts it from what it is held by, but for them; none where that
// was before the program.
std::optional<std::uint32_t> leftOnTabsBy(const WithoutTabs& w, const TabbedPart& part) {
  const std::vector<PartedPiece>& pieces = w.parting.pieces;
  const auto at = [&](Cell c) { return w.of_label[w.now.label[c]]; };
  const auto own_cell = std::find_if(part.cells.begin(), part.cells.end(), [&](Cell c) { return at(c).has_value(); });
  if (own_cell == part.cells.end() || !at(part.held_at)) return {};
  std::vector<bool> above(pieces.size(), false);  // pieces that held what holds it
  for (std::optional<std::size_t> k = at(part.held_at); k; k = pieces[*k].parent) above[*k] = true;
  std::size_t k = *at(*own_cell);
  while (pieces[k].parent && !above[*pieces[k].parent]) k = *pieces[k].parent;
  return pieces[k].parted_by;
}

// The motions that cut some dexels last, by some of them; at least one.
std::vector<std::uint32_t> motionsThatCut(const ProgramCut& cut, const std::vector<Cell>& cells) {
  if (cells.empty()) return {0};
  cutting::DexelReplayer replayer(cut.after, cut.cutters, cut.at.job, cut.at.setup, cut.program.motions);
  std::vector<std::uint32_t> motions;
  for (std::size_t k = 0; k < cells.size(); k += cells.size() / max_web_cells + 1)
    motions.push_back(motionThatCut(cut, replayer, cells[k]));
  return motions;
}

// Which of the parts that are tabbed since earlier programs each dexel of this setup belongs to: their index + 1.
std::vector<Label> labelsOfTabbed(const ProgramCut& cut, const std::vector<TabbedNow>& tabbed) {
  std::vector<Label> label(cut.after.top.size(), 0);
  for (std::size_t k = 0; k < tabbed.size(); ++k) {
    for (const Cell cell : tabbed[k].cells) {
      if (const auto c = cellAt(cut.after, cut.at, stockPoint(tabbed[k], cut.at.job.stock, cell)))
        label[*c] = static_cast<Label>(k + 1);
    }
  }
  return label;
}

// Most of the parts' dexels are in a piece that is hardly larger: the move that parts the first such piece. None: the
// program does not part it.
std::vector<std::optional<std::size_t>> piecesThatWere(const PartedCut& p, const std::vector<Label>& part_of,
                                                       std::size_t parts) {
  std::vector<std::size_t> size(parts, 0), parted;
  for (const Label l : part_of) {
    if (l != 0) ++size[l - 1];
  }
  // Later ones are before those that they came of: the last that fits was parted first.
  for (std::size_t k = 0; k < p.parting.pieces.size(); ++k) {
    if (p.parting.pieces[k].parted_by) parted.push_back(k);
  }
  std::vector<std::optional<std::size_t>> was(parts);
  const auto cells = cellsOf(p.parting, p.now, parted);
  for (std::size_t k = 0; k < parted.size(); ++k) {
    std::map<Label, std::size_t> count;
    for (const Cell c : cells[k]) ++count[part_of[c]];
    for (const auto& [label, n] : count) {
      if (label != 0 && 2 * n > size[label - 1] && cells[k].size() <= 2 * n) was[label - 1] = parted[k];
    }
  }
  return was;
}

// The part on tabs and the piece that it became are one.
void link(const PartedCut& parted, std::size_t piece, Told on_tabs, ProgramRun& run) {
  if (const auto place = parted.told[piece]) run.pieces[*place].on_tabs_before = PieceRef{on_tabs.run, on_tabs.place};
}

// Of parts that some dexels belong to (their index + 1) the one that most of these do; none: most belong to none.
std::optional<std::size_t> partOfMost(const std::vector<Label>& part_of, const std::vector<Cell>& cells) {
  std::map<Label, std::size_t> count;
  for (const Cell c : cells) ++count[part_of[c]];
  for (const auto& [label, n] : count) {
    if (label != 0 && 2 * n > cells.size()) return label - 1;
  }
  return {};
}

// What the moves of a span cut beside the part and in it.
void tellAbout(const ProgramCut& cut, const TabbedNow& now, MoveSpan moves, ProgramRun& run, PieceEvents& events) {
  const CutsAbout about = cutsAbout(now.outline, cut.at.job, cut.at.setup, cut.program, run.cuts, moves);
  for (const std::uint32_t m : about.beside) events.cut_beside.push_back({now.told, {cut.at.run, m}});
  if (about.within.empty()) return;
  for (const std::uint32_t m : about.within) {
    const Motion& motion = cut.program.motions[m];
    // Straight down the bit pushes the part onto the spoilboard, not off its tabs.
    if (motion.start.x != motion.end.x || motion.start.y != motion.end.y)
      events.cut_beside.push_back({now.told, {cut.at.run, m}});
  }
  const Motion& first = cut.program.motions[about.within.front()];
  run.cuts_in_tabbed.push_back({about.within.front(), about.within.back(),
                                static_cast<std::uint32_t>(about.within.size()), first.end, now.told.run,
                                now.told.place});
}

// A program as far as some move.
struct CutSoFar {
  Program program;
  cutting::ContactLog contacts;
  std::vector<cutting::PastCut> past;
  cutting::DexelField after;
};

// Cuts on to the motion `end`; the first time all programs from the start.
void cutOn(const ProgramCut& cut, std::uint32_t end, CutSoFar& c) {
  const std::vector<Motion>& motions = cut.program.motions;
  const std::size_t begin = c.program.motions.size();
  c.program.motions.assign(motions.begin(), motions.begin() + end);
  c.contacts = cut.contacts;
  while (!c.contacts.list.empty() && c.contacts.list.back().motion >= end) {
    const cutting::ContactLoss& loss = c.contacts.list.back();
    c.contacts.lost[loss.cell] &= static_cast<cutting::Lost>(~loss.lost);
    c.contacts.list.pop_back();
  }
  const cutting::PastCut& whole = cut.past.programs.back();
  c.past.back().reach.assign(whole.reach.begin(), whole.reach.begin() + end);
  const cutting::PastCuts past{cut.at.job, cut.cutters, c.past};
  if (begin == 0) {
    const cutting::DexelField& f = cut.after;
    c.after = cutting::closeUp(past, cutting::placeOf(past, {0, 0}, {f.nx * f.cell_x_mm, f.ny * f.cell_y_mm}),
                               {f.cell_x_mm, f.cell_y_mm});
    CHECK(c.after.nx == f.nx && c.after.ny == f.ny);
    return;
  }
  const std::span<const Motion> next = std::span(motions).subspan(begin, end - begin);
  cutting::cutProgram(c.after, cut.cutters, cut.at.job, cut.at.setup, next, {.measured = false});
  cutting::cutGaps(c.after, cut.cutters, cut.at.job, cut.at.setup, next, nullptr);
}

// Of a stage's parts those that its pieces will be, and which piece each is.
std::vector<std::size_t> keepThoseParted(const PartedCut& parted, const TabStage& stage,
                                         std::vector<TabbedPart>& parts) {
  std::vector<Label> part_of(parted.cut.after.top.size(), 0);
  for (std::size_t k = 0; k < parts.size(); ++k) {
    for (const Cell c : parts[k].cells) part_of[c] = static_cast<Label>(k + 1);
  }
  const auto was = piecesThatWere(parted, part_of, parts.size());
  std::vector<TabbedPart> kept;
  std::vector<std::size_t> pieces;
  for (std::size_t k = 0; k < parts.size(); ++k) {
    if (!was[k] || std::find(stage.pieces.begin(), stage.pieces.end(), *was[k]) == stage.pieces.end()) continue;
    kept.push_back(std::move(parts[k]));
    pieces.push_back(*was[k]);
  }
  parts = std::move(kept);
  return pieces;
}

void observeStage(const PartedCut& parted, const TabStage& stage, CutSoFar& so_far, ProgramRun& run,
                  PieceEvents& events) {
  const ProgramCut& whole = parted.cut;
  cutOn(whole, stage.end, so_far);
  const ProgramCut cut{whole.at,
                       so_far.program,
                       whole.cutters,
                       whole.before,
                       so_far.after,
                       so_far.contacts,
                       {whole.at.job, whole.cutters, so_far.past},
                       whole.other_side_zero_on_top};
  std::vector<TabbedPart> parts = partsOnTabs(cut, labelPieces(so_far.after)).tabbed;
  // A skin may be what is left on the way down: it holds all round, as the pass before it did.
  std::erase_if(parts, [](const TabbedPart& p) {
    return std::any_of(p.tabs.begin(), p.tabs.end(), [](const FoundTab& t) { return t.onion_skin; });
  });
  const std::vector<std::size_t> pieces = keepThoseParted(parted, stage, parts);
  std::vector<TabbedNow> tabbed;
  observeTabbed(cut, parts, {}, openedBy(cut), run, tabbed);
  for (std::size_t k = 0; k < tabbed.size(); ++k) {
    link(parted, pieces[k], tabbed[k].told, run);
    const std::uint32_t parted_by = *parted.parting.pieces[pieces[k]].parted_by;
    tellAbout(whole, tabbed[k], {tabbed[k].move + 1, parted_by}, run, events);
  }
}

}  // namespace

TabbedParts partsOnTabs(const ProgramCut& cut, const Pieces& pieces) {
  double kerf_mm = 0;
  for (const Tool& t : cut.at.job.tools) kerf_mm = std::max(kerf_mm, t.diameter_mm);
  return tabbedParts({cut.before, cut.after, pieces, grainInSetup(cut.at), kerf_mm, cut.past},
                     [&](const Pieces& apart) {
                       std::vector<bool> held;
                       for (const auto& by : heldBy(cut.after, apart, cut.at.job, cut.at.entry.hold_downs))
                         held.push_back(!by.empty());
                       return held;
                     });
}

void observeTabbed(const ProgramCut& cut, const std::vector<TabbedPart>& parts, const std::vector<TabbedNow>& were,
                   const OpenedBy& opened_by, ProgramRun& run, std::vector<TabbedNow>& tabbed) {
  if (parts.empty()) return;
  const std::vector<Label> part_of = labelsOfTabbed(cut, were);
  const auto held = heldAlone(cut, parts);
  const WithoutTabs without = withoutTabs(cut, parts, run);
  for (std::size_t k = 0; k < parts.size(); ++k) {
    const TabbedPart& part = parts[k];
    PlanOutline outline = outlineOf(cut.after, cut.at.setup, part.cells);
    const std::vector<std::uint32_t> opened = openedRound(cut, part.cells, outline, opened_by);
    const auto left_by = leftOnTabsBy(without, part);
    Piece p =
        tell(cut, part.shape, held[k], left_by ? *left_by : std::ranges::max(motionsThatCut(cut, part.web_cells)));
    for (const std::uint32_t m : opened) p.beside.push_back({cut.at.run, m});
    for (const FoundTab& tab : part.tabs) p.tabs.push_back(tell(cut.at.setup, tab));
    if (const auto k_were = partOfMost(part_of, part.cells))
      p.on_tabs_before = PieceRef{were[*k_were].told.run, were[*k_were].told.place};
    if (cut.at.outlines) p.outline = pieceOutline(cut.after, part.cells, cut.at.job.stock, cut.at.setup);
    TabbedNow now;
    now.told = {cut.at.run, run.pieces.size()};
    now.move = p.move;
    now.tabs = totals(p.tabs);
    now.cells = part.cells;
    now.web_cells = part.web_cells;
    now.stride = cut.after.stride;
    now.outline = std::move(outline);
    tabbed.push_back(std::move(now));
    run.pieces.push_back(std::move(p));
  }
}

void leaveOutKnown(const ProgramCut& cut, const std::vector<TabbedNow>& tabbed, std::vector<TabbedPart>& parts) {
  if (parts.empty() || tabbed.empty()) return;
  const std::vector<Label> known = labelsOfTabbed(cut, tabbed);
  std::erase_if(parts, [&](const TabbedPart& p) { return partOfMost(known, p.cells).has_value(); });
}

std::vector<TabbedNow> observeCutTabs(const PartedCut& parted, ProgramRun& run, std::vector<TabbedNow>& tabbed,
                                      PieceEvents& events) {
  if (tabbed.empty()) return {};
  const ProgramCut& cut = parted.cut;
  const std::vector<Label> part_of = labelsOfTabbed(cut, tabbed);
  const auto holds = holdsOf(cut.after, part_of, tabbed.size(), cut.at.job, cut.at.entry.hold_downs);
  const auto was = piecesThatWere(parted, part_of, tabbed.size());
  std::vector<TabbedNow> cut_now, left;
  for (std::size_t k = 0; k < tabbed.size(); ++k) {
    TabbedNow& t = tabbed[k];
    std::vector<Cell> hit;
    for (const Cell cell : t.web_cells) {
      const auto c = cellAt(cut.after, cut.at, stockPoint(t, cut.at.job.stock, cell));
      if (c && cutting::taken_mm(cut.before, cut.after, *c) > cutting::no_material_mm) hit.push_back(*c);
    }
    if (hit.empty()) {
      left.push_back(std::move(t));
      continue;
    }
    if (holds[k].empty()) events.tabs_cut.push_back({t.told, {cut.at.run, std::ranges::min(motionsThatCut(cut, hit))}});
    if (was[k]) {
      tellAbout(cut, t, {0, *parted.parting.pieces[*was[k]].parted_by}, run, events);
      link(parted, *was[k], t.told, run);
    }
    cut_now.push_back(std::move(t));
  }
  tabbed = std::move(left);
  return cut_now;
}

bool observeTabsBetween(const PartedCut& parted, ProgramRun& run, PieceEvents& events) {
  std::vector<TabStage> stages = tabStages(parted.cut, parted.now, parted.parting, openedBy(parted.cut), run.cuts);
  if (stages.empty()) return true;
  const bool all = stages.size() <= max_stages;
  if (!all) stages.resize(max_stages);
  CutSoFar so_far{{}, {}, {parted.cut.past.programs.begin(), parted.cut.past.programs.end()}, {}};
  so_far.past.back().program = &so_far.program;
  for (const TabStage& stage : stages) observeStage(parted, stage, so_far, run, events);
  return all;
}

void observeAboutTabbed(const ProgramCut& cut, ProgramRun& run, const std::vector<TabbedNow>& tabbed,
                        PieceEvents& events) {
  for (const TabbedNow& now : tabbed) {
    const std::uint32_t first = now.told.run == cut.at.run ? now.move + 1 : 0;
    tellAbout(cut, now, {first, std::numeric_limits<std::uint32_t>::max()}, run, events);
  }
}

}  // namespace provecut::pieces
