#include "sim/tabs/opened_by.h"

#include <algorithm>

#include "sim/stock/dexel_walk.h"

namespace provecut::pieces {

using cutting::Cell;

std::uint64_t contactOf(Cell a, Cell b) {
  const auto [first, second] = std::minmax(a, b);
  return 2 * std::uint64_t{first} + (second == first + 1 ? 0 : 1);
}

Cell firstOf(std::uint64_t contact) {
  return static_cast<Cell>(contact / 2);
}

OpenedBy openedBy(const ProgramCut& cut) {
  OpenedBy by{std::vector<std::uint32_t>(cut.after.top.size(), 0), {}};
  for (const cutting::ContactLoss& loss : cut.contacts.list) {
    if (loss.lost & cutting::lost_all) by.dexel[loss.cell] = loss.motion + 1;
    cutting::eachNeighbour(cut.after, loss.cell, [&](const cutting::Neighbour& n) {
      if (loss.lost & n.mine) by.contact.try_emplace(contactOf(loss.cell, n.cell), loss.motion + 1);
    });
  }
  return by;
}

std::uint32_t openedSide(const OpenedBy& by, Cell c, Cell beside) {
  const std::uint32_t gone = by.dexel[beside];
  const auto lost = by.contact.find(contactOf(c, beside));
  if (lost == by.contact.end()) return gone;
  return gone == 0 ? lost->second : std::min(gone, lost->second);
}

std::vector<std::uint32_t> openedRound(const ProgramCut& cut, std::span<const Cell> cells, const PlanOutline& outline,
                                       const OpenedBy& opened_by) {
  std::vector<std::uint32_t> opened;
  for (const Cell c : cells) {
    cutting::beside(cut.after, c, [&](Cell n) {
      const std::uint32_t by = openedSide(opened_by, c, n);
      if (by > 0 && !contains(outline, flat(cellCentre(cut.after, n)))) opened.push_back(by - 1);
    });
  }
  std::sort(opened.begin(), opened.end());
  opened.erase(std::unique(opened.begin(), opened.end()), opened.end());
  return opened;
}

}  // namespace provecut::pieces
