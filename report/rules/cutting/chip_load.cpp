#include <fmt/core.h>

#include <algorithm>
#include <limits>

#include "report/facts/measures.h"
#include "report/rules/list.h"
#include "report/rules/shared/chip_advice.h"
#include "report/rules/shared/chips.h"
#include "report/rules/shared/feed_slips.h"

namespace provecut {

namespace chip_load {

constexpr std::string_view page = R"(## What it finds

Cutting moves whose chips are too thick for the cutter, at the highest speed that the machine reaches on the move and
the widest cut along it. A cut narrower than half the diameter makes thinner chips; that is taken into account. Deep
cuts get a lower limit: a quarter less at two diameters deep, half at three. A plunge counts with its feed per tooth;
drills and points are left out there. The charts have a margin of a tenth, and one of a half for what takes less than a
fifth of the tool's cutting time: charts for one bit differ by more. Where the spindle is set slower than it can
turn and nothing else is wrong, spindle-range says so alone.

## Why it matters

Thick chips break small bits, pull the stock loose and make motors lose steps. Everything after a lost step is cut in
the wrong place.

## Example

A 1/8 in bit with two flutes, slotting hardwood:

    S12000 M3
    G1 X80 F4000

That is a chip load of 0.167 mm; the limit is 0.13 mm.

## What to do

Lower the feed or raise the spindle speed. If your bit can take more, give it its own
`chip_load = [minimum, maximum]`; those figures are used as they are. Drills and form tools are checked only against
their own `chip_load`.

## What `amount` is

The maximum undeformed chip thickness in mm, the largest of the group.

## Source

Feed per tooth and chip thickness on the circular tooth path: Machinery's Handbook, 31st ed., milling. The highest chip
loads by material and diameter: bit makers' charts for rigid machines, as sellers' pages print them. Between diameters
and below 1/8 in we interpolate. Surfacing bits: our own estimate. Materials without a chart take a neighbour's: other
boards take MDF's, solid surface takes acrylic's, HDPE takes polycarbonate's, brass takes aluminium's. For a vee or ball
the diameter is the width that it cuts at its depth, but never below 1/8 in. The lower limit for deep cuts: several
sellers' pages.
)";

// Those that a spindle slower than the machine's slowest makes are spindle-range's.
std::optional<double> tooThick(const Facts& facts, Chips& chips, ToolBodies& bodies, const ToolMove& move) {
  const std::optional<Chip> chip = chips.of(move);
  if (!chip || !chip->too_thick || slowSpindleMakes(facts, move.motion, *chip)) return std::nullopt;
  if (breaksTip(facts, bodies, move)) return std::nullopt;  // feed-slip's
  return chip->thickness_mm;
}

// A chart's limit passed now and then by no more than charts differ among themselves says nothing.
bool withinCharts(const Facts& facts, Chips& chips, std::size_t program, const Tool& tool,
                  const std::vector<Occurrence>& thick) {
  constexpr double charts_differ = 1.5, seldom = 0.2;
  if (tool.chip_load_mm) return false;
  const std::vector<Motion>& motions = facts.programs[program].program.motions;
  double thick_s = 0, cutting_s = 0;
  for (const Occurrence& o : thick) {
    const Chip chip = *chips.of({program, o.move, motions[o.move], tool});
    if (chip.thickness_mm > charts_differ * chip.max_mm) return false;
    thick_s += moveSeconds(facts, motions[o.move], loadOf(facts, program, o.move));
  }
  for (std::size_t m = 0; m < motions.size(); ++m) {
    const MoveLoad load = loadOf(facts, program, m);
    if (motions[m].tool == tool.number && load.chip_load_mm > 0) cutting_s += moveSeconds(facts, motions[m], load);
  }
  return thick_s < seldom * cutting_s;
}

// The settings at which the chips of all these moves are thin enough: chips grow with the feed over the speed.
ChipSettings settingsFor(const Facts& facts, Chips& chips, std::size_t program, const Tool& tool,
                         const std::vector<Occurrence>& thick) {
  ChipSettings settings;
  settings.feed_mm_min = std::numeric_limits<double>::infinity();
  for (const Occurrence& o : thick) {
    const Motion& motion = facts.programs[program].program.motions[o.move];
    const Chip chip = *chips.of({program, o.move, motion, tool});
    const double share = chip.max_mm / chip.thickness_mm;
    const double reached_mm_min = loadOf(facts, program, o.move).top_speed_mm_min;
    settings.feed_mm_min = std::min(settings.feed_mm_min, reached_mm_min * share);
    settings.rpm = std::max(settings.rpm, double{motion.rpm} / share);
  }
  return settings;
}

void check(const Facts& facts, std::vector<Finding>& findings) {
  Chips chips(facts);
  ToolBodies bodies(facts.job);
  const Judge judge = [&](const ToolMove& move) { return tooThick(facts, chips, bodies, move); };
  for (std::size_t i = 0; i < facts.programs.size(); ++i) {
    for (const auto& [number, thick] : movesByTool(facts, i, judge)) {
      const Tool& tool = *findTool(facts.job, number);
      if (withinCharts(facts, chips, i, tool, thick)) continue;
      Finding f = toolFinding(facts, i, chip_load_rule, number, thick, Worst::largest, Quantity::fine_length);
      const std::uint32_t worst = worstOf(thick, Worst::largest).move;
      const Chip chip = *chips.of({i, worst, facts.programs[i].program.motions[worst], tool});
      const Compared text = comparedText(facts.job, Quantity::fine_length, chip.thickness_mm, chip.max_mm);
      f.amount_text = text.actual;
      f.message = fmt::format("{} {} chips {}{} thick (maximum {})", f.subject, chip.plunge ? "plunges with" : "cuts",
                              upTo(f), text.actual, text.limit);
      adviseThinnerChips(facts, tool, settingsFor(facts, chips, i, tool, thick), f);
      if (!tool.chip_load_mm) f.help += " If this bit can take more, set its chip_load in the job file.";
      findings.push_back(std::move(f));
    }
  }
}

}  // namespace chip_load

const Rule chip_load_rule{"chip-load", Level::look, "A cutter takes thicker chips than it should.", chip_load::page,
                          chip_load::check};

}  // namespace provecut
