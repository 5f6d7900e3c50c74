#include "report/rules/list.h"
#include "report/rules/shared/grouping.h"

namespace provecut {

namespace {

constexpr std::string_view page = R"(## What it finds

A wall or post that a program leaves standing as it ends, thinner than 1 mm for at least its upper 3 mm (a square post: 1.4 mm).
Films below 0.15 mm go with the chips and are left out. Walls shorter in plan than 3 mm count only where they stand free all
round; slivers thinner than a cell of the check's raster can be missed (`--cell` makes it finer).

## Why it matters

The next pass, or a hand, breaks it off; the piece is caught by the bit, marks the wall or stalls the cutter.

## Example

Two slots of a 6 mm bit side by side, 6.6 mm from axis to axis, 12 mm deep: 0.6 mm of wood stands between them.

    G1 X100 F1500
    G0 Z5
    G0 X0 Y6.6

## What to do

Bring the passes nearer together so that they overlap, or leave a wall that can stand.

## What `amount` is

The thickness of the thinnest sliver in mm.

## Source

Geometry; the limits are common practice, no source.
)";

void check(const Facts& facts, std::vector<Finding>& findings) {
  for (std::size_t i = 0; i < facts.run.programs.size(); ++i) {
    std::vector<Occurrence> standing;
    const Sliver* thinnest = nullptr;
    for (const Sliver& s : facts.run.programs[i].slivers) {
      standing.push_back({s.move, s.radial_depth_mm, s.at});
      if (!thinnest || s.radial_depth_mm < thinnest->radial_depth_mm) thinnest = &s;
    }
    if (!thinnest) continue;
    Finding f = groupFinding(facts, i, sliver_standing_rule, standing, Worst::smallest, Quantity::length);
    f.unit = "mm";
    f.moves = static_cast<std::uint32_t>(standing.size());
    f.message = (standing.size() > 1 ? std::to_string(standing.size()) + " slivers are left standing, the thinnest "
                                     : std::string("a sliver is left standing, ")) +
                quantityText(facts.job, Quantity::length, thinnest->radial_depth_mm) + " thick and " +
                quantityText(facts.job, Quantity::length, thinnest->height_mm) + " high";
    f.help = "Let the passes beside it overlap, or leave a wall of 2 mm or more.";
    findings.push_back(std::move(f));
  }
}

}  // namespace

const Rule sliver_standing_rule{"sliver-standing", Level::look, "A thin wall or post is left standing.", page, check};

}  // namespace provecut
