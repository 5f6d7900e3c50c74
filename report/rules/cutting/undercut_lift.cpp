#include <fmt/core.h>

#include "report/facts/measures.h"
#include "report/rules/list.h"
#include "report/rules/shared/moves_by_tool.h"
#include "report/rules/shared/overhang.h"

namespace provecut {

namespace undercut_lift {

constexpr std::string_view page = R"(## What it finds

A bit that is wider below than above (dovetail, T-slot, keyhole, a disc on a thin neck) is lifted where material hangs
over its wider part, or lowered through material that hangs over a hollow. Any bit with a shank thinner than its cutting
part counts where material reaches above its flutes. On the way up, you get only flute-too-short for it.

## Why it matters

Such a bit must leave the way it came: a dovetail or T-slot bit out of the side, a keyhole bit through its entry hole.
Lifted anywhere else it tears the lips off the slot, pulls up the stock or snaps at its neck.

## Example

A keyhole bit enters at X40 and is lifted at the far end of the slot:

    G1 Z-10
    G1 X55
    G0 Z5

## What to do

Go back to the entry hole, or out of the side, before going up. If an earlier program makes the entry hole, run that
program first.

## What `amount` is

The height of the material that the bit breaks through in mm, the largest of the group.

## Source

Common practice, no published source: dovetail and T-slot bits go in and out from the side, keyhole bits through their
entry hole. The height is the geometry of the cut, less 0.02 mm at the walls.
)";

enum class Way { up, down };

void checkWay(const Facts& facts, Way way, std::vector<Finding>& findings) {
  const Judge judge = [&](const ToolMove& move) -> std::optional<double> {
    const double broken_mm = cutOf(facts, move.program, move.index).broken_mm;
    const bool up = move.motion.end.z > move.motion.start.z;
    if (broken_mm <= min_overhang_mm || up != (way == Way::up)) return {};
    if (followsFromFlutes(facts, move.program, move.index)) return {};
    return broken_mm;
  };
  for (std::size_t i = 0; i < facts.programs.size(); ++i) {
    for (const auto& [number, met] : movesByTool(facts, i, judge)) {
      Finding f = toolFinding(facts, i, undercut_lift_rule, number, met, Worst::largest, Quantity::length);
      const std::string height = upTo(f) + quantityText(facts.job, Quantity::length, *f.amount);
      if (way == Way::up) {
        f.message = fmt::format("{} is lifted through {} of material above its wide part", f.subject, height);
        f.help = "Go out the way the bit came in, by its entry hole or by the side, before going up.";
      } else {
        f.message = fmt::format("{} is lowered through {} of material above a hollow", f.subject, height);
        f.help = "Go in by the side or by the entry hole.";
      }
      findings.push_back(std::move(f));
    }
  }
}

void check(const Facts& facts, std::vector<Finding>& findings) {
  checkWay(facts, Way::up, findings);
  checkWay(facts, Way::down, findings);
}

}  // namespace undercut_lift

const Rule undercut_lift_rule{"undercut-lift", Level::stop,
                              "An undercut bit (dovetail, T-slot, keyhole) is lifted through material.",
                              undercut_lift::page, undercut_lift::check};

}  // namespace provecut
