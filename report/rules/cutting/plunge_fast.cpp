#include <fmt/core.h>

#include <cmath>
#include <map>
#include <numbers>
#include <optional>
#include <set>
#include <utility>

#include "report/facts/measures.h"
#include "report/rules/list.h"
#include "report/rules/shared/moves_by_tool.h"
#include "report/rules/shared/touching.h"
#include "report/rules/shared/tried_loads.h"

namespace provecut {

namespace plunge_fast {

constexpr std::string_view page = R"(## What it finds

A feed move goes straight down (84° or steeper) into material, faster than the tool's `plunge_feed`. For a tool without
one, the program's own plunges set the limit: twice the slowest feed that at least two plunges, and a tenth of all, use,
each at its own spot. If there is none, the limit is twice the feed of the cut after a plunge that ends on the top of
the stock. A move that ends on the untouched top of the stock, or less than 0.1 mm above it, counts as one into
material.

## Why it matters

On the way down a bit cuts with its weakest edges and clears no chips. At the cutting feed it burns, breaks, or is
pulled out of the collet. Often the F word of the cut is one line too early.

## Example

With `plunge_feed = 800`:

    G1 Z-3 F1800
    G1 X80

## What to do

Give the plunge its own F word, and the cut after it another.

## What `amount` is

The downward rate in mm/min, the largest of the group.

## Source

You set `plunge_feed`. A quarter to half of the cutting feed in wood is common practice; no published source. Twice the
program's own feed and 0.1 mm are our own choice.
)";

// The steep walls of a relief are followed downwards at full feed, and rightly; a plunge goes nearly straight down. Our
// own choice, no source.
constexpr double straight_down_deg = 84;
constexpr double rounding = 1e-6;  // feeds are kept in single precision

constexpr double times_slowest = 2, least_share = 0.1;
constexpr double least_plunges = 2;
constexpr double least_bite = 0.2;  // mm; less is a step of a relief, not a plunge

// The rate downwards of a move straight down; absent for all others.
std::optional<double> rateDown(const Motion& motion) {
  const double descent = descentDeg(motion);
  if (!feeds(motion) || descent < straight_down_deg) return std::nullopt;
  return double{motion.feed_mm_min} * std::sin(descent * std::numbers::pi / 180);
}

struct OwnFeed {
  double mm_min = 0;
  bool of_next_cut = false;  // no plunge told it
};

// Where plunges say nothing, the feed at which the program goes on from the top of the stock does.
void addCutAfterTouching(const Facts& facts, std::size_t program, std::map<int, OwnFeed>& own) {
  const std::vector<Motion>& motions = facts.programs[program].program.motions;
  for (std::size_t m = 0; m + 1 < motions.size(); ++m) {
    const Motion& next = motions[m + 1];
    if (!rateDown(motions[m]) || !endsOnTop(facts, program, motions[m], cutOf(facts, program, m))) continue;
    if (!feeds(next) || !cutsMaterial(cutOf(facts, program, m + 1)) || next.feed_mm_min <= 0) continue;
    own.emplace(next.tool, OwnFeed{next.feed_mm_min, true});
  }
}

// The plunge feed of each tool that has none in the job: the slowest that the program plunges with.
std::map<int, OwnFeed> programsOwn(const Facts& facts, std::size_t program) {
  // Where they plunge: the passes of a cut that go down at one spot count once.
  std::map<int, std::map<double, std::set<std::pair<double, double>>>> places;
  const auto unlimited = [](const Tool& t) { return !t.plunge_feed_mm_min; };
  movesByTool(
      facts, program,
      [&](const ToolMove& move) -> std::optional<double> {
        const MoveCut cut = cutOf(facts, program, move.index);
        const std::optional<double> down = rateDown(move.motion);
        if (down && cutsMaterial(cut) && double{cut.bite_mm} >= least_bite)
          places[move.tool.number][*down].emplace(move.motion.end.x, move.motion.end.y);
        return std::nullopt;
      },
      unlimited);
  std::map<int, OwnFeed> own;
  for (const auto& [tool, by_feed] : places) {
    std::size_t all = 0;
    for (const auto& [feed, at] : by_feed) all += at.size();
    for (const auto& [feed, at] : by_feed) {
      const auto plunges = static_cast<double>(at.size());
      if (plunges >= least_plunges && plunges >= least_share * static_cast<double>(all))
        own.emplace(tool, OwnFeed{feed, false});
    }
  }
  addCutAfterTouching(facts, program, own);
  return own;
}

void check(const Facts& facts, std::vector<Finding>& findings) {
  for (std::size_t i = 0; i < facts.programs.size(); ++i) {
    const std::map<int, OwnFeed> own = programsOwn(facts, i);
    const Judge judge = [&](const ToolMove& move) -> std::optional<double> {
      const std::optional<double> down = rateDown(move.motion);
      if (!down) return {};
      const MoveCut cut = cutOf(facts, i, move.index);
      const std::optional<double> set = move.tool.plunge_feed_mm_min;
      const bool plunges = cutsMaterial(cut) && (set || double{cut.bite_mm} >= least_bite);
      if (!plunges && !endsOnTop(facts, i, move.motion, cut)) return {};
      if (!set && !own.contains(move.tool.number)) return {};
      const double limit = set ? *set : times_slowest * own.at(move.tool.number).mm_min;
      if (*down <= limit * (1 + rounding)) return {};
      return down;
    };
    for (const auto& [number, fast] : movesByTool(facts, i, judge)) {
      const std::optional<double> set = findTool(facts.job, number)->plunge_feed_mm_min;
      const double right_feed = set ? *set : own.at(number).mm_min;
      Finding f = toolFinding(facts, i, plunge_fast_rule, number, fast, Worst::largest, Quantity::feed);
      const Compared feed = comparedText(facts.job, Quantity::feed, *f.amount, right_feed);
      f.amount_text = feed.actual;
      const bool cuts = cutsMaterial(cutOf(facts, i, worstOf(fast, Worst::largest).move));
      const std::string_view measure = set                          ? "maximum"
                                       : own.at(number).of_next_cut ? "the cut after it:"
                                                                    : "the program's slower plunges:";
      f.message =
          fmt::format("{} {} at {}{} ({} {})", f.subject, cuts ? "plunges" : "comes down to the very top of the stock",
                      upTo(f), feed.actual, measure, feed.limit);
      f.help = fmt::format("Plunge at {} or less, and set the feed again for the cut after it.",
                           atMostText(facts.job, Quantity::feed, right_feed));
      const AdvisedChange slower{ChangeKind::plunge_feed, right_feed, {}, number, -1, {}};
      if (provenByLoads(facts, f, {slower}))
        f.ways.push_back({slower});
      else
        f.help = "Plunge slower, and set the feed again for the cut after it.";
      findings.push_back(std::move(f));
    }
  }
}

}  // namespace plunge_fast

const Rule plunge_fast_rule{"plunge-fast", Level::look, "A plunge is faster than it should be.", plunge_fast::page,
                            plunge_fast::check};

}  // namespace provecut
