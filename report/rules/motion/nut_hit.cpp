#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <optional>
#include <set>

#include "report/base/dimension_text.h"
#include "report/facts/measures.h"
#include "report/rules/list.h"
#include "report/rules/shared/grip_limits.h"
#include "report/rules/shared/height_advice.h"
#include "report/rules/shared/moves_by_tool.h"
#include "report/rules/shared/stickout.h"
#include "report/rules/shared/tried_loads.h"

namespace provecut {

namespace nut_hit {

constexpr std::string_view page = R"(## What it finds

The collet nut, the spindle or a spindle attachment runs into the stock, as the stock is at that moment.

## Why it matters

A nut does not cut. It burns and lifts the stock, and pulls the bit out of the collet.

## Example

A tool with `stickout = 20` in a pocket narrower than the nut:

    G1 Z-22 F300

The nut digs 2 mm into the stock.

## What to do

Give the tool more stickout if its flutes and shank allow it, and set Z zero again. Or cut less deep with it. The
figures in the finding leave a millimetre.

## What `amount` is

How far the nut's face is below the top of the material in mm, the largest of the group.

## Source

Geometry of the cut.
)";

// True where so much of the shank shows that it would be seen to touch what the nut runs into.
bool standsClearOfShank(const Facts& facts, std::size_t program, const Tool& tool) {
  constexpr double shows_mm = 1;
  const ProgramRun& run = facts.run.programs[program];
  const std::vector<Motion>& motions = facts.programs[program].program.motions;
  return tool.stickout_mm - tool.flute_length_mm >= shows_mm &&
         std::none_of(run.bodies_in_stock.begin(), run.bodies_in_stock.end(), [&](const BodyInStock& b) {
           return b.part == ToolPart::shank && motions[b.move].tool == tool.number;
         });
}

// A longer stickout, where the tool may be long enough for the collet to hold it still and does not bend too much; else
// less depth. At the figures themselves the nut would touch the stock: a millimetre is added.
void advise(const Facts& facts, std::size_t program, const Tool* tool, std::vector<Occurrence> deep, Finding& f) {
  constexpr double clear_mm = 1;
  const std::optional<Lift> first = takeMovesFromLowChange(facts, program, deep);
  if (deep.empty()) {
    f.help = sentence(first->text);
    f.ways = {first->changes};
    return;
  }
  std::vector<std::string> ways;
  bool stands_out = false;
  if (tool && tool->stickout_mm > 0) {
    const double stickout_mm = std::ceil(tool->stickout_mm + *f.amount + clear_mm - 1e-6);
    const double flutes_mm = tool->stickout_mm + *f.amount;
    std::vector<AdvisedChange> way{{ChangeKind::stickout, stickout_mm, {}, tool->number, -1, {}}};
    const double held_mm = tool->overall_length_mm - stickout_mm;
    const bool held = tool->overall_length_mm <= 0 || held_mm >= min_grip_in_shanks * tool->shank_diameter_mm;
    const bool flutes = tool->flute_length_mm < flutes_mm && !standsClearOfShank(facts, program, *tool);
    if (flutes) way.push_back({ChangeKind::flute_length, flutes_mm, {}, tool->number, -1, {}});
    const std::string bit = toolText(facts.job, tool->number);
    const std::string text = fmt::format(
        "{} of {} (now {}) and set Z zero again", flutes ? "a stickout" : fmt::format("give {} a stickout", bit),
        atLeastText(facts.job, Quantity::length, stickout_mm), dimensionWithUnit(facts.job, tool->stickout_mm));
    if ((held || flutes) && provenByLoads(facts, f, way)) {
      stands_out = true;
      // Longer flutes cut what the shank only rubbed: that takes power, how much is not known.
      if (flutes && facts.job.machine.spindle_power_w > 0) {
        ways.push_back("use a bit with longer flutes and more stickout, and set Z zero again");
      } else {
        f.ways.push_back(std::move(way));
        ways.push_back(flutes ? fmt::format("use a bit with at least {} of flutes, {}",
                                            atLeastText(facts.job, Quantity::length, flutes_mm), text)
                              : text);
      }
    }
  }
  const std::optional<double> z = shallowerZ(facts, program, deep);
  if (z && *z + clear_mm < stockTopZ(facts, *facts.programs[program].setup)) {
    f.ways.push_back({{ChangeKind::lowest_z, *z + clear_mm, {}, tool ? tool->number : 0, -1, {}}});
    ways.push_back(
        fmt::format("cut no deeper than {}{}", heightText(facts, program, *z + clear_mm), tool ? " with it" : ""));
  }
  if (!stands_out) ways.push_back("use a longer bit");
  f.help = sentence(ways.front());
  for (std::size_t i = 1; i < ways.size(); ++i) f.help += " Or " + ways[i] + ".";
  if (first) adviseToo(*first, f);
}

void check(const Facts& facts, std::vector<Finding>& findings) {
  for (std::size_t i = 0; i < facts.run.programs.size(); ++i) {
    const std::vector<Motion>& motions = facts.programs[i].program.motions;
    std::map<int, std::vector<const BodyInStock*>> by_tool;
    for (const BodyInStock& b : facts.run.programs[i].bodies_in_stock) {
      if (b.part != ToolPart::shank) by_tool[motions[b.move].tool].push_back(&b);
    }
    for (const auto& [number, bodies] : by_tool) {
      std::vector<Occurrence> occurrences;
      std::vector<std::string> parts;
      std::set<std::string> named;
      for (const BodyInStock* b : bodies) {
        occurrences.push_back({b->move, b->depth_mm, b->at});
        const std::string part = "the " + partText(facts.job, b->part, b->attachment);
        if (named.insert(part).second) parts.push_back(part);
      }
      Finding f = toolFinding(facts, i, nut_hit_rule, number, occurrences, Worst::largest, Quantity::length);
      f.message = fmt::format("{} {} {}{} into the stock", listText(parts), parts.size() == 1 ? "digs" : "dig",
                              f.moves > 1 || parts.size() > 1 ? "up to " : "",
                              quantityText(facts.job, Quantity::length, *f.amount));
      advise(facts, i, findTool(facts.job, number), occurrences, f);
      findings.push_back(std::move(f));
    }
  }
}

}  // namespace nut_hit

const Rule nut_hit_rule{"nut-hit", Level::stop,
                        "The collet nut, the spindle or a spindle attachment runs into the stock.", nut_hit::page,
                        nut_hit::check};

}  // namespace provecut
