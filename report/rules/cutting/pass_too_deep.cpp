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

`max_stepdown` is for a full slot. A flat or bull-nosed bit that meets no more than a quarter of its diameter, such as in
a trochoidal slot, may go as deep as `max_stepdown` × diameter ÷ (2 × width of cut), and never deeper than its flutes are
long: there it takes half the cross-section of the slot. The width is the mean along the move.

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

The axial depth of cut in mm, the largest of the group. For a ball, a point or a drill it is the depth that the tool
takes off at one spot.

## Source

Geometry of the cut; you set `max_stepdown`. Half to one diameter in hardwood is common practice; no published source.
Equal cross-sections load a bit about equally at one feed; the half is our own estimate, for the load sits higher up.
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

// How thick a slice the move takes off a wall; none where it cuts a slot, or more than a quarter of the diameter. A
// short step into the wall, as from one round of a trochoid to the next, meets it with much of its front, but takes no
// thicker a slice than the step is long. Short moves that follow each other count together: a slot may be cut in many.
std::optional<double> slice_mm(const Facts& facts, const ToolMove& move) {
  const double diameter_mm = move.tool.diameter_mm, quarter_mm = diameter_mm / 4;
  const auto isWide = [&](std::size_t m) {
    const MoveCut cut = cutOf(facts, move.program, m);
    return double{cut.radial_depth_mm} > quarter_mm && double{cut.axial_depth_mm} > *move.tool.max_stepdown_mm;
  };
  const auto plan_mm2 = [](const MoveCut& cut) { return double{cut.engaged_mm} * double{cut.radial_depth_mm}; };
  const MoveCut own = cutOf(facts, move.program, move.index);
  if (own.engaged_mm <= 0 || own.radial_depth_mm <= 0) return std::nullopt;
  if (!isWide(move.index)) {
    const bool everywhere = double{own.max_radial_depth_mm} <= quarter_mm;
    return everywhere || plan_mm2(own) <= quarter_mm * diameter_mm ? std::optional(double{own.radial_depth_mm})
                                                                   : std::nullopt;
  }
  const std::size_t count = facts.programs[move.program].program.motions.size();
  std::size_t first = move.index, end = move.index + 1;
  double area_mm2 = plan_mm2(own), way_mm = double{own.engaged_mm};
  const auto add = [&](std::size_t m) {
    const MoveCut cut = cutOf(facts, move.program, m);
    area_mm2 += plan_mm2(cut);
    way_mm += double{cut.engaged_mm};
  };
  while (area_mm2 <= quarter_mm * diameter_mm && first > 0 && isWide(first - 1)) add(--first);
  while (area_mm2 <= quarter_mm * diameter_mm && end < count && isWide(end)) add(end++);
  if (area_mm2 > quarter_mm * diameter_mm || way_mm > quarter_mm) return std::nullopt;
  return way_mm;
}

double allowed_mm(const Facts& facts, const ToolMove& move) {
  const double max_mm = *move.tool.max_stepdown_mm;
  if (move.tool.shape != ToolShape::flat && move.tool.shape != ToolShape::bull) return max_mm;
  const std::optional<double> slice = slice_mm(facts, move);
  if (!slice) return max_mm;
  return std::max(max_mm, std::min(move.tool.flute_length_mm, max_mm * move.tool.diameter_mm / (2 * *slice)));
}

std::optional<double> tooDeep(const Facts& facts, const ToolMove& move) {
  if (!feeds(move.motion)) return std::nullopt;
  const MoveCut cut = cutOf(facts, move.program, move.index);
  const double depth_mm = stepOf(move.tool, cut);
  if (!cutsMaterial(cut) || depth_mm <= allowed_mm(facts, move) + rounding_mm) return std::nullopt;
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
