#include "sim/tabs/tabs_between.h"

#include <algorithm>
#include <span>

#include "parser/base/check.h"
#include "sim/stock/cut.h"
#include "sim/stock/cut_gaps.h"
#include "sim/tabs/tab_stages.h"

namespace provecut::pieces {

namespace {

using cutting::Cell;

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

// Keeps the parts that become the stage's pieces; gives the piece of each.
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
    linkToPiece(parted, pieces[k], tabbed[k].told, run);
    const std::uint32_t parted_by = *parted.parting.pieces[pieces[k]].parted_by;
    observeAbout(whole, tabbed[k], {tabbed[k].move + 1, parted_by}, run, events);
  }
}

}  // namespace

bool observeTabsBetween(const PartedCut& parted, const OpenedBy& opened_by, ProgramRun& run, PieceEvents& events) {
  std::vector<TabStage> stages = tabStages(parted.cut, parted.now, parted.parting, opened_by, run.cuts);
  if (stages.empty()) return true;
  const bool all = stages.size() <= max_stages;
  if (!all) stages.resize(max_stages);
  CutSoFar so_far{{}, {}, {parted.cut.past.programs.begin(), parted.cut.past.programs.end()}, {}};
  so_far.past.back().program = &so_far.program;
  for (const TabStage& stage : stages) observeStage(parted, stage, so_far, run, events);
  return all;
}

}  // namespace provecut::pieces
