#include <fmt/core.h>

#include <algorithm>
#include <cmath>

#include "report/facts/measures.h"
#include "report/facts/setup_words.h"
#include "report/rules/list.h"
#include "report/rules/shared/moves_by_tool.h"
#include "sim/clearance/tolerance.h"
#include "sim/path/path.h"
#include "sim/path/setup_frame.h"

namespace provecut {

namespace cut_outside_stock {

constexpr std::string_view page = R"(## What it finds

Cutting moves below the stock's top face run far off the stock. The cutter's rim gets farther from the stock than the
cutter's diameter, and than 10 mm: no lead-in or lead-out needs that. A program that never touches the stock gets
cuts-nothing instead.

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

Geometry. The 10 mm are common practice; no published source.
)";

constexpr double min_allowance_mm = 10;

// How far the tip's axis gets from the stock sideways, seen from above, while it is lower than the top face; 0: over
// it.
double outside(const Facts& facts, const Setup& setup, const Motion& m, WorkPoint& at) {
  const Vec3 size = stockSizeInSetup(facts.job.stock, setup);
  double farthest = 0;
  for (const PathPiece& piece : pathOf(m, setup.zero_mm, facts.job.machine)) {
    const int steps = piece.arc ? 32 : 1;
    for (int k = 0; k <= steps; ++k) {
      const SetupPoint p = pointAt(piece, static_cast<double>(k) / steps);
      if (p.z >= size.z - clearance::contact_tolerance_mm) continue;
      const double dx = std::max({0.0, -p.x, p.x - size.x}), dy = std::max({0.0, -p.y, p.y - size.y});
      if (std::hypot(dx, dy) <= farthest) continue;
      farthest = std::hypot(dx, dy);
      at = setupToWork(setup, p);
    }
  }
  return farthest;
}

void check(const Facts& facts, std::vector<Finding>& findings) {
  for (std::size_t i = 0; i < facts.programs.size() && i < facts.run.programs.size(); ++i) {
    const ProgramFacts& p = facts.programs[i];
    std::vector<Occurrence> far;
    bool cuts = false;
    for (std::uint32_t m = 0; m < p.program.motions.size(); ++m) {
      const Motion& motion = p.program.motions[m];
      const MoveCut cut = cutOf(facts, i, m);
      cuts = cuts || cutsMaterial(cut);
      if (!feeds(motion) || (motion.flags & (motion_start_unknown | motion_height_unknown))) continue;
      const Tool* tool = findTool(facts.job, motion.tool);
      if (!tool) continue;
      WorkPoint at;
      const double beyond = outside(facts, *p.setup, motion, at) - tool->diameter_mm / 2;
      if (beyond > std::max(min_allowance_mm, tool->diameter_mm) + clearance::contact_tolerance_mm)
        far.push_back({m, beyond, at});
    }
    if (!cuts || far.empty()) continue;
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
