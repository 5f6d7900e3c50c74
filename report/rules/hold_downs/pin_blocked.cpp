#include <algorithm>

#include "report/base/wording.h"
#include "report/rules/list.h"
#include "report/rules/shared/grouping.h"
#include "sim/holes/pin_fit.h"

namespace provecut {

namespace {

constexpr std::string_view page = R"(## What it finds

A round pin stands under the stock where the programs before have cut no hole, a hole that is too narrow, or one that is not
as deep as the pin reaches. The holes are taken from the moves themselves, not from the voxels.

## Why it matters

The stock does not lie down. Pressed on with force it splits, or lies tilted, and every depth of this setup is wrong.

## Example

    [[hold_down]]
    name = "pin W"
    kind = "pin"
    at = [14, 45]
    diameter = 8
    depth_in_stock = 12

and a hole bored at X 16 Y 45.

## What to do

Bore the hole where the pin comes to stand after turning over: for a turn over Y a hole at x lies at (width - x) afterwards.
Pins that stay in the board need holes that are their own mirror image. A hole bored by hand is not known here: accept the
finding with that as its reason.

## What `amount` is

By how much material reaches into the pin, from the side, in mm: its radius less the distance from its axis to the nearest
wall. Up to 0.05 mm all round is taken as pressed in.

## Source

Geometry. The 0.05 mm are our estimate for wood; no source. Pins beside the stock and pins that are not round are not looked at.
)";

void check(const Facts& facts, std::vector<Finding>& findings) {
  for (const PinFit& fit : facts.run.pin_fits) {
    const HoldDown& pin = facts.job.hold_downs[static_cast<std::size_t>(fit.hold_down)];
    const double radius = pin.diameter_mm / 2, into = radius - fit.wall_mm;
    if (into <= holes::pin_press_mm + 1e-9) continue;
    // Where the whole stock only lies shifted, pins-shifted says so, and by how much.
    const auto& shifted = facts.run.pins_shifted;
    const bool told =
        std::any_of(shifted.begin(), shifted.end(), [&](const PinsElsewhere& p) { return p.program == fit.program; });
    if (told && fit.free_depth_mm <= 0.05) continue;
    const ProgramFacts& program = facts.programs[static_cast<std::size_t>(fit.program)];
    Finding f = jobFinding(facts, pin_blocked_rule, pin.place);
    f.setup = program.setup->name;
    f.subject = pin.name;
    f.amount = into;
    f.unit = "mm";
    const auto length = [&](double mm) { return quantityText(facts.job, Quantity::length, mm); };
    if (fit.free_depth_mm > 0.05) {
      f.message = "the hole for " + pin.name + " is " + length(fit.free_depth_mm) + " deep, the pin reaches " +
                  length(pin.depth_in_stock_mm) + " into the stock";
      f.help = "Bore the hole deeper than the pin reaches, or take a shorter pin.";
    } else if (fit.wall_mm <= 0) {
      f.message = pin.name + " stands where the stock has no hole in setup " + f.setup;
      f.help =
          "Bore a hole where the pin comes to stand: `provecut place` shows where the holes lie after turning over.";
    } else {
      f.message = pin.name + " does not go into its hole: material reaches " + length(into) + " into it from the side";
      f.help =
          "Put the pin in the middle of the hole, or make the hole wider: 0.05 to 0.15 mm more than the pin is usual.";
    }
    findings.push_back(std::move(f));
  }
}

}  // namespace

const Rule pin_blocked_rule{"pin-blocked", Level::stop, "A pin stands where the stock has no hole for it.", page,
                            check};

}  // namespace provecut
