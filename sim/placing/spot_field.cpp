#include "sim/placing/spot_field.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <queue>
#include <utility>

#include "sim/clearance/clearance.h"

namespace provecut::placing {

namespace {

constexpr double tolerance_mm = 0.01;

// The setup of each program.
std::vector<const Setup*> setupsInOrder(const Job& job) {
  std::vector<const Setup*> all;
  for (const Setup& setup : job.setups) all.insert(all.end(), setup.programs.size(), &setup);
  return all;
}

bool inPart(const SpotField& f, const std::vector<bool>& may_be_inside, SetupPoint2 p) {
  if (f.cuts.empty()) return false;
  const std::vector<const Setup*> setups = setupsInOrder(f.job);
  const StockPoint2 at = setupToStock(f.job.stock, f.setup, p);
  for (int i = 0; i < std::ssize(f.programs); ++i) {
    if (may_be_inside[i]) continue;
    const GoesRound round = cutGoesRoundAll(f.cuts[i], p, 0);
    if (round == GoesRound::all) return true;
    if (round == GoesRound::unknown && cutGoesRound(f.job, *setups[i], f.programs[i], at)) return true;
  }
  return false;
}

// inPart() for every place at most `half` from the middle.
GoesRound allInPart(const SpotField& f, const std::vector<bool>& may_be_inside, SetupPoint2 middle, double half) {
  GoesRound found = GoesRound::none;
  for (int i = 0; i < std::ssize(f.cuts); ++i) {
    if (may_be_inside[i]) continue;
    const GoesRound one = cutGoesRoundAll(f.cuts[i], middle, half);
    if (one == GoesRound::all) return one;
    if (one == GoesRound::unknown) found = one;
  }
  return found;
}

struct SpotSquare {
  double key = 0;              // no place in it is nearer
  int x = 0, y = 0, side = 0;  // first place and their number along a side, in steps
  std::vector<const Stretch*> near;
  std::vector<const CutChord*> cuts;
  bool no_part = false;  // known to be in no part
};

struct Later {
  bool operator()(const SpotSquare& a, const SpotSquare& b) const {
    // Of two that are as near, the one that comes first in reading order: results do not depend on the heap.
    if (a.key != b.key) return a.key > b.key;
    return a.y != b.y ? a.y > b.y : a.x > b.x;
  }
};

// From `from` to the nearest place of the square.
double wayTo(const SpotSquare& s, SetupPoint2 from, double step) {
  const auto off = [&](int first, double at) {
    return std::max({first * step - at, at - (first + s.side - 1) * step, 0.0});
  };
  return std::hypot(off(s.x, from.x), off(s.y, from.y));
}

std::array<SpotSquare, 4> quartersOf(const SpotSquare& s, SetupPoint2 from, double step) {
  const int h = s.side / 2;
  const auto quarter = [&](int x, int y) {
    SpotSquare q{0, x, y, h, s.near, s.cuts, s.no_part};
    q.key = wayTo(q, from, step);
    return q;
  };
  return {quarter(s.x, s.y), quarter(s.x + h, s.y), quarter(s.x, s.y + h), quarter(s.x + h, s.y + h)};
}

// All places about `from`, and what can decide there.
SpotSquare wholeSquare(const SpotField& f, const SpotWish& wish, const Footprint& footprint) {
  const double step = f.step_mm;
  const int reach = static_cast<int>(wish.max_way_mm / step) + 1;
  SpotSquare s;
  s.side = 1;
  while (s.side < 2 * reach + 1) s.side *= 2;
  s.x = static_cast<int>(std::lround(wish.from.x / step)) - reach;
  s.y = static_cast<int>(std::lround(wish.from.y / step)) - reach;
  const double far = wish.max_way_mm + 2 * step;
  for (const Stretch& t : f.keep_out) {
    const double decides = far + footprint.around + std::max(t.reach0, t.reach1);
    if (clearance::fromEdge({t.a, t.b}, wish.from).distance <= decides) s.near.push_back(&t);
  }
  for (const auto& program : f.cuts) {
    for (const CutRun& run : program) {
      for (const CutChord& c : run.chords) {
        if (clearance::fromEdge({c.a, c.b}, wish.from).distance <= far) s.cuts.push_back(&c);
      }
    }
  }
  s.no_part = f.cuts.empty();
  return s;
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

// Leaves only the cuts that run at most `half` from the middle; false where every place there is in a part.
bool narrowParts(SpotSquare& s, const SpotField& f, const SpotWish& wish, SetupPoint2 middle, double half) {
  if (s.no_part) return true;
  std::erase_if(s.cuts, [&](const CutChord* c) { return clearance::fromEdge({c->a, c->b}, middle).distance > half; });
  if (!s.cuts.empty()) return true;
  const GoesRound round = allInPart(f, wish.may_be_inside, middle, half);
  s.no_part = round == GoesRound::none;
  return round != GoesRound::all;
}

}  // namespace

SpotField spotField(const Job& job, Programs programs, int setup, std::vector<int> for_programs, const HoldDown& form,
                    double step_mm) {
  SpotField f{job, programs, job.setups[setup], std::move(for_programs), form, step_mm, {}, {}};
  const std::vector<const Setup*> setups = setupsInOrder(job);
  const clearance::Obstacle o = clearance::obstacle(form, stockSizeInSetup(job.stock, f.setup).z);
  for (const int p : f.for_programs) {
    const auto of = keepOut(job, *setups[p], programs[p], o.top_mm, tolerance_mm, o.radius_mm > 0);
    f.keep_out.insert(f.keep_out.end(), of.begin(), of.end());
  }
  if (form.kind != HoldDownKind::screw) return f;
  for (int i = 0; i < std::ssize(programs); ++i) f.cuts.push_back(cutRuns(job, *setups[i], programs[i], f.setup));
  return f;
}

std::vector<bool> insideAt(const SpotField& f, SetupPoint2 home) {
  std::vector<bool> inside;
  const std::vector<const Setup*> setups = setupsInOrder(f.job);
  const StockPoint2 at = setupToStock(f.job.stock, f.setup, home);
  for (int i = 0; i < std::ssize(f.cuts); ++i) inside.push_back(cutGoesRound(f.job, *setups[i], f.programs[i], at));
  return inside;
}

bool isClear(const Job& job, const Programs& programs, std::span<const int> for_programs, const HoldDown& form,
             SetupPoint2 at) {
  Job alone;
  alone.machine = job.machine;
  alone.stock = job.stock;
  alone.tools = job.tools;
  alone.collet_nut = job.collet_nut;
  alone.spindle_attachments = job.spindle_attachments;
  alone.limits.clearance_mm = job.limits.clearance_mm;
  alone.hold_downs = {movedTo(form, at)};
  ProgramEntry entry;
  entry.hold_downs = {0};
  const std::vector<const Setup*> setups = setupsInOrder(job);
  std::vector<Contact> contacts;
  std::vector<NearPass> near;
  for (const int p : for_programs) {
    clearance::checkHoldDowns(alone, *setups[p], entry, programs[p], contacts, near);
    if (!contacts.empty() || !near.empty()) return false;
  }
  return true;
}

bool isFree(const SpotField& f, const SpotWish& wish, SetupPoint2 at) {
  return fits(wish.placement, at) && !inPart(f, wish.may_be_inside, at) &&
         isClear(f.job, f.programs, f.for_programs, f.form, at);
}

std::optional<SetupPoint2> nearestIn(const SpotField& f, const SpotWish& wish) {
  const double step = f.step_mm;
  const Footprint footprint = footprintOf(wish.placement.form);
  std::priority_queue<SpotSquare, std::vector<SpotSquare>, Later> open;
  open.push(wholeSquare(f, wish, footprint));
  while (!open.empty()) {
    SpotSquare s = open.top();
    open.pop();
    if (s.key > wish.max_way_mm) break;
    const double n = s.side - 1;
    const SetupPoint2 middle{(s.x + n / 2) * step, (s.y + n / 2) * step};
    const double half = n * step * std::numbers::sqrt2 / 2;
    if (neverFits(wish.placement, middle, half) || !narrow(s.near, footprint, middle, half)) continue;
    if (!narrowParts(s, f, wish, middle, half)) continue;
    if (s.side > 1) {
      for (SpotSquare& quarter : quartersOf(s, wish.from, step)) open.push(std::move(quarter));
    } else if (isFree(f, wish, middle)) {
      return middle;
    }
  }
  return std::nullopt;
}

}  // namespace provecut::placing
