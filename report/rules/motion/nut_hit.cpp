#include <fmt/core.h>

#include <map>
#include <set>

#include "report/base/dimension_text.h"
#include "report/facts/measures.h"
#include "report/rules/list.h"
#include "report/rules/shared/grip_limits.h"
#include "report/rules/shared/moves_by_tool.h"

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

Give the tool more stickout if its flutes and shank allow it, and set Z zero again. Or cut less deep with it. At the
figures in the finding the nut would just touch the stock.

## What `amount` is

How far the nut's face is below the top of the material in mm, the largest of the group.

## Source

Geometry of the cut.
)";

// A longer stickout, where the tool is known to be long enough for the collet to hold it still; else less depth. At the
// figures themselves the nut touches the stock.
std::string advice(const Facts& facts, const Tool* tool, double depth_mm) {
  const std::string less =
      fmt::format("cut more than {} less deep", atLeastText(facts.job, Quantity::length, depth_mm));
  if (!tool || tool->stickout_mm <= 0) return sentence(less);
  const double stickout_mm = tool->stickout_mm + depth_mm;
  const double held_mm = tool->overall_length_mm - stickout_mm;
  if (tool->overall_length_mm > 0 && held_mm < min_grip_in_shanks * tool->shank_diameter_mm) {
    return sentence(less + ", or use a longer bit");
  }
  return fmt::format("Give {} a stickout of more than {} (now {}) and set Z zero again. Or {}.",
                     toolText(facts.job, tool->number), atLeastText(facts.job, Quantity::length, stickout_mm),
                     dimensionWithUnit(facts.job, tool->stickout_mm), less);
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
      f.help = advice(facts, findTool(facts.job, number), *f.amount);
      findings.push_back(std::move(f));
    }
  }
}

}  // namespace nut_hit

const Rule nut_hit_rule{"nut-hit", Level::stop,
                        "The collet nut, the spindle or a spindle attachment runs into the stock.", nut_hit::page,
                        nut_hit::check};

}  // namespace provecut
