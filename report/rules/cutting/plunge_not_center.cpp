#include <fmt/core.h>

#include "report/facts/measures.h"
#include "report/rules/list.h"
#include "report/rules/shared/moves_by_tool.h"

namespace provecut {

namespace plunge_not_center {

constexpr std::string_view page = R"(## What it finds

A tool with `center_cutting = false` goes down into material more steeply than 45°, with material under the middle half
of its diameter. Every surfacing cutter counts as such a tool unless the job file says otherwise. Its rim may go down
beside the stock or into its edge.

## Why it matters

The tool has no edge near its middle. It cannot cut what is there: it presses on it, burns, lifts or breaks.

## Example

With a 25 mm surfacing cutter over the stock:

    G1 Z-1 F300

## What to do

Go down outside the stock, or on a ramp of 2 to 3°. If this tool does cut at its centre, set `center_cutting = true`.

## What `amount` is

The height of material under its middle in mm, the largest of the group.

## Source

Common practice, no published source: bits that must not plunge, and ramps of 2 to 3° for them. That the middle half
has no edge is our own estimate.
)";

constexpr double steep_deg = 45;

std::optional<double> plunges(const Facts& facts, const ToolMove& move) {
  const MoveCut cut = cutOf(facts, move.program, move.index);
  if (descentDeg(move.motion) <= steep_deg || !cutsMaterial(cut)) return std::nullopt;
  if (cut.centre_depth_mm <= least_bite_mm) return std::nullopt;
  return cut.centre_depth_mm;
}

void check(const Facts& facts, std::vector<Finding>& findings) {
  const Judge judge = [&](const ToolMove& move) { return plunges(facts, move); };
  const auto no_edge_in_the_middle = [](const Tool& t) { return !t.center_cutting; };
  for (std::size_t i = 0; i < facts.programs.size(); ++i) {
    for (const auto& [number, steep] : movesByTool(facts, i, judge, no_edge_in_the_middle)) {
      Finding f = toolFinding(facts, i, plunge_not_center_rule, number, steep, Worst::largest, Quantity::length);
      f.message = fmt::format("{} plunges {}{} into the stock, but does not cut at its centre", f.subject, upTo(f),
                              quantityText(facts.job, Quantity::length, *f.amount));
      f.help = "Go down outside the stock, or on a ramp of 3° or less.";
      findings.push_back(std::move(f));
    }
  }
}

}  // namespace plunge_not_center

const Rule plunge_not_center_rule{"plunge-not-center", Level::stop, "A tool that does not cut at its centre plunges.",
                                  plunge_not_center::page, plunge_not_center::check};

}  // namespace provecut
