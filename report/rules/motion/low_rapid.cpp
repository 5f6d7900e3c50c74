#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <optional>
#include <set>
#include <utility>

#include "report/facts/measures.h"
#include "report/rules/list.h"
#include "report/rules/shared/grouping.h"
#include "report/rules/shared/lift_advice.h"
#include "sim/clearance/obstacle.h"
#include "sim/clearance/on_stock.h"
#include "sim/clearance/tolerance.h"
#include "sim/path/path.h"
#include "sim/path/setup_frame.h"
#include "sim/path/stock_plan.h"

namespace provecut {

namespace low_rapid {

constexpr std::string_view page = R"(## What it finds

A sideways rapid takes the tip over the stock or over a hold-down, too low above its top, without cutting or hitting
anything. Over a hold-down it should clear `limits.clearance`; what hold-down-close reports is left out here. Over bare
stock less is enough: 1/200 of its longer side, from 1 to 2 mm, and never more than `limits.clearance`. Once the program
itself has probed the stock, 0.5 mm is enough. Rapids straight up or down are left out. So are those that stay down in
what the same tool has just cut: nothing there depends on the zero.

"Through space already cut" is what the cells of the raster show. Where a rapid takes anything at all, provecut cuts it
once more on cells of 0.05 mm; a wall thinner than that may stand.

## Why it matters

Such a rapid relies on a perfect zero, flat stock, and no chip or cable in its way.

## Example

On stock 600 mm long, with zero on its top:

    G0 Z1
    G0 X200 Y40

The second rapid crosses the stock at 1 mm.

## What to do

Retract to the height in the finding. In a drilling cycle raise R, or use G98.

## What `amount` is

The lowest height of the tip above the top of the stock or hold-down in mm, negative below it. For a group, the
smallest.

## Source

Geometry. Rapids 3 to 5 mm above the highest hold-down are common practice, 1 to 2 mm over a flat board too. The 1/200
is our own estimate of how far a board bows, and so are the 0.5 mm over a probed one; no published source.
)";

// Programs write heights with three or four decimals, and inches make 3 mm 2.9997.
constexpr double written_mm = 0.002;

// What bare stock may bow, and no less than one zeroes to.
constexpr double bow_share = 0.005, least_over_stock_mm = 1, most_over_stock_mm = 2;
// Over stock that the program itself has probed.
constexpr double over_probed_mm = 0.5;

// Less is no height.
constexpr double least_told_mm = 0.0005;

double minOverStock_mm(const Job& job, bool probed) {
  if (probed) return std::min(job.limits.clearance_mm, over_probed_mm);
  const double longer_mm = std::max(job.stock.size_mm.x, job.stock.size_mm.y);
  return std::min(job.limits.clearance_mm, std::clamp(bow_share * longer_mm, least_over_stock_mm, most_over_stock_mm));
}

// Follows a program: true while the tool has not come up over the stock since it cut.
class StaysDown {
 public:
  explicit StaysDown(double top_z) : top_z_(top_z) {}

  bool before(const Motion& motion) const { return tool_ == motion.tool; }
  void after(const Motion& motion, bool cuts) {
    if (std::max(motion.start.z, motion.end.z) >= top_z_ || motion.tool != tool_) tool_ = none;
    if (cuts && motion.kind != MotionKind::rapid && motion.end.z < top_z_) tool_ = motion.tool;
  }

