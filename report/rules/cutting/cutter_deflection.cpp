#include <fmt/core.h>

#include <algorithm>

#include "report/base/dimension_text.h"
#include "report/facts/measures.h"
#include "report/rules/list.h"
#include "report/rules/shared/moves_by_tool.h"
#include "sim/tool/cutting_load.h"
#include "sim/tool/cutting_material.h"

namespace provecut {

namespace cutter_deflection {

constexpr std::string_view page = R"(## What it finds

The cutting force bends the cutter sideways by more than `[limits] max_deflection` (0.1 mm unless the job says
otherwise), at the largest cross-section that it meets along the move. The cutter counts as a bar held at the collet
nut: first its flutes, then its shank, as `flute_length` and `stickout` say.

## Why it matters

A bent cutter makes slots too wide, walls that lean and corners that do not fit. Bent a little more, it breaks.

## Example

A 3 mm bit with two flutes, 40 mm out of the collet, 30 mm of it flutes, slotting hardwood 6 mm deep:

    S18000 M3
    G1 X80 F2500

It bends by about 0.25 mm.

## What to do

Seat the shank deeper, but not against the bottom of the collet, then correct `stickout` and set Z zero again. Or take
less depth or width, or feed slower. If it does not matter in this job, raise `max_deflection`.

## What `amount` is

How far the cutter bends at the middle of the cut in mm, the largest of the group.

## Source

F L³ / (3 E I), in steps; the fluted part counts with 0.8 of its diameter (from memory). E is 600 GPa for solid
carbide and 210 GPa for steel (from memory); surfacing bits, form tools and drills count as steel. The force on a
tooth is the linear-edge model, with our own estimates for wood and plastics. The limit of 0.1 mm is our own estimate.
The machine itself bends too; that is not counted.
)";

constexpr double rounding = 1e-4;
constexpr double step_mm = 0.1;  // of the advice

// How far the cutter bends at the middle of a cut of this depth, in units that cancel: the force grows with the depth.
double bend(const Facts& facts, const Tool& tool, double depth_mm) {
  const ToolBody body = toolBody(tool, facts.job.collet_nut, {});
  return depth_mm * compliance_mm_n(body, depth_mm / 2, modulus_n_mm2(tool.shape));
}

// How far the tool may be pushed into the collet: no flutes in it, and the nut stays above the stock.
double minStickout_mm(const Facts& facts, const Tool& tool) {
  double stickout_mm = tool.flute_length_mm;
  for (const ProgramRun& run : facts.run.programs) stickout_mm = std::max(stickout_mm, run.deepest_below_top_mm);
  return stickout_mm;
}

// What would bend it no more than `share` of what it bends now: less stickout, or less depth.
std::string advice(const Facts& facts, const Tool& tool, double depth_mm, double share) {
  const double allowed = share * bend(facts, tool, depth_mm);
  if (allowed <= 0) return "Feed slower, or use a thicker bit.";
  std::vector<std::string> ways;
  Tool shorter = tool;
  const double min_mm = minStickout_mm(facts, tool);
  do {
    shorter.stickout_mm -= 1;
  } while (shorter.stickout_mm >= min_mm && bend(facts, shorter, depth_mm) > allowed);
  if (shorter.stickout_mm >= min_mm) {
    ways.push_back(fmt::format("give it a stickout of {} (now {}) and set Z zero again",
                               atMostText(facts.job, Quantity::length, shorter.stickout_mm),
                               dimensionWithUnit(facts.job, tool.stickout_mm)));
  }
  double less_mm = depth_mm - step_mm;
  while (less_mm >= step_mm && bend(facts, tool, less_mm) > allowed) less_mm -= step_mm;
  if (less_mm >= step_mm) {
    ways.push_back(fmt::format("take no more than {} per pass", atMostText(facts.job, Quantity::length, less_mm)));
  }
  if (ways.empty()) return "Not possible with this bit: use a thicker one.";
  return sentence(ways[0]) + (ways.size() > 1 ? " Or " + ways[1] + "." : "");
}

void check(const Facts& facts, std::vector<Finding>& findings) {
  if (!machineKnown(facts)) return;
  const double max_mm = facts.job.limits.max_deflection_mm;
  const Judge judge = [&](const ToolMove& move) -> std::optional<double> {
    const double bends = loadOf(facts, move.program, move.index).deflection_mm;
    if (bends <= max_mm * (1 + rounding)) return {};
    return bends;
  };
  for (std::size_t i = 0; i < facts.programs.size(); ++i) {
    for (const auto& [number, bent] : movesByTool(facts, i, judge)) {
      const Tool& tool = *findTool(facts.job, number);
      Finding f = toolFinding(facts, i, cutter_deflection_rule, number, bent, Worst::largest, Quantity::fine_length);
      const std::uint32_t worst = worstOf(bent, Worst::largest).move;
      const double force_n = loadOf(facts, i, worst).force_n;
      const Compared bend = comparedText(facts.job, Quantity::fine_length, *f.amount, max_mm);
      f.amount_text = bend.actual;
      f.message = fmt::format("the cut bends {} by {}{} (maximum {}); it pushes with {}", f.subject, upTo(f),
                              bend.actual, bend.limit, quantityText(facts.job, Quantity::force_n, force_n));
      f.help = advice(facts, tool, cutOf(facts, i, worst).section_height_mm, max_mm / *f.amount);
      findings.push_back(std::move(f));
    }
  }
}

}  // namespace cutter_deflection

const Rule cutter_deflection_rule{"cutter-deflection", Level::look,
                                  "A cut bends the cutter by more than max_deflection.", cutter_deflection::page,
                                  cutter_deflection::check};

}  // namespace provecut
