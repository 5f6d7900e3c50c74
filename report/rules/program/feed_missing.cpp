#include <fmt/core.h>

#include <algorithm>

#include "report/facts/measures.h"
#include "report/rules/list.h"
#include "report/rules/shared/moves_by_tool.h"

namespace provecut {

namespace feed_missing {

constexpr std::string_view page = R"(## What it finds

A cutting move before any F word has set a feed rate; in inverse-time mode (G93), one without its own F word.

## Why it matters

The machine stops with an error, or uses the feed that the last program left, in whatever unit that was.

## Example

    G0 X20 Y20 Z2
    G1 Z-3
    G1 X80 F1200

The plunge has no feed.

## What to do

Set F on this line or before it.

## What `amount` is

There is none.

## Source

NISTIR 6556 3.5.2 and 3.5.19.
)";

bool saidByReader(const Program& program) {
  return std::any_of(program.problems.begin(), program.problems.end(),
                     [](const Problem& p) { return p.id == feed_missing_rule.id; });
}

void check(const Facts& facts, std::vector<Finding>& findings) {
  for (std::size_t i = 0; i < facts.programs.size(); ++i) {
    const std::vector<Motion>& motions = facts.programs[i].program.motions;
    std::vector<Occurrence> without;
    for (std::uint32_t m = 0; m < motions.size(); ++m) {
      if (feeds(motions[m]) && (motions[m].flags & motion_feed_unset)) without.push_back({m, 0, motions[m].start});
    }
    // Where the reader has said so itself, once is enough.
    if (without.empty() || saidByReader(facts.programs[i].program)) continue;
    const Motion& first = motions[without.front().move];
    Finding f = groupFinding(facts, i, feed_missing_rule, without);
    f.message = "cutting move with no feed rate set; the path was checked, its time is unknown";
    const Tool* tool = findTool(facts.job, first.tool);
    f.help = "Set F on this line or before it.";
    if (tool && tool->plunge_feed_mm_min && descentDeg(first) > 0) {
      f.help += fmt::format(" The plunge feed of {} is {}.", toolText(facts.job, first.tool),
                            quantityText(facts.job, Quantity::feed, *tool->plunge_feed_mm_min));
    }
    findings.push_back(std::move(f));
  }
}

}  // namespace feed_missing

const Rule feed_missing_rule{"feed-missing", Level::stop, "A cutting move has no feed rate.", feed_missing::page,
                             feed_missing::check};

}  // namespace provecut
