#include "sim/tabs/tab_stages.h"

#include <algorithm>

#include "sim/path/motion_extent.h"
#include "sim/path/setup_frame.h"
#include "sim/stock/dexel_walk.h"
#include "sim/tabs/regions.h"

namespace provecut::pieces {

namespace {

using cutting::Cell;

// How many motions have run as enough of the outline is open for the rest to be tabs.
std::uint32_t openEnoughAfter(const std::vector<OpenSide>& sides) {
  double all_mm = 0, open_mm = 0;
  for (const OpenSide& s : sides) all_mm += s.mm;
  for (const OpenSide& s : sides) {
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

std::uint32_t openedLastBefore(const std::vector<OpenSide>& sides, std::uint32_t motion) {
  const auto later =
      std::upper_bound(sides.begin(), sides.end(), motion, [](std::uint32_t m, const OpenSide& s) { return m < s.by; });
  return later == sides.begin() ? 0 : std::prev(later)->by;
}

// The spans of one candidate: where the program first and last begins to cut into it.
void addSpans(const ProgramCut& cut, const std::vector<MoveCut>& cuts, const std::vector<std::uint32_t>& stretch_begins,
              const LaterCut& candidate, WhileOnTabs span, std::vector<WhileOnTabs>& spans) {
  const std::uint32_t open = openEnoughAfter(candidate.sides);
  if (open == 0 || open > candidate.by) return;  // since an earlier program, or never
  const std::vector<std::uint32_t> within =
      cutsAbout(candidate.outline, cut.at.job, cut.at.setup, cut.program, cuts, {open, candidate.by}).within;
  if (within.empty()) return;
  for (const std::uint32_t m : {within.front(), within.back()}) {
    span.end = std::max(open, stretch_begins[m]);
    const std::uint32_t begin = openedLastBefore(candidate.sides, span.end);
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
    stages.back().those.push_back({s.candidate, s.begin});
  }
  return stages;
}

}  // namespace

LaterCut laterCut(const ProgramCut& cut, std::span<const Cell> cells, const OpenedBy& opened_by, Mask& in) {
  LaterCut later{outlineOf(cut.after, cut.at.setup, cells), {}, 0};
  for (const Cell c : cells) in[c] = 1;
  for (const Cell c : cells) {
    cutting::beside(cut.after, c, [&](Cell n) {
      if (in[n] || cutting::overlap_mm(cut.after, c, n) > cutting::no_material_mm) return;
      if (contains(later.outline, flat(cellCentre(cut.after, n)))) return;
      later.sides.push_back({openedSide(opened_by, c, n), cutting::sideLength_mm(cut.after, c, n)});
    });
  }
  for (const Cell c : cells) in[c] = 0;
  std::sort(later.sides.begin(), later.sides.end(), [](const OpenSide& a, const OpenSide& b) { return a.by < b.by; });
  if (!later.sides.empty() && later.sides.back().by > 0) later.by = later.sides.back().by - 1;
  return later;
}

std::vector<TabStage> tabStages(const ProgramCut& cut, std::span<const LaterCut> candidates,
                                const std::vector<MoveCut>& cuts) {
  if (candidates.empty()) return {};
  const std::vector<std::uint32_t> stretch_begins = stretchBegins(cut);
  std::vector<WhileOnTabs> spans;
  for (std::size_t k = 0; k < candidates.size(); ++k)
    addSpans(cut, cuts, stretch_begins, candidates[k], {k, 0, 0}, spans);
  return asFewAsMeet(std::move(spans));
}

}  // namespace provecut::pieces
