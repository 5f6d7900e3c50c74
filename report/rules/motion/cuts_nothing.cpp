#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <limits>

#include "report/facts/measures.h"
#include "report/rules/list.h"
#include "report/rules/shared/moves_by_tool.h"
#include "sim/clearance/tolerance.h"
#include "sim/path/motion_extent.h"
#include "sim/path/setup_frame.h"
#include "sim/path/stock_plan.h"

namespace provecut {

namespace cuts_nothing {

constexpr std::string_view page = R"(## What it finds

A program runs its cutting moves with the spindle on and cuts nothing at all. It stays above the stock or beside it, or
runs where earlier programs have already cut everything away. An incremental program (G91) that never sets where it
starts counts too: provecut cannot check its cuts.

## Why it matters

The zero is wrong (a touch plate counted twice), the wrong file is listed, or the front program runs on the back.

## Example

    G0 Z12
    G1 X100 F1500
    G1 Y40

All of it happens 12 mm above the stock.

## What to do

Check that this is the right file, for this side and this zero.

## What `amount` is

How far the program stays above or beside the stock in mm. There is none where the material is already gone.

## Source

Common practice; no published source.
)";

// A program in increments from a place that it never sets: wherever it is started, it may cut, and nothing of that can
// be seen here.
bool addStartUnknown(const Facts& facts, std::size_t i, std::vector<Finding>& findings) {
  const std::vector<Motion>& motions = facts.programs[i].program.motions;
  const Motion* first = nullptr;
  std::uint32_t feed_moves = 0;
  for (std::uint32_t m = 0; m < motions.size(); ++m) {
    if (cutOf(facts, i, m).removed_mm3 > 0) return false;
    if (!feeds(motions[m])) continue;
    if (!(motions[m].flags & motion_start_unknown)) return false;
    if (!first) first = &motions[m];
    ++feed_moves;
  }
  if (!first) return false;
  Finding f = placeFinding(facts, i, cuts_nothing_rule, placeOf(*first));
  f.moves = feed_moves;
  f.last_line = std::max(f.last_line, motions.back().line);
  f.message =
      "none of this program's cuts were checked: it counts from wherever the tool starts, taken here as Z fully up, "
      "and cuts nothing from there";
  f.help =
      "Start in absolute coordinates (G90): a rapid to a known Z, then to a known X and Y. Then its cuts can be "
      "checked.";
  findings.push_back(std::move(f));
  return true;
}

// How far a box is from the stock, seen from above; not more than 0 where they meet.
double besideBox_mm(const StockPlan& stock, SetupPoint low, SetupPoint high) {
  if (stock.round) {
    const SetupPoint2 c = stock.middle();
    return beyondEdge_mm(stock, {std::clamp(c.x, low.x, high.x), std::clamp(c.y, low.y, high.y)});
  }
  const Vec2 size = stock.size_mm;
  return std::hypot(std::max({0.0, -high.x, low.x - size.x}), std::max({0.0, -high.y, low.y - size.y}));
}

void check(const Facts& facts, std::vector<Finding>& findings) {
  for (std::size_t i = 0; i < facts.programs.size() && i < facts.run.programs.size(); ++i) {
    const ProgramFacts& p = facts.programs[i];
    const std::vector<Motion>& motions = p.program.motions;
    const StockPlan stock = stockPlan(facts.job.stock, *p.setup);
    const Motion* first = nullptr;
    std::uint32_t feed_moves = 0;
    bool known = true, cuts = false;
    double lowest_z = std::numeric_limits<double>::infinity(), beside_mm = std::numeric_limits<double>::infinity();
    for (std::uint32_t m = 0; m < motions.size() && known && !cuts; ++m) {
      const Motion& motion = motions[m];
      cuts = cutOf(facts, i, m).removed_mm3 > 0;
      if (!feeds(motion) || motion.spindle == Spindle::off) continue;
      const Tool* tool = findTool(facts.job, motion.tool);
      known = tool != nullptr;
      if (!known) break;
      if (!first) first = &motion;
      ++feed_moves;
      const SetupBox box = workToSetup(*p.setup, motionExtent(motion));
      const SetupPoint low = box.low, high = box.high;
      lowest_z = std::min(lowest_z, low.z - facts.job.stock.size_mm.z);
      beside_mm = std::min(beside_mm, besideBox_mm(stock, low, high) - tool->diameter_mm / 2);
    }
    if (!known || cuts || addStartUnknown(facts, i, findings) || !first) continue;
    Finding f = placeFinding(facts, i, cuts_nothing_rule, placeOf(*first));
    f.moves = feed_moves;
    f.at = first->end;
    f.last_line = std::max(f.last_line, motions.back().line);
    f.message = "this program cuts nothing: ";
    if (lowest_z > -double{least_bite_mm}) {
      f.amount = std::max(0.0, lowest_z);
      f.unit = "mm";
      f.message += *f.amount <= double{least_bite_mm}
                       ? "its lowest move runs just on the top of the stock"
                       : fmt::format("it stays {} or more above the stock",
                                     quantityText(facts.job, Quantity::length, *f.amount));
      f.help = "Check the Z zero, and that this is the right program.";
    } else if (beside_mm > -clearance::contact_tolerance_mm) {
      f.amount = std::max(0.0, beside_mm);
      f.unit = "mm";
      f.message +=
          fmt::format("it stays {} or more beside the stock", quantityText(facts.job, Quantity::length, *f.amount));
      f.help = "Check the X and Y zero, the stock's size, and that this is the right program.";
    } else {
      const bool cut_before = std::any_of(facts.run.programs.begin(), facts.run.programs.begin() + static_cast<long>(i),
                                          [](const ProgramRun& r) { return r.removed_mm3 > 0; });
      f.message += cut_before ? "earlier programs have already cut everything away here"
                              : "where it goes below the top of the stock, there is no stock";
      f.help = "Check that this is the right program, for this side of the stock.";
    }
    findings.push_back(std::move(f));
  }
}

}  // namespace cuts_nothing

const Rule cuts_nothing_rule{"cuts-nothing", Level::look, "A program cuts nothing from start to end.",
                             cuts_nothing::page, cuts_nothing::check};

}  // namespace provecut
