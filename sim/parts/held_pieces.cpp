#include "sim/parts/held_pieces.h"

#include <algorithm>
#include <tuple>

#include "sim/path/setup_frame.h"
#include "sim/pieces/holding.h"
#include "sim/pieces/piece_size.h"
#include "sim/stock/dexel_walk.h"

namespace provecut::pieces {

namespace {

constexpr std::size_t max_pieces = 100;

// The whole stock as one piece, without looking how its dexels are connected.
Pieces onePiece(const cutting::DexelField& f) {
  Pieces p;
  p.label.assign(f.top.size(), 0);
  PieceShape shape;
  shape.crumb = false;
  cutting::eachCell(f, [&](cutting::Cell c) {
    if (f.thickness(c) <= cutting::no_material_mm) return;
    p.label[c] = 1;
    shape.plan_area_mm2 += f.cellArea_mm2();
  });
  shape.box.add(SetupPoint{0, 0, 0});
  shape.box.add(SetupPoint{f.nx * f.cell_x_mm, f.ny * f.cell_y_mm, f.thickness_mm});
  p.shapes = {shape};
  return p;
}

// Gives the dexels of a tabbed part a label of their own.
void setApart(const ProgramAt& at, const cutting::DexelField& f, const TabbedNow& now, Pieces& pieces) {
  PieceShape shape;
  std::vector<cutting::Cell> cells;
  shape.crumb = false;
  const auto own = static_cast<Label>(pieces.shapes.size() + 1);
  for (const cutting::Cell cell : now.cells) {
    const SetupPoint2 p = stockToSetup(at.job.stock, at.setup, stockPoint(now, at.job.stock, cell));
    const auto c = f.cellAt(p.x, p.y);
    if (!c || pieces.label[*c] == 0) continue;
    pieces.shape(pieces.label[*c]).plan_area_mm2 -= f.cellArea_mm2();
    shape.plan_area_mm2 += f.cellArea_mm2();
    pieces.label[*c] = own;
    cells.push_back(*c);
    const auto [x, y] = f.place(*c);
    shape.box.add(SetupPoint{f.centreX(x) - f.cell_x_mm / 2, f.centreY(y) - f.cell_y_mm / 2,
                             cutting::shownHeight_mm(f.floor[*c])});
    shape.box.add(
        SetupPoint{f.centreX(x) + f.cell_x_mm / 2, f.centreY(y) + f.cell_y_mm / 2, cutting::shownHeight_mm(f.top[*c])});
  }
  shape.box = exactBox(f, cells, shape.box);
  pieces.shapes.push_back(shape);
}

// The others, once parts on tabs are set apart.
void measureParts(const cutting::DexelField& f, std::size_t whole, Pieces& pieces) {
  std::vector<std::vector<cutting::Cell>> cells(whole);
  cutting::eachCell(f, [&](cutting::Cell c) {
    if (const Label l = pieces.label[c]; l != 0 && l <= whole) cells[l - 1].push_back(c);
  });
  for (std::size_t k = 0; k < whole; ++k) {
    PieceShape& shape = pieces.shapes[k];
    if (!shape.crumb && !spansStock(shape, f)) shape.box = exactBox(f, cells[k], shape.box);
  }
}

PieceHeld heldPiece(const ProgramAt& at, const PieceShape& shape, const std::vector<Hold>& holds,
                    const TabTotals& tabs) {
  PieceHeld p;
  p.bounds = setupToWork(at.setup, shape.box);
  p.plan_area_mm2 = shape.plan_area_mm2;
  p.part = true;
  for (const Hold& h : holds) {
    p.by.push_back(h.hold_down);
    if (isUnderStock(at.job.hold_downs[h.hold_down].kind)) p.tape_mm2 += h.area_mm2;
  }
  p.tabs = tabs.tabs;
  p.tab_area_mm2 = tabs.area_mm2;
  p.skin_mm = tabs.skin_mm;
  return p;
}

}  // namespace

std::vector<PieceHeld> heldPieces(const ProgramAt& at, const cutting::DexelField& f, const PartTracker& tracker) {
  Pieces pieces = tracker.parted ? labelPieces(f) : onePiece(f);
  const std::size_t whole = pieces.shapes.size();
  for (const TabbedNow& now : tracker.tabbed) setApart(at, f, now, pieces);
  if (tracker.parted) measureParts(f, whole, pieces);
  const auto holds = holdsOf(f, pieces.label, pieces.shapes.size(), at.job, at.entry.hold_downs);

  std::vector<bool> is_frame(pieces.shapes.size());
  for (const FollowedPiece& p : tracker.followed) {
    const auto c = p.frame ? cellAt(f, at, p.seed) : std::nullopt;
    if (c && pieces.label[*c] != 0) is_frame[pieces.label[*c] - 1] = true;
  }

  std::vector<PieceHeld> held;
  std::vector<bool> spans;
  for (std::size_t k = 0; k < pieces.shapes.size(); ++k) {
    const PieceShape& shape = pieces.shapes[k];
    if (shape.crumb || shape.plan_area_mm2 <= 0) continue;
    held.push_back(heldPiece(at, shape, holds[k], k < whole ? TabTotals{} : tracker.tabbed[k - whole].tabs));
    held.back().frame = is_frame[k] && holds[k].empty();
    spans.push_back(spansStock(shape, f));
  }
  // The rest of the stock: a frame of waste, else what is held, else the frame, else the largest, and never a part on
  // tabs.
  const auto rest = std::max_element(held.begin(), held.end(), [&](const PieceHeld& a, const PieceHeld& b) {
    const auto rank = [&](const PieceHeld& p) {
      const bool tabbed = p.tabs > 0 || p.skin_mm > 0;
      return std::tuple(p.frame, !tabbed, !p.by.empty(), bool{spans[&p - held.data()]}, p.plan_area_mm2);
    };
    return rank(a) < rank(b);
  });
  if (rest != held.end()) rest->part = false;
  std::stable_sort(held.begin(), held.end(), [](const PieceHeld& a, const PieceHeld& b) {
    return std::tuple(a.part, -a.plan_area_mm2) < std::tuple(b.part, -b.plan_area_mm2);
  });
  if (held.size() > max_pieces) held.resize(max_pieces);
  return held;
}

}  // namespace provecut::pieces
