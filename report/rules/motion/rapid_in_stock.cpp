#include <fmt/core.h>

#include <algorithm>
#include <cctype>
#include <cmath>
#include <limits>
#include <map>
#include <optional>

#include "report/base/dimension_text.h"
#include "report/base/number_text.h"
#include "report/facts/measures.h"
#include "report/rules/list.h"
#include "report/rules/shared/grouping.h"
#include "report/rules/shared/height_advice.h"
#include "report/rules/shared/lift_advice.h"
#include "report/rules/shared/moves_by_tool.h"
#include "report/rules/shared/overhang.h"
#include "report/rules/shared/rapid_cut.h"
#include "report/rules/shared/touching.h"

namespace provecut {

namespace rapid_in_stock {

constexpr std::string_view page = R"(## What it finds

A rapid cuts into the stock, as the stock is at that moment. The message tells how deep, how wide and how large the cut
is across its way; of a plunge, how large it is seen from above. The width is the area over the depth, and of a plunge
the area is the volume over the depth: of a ball or a point these are means, less than at the top of the cut. Where a
rapid takes about as little as a cell of the raster, it is cut once more on cells of 0.05 mm. A slice off a wall thinner
than that may be missed. A bit that is lifted out of its own undercut is undercut-lift's. What only brushes the leavings of earlier cuts is rapid-grazes'.

## Why it matters

A rapid runs as fast as the machine can. In wood it breaks the bit, burns, or shifts the stock, and the machine loses
its position.

## Example

