#include <algorithm>
#include <map>
#include <optional>

#include "report/facts/measures.h"
#include "report/rules/list.h"
#include "report/rules/shared/chip_load_table.h"
#include "report/rules/shared/grouping.h"

namespace provecut {

namespace {

constexpr double share_allowed = 0.5;  // our own choice, no source
constexpr double rounding = 1e-4;      // loads are kept in single precision

constexpr std::string_view page = R"(## What it finds

A tool that rubs for more than half of the time that it cuts in a program: it moves less per tooth than half of what light
machines are run at, or less than 0.025 mm with an upright edge in wood or plastic. The speed counts that the machine really
reaches, not the F word. That a narrow cut makes thinner chips still is not counted: finishing passes are meant to be narrow.

## Why it matters

An edge that rubs makes dust and heat: burnt wood, plastic that welds itself shut behind the bit, a bit that is dull by evening.
Short moves and tight corners on a machine of low acceleration never reach the feed that they ask for.

## Example

A two-flute bit at

    S24000 M3
    G1 X80 F600

moves 0.0125 mm per tooth.

## What to do

Lower the speed of the spindle or raise the feed; use a bit with fewer flutes. Where the machine does not reach the feed, only
the spindle helps. Many shops run slower than the charts and live: this is never more than a note.

## What `amount` is

The way per tooth in mm over the moves found, mean over their time.

## Source

The floor of 0.025 mm: several sellers' pages. Half of what is usual on desktop and bench routers: common practice, no source. A
vee or a ball is looked up at the width that it cuts, surfacing bits have figures of their own (our own estimate).
)";

struct Rubbing {
  std::vector<Occurrence> moves;
  double all_s = 0, rubbing_s = 0, way_mm_s = 0;  // way per tooth times seconds
  double wanted = 0;                              // the least that would do, largest over the moves
};

void check(const Facts& facts, std::vector<Finding>& findings) {
  for (std::size_t i = 0; i < facts.programs.size(); ++i) {
    const std::vector<Motion>& motions = facts.programs[i].program.motions;
    std::map<int, Rubbing> by_tool;
    const Tool* tool = nullptr;
    ToolBody body;
    for (std::uint32_t m = 0; m < motions.size(); ++m) {
      const MoveLoad load = loadOf(facts, i, m);
      if (load.chip_load_mm <= 0) continue;
      if (!tool || tool->number != motions[m].tool) {
        tool = findTool(facts.job, motions[m].tool);
        if (!tool) continue;
        body = toolBody(*tool, facts.job.collet_nut, {});
      }
      const std::optional<ChipRange> range = chipRange(*tool, facts.job.stock, body, cutOf(facts, i, m));
      if (!range) continue;
      Rubbing& r = by_tool[tool->number];
      const double seconds = moveSeconds(facts, motions[m], load), way = static_cast<double>(load.chip_load_mm);
      r.all_s += seconds;
      if (way >= range->rubs_below * (1 - rounding)) continue;
      r.rubbing_s += seconds;
      r.way_mm_s += way * seconds;
      r.wanted = std::max(r.wanted, range->rubs_below);
      r.moves.push_back({m, way, motions[m].start});
    }
    for (const auto& [number, r] : by_tool) {
      if (r.rubbing_s <= share_allowed * r.all_s) continue;
      const Tool& rubs = *findTool(facts.job, number);
      Finding f = groupFinding(facts, i, chip_thin_rule, r.moves, Worst::smallest, Quantity::fine_length);
      f.unit = "mm";
      f.amount = r.way_mm_s / r.rubbing_s;
      f.subject = toolText(facts.job, number);
      const Compared way = comparedText(facts.job, Quantity::fine_length, *f.amount, r.wanted);
      f.message = f.subject + " moves " + way.met + " per tooth for " + fixedText(100 * r.rubbing_s / r.all_s, 0) +
                  " % of its time in the cut; below " + way.allowed + " it rubs with " +
                  plural(static_cast<std::size_t>(rubs.flutes), "flute", "flutes");
      f.help =
          "Lower the spindle's speed to " + fixedText(100 * *f.amount / r.wanted, 0) + " % of it, or raise the feed.";
      relateToJob(facts, f, rubs.place, f.subject + " is defined here");
      findings.push_back(std::move(f));
    }
  }
}

}  // namespace

const Rule chip_thin_rule{"chip-thin", Level::note, "A tool rubs for most of its time in the cut.", page, check};

}  // namespace provecut
