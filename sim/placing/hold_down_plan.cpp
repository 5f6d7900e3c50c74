#include "sim/placing/hold_down_plan.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

#include "sim/clearance/on_stock.h"
#include "sim/path/stock_plan.h"
#include "sim/placing/free_spot.h"

namespace provecut::placing {

namespace {

// Pins only locate; what stands beside the stock holds nothing.
bool holdsStock(const Job& job, const Setup& setup, const HoldDown& h) {
  if (h.kind == HoldDownKind::pin) return false;
  return !isMovable(h.kind) ||
         clearance::lieOn(stockPlan(job.stock, setup), clearance::obstacle(h, 0)) != clearance::OnStock::beside;
}

struct Planner {
  const Job& job;
  Programs programs;
  std::vector<const ProgramEntry*> entries;  // in the order of the job
  std::vector<PlannedStay> plan;

  // Where the others stand that stand for any of these programs: where they are planned, else where the job has them.
  std::vector<HoldDown> othersOf(int hold_down, int first, int last) const {
    std::vector<HoldDown> others;
    std::set<int> listed;
    for (int p = first; p <= last; ++p) {
      const auto& stands = entries[p]->hold_downs;
      listed.insert(stands.begin(), stands.end());
    }
    listed.erase(hold_down);
    for (const int index : listed) {
      const HoldDown& h = job.hold_downs[index];
      others.push_back(h);
      for (const PlannedStay& s : plan) {
        if (s.hold_down != index || !s.moved || s.last < first || s.first > last || !s.at) continue;
        others.push_back(movedTo(h, *s.at));
      }
    }
    return others;
  }

  SpotSearch searchFor(int setup, int hold_down, int first, int last) const {
    SpotSearch s{setup, hold_down, {}, othersOf(hold_down, first, last), job.inches ? 0.0254 : 0.1};
    for (int p = first; p <= last; ++p) s.programs.push_back(p);
    return s;
  }

  // Programs begin … begin + count - 1 in a row, for all of which the job lists it.
  void planRow(int setup, int hold_down, int begin, int count) {
    const SetupPoint2 home = job.hold_downs[hold_down].at_mm;
    std::vector<bool> clear_at_home;
    for (int k = 0; k < count; ++k) {
      clear_at_home.push_back(isClearAt(job, programs, searchFor(setup, hold_down, begin + k, begin + k), home));
    }
    std::map<std::pair<int, int>, std::optional<SetupPoint2>> spots;
    const auto spotFor = [&](int first, int last) {
      bool home_serves = true;
      for (int k = first; k <= last; ++k) home_serves = home_serves && clear_at_home[k];
      if (home_serves) return std::optional(home);
      const auto [known, added] = spots.try_emplace({first, last});
      if (added)
        known->second = nearestFreeSpot(job, programs, searchFor(setup, hold_down, begin + first, begin + last));
      return known->second;
    };
    for (const Stay& s : fewestStays(count, [&](int first, int last) { return spotFor(first, last).has_value(); })) {
      const std::optional<SetupPoint2> at = s.possible ? spotFor(s.first, s.last) : std::nullopt;
      plan.push_back({setup, hold_down, begin + s.first, begin + s.last, !at || !(*at == home), at});
    }
  }

  // Those left out for a program that nothing else holds go anywhere on the stock that is free.
  void widen() {
    for (const int program : unheldPrograms(job, plan)) {
      for (PlannedStay& stay : plan) {
        if (stay.at || program < stay.first || program > stay.last) continue;
        SpotSearch search = searchFor(stay.setup, stay.hold_down, stay.first, stay.last);
        search.max_way_mm = std::hypot(job.stock.size_mm.x, job.stock.size_mm.y);
        stay.at = nearestFreeSpot(job, programs, search);
      }
    }
  }
};

}  // namespace

std::vector<int> unheldPrograms(const Job& job, std::span<const PlannedStay> plan) {
  std::vector<int> unheld;
  int program = 0;
  for (const Setup& setup : job.setups) {
    for (const ProgramEntry& entry : setup.programs) {
      bool listed = false, held = false;
      for (const int h : entry.hold_downs) {
        if (!holdsStock(job, setup, job.hold_downs[h])) continue;
        listed = true;
        held = held || !isMovable(job.hold_downs[h].kind) ||
               std::any_of(plan.begin(), plan.end(), [&](const PlannedStay& s) {
                 return s.hold_down == h && s.first <= program && program <= s.last && s.at;
               });
      }
      if (listed && !held) unheld.push_back(program);
      ++program;
    }
  }
  return unheld;
}

std::vector<PlannedStay> planHoldDowns(const Job& job, const Programs& programs) {
  Planner planner{job, programs, {}, {}};
  for (const Setup& setup : job.setups) {
    for (const ProgramEntry& entry : setup.programs) planner.entries.push_back(&entry);
  }
  int begin = 0;
  for (int s = 0; s < std::ssize(job.setups); ++s) {
    const auto end = static_cast<int>(std::min(begin + job.setups[s].programs.size(), programs.size()));
    for (int h = 0; h < std::ssize(job.hold_downs); ++h) {
      if (!isMovable(job.hold_downs[h].kind)) continue;
      const auto stands = [&](int p) {
        const auto& list = planner.entries[p]->hold_downs;
        return std::find(list.begin(), list.end(), h) != list.end();
      };
      for (int p = begin; p < end;) {
        int q = p;
        while (q < end && stands(q)) ++q;
        if (q > p) planner.planRow(s, h, p, q - p);
        p = q > p ? q : p + 1;
      }
    }
    begin = end;
  }
  planner.widen();
  return planner.plan;
}

}  // namespace provecut::placing
