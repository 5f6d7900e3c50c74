#include "report/placing/hold_down_places.h"

#include <oneapi/tbb/parallel_for.h>

#include <algorithm>
#include <set>
#include <string_view>
#include <utility>

#include "report/base/dimension_text.h"
#include "report/base/wording.h"
#include "report/facts/job_programs.h"
#include "report/rules/list.h"
#include "sim/clearance/clearance.h"
#include "sim/holes/pin_fit.h"
#include "sim/holes/screw_seat.h"
#include "sim/path/cut_round.h"
#include "sim/path/setup_frame.h"
#include "sim/placing/free_spots.h"
#include "sim/placing/hold_down_spots.h"

namespace provecut {

namespace {

constexpr double seat_cell_mm = 0.5;

const Setup& setupOf(const Facts& facts, int program) {
  return *facts.programs[program].setup;
}

const std::vector<int>& standingFor(const Facts& facts, int program) {
  return facts.programs[program].entry->hold_downs;
}

bool contains(const std::vector<int>& list, int hold_down) {
  return std::find(list.begin(), list.end(), hold_down) != list.end();
}

// Every hold-down that the setup lists for any of its programs.
std::vector<int> listedIn(const Setup& setup) {
  std::set<int> listed;
  for (const ProgramEntry& e : setup.programs) listed.insert(e.hold_downs.begin(), e.hold_downs.end());
  return {listed.begin(), listed.end()};
}

// By program, then by form.
std::vector<FreePlaces> allFreePlaces(const Facts& facts, const std::vector<PlaceForm>& forms, double margin_mm,
                                      double resolution_mm) {
  std::vector<FreePlaces> all(facts.programs.size() * forms.size());
  tbb::parallel_for(std::size_t{0}, all.size(), [&](std::size_t i) {
    FreePlaces& f = all[i];
    f.program = static_cast<int>(i / forms.size());
    f.form = static_cast<int>(i % forms.size());
    const Setup& setup = setupOf(facts, f.program);
    const Program* const alone[] = {&facts.programs[f.program].program};
    f.region = freePlaces(facts.job, setup, alone, forms[f.form].shape, margin_mm, resolution_mm);
    f.stock_share = stockShare(f.region, stockPlan(facts.job.stock, setup));
  });
  return all;
}

// What the setup lists anywhere, where the job has it, against one program.
std::vector<Standing> standingAgainst(const Job& job, const ProgramFacts& program) {
  ProgramEntry all;
  all.hold_downs = listedIn(*program.setup);
  std::vector<Contact> contacts;
  std::vector<NearPass> near;
  clearance::checkHoldDowns(job, *program.setup, all, program.program, contacts, near);
  std::vector<Standing> standing;
  for (const int h : all.hold_downs) {
    if (!isObstacle(job.hold_downs[h])) continue;
    Standing s{h, contains(program.entry->hold_downs, h), false, -1};
    for (const Contact& c : contacts) s.hit = s.hit || c.hold_down == h;
    for (const NearPass& n : near) {
      if (n.hold_down == h)
        s.clearance_mm = s.clearance_mm < 0 ? n.clearance_mm : std::min(s.clearance_mm, n.clearance_mm);
    }
    standing.push_back(s);
  }
  return standing;
}

// For what is fitted where it is hit or too close.
std::vector<NearestPlace> nearestPlaces(const Facts& facts, const Programs& programs,
                                        const std::vector<std::vector<Standing>>& standing) {
  std::set<std::pair<int, int>> wanted;  // setup, hold-down
  for (int p = 0; p < std::ssize(standing); ++p) {
    const auto setup = static_cast<int>(&setupOf(facts, p) - facts.job.setups.data());
    for (const Standing& s : standing[p]) {
      if (s.fitted && !s.clear() && holdsDown(facts.job.hold_downs[s.hold_down])) wanted.insert({setup, s.hold_down});
    }
  }
  std::vector<NearestPlace> nearest;
  for (const auto& [setup, hold_down] : wanted) {
    nearest.push_back({setup, hold_down, placing::nearestSpot(facts.job, programs, setup, hold_down)});
  }
  return nearest;
}

// How hold-downs of the form lie in the setup; nothing where they stand beside the stock.
std::optional<clearance::OnStock> lieOf(const Job& job, const Setup& setup, const PlaceForm& form) {
  const StockPlan stock = stockPlan(job.stock, setup);
  for (const int h : listedIn(setup)) {
    if (!contains(form.members, h)) continue;
    const clearance::OnStock lies = clearance::lieOn(stock, clearance::obstacle(job.hold_downs[h], 0));
    return lies == clearance::OnStock::beside ? std::nullopt : std::optional(lies);
  }
  const bool clamp = form.shape.kind == HoldDownKind::clamp;
  return clamp ? clearance::OnStock::across : clearance::OnStock::on;
}

std::vector<SpotsFor> spotsInSetup(const Facts& facts, const Programs& programs, const std::vector<PlaceForm>& forms,
                                   int setup, const std::vector<int>& of_setup) {
  std::vector<SpotsFor> all;
  for (int f = 0; f < std::ssize(forms); ++f) {
    const auto lies = lieOf(facts.job, facts.job.setups[setup], forms[f]);
    if (!lies) continue;
    const auto spotsFor = [&](const std::vector<int>& wanted) {
      const placing::SpotsAsked asked{setup, wanted, forms[f].shape, *lies};
      all.push_back({setup, f, wanted, placing::freeSpots(facts.job, programs, asked)});
    };
    spotsFor(of_setup);
    if (!all.back().at.empty() || of_setup.size() == 1) continue;
    all.pop_back();
    for (const int p : of_setup) spotsFor({p});
  }
  return all;
}

// In the order of setups and forms.
std::vector<SpotsFor> spotsToChoose(const Facts& facts, const Programs& programs, const std::vector<PlaceForm>& forms) {
  std::vector<std::vector<int>> of_setups(facts.job.setups.size());
  for (int p = 0; p < std::ssize(facts.programs); ++p)
    of_setups[static_cast<std::size_t>(&setupOf(facts, p) - facts.job.setups.data())].push_back(p);
  std::vector<std::vector<SpotsFor>> found(of_setups.size());
  tbb::parallel_for(std::size_t{0}, of_setups.size(), [&](std::size_t s) {
    if (!of_setups[s].empty()) found[s] = spotsInSetup(facts, programs, forms, static_cast<int>(s), of_setups[s]);
  });
  std::vector<SpotsFor> all;
  for (const auto& of_setup : found) all.insert(all.end(), of_setup.begin(), of_setup.end());
  return all;
}

// What else could hold the stock for the programs for which the plan leaves nothing that does.
std::vector<HeldOtherwise> heldOtherwise(const Facts& facts, const Programs& programs,
                                         const std::vector<placing::PlannedStay>& plan) {
  std::vector<HeldOtherwise> all;
  for (const int p : placing::unheldPrograms(facts.job, plan)) {
    const auto setup = static_cast<int>(&setupOf(facts, p) - facts.job.setups.data());
    const HoldDown screw = usualScrew();
    const placing::SpotsAsked asked{setup, {p}, screw, clearance::OnStock::on};
    all.push_back({p, screw, placing::freeSpots(facts.job, programs, asked)});
  }
  return all;
}

// Where a hold-down is for a program: by the plan, or as listed where it is none to plan; nothing if it does not stand.
std::optional<SetupPoint2> placeFor(const Facts& facts, const std::vector<placing::PlannedStay>& plan, int hold_down,
                                    int program) {
  const HoldDown& h = facts.job.hold_downs[hold_down];
  if (!holdsDown(h)) return contains(standingFor(facts, program), hold_down) ? std::optional(h.at_mm) : std::nullopt;
  for (const placing::PlannedStay& s : plan) {
    if (s.hold_down == hold_down && s.first <= program && program <= s.last) return s.at;
  }
  return std::nullopt;
}

// What changes on the bed before a program starts.
std::vector<Step> stepsBefore(const Facts& facts, const std::vector<placing::PlannedStay>& plan, int program) {
  const bool first_of_setup = program == 0 || &setupOf(facts, program) != &setupOf(facts, program - 1);
  std::vector<Step> steps;
  for (int h = 0; h < std::ssize(facts.job.hold_downs); ++h) {
    const SetupPoint2 at = facts.job.hold_downs[h].at_mm;
    const bool listed = contains(standingFor(facts, program), h);
    const std::optional<SetupPoint2> now = placeFor(facts, plan, h, program);
    const std::optional<SetupPoint2> before = first_of_setup ? std::nullopt : placeFor(facts, plan, h, program - 1);
    if (listed && !now && first_of_setup) steps.push_back({Step::Kind::leave_out, h, {}, false});
    if (now && !before) steps.push_back({Step::Kind::fit, h, *now, *now == at});
    if (now && before && !(*now == *before)) steps.push_back({Step::Kind::move, h, *now, false});
    if (!now && before) steps.push_back({Step::Kind::remove, h, {}, !listed});
  }
  return steps;
}

// Screws of each setup that stand within what a program cuts round.
std::vector<InPart> screwsInParts(const Facts& facts) {
  const Job& job = facts.job;
  std::vector<InPart> in_parts;
  for (int s = 0; s < std::ssize(job.setups); ++s) {
    for (const int h : listedIn(job.setups[s])) {
      const HoldDown& hold_down = job.hold_downs[h];
      if (hold_down.kind != HoldDownKind::screw) continue;
      const StockPoint2 at = setupToStock(job.stock, job.setups[s], hold_down.at_mm);
      for (int p = 0; p < std::ssize(facts.programs); ++p) {
        if (!cutGoesRound(job, setupOf(facts, p), facts.programs[p].program, at)) continue;
        in_parts.push_back({s, h, p});
        break;
      }
    }
  }
  return in_parts;
}

// What the rules about pins, screws and their holes look at.
void observeHoles(Facts& facts, const Programs& programs) {
  facts.run.pin_fits.clear();
  facts.run.pins_shifted.clear();
  facts.run.pins_either_way.clear();
  holes::observePins(facts.job, programs, facts.run);
  facts.run.screw_seats = holes::screwSeats(facts.job, programs, seat_cell_mm);
  facts.run.holes_in_path = holes::holesInPath(facts.job, programs);
}

}  // namespace

Places holdDownPlaces(Facts& facts, const PlaceAsked& asked) {
  Places places;
  places.facts = &facts;
  places.forms = placeForms(facts.job, asked.form);
  const Programs programs = programsOf(facts);
  for (const ProgramFacts& p : facts.programs) {
    for (const std::string_view doubt : placeDoubts(facts.job, p.program)) {
      places.not_checked.push_back(p.entry->file + std::string(doubt) + ", so some spots shown as free may be hit");
    }
  }
  const double margin = placeMargin(places.forms);
  places.resolution_mm = placeResolution(facts.job, margin, asked.resolution_mm);
  places.free = allFreePlaces(facts, places.forms, margin, places.resolution_mm);
  for (const ProgramFacts& p : facts.programs) places.standing.push_back(standingAgainst(facts.job, p));
  places.nearest = nearestPlaces(facts, programs, places.standing);
  places.spots = spotsToChoose(facts, programs, places.forms);
  places.plan = placing::planHoldDowns(facts.job, programs);
  places.held_otherwise = heldOtherwise(facts, programs, places.plan);
  for (int p = 0; p < std::ssize(facts.programs); ++p) places.steps.push_back(stepsBefore(facts, places.plan, p));
  places.old_holes = holes::oldHoles(facts.job);
  places.in_parts = screwsInParts(facts);
  observeHoles(facts, programs);
  for (const Rule* rule : {&pin_blocked_rule, &pins_shifted_rule, &pin_loose_rule, &screw_in_pocket_rule,
                           &pins_either_way_rule, &screw_near_edge_rule, &hole_in_path_rule}) {
    rule->check(facts, places.findings);
  }
  return places;
}

std::string heldOtherwiseText(const Job& job, const HeldOtherwise& held) {
  const std::string text = "no spot is free for any of its hold-downs, so nothing would hold the stock. Hold it by ";
  if (held.at.empty()) {
    return text + "tape or vacuum from below. Or cut this program in two, and move the hold-downs between them.";
  }
  std::vector<std::string> spots;
  for (const SetupPoint2 p : held.at) spots.push_back(spotText(job, p));
  return text + "smaller screws (" + formText(job, held.by) + ") at " + listText(spots) +
         ", or by tape or vacuum from below.";
}

}  // namespace provecut
