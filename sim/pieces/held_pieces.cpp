#include "sim/pieces/held_pieces.h"

#include <algorithm>
#include <cmath>
#include <tuple>

#include "sim/path/setup_frame.h"
#include "sim/pieces/holding.h"

namespace provecut::pieces {

namespace {

constexpr std::size_t max_pieces = 100;

// The whole stock as one piece, without looking how its dexels hang together.
Pieces onePiece(const cutting::DexelField& f) {
  Pieces p;
  p.label.assign(f.top.size(), 0);
  PieceShape shape;
  shape.crumb = false;
  for (int y = 0; y < f.ny; ++y) {
    for (int x = 0; x < f.nx; ++x) {
      const std::size_t c = f.index(x, y);
      if (f.thickness(c) <= cutting::no_material_mm) continue;
      p.label[c] = 1;
      shape.plan_area_mm2 += f.cellArea_mm2();
    }
  }
  shape.box.add(SetupPoint{0, 0, 0});
  shape.box.add(SetupPoint{f.nx * f.cell_x_mm, f.ny * f.cell_y_mm, f.thickness_mm});
  p.shapes = {shape};
  return p;
}

// Gives the dexels of a part that hangs a label of their own.
void setApart(const Job& job, const Setup& setup, const cutting::DexelField& f, const TabbedNow& now, Pieces& pieces) {
  PieceShape shape;
  shape.crumb = false;
  const auto own = static_cast<std::int32_t>(pieces.shapes.size() + 1);
  for (const std::uint32_t cell : now.cells) {
    const SetupPoint2 p = stockToSetup(job.stock, setup, stockPoint(now, job.stock, cell));
    const int x = static_cast<int>(std::floor(p.x / f.cell_x_mm)), y = static_cast<int>(std::floor(p.y / f.cell_y_mm));
    if (!f.inside(x, y)) continue;
    const std::size_t c = f.index(x, y);
    if (pieces.label[c] == 0) continue;
    PieceShape& from = pieces.shapes[static_cast<std::size_t>(pieces.label[c] - 1)];
    from.plan_area_mm2 -= f.cellArea_mm2();
    shape.plan_area_mm2 += f.cellArea_mm2();
    pieces.label[c] = own;
    shape.box.add(SetupPoint{f.centreX(x) - f.cell_x_mm / 2, f.centreY(y) - f.cell_y_mm / 2,
                             cutting::shownHeight_mm(f.floor[c])});
    shape.box.add(
        SetupPoint{f.centreX(x) + f.cell_x_mm / 2, f.centreY(y) + f.cell_y_mm / 2, cutting::shownHeight_mm(f.top[c])});
  }
  pieces.shapes.push_back(shape);
}

}  // namespace

std::vector<PieceHeld> heldPieces(const Job& job, const Setup& setup, const ProgramEntry& entry,
                                  const cutting::DexelField& f, const std::vector<ProgramRun>& runs,
                                  const PartTracker& tracker) {
  Pieces pieces = tracker.parted ? labelPieces(f) : onePiece(f);
  const std::size_t whole = pieces.shapes.size();
  for (const TabbedNow& now : tracker.hanging) setApart(job, setup, f, now, pieces);
  const auto holds = holdsOf(f, pieces.label, pieces.shapes.size(), job, entry.hold_downs);

  std::vector<PieceHeld> held;
  std::vector<bool> spans;
  for (std::size_t k = 0; k < pieces.shapes.size(); ++k) {
    const PieceShape& shape = pieces.shapes[k];
    if (shape.crumb || shape.plan_area_mm2 <= 0) continue;
    PieceHeld p;
    p.bounds = setupToWork(setup, shape.box);
    p.plan_area_mm2 = shape.plan_area_mm2;
    p.part = true;
    for (const Hold& h : holds[k]) {
      p.by.push_back(h.hold_down);
      if (job.hold_downs[static_cast<std::size_t>(h.hold_down)].kind == HoldDownKind::tape) p.tape_mm2 += h.area_mm2;
    }
    if (k >= whole) {
      const TabbedNow& now = tracker.hanging[k - whole];
      for (const Tab& t : runs[static_cast<std::size_t>(now.run)].pieces[now.piece].tabs) {
        if (t.onion_skin) {
          p.skin_mm = t.thickness_mm;
        } else {
          ++p.tabs;
        }
        p.tab_area_mm2 += t.area_mm2;
      }
    }
    held.push_back(std::move(p));
    spans.push_back(spansStock(shape, f));
  }
  // The rest of the stock: what is held, else the frame, else the largest, and never a part on tabs.
  const auto rest = std::max_element(held.begin(), held.end(), [&](const PieceHeld& a, const PieceHeld& b) {
    const auto rank = [&](const PieceHeld& p) {
      const bool hangs = p.tabs > 0 || p.skin_mm > 0;
      return std::tuple(!hangs, !p.by.empty(), bool(spans[static_cast<std::size_t>(&p - held.data())]),
                        p.plan_area_mm2);
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
