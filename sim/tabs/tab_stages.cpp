#include "sim/tabs/tab_stages.h"

#include <algorithm>
#include <map>
#include <optional>

#include "sim/stock/dexel_walk.h"

namespace provecut::pieces {

namespace {

using cutting::Cell;

// The motions at which stretches of cuts end: the next one cuts nothing.
std::vector<std::uint32_t> stretchEnds(const std::vector<MoveCut>& cuts) {
  std::vector<std::uint32_t> ends;
  for (std::uint32_t m = 0; m < cuts.size(); ++m) {
    const bool cutting = cuts[m].removed_mm3 > 0;
    if (cutting && (m + 1 == cuts.size() || cuts[m + 1].removed_mm3 <= 0)) ends.push_back(m + 1);
  }
  return ends;
}

// A side of the piece's outline, and the motion (index + 1) that opened it; 0: it was open before.
struct OutlineSide {
  std::uint32_t by = 0;
  double mm = 0;
};

std::vector<OutlineSide> outlineSides(const ProgramCut& cut, const OpenedBy& opened_by, std::span<const Cell> cells,
                                      Mask& in) {
  std::vector<OutlineSide> sides;
  for (const Cell c : cells) in[c] = 1;
  for (const Cell c : cells) {
    cutting::beside(cut.after, c, [&](Cell n) {
      if (in[n]) return;
      sides.push_back({openedSide(opened_by, c, n), cutting::sideLength_mm(cut.after, c, n)});
    });
  }
  for (const Cell c : cells) in[c] = 0;
  return sides;
}

// A stretch that opens at least this share of the largest one's is outline, not tab. Our estimate, no source.
constexpr double large_share = 0.5;

// While a piece may be on tabs: how many motions have run, from the last large stretch on until the first tab is cut.
struct WhileOnTabs {
  std::size_t piece = 0;
  std::uint32_t begin = 0, end = 0;
};

// How many motions have run as a stretch ends.
std::uint32_t endOfStretch(const std::vector<std::uint32_t>& ends, std::uint32_t by) {
  const auto end = std::lower_bound(ends.begin(), ends.end(), by);
  return end == ends.end() ? by : *end;
}

std::optional<WhileOnTabs> onTabs(std::size_t piece, const std::vector<OutlineSide>& sides, std::uint32_t parted_by,
                                  const std::vector<std::uint32_t>& ends) {
  std::map<std::uint32_t, double> opened_mm;  // per end of a stretch; 0: before the program
  for (const OutlineSide& s : sides) {
    // What is opened after the piece was parted was not what parted it.
    const std::uint32_t by = std::min(s.by, parted_by + 1);
    opened_mm[by == 0 ? 0 : endOfStretch(ends, by)] += s.mm;
  }
  double most_mm = 0;
  for (const auto& [end, mm] : opened_mm) most_mm = std::max(most_mm, mm);
  const auto first_tab = std::find_if(opened_mm.rbegin(), opened_mm.rend(), [&](const auto& opened) {
                           return opened.second >= large_share * most_mm;
                         }).base();
  if (first_tab == opened_mm.begin() || first_tab == opened_mm.end()) return {};
  const std::uint32_t opened = std::prev(first_tab)->first;
  if (opened == 0) return {};  // it has been on them since an earlier program
  const auto tab_end = std::lower_bound(ends.begin(), ends.end(), first_tab->first);
  return WhileOnTabs{piece, opened, tab_end == ends.begin() ? opened : std::max(opened, *std::prev(tab_end))};
}

bool isCutWithin(const ProgramCut& cut, std::span<const Cell> cells, MoveSpan moves, const std::vector<MoveCut>& cuts) {
  const PlanOutline outline = outlineOf(cut.after, cut.at.setup, cells);
  return !cutsAbout(outline, cut.at.job, cut.at.setup, cut.program, cuts, moves).within.empty();
}

// As few moments as meet all spans: where the first ends that is not met yet. The latest begin of those that it meets
// does as well, and is nearer to the tabs as they were left.
std::vector<TabStage> asFewAsMeet(std::vector<WhileOnTabs> spans) {
  std::sort(spans.begin(), spans.end(), [](const WhileOnTabs& a, const WhileOnTabs& b) { return a.end < b.end; });
  std::vector<TabStage> stages;
  std::uint32_t last = 0;
  for (const WhileOnTabs& s : spans) {
    if (stages.empty() || s.begin > last) {
      last = s.end;
      stages.emplace_back();
    }
    stages.back().end = std::max(stages.back().end, s.begin);
    stages.back().pieces.push_back(s.piece);
  }
  return stages;
}

}  // namespace

std::vector<TabStage> tabStages(const ProgramCut& cut, const Pieces& now, const Parting& parting,
                                const OpenedBy& opened_by, const std::vector<MoveCut>& cuts) {
  std::vector<std::size_t> parted;
  for (std::size_t k = 0; k < parting.pieces.size(); ++k) {
    if (parting.pieces[k].parted_by) parted.push_back(k);
  }
  const std::vector<std::uint32_t> ends = stretchEnds(cuts);
  if (parted.empty() || ends.size() < 2) return {};
  Mask in(cut.after.top.size(), 0);
  std::vector<WhileOnTabs> spans;
  const auto cells = cellsOf(parting, now, parted);
  for (std::size_t k = 0; k < parted.size(); ++k) {
    const std::uint32_t by = *parting.pieces[parted[k]].parted_by;
    const auto span = onTabs(parted[k], outlineSides(cut, opened_by, cells[k], in), by, ends);
    if (!span || !isCutWithin(cut, cells[k], {span->begin, by}, cuts)) continue;
    spans.push_back(*span);
  }
  return asFewAsMeet(std::move(spans));
}

}  // namespace provecut::pieces
