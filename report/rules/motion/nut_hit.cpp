#include <map>
#include <set>

#include "report/facts/measures.h"
#include "report/rules/list.h"
#include "report/rules/shared/grouping.h"

namespace provecut {

namespace {

constexpr std::string_view page = R"(## What it finds

The collet nut, the spindle or a body that travels with them comes below the top of the material in its way, on the stock as it is
at that moment.

## Why it matters

These bodies do not cut: they scorch and lift the stock, and the bit is pulled out of the collet.

## Example

A tool with `stickout = 20` in a closed pocket narrower than the nut:

    G1 Z-22 F300

The nut is 2 mm below the top of the stock.

## What to do

Let the tool stick out further, if its flutes and shank allow, or cut less deep with it.

## What `amount` is

How far the body's lower face is below the top of the material in mm, the largest over the group.

## Source

Geometry of the cut.
)";

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
        const std::string part = partText(facts.job, b->part, b->attachment);
        if (named.insert(part).second) parts.push_back(part);
      }
      Finding f = groupFinding(facts, i, nut_hit_rule, occurrences, Worst::largest, Quantity::length);
      f.unit = "mm";
      f.subject = toolText(facts.job, number);
      f.message = listText(parts) + (parts.size() == 1 ? " goes " : " go ") +
                  (f.moves > 1 || parts.size() > 1 ? "up to " : "") +
                  quantityText(facts.job, Quantity::length, *f.amount) + " below the top of the material";
      f.help =
          "Cut less deep with " + f.subject + ", by at least " + atLeastText(facts.job, Quantity::length, *f.amount);
      if (const Tool* tool = findTool(facts.job, number); tool && tool->stickout_mm > 0) {
        f.help += ", or let it stick out at least " +
                  atLeastText(facts.job, Quantity::length, tool->stickout_mm + *f.amount) + " instead of " +
                  quantityText(facts.job, Quantity::length, tool->stickout_mm);
        relateToJob(facts, f, tool->place, f.subject + " is defined here");
      }
      f.help += ".";
      findings.push_back(std::move(f));
    }
  }
}

}  // namespace

const Rule nut_hit_rule{"nut-hit", Level::stop,
                        "The collet nut, the spindle or what travels with them touches the stock.", page, check};

}  // namespace provecut
