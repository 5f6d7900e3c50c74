#include "report/hold_down_places.h"

#include <oneapi/tbb/parallel_for.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <set>
#include <utility>

#include "parser/job_words.h"
#include "parser/outline_check.h"
#include "report/rules/list.h"
#include "report/rules/wording.h"
#include "sim/clearance.h"
#include "sim/cut_round.h"
#include "sim/free_spot.h"
#include "sim/pin_fit.h"
#include "sim/screw_seat.h"
#include "sim/setup_frame.h"

namespace provecut {

namespace {

constexpr double keep_out_tolerance_mm = 0.01, box_tolerance_mm = 0.02, seat_cell_mm = 0.5;

bool holdsDown(const HoldDown& h) { return h.kind != HoldDownKind::tape && h.kind != HoldDownKind::pin; }

bool sameForm(const HoldDown& a, const HoldDown& b) {
  if (a.kind != b.kind || a.top_mm != b.top_mm || a.diameter_mm != b.diameter_mm) return false;
  if (a.diameter_mm > 0) return true;
  if (a.outline_mm.size() != b.outline_mm.size()) return false;
  for (std::size_t i = 0; i < a.outline_mm.size(); ++i) {
    if (length((a.outline_mm[i] - a.at_mm) - (b.outline_mm[i] - b.at_mm)) > 1e-9) return false;
  }
  return a.size_mm == b.size_mm && (a.angle_deg == b.angle_deg || !a.outline_mm.empty());
}

std::vector<PlaceForm> formsOf(const Job& job, const PlaceAsked& asked) {
  if (asked.form) return {{*asked.form, {}}};
  std::vector<PlaceForm> forms;
  for (std::size_t i = 0; i < job.hold_downs.size(); ++i) {
    const HoldDown& h = job.hold_downs[i];
    if (!holdsDown(h)) continue;
    auto form = std::find_if(forms.begin(), forms.end(), [&](const PlaceForm& f) { return sameForm(f.shape, h); });
    if (form == forms.end()) form = forms.insert(forms.end(), {h, {}});
    form->members.push_back(static_cast<int>(i));
  }
  if (forms.empty()) {
    // A pan head on wood: 9.5 across, 3.5 high (DIN 7981 / ISO 7045 sizes 4.8 and M5, rounded down in height by 0.05).
    HoldDown screw;
    screw.kind = HoldDownKind::screw;
    screw.diameter_mm = 9.5;
    screw.top_mm = 3.5;
    forms.push_back({screw, {}});
  }
  return forms;
}

HoldDown movedTo(HoldDown h, Vec2 at) {
  for (Vec2& corner : h.outline_mm) corner = corner + (at - h.at_mm);
  h.at_mm = at;
  return h;
}

// Area of the rings within the rectangle from (0, 0) to `size`, by cutting each off at its four sides.
double areaWithin(const std::vector<std::vector<Vec2>>& rings, Vec2 size) {
  double area = 0;
  for (std::vector<Vec2> ring : rings) {
    for (int side = 0; side < 4 && !ring.empty(); ++side) {
      const auto inside = [&](Vec2 p) { return side == 0 ? p.x : side == 1 ? size.x - p.x : side == 2 ? p.y : size.y - p.y; };
      std::vector<Vec2> kept;
      for (std::size_t i = 0; i < ring.size(); ++i) {
        const Vec2 a = ring[i], b = ring[(i + 1) % ring.size()];
        const double at_a = inside(a), at_b = inside(b);
        if (at_a >= 0) kept.push_back(a);
        if ((at_a >= 0) != (at_b >= 0)) kept.push_back(a + (b - a) * (at_a / (at_a - at_b)));
      }
      ring = std::move(kept);
    }
    area += signedArea(ring);
  }
  return area;
}

struct Collector {
  Facts& facts;
  const Job& job;
  std::vector<Program> programs;
  Places& places;

  const Setup& setupOf(std::size_t program) const { return *facts.programs[program].setup; }
  int setupIndex(std::size_t program) const { return static_cast<int>(facts.programs[program].setup - job.setups.data()); }

