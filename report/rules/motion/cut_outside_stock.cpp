#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <set>

#include "report/facts/measures.h"
#include "report/facts/setup_changes.h"
#include "report/facts/setup_words.h"
#include "report/rules/list.h"
#include "report/rules/shared/moves_by_tool.h"
#include "sim/clearance/tolerance.h"
#include "sim/path/path.h"
#include "sim/path/setup_frame.h"
#include "sim/path/stock_plan.h"

namespace provecut {

namespace cut_outside_stock {

constexpr std::string_view page = R"(## What it finds

Cutting moves below the stock's top face run far off the stock. The cutter's rim gets farther from the stock than the
cutter's diameter, and than 10 mm, while it goes on cutting there. Lead-ins, lead-outs and the overrun of a dado or of a facing
pass are left out: they begin or end by rapid, or come straight back one step farther, and stay within 32 mm or two
diameters. Where the program changes the setup (setup-change), other setups run off this one's stock: then only a
program that runs off in each of them counts. A program that never touches the stock gets cuts-nothing instead.

## Why it matters

The stock is too small, zero is at another corner, or this is an old export. The part will lack an edge.

## Example

On stock 300 mm long, zero at its left end:

    G1 Z-6 F600
    G1 X330 F1800

## What to do

Check the stock's size and the X and Y zero against the drawing.

## What `amount` is

The largest distance from the cutter's rim to the stock in mm.

## Source

Geometry. The 10 mm are common practice, the 32 mm (1¼ in) our own estimate; no published source.
)";

constexpr double min_allowance_mm = 10;
constexpr double max_overrun_mm = 32;  // or two diameters
constexpr double opposite = -0.98;     // of two unit vectors: within 11 degrees of turned round

// How far the tip's axis is from the stock sideways, seen from above, where it is lower than the top face; 0: over it.
double outsideAt(const Facts& facts, const Setup& setup, SetupPoint p) {
  if (p.z >= facts.job.stock.size_mm.z - clearance::contact_tolerance_mm) return 0;
  return std::max(0.0, beyondEdge_mm(stockPlan(facts.job.stock, setup), flat(p)));
}

// The farthest along a move, and where.
double outside(const Facts& facts, const Setup& setup, const Motion& m, WorkPoint& at) {
  double farthest = 0;
  for (const PathPiece& piece : pathOf(m, setup.zero_mm, facts.job.machine)) {
    const int steps = piece.arc ? 32 * m.turns : 1;
    for (int k = 0; k <= steps; ++k) {
      const SetupPoint p = pointAt(piece, static_cast<double>(k) / steps);
      const double distance = outsideAt(facts, setup, p);
      if (distance <= farthest) continue;
      farthest = distance;
      at = setupToWork(setup, p);
    }
  }
  return farthest;
}

// From where the tool runs off the stock to where it comes back to it, or leaves by rapid.
struct Visit {
  std::vector<Occurrence> moves;  // that get farther than allowed
  double farthest_mm = 0;
  double beside_mm = 0;  // length of the moves that are wholly beside the stock
  bool from_cut = false, to_cut = false;
  Vec2 off, back;  // unit vectors of the straight cuts that run off the stock and back; (0, 0): an arc, or none
  double diameter_mm = 0;

  // A lead-in or lead-out, or the overrun of a dado, begins or ends by rapid. A facing pass comes straight back, one
  // step farther.
  bool isOverrun() const {
    const double limit_mm = std::max(max_overrun_mm, 2 * diameter_mm);
    if (farthest_mm > limit_mm) return false;
    if (from_cut && to_cut) return dot(off, back) < opposite && beside_mm <= 2 * diameter_mm;
    return (from_cut || to_cut) && beside_mm <= 2 * limit_mm;
  }
};

// The moves of one program that get too far off, overruns left out.
class Visits {
 public:
  Visits(const Facts& facts, const ProgramFacts& program) : facts_(facts), setup_(*program.setup) {}

