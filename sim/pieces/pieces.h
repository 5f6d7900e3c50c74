// Which dexels are connected. Two dexels side by side are one piece where their segments overlap in height; segments of
// one dexel are connected only by way of others.
#pragma once

#include <cstdint>
#include <span>
#include <vector>

#include "parser/base/geometry.h"
#include "sim/numeric/union_find.h"
#include "sim/stock/dexel_field.h"

namespace provecut::pieces {

// One byte per cell: 0 no, else yes.
using Mask = std::vector<std::uint8_t>;

// Less in plan, or nowhere this wide, is no piece of wood but a crumb: dust and slivers of a cell or two. Our measures,
// no source.
inline constexpr double least_piece_mm2 = 4, narrowest_piece_mm = 0.75;

// The same width in cells of the field, three at least.
int widthOfPiece(const cutting::DexelField& field);

// A piece by its number: 1 … Pieces::shapes.size(); 0: no piece.
using Label = std::uint32_t;

struct PieceShape {
  double volume_mm3 = 0, plan_area_mm2 = 0;
  SetupBox box;
  cutting::Cell seed = 0;  // a cell well inside it where there is one
  bool crumb = true;       // too small or too narrow in plan to be a piece
};

struct Pieces {
  std::vector<Label> label;  // per cell
  std::vector<PieceShape> shapes;
  // Plan area where one piece lies over another, and one of its cells: there `label` names the one with more material.
  double layered_mm2 = 0;
  cutting::Cell layered_at = 0;

  PieceShape& shape(Label l) { return shapes[l - 1]; }
  const PieceShape& shape(Label l) const { return shapes[l - 1]; }
};

// Pieces that are no crumbs.
std::size_t wholePieces(const Pieces& pieces);

// True if a piece reaches all four sides of the stock, as the frame around the parts does.
inline bool spansStock(const PieceShape& shape, const cutting::DexelField& field) {
  const double slack_x = 1.5 * field.cell_x_mm, slack_y = 1.5 * field.cell_y_mm;
  return shape.box.low.x < slack_x && shape.box.low.y < slack_y &&
         shape.box.high.x > field.nx * field.cell_x_mm - slack_x &&
         shape.box.high.y > field.ny * field.cell_y_mm - slack_y;
}

// Of some pieces the one that counts as the rest of the stock: what something holds, else the frame that spans the
// stock, else the largest. `held`: by label - 1.
Label restOfStock(const Pieces& pieces, std::span<const Label> of, const std::vector<bool>& held,
                  const cutting::DexelField& field);

// Union-find over segments, row by row. Cells of `left_out` count as empty; it may be null.
Pieces labelPieces(const cutting::DexelField& field, const Mask* left_out = nullptr);

// The shapes of sets of dexels: `set` names one per cell, 0 for none, and `sets` says which of them are one. A cell is
// in one set with all its segments.
Pieces piecesOf(const cutting::DexelField& field, std::vector<Label> set, UnionFind sets);

}  // namespace provecut::pieces
