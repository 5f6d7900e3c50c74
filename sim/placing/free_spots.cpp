#include "sim/placing/free_spots.h"

#include <algorithm>
#include <array>
#include <utility>

#include "parser/base/units.h"
#include "sim/path/stock_plan.h"
#include "sim/placing/spot_field.h"

namespace provecut::placing {

namespace {

constexpr double least_apart_mm = 40;

// Corners first, then the sides, then the middle.
constexpr std::array<std::pair<double, double>, 9> targets{
    {{0, 0}, {1, 0}, {1, 1}, {0, 1}, {0.5, 0}, {0.5, 1}, {0, 0.5}, {1, 0.5}, {0.5, 0.5}}};

}  // namespace

std::vector<SetupPoint2> freeSpots(const Job& job, const Programs& programs, const SpotsAsked& asked) {
  const Setup& setup = job.setups[asked.setup];
  const StockPlan stock = stockPlan(job.stock, setup);
  const Vec2 size = stock.size_mm;
  const HoldDown form = movedTo(asked.form, {});
  const SpotField field =
      spotField(job, programs, asked.setup, asked.programs, form, job.inches ? 0.05 * mm_per_inch : 1);
  LieToStock lie = lieAsAt(job, setup, movedTo(form, stock.middle()));
  lie.lies = asked.lies;
  lie.grip_mm = 5;
  const clearance::Obstacle o = clearance::obstacle(form, job.stock.size_mm.z);
  SpotWish wish{{}, std::max(size.x, size.y) / 4, {o, form.kind == HoldDownKind::screw, {lie}, {}}, {}};
  wish.may_be_inside.assign(programs.size(), false);
  std::vector<SetupPoint2> spots;
  for (const auto& [x, y] : targets) {
    wish.from = {x * size.x, y * size.y};
    // A disc has no corners: from there to its rim.
    if (const double beyond_mm = beyondEdge_mm(stock, wish.from); stock.round && beyond_mm > 0)
      wish.from = stock.middle() + (wish.from - stock.middle()) * (stock.radius_mm() / (stock.radius_mm() + beyond_mm));
    const auto spot = nearestIn(field, wish);
    const auto near = [&](SetupPoint2 p) { return length(p - *spot) < least_apart_mm; };
    if (!spot || std::any_of(spots.begin(), spots.end(), near)) continue;
    spots.push_back(*spot);
    wish.placement.others.push_back(clearance::shifted(o, *spot - SetupPoint2{}));
  }
  return spots;
}

}  // namespace provecut::placing
