#include "sim/pieces/pieces.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <unordered_map>

namespace provecut::pieces {

namespace {

using cutting::Cell;

bool touches(const cutting::DexelField& f, Cell a, Cell b) {
  const float overlap = std::min(f.top[a], f.top[b]) - std::max(f.floor[a], f.floor[b]);
  return overlap > cutting::no_material_mm &&
         (f.gaps.empty() || cutting::throughGap_mm(f, a, b, overlap) > cutting::no_material_mm);
}

// The sets of connected segments, while they are joined.
struct Joining {
  const cutting::DexelField& field;
  const Mask* left_out;
  std::vector<Label> set;                                       // of each cell; of its lowest segment where it has more
  std::unordered_map<Cell, std::vector<std::uint32_t>> layers;  // of an undercut cell's segments, from below
  UnionFind sets{1};                                            // 0 stands for "nothing"
};

bool solid(const Joining& j, Cell c) {
  return !(j.left_out && (*j.left_out)[c]) && j.field.thickness(c) > cutting::no_material_mm;
}

std::uint32_t setOf(const Joining& j, Cell c, std::size_t segment) {
  const auto layer = j.layers.find(c);
  return layer == j.layers.end() ? j.set[c] : layer->second[segment];
}

// Joins the segments of two dexels side by side; at least one of them is an undercut cell.
void joinSegments(Joining& j, Cell a, Cell b) {
  if (j.set[a] == 0 || j.set[b] == 0) return;
  cutting::DexelSegment plain_a, plain_b;
  const auto of_a = cutting::centreSegments(j.field, a, plain_a), of_b = cutting::centreSegments(j.field, b, plain_b);
  for (std::size_t i = 0; i < of_a.size(); ++i) {
    for (std::size_t k = 0; k < of_b.size(); ++k) {
      const float overlap = std::min(of_a[i].high, of_b[k].high) - std::max(of_a[i].low, of_b[k].low);
      if (overlap > cutting::no_material_mm) j.sets.join(setOf(j, a, i), setOf(j, b, k));
    }
  }
}

void joinRow(Joining& j, int y) {
  const cutting::DexelField& f = j.field;
  const Cell row = f.index(0, y);
  std::uint32_t set = 0;     // of the dexel before
  std::uint32_t joined = 0;  // what that set met last in the row before
  for (Cell c = row, end = f.index(f.nx, y); c < end; ++c) {
    if (!solid(j, c)) {
      set = 0;
      continue;
    }
    const bool undercut = f.undercut.holds(c), beside = c > row && f.undercut.holds(c - 1);
    const bool before = y > 0 && f.undercut.holds(c - f.stride);
    if (undercut) {
      auto& ids = j.layers[c];
      for (std::size_t k = f.undercut.at(c, y).atCentre().size(); k > 0; --k) ids.push_back(j.sets.add());
      set = ids.front();
      joined = 0;
    } else if (set == 0 || beside || !touches(f, c - 1, c)) {
      set = j.sets.add();
      joined = 0;
    }
    j.set[c] = set;
    if (c > row && (undercut || beside)) joinSegments(j, c, c - 1);
    if (y > 0 && (undercut || before)) {
      joinSegments(j, c, c - f.stride);
    } else if (y > 0 && j.set[c - f.stride] != 0 && j.set[c - f.stride] != joined && touches(f, c - f.stride, c)) {
      joined = j.set[c - f.stride];
      j.sets.join(set, joined);
    }
  }
}

// The pieces, while their shapes are gathered from the joined sets.
struct Gathering {
  Joining& joined;
  const cutting::DexelField& field;
  Pieces pieces;              // `label` still holds the sets of the cells ahead
  std::vector<Label> number;  // of each set's root; 0: none yet
  Mask wide;                  // per piece: somewhere three cells wide and deep
};

Label pieceOf(Gathering& g, std::uint32_t set, Cell c) {
  Label& number = g.number[g.joined.sets.find(set)];
  if (number == 0) {
    g.pieces.shapes.push_back({});
    g.pieces.shapes.back().seed = c;
    g.wide.push_back(0);
    number = static_cast<Label>(g.pieces.shapes.size());
  }
  return number;
}

double meanVolume(const cutting::DexelField& f, Cell c) {
  return f.cellArea_mm2() * double{std::max(0.0F, f.meanThickness(c))};
}

// Cells from … to of row y, their material between the two heights.
void addMaterial(Gathering& g, Label piece, int from, int to, int y, cutting::DexelSegment segment, double volume_mm3) {
  const cutting::DexelField& f = g.field;
  PieceShape& shape = g.pieces.shape(piece);
  shape.volume_mm3 += volume_mm3;
  shape.box.add(SetupPoint{f.centreX(from) - f.cell_x_mm / 2, f.centreY(y) - f.cell_y_mm / 2,
                           cutting::shownHeight_mm(segment.low)});
  shape.box.add(SetupPoint{f.centreX(to) + f.cell_x_mm / 2, f.centreY(y) + f.cell_y_mm / 2,
                           cutting::shownHeight_mm(segment.high)});
}

// An undercut cell: the label goes to the piece with most material in it.
void addLayers(Gathering& g, int x, int y, const std::vector<std::uint32_t>& layers) {
  const cutting::DexelField& f = g.field;
  const Cell c = f.index(x, y);
  const auto segments = f.undercut.at(c, y).atCentre();
  const double solid_height = double{cutting::solid_mm(f, c)};
  std::map<Label, float> heights;
  for (std::size_t k = 0; k < segments.size(); ++k) {
    const Label piece = pieceOf(g, layers[k], c);
    const float height = segments[k].high - segments[k].low;
    heights[piece] += height;
    addMaterial(g, piece, x, x, y, segments[k], meanVolume(f, c) * double{height} / solid_height);
  }
  for (const auto& [piece, height] : heights) g.pieces.shape(piece).plan_area_mm2 += f.cellArea_mm2();
  g.pieces.label[c] = std::max_element(heights.begin(), heights.end(), [](const auto& p, const auto& q) {
                        return p.second < q.second;
                      })->first;
  if (heights.size() > 1) {
    g.pieces.layered_mm2 += f.cellArea_mm2();
    g.pieces.layered_at = c;
  }
}

// The cells of row y from x on that are one set; gives the last of them.
int addStretch(Gathering& g, int x, int y) {
  const cutting::DexelField& f = g.field;
  const Cell c = f.index(x, y);
  const std::uint32_t set = g.pieces.label[c];
  const Label piece = pieceOf(g, set, c);
  cutting::DexelSegment segment{f.floor[c], f.top[c]};
  double volume_mm3 = 0;
  int end = x;
  for (Cell k = c; end < f.nx && g.pieces.label[k] == set; ++k, ++end) {
    segment.low = std::min(segment.low, f.floor[k]);
    segment.high = std::max(segment.high, f.top[k]);
    volume_mm3 += meanVolume(f, k);
    g.pieces.label[k] = piece;
  }
  addMaterial(g, piece, x, end - 1, y, segment, volume_mm3);
  g.pieces.shape(piece).plan_area_mm2 += (end - x) * f.cellArea_mm2();
  return end - 1;
}

// True if the piece is as wide and deep as a piece must be somewhere, seen from each of these cells as the last: the
// labels behind are final.
void noteWidth(Gathering& g, int from, int to, int y) {
  const cutting::DexelField& f = g.field;
  const int side = widthOfPiece(f);
  const Label piece = g.pieces.label[f.index(from, y)];
  for (int x = std::max(from, side - 1); x <= to; ++x) {
    if (g.wide[piece - 1] || y < side - 1) return;
    const Cell corner = f.index(x, y);
    bool all = true;
    for (int back_y = 0; back_y < side && all; ++back_y) {
      for (int back_x = 0; back_x < side && all; ++back_x)
        all = g.pieces.label[corner - back_y * f.stride - back_x] == piece;
    }
    if (!all) continue;
    g.wide[piece - 1] = 1;
    g.pieces.shape(piece).seed = corner - side / 2 * f.stride - side / 2;
  }
}

Pieces gather(Joining& joined) {
  const cutting::DexelField& f = joined.field;
  Gathering g{joined, f, {}, std::vector<Label>(joined.sets.size(), 0), {}};
  g.pieces.label = std::move(joined.set);
  for (int y = 0; y < f.ny; ++y) {
    for (int x = 0; x < f.nx; ++x) {
      const Cell c = f.index(x, y);
      if (g.pieces.label[c] == 0) continue;
      int last = x;
      if (const auto layers = joined.layers.find(c); layers != joined.layers.end()) {
        addLayers(g, x, y, layers->second);
      } else {
        last = addStretch(g, x, y);
      }
      noteWidth(g, x, last, y);
      x = last;
    }
  }
  for (std::size_t k = 0; k < g.pieces.shapes.size(); ++k)
    g.pieces.shapes[k].crumb = !g.wide[k] || g.pieces.shapes[k].plan_area_mm2 < least_piece_mm2;
  return std::move(g.pieces);
}

}  // namespace

int widthOfPiece(const cutting::DexelField& f) {
  return std::max(3, static_cast<int>(std::lround(narrowest_piece_mm / std::max(f.cell_x_mm, f.cell_y_mm))));
}

std::size_t wholePieces(const Pieces& pieces) {
  std::size_t whole = 0;
  for (const PieceShape& shape : pieces.shapes) whole += shape.crumb ? 0 : 1;
  return whole;
}

Label restOfStock(const Pieces& pieces, std::span<const Label> of, const std::vector<bool>& held,
                  const cutting::DexelField& field) {
  return *std::max_element(of.begin(), of.end(), [&](Label a, Label b) {
    if (held[a - 1] != held[b - 1]) return held[b - 1];
    const bool spans_a = spansStock(pieces.shape(a), field), spans_b = spansStock(pieces.shape(b), field);
    if (spans_a != spans_b) return spans_b;
    return pieces.shape(a).volume_mm3 < pieces.shape(b).volume_mm3;
  });
}

Pieces labelPieces(const cutting::DexelField& field, const Mask* left_out) {
  Joining joining{field, left_out, std::vector<Label>(field.top.size(), 0), {}};
  for (int y = 0; y < field.ny; ++y) joinRow(joining, y);
  return gather(joining);
}

Pieces piecesOf(const cutting::DexelField& field, std::vector<Label> set, UnionFind sets) {
  Joining joining{field, nullptr, std::move(set), {}, std::move(sets)};
  return gather(joining);
}

}  // namespace provecut::pieces
