#include "report/placing/hold_down_places.h"

#include <oneapi/tbb/parallel_for.h>

#include <algorithm>
#include <set>
#include <string_view>
#include <utility>

#include "report/facts/job_programs.h"
#include "report/rules/list.h"
#include "sim/clearance/clearance.h"
#include "sim/holes/pin_fit.h"
#include "sim/holes/screw_seat.h"
#include "sim/path/cut_round.h"
#include "sim/path/setup_frame.h"
#include "sim/placing/hold_down_spots.h"

namespace provecut {

namespace {

constexpr double seat_cell_mm = 0.5;

struct Collector {
  Facts& facts;
  const Job& job;
  Programs programs;
  Places& places;

  const Setup& setupOf(std::size_t program) const { return *facts.programs[program].setup; }
  int setupIndex(std::size_t program) const {
    return static_cast<int>(facts.programs[program].setup - job.setups.data());
  }

  void regions(double resolution) {
    const double margin = placeMargin(places.forms);
    places.resolution_mm = placeResolution(job, margin, resolution);
    places.free.resize(programs.size() * places.forms.size());
    tbb::parallel_for(std::size_t{0}, places.free.size(), [&](std::size_t i) {
      FreePlaces& f = places.free[i];
      f.program = static_cast<int>(i / places.forms.size());
      f.form = static_cast<int>(i % places.forms.size());
      const auto p = static_cast<std::size_t>(f.program);
      const Program* const alone[] = {&programs[p]};
      f.region = freePlaces(job, setupOf(p), alone, places.forms[static_cast<std::size_t>(f.form)].shape, margin,
                            places.resolution_mm);
      f.stock_share = stockShare(f.region, stockSizeInSetup(job.stock, setupOf(p)));
    });
  }

  void standings() {
    places.standing.resize(programs.size());
    for (std::size_t p = 0; p < programs.size(); ++p) {
      std::set<int> listed;
      for (const ProgramEntry& e : setupOf(p).programs) listed.insert(e.hold_downs.begin(), e.hold_downs.end());
      ProgramEntry all;
      all.hold_downs.assign(listed.begin(), listed.end());
      std::vector<Contact> contacts;
      std::vector<NearPass> near;
      clearance::checkHoldDowns(job, setupOf(p), all, programs[p], contacts, near);
      const std::vector<int>& stands = facts.programs[p].entry->hold_downs;
      for (const int h : all.hold_downs) {
        if (job.hold_downs[static_cast<std::size_t>(h)].kind == HoldDownKind::tape) continue;
        Standing s{h, std::find(stands.begin(), stands.end(), h) != stands.end(), false, -1};
        for (const Contact& c : contacts) s.hit = s.hit || c.hold_down == h;
        for (const NearPass& n : near) {
          if (n.hold_down == h)
            s.clearance_mm = s.clearance_mm < 0 ? n.clearance_mm : std::min(s.clearance_mm, n.clearance_mm);
        }
        places.standing[p].push_back(s);
      }
    }
  }

  void nearest() {
    std::set<std::pair<int, int>> wanted;
    for (std::size_t p = 0; p < programs.size(); ++p) {
      for (const Standing& s : places.standing[p]) {
        if (s.stands && !s.clear() && holdsDown(job.hold_downs[static_cast<std::size_t>(s.hold_down)]))
          wanted.insert({setupIndex(p), s.hold_down});
      }
    }
    for (const auto& [setup, hold_down] : wanted) {
      places.nearest.push_back({setup, hold_down, placing::nearestSpot(job, programs, setup, hold_down)});
    }
  }

  // Where a hold-down is for a program by the plan: the place, if it stands at all.
  std::optional<SetupPoint2> planned(int hold_down, std::size_t p) const {
    for (const placing::PlannedStay& s : places.plan) {
      if (s.hold_down == hold_down && s.first <= static_cast<int>(p) && static_cast<int>(p) <= s.last) return s.at;
    }
    return std::nullopt;
  }

