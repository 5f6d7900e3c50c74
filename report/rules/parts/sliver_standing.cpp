#include <fmt/core.h>

#include "report/base/dimension_text.h"
#include "report/rules/list.h"
#include "report/rules/shared/grouping.h"

namespace provecut {

namespace sliver_standing {

constexpr std::string_view page = R"(## What it finds

A program ends and leaves a thin wall or post standing:

- a wall thinner than 1 mm over at least its upper 3 mm. One shorter than 3 mm in plan counts only if it stands free all
  round.
- a post up to 2 mm thick that stands free all round and is at least 1.5 times as high as thick, and at least 0.75 mm
  high. A wall has wood on both sides along its length; a post has none and breaks at half the height.

Films below 0.15 mm, about a plane's shaving, posts below 0.3 mm and foam below 1 mm go with the chips and are left out.
A post may stand on the floor or be cut right through: a crumb under 4 mm² in plan is not listed among the loose parts.

## Why it matters

The next pass, or a hand, breaks it off. The bit catches it, marks the wall or stalls.

## Example

Two 6 mm slots side by side, 6.6 mm from centre to centre, 12 mm deep. Between them 0.6 mm of wood is left standing.

    G1 X100 F1500
    G0 Z5
    G0 X0 Y6.6

## What to do

Move the passes closer so that they overlap, or leave a wall that can stand.

## What `amount` is

The thickness of the thinnest sliver in mm: a wall's thickness, a post's least width.

## Source

Geometry; the limits are common practice, no published source.
)";

void check(const Facts& facts, std::vector<Finding>& findings) {
  for (std::size_t i = 0; i < facts.run.programs.size(); ++i) {
    std::vector<Occurrence> standing;
    const Sliver* thinnest = nullptr;
    for (const Sliver& s : facts.run.programs[i].slivers) {
      standing.push_back({s.move, s.width_mm, s.at});
      if (!thinnest || s.width_mm < thinnest->width_mm) thinnest = &s;
    }
    if (!thinnest) continue;
    Finding f = groupFinding(facts, i, sliver_standing_rule, standing, Worst::smallest, Quantity::length);
    f.moves = static_cast<std::uint32_t>(standing.size());
    const std::string what = standing.size() > 1
                                 ? fmt::format("leaves {} slivers standing, the thinnest", standing.size())
                                 : "leaves a sliver standing,";
    f.message =
        fmt::format("{} {} thick and {} high", what, quantityText(facts.job, Quantity::length, thinnest->width_mm),
                    quantityText(facts.job, Quantity::length, thinnest->height_mm));
    f.help = fmt::format("Overlap the passes beside {}, or leave a wall of {} or more.",
                         standing.size() > 1 ? "them" : "it", dimensionWithUnit(facts.job, 2));
    findings.push_back(std::move(f));
  }
}

}  // namespace sliver_standing

const Rule sliver_standing_rule{"sliver-standing", Level::look, "A program leaves a thin wall or post standing.",
                                sliver_standing::page, sliver_standing::check};

}  // namespace provecut
