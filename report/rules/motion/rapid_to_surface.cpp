#include <fmt/core.h>

#include <algorithm>
#include <set>
#include <string>

#include "parser/base/units.h"
#include "report/base/number_text.h"
#include "report/facts/measures.h"
#include "report/rules/list.h"
#include "report/rules/shared/grouping.h"
#include "report/rules/shared/height_advice.h"
#include "report/rules/shared/touching.h"

namespace provecut {

namespace rapid_to_surface {

constexpr std::string_view page = R"(## What it finds

A rapid straight down that ends on the untouched top of the stock, or less than 0.1 mm above it. G28 Z0 under G90 is one:
it goes by way of Z0 before it goes home.

## Why it matters

If the stock is a hair thicker or bowed, or zero is 0.1 mm off, the bit rams into the stock as fast as the machine can
go.

## Example

With zero on the top of the stock:

    G0 Z0
    G1 Z-1 F100

## What to do

End the rapid at the height in the finding, and go down from there at the plunge feed. In a drilling cycle raise R. Where the program moves in
increments (G91), take the same length off the next retract.

## What `amount` is

How far above the stock the rapid ends in mm, the smallest of the group.

## Source

Common practice; no published source. The 0.1 mm are our own estimate of how flat boards are.
)";

// G28 by way of a place of its own, before it goes home.
bool isWayHome(const std::vector<Motion>& motions, std::uint32_t m) {
  return m + 1 < motions.size() && motions[m + 1].line == motions[m].line &&
         (motions[m + 1].flags & motion_machine_frame) != 0;
}

// Pecks go back by rapid into the hole that they have begun.
bool isBackInHole(const std::vector<Motion>& motions, std::uint32_t m) {
  if (m < 2 || !(motions[m].flags & motion_in_cycle)) return false;
  const Motion& peck = motions[m - 2];
  return feeds(peck) && (peck.flags & motion_in_cycle) && peck.end.x == motions[m].end.x &&
         peck.end.y == motions[m].end.y && peck.end.z < motions[m].end.z;
}

// For a program in increments, where no height can be written: " In increments (G91), write G0 Z-7 here, then G1 Z-3."
std::string inIncrements(const Facts& facts, std::size_t program, const std::vector<Occurrence>& touching,
                         double clear_z) {
  const Program& p = facts.programs[program].program;
  if (!p.modal.ever_incremental || (p.modal.ever_inch && p.modal.ever_mm)) return {};
  const double unit_mm = p.modal.ever_inch ? mm_per_inch : 1;
  const auto increment = [&](double from, double to) { return shortNumber((to - from) / unit_mm, 4); };
  std::set<std::string> ways;
  for (const Occurrence& o : touching) {
    const Motion& m = p.motions[o.move];
    if ((m.flags & motion_in_cycle) || goesSideways(m)) continue;
    if (clear_z >= m.start.z) return {};
    ways.insert(fmt::format("G0 Z{}, then G1 Z{}", increment(m.start.z, clear_z), increment(clear_z, m.end.z)));
  }
  if (ways.empty()) return {};
  if (ways.size() == 1) return fmt::format(" In increments (G91), write {} at that feed.", *ways.begin());
  return fmt::format(" In increments (G91), each of them has its own: here {} at that feed.",
                     fmt::format("G0 Z{}, then G1 Z{}", increment(p.motions[touching.front().move].start.z, clear_z),
                                 increment(clear_z, p.motions[touching.front().move].end.z)));
}

// Each rapid ends higher; in a canned cycle R is raised.
void advise(const Facts& facts, std::size_t program, const std::vector<Occurrence>& touching, double clear_z,
            Finding& f) {
  AdvisedChange end{ChangeKind::end_rapid_at, clear_z, {}, 0, -1, {}},
      raise{ChangeKind::cycle_r, clear_z, {}, 0, -1, {}};
  for (const Occurrence& o : touching) {
    const Motion& m = facts.programs[program].program.motions[o.move];
    (m.flags & motion_in_cycle ? raise : end).lines.push_back(m.line);
  }
  std::vector<AdvisedChange> way;
  if (!end.lines.empty()) {
    f.help = fmt::format("End {} at {}, and go down from there at the plunge feed.{}",
                         end.lines.size() > 1 ? "these rapids" : "this rapid", heightText(facts, program, clear_z),
                         inIncrements(facts, program, touching, clear_z));
    way.push_back(end);
  }
  if (!raise.lines.empty()) {
    f.help += (f.help.empty() ? "" : " ") +
              sentence(raiseRText(facts, program, clear_z, end.lines.empty() ? 0 : raise.lines.front()));
    way.push_back(raise);
  }
  f.ways.push_back(way);
}

void check(const Facts& facts, std::vector<Finding>& findings) {
  for (std::size_t i = 0; i < facts.programs.size(); ++i) {
    const ProgramFacts& program = facts.programs[i];
    std::vector<Occurrence> touching;
    for (std::uint32_t m = 0; m < program.program.motions.size(); ++m) {
      const Motion& motion = program.program.motions[m];
      const MoveCut cut = cutOf(facts, i, m);
      if (motion.flags & motion_start_unknown) continue;  // first-move's
      if (motion.kind != MotionKind::rapid || !endsOnTop(facts, i, motion, cut)) continue;
      if (isBackInHole(program.program.motions, m)) continue;
      touching.push_back({m, std::max(0.0, double{cut.ends_above_mm}), motion.end});
    }
    if (touching.empty()) continue;
    Finding f = groupFinding(facts, i, rapid_to_surface_rule, touching, Worst::smallest, Quantity::length);
    f.message = *f.amount < double{least_bite_mm}
                    ? std::string("rapid plunges down to the very top of the stock")
                    : fmt::format("rapid plunges down to {} above the stock", f.amount_text);
    const double clearance_mm = facts.job.limits.clearance_mm;
    const double clear_z = stockTopZ(facts, *program.setup) + (clearance_mm > touching_mm ? clearance_mm : 1);
    if (isWayHome(program.program.motions, touching.front().move)) {
      f.message = "the way home first goes down by rapid to the place on its line, the top of the stock";
      f.help = "Write G91 G28 Z0 here and G90 on the next line: then it only goes up.";
    } else {
      advise(facts, i, touching, clear_z, f);
    }
    findings.push_back(std::move(f));
  }
}

}  // namespace rapid_to_surface

const Rule rapid_to_surface_rule{"rapid-to-surface", Level::look, "A rapid plunges down to the very top of the stock.",
                                 rapid_to_surface::page, rapid_to_surface::check};

}  // namespace provecut
