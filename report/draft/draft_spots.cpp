#include "report/draft/draft_spots.h"

#include "parser/base/units.h"
#include "sim/path/setup_frame.h"
#include "sim/placing/free_spot.h"

namespace provecut::draft {

namespace {

HoldDown usualScrew() {
  HoldDown screw;
  screw.name = "screw";
  screw.diameter_mm = 9.5;
  screw.top_mm = 3.6;
  return screw;
}

// Corners and middles of edges, as far in as a screw needs so that the wood does not split.
std::vector<SetupPoint2> usualSpots(Vec3 size, bool inches) {
  const double inset_mm = inches ? 0.75 * mm_per_inch : 20;
  const double in_x = std::min(inset_mm, size.x / 4), in_y = std::min(inset_mm, size.y / 4);
  std::vector<SetupPoint2> spots;
  for (const double y : {in_y, size.y / 2, size.y - in_y}) {
    for (const double x : {in_x, size.x / 2, size.x - in_x}) {
      if (x != size.x / 2 || y != size.y / 2) spots.push_back({x, y});
    }
  }
  return spots;
}

}  // namespace

std::vector<SpotList> freeSpots(Job job, std::span<const Program> programs) {
  job.hold_downs = {usualScrew()};
  Programs in_order;
  for (const Program& p : programs) in_order.add(p);
  std::vector<SpotList> lists;
  int next = 0;
  for (int s = 0; s < std::ssize(job.setups); ++s) {
    placing::SpotSearch search;
    search.setup = s;
    for (std::size_t k = 0; k < job.setups[s].programs.size(); ++k) search.programs.push_back(next++);
    SpotList& list = lists.emplace_back(SpotList{job.setups[s].name, {}});
    for (const SetupPoint2 spot : usualSpots(stockSizeInSetup(job.stock, job.setups[s]), job.inches)) {
      if (placing::isClearAt(job, in_order, search, spot)) list.free.push_back(spot);
    }
  }
  return lists;
}

}  // namespace provecut::draft
