#include <fmt/core.h>

#include <map>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "report/rules/list.h"
#include "report/rules/shared/height_advice.h"
#include "report/rules/shared/lift_advice.h"
#include "report/rules/shared/moves_by_tool.h"
#include "report/rules/shared/overhang.h"
#include "report/rules/shared/stickout.h"
#include "report/rules/shared/tried_loads.h"
#include "sim/clearance/tolerance.h"

namespace provecut {

namespace flute_too_short {

constexpr std::string_view page = R"(## What it finds

The tool goes so deep that material stands above its flutes and touches a shank as wide as the cutter or wider, or lies
in the way of a thinner neck. If the shank is just as wide as the cutter and the material reaches no more than 0.5 mm
above the flutes, you get the note shank-brushes instead.

## Why it matters

A shank does not cut. It rubs, burns the wall, pushes the part aside and may break the bit.

## Example

A 6 mm bit with 12 mm of flutes and a 6 mm shank cuts a slot in several passes, down to

    G1 Z-15

The upper 3 mm of the walls rub along the shank.

## What to do

Use a bit with longer flutes or with a neck thinner than the cutter, or cut less deep.

## What `amount` is

How far the material reaches above the flutes in mm, the largest of the group.

## Source

Geometry of the cut. provecut looks for the wall of a slot within one cell beside the cutter. The 0.5 mm are our own
choice.
)";

bool neckThinner(const Tool& tool) {
  return tool.shank_diameter_mm > 0 && tool.shank_diameter_mm < tool.diameter_mm - clearance::contact_tolerance_mm;
}

// Longer ones are not sold: our own estimate.
constexpr double longest_flutes_in_diameters = 8;

// Longer flutes cut what the shank only rubbed.
bool hasPowerFor(const Facts& facts, std::size_t program, const std::vector<Occurrence>& met) {
  const double has_w = facts.job.machine.spindle_power_w;
  return has_w <= 0 || std::all_of(met.begin(), met.end(), [&](const Occurrence& o) {
           const double height_mm = cutOf(facts, program, o.move).section_height_mm;
           return height_mm <= 0 || loadOf(facts, program, o.move).power_w * (1 + o.amount / height_mm) <= has_w;
         });
}

// Another bit, as long as it must be. It stands out as far as its flutes at least.
std::optional<std::string> longerFlutes(const Facts& facts, std::size_t program, const Tool& tool,
                                        const std::vector<Occurrence>& met, Finding& f) {
  const double above_mm = worstOf(met, Worst::largest).amount;
  const double flutes_mm = tool.flute_length_mm + above_mm;
  if (tool.flute_length_mm <= 0 || flutes_mm > longest_flutes_in_diameters * tool.diameter_mm) return std::nullopt;
  std::vector<AdvisedChange> way{{ChangeKind::flute_length, flutes_mm, {}, tool.number, -1, {}}};
  if (flutes_mm > tool.stickout_mm) way.push_back({ChangeKind::stickout, flutes_mm, {}, tool.number, -1, {}});
  if (!provenByLoads(facts, f, way)) return std::nullopt;
  if (!hasPowerFor(facts, program, met)) return "use a bit with longer flutes, and cut in passes";
  f.ways.push_back(std::move(way));
  return fmt::format("use a bit with at least {} of flutes", atLeastText(facts.job, Quantity::length, flutes_mm));
}

void advise(const Facts& facts, std::size_t program, const Tool* tool, std::vector<Occurrence> met, Finding& f) {
  const std::optional<Lift> first = takeMovesFromLowChange(facts, program, met);
  if (met.empty()) {
    f.help = sentence(first->text);
    f.ways = {first->changes};
    return;
  }
  if (!tool) {
    f.help = "Use a bit with longer flutes.";
    return;
  }
  const bool neck = neckThinner(*tool);
  std::vector<std::string> ways;
  if (neck) {
    ways.push_back("clear what stands above its flutes with another bit first");
  } else if (const std::optional<double> z = shallowerZ(facts, program, met)) {
    f.ways.push_back({{ChangeKind::lowest_z, *z, {}, tool->number, -1, {}}});
    ways.push_back(fmt::format("cut no deeper than {} with it", heightText(facts, program, *z)));
  }
  if (std::optional<std::string> longer = longerFlutes(facts, program, *tool, met, f))
    ways.push_back(std::move(*longer));
  if (!neck)
    ways.push_back(ways.empty() ? "use a bit with a neck thinner than the cutter, and cut in passes"
                                : "use one with a neck thinner than the cutter, and cut in passes");
  f.help = sentence(ways.front());
  for (std::size_t i = 1; i < ways.size(); ++i) f.help += " Or " + ways[i] + ".";
  if (first) adviseToo(*first, f);
}

void check(const Facts& facts, std::vector<Finding>& findings) {
  for (std::size_t i = 0; i < facts.run.programs.size(); ++i) {
    const std::vector<Motion>& motions = facts.programs[i].program.motions;
    std::map<int, std::vector<Occurrence>> by_tool;
    for (const BodyInStock& b : facts.run.programs[i].bodies_in_stock) {
      if (b.part == ToolPart::shank) by_tool[motions[b.move].tool].push_back({b.move, b.depth_mm, b.at});
    }
    for (const auto& [number, met] : by_tool) {
      Finding f = toolFinding(facts, i, flute_too_short_rule, number, met, Worst::largest, Quantity::length);
      const Tool* tool = findTool(facts.job, number);
      const bool neck = tool && neckThinner(*tool);
      if (tool && onlyBrushes(*tool, *f.amount)) continue;  // shank-brushes
      f.message = fmt::format("the {} of {} rubs: material stands {}{} above its flutes", neck ? "neck" : "shank",
                              f.subject, upTo(f), quantityText(facts.job, Quantity::length, *f.amount));
      advise(facts, i, tool, met, f);
      findings.push_back(std::move(f));
    }
  }
}

}  // namespace flute_too_short

const Rule flute_too_short_rule{"flute-too-short", Level::stop, "Material stands above the flutes: the shank rubs.",
                                flute_too_short::page, flute_too_short::check};

}  // namespace provecut
