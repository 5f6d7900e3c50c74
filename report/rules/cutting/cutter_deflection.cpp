#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <optional>

#include "report/base/dimension_text.h"
#include "report/facts/measures.h"
#include "report/rules/list.h"
#include "report/rules/shared/chips.h"
#include "report/rules/shared/moves_by_tool.h"
#include "report/rules/shared/stickout.h"
#include "report/rules/shared/tried_loads.h"
#include "sim/tool/cutting_load.h"
#include "sim/tool/cutting_material.h"

namespace provecut {

namespace cutter_deflection {

constexpr std::string_view page = R"(## What it finds

The cutting force bends the cutter sideways by more than `[limits] max_deflection` (0.1 mm unless the job says
otherwise), at the largest cross-section that it meets along the move. The cutter counts as a bar held at the collet
nut: first its flutes, then its shank, as `flute_length` and `stickout` say. If the bar would break, the finding says
so. Moves that bend it only because their chips are too thick get chip-load instead.

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
A turning bit breaks at 1,500 N/mm², about half of
what it bears at rest (from memory). The machine itself bends too; that is not counted.
)";

constexpr double rounding = 1e-4;
constexpr double step_mm = 0.1;                              // of the advice
constexpr double least_pass = 0.1, least_round_pass = 0.25;  // in diameters: our own estimate of what is of use
// What carbide and high-speed steel bear while they turn and so bend to and fro: about half of their strength at rest
// (from memory).
constexpr double strength_n_mm2 = 1500;

// How far the cutter bends at the middle of a cut of this depth, in units that cancel: the force grows with the depth.
double bend(const Facts& facts, const Tool& tool, double depth_mm) {
  const ToolBody body = toolBody(tool, facts.job.collet_nut, {});
  return depth_mm * compliance_mm_n(body, depth_mm / 2, modulus_n_mm2(tool.shape));
}

// A bar's stress where the moment is largest: at the end of the flutes, or at the collet.
double stress_n_mm2(const Tool& tool, double depth_mm, double force_n) {
  const auto at = [&](double z_mm, double diameter_mm) {
    const double lever_mm = std::max(0.0, z_mm - depth_mm / 2);
    return diameter_mm > 0 ? 32 * force_n * lever_mm / (std::numbers::pi * std::pow(diameter_mm, 3)) : 0;
  };
  return std::max(at(tool.flute_length_mm, 0.8 * tool.diameter_mm), at(tool.stickout_mm, tool.shank_diameter_mm));
}

// The deepest pass that bends it no more than each of these moves may.
double allowedPass_mm(const Facts& facts, std::size_t program, const Tool& tool, const std::vector<Occurrence>& bent) {
  // A round or pointed tip cuts with its flanks, too.
  const double flank_mm = tool.shape == ToolShape::flat || tool.shape == ToolShape::bull ? 0 : tool.diameter_mm / 2;
  double pass_mm = std::numeric_limits<double>::infinity();
  for (const Occurrence& o : bent) {
    const double depth_mm = cutOf(facts, program, o.move).section_height_mm;
    const double allowed = pass_margin * facts.job.limits.max_deflection_mm / o.amount * bend(facts, tool, depth_mm);
    double less_mm = std::min(pass_mm, std::floor(depth_mm / step_mm) * step_mm);
    while (less_mm >= step_mm && bend(facts, tool, less_mm + flank_mm) > allowed) less_mm -= step_mm;
    pass_mm = std::min(pass_mm, less_mm);
  }
  return std::round(pass_mm / step_mm) * step_mm;
}

// Less stickout, or less depth.
void advise(const Facts& facts, std::size_t program, const Tool& tool, const std::vector<Occurrence>& bent,
            Finding& f) {
  std::vector<std::string> ways;
  // By formula, and then shorter still.
  const auto mayServe = [&](double stickout_mm) {
    Tool shorter = tool;
    shorter.stickout_mm = stickout_mm;
    return std::all_of(bent.begin(), bent.end(), [&](const Occurrence& o) {
      const double depth_mm = cutOf(facts, program, o.move).section_height_mm;
      return bend(facts, shorter, depth_mm) * o.amount <=
             facts.job.limits.max_deflection_mm * bend(facts, tool, depth_mm);
    });
  };
  std::vector<double> shorter;
  const double least_mm = leastStickout_mm(facts, tool);
  for (double mm = std::floor(tool.stickout_mm - 1); mm >= least_mm; mm -= 1) {
    if (mayServe(mm)) shorter.push_back(mm);
  }
  const AdvisedChange stickout{ChangeKind::stickout, 0, {}, tool.number, -1, {}};
  if (const auto mm = firstProven(facts, f, stickout, shorter)) {
    f.ways.push_back({stickout});
    f.ways.back().front().value = *mm;
    ways.push_back(fmt::format("give it a stickout of {} (now {}) and set Z zero again",
                               atMostText(facts.job, Quantity::length, *mm),
                               dimensionWithUnit(facts.job, tool.stickout_mm)));
  }
  const double pass_mm = allowedPass_mm(facts, program, tool, bent);
  const bool level = tool.shape == ToolShape::flat || tool.shape == ToolShape::bull;
  if (pass_mm >= std::max(step_mm, (level ? least_pass : least_round_pass) * tool.diameter_mm)) {
    f.ways.push_back({{ChangeKind::stepdown, pass_mm, {}, tool.number, -1, {}}});
    ways.push_back(fmt::format("take no more than {} per pass", atMostText(facts.job, Quantity::length, pass_mm)));
  }
  f.help = ways.empty() ? "Not possible with this bit: use a thicker one."
                        : sentence(ways[0]) + (ways.size() > 1 ? " Or " + ways[1] + "." : "");
}

// True where thick chips, told by chip-load or spindle-range, are the cause: as thick as they may be, the force is no
// more than `share` of what it is.
bool onlyByChips(const Facts& facts, Chips& chips, const ToolMove& move, double share) {
  const std::optional<Chip> chip = chips.of(move);
  if (!chip || !chip->too_thick) return false;
  const CuttingForce force = cuttingForce(facts.job.stock.material);
  return toothForce_n(force, 1, chip->max_mm) <= share * toothForce_n(force, 1, chip->thickness_mm);
}

void check(const Facts& facts, std::vector<Finding>& findings) {
  if (!machineKnown(facts)) return;
  const double max_mm = facts.job.limits.max_deflection_mm;
  Chips chips(facts);
  const Judge judge = [&](const ToolMove& move) -> std::optional<double> {
    const double bends = loadOf(facts, move.program, move.index).deflection_mm;
    if (bends <= max_mm * (1 + rounding) || onlyByChips(facts, chips, move, max_mm / bends)) return {};
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
      const double depth_mm = cutOf(facts, i, worst).section_height_mm;
      const bool breaks = stress_n_mm2(tool, depth_mm, force_n) > strength_n_mm2;
      f.message = fmt::format("the cut {} {}{} by {}{} (maximum {}); it pushes with {}", breaks ? "breaks" : "bends",
                              f.subject, breaks ? ": it would bend" : "", upTo(f), bend.actual, bend.limit,
                              quantityText(facts.job, Quantity::force_n, force_n));
      advise(facts, i, tool, bent, f);
      findings.push_back(std::move(f));
    }
  }
}

}  // namespace cutter_deflection

const Rule cutter_deflection_rule{"cutter-deflection", Level::look,
                                  "A cut bends the cutter by more than max_deflection.", cutter_deflection::page,
                                  cutter_deflection::check};

}  // namespace provecut
