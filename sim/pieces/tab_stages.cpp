#include "sim/pieces/tab_stages.h"

#include <algorithm>
#include <optional>

#include "sim/pieces/tabs.h"
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
      const std::uint32_t by = opened_by.dexel[n] > 0 ? opened_by.dexel[n] : opened_by.contact[c];
      sides.push_back({by, n == c + 1 || c == n + 1 ? cut.after.cell_y_mm : cut.after.cell_x_mm});
    });
  }
  for (const Cell c : cells) in[c] = 0;
  return sides;
}

// While a piece may be on tabs: from the end of the stretch that opened most of its outline to the first motion of the
// stretch that cuts the first tab.
struct Span {
  std::uint32_t begin = 0, end = 0;
  std::size_t piece = 0;
};

std::optional<Span> onTabs(std::vector<OutlineSide> sides, std::uint32_t parted_by,
                           const std::vector<std::uint32_t>& ends) {
  double all_mm = 0;
  for (OutlineSide& s : sides) {
    s.by = std::min(s.by, parted_by + 1);
    all_mm += s.mm;
  }
  std::sort(sides.begin(), sides.end(), [](const OutlineSide& a, const OutlineSide& b) { return a.by > b.by; });
  const auto endOf = [&](std::uint32_t by) { return *std::lower_bound(ends.begin(), ends.end(), by); };
  double tabs_mm = 0;
  std::uint32_t first_of_tabs = parted_by + 1;
  for (const OutlineSide& s : sides) {
    tabs_mm += s.mm;
    if (tabs_mm <= most_web_share * all_mm) {
      first_of_tabs = s.by;
      continue;
    }
    if (s.by == 0 || s.by > ends.back()) return {};
    const std::uint32_t opened = endOf(s.by);
    // Those of the same stretch are no tabs.
    for (const OutlineSide& later : sides) {
      if (later.by > opened) first_of_tabs = later.by;
    }
    if (opened > parted_by) return {};
    const auto before = std::lower_bound(ends.begin(), ends.end(), first_of_tabs);
    return Span{opened, before == ends.begin() ? opened : std::max(opened, *(before - 1)), 0};
  }
  return {};
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
  std::vector<Span> spans;
  const auto cells = cellsOf(parting, now, parted);
  for (std::size_t k = 0; k < parted.size(); ++k) {
    const std::uint32_t by = *parting.pieces[parted[k]].parted_by;
    if (auto span = onTabs(outlineSides(cut, opened_by, cells[k], in), by, ends)) {
      span->piece = parted[k];
      spans.push_back(*span);
    }
  }
  // As few moments as meet all spans.
  std::sort(spans.begin(), spans.end(), [](const Span& a, const Span& b) { return a.end < b.end; });
  std::vector<TabStage> stages;
  std::uint32_t last = 0;
  for (const Span& s : spans) {
    if (stages.empty() || s.begin > last) {
      last = s.end;
      stages.emplace_back();
    }
    stages.back().end = std::max(stages.back().end, s.begin);
    stages.back().pieces.push_back(s.piece);
  }
  return stages;
}

}  // namespace provecut::pieces
