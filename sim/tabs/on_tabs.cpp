#include "sim/tabs/on_tabs.h"

#include <algorithm>
#include <limits>
#include <map>
#include <optional>
#include <utility>

#include "sim/path/setup_frame.h"
#include "sim/pieces/holding.h"
#include "sim/pieces/piece_outline.h"
#include "sim/pieces/piece_size.h"
#include "sim/stock/dexel_replay.h"

namespace provecut::pieces {

namespace {

using cutting::Cell;

constexpr std::size_t max_web_cells = 60;  // whose last cut is looked for, about
// A piece that is less than so many times as large as the part is the part before something came off it. Our estimate,
// no source.
constexpr double hardly_larger = 1.5;

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
      std::any_of(held.begin(), held.end(), [&](int h) { return isUnderStock(cut.at.job.hold_downs[h].kind); });
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
  t.tabs_in_skin = f.tabs_in_skin;
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
std::vector<std::vector<int>> heldBesidesTabs(const ProgramCut& cut, const std::vector<TabbedPart>& parts) {
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

// The piece of the program without tabs that most of the part's dexels are in as it ends.
std::optional<std::size_t> pieceOf(const WithoutTabs& w, const TabbedPart& part) {
  std::map<std::size_t, std::size_t> count;
  for (const Cell c : part.cells) {
    if (const auto k = w.of_label[w.now.label[c]]) ++count[*k];
  }
  const auto most =
      std::max_element(count.begin(), count.end(), [](const auto& a, const auto& b) { return a.second < b.second; });
  return most == count.end() ? std::nullopt : std::optional(most->first);
}

// The move that left the part on its tabs: the one that parts it, but for them; none where that was before the program.
// What comes off it later, such as the slug of a hole, does not count.
std::optional<std::uint32_t> leftOnTabsBy(const WithoutTabs& w, const TabbedPart& part) {
  const std::vector<PartedPiece>& pieces = w.parting.pieces;
  auto k = pieceOf(w, part);
  if (!k) return {};
  while (pieces[*k].parent && pieces[*pieces[*k].parent].plan_area_mm2 < hardly_larger * part.shape.plan_area_mm2)
    k = pieces[*k].parent;
  return pieces[*k].parted_by;
}

// The last motion that cut some dexels, by some of these; 0: there are none.
std::uint32_t lastThatCut(const ProgramCut& cut, const std::vector<Cell>& cells) {
  cutting::DexelReplayer replayer(cut.after, cut.cutters, cut.at.job, cut.at.setup, cut.program.motions);
  std::uint32_t last = 0;
  for (std::size_t k = 0; k < cells.size(); k += cells.size() / max_web_cells + 1)
    last = std::max(last, motionThatCut(cut, replayer, cells[k]));
  return last;
}

// Which of the parts that are tabbed since earlier programs each dexel of this setup belongs to: their index + 1.
std::vector<Label> labelsOfTabbed(const ProgramAt& at, const cutting::DexelField& f,
                                  const std::vector<TabbedNow>& tabbed) {
  std::vector<Label> label(f.top.size(), 0);
  for (std::size_t k = 0; k < tabbed.size(); ++k) {
    for (const Cell cell : tabbed[k].cells) {
      if (const auto c = cellAt(f, at, stockPoint(tabbed[k], at.job.stock, cell)))
        label[*c] = static_cast<Label>(k + 1);
    }
  }
  return label;
}

// How many of some dexels belong to each part (0: to none).
std::map<Label, std::size_t> countsOf(const std::vector<Label>& part_of, const std::vector<Cell>& cells) {
  std::map<Label, std::size_t> counts;
  for (const Cell c : cells) ++counts[part_of[c]];
  return counts;
}

// The part that most of some dexels belong to; none: most belong to none.
std::optional<std::size_t> partOfMost(const std::vector<Label>& part_of, const std::vector<Cell>& cells) {
  for (const auto& [label, n] : countsOf(part_of, cells)) {
    if (label != 0 && 2 * n > cells.size()) return label - 1;
  }
  return {};
}

// As it was told, in the work coordinates of this setup.
Piece inSetup(const ProgramAt& at, const TabbedNow& t) {
  const Setup& told_in = *t.outline.setup;
  const auto here = [&](WorkPoint p) {
    return setupToWork(at.setup, setupToSetup(at.job.stock, told_in, at.setup, workToSetup(told_in, p)));
  };
  Piece p = t.piece;
  p.at = here(p.at);
  p.bounds = {};
  for (const WorkPoint corner : {t.piece.bounds.low, t.piece.bounds.high}) p.bounds.add(here(corner));
  for (Tab& tab : p.tabs) tab.at = here(tab.at);
  return p;
}

// True if the program cut into its tabs.
bool isCut(const ProgramCut& cut, const TabbedNow& t) {
  return std::any_of(t.web_cells.begin(), t.web_cells.end(), [&](Cell cell) {
    const auto c = cellAt(cut.after, cut.at, stockPoint(t, cut.at.job.stock, cell));
    return c && cutting::taken_mm(cut.before, cut.after, *c) > cutting::no_material_mm;
  });
}

}  // namespace

std::vector<std::optional<std::size_t>> whichAre(const std::vector<std::vector<Cell>>& sets,
                                                 const std::vector<Label>& part_of, std::size_t parts) {
  std::vector<std::size_t> size(parts, 0);
  for (const Label l : part_of) {
    if (l != 0) ++size[l - 1];
  }
  std::vector<std::optional<std::size_t>> are(parts);
  for (std::size_t k = 0; k < sets.size(); ++k) {
    for (const auto& [label, n] : countsOf(part_of, sets[k])) {
      if (label != 0 && 2 * n > size[label - 1] && sets[k].size() <= 2 * n) are[label - 1] = k;
    }
  }
  return are;
}

std::vector<std::size_t> toldPieces(const PartedCut& parted) {
  std::vector<std::size_t> pieces;
  for (std::size_t k = 0; k < parted.told.size(); ++k) {
    if (parted.told[k]) pieces.push_back(k);
  }
  return pieces;
}

void linkToPiece(const PartedCut& parted, std::size_t piece, Told on_tabs, ProgramRun& run) {
  if (const auto place = parted.told[piece]) run.pieces[*place].told_before = PieceRef{on_tabs.run, on_tabs.place};
}

void observeAbout(const ProgramCut& cut, const TabbedNow& now, MoveSpan moves, ProgramRun& run, PieceEvents& events) {
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

TabbedParts partsOnTabs(const ProgramCut& cut, const Pieces& pieces, std::span<const Cell> only) {
  return tabbedParts({cut.before, cut.after, pieces, grainInSetup(cut.at), widestCutter_mm(cut.at.job), cut.past, only},
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
  const std::vector<Label> was = labelsOfTabbed(cut.at, cut.after, were);
  const auto held = heldBesidesTabs(cut, parts);
  const WithoutTabs without = withoutTabs(cut, parts, run);
  for (std::size_t k = 0; k < parts.size(); ++k) {
    const TabbedPart& part = parts[k];
    PlanOutline outline = outlineOf(cut.after, cut.at.setup, part.cells);
    const std::vector<std::uint32_t> opened = openedRound(cut, part.cells, outline, opened_by);
    const auto left_by = leftOnTabsBy(without, part);
    Piece p = tell(cut, part.shape, held[k], left_by ? *left_by : lastThatCut(cut, part.web_cells));
    p.bounds = setupToWork(cut.at.setup, exactBox(cut.after, part.cells, part.shape.box));
    for (const std::uint32_t m : opened) p.beside.push_back({cut.at.run, m});
    for (const FoundTab& tab : part.tabs) p.tabs.push_back(tell(cut.at.setup, tab));
    if (const auto n = partOfMost(was, part.cells)) p.told_before = PieceRef{were[*n].told.run, were[*n].told.place};
    if (cut.at.outlines) p.outline = pieceOutline(cut.after, part.cells, cut.at.job.stock, cut.at.setup);
    TabbedNow now;
    now.told = {cut.at.run, run.pieces.size()};
    now.since = p.move + 1;
    now.held_by = held[k];
    now.tabs = totals(p.tabs);
    now.cells = part.cells;
    now.web_cells = part.web_cells;
    now.stride = cut.after.stride;
    now.outline = std::move(outline);
    now.piece = p;
    tabbed.push_back(std::move(now));
    run.pieces.push_back(std::move(p));
  }
}

void leaveOutKnown(const ProgramCut& cut, const std::vector<TabbedNow>& tabbed, std::vector<TabbedPart>& parts) {
  if (parts.empty() || tabbed.empty()) return;
  const std::vector<Label> known = labelsOfTabbed(cut.at, cut.after, tabbed);
  std::erase_if(parts, [&](const TabbedPart& p) { return partOfMost(known, p.cells).has_value(); });
}

bool cutsTabs(const ProgramCut& cut, const std::vector<TabbedNow>& tabbed) {
  return std::any_of(tabbed.begin(), tabbed.end(), [&](const TabbedNow& t) { return isCut(cut, t); });
}

std::vector<TabbedNow> observeCutTabs(const PartedCut& parted, ProgramRun& run, std::vector<TabbedNow>& tabbed,
                                      PieceEvents& events) {
  if (tabbed.empty()) return {};
  const ProgramCut& cut = parted.cut;
  const std::vector<Label> part_of = labelsOfTabbed(cut.at, cut.after, tabbed);
  const auto holds = holdsOf(cut.after, part_of, tabbed.size(), cut.at.job, cut.at.entry.hold_downs);
  // Those parted later stand before those that they came of: the last that fits was parted first.
  const std::vector<std::size_t> pieces = toldPieces(parted);
  const auto was = whichAre(cellsOf(parted.parting, parted.now, pieces), part_of, tabbed.size());
  std::vector<TabbedNow> kept, left;
  for (std::size_t k = 0; k < tabbed.size(); ++k) {
    TabbedNow& t = tabbed[k];
    if (!isCut(cut, t)) {
      left.push_back(std::move(t));
      continue;
    }
    if (!was[k]) {
      kept.push_back(std::move(t));
      continue;
    }
    const std::size_t piece = pieces[*was[k]];
    if (holds[k].empty()) observeAbout(cut, t, {0, *parted.parting.pieces[piece].parted_by}, run, events);
    linkToPiece(parted, piece, t.told, run);
  }
  tabbed = std::move(left);
  return kept;
}

void observeAboutKept(const ProgramCut& cut, const std::vector<TabbedNow>& were, const std::vector<TabbedNow>& tabbed,
                      ProgramRun& run, PieceEvents& events) {
  for (const TabbedNow& w : were) {
    if (!w.held_by.empty()) continue;
    const auto again = std::find_if(tabbed.begin(), tabbed.end(), [&](const TabbedNow& t) {
      return t.piece.told_before == PieceRef{w.told.run, w.told.place};
    });
    observeAbout(cut, w, {0, again == tabbed.end() ? std::numeric_limits<std::uint32_t>::max() : again->since}, run,
                 events);
  }
}

void observeAboutTabbed(const ProgramCut& cut, ProgramRun& run, const std::vector<TabbedNow>& tabbed,
                        PieceEvents& events) {
  for (const TabbedNow& now : tabbed) {
    if (!now.held_by.empty()) continue;
    const std::uint32_t first = now.told.run == cut.at.run ? now.since : 0;
    observeAbout(cut, now, {first, std::numeric_limits<std::uint32_t>::max()}, run, events);
  }
}

void observeReleasedTabbed(const ProgramAt& at, const cutting::DexelField& field, ProgramRun& run,
                           std::vector<TabbedNow>& tabbed) {
  if (tabbed.empty()) return;
  const auto holds = holdsOf(field, labelsOfTabbed(at, field, tabbed), tabbed.size(), at.job, at.entry.hold_downs);
  for (std::size_t k = 0; k < tabbed.size(); ++k) {
    TabbedNow& t = tabbed[k];
    const std::vector<int> held_before = std::exchange(t.held_by, namesOf(holds[k]));
    const bool told_so = t.piece.held_by_hold_downs.empty() && !t.piece.held_by_tape;
    if (held_before.empty() || !t.held_by.empty() || told_so) continue;
    Piece p = inSetup(at, t);
    p.move = 0;
    p.held_by_hold_downs.clear();
    p.held_by_tape = false;
    p.held_before = held_before;
    p.beside.clear();
    p.parent.reset();
    p.told_before = PieceRef{t.told.run, t.told.place};
    t.told = {at.run, run.pieces.size()};
    t.since = 0;
    t.piece.held_by_hold_downs.clear();
    t.piece.held_by_tape = false;
    run.pieces.push_back(std::move(p));
  }
}

}  // namespace provecut::pieces
