#include "sim/stock/contact_log.h"

#include <algorithm>

#include "sim/stock/dexel_walk.h"

namespace provecut::cutting {

Lost lostOf(const DexelField& f, const ContactLog& log, Cell cell) {
  if (f.thickness(cell) <= no_material_mm) return lost_all;
  Lost lost = 0;
  if (log.floor.empty()) return lost;
  eachNeighbour(f, cell, [&](const Neighbour& n) {
    float floor = log.floor[n.cell];
    if (const Gap* gap = gapBetween(f, cell, n.cell)) {
      floor = std::max(floor, gap->low);
      if (gap->high <= std::max(floor, log.floor[cell]) + no_material_mm) lost |= n.mine;
    }
    if (floor > log.floor[cell] && f.top[cell] <= floor + no_material_mm) lost |= n.mine;
  });
  return lost;
}

ContactLog makeContactLog(const DexelField& f) {
  ContactLog log;
  // The padding has nothing to lose.
  log.lost.assign(f.top.size(), lost_all);
  log.highest = *std::max_element(f.floor.begin(), f.floor.end()) + no_material_mm;
  if (log.highest <= no_material_mm && f.gaps.empty()) {
    eachCell(f, [&](Cell c) { log.lost[c] = f.thickness(c) <= no_material_mm ? lost_all : Lost{0}; });
    return log;
  }
  log.floor = log.level = f.floor;
  eachCell(f, [&](Cell c) {
    log.lost[c] = lostOf(f, log, c);
    beside(f, c, [&](Cell n) {
      if (f.thickness(n) > no_material_mm) log.level[c] = std::max(log.level[c], f.floor[n]);
    });
  });
  const auto raise = [&](const std::unordered_map<Cell, Gap>& gaps, Cell step) {
    for (const auto& [c, gap] : gaps) {
      for (const Cell side : {c, c + step}) log.level[side] = std::max(log.level[side], gap.low);
      log.highest = std::max(log.highest, gap.low + no_material_mm);
    }
  };
  raise(f.gaps.to_right, 1);
  raise(f.gaps.to_back, static_cast<Cell>(f.stride));
  return log;
}

void gatherLosses(std::vector<std::vector<ContactLoss>>& bands, std::size_t motions, ContactLog& log) {
  std::vector<std::size_t> begin(motions + 1, 0);
  for (const auto& band : bands) {
    for (const ContactLoss& loss : band) ++begin[loss.motion + 1];
  }
  for (std::size_t m = 1; m < begin.size(); ++m) begin[m] += begin[m - 1];
  log.list.resize(begin.back());
  for (auto& band : bands) {
    for (const ContactLoss& loss : band) log.list[begin[loss.motion]++] = loss;
    band = {};
  }
}

}  // namespace provecut::cutting
