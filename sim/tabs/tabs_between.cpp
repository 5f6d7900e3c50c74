#include "sim/tabs/tabs_between.h"

#include <algorithm>
#include <iterator>
#include <span>

#include "parser/base/check.h"
#include "sim/stock/cut.h"
#include "sim/stock/cut_gaps.h"
#include "sim/tabs/tab_stages.h"

namespace provecut::pieces {

namespace {

using cutting::Cell;

// Of a candidate, by which its part is known at a stage.
constexpr std::size_t some_cells = 16;
// Of all stages that are looked at: a few seconds.
constexpr std::size_t max_stage_dexels = 200'000'000;

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

// The candidates of a program: the pieces that it parts, then the parts that it leaves on tabs.
struct Candidates {
  std::vector<std::size_t> pieces;       // indices into Parting::pieces
  std::vector<std::vector<Cell>> cells;  // of each candidate
  std::vector<LaterCut> cuts;
};

Candidates candidatesOf(const PartedCut& parted, const std::vector<TabbedPart>& tabbed, const OpenedBy& opened_by) {
  Candidates c;
  c.pieces = toldPieces(parted);
  c.cells = cellsOf(parted.parting, parted.now, c.pieces);
  for (const TabbedPart& part : tabbed) c.cells.push_back(part.cells);
  Mask in(parted.cut.after.top.size(), 0);
  for (const std::vector<Cell>& cells : c.cells) c.cuts.push_back(laterCut(parted.cut, cells, opened_by, in));
  for (std::size_t k = 0; k < c.pieces.size(); ++k) c.cuts[k].by = *parted.parting.pieces[c.pieces[k]].parted_by;
  return c;
}

// Of the parts on tabs at a stage those that are its candidates; and which.
struct AtStage {
  std::vector<TabbedPart> parts;
  std::vector<std::size_t> candidates;
};

AtStage thoseAtStage(const Candidates& candidates, const TabStage& stage, std::vector<TabbedPart> parts,
                     std::size_t dexels) {
  // A skin may be what is left on the way down: it holds all round, as the pass before it did.
  std::erase_if(parts, [](const TabbedPart& p) {
    return std::any_of(p.tabs.begin(), p.tabs.end(), [](const FoundTab& t) { return t.onion_skin; });
  });
  std::vector<Label> part_of(dexels, 0);
  for (std::size_t k = 0; k < parts.size(); ++k) {
    for (const Cell c : parts[k].cells) part_of[c] = static_cast<Label>(k + 1);
  }
  std::vector<std::vector<Cell>> sets;
  for (const AtTabStage& k : stage.those) sets.push_back(candidates.cells[k.candidate]);
  const auto are = whichAre(sets, part_of, parts.size());
  AtStage at;
  for (std::size_t k = 0; k < parts.size(); ++k) {
    if (!are[k]) continue;
    at.parts.push_back(std::move(parts[k]));
    at.candidates.push_back(stage.those[*are[k]].candidate);
  }
  return at;
}

// The stages of a program while they are looked at, one after the other.
struct Stages {
  const PartedCut& parted;
  const Candidates& candidates;
  std::span<const TabStage> list;
  CutSoFar so_far;
  std::vector<std::optional<TabbedNow>> last;  // per candidate, as it was told last
};

// The moves for which a candidate is on the tabs of a stage end here.
std::uint32_t untilOf(const Stages& s, std::size_t stage, std::size_t candidate) {
  for (const TabStage& later : s.list.subspan(stage + 1)) {
    for (const AtTabStage& k : later.those) {
      if (k.candidate == candidate) return k.begin;
    }
  }
  return s.candidates.cuts[candidate].by;
}

std::vector<Cell> someCells(const Stages& s, const TabStage& stage) {
  std::vector<Cell> some;
  for (const AtTabStage& k : stage.those) {
    const std::vector<Cell>& cells = s.candidates.cells[k.candidate];
    for (std::size_t n = 0; n < cells.size(); n += cells.size() / some_cells + 1) some.push_back(cells[n]);
  }
  return some;
}

void observeStage(Stages& s, std::size_t which, ProgramRun& run, PieceEvents& events) {
  const ProgramCut& whole = s.parted.cut;
  const TabStage& stage = s.list[which];
  cutOn(whole, stage.end, s.so_far);
  const ProgramCut cut{whole.at,
                       s.so_far.program,
                       whole.cutters,
                       whole.before,
                       s.so_far.after,
                       s.so_far.contacts,
                       {whole.at.job, whole.cutters, s.so_far.past},
                       whole.other_side_zero_on_top};
  const Pieces pieces = labelPieces(cut.after);
  const AtStage at =
      thoseAtStage(s.candidates, stage, partsOnTabs(cut, pieces, someCells(s, stage)).tabbed, cut.after.top.size());
  std::vector<TabbedNow> tabbed;
  observeTabbed(cut, at.parts, {}, openedBy(cut), run, tabbed);
  for (std::size_t k = 0; k < tabbed.size(); ++k) {
    const std::size_t candidate = at.candidates[k];
    std::optional<TabbedNow>& last = s.last[candidate];
    if (last) run.pieces[tabbed[k].told.place].told_before = PieceRef{last->told.run, last->told.place};
    if (tabbed[k].held_by.empty())
      observeAbout(whole, tabbed[k], {tabbed[k].since, untilOf(s, which, candidate)}, run, events);
    last = std::move(tabbed[k]);
  }
}

}  // namespace

TabsBetween observeTabsBetween(const PartedCut& parted, const std::vector<TabbedPart>& tabbed,
                               const OpenedBy& opened_by, ProgramRun& run, PieceEvents& events) {
  const Candidates candidates = candidatesOf(parted, tabbed, opened_by);
  std::vector<TabStage> stages = tabStages(parted.cut, candidates.cuts, run.cuts);
  TabsBetween between;
  if (stages.empty()) return between;
  const std::size_t max_stages = std::max<std::size_t>(1, max_stage_dexels / parted.cut.after.top.size());
  if (stages.size() > max_stages) {
    between.looked_at = max_stages;
    stages.resize(max_stages);
  }
  Stages s{parted, candidates, stages, {}, {}};
  s.so_far.past.assign(parted.cut.past.programs.begin(), parted.cut.past.programs.end());
  s.so_far.past.back().program = &s.so_far.program;
  s.last.resize(candidates.cells.size());
  for (std::size_t k = 0; k < stages.size(); ++k) observeStage(s, k, run, events);
  for (std::size_t k = 0; k < s.last.size(); ++k) {
    if (!s.last[k]) continue;
    if (k < candidates.pieces.size()) {
      linkToPiece(parted, candidates.pieces[k], s.last[k]->told, run);
    } else {
      between.kept.push_back(std::move(*s.last[k]));
    }
  }
  return between;
}

}  // namespace provecut::pieces