  void regions(double resolution) {
    double margin = 40;
    for (const PlaceForm& f : places.forms) {
      const Obstacle o = obstacle(f.shape, 0);
      margin = std::max(margin, std::max(o.high.x - o.low.x, o.high.y - o.low.y) / 2 + 20);
    }
    // A sheet has so much more outline that a coarser one is enough.
    const double area = (job.stock.size_mm.x + 2 * margin) * (job.stock.size_mm.y + 2 * margin);
    places.resolution_mm = std::max(resolution, std::sqrt(area / 6e6));
    places.free.resize(programs.size() * places.forms.size());
    tbb::parallel_for(std::size_t{0}, places.free.size(), [&](std::size_t i) {
      FreePlaces& f = places.free[i];
      f.program = static_cast<int>(i / places.forms.size());
      f.form = static_cast<int>(i % places.forms.size());
      const auto p = static_cast<std::size_t>(f.program);
      const Vec3 blank = lyingSize(job.stock, setupOf(p));
      const Obstacle form = obstacle(movedTo(places.forms[static_cast<std::size_t>(f.form)].shape, {}), blank.z);
      const bool round = form.radius_mm > 0;
      const auto out = keepOut(job, setupOf(p), programs[p], form.top_mm, round ? keep_out_tolerance_mm : box_tolerance_mm, round);
      f.region = freeRegion(out, form, {-margin, -margin}, {blank.x + margin, blank.y + margin}, places.resolution_mm);
      f.blank_share = std::clamp(areaWithin(f.region.rings, {blank.x, blank.y}) / (blank.x * blank.y), 0.0, 1.0);
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
      checkHoldDowns(job, setupOf(p), all, programs[p], contacts, near);
      const std::vector<int>& stands = facts.programs[p].entry->hold_downs;
      for (const int h : all.hold_downs) {
        if (job.hold_downs[static_cast<std::size_t>(h)].kind == HoldDownKind::tape) continue;
        Standing s{h, std::find(stands.begin(), stands.end(), h) != stands.end(), false, -1};
        for (const Contact& c : contacts) s.hit = s.hit || c.hold_down == h;
        for (const NearPass& n : near) {
          if (n.hold_down == h) s.clearance_mm = s.clearance_mm < 0 ? n.clearance_mm : std::min(s.clearance_mm, n.clearance_mm);
        }
        places.standing[p].push_back(s);
      }
    }
  }

  void nearest() {
    std::set<std::pair<int, int>> wanted;
    for (std::size_t p = 0; p < programs.size(); ++p) {
      for (const Standing& s : places.standing[p]) {
        if (s.stands && !s.clear() && holdsDown(job.hold_downs[static_cast<std::size_t>(s.hold_down)])) wanted.insert({setupIndex(p), s.hold_down});
      }
    }
    for (const auto& [setup, hold_down] : wanted) {
      SpotSearch search{setup, hold_down, {}, {}, job.inches ? 0.0254 : 0.1};
      std::set<int> others;
      for (std::size_t p = 0; p < programs.size(); ++p) {
        const std::vector<int>& stands = facts.programs[p].entry->hold_downs;
        if (std::find(stands.begin(), stands.end(), hold_down) == stands.end()) continue;
        search.programs.push_back(static_cast<int>(p));
        others.insert(stands.begin(), stands.end());
      }
      others.erase(hold_down);
      for (const int o : others) search.others.push_back(job.hold_downs[static_cast<std::size_t>(o)]);
      places.nearest.push_back({setup, hold_down, nearestFreeSpot(job, programs, search)});
    }
  }

  // Where a hold-down is for a program by the plan: the place, if it stands at all.
  std::optional<Vec2> planned(int hold_down, std::size_t p) const {
    for (const PlannedStay& s : places.plan) {
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
        std::optional<Vec2> now, before;
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
        if (now && !before) out.push_back({Step::Kind::put_on, index, *now, *now == hold_down.at_mm});
        if (now && before && !(*now == *before)) out.push_back({Step::Kind::move, index, *now, false});
        if (!now && before && !listed) out.push_back({Step::Kind::take_off, index, {}, true});
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
        const Vec2 at = flat(lyingToStock(job.stock, setup, {h.at_mm.x, h.at_mm.y, 0}));
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
    observePins(job, programs, facts.run);
    facts.run.screw_seats = screwSeats(job, programs, seat_cell_mm);
    facts.run.holes_in_path = holesInPath(job, programs);
  }
};

}  // namespace

Places holdDownPlaces(Facts& facts, const PlaceAsked& asked) {
  Places places;
  places.facts = &facts;
  places.forms = formsOf(facts.job, asked);
  Collector c{facts, facts.job, {}, places};
  for (ProgramFacts& p : facts.programs) c.programs.push_back(std::move(p.program));
  std::set<int> tools;
  for (const Tool& t : facts.job.tools) tools.insert(t.number);
  for (std::size_t p = 0; p < c.programs.size(); ++p) {
    const std::string& file = facts.programs[p].entry->file;
    if (!c.programs[p].read_whole) places.not_checked.push_back(file + " could not be read whole: its places may be too many");
    const bool unknown = std::any_of(c.programs[p].motions.begin(), c.programs[p].motions.end(),
                                     [&](const Motion& m) { return moves(m) && !tools.contains(m.tool); });
    if (unknown) places.not_checked.push_back(file + " moves a tool that the job does not define: its places may be too many");
  }
  c.regions(asked.resolution_mm);
  c.standings();
  c.nearest();
  places.plan = planHoldDowns(facts.job, c.programs);
  c.steps();
  places.old_holes = oldHoles(facts.job);
  c.inParts();
  c.rules();
  for (std::size_t p = 0; p < c.programs.size(); ++p) facts.programs[p].program = std::move(c.programs[p]);
  for (const Rule* rule : {&pin_blocked_rule, &pins_shifted_rule, &pin_loose_rule, &screw_in_pocket_rule, &pins_either_way_rule,
                           &screw_near_edge_rule, &hole_in_path_rule}) {
    rule->check(facts, places.findings);
  }
  return places;
}

std::string formText(const Job& job, const HoldDown& h) {
  const std::string kind(h.kind == HoldDownKind::other ? "hold-down" : wordOf(h.kind));
  const auto text = [&](double mm) { return quantityText(job, Quantity::length, mm); };
  std::string size = text(h.diameter_mm);
  if (!(h.diameter_mm > 0)) {
    const Obstacle o = obstacle(h, 0);
    const Vec2 box = h.outline_mm.empty() ? h.size_mm : o.high - o.low;
    const std::string first = text(box.x);
    size = first.substr(0, first.find(' ')) + " x " + text(box.y);
    if (h.outline_mm.empty() && h.angle_deg != 0) size += " at " + fixedText(h.angle_deg, 0) + " degrees";
  }
  return kind + " of " + size + ", top " + text(h.top_mm);
}

}  // namespace provecut
