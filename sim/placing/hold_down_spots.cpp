#include "sim/placing/hold_down_spots.h"

#include <oneapi/tbb/parallel_for.h>

#include <algorithm>
#include <set>
#include <utility>

#include "sim/placing/free_spot.h"

namespace provecut::placing {

std::optional<SetupPoint2> nearestSpot(const Job& job, const Programs& programs, int setup, int hold_down) {
  SpotSearch search{setup, hold_down, {}, {}, job.inches ? 0.0254 : 0.1};
  std::set<int> others;
  int program = 0;
  for (const Setup& s : job.setups) {
    for (const ProgramEntry& entry : s.programs) {
      const std::vector<int>& fitted = entry.hold_downs;
      if (std::find(fitted.begin(), fitted.end(), hold_down) != fitted.end()) {
        search.programs.push_back(program);
        others.insert(fitted.begin(), fitted.end());
      }
      ++program;
    }
  }
  others.erase(hold_down);
  for (const int o : others) search.others.push_back(job.hold_downs[o]);
  return nearestFreeSpot(job, programs, search);
}

std::vector<ClearSpot> clearSpots(const Job& job, const Programs& programs, std::span<const ProgramRun> runs) {
  std::set<std::pair<int, int>> in_the_way;  // setup, hold-down
  for (const ProgramRun& run : runs) {
    for (const Contact& c : run.contacts) in_the_way.insert({run.setup, c.hold_down});
    for (const NearPass& n : run.near_passes) in_the_way.insert({run.setup, n.hold_down});
  }
  std::erase_if(in_the_way, [&](const auto& w) { return !isMovable(job.hold_downs[w.second].kind); });
  const std::vector<std::pair<int, int>> tasks(in_the_way.begin(), in_the_way.end());
  std::vector<std::optional<SetupPoint2>> found(tasks.size());
  tbb::parallel_for(std::size_t{0}, tasks.size(),
                    [&](std::size_t i) { found[i] = nearestSpot(job, programs, tasks[i].first, tasks[i].second); });
  std::vector<ClearSpot> spots;
  for (std::size_t i = 0; i < tasks.size(); ++i) {
    if (found[i]) spots.push_back({tasks[i].second, tasks[i].first, *found[i]});
  }
  return spots;
}

}  // namespace provecut::placing