    G0 X20 Y20 Z5
    G0 Z-3
    G1 X80 F1200

The second rapid goes 3 mm into the stock.

## What to do

Retract before a sideways rapid. End a plunging rapid above the material, not on it, and go down from there at the
plunge feed. In a drilling cycle raise R. The finding gives the height.

## What `amount` is

How deep the rapid cuts in mm, the largest of the group.

## Source

Geometry of the cut.
)";

bool plunges(const Motion& m) {
  return !goesSideways(m) && m.end.z < m.start.z;
}

// Less than rapid-to-surface asks for would be no advice.
double aboveMaterial_mm(const Facts& facts) {
  const double clearance_mm = facts.job.limits.clearance_mm;
  return clearance_mm > touching_mm ? clearance_mm : 1;
}

// Where to end rapids that plunge into the material: above it by the clearance, since neither zero nor thickness is
// exact. At the height of the highest of them.
Lift downAdvice(const Facts& facts, std::size_t program, const std::vector<std::uint32_t>& moves) {
  double surface_z = -std::numeric_limits<double>::infinity();
  AdvisedChange change{ChangeKind::end_rapid_at, 0, {}, 0, -1, {}};
  for (const std::uint32_t m : moves) {
    const Motion& motion = facts.programs[program].program.motions[m];
    const double z = motion.end.z + static_cast<double>(cutOf(facts, program, m).axial_depth_mm);
    // Depths are kept in single precision: to the micrometre they are as the program wrote them.
    surface_z = std::max(surface_z, std::round(z * 1000) / 1000);
    change.lines.push_back(motion.line);
  }
  const double clearance_mm = aboveMaterial_mm(facts);
  change.value = surface_z + clearance_mm;
  const std::string rapids = moves.size() > 1 ? "end the rapids that go straight down" : "end this rapid";
  const std::string feed = "go down from there at the plunge feed";
  return {fmt::format("{} at {}, {} above the material, and {}", rapids, heightText(facts, program, change.value),
                      dimensionWithUnit(facts.job, clearance_mm), feed),
          {change}};
}

Lift crossAdvice(const Facts& facts, std::size_t program, const std::vector<std::uint32_t>& moves) {
  const Setup& setup = *facts.programs[program].setup;
  std::optional<Lift> lift = liftOver(facts, program, moves, stockTopZ(facts, setup) + aboveMaterial_mm(facts));
  if (!lift) return {"cut here at the cutting feed: the machine cannot go up high enough to cross above the stock", {}};
  const auto in_cycle = [&](std::uint32_t m) {
    return (facts.programs[program].program.motions[m].flags & motion_in_cycle) != 0;
  };
  const bool down = lift->text.ends_with("come down after it") || lift->text.ends_with("come down after them");
  if (down && std::none_of(moves.begin(), moves.end(), in_cycle)) lift->text += " at the plunge feed";
  return *lift;
}

// The tool change behind which the tool has not moved yet; null: there is none.
const Event* changeJustBefore(const Program& p, std::uint32_t move) {
  std::uint32_t still = move;
  while (still > 0 && !moves(p.motions[still - 1])) --still;
  const auto change = std::find_if(p.events.begin(), p.events.end(), [&](const Event& e) {
    return e.kind == EventKind::tool_change && e.before_motion >= still && e.before_motion <= move;
  });
  return change == p.events.end() ? nullptr : &*change;
}

// What went down with another bit, or what hangs over the cutter, is cut on the way up.
Lift upAdvice(const Facts& facts, std::size_t program, const std::vector<std::uint32_t>& moves) {
  const Program& p = facts.programs[program].program;
  const double z = stockTopZ(facts, *facts.programs[program].setup) + facts.job.limits.clearance_mm;
  AdvisedChange before{ChangeKind::retract_before, z, {}, 0, -1, {}}, feed{ChangeKind::feed_there, 0, {}, 0, -1, {}};
  for (const std::uint32_t m : moves) {
    if (const Event* change = changeJustBefore(p, m)) {
      before.value = std::max(before.value, z + reachBelowTip(facts, p.motions[m].tool));
      before.lines.push_back(change->place.line);
      continue;
    }
    for (std::uint32_t i = 0; i < m; ++i) {
      if (feeds(p.motions[i]) && p.motions[i].tool == p.motions[m].tool) feed.value = double{p.motions[i].feed_mm_min};
    }
    feed.lines.push_back(p.motions[m].line);
  }
  Lift lift;
  if (!before.lines.empty()) {
    lift.text = fmt::format("retract to {} or higher before the tool change", heightText(facts, program, before.value));
    lift.changes.push_back(before);
  }
  if (!feed.lines.empty()) {
    lift.text += fmt::format("{}come up at a feed (G1) where it cuts", lift.text.empty() ? "" : ", and ");
    if (feed.value > 0) lift.changes.push_back(feed);
  }
  return lift;
}

struct CutInstead {
  AdvisedChange change;
  bool no_more = true;  // it cuts no more than the cut that follows
};

// A level rapid between feed moves at its own depth was probably meant to be one.
std::optional<CutInstead> cutInstead(const Facts& facts, std::size_t program, const std::vector<std::uint32_t>& moves) {
  const std::vector<Motion>& motions = facts.programs[program].program.motions;
  CutInstead instead{{ChangeKind::feed_there, std::numeric_limits<double>::infinity(), {}, 0, -1, {}}};
  AdvisedChange& change = instead.change;
  for (const std::uint32_t m : moves) {
    if (m == 0 || m + 1 >= motions.size()) return std::nullopt;
    const Motion &before = motions[m - 1], &rapid = motions[m], &after = motions[m + 1];
    const bool level = rapid.start.z == rapid.end.z && after.end.z == rapid.end.z && goesSideways(after);
    if (!level || !feeds(before) || !feeds(after) || rapid.tool != after.tool) return std::nullopt;
    const MoveCut cut = cutOf(facts, program, m), next = cutOf(facts, program, m + 1);
    constexpr float same = 1.05F;  // widths come from cells
    if (!cutsMaterial(next)) return std::nullopt;
    instead.no_more &=
        cut.section_mm2 <= next.section_mm2 * same && cut.section_height_mm <= next.section_height_mm * same;
    change.value = std::min(change.value, double{after.feed_mm_min});
    change.lines.push_back(rapid.line);
  }
  return change.value > 0 ? std::optional(instead) : std::nullopt;
}

// What a cycle's own feed cuts below its rapid: from a higher R it cuts what the rapid took as well.
double cycleDepthAfter_mm(const Facts& facts, std::size_t program, std::uint32_t move) {
  const std::vector<Motion>& motions = facts.programs[program].program.motions;
  if (move + 1 >= motions.size() || !(motions[move].flags & motion_in_cycle) || !feeds(motions[move + 1])) return 0;
  return double{cutOf(facts, program, move + 1).axial_depth_mm};
}

void advise(const Facts& facts, std::size_t program, const std::vector<Occurrence>& cutting, Finding& f) {
  std::vector<std::uint32_t> down, up, across;
  for (const Occurrence& o : cutting) {
    const Motion& m = facts.programs[program].program.motions[o.move];
    const bool cycle = (m.flags & motion_in_cycle) != 0, straight = !cycle && !goesSideways(m);
    (straight && m.end.z > m.start.z ? up : plunges(m) && !cycle ? down : across).push_back(o.move);
  }
  std::vector<AdvisedChange> changes;
  for (const Lift& lift : {up.empty() ? Lift{} : upAdvice(facts, program, up),
                           across.empty() ? Lift{} : crossAdvice(facts, program, across),
                           down.empty() ? Lift{} : downAdvice(facts, program, down)}) {
    if (lift.text.empty()) continue;
    f.help += (f.help.empty() ? "" : " ") + sentence(lift.text);
    changes.insert(changes.end(), lift.changes.begin(), lift.changes.end());
  }
  // A feed takes after it what the rapid took: no deeper than the tool may.
  std::map<int, double> stepdowns_mm;
  for (const Occurrence& o : cutting) {
    const Tool* tool = findTool(facts.job, facts.programs[program].program.motions[o.move].tool);
    if (tool && tool->max_stepdown_mm && o.amount + cycleDepthAfter_mm(facts, program, o.move) > *tool->max_stepdown_mm)
      stepdowns_mm[tool->number] = *tool->max_stepdown_mm;
  }
  for (const auto& [tool, mm] : stepdowns_mm) changes.push_back({ChangeKind::stepdown, mm, {}, tool, -1, {}});
  if (!stepdowns_mm.empty()) {
    const auto least = std::min_element(stepdowns_mm.begin(), stepdowns_mm.end(),
                                        [](const auto& a, const auto& b) { return a.second < b.second; });
    f.help += fmt::format(" Cut there in passes of at most {}.", dimensionWithUnit(facts.job, least->second));
  }
  if (!changes.empty()) f.ways.push_back(std::move(changes));
  if (!down.empty() || !up.empty()) return;
  if (const std::optional<CutInstead> feed = cutInstead(facts, program, across)) {
    f.help = fmt::format(
        "If {} to cut, write G1 in place of G0, at {}. Else {}", across.size() > 1 ? "these moves are" : "this move is",
        quantityText(facts.job, Quantity::feed, feed->change.value),
        static_cast<char>(std::tolower(static_cast<unsigned char>(f.help.front()))) + f.help.substr(1));
    if (feed->no_more) f.ways.push_back({feed->change});
  }
}

// Where rapids go straight down deep into the stock again and again, their writer took it for cleared.
bool countsOnEarlierCut(const Facts& facts, std::size_t program, const std::vector<RapidCut>& cuts) {
  constexpr std::ptrdiff_t often = 3;
  return std::count_if(cuts.begin(), cuts.end(), [&](const RapidCut& cut) {
           const Motion& m = facts.programs[program].program.motions[cut.move];
           const Tool* tool = findTool(facts.job, m.tool);
           return plunges(m) && !(m.flags & motion_in_cycle) && tool && cut.depth_mm > tool->diameter_mm;
         }) >= often;
}

// Small ones finer than those of parts and tabs.
std::string areaText(const Job& job, double mm2) {
  constexpr double small_mm2 = 10;
  if (job.inches || mm2 >= small_mm2) return quantityText(job, Quantity::area, mm2);
  return shortNumber(mm2, 2) + " " + std::string(unitOf(Quantity::area));
}

// "6 mm wide, 18 mm² in section"; of plunges and steep rapids "28 mm² in plan".
std::string sizeOf(const Job& job, const std::vector<RapidCut>& cuts) {
  RapidCut largest;
  for (const RapidCut& cut : cuts) {
    largest.area_mm2 = std::max(largest.area_mm2, cut.area_mm2);
    largest.width_mm = std::max(largest.width_mm, cut.width_mm);
    largest.tapers = largest.tapers || cut.tapers;
  }
  const std::string area = areaText(job, largest.area_mm2), mean = largest.tapers ? " on average" : "";
  if (largest.width_mm <= 0) return area + " in plan" + mean;
  return fmt::format("{} wide{}, {} in section", quantityText(job, Quantity::length, largest.width_mm), mean, area);
}

void check(const Facts& facts, std::vector<Finding>& findings) {
  for (std::size_t i = 0; i < facts.programs.size(); ++i) {
    const ProgramFacts& program = facts.programs[i];
    std::vector<Occurrence> cutting;
    std::vector<RapidCut> cuts = rapidCuts(facts, i);
    std::erase_if(cuts, [&](const RapidCut& cut) {
      return cut.graze || (!goesSideways(program.program.motions[cut.move]) && isUndercutLift(facts, i, cut.move));
    });
    for (const RapidCut& cut : cuts)
      cutting.push_back({cut.move, cut.depth_mm, lowestTip(program.program.motions[cut.move])});
    if (cutting.empty()) continue;
    Finding f = groupFinding(facts, i, rapid_in_stock_rule, cutting, Worst::largest, Quantity::length);
    const bool down = plunges(program.program.motions[cutting.front().move]);
    f.message = fmt::format("rapid {} {}{} into the stock ({}{})", down ? "plunges" : "cuts", upTo(f),
                            quantityText(facts.job, Quantity::length, *f.amount), upTo(f), sizeOf(facts.job, cuts));
    advise(facts, i, cutting, f);
    if (countsOnEarlierCut(facts, i, cuts)) {
      f.help = "If another program clears this place, list it before this one in the job file. Otherwise: " + f.help;
    }
    findings.push_back(std::move(f));
  }
}

}  // namespace rapid_in_stock

const Rule rapid_in_stock_rule{"rapid-in-stock", Level::stop, "A rapid cuts into the stock.", rapid_in_stock::page,
                               rapid_in_stock::check};

}  // namespace provecut
