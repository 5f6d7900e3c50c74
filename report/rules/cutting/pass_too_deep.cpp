#include <fmt/core.h>

#include <algorithm>
#include <cmath>

#include "report/facts/measures.h"
#include "report/rules/list.h"
#include "report/rules/shared/moves_by_tool.h"

namespace provecut {

namespace pass_too_deep {

constexpr std::string_view page = R"(## What it finds

A cutting move takes more depth in one pass than the tool's `max_stepdown`, in the stock as it is at that moment.

## Why it matters

Too deep a pass bends or breaks the bit, burns, and pulls the stock loose. The programmed step alone says little: what
counts is what the earlier passes left standing.

## Example

With `max_stepdown = 6`, in uncut stock:

    G1 Z-9 F300
    G1 X80 F1200

Both moves take 9 mm.

## What to do

Take the depth in as many passes as the finding says, or run the roughing program first. If the tool can cut deeper,
raise its `max_stepdown`.

## What `amount` is

The axial depth of cut in mm, the largest of the group; of a ball, a point or a drill the depth taken off at one spot.

## Source

Geometry of the cut; you set `max_stepdown`. Half to one diameter in hardwood is common practice; no published source.
)";

// The heights of the stock are kept in single precision.
constexpr double rounding_mm = 0.001;

// What a pass takes off. A tip that is not level leaves a groove that is not: the next pass, a step lower, touches the
// wood up to its flanks again, but takes no more off than the step.
double stepOf(const Tool& tool, const MoveCut& cut) {
  const bool level = tool.shape == ToolShape::flat || tool.shape == ToolShape::bull ||
                     tool.shape == ToolShape::surfacing || tool.shape == ToolShape::form;
  return level ? cut.axial_depth_mm : std::min(cut.axial_depth_mm, cut.bite_mm);
}

std::optional<double> tooDeep(const Facts& facts, const ToolMove& move) {
  if (!feeds(move.motion)) return std::nullopt;
  const MoveCut cut = cutOf(facts, move.program, move.index);
  const double depth_mm = stepOf(move.tool, cut);
  if (!cutsMaterial(cut) || depth_mm <= *move.tool.max_stepdown_mm + rounding_mm) return std::nullopt;
  return depth_mm;
}

// In a canned cycle the passes are pecks.
std::string advice(const Program& program, const std::vector<Occurrence>& deep, double passes,
                   const std::string& limit) {
  const auto in_cycle = [&](const Occurrence& o) { return (program.motions[o.move].flags & motion_in_cycle) != 0; };
  const std::string pecks = fmt::format("drill in pecks (G83) of at most {}", limit);
  if (std::all_of(deep.begin(), deep.end(), in_cycle)) return sentence(pecks);
  return fmt::format("Take this depth in at least {:.0f} passes, none deeper than {}{}.", passes, limit,
                     std::any_of(deep.begin(), deep.end(), in_cycle) ? "; " + pecks : "");
}

void check(const Facts& facts, std::vector<Finding>& findings) {
  const Judge judge = [&](const ToolMove& move) { return tooDeep(facts, move); };
  const auto limited = [](const Tool& t) { return t.max_stepdown_mm.has_value(); };
  for (std::size_t i = 0; i < facts.programs.size(); ++i) {
    for (const auto& [number, deep] : movesByTool(facts, i, judge, limited)) {
      const double max_mm = *findTool(facts.job, number)->max_stepdown_mm;
      Finding f = toolFinding(facts, i, pass_too_deep_rule, number, deep, Worst::largest, Quantity::length);
      const Compared depth = comparedText(facts.job, Quantity::length, *f.amount, max_mm);
      f.amount_text = depth.actual;
      f.message =
          fmt::format("{} cuts {}{} deep in one pass (maximum {})", f.subject, upTo(f), depth.actual, depth.limit);
      const double passes = std::ceil((*f.amount - rounding_mm) / max_mm);
      f.help = advice(facts.programs[i].program, deep, passes, depth.limit);
      f.ways.push_back({{ChangeKind::stepdown, max_mm, {}, number, -1, {}}});
      findings.push_back(std::move(f));
    }
  }
}

}  // namespace pass_too_deep

const Rule pass_too_deep_rule{"pass-too-deep", Level::look, "A pass is deeper than the tool's max_stepdown.",
                              pass_too_deep::page, pass_too_deep::check};

}  // namespace provecut