  void add(std::uint32_t m, const Motion& motion, const Tool& tool, bool cuts) {
    const double radius = tool.diameter_mm / 2;
    const Vec2 way = flat(motion.end - motion.start);
    now_.diameter_mm = tool.diameter_mm;
    WorkPoint at;
    const double beyond = outside(facts_, setup_, motion, at) - radius;
    if (!cuts) {
      if (beyond > 0) now_.beside_mm += length(way);
      note(m, at, beyond);
      return;
    }
    const bool straight = !isArc(motion) && length(way) > 0;
    now_.to_cut = true;
    now_.back = straight ? way * (1 / length(way)) : Vec2{};
    if (straight) {
      note(m, motion.start, outsideAt(facts_, setup_, workToSetup(setup_, motion.start)) - radius);
    } else if (isTooFar(beyond)) {
      far_.push_back({m, beyond, at});  // an arc that cuts runs off: no way in or out
    }
    const Vec2 off = now_.back;
    leave();
    now_.diameter_mm = tool.diameter_mm;
    now_.from_cut = true;
    now_.off = off;
    if (straight) note(m, motion.end, outsideAt(facts_, setup_, workToSetup(setup_, motion.end)) - radius);
  }

  // The tool goes up or away by rapid.
  void leave() {
    if (!now_.moves.empty() && !now_.isOverrun()) far_.insert(far_.end(), now_.moves.begin(), now_.moves.end());
    now_ = {};
  }

  std::vector<Occurrence> far() {
    leave();
    return std::move(far_);
  }

 private:
  bool isTooFar(double beyond_mm) const {
    return beyond_mm > std::max(min_allowance_mm, now_.diameter_mm) + clearance::contact_tolerance_mm;
  }

  void note(std::uint32_t m, WorkPoint at, double beyond_mm) {
    now_.farthest_mm = std::max(now_.farthest_mm, beyond_mm);
    if (isTooFar(beyond_mm)) now_.moves.push_back({m, beyond_mm, at});
  }

  const Facts& facts_;
  const Setup& setup_;
  Visit now_;
  std::vector<Occurrence> far_;
};

// The number of the program's setup that a motion belongs to.
std::size_t setupOf(const std::vector<SetupChange>& changes, std::uint32_t motion) {
  return static_cast<std::size_t>(
      std::count_if(changes.begin(), changes.end(), [&](const SetupChange& c) { return c.before_motion <= motion; }));
}

// True where some setup of the program stays on the stock: the job describes that one, and the others have their own
// zero.
bool belongsToOtherSetups(const Facts& facts, std::size_t i, const std::vector<Occurrence>& far) {
  const std::vector<SetupChange> changes = setupChanges(facts, i);
  if (changes.empty()) return false;
  std::set<std::size_t> runs_off;
  for (const Occurrence& o : far) runs_off.insert(setupOf(changes, o.move));
  return runs_off.size() <= changes.size();
}

void check(const Facts& facts, std::vector<Finding>& findings) {
  for (std::size_t i = 0; i < facts.programs.size() && i < facts.run.programs.size(); ++i) {
    const ProgramFacts& p = facts.programs[i];
    Visits visits(facts, p);
    bool cuts = false;
    for (std::uint32_t m = 0; m < p.program.motions.size(); ++m) {
      const Motion& motion = p.program.motions[m];
      const bool cuts_here = cutsMaterial(cutOf(facts, i, m));
      cuts = cuts || cuts_here;
      const Tool* tool = findTool(facts.job, motion.tool);
      if (!tool || !feeds(motion) || (motion.flags & (motion_start_unknown | motion_height_unknown))) {
        visits.leave();
      } else {
        visits.add(m, motion, *tool, cuts_here);
      }
    }
    const std::vector<Occurrence> far = visits.far();
    if (!cuts || far.empty() || belongsToOtherSetups(facts, i, far)) continue;
    Finding f = groupFinding(facts, i, cut_outside_stock_rule, far, Worst::largest, Quantity::length);
    f.message = fmt::format("keeps cutting outside the stock, up to {} from its edge",
                            quantityText(facts.job, Quantity::length, *f.amount));
    f.help = fmt::format("Check the stock's size and the X and Y zero of {}.", setupText(*p.setup));
    findings.push_back(std::move(f));
  }
}

}  // namespace cut_outside_stock

const Rule cut_outside_stock_rule{"cut-outside-stock", Level::look, "A program keeps cutting far outside the stock.",
                                  cut_outside_stock::page, cut_outside_stock::check};

}  // namespace provecut
