// Parts that hang on webs: what falls apart once that is taken away which programs left thin over their kerfs, or
// narrow between them.
#pragma once

#include <cstdint>
#include <functional>
#include <vector>

#include "sim/observed/pieces.h"
#include "sim/pieces/pieces.h"

namespace provecut::pieces {

// A skin this thin is a web even where nothing beside it is cut through (common practice, no source: 0.2 to 0.8 mm).
inline constexpr float skin_mm = 1.0F;

struct TabbedPart {
  std::int32_t piece = 0;  // label of the piece that it still belongs to
  std::int32_t part = 0;   // its own label once the webs are taken away
  PieceShape shape;
  std::vector<std::uint32_t> cells;  // its own dexels
  std::vector<Tab> tabs;             // points in the lying frame
  std::vector<std::uint32_t> web_cells;
  double open_share = 0;  // of its outline, cut through
};

struct TabbedSearch {
  const cutting::DexelField& before;  // as the program found it
  const cutting::DexelField& after;
  const Pieces& pieces;  // of `after`
  Vec2 grain;            // unit vector along the grain in the lying frame; (0, 0): none
  double kerf_mm = 0;    // of the widest cutter that may have left a web
  // If given: what does not hang, but has an outline that is open in places and webbed for the most.
  std::vector<TabbedPart>* still_attached = nullptr;
};

// Of each label of some pieces: does something hold it?
using HeldIn = std::function<std::vector<bool>(const Pieces&)>;

// The parts, without the one of each piece that counts as the rest of the stock: that is one for which `held_in` says
// that something holds it, else the frame that spans the stock, else the largest. Also those that hang since an earlier
// program. Tabs are only the webs that lead to something held.
std::vector<TabbedPart> tabbedParts(const TabbedSearch& search, const HeldIn& held_in);

// Cells of every web found, for those who must not take them for floors.
std::vector<std::uint8_t> webMask(const cutting::DexelField& field, const std::vector<TabbedPart>& parts);

}  // namespace provecut::pieces
