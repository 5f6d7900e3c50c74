// Which dexels hang together. Two dexels side by side are one piece where their runs of material overlap in height;
// runs of one dexel hang together only by way of others.
#pragma once

#include <cstdint>
#include <functional>
#include <vector>

#include "parser/base/geometry.h"
#include "sim/stock/cut.h"
#include "sim/stock/dexel_field.h"

namespace provecut::pieces {

struct PieceShape {
  double volume_mm3 = 0, plan_area_mm2 = 0;
  SetupBox box;
  std::size_t seed = 0;  // a cell well inside it where there is one
  bool crumb = true;     // too small or too thin in plan to be a piece of wood: dust and slivers of a cell or two
};

struct Pieces {
  std::vector<std::int32_t> label;  // per cell: 0 nothing, else 1 … shapes.size()
  std::vector<PieceShape> shapes;   // shapes[label - 1]
  // Plan area where one piece lies over another, and one of its cells: there `label` names the one with more material.
  double layered_mm2 = 0;
  std::size_t layered_at = 0;
  const PieceShape& shape(std::int32_t l) const { return shapes[static_cast<std::size_t>(l - 1)]; }
};

// Whether a piece reaches all four sides of the stock, as the frame does out of which parts are cut.
inline bool spansStock(const PieceShape& shape, const cutting::DexelField& field) {
  const double slack_x = 1.5 * field.cell_x_mm, slack_y = 1.5 * field.cell_y_mm;
  return shape.box.low.x < slack_x && shape.box.low.y < slack_y &&
         shape.box.high.x > field.nx * field.cell_x_mm - slack_x &&
         shape.box.high.y > field.ny * field.cell_y_mm - slack_y;
}

// Union-find over runs of material, row by row. Cells where `left_out` is not 0 count as empty; it may be null.
Pieces labelPieces(const cutting::DexelField& field, const std::vector<std::uint8_t>* left_out = nullptr);

// For each label of `after` the motion that parted it last from other pieces (index; none: UINT32_MAX), from the stamps
// of a cut that ended in `after`. Works backwards in time: dexels and contacts come back in reverse order of their
// loss, and the first that joins two pieces is the one whose cut parted them. Crumbs pass contact on, but are no
// pieces.
std::vector<std::uint32_t> partingMotions(const cutting::DexelField& after, const Pieces& pieces,
                                          const cutting::CutStamps& stamps);

}  // namespace provecut::pieces
