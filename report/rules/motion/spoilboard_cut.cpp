#include <fmt/core.h>

#include "report/facts/measures.h"
#include "report/rules/list.h"
#include "report/rules/shared/grouping.h"
#include "report/rules/shared/height_advice.h"
#include "report/rules/shared/stickout.h"
#include "sim/clearance/tolerance.h"

namespace provecut {

namespace spoilboard_cut {

constexpr std::string_view page = R"(## What it finds

A move cuts deeper into the spoilboard than `spoilboard.allowed_cut`.

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
      if (surface - tip.z > allowed_cut_mm + clearance::contact_tolerance_mm) deep.push_back({m, surface - tip.z, tip});
    }
    if (deep.empty()) continue;
    Finding f = groupFinding(facts, i, spoilboard_cut_rule, deep, Worst::largest, Quantity::length);
    const Compared depth = comparedText(facts.job, Quantity::length, *f.amount, allowed_cut_mm);
    f.amount_text = depth.actual;
    f.message = fmt::format("cuts {}{} into the spoilboard (maximum {})", upTo(f), depth.actual, depth.limit);
    f.help = fmt::format("Cut no deeper than {}.", heightText(facts, i, surface - allowed_cut_mm));
    if (cutsThrough(facts, i, deep, allowed_cut_mm))
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
