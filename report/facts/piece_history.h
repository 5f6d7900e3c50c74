// Every part and offcut of the job in order of time, and what became of it.
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <vector>

#include "report/facts/facts.h"
#include "sim/observed/pieces.h"

namespace provecut {

struct ToldPiece {
  int run = 0;  // the program that parted it, left it on tabs, or began with it loose
  const Piece* piece = nullptr;
};

struct PieceHistory {
  std::vector<ToldPiece>
      told;  // first as it was left on tabs or parted; again when its tabs are cut or its last hold-down is off
  std::optional<std::size_t> parent;     // in the list: what it came off
  std::optional<MoveRef> loose_from;     // after this move nothing holds it; of a released one the program's first
  std::optional<MoveRef> tabs_cut;       // the move that cut the last of its tabs
  std::optional<MoveRef> milled_by;      // the move that milled the last of it away
  std::vector<std::size_t> came_off_it;  // in the list

  int run() const { return told.front().run; }
  const Piece& piece() const { return *told.front().piece; }
};

// Whether it was loose as its program began, because what held it is not fitted any more.
inline bool isReleased(const Piece& piece) {
  return !piece.held_before.empty();
}

// `facts` must outlive the list.
std::vector<PieceHistory> pieceHistories(const Facts& facts);

// Its rings when it was last told; a released one may have been cut smaller since it was parted.
const std::vector<StockRing>& outlineOf(const PieceHistory& history);

// The line of a move; 0: not known.
std::uint32_t lineOf(const Facts& facts, MoveRef move);

}  // namespace provecut
