// Which contacts between dexels side by side a program takes away, and with which of its moves. Two dexels touch where
// their material overlaps in height. Cutting from above ends that once one of them gets down to the higher floor of the
// two, and floors stay as they are while a program runs: so each side's own loss can be noted alone.
#pragma once

#include <cstddef>
#include <cstdint>
#include <vector>

#include "sim/stock/dexel_field.h"

namespace provecut::cutting {

// Bits of what a dexel has lost: all its material, or, while it still has some, its contact with a neighbour that
// begins higher up.
using Lost = std::uint8_t;
inline constexpr Lost lost_left = 1, lost_right = 2, lost_front = 4, lost_back = 8, lost_all = 16;

struct ContactLoss {
  std::uint32_t motion = 0;
  Cell cell = 0;
  Lost lost = 0;  // what this motion added
};

struct ContactLog {
  std::vector<Lost> lost;  // per cell, so far
  // Per cell its floor as the program began, which an undercut can raise, and the highest of it and of those beside it;
  // empty: no floor was above 0.
  std::vector<float> floor, level;
  float highest = 0;              // of all levels: a sweep that stays above it takes no contact away
  std::vector<ContactLoss> list;  // in the order of the motions, once the program has been cut
};

// A dexel beside another, and the bit of their contact in the state of either.
struct Neighbour {
  Cell cell = 0;
  Lost mine = 0, its = 0;
};

// Calls visit(neighbour) for the dexels beside `cell`.
template <class Visit>
void eachNeighbour(const DexelField& field, Cell cell, const Visit& visit) {
  const CellPlace p = field.place(cell);
  if (p.x > 0) visit(Neighbour{cell - 1, lost_left, lost_right});
  if (p.x + 1 < field.nx) visit(Neighbour{cell + 1, lost_right, lost_left});
  if (p.y > 0) visit(Neighbour{cell - field.stride, lost_front, lost_back});
  if (p.y + 1 < field.ny) visit(Neighbour{cell + field.stride, lost_back, lost_front});
}

// What the dexel has lost as it stands. Of the dexels beside it only the floors in the log are asked, so that bands of
// rows can be cut side by side.
Lost lostOf(const DexelField& field, const ContactLog& log, Cell cell);

// The log of a program that is about to cut `field`.
ContactLog makeContactLog(const DexelField& field);

// What one band of rows lost, in the order of the motions; gathered into the list by their motions.
void gatherLosses(std::vector<std::vector<ContactLoss>>& bands, std::size_t motions, ContactLog& log);

}  // namespace provecut::cutting