 private:
  static constexpr int none = -1;
  double top_z_;
  int tool_ = none;
};

struct Span {
  double from, to;  // shares of the path
};

// Where a straight path, seen from above, is inside the outline by more than the contact tolerance.
std::vector<Span> over(const clearance::Obstacle& outline, SetupPoint2 a, SetupPoint2 b) {
  std::vector<double> cuts{0, 1};
  const Vec2 d = b - a;
  const auto add = [&](double t) {
    if (t > 0 && t < 1) cuts.push_back(t);
  };
  if (outline.radius_mm > 0) {
    const Vec2 m = a - outline.edges.front().a;
    const double dd = dot(d, d), md = dot(m, d);
    const double root = md * md - dd * (dot(m, m) - outline.radius_mm * outline.radius_mm);
    if (dd > 0 && root > 0) {
      add((-md - std::sqrt(root)) / dd);
      add((-md + std::sqrt(root)) / dd);
    }
  } else {
    for (const clearance::Edge& e : outline.edges) {
      const Vec2 side = e.b - e.a;
      const double across = cross(d, side);
      if (across != 0) add(cross(e.a - a, side) / across);
    }
  }
  std::sort(cuts.begin(), cuts.end());
  std::vector<Span> spans;
  for (std::size_t i = 1; i < cuts.size(); ++i) {
    if (clearance::signedDistance(outline, a + d * (0.5 * (cuts[i - 1] + cuts[i]))) < -clearance::contact_tolerance_mm)
      spans.push_back({cuts[i - 1], cuts[i]});
  }
  return spans;
}

// Lowest point of a rapid over the outline.
std::optional<SetupPoint> lowestOver(const clearance::Obstacle& outline, const Path& path) {
  std::optional<SetupPoint> lowest;
  for (const PathPiece& piece : path) {
    for (const Span& s : over(outline, flat(piece.start), flat(piece.end))) {
      for (const double t : {s.from, s.to}) {
        const SetupPoint p = pointAt(piece, t);
        if (!lowest || p.z < lowest->z) lowest = p;
      }
    }
  }
  return lowest;
}

// Whether all of these are in cycles that began high enough, so that going back up between holes clears too.
bool backUpServes(const Program& program, const std::vector<std::uint32_t>& moves, double z_mm) {
  return std::all_of(moves.begin(), moves.end(), [&](std::uint32_t m) {
    if (!(program.motions[m].flags & motion_in_cycle)) return false;
    while (m > 0 && (program.motions[m - 1].flags & motion_in_cycle)) --m;
    return program.motions[m].start.z >= z_mm;
  });
}

Finding finding(const Facts& facts, std::size_t i, const std::vector<Occurrence>& low, double min_mm,
                const HoldDown* hold_down) {
  const ProgramFacts& program = facts.programs[i];
  Finding f = groupFinding(facts, i, low_rapid_rule, low, Worst::smallest, Quantity::length);
  const double amount = *f.amount;
  const std::string what = hold_down ? hold_down->name : "the stock";
  const Compared height = comparedText(facts.job, Quantity::length, std::fabs(amount), min_mm);
  f.amount_text = amount < 0 ? std::string() : height.actual;
  if (std::fabs(amount) < least_told_mm) {
    f.message = fmt::format("rapid runs along the very top of {}", what);
  } else if (amount < 0) {
    f.message = fmt::format("rapid crosses {} {} below its top, through space already cut", what, height.actual);
  } else {
    f.message = fmt::format("rapid clears {} by only {} (minimum {})", what, height.actual, height.limit);
  }
  const double top = hold_down ? holdDownTopZ(facts, *program.setup, *hold_down) : stockTopZ(facts, *program.setup);
  std::vector<std::uint32_t> moves;
  for (const Occurrence& o : low) moves.push_back(o.move);
  if (const auto lift = liftOver(facts, i, moves, top + min_mm)) {
    f.help = sentence(lift->text + (backUpServes(program.program, moves, top + min_mm)
                                        ? ", or use G98 to go back up between holes"
                                        : ""));
    f.ways.push_back(lift->changes);
  } else {
    f.help = fmt::format("Cross {} elsewhere: the machine cannot go up high enough here.", what);
  }
  if (hold_down) {
    f.subject = hold_down->name;
    relateToJob(facts, f, hold_down->place, hold_down->name + " is defined here");
  }
  return f;
}

void check(const Facts& facts, std::vector<Finding>& findings) {
  const double min_mm = facts.job.limits.clearance_mm;
  for (std::size_t i = 0; i < facts.programs.size(); ++i) {
    const ProgramFacts& program = facts.programs[i];
    const Setup& setup = *program.setup;
    const double top = facts.job.stock.size_mm.z;
    const clearance::Obstacle stock = clearance::stockOutline(stockPlan(facts.job.stock, setup), top);
    std::vector<std::pair<int, clearance::Obstacle>> standing_here;
    for (const int h : standing(program)) {
      const HoldDown& hold_down = facts.job.hold_downs[h];
      if (isObstacle(hold_down)) standing_here.emplace_back(h, clearance::obstacle(hold_down, top));
    }
    // hold-down-hit and hold-down-close tell of these.
    std::set<std::pair<std::uint32_t, int>> told;
    if (i < facts.run.programs.size()) {
      for (const Contact& c : facts.run.programs[i].contacts) told.emplace(c.move, c.hold_down);
      for (const NearPass& n : facts.run.programs[i].near_passes) {
        if (n.clearance_mm < min_mm - clearance::contact_tolerance_mm) told.emplace(n.move, n.hold_down);
      }
    }
    double highest = top;
    for (const auto& [h, o] : standing_here) highest = std::max(highest, o.top_mm);

    std::vector<Occurrence> over_stock;
    std::map<int, std::vector<Occurrence>> over_hold_down;
    StaysDown stays_down(stockTopZ(facts, setup));
    // The highest that any of the low rapids had to be.
    double over_stock_min_mm = 0;
    bool probed = false;
    for (std::uint32_t m = 0; m < program.program.motions.size(); ++m) {
      const Motion& motion = program.program.motions[m];
      const bool cuts = cutsMaterial(cutOf(facts, i, m)), in_own_cut = stays_down.before(motion);
      stays_down.after(motion, cuts);
      probed = probed || motion.kind == MotionKind::probe;
      if (motion.kind != MotionKind::rapid || !goesSideways(motion)) continue;
      if (motion.flags & (motion_start_unknown | motion_height_unknown)) continue;
      if (workToSetup(setup, lowestTip(motion)).z >= highest + min_mm) continue;
      const Path path = pathOf(motion, setup.zero_mm, facts.job.machine);
      const auto low = [&](const clearance::Obstacle& outline, double wanted_mm) -> std::optional<Occurrence> {
        const std::optional<SetupPoint> p = lowestOver(outline, path);
        if (!p || p->z >= outline.top_mm + wanted_mm - written_mm) return std::nullopt;
        return Occurrence{m, p->z - outline.top_mm, setupToWork(setup, *p)};
      };
      if (!cuts && !(in_own_cut && motion.end.z < stockTopZ(facts, setup))) {
        const double over_mm = minOverStock_mm(facts.job, probed);
        if (const auto o = low(stock, over_mm)) {
          over_stock.push_back(*o);
          over_stock_min_mm = std::max(over_stock_min_mm, over_mm);
        }
      }
      for (const auto& [h, outline] : standing_here) {
        if (told.contains({m, h})) continue;
        if (const auto o = low(outline, min_mm)) over_hold_down[h].push_back(*o);
      }
    }
    if (!over_stock.empty()) findings.push_back(finding(facts, i, over_stock, over_stock_min_mm, nullptr));
    for (const auto& [h, low] : over_hold_down) {
      findings.push_back(finding(facts, i, low, min_mm, &facts.job.hold_downs[h]));
    }
  }
}

}  // namespace low_rapid

const Rule low_rapid_rule{"low-rapid", Level::look, "A rapid crosses the stock or a hold-down below the clearance.",
                          low_rapid::page, low_rapid::check};

}  // namespace provecut