  void steps() {
    places.steps.resize(programs.size());
    for (std::size_t p = 0; p < programs.size(); ++p) {
      const bool first_of_setup = p == 0 || setupIndex(p) != setupIndex(p - 1);
      const std::vector<int>& stands = facts.programs[p].entry->hold_downs;
      for (std::size_t h = 0; h < job.hold_downs.size(); ++h) {
        const HoldDown& hold_down = job.hold_downs[h];
        const int index = static_cast<int>(h);
        const bool listed = std::find(stands.begin(), stands.end(), index) != stands.end();
        std::optional<SetupPoint2> now, before;
        if (holdsDown(hold_down)) {
          now = planned(index, p);
          if (!first_of_setup) before = planned(index, p - 1);
        } else {
          if (listed) now = hold_down.at_mm;
          if (!first_of_setup) {
            const std::vector<int>& then = facts.programs[p - 1].entry->hold_downs;
            if (std::find(then.begin(), then.end(), index) != then.end()) before = hold_down.at_mm;
          }
        }
        std::vector<Step>& out = places.steps[p];
        if (listed && !now && (first_of_setup || before)) out.push_back({Step::Kind::leave_out, index, {}, false});
        if (now && !before) out.push_back({Step::Kind::fit, index, *now, *now == hold_down.at_mm});
        if (now && before && !(*now == *before)) out.push_back({Step::Kind::move, index, *now, false});
        if (!now && before && !listed) out.push_back({Step::Kind::remove, index, {}, true});
      }
    }
  }

  void inParts() {
    for (std::size_t s = 0; s < job.setups.size(); ++s) {
      const Setup& setup = job.setups[s];
      std::set<int> listed;
      for (const ProgramEntry& e : setup.programs) listed.insert(e.hold_downs.begin(), e.hold_downs.end());
      for (const int index : listed) {
        const HoldDown& h = job.hold_downs[static_cast<std::size_t>(index)];
        if (h.kind != HoldDownKind::screw) continue;
        const StockPoint2 at = setupToStock(job.stock, setup, h.at_mm);
        for (std::size_t p = 0; p < programs.size(); ++p) {
          if (!cutGoesRound(job, setupOf(p), programs[p], at)) continue;
          places.in_parts.push_back({static_cast<int>(s), index, static_cast<int>(p)});
          break;
        }
      }
    }
  }

  void rules() {
    facts.run.pin_fits.clear();
    facts.run.pins_shifted.clear();
    facts.run.pins_either_way.clear();
    holes::observePins(job, programs, facts.run);
    facts.run.screw_seats = holes::screwSeats(job, programs, seat_cell_mm);
    facts.run.holes_in_path = holes::holesInPath(job, programs);
  }
};

}  // namespace

Places holdDownPlaces(Facts& facts, const PlaceAsked& asked) {
  Places places;
  places.facts = &facts;
  places.forms = placeForms(facts.job, asked.form);
  Collector c{facts, facts.job, programsOf(facts), places};
  for (std::size_t p = 0; p < c.programs.size(); ++p) {
    for (const std::string_view doubt : placeDoubts(facts.job, c.programs[p])) {
      places.not_checked.push_back(facts.programs[p].entry->file + std::string(doubt) +
                                   ", so some spots shown as free may not be");
    }
  }
  c.regions(asked.resolution_mm);
  c.standings();
  c.nearest();
  places.plan = placing::planHoldDowns(facts.job, c.programs);
  c.steps();
  places.old_holes = holes::oldHoles(facts.job);
  c.inParts();
  c.rules();
  for (const Rule* rule : {&pin_blocked_rule, &pins_shifted_rule, &pin_loose_rule, &screw_in_pocket_rule,
                           &pins_either_way_rule, &screw_near_edge_rule, &hole_in_path_rule}) {
    rule->check(facts, places.findings);
  }
  return places;
}

}  // namespace provecut
