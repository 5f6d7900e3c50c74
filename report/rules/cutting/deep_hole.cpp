#include <fmt/core.h>

#include <optional>

#include "report/facts/measures.h"
#include "report/rules/list.h"
#include "report/rules/shared/moves_by_tool.h"

namespace provecut {

namespace deep_hole {

constexpr double max_diameters = 4;

constexpr std::string_view page = R"(## What it finds

A drill goes deeper into material in one stroke than four times its diameter, without coming back up to clear its chips.

## Why it matters

The flutes pack with chips. In wood the drill then burns and the hole smokes; in metal and plastics it seizes and breaks.

## Example

A 3.2 mm drill in 18 mm plywood:

    G81 X20 Y20 Z-18 R3 F300

That is 5.6 diameters in one go.

## What to do

Drill in pecks (G83 with Q), each no deeper than one or two diameters.

## What `amount` is

The depth of one stroke in mm, the largest of the group.

## Source

Machinery's Handbook, 31st ed., drilling: beyond about three to four diameters a hole is a deep one, and is drilled in
pecks (from memory).
)";

void check(const Facts& facts, std::vector<Finding>& findings) {
  const Judge judge = [&](const ToolMove& move) -> std::optional<double> {
    const MoveCut cut = cutOf(facts, move.program, move.index);
    if (!feeds(move.motion) || goesSideways(move.motion) || !cutsMaterial(cut)) return {};
    if (double{cut.bite_mm} <= max_diameters * move.tool.diameter_mm) return {};
    return double{cut.bite_mm};
  };
  const auto drill = [](const Tool& t) { return t.shape == ToolShape::drill; };
  for (std::size_t i = 0; i < facts.programs.size(); ++i) {
    for (const auto& [number, deep] : movesByTool(facts, i, judge, drill)) {
      Finding f = toolFinding(facts, i, deep_hole_rule, number, deep, Worst::largest, Quantity::length);
      const double diameter_mm = findTool(facts.job, number)->diameter_mm;
      f.message = fmt::format("{} drills {}{} deep in one stroke, {:.1f} times its diameter (maximum {:.0f})",
                              f.subject, upTo(f), f.amount_text, *f.amount / diameter_mm, max_diameters);
      f.help = fmt::format("Drill in pecks: G83 with Q {} or less.",
                           atMostText(facts.job, Quantity::length, 2 * diameter_mm));
      f.ways.push_back({{ChangeKind::peck, 2 * diameter_mm, {}, number, -1, {}}});
      findings.push_back(std::move(f));
    }
  }
}

}  // namespace deep_hole

const Rule deep_hole_rule{"deep-hole", Level::note, "A drill goes deep without clearing its chips.", deep_hole::page,
                          deep_hole::check};

}  // namespace provecut
