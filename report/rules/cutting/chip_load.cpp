#include <algorithm>
#include <map>
#include <optional>

#include "report/facts/measures.h"
#include "report/rules/list.h"
#include "report/rules/shared/chip_load_table.h"
#include "report/rules/shared/grouping.h"

namespace provecut {

namespace {

constexpr double rounding = 1e-4;  // loads are kept in single precision, widths come from a raster

constexpr std::string_view page = R"(## What it finds

Feed moves whose chips are thicker than the cutter should take: at the highest speed that the machine reaches on the move, and
at the maxOf width that the cutter meets anywhere along it. A cut narrower than half the diameter makes thinner chips; that
is counted. Below the surface by more than a diameter less is allowed: a quarter less at two diameters, half at three.

## Why it matters

Thick chips break small bits, pull the stock from its holding and cost steps; everything after a lost step is cut in the wrong
place.

## Example

A 1/8 in bit with two flutes in a slot in hardwood:

    S12000 M3
    G1 X80 F4000

moves 0.167 mm per tooth; 0.13 mm is the most.

## What to do

Lower the feed or raise the speed of the spindle. Give a tool that may take more its own `chip_load = [lowest, highest]`; it is
then taken as it is. Drills and form tools are judged only by that.

## What `amount` is

The maxOf thickness of a chip in mm, the largest over the group.

## Source

Feed per tooth and chip thickness on the circular tooth path: Machinery's Handbook, 31st ed., milling. The highest chip loads
by material and diameter: bit makers' charts for rigid machines, as sellers' pages print them; between diameters and below
1/8 in our own interpolation. Surfacing bits: our own estimate. A vee or a ball is looked up at the width that it cuts at its
depth, but never below 1/8 in. The allowance for depth: several sellers' pages.
)";

struct Thick {
  std::vector<Occurrence> moves;
  double worst = 0, most = 0;  // the thickest chip, and what was allowed there
};

void check(const Facts& facts, std::vector<Finding>& findings) {
  for (std::size_t i = 0; i < facts.programs.size(); ++i) {
    const std::vector<Motion>& motions = facts.programs[i].program.motions;
    std::map<int, Thick> by_tool;
    const Tool* tool = nullptr;
    ToolBody body;
    for (std::uint32_t m = 0; m < motions.size(); ++m) {
      const MoveLoad load = loadOf(facts, i, m);
      if (load.max_chip_thickness_mm <= 0) continue;
      if (!tool || tool->number != motions[m].tool) {
        tool = findTool(facts.job, motions[m].tool);
        if (!tool) continue;
        body = toolBody(*tool, facts.job.collet_nut, {});
      }
      const MoveCut cut = cutOf(facts, i, m);
      const std::optional<ChipRange> range = chipRange(*tool, facts.job.stock, body, cut);
      if (!range) continue;
      const double chip = static_cast<double>(load.max_chip_thickness_mm),
                   most = range->most * deepShare(*tool, static_cast<double>(cut.section_height_mm));
      if (chip <= most * (1 + rounding)) continue;
      Thick& t = by_tool[tool->number];
      t.moves.push_back({m, chip, motions[m].start});
      if (chip > t.worst) {
        t.worst = chip;
        t.most = most;
      }
    }
    for (const auto& [number, t] : by_tool) {
      const Tool& thick = *findTool(facts.job, number);
      Finding f = groupFinding(facts, i, chip_load_rule, t.moves, Worst::largest, Quantity::fine_length);
      f.unit = "mm";
      f.subject = toolText(facts.job, number);
      const Compared chip = comparedText(facts.job, Quantity::fine_length, t.worst, t.most);
      f.message = f.subject + " takes chips of " + (f.moves > 1 ? "up to " : "") + chip.met + " with " +
                  plural(static_cast<std::size_t>(thick.flutes), "flute", "flutes") + ", " + chip.allowed + " at most";
      f.help = "Lower the feed to " + fixedText(100 * t.most / t.worst, 0) +
               " % of it, or raise the spindle's speed; if this bit may take more, give it a chip_load of its own.";
      relateToJob(facts, f, thick.place, f.subject + " is defined here");
      findings.push_back(std::move(f));
    }
  }
}

}  // namespace

const Rule chip_load_rule{"chip-load", Level::look, "A cutter takes thicker chips than it should.", page, check};

}  // namespace provecut
