#include <fmt/core.h>

#include <algorithm>
#include <vector>

#include "report/facts/measures.h"
#include "report/rules/list.h"
#include "report/rules/shared/grouping.h"
#include "report/rules/shared/height_advice.h"
#include "sim/clearance/tolerance.h"
#include "sim/path/setup_frame.h"

namespace provecut {

namespace spoilboard_cut {

constexpr std::string_view page = R"(## What it finds

A move cuts deeper into the spoilboard than `spoilboard.allowed_cut`. Holes for the job's pins are left out: where the
job lists a pin, and no more than 0.25 mm wider than it on any side.

## Why it matters

A little is fine: it makes sure that the stock is cut through. Much more ruins the board and loads the bit, and is a
sign of a wrong zero or thickness. With `lift` the spoilboard's surface is that far below the stock.

## Example

With 19 mm stock, zero on its top and `allowed_cut = 0.3`:

    G1 Z-20 F300

The spoilboard's surface is at Z -19: the tip cuts 1 mm into it.

## What to do

Cut no deeper than the finding says, correct the zero or the thickness, or raise `allowed_cut`.

## What `amount` is

The depth of the tip below the spoilboard's surface in mm, the largest of the group.

## Source

Geometry. Cutting 0.3 mm into a flat board is common practice; no published source.
)";

constexpr double beside_pin_mm = 0.25;  // our estimate: the bit's own fit, and a pin as well as it was measured

// Whether all that the move cuts lies where a pin of the job will stand.
bool isPinHole(const Facts& facts, const Setup& setup, const Motion& m) {
  const Tool* tool = findTool(facts.job, m.tool);
  if (!tool || (isArc(m) && m.plane != Plane::xy)) return false;
  const std::vector<HoldDown>& all = facts.job.hold_downs;
  return std::any_of(all.begin(), all.end(), [&](const HoldDown& h) {
    if (h.kind != HoldDownKind::pin || h.diameter_mm <= 0) return false;
    const auto from_pin = [&](const WorkPoint& p) { return length(flat(workToSetup(setup, p)) - h.at_mm); };
    double reach = std::max(from_pin(m.start), from_pin(m.end));
    if (isArc(m)) reach = from_pin({m.centre.x, m.centre.y, m.end.z}) + length(flat(m.end) - m.centre);
    return reach + tool->diameter_mm / 2 <= h.diameter_mm / 2 + beside_pin_mm;
  });
}

void check(const Facts& facts, std::vector<Finding>& findings) {
  const double allowed_cut_mm = facts.job.spoilboard.allowed_cut_mm;
  for (std::size_t i = 0; i < facts.programs.size(); ++i) {
    const ProgramFacts& program = facts.programs[i];
    const double surface = spoilboardZ(*program.setup);
    std::vector<Occurrence> deep;
    for (std::uint32_t m = 0; m < program.program.motions.size(); ++m) {
      const Motion& motion = program.program.motions[m];
      if (!moves(motion)) continue;
      const WorkPoint tip = lowestTip(motion);
      if (surface - tip.z <= allowed_cut_mm + clearance::contact_tolerance_mm) continue;
      if (!isPinHole(facts, *program.setup, motion)) deep.push_back({m, surface - tip.z, tip});
    }
    if (deep.empty()) continue;
    Finding f = groupFinding(facts, i, spoilboard_cut_rule, deep, Worst::largest, Quantity::length);
    const Compared depth = comparedText(facts.job, Quantity::length, *f.amount, allowed_cut_mm);
    f.amount_text = depth.actual;
    f.message = fmt::format("cuts {}{} into the spoilboard (maximum {})", upTo(f), depth.actual, depth.limit);
    f.help = fmt::format("Cut no deeper than {}.", heightText(facts, i, surface - allowed_cut_mm));
    f.ways.push_back({{ChangeKind::lowest_z, surface - allowed_cut_mm, {}, 0, -1, {}}});
    if (*f.amount <= facts.job.spoilboard.thickness_mm / 4) {  // our estimate: deeper cuts are a wrong height, no habit
      f.ways.push_back({{ChangeKind::allowed_cut, *f.amount, {}, 0, -1, {}}});
      f.help += fmt::format(" Or set allowed_cut to {} if the board may be cut that deep.",
                            atLeastText(facts.job, Quantity::length, *f.amount));
    }
    findings.push_back(std::move(f));
  }
}

}  // namespace spoilboard_cut

const Rule spoilboard_cut_rule{"spoilboard-cut", Level::look, "A cut goes deeper into the spoilboard than allowed.",
                               spoilboard_cut::page, spoilboard_cut::check};

}  // namespace provecut
