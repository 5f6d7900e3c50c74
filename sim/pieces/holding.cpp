#include "sim/pieces/holding.h"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <optional>

#include "sim/path/stock_plan.h"

namespace provecut::pieces {

std::vector<int> namesOf(const std::vector<Hold>& holds) {
  std::vector<int> list;
  for (const Hold& h : holds) list.push_back(h.hold_down);
  return list;
}

double leastTape_mm2(const Job& job) {
  double widest_mm = 0;
  for (const Tool& tool : job.tools) widest_mm = std::max(widest_mm, tool.diameter_mm);
  const double twice_mm = 2 * widest_mm;
  return widest_mm > 0 ? std::min(least_tape_mm2, 0.9 * twice_mm * twice_mm) : least_tape_mm2;
}

std::vector<Hold> thoseThatHold(const Job& job, const std::vector<Hold>& holds) {
  Sides placed = 0;
  for (const Hold& h : holds) {
    if (!job.hold_downs[h.hold_down].unplaced) placed |= h.sides;
  }
  const auto both = [](Sides all, Sides pair) { return (all & pair) == pair; };
  const bool gripped = both(placed, from_left | from_right) || both(placed, from_front | from_back);
  constexpr Sides all_round = from_left | from_right | from_front | from_back;
  std::vector<Hold> enough;
  std::copy_if(holds.begin(), holds.end(), std::back_inserter(enough), [&](const Hold& h) {
    const HoldDown& hold_down = job.hold_downs[h.hold_down];
    if (hold_down.kind == HoldDownKind::pin) return false;
    if (hold_down.unplaced) return both(h.sides, all_round);
    if (gripsEdges(hold_down.kind)) return h.sides != 0 && gripped;
    if (hold_down.kind == HoldDownKind::vacuum) return h.area_mm2 >= least_vacuum_mm2;
    return isUnderStock(hold_down.kind) ? h.area_mm2 >= leastTape_mm2(job) : h.area_mm2 > 0;
  });
  return enough;
}

namespace {

// A place at the rim of a disc is at a side as far as its rim faces that way within 60 degrees: at 45 at two.
Sides sidesAtRim(const cutting::DexelField& field, SetupPoint2 at) {
  const StockPlan disc{{field.nx * field.cell_x_mm, field.ny * field.cell_y_mm}, true};
  if (beyondEdge_mm(disc, at) < -std::max(field.cell_x_mm, field.cell_y_mm)) return 0;
  const Vec2 out = at - disc.middle();
  const double faces = length(out) / 2;
  Sides sides = 0;
  if (out.x < -faces) sides |= from_left;
  if (out.x > faces) sides |= from_right;
  if (out.y < -faces) sides |= from_front;
  if (out.y > faces) sides |= from_back;
  return sides;
}

// Of the stock's own four sides, those that the dexel is at.
Sides sidesAt(const Job& job, const cutting::DexelField& field, cutting::Cell cell) {
  const auto [x, y] = field.place(cell);
  if (job.stock.shape == StockShape::round) return sidesAtRim(field, field.centre(x, y));
  Sides sides = 0;
  if (x == 0) sides |= from_left;
  if (x == field.nx - 1) sides |= from_right;
  if (y == 0) sides |= from_front;
  if (y == field.ny - 1) sides |= from_back;
  return sides;
}

double reachOf_mm(const cutting::DexelField& field) {
  return touch_mm + std::max(field.cell_x_mm, field.cell_y_mm) / 2;
}

// The side of the stock, of those that the dexel is at, from which a body presses on it: along the axis in which it is
// nearer. Past a jaw's end the stock is near its corner too, but that presses on no side.
Sides pressesFrom(const Job& job, const clearance::Obstacle& body, const cutting::DexelField& field, cutting::Cell cell,
                  SetupPoint2 at) {
  if (clearance::signedDistance(body, at) > reachOf_mm(field)) return 0;
  const auto slope = [&](Vec2 step) {
    return clearance::signedDistance(body, at + step) - clearance::signedDistance(body, at - step);
  };
  const double x = slope({0.01, 0}), y = slope({0, 0.01});
  const bool along_x = std::abs(x) >= std::abs(y);
  const Sides side = along_x ? (x > 0 ? from_left : from_right) : (y > 0 ? from_front : from_back);
  return side & sidesAt(job, field, cell);
}

void addMet(int hold_down, const Meets& m, double area_mm2, std::optional<Hold>& hold) {
  if (!m.meets) return;
  if (!hold) hold = Hold{hold_down};
  hold->area_mm2 += area_mm2;
  hold->sides |= m.sides;
}

}  // namespace

Meets meets(const Job& job, int hold_down, const clearance::Obstacle& body, const cutting::DexelField& field,
            cutting::Cell cell) {
  const HoldDown& h = job.hold_downs[hold_down];
  if (isUnderStock(h.kind) && field.floor[cell] > cutting::no_material_mm) return {};
  if (h.unplaced) {
    const Sides sides = sidesAt(job, field, cell);
    return {sides != 0, sides};
  }
  const auto [x, y] = field.place(cell);
  const SetupPoint2 at = field.centre(x, y);
  const double reach = gripsEdges(h.kind) ? reachOf_mm(field) : 0;
  if (at.x < body.low.x - reach || at.x > body.high.x + reach || at.y < body.low.y - reach ||
      at.y > body.high.y + reach)
    return {};
  if (!gripsEdges(h.kind)) return {clearance::covers(body, at), 0};
  if (cutting::shownHeight_mm(field.floor[cell]) >= body.top_mm) return {};
  const Sides sides = pressesFrom(job, body, field, cell, at);
  return {sides != 0, sides};
}

std::vector<std::vector<Hold>> areasUnder(const cutting::DexelField& field, const std::vector<Label>& label,
                                          std::size_t count, const Job& job, std::span<const int> fitted) {
  std::vector<std::vector<Hold>> holds(count);
  for (const int index : fitted) {
    const HoldDown& h = job.hold_downs[index];
    if (h.kind == HoldDownKind::pin) continue;
    const clearance::Obstacle body = clearance::obstacle(h, field.thickness_mm);
    const double reach = gripsEdges(h.kind) ? reachOf_mm(field) : 0;
    const int x0 = std::max(0, static_cast<int>((body.low.x - reach) / field.cell_x_mm));
    const int x1 = std::min(field.nx - 1, static_cast<int>((body.high.x + reach) / field.cell_x_mm));
    const int y0 = std::max(0, static_cast<int>((body.low.y - reach) / field.cell_y_mm));
    const int y1 = std::min(field.ny - 1, static_cast<int>((body.high.y + reach) / field.cell_y_mm));
    std::vector<std::optional<Hold>> hold(count);
    for (int y = y0; y <= y1; ++y) {
      for (int x = x0; x <= x1; ++x) {
        const cutting::Cell c = field.index(x, y);
        if (label[c] != 0) addMet(index, meets(job, index, body, field, c), field.cellArea_mm2(), hold[label[c] - 1]);
      }
    }
    for (std::size_t k = 0; k < count; ++k) {
      if (hold[k]) holds[k].push_back(*hold[k]);
    }
  }
  return holds;
}

std::vector<std::vector<Hold>> holdsOf(const cutting::DexelField& field, const std::vector<Label>& label,
                                       std::size_t count, const Job& job, std::span<const int> fitted) {
  auto holds = areasUnder(field, label, count, job, fitted);
  for (auto& of_one : holds) of_one = thoseThatHold(job, of_one);
  return holds;
}

std::vector<std::vector<int>> heldBy(const cutting::DexelField& field, const Pieces& pieces, const Job& job,
                                     std::span<const int> fitted) {
  std::vector<std::vector<int>> held;
  for (const auto& holds : holdsOf(field, pieces.label, pieces.shapes.size(), job, fitted)) {
    held.emplace_back();
    for (const Hold& h : holds) held.back().push_back(h.hold_down);
  }
  return held;
}

}  // namespace provecut::pieces
