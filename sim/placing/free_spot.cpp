#include "sim/placing/free_spot.h"

#include <algorithm>
#include <utility>

#include "sim/path/setup_frame.h"
#include "sim/placing/spot_field.h"

namespace provecut::placing {

namespace {

SpotField fieldOf(const Job& job, const Programs& programs, const SpotSearch& s) {
  return spotField(job, programs, s.setup, s.programs, job.hold_downs[s.hold_down], s.step_mm);
}

// Its own place aside: as it lies to the stock of each of the programs now.
Placement placementOf(const Job& job, const SpotSearch& search) {
  const HoldDown& h = job.hold_downs[search.hold_down];
  const double top = stockSizeInSetup(job.stock, job.setups[search.setup]).z;
  Placement placement{
      clearance::shifted(clearance::obstacle(h, top), SetupPoint2{} - h.at_mm), h.kind == HoldDownKind::screw, {}, {}};
  int program = 0;
  for (const Setup& setup : job.setups) {
    for (std::size_t e = 0; e < setup.programs.size(); ++e, ++program) {
      const auto& wanted = search.programs;
      if (std::find(wanted.begin(), wanted.end(), program) == wanted.end()) continue;
      placement.to_stocks.push_back(lieAsAt(job, setup, h));
    }
  }
  for (const HoldDown& o : search.others) {
    if (isObstacle(o)) placement.others.push_back(clearance::obstacle(o, top));
  }
  return placement;
}

}  // namespace

bool isClearAt(const Job& job, const Programs& programs, const SpotSearch& search, SetupPoint2 at) {
  return isClear(job, programs, search.programs, job.hold_downs[search.hold_down], at);
}

std::optional<SetupPoint2> nearestFreeSpot(const Job& job, const Programs& programs, const SpotSearch& search) {
  const SetupPoint2 home = job.hold_downs[search.hold_down].at_mm;
  const SpotField field = fieldOf(job, programs, search);
  const SpotWish wish{home, search.max_way_mm, placementOf(job, search), insideAt(field, home)};
  SpotWish as_near = wish;
  bool nearer = false;
  for (LieToStock& lie : as_near.placement.to_stocks) {
    const Vec2 wanted = std::exchange(lie, edgeAsAt(lie, home)).edge_mm;
    nearer = nearer || lie.edge_mm.x < wanted.x || lie.edge_mm.y < wanted.y;
  }
  if (isFree(field, as_near, home)) return home;
  // A screw that stands nearer to the edge than it should is rather brought in at once.
  if (const auto spot = nearestIn(field, wish)) return spot;
  return nearer ? nearestIn(field, as_near) : std::nullopt;
}

}  // namespace provecut::placing
