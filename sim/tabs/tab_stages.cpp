#include "sim/tabs/tab_stages.h"

#include <algorithm>

#include "sim/path/motion_extent.h"
#include "sim/path/setup_frame.h"
#include "sim/stock/dexel_walk.h"
#include "sim/tabs/regions.h"

namespace provecut::pieces {

namespace {

using cutting::Cell;

// A side of an outline, and the motion (index + 1) that opened it; 0: it was open before.
struct OutlineSide {
  std::uint32_t by = 0;
  double mm = 0;
};

// Those that are open, in order of time.
std::vector<OutlineSide> openSides(const ProgramCut& cut, const OpenedBy& opened_by, std::span<const Cell> cells,
                                   Mask& in) {
  std::vector<OutlineSide> sides;
  for (const Cell c : cells) in[c] = 1;
  for (const Cell c : cells) {
    cutting::beside(cut.after, c, [&](Cell n) {
      if (in[n] || cutting::overlap_mm(cut.after, c, n) > cutting::no_material_mm) return;
      sides.push_back({openedSide(opened_by, c, n), cutting::sideLength_mm(cut.after, c, n)});
    });
  }
  for (const Cell c : cells) in[c] = 0;
  std::sort(sides.begin(), sides.end(), [](const OutlineSide& a, const OutlineSide& b) { return a.by < b.by; });
  return sides;
}

// How many motions have run as enough of the outline is open for the rest to be tabs.
std::uint32_t openEnoughAfter(const std::vector<OutlineSide>& sides) {
  double all_mm = 0, open_mm = 0;
  for (const OutlineSide& s : sides) all_mm += s.mm;
  for (const OutlineSide& s : sides) {
    open_mm += s.mm;
    if (open_mm >= least_open_share * all_mm) return s.by;
  }
  return 0;
}

// Per motion the first of its stretch: from one rapid, or way above the stock, to the next.
std::vector<std::uint32_t> stretchBegins(const ProgramCut& cut) {
  const std::vector<Motion>& motions = cut.program.motions;
  std::vector<std::uint32_t> begins(motions.size());
  std::uint32_t begin = 0;
  for (std::uint32_t m = 0; m < motions.size(); ++m) {
    const bool away = motions[m].kind == MotionKind::rapid ||
                      workToSetup(cut.at.setup, motionExtent(motions[m]).low).z >= cut.after.thickness_mm;
    if (away) begin = m + 1;
    begins[m] = std::min(begin, m);
  }
  return begins;
}

// While a candidate may be on the same tabs: how many motions have run.
struct WhileOnTabs {
  std::size_t candidate = 0;
  std::uint32_t begin = 0, end = 0;
};

std::uint32_t openedLastBefore(const std::vector<OutlineSide>& sides, std::uint32_t motion) {
  const auto later = std::upper_bound(sides.begin(), sides.end(), motion,
                                      [](std::uint32_t m, const OutlineSide& s) { return m < s.by; });
  return later == sides.begin() ? 0 : std::prev(later)->by;
}

// The spans of one candidate: where the program first and last begins to cut into it.
void addSpans(const ProgramCut& cut, const std::vector<MoveCut>& cuts, const std::vector<std::uint32_t>& stretch_begins,
              const LaterCut& candidate, const std::vector<OutlineSide>& sides, WhileOnTabs span,
              std::vector<WhileOnTabs>& spans) {
  const std::uint32_t open = openEnoughAfter(sides);
  if (open == 0 || open > candidate.by) return;  // since an earlier program, or never
  const PlanOutline outline = outlineOf(cut.after, cut.at.setup, candidate.cells);
  const std::vector<std::uint32_t> within =
      cutsAbout(outline, cut.at.job, cut.at.setup, cut.program, cuts, {open, candidate.by}).within;
  if (within.empty()) return;
  for (const std::uint32_t m : {within.front(), within.back()}) {
    span.end = std::max(open, stretch_begins[m]);
    const std::uint32_t begin = openedLastBefore(sides, span.end);
    if (begin == span.begin) continue;  // on the same tabs as at the first
    span.begin = begin;
    spans.push_back(span);
  }
}

// As few moments as meet all spans: where the first ends that is not met yet.
std::vector<TabStage> asFewAsMeet(std::vector<WhileOnTabs> spans) {
  std::sort(spans.begin(), spans.end(), [](const WhileOnTabs& a, const WhileOnTabs& b) { return a.end < b.end; });
  std::vector<TabStage> stages;
  for (const WhileOnTabs& s : spans) {
    if (stages.empty() || s.begin > stages.back().end) stages.push_back({s.end, {}});
    stages.back().those.push_back(s.candidate);
  }
  return stages;
}

}  // namespace

std::vector<TabStage> tabStages(const ProgramCut& cut, std::span<const LaterCut> candidates, const OpenedBy& opened_by,
                                const std::vector<MoveCut>& cuts) {
  if (candidates.empty()) return {};
  const std::vector<std::uint32_t> stretch_begins = stretchBegins(cut);
  Mask in(cut.after.top.size(), 0);
  std::vector<WhileOnTabs> spans;
  for (std::size_t k = 0; k < candidates.size(); ++k) {
    const std::vector<OutlineSide> sides = openSides(cut, opened_by, candidates[k].cells, in);
    addSpans(cut, cuts, stretch_begins, candidates[k], sides, {k, 0, 0}, spans);
  }
  return asFewAsMeet(std::move(spans));
}

std::optional<std::uint32_t> lastOpened(const ProgramCut& cut, std::span<const Cell> cells, const OpenedBy& opened_by,
                                        Mask& in) {
  const std::vector<OutlineSide> sides = openSides(cut, opened_by, cells, in);
  return sides.empty() || sides.back().by == 0 ? std::nullopt : std::optional(sides.back().by - 1);
}

}  // namespace provecut::pieces
