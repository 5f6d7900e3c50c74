#include "sim/tabs/opened_by.h"

#include <algorithm>

#include "sim/stock/dexel_walk.h"

namespace provecut::pieces {

using cutting::Cell;

OpenedBy openedBy(const ProgramCut& cut) {
  OpenedBy by{std::vector<std::uint32_t>(cut.after.top.size(), 0), std::vector<std::uint32_t>(cut.after.top.size(), 0)};
  for (const cutting::ContactLoss& loss : cut.contacts.list) {
    if (loss.lost & cutting::lost_all) by.dexel[loss.cell] = loss.motion + 1;
    cutting::eachNeighbour(cut.after, loss.cell, [&](const cutting::Neighbour& n) {
      if (loss.lost & n.mine) by.contact[loss.cell] = by.contact[n.cell] = loss.motion + 1;
    });
  }
  return by;
}

std::vector<std::uint32_t> openedRound(const ProgramCut& cut, std::span<const cutting::Cell> cells,
                                       const PlanOutline& outline, const OpenedBy& opened_by) {
  std::vector<std::uint32_t> opened;
  for (const Cell c : cells) {
    cutting::beside(cut.after, c, [&](Cell n) {
      const std::uint32_t by = std::max(opened_by.dexel[n], opened_by.contact[c]);
      if (by > 0 && !contains(outline, flat(cellCentre(cut.after, n)))) opened.push_back(by - 1);
    });
  }
  std::sort(opened.begin(), opened.end());
  opened.erase(std::unique(opened.begin(), opened.end()), opened.end());
  return opened;
}

}  // namespace provecut::pieces
