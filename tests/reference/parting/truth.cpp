#include "tests/reference/parting/truth.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "tests/reference/parting/grid.h"
#include "tests/reference/parting/strokes.h"

namespace provecut::reference {
namespace {

constexpr double kSmallest_mm2 = 4;
constexpr double kTapeHolds_mm2 = 25;
constexpr double kLies_mm = 1e-4;
constexpr double kNear_mm = 1;
constexpr double kTaken_mm3 = 1e-6;

struct Live {
  CellBox box;
  Place square;
  bool stands = true;
  std::vector<int> holders;
  std::vector<Grip> grips;
};

struct History {
  const Sheet& sheet;
  Grid grid;
  std::vector<TruePiece> pieces;
  std::vector<Live> live;  // beside pieces
};

// Whether the hold-down grips a cell: for a tape the cell must still reach the underside of the stock as it lies.
bool grips(const Grid& grid, const SheetHoldDown& hold, const SheetPoint& centre, int i, int j) {
  const auto n = static_cast<std::size_t>(grid.index(i, j));
  if (hold.kind == HoldKind::screw) {
    return std::hypot(grid.centreX(i) - centre.x, grid.centreY(j) - centre.y) <= hold.diameter / 2;
  }
  if (hold.kind == HoldKind::clamp) return true;
  return hold.face == Face::front ? grid.floor[n] <= kLies_mm : grid.top[n] >= grid.thickness - kLies_mm;
}

// The cells of each piece that the hold-down grips.
std::vector<int> gripped(const History& h, const SheetHoldDown& hold) {
  std::vector<int> cells(h.pieces.size(), 0);
  const bool round = hold.kind == HoldKind::screw;
  const double half_x = (round ? hold.diameter : hold.size_x) / 2;
  const double half_y = (round ? hold.diameter : hold.size_y) / 2;
  const SheetPoint centre = inStockPlan(h.sheet, hold.face, {hold.centre_x, hold.centre_y, 0});
  const CellBox box = cellsWithin(h.grid, centre.x - half_x, centre.x + half_x, centre.y - half_y, centre.y + half_y);
  for (int j = box.j0; j < box.j1; ++j) {
    for (int i = box.i0; i < box.i1; ++i) {
      const int owner = h.grid.owner[static_cast<std::size_t>(h.grid.index(i, j))];
      if (owner != kDust && grips(h.grid, hold, centre, i, j)) ++cells[static_cast<std::size_t>(owner)];
    }
  }
  return cells;
}

// Finds anew what holds each piece in a program, and notes the moment at which one first is held by nothing.
void findHolders(History& h, const SheetProgram& program, Moment now) {
  for (Live& live : h.live) {
    live.holders.clear();
    live.grips.clear();
  }
  for (const int number : program.fitted) {
    const SheetHoldDown& hold = h.sheet.hold_downs[static_cast<std::size_t>(number)];
    if (hold.face != program.face) continue;
    const double needed_mm2 = hold.kind == HoldKind::tape ? kTapeHolds_mm2 : 0;
    const std::vector<int> cells = gripped(h, hold);
    for (std::size_t p = 0; p < cells.size(); ++p) {
      if (cells[p] == 0 || !h.live[p].stands) continue;
      const double covered_mm2 = cells[p] * h.grid.dx * h.grid.dy;
      h.live[p].grips.push_back({number, covered_mm2});
      if (covered_mm2 >= needed_mm2) h.live[p].holders.push_back(number);
    }
  }
  for (std::size_t p = 0; p < h.pieces.size(); ++p) {
    if (h.live[p].stands && h.live[p].holders.empty() && !h.pieces[p].loose) h.pieces[p].loose = now;
  }
}

void setOwner(Grid& grid, const Component& component, int owner) {
  for (const Run& run : component.runs) {
    const auto row = grid.owner.begin() + grid.index(0, run.j);
    std::fill(row + run.i0, row + run.i1, owner);
  }
}

void addPiece(History& h, const Component& component, const Place& square, int parent, Moment born) {
  const Grid& grid = h.grid;
  TruePiece piece;
  piece.id = static_cast<int>(h.pieces.size());
  piece.parent = parent;
  piece.born = born;
  piece.area_mm2 = component.cells * grid.dx * grid.dy;
  const CellBox& box = component.box;
  piece.box = {box.i0 * grid.dx, box.i1 * grid.dx, box.j0 * grid.dy, box.j1 * grid.dy, grid.thickness, 0};
  double height = 0;
  for (const Run& run : component.runs) {
    for (int i = run.i0; i < run.i1; ++i) {
      const auto n = static_cast<std::size_t>(grid.index(i, run.j));
      height += grid.top[n] - grid.floor[n];
      piece.box.z0 = std::min(piece.box.z0, grid.floor[n]);
      piece.box.z1 = std::max(piece.box.z1, grid.top[n]);
    }
  }
  piece.volume_mm3 = height * grid.dx * grid.dy;
  setOwner(h.grid, component, piece.id);
  h.pieces.push_back(piece);
  h.pieces.back().square_mm = largestSquare_mm(grid, piece.id, box);
  h.live.push_back({component.box, square, true, {}, {}});
}

void endPiece(History& h, std::size_t piece, End kind, Moment now) {
  h.pieces[piece].end_kind = kind;
  h.pieces[piece].ended = now;
  h.live[piece].stands = false;
}

// Labels a piece anew that lost a contact or a cell: it goes on (less what is dust), falls into pieces, or ends.
void relabel(History& h, std::size_t piece, Moment now) {
  const int id = static_cast<int>(piece);
  const Place old_square = h.live[piece].square;
  const std::vector<Component> components = componentsOf(h.grid, id, h.live[piece].box);
  std::vector<const Component*> children;
  std::vector<Place> squares;
  // Each component in turn is the only one that bears a mark, so that a square of it is a square of it alone.
  const int mark = kDust - 1;
  for (const Component& c : components) setOwner(h.grid, c, kDust);
  for (const Component& c : components) {
    if (c.cells * h.grid.dx * h.grid.dy < kSmallest_mm2) break;  // the largest stand first
    setOwner(h.grid, c, mark);
    const Place square = squareStands(h.grid, mark, old_square) ? old_square : squareWithin(h.grid, mark, c.box);
    setOwner(h.grid, c, kDust);
    if (square.i < 0) continue;
    children.push_back(&c);
    squares.push_back(square);
  }
  if (children.size() == 1) {
    setOwner(h.grid, *children[0], id);
    h.live[piece].box = children[0]->box;
    h.live[piece].square = squares[0];
    return;
  }
  endPiece(h, piece, children.empty() ? End::milled : End::split, now);
  for (std::size_t c = 0; c < children.size(); ++c) addPiece(h, *children[c], squares[c], id, now);
}

// The least distance in plan from the cutter to a piece at the heights of the piece; kNear_mm or more: not near.
double distanceTo(const History& h, std::size_t piece, bool turned, const Profile& profile,
                  const std::vector<Stroke>& strokes) {
  const Grid& grid = h.grid;
  const CellBox& own = h.live[piece].box;
  double least = kNear_mm;
  for (const Stroke& stroke : strokes) {
    if (lowestTip(stroke) >= grid.thickness) continue;
    const double reach = profile.radius + least;
    const CellBox rows = rowsNear(grid, stroke, reach);
    if (rows.i0 >= own.i1 || rows.i1 <= own.i0) continue;
    for (int j = std::max(rows.j0, own.j0); j < std::min(rows.j1, own.j1); ++j) {
      const RowSpan span = spanNear(grid, stroke, reach, j);
      for (int i = std::max(span.i0, own.i0); i < std::min(span.i1, own.i1); ++i) {
        const auto n = static_cast<std::size_t>(grid.index(i, j));
        if (grid.owner[n] != static_cast<int>(piece)) continue;
        const double top = (turned ? grid.thickness - grid.floor[n] : grid.top[n]) - 1e-6;
        least = std::min(least, distanceBelow(profile, stroke, grid.centreX(i), grid.centreY(j), top, least));
      }
    }
  }
  return std::max(0.0, least);
}

// Notes the cuts in loose pieces and the ways past them, before the pieces are labelled anew.
void noteLoose(History& h, bool turned, const Profile& profile, const std::vector<Stroke>& strokes,
               const Effect& effect, Moment now) {
  for (std::size_t p = 0; p < h.pieces.size(); ++p) {
    if (!h.live[p].stands || !h.live[p].holders.empty()) continue;
    if (effect.taken_mm3[p] > kTaken_mm3) {
      h.pieces[p].cut_loose.push_back({now, effect.taken_mm3[p]});
      continue;
    }
    const double distance = distanceTo(h, p, turned, profile, strokes);
    if (distance < kNear_mm) h.pieces[p].nearest.push_back({now, distance});
  }
}

void noteHolders(History& h, std::size_t piece) {
  h.pieces[piece].held_by = h.live[piece].holders;
  h.pieces[piece].grips = h.live[piece].grips;
}

void runMove(History& h, const SheetProgram& program, const SheetMove& move, Moment now) {
  const bool turned = program.face != Face::front;
  const Profile profile = profileOf(h.sheet.tools[static_cast<std::size_t>(move.tool)]);
  const std::vector<Stroke> strokes = strokesOf(h.sheet, program.face, move);
  Effect effect{std::vector<double>(h.pieces.size(), 0.0), std::vector<char>(h.pieces.size(), 0)};
  for (const Stroke& stroke : strokes) cut(h.grid, turned, profile, stroke, effect);
  noteLoose(h, turned, profile, strokes, effect, now);
  bool changed = false;
  for (std::size_t p = 0; p < effect.parted.size(); ++p) {
    if (!effect.parted[p]) continue;
    relabel(h, p, now);
    changed = true;
  }
  if (!changed) return;
  const std::size_t before = effect.parted.size();
  findHolders(h, program, now);
  for (std::size_t p = before; p < h.pieces.size(); ++p) noteHolders(h, p);
}

}  // namespace

std::vector<TruePiece> truth(const Sheet& sheet, double cell_mm) {
  History h{sheet, gridOf(sheet, cell_mm), {}, {}};
  const std::vector<Component> stock = componentsOf(h.grid, 0, {0, h.grid.nx, 0, h.grid.ny});
  addPiece(h, stock[0], {0, 0}, -1, {});
  for (std::size_t p = 0; p < sheet.programs.size(); ++p) {
    const SheetProgram& program = sheet.programs[p];
    findHolders(h, program, {static_cast<int>(p), -1});
    if (p == 0) noteHolders(h, 0);
    for (std::size_t m = 0; m < program.moves.size(); ++m) {
      runMove(h, program, program.moves[m], {static_cast<int>(p), static_cast<int>(m)});
    }
  }
  return h.pieces;
}

}  // namespace provecut::reference
