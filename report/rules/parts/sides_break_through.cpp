#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <optional>

#include "report/base/dimension_text.h"
#include "report/base/wording.h"
#include "report/facts/measures.h"
#include "report/rules/list.h"
#include "report/rules/shared/grouping.h"
#include "sim/path/path.h"
#include "sim/path/setup_frame.h"

namespace provecut {

namespace sides_break_through {

constexpr std::string_view page = R"(## What it finds

A cut from one side opens into a cut from the other side, and neither is as deep as the stock is thick. The two only
overlap in plan: each goes on beside the other. Several such holes of one program are one finding.

If one cut lies within the other, provecut takes the hole as intended: a window or an outline cut half from each side, a
hole from the back into a pocket. It also leaves out four or more crossings of grooves (a grille), sloping cuts such as
reliefs, holes under 4 mm², programs with `through = false` (see unwanted-through) and drilled holes (see holes-miss).

## Why it matters

The pocket gets a hole in its floor. Often the stock was flipped the wrong way, so one side is mirrored.

## Example

In 18 mm stock, a pocket 10 mm deep from the front, and from the back another one that was to lie beside it:

    [[setup]]
    name = "back"
    flip = "left-right"

while the programs were made for a flip front to back.

## What to do

Check the flip first, then where both cuts lie. If both are right, cut one side less deep.

## What `amount` is

The total area of the holes in plan, in mm².

## Source

Geometry of the cut. 85 % within the other, and four crossings: our estimates.
)";

// The lowest move of the other side that cuts at a place of the stock.
struct OtherCut {
  std::size_t program = 0;
  std::uint32_t move = 0;
};

constexpr double step_mm = 0.5;

// How deep a move comes to a place in plan: its lowest tip there, above the underside in its setup.
std::optional<double> lowestAt(const Facts& facts, std::size_t program, std::uint32_t move, SetupPoint2 place) {
  const ProgramFacts& p = facts.programs[program];
  const Tool* tool = findTool(facts.job, p.program.motions[move].tool);
  if (!tool || !cutsMaterial(cutOf(facts, program, move))) return std::nullopt;
  std::optional<double> lowest;
  for (const PathPiece& piece : pathOf(p.program.motions[move], p.setup->zero_mm, facts.job.machine)) {
    const double long_mm = piece.arc ? std::abs(piece.sweep) * std::max(piece.radius0, piece.radius1)
                                     : length(flat(piece.end) - flat(piece.start));
    const int steps = std::max(1, static_cast<int>(std::ceil(std::min(long_mm, 1e5) / step_mm)));
    for (int k = 0; k <= steps; ++k) {
      const SetupPoint at = pointAt(piece, static_cast<double>(k) / steps);
      if (length(flat(at) - place) <= tool->diameter_mm / 2 + step_mm / 2)
        lowest = std::min(lowest.value_or(at.z), at.z);
    }
  }
  return lowest;
}

std::optional<OtherCut> otherSide(const Facts& facts, std::size_t program, WorkPoint at) {
  const Setup& setup = *facts.programs[program].setup;
  const StockPoint2 spot = setupToStock(facts.job.stock, setup, workToSetup(setup, WorkPoint2{at.x, at.y}));
  std::optional<OtherCut> found;
  double lowest = 0;
  for (std::size_t i = 0; i < program; ++i) {
    const Setup& other = *facts.programs[i].setup;
    if ((other.flip == Flip::none) == (setup.flip == Flip::none)) continue;
    const SetupPoint2 there = stockToSetup(facts.job.stock, other, spot);
    for (std::uint32_t m = 0; m < facts.programs[i].program.motions.size(); ++m) {
      const auto low = lowestAt(facts, i, m, there);
      if (!low || (found && *low >= lowest)) continue;
      found = OtherCut{i, m};
      lowest = *low;
    }
  }
  return found;
}

std::string holeText(const Job& job, const BrokenThrough& b) {
  return fmt::format("{} ({})", sizeText(job, b.size_mm), quantityText(job, Quantity::area, b.area_mm2));
}

bool isDrilled(const Facts& facts, int program, const BrokenThrough& b) {
  return std::any_of(facts.run.hole_pairs.begin(), facts.run.hole_pairs.end(),
                     [&](const HolePair& p) { return p.run_b == program && p.move_b == b.move; });
}

void check(const Facts& facts, std::vector<Finding>& findings) {
  for (int i = 0; i < std::ssize(facts.run.programs); ++i) {
    if (!facts.programs[i].entry->through) continue;
    std::vector<Occurrence> holes;
    const BrokenThrough* largest = nullptr;
    double area_mm2 = 0;
    for (const BrokenThrough& b : facts.run.programs[i].broken_through) {
      if (isDrilled(facts, i, b)) continue;
      holes.push_back({b.move, b.area_mm2, b.at});
      area_mm2 += b.area_mm2;
      if (!largest || b.area_mm2 > largest->area_mm2) largest = &b;
    }
    if (!largest) continue;
    Finding f = groupFinding(facts, i, sides_break_through_rule, holes, Worst::largest, Quantity::area);
    f.moves = static_cast<std::uint32_t>(holes.size());
    f.amount = area_mm2;
    f.amount_text = quantityText(facts.job, Quantity::area, area_mm2);
    const auto depth = [&](double mm) { return quantityText(facts.job, Quantity::length, mm); };
    const std::string where =
        holes.size() == 1 ? fmt::format("a {} hole", holeText(facts.job, *largest))
                          : fmt::format("{} holes, the largest {}", holes.size(), holeText(facts.job, *largest));
    f.message =
        fmt::format("the cuts from both sides meet and leave {}: {} deep here plus {} from the other side, in {} stock",
                    where, depth(largest->depth_mm), depth(largest->other_depth_mm),
                    dimensionWithUnit(facts.job, facts.job.stock.size_mm.z));
    f.help = "Check the flip, then where both cuts lie.";
    const double deepest_mm = facts.job.stock.size_mm.z - largest->other_depth_mm - facts.job.limits.min_floor_mm;
    if (deepest_mm > 0) {
      f.help += fmt::format(" If both are right, cut no deeper than {} here.",
                            atMostText(facts.job, Quantity::length, deepest_mm));
    }
    if (const auto other = otherSide(facts, i, largest->at)) {
      const ProgramFacts& p = facts.programs[other->program];
      f.related.push_back(
          {p.entry->file, shownPlace(p, placeOf(p.program.motions[other->move])), "the cut from the other side"});
    }
    findings.push_back(std::move(f));
  }
}

}  // namespace sides_break_through

const Rule sides_break_through_rule{"sides-break-through", Level::look, "Cuts from both sides meet and leave a hole.",
                                    sides_break_through::page, sides_break_through::check};

}  // namespace provecut
