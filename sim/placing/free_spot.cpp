#include "sim/placing/free_spot.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <queue>
#include <utility>

#include "sim/clearance/clearance.h"
#include "sim/clearance/on_stock.h"
#include "sim/path/cut_round.h"
#include "sim/path/path.h"
#include "sim/path/setup_frame.h"
#include "sim/placing/keep_out.h"

namespace provecut::placing {

namespace {

constexpr double longest_way_mm = 150, tolerance_mm = 0.01;
constexpr double edge_in_shafts = 5;  // so that the wood does not split; from memory
constexpr double least_grip_mm = 5;   // of a clamp over the edge; common practice, no source

// The setup of each program.
std::vector<const Setup*> setupsInOrder(const Job& job) {
  std::vector<const Setup*> all;
  for (const Setup& setup : job.setups) all.insert(all.end(), setup.programs.size(), &setup);
  return all;
}

// Cuts below the top of the stock seen from above, in setup `lies`: what may go round a place.
std::vector<Stretch> cutsOf(const Job& job, const Programs& programs, const Setup& lies) {
  std::vector<Stretch> cuts;
  const std::vector<const Setup*> setups = setupsInOrder(job);
  for (int i = 0; i < std::ssize(programs); ++i) {
    const Setup& setup = *setups[i];
    const double top = stockSizeInSetup(job.stock, setup).z;
    const auto there = [&](SetupPoint p) { return setupToSetup(job.stock, setup, lies, flat(p)); };
    for (const Motion& m : programs[i].motions) {
      if (!moves(m) || m.kind == MotionKind::rapid || std::min(m.start.z, m.end.z) + setup.zero_mm.z >= top) continue;
      const PathPiece piece = pathOf(m, setup.zero_mm, job.machine).pieces[0];
      // Chords leave the arc by so much that a place between the two counts as near the cut.
      const int chords = piece.arc ? 8 + static_cast<int>(std::fabs(piece.sweep) * 4) : 1;
      const double error = chordError(piece, std::fabs(piece.sweep) / chords);
      for (int k = 0; k < chords; ++k) {
        cuts.push_back({there(pointAt(piece, static_cast<double>(k) / chords)),
                        there(pointAt(piece, (k + 1.0) / chords)), error, error, 0});
      }
    }
  }
  return cuts;
}

// How the hold-down may be placed: on or beside the stock as where the job has it, and off the others.
struct Placement {
  const HoldDown& hold_down;
  clearance::Obstacle form, at_home;  // about the origin, and where the job has it
  std::vector<Vec3> stocks;           // as the programs in question find it
  std::vector<clearance::Obstacle> others;
  double edge_mm = 0;  // that a screw keeps from the edge of the stock
};

double fromEdge(Vec3 stock, SetupPoint2 p) {
  return std::min({p.x, p.y, stock.x - p.x, stock.y - p.y});
}

// How far it reaches over the stock's edge; of an outline, its box.
double grip_mm(Vec3 stock, const clearance::Obstacle& o) {
  return std::min({o.high.x, o.high.y, stock.x - o.low.x, stock.y - o.low.y});
}

bool fits(const Placement& placement, SetupPoint2 at) {
  const HoldDown& h = placement.hold_down;
  const clearance::Obstacle there = clearance::shifted(placement.form, at - SetupPoint2{});
  for (const Vec3 stock : placement.stocks) {
    if (clearance::lieOn(stock, there) != clearance::lieOn(stock, placement.at_home)) return false;
    if (clearance::lieOn(stock, there) == clearance::OnStock::across &&
        grip_mm(stock, there) < std::min(least_grip_mm, grip_mm(stock, placement.at_home)) - 1e-9)
      return false;
    if (h.kind == HoldDownKind::screw && fromEdge(stock, middle(there.low, there.high)) < placement.edge_mm - 1e-9)
      return false;
  }
  return std::none_of(placement.others.begin(), placement.others.end(),
                      [&](const clearance::Obstacle& o) { return clearance::footprintsOverlap(o, there); });
}

// Whether no place at most `half` from the middle can fit.
bool neverFits(const Placement& placement, SetupPoint2 middle, double half) {
  const clearance::Obstacle there = clearance::shifted(placement.form, middle - SetupPoint2{});
  for (const Vec3 stock : placement.stocks) {
    const clearance::OnStock wanted = clearance::lieOn(stock, placement.at_home);
    const bool off =
        there.high.x < -half || there.high.y < -half || there.low.x > stock.x + half || there.low.y > stock.y + half;
    const bool out =
        there.low.x < -half || there.low.y < -half || there.high.x > stock.x + half || there.high.y > stock.y + half;
    const bool in =
        there.low.x >= half && there.low.y >= half && there.high.x <= stock.x - half && there.high.y <= stock.y - half;
    if ((wanted == clearance::OnStock::on && out) || (wanted == clearance::OnStock::across && (in || off)) ||
        (wanted == clearance::OnStock::beside && in))
      return true;
    if (placement.hold_down.kind == HoldDownKind::screw && fromEdge(stock, middle) < placement.edge_mm - half - 1e-9)
      return true;
  }
  return std::any_of(placement.others.begin(), placement.others.end(),
                     [&](const clearance::Obstacle& o) { return clearance::signedDistance(o, middle) < -half; });
}

// The rounds that cuts make, which a screw must not come into.
struct Rounds {
  const Job& job;
  const Programs& programs;
  const Setup& setup;                // places are given in it
  std::vector<const Setup*> setups;  // per program, as is what follows
  std::vector<bool> home_inside;
};

bool goesRound(const Rounds& r, int program, SetupPoint2 p) {
  return cutGoesRound(r.job, *r.setups[program], r.programs[program], setupToStock(r.job.stock, r.setup, p));
}

bool inPart(const Rounds& r, SetupPoint2 p) {
  for (int i = 0; i < std::ssize(r.home_inside); ++i) {
    if (!r.home_inside[i] && goesRound(r, i, p)) return true;
  }
  return false;
}

struct SpotSquare {
  double key = 0;              // no place in it is nearer to home
  int x = 0, y = 0, side = 0;  // first place and their number along a side, in steps from home
  std::vector<const Stretch*> near, cuts;
  bool no_part = false;  // known to be in no part
};

struct Later {
  bool operator()(const SpotSquare& a, const SpotSquare& b) const {
    // Of two that are as near, the one that comes first in reading order: results do not depend on the heap.
    if (a.key != b.key) return a.key > b.key;
    return a.y != b.y ? a.y > b.y : a.x > b.x;
  }
};

// Those of the stretches that can decide at a place up to the longest way from home.
std::vector<const Stretch*> nearTo(SetupPoint2 home, const std::vector<Stretch>& stretches, double around_mm) {
  std::vector<const Stretch*> near;
  const double far = longest_way_mm + 1 + around_mm;  // places lie on steps about home, 1 mm at most
  for (const Stretch& s : stretches) {
    if (clearance::fromEdge({s.a, s.b}, home).distance <= far + std::max(s.reach0, s.reach1)) near.push_back(&s);
  }
  return near;
}

// Of places about home.
SpotSquare wholeSquare(double step) {
  const int reach = static_cast<int>(longest_way_mm / step);
  int side = 1;
  while (side < 2 * reach + 1) side *= 2;
  return {0, -reach, -reach, side, {}, {}, false};
}

std::array<SpotSquare, 4> quartersOf(const SpotSquare& s, double step) {
  const int h = s.side / 2;
  const auto quarter = [&](int x, int y) {
    const auto off = [&](int first) { return std::max({first, 1 - first - h, 0}); };  // of the nearest place from home
    const double dx = off(x), dy = off(y);
    return SpotSquare{step * std::sqrt(dx * dx + dy * dy), x, y, h, s.near, s.cuts, s.no_part};
  };
  return {quarter(s.x, s.y), quarter(s.x + h, s.y), quarter(s.x, s.y + h), quarter(s.x + h, s.y + h)};
}

// Leaves only the stretches that decide at most `half` from the middle; false where no place there is clear.
bool narrow(std::vector<const Stretch*>& near, const Footprint& footprint, SetupPoint2 middle, double half) {
  std::vector<const Stretch*> kept;
  for (const Stretch* stretch : near) {
    const double v = keptOut(*stretch, footprint, middle, half);
    if (v < -half - tolerance_mm) return false;
    if (v < half) kept.push_back(stretch);
  }
  near = std::move(kept);
  return true;
}

// Leaves only the cuts that run at most `half` from the middle.
void narrowCuts(std::vector<const Stretch*>& cuts, SetupPoint2 middle, double half) {
  std::erase_if(cuts, [&](const Stretch* cut) {
    return !(clearance::fromEdge({cut->a, cut->b}, middle).distance <= half + cut->reach0);
  });
}

Placement placementOf(const Job& job, const SpotSearch& search) {
  const HoldDown& h = job.hold_downs[search.hold_down];
  const double top = stockSizeInSetup(job.stock, job.setups[search.setup]).z;
  const clearance::Obstacle at_home = clearance::obstacle(h, top);
  Placement placement{
      h, clearance::shifted(at_home, SetupPoint2{} - h.at_mm), at_home, {}, {}, edge_in_shafts * h.shaft_diameter_mm};
  const std::vector<const Setup*> setups = setupsInOrder(job);
  for (const int p : search.programs) placement.stocks.push_back(stockSizeInSetup(job.stock, *setups[p]));
  for (const HoldDown& o : search.others) {
    if (isObstacle(o)) placement.others.push_back(clearance::obstacle(o, top));
  }
  return placement;
}

Rounds roundsOf(const Job& job, const Programs& programs, const Setup& setup, const HoldDown& h) {
  Rounds rounds{job, programs, setup, setupsInOrder(job), {}};
  if (h.kind != HoldDownKind::screw) return rounds;
  for (int i = 0; i < std::ssize(programs); ++i) rounds.home_inside.push_back(goesRound(rounds, i, h.at_mm));
  return rounds;
}

std::vector<Stretch> keepOutOf(const Job& job, const Programs& programs, const SpotSearch& search,
                               const std::vector<const Setup*>& setups, const Placement& placement) {
  std::vector<Stretch> keep_out;
  for (const int p : search.programs) {
    const auto of =
        keepOut(job, *setups[p], programs[p], placement.at_home.top_mm, tolerance_mm, placement.form.radius_mm > 0);
    keep_out.insert(keep_out.end(), of.begin(), of.end());
  }
  return keep_out;
}

// All that decides whether a place will do.
struct SpotNeeds {
  const Job& job;
  const Programs& programs;
  const SpotSearch& search;
  const Placement& placement;
  const Rounds& rounds;
  const std::vector<Stretch>&keep_out, &cuts;
  Footprint footprint;
};

bool isFree(const SpotNeeds& needs, SetupPoint2 at) {
  return fits(needs.placement, at) && !inPart(needs.rounds, at) &&
         isClearAt(needs.job, needs.programs, needs.search, at);
}

// On whole steps, so that a place is still clear when it is written with as many decimals as the step has.
std::optional<SetupPoint2> nearestOn(const SpotNeeds& needs) {
  const double step = needs.search.step_mm;
  const SetupPoint2 home = needs.placement.hold_down.at_mm;
  const SetupPoint2 first{std::round(home.x / step) * step, std::round(home.y / step) * step};
  std::priority_queue<SpotSquare, std::vector<SpotSquare>, Later> open;
  SpotSquare whole = wholeSquare(step);
  whole.near = nearTo(home, needs.keep_out, needs.footprint.around);
  whole.cuts = nearTo(home, needs.cuts, 0);
  whole.no_part = needs.rounds.home_inside.empty();
  open.push(std::move(whole));
  while (!open.empty()) {
    SpotSquare s = open.top();
    open.pop();
    if (s.key > longest_way_mm) break;
    const double n = s.side - 1;
    const SetupPoint2 middle = first + Vec2{(s.x + n / 2) * step, (s.y + n / 2) * step};
    const double half = n * step * std::numbers::sqrt2 / 2;
    if (neverFits(needs.placement, middle, half) || !narrow(s.near, needs.footprint, middle, half)) continue;
    if (!s.no_part) narrowCuts(s.cuts, middle, half);
    // No cut runs through it: what goes round its middle goes round all of it. Nearly so where a run of cuts is open:
    // isFree() looks at the very place.
    if (!s.no_part && s.cuts.empty()) {
      if (inPart(needs.rounds, middle)) continue;
      s.no_part = true;
    }
    if (s.side > 1) {
      for (SpotSquare& quarter : quartersOf(s, step)) open.push(std::move(quarter));
    } else if (isFree(needs, middle)) {
      return middle;
    }
  }
  return std::nullopt;
}

}  // namespace

bool isClearAt(const Job& job, const Programs& programs, const SpotSearch& search, SetupPoint2 at) {
  const std::vector<const Setup*> setups = setupsInOrder(job);
  const double wanted = job.limits.clearance_mm;
  Job alone;
  alone.machine = job.machine;
  alone.stock = job.stock;
  alone.tools = job.tools;
  alone.collet_nut = job.collet_nut;
  alone.spindle_attachments = job.spindle_attachments;
  alone.limits.clearance_mm = wanted;
  alone.hold_downs = {job.hold_downs[search.hold_down]};
  HoldDown& h = alone.hold_downs[0];
  for (SetupPoint2& corner : h.outline_mm) corner = corner + (at - h.at_mm);
  h.at_mm = at;
  ProgramEntry entry;
  entry.hold_downs = {0};
  std::vector<Contact> contacts;
  std::vector<NearPass> near;
  for (const int p : search.programs) {
    clearance::checkHoldDowns(alone, *setups[p], entry, programs[p], contacts, near);
    if (!contacts.empty() || !near.empty()) return false;
  }
  return true;
}

std::optional<SetupPoint2> nearestFreeSpot(const Job& job, const Programs& programs, const SpotSearch& search) {
  const Setup& setup = job.setups[search.setup];
  const HoldDown& h = job.hold_downs[search.hold_down];
  const bool screw = h.kind == HoldDownKind::screw;
  Placement placement = placementOf(job, search);
  const Rounds rounds = roundsOf(job, programs, setup, h);
  const std::vector<Stretch> cuts = screw ? cutsOf(job, programs, setup) : std::vector<Stretch>{};
  const std::vector<Stretch> keep_out = keepOutOf(job, programs, search, rounds.setups, placement);
  const SpotNeeds needs{job, programs, search, placement, rounds, keep_out, cuts, footprintOf(placement.form)};

  const double edge_mm = placement.edge_mm;
  for (const Vec3 stock : placement.stocks) placement.edge_mm = std::min(placement.edge_mm, fromEdge(stock, h.at_mm));
  if (isFree(needs, h.at_mm)) return h.at_mm;
  // A screw that stands nearer to the edge than it should is rather brought in at once.
  const double home_edge_mm = std::exchange(placement.edge_mm, edge_mm);
  if (const auto spot = nearestOn(needs)) return spot;
  if (home_edge_mm == edge_mm) return std::nullopt;
  placement.edge_mm = home_edge_mm;
  return nearestOn(needs);
}

}  // namespace provecut::placing
