#include <fmt/core.h>

#include <algorithm>

#include "report/base/dimension_text.h"
#include "report/base/wording.h"
#include "report/facts/setup_words.h"
#include "report/rules/list.h"
#include "report/rules/shared/grip_limits.h"
#include "report/rules/shared/grouping.h"
#include "sim/holes/pin_fit.h"

namespace provecut {

namespace pin_blocked {

constexpr std::string_view page = R"(## What it finds

A round pin has no hole in the stock above it, or the hole is too narrow or too shallow. The holes come from the moves
of the earlier programs, not from the cells.

## Why it matters

The stock will not sit down. Forced on, it splits or tilts, and every depth of this setup is wrong.

## Example

    [[hold_down]]
    name = "pin W"
    kind = "pin"
    at = [14, 45]
    diameter = 8
    depth_in_stock = 12

and a hole bored at X 16 Y 45.

## What to do

If the finding says that the stock fits its pins flipped otherwise, look at `flip` in the job file first. Otherwise bore
the hole where the pin will be after the flip. Flipped left to right, a hole at x ends up at (width - x). Pins that stay
in the spoilboard need holes that mirror onto themselves. If you bored the hole by hand, provecut cannot know it: accept
the finding and say so.

## What `amount` is

How far the material reaches into the pin from the side, in mm: the pin's radius less the distance from its axis to
the nearest wall. Up to 0.05 mm all round counts as a press fit.

## Source

Geometry. The 0.05 mm are our estimate for wood; no published source. Pins beside the stock and pins that are not
round are not checked.
)";

// How the stock would go onto the pins, where another flip of it does.
const PinsFlipped* otherFlip(const Facts& facts, int program) {
  const auto& flipped = facts.run.pins_flipped;
  const auto it = std::find_if(flipped.begin(), flipped.end(), [&](const PinsFlipped& p) {
    return facts.programs[p.program].setup == facts.programs[program].setup;
  });
  return it == flipped.end() ? nullptr : &*it;
}

void check(const Facts& facts, std::vector<Finding>& findings) {
  for (const PinFit& fit : facts.run.pin_fits) {
    const HoldDown& pin = facts.job.hold_downs[fit.hold_down];
    const double radius = pin.diameter_mm / 2, into = radius - fit.wall_mm;
    if (into <= holes::pin_press_mm + 1e-9) continue;
    // Where the whole stock sits shifted, pins-shifted says so, and by how much.
    const auto& shifted = facts.run.pins_shifted;
    const bool told =
        std::any_of(shifted.begin(), shifted.end(), [&](const PinsElsewhere& p) { return p.program == fit.program; });
    if (told && fit.free_depth_mm <= 0.05) continue;
    const ProgramFacts& program = facts.programs[fit.program];
    Finding f = jobFinding(facts, pin_blocked_rule, pin.place);
    f.setup = program.setup->name;
    f.subject = pin.name;
    f.amount = into;
    f.unit = "mm";
    const auto length = [&](double mm) { return quantityText(facts.job, Quantity::length, mm); };
    if (fit.free_depth_mm > 0.05) {
      f.message = fmt::format("the hole for {} is only {} deep; the pin reaches {} into the stock", pin.name,
                              length(fit.free_depth_mm), dimensionWithUnit(facts.job, pin.depth_in_stock_mm));
      f.help = fmt::format("Bore the hole more than {} deep, or use a shorter pin.",
                           dimensionWithUnit(facts.job, pin.depth_in_stock_mm));
    } else if (fit.wall_mm <= 0) {
      f.message = fmt::format("the stock has no hole for {} in {}", pin.name, setupText(*program.setup));
      f.help = "Bore a hole where the pin will be. `provecut place` shows where the holes are after the flip.";
    } else {
      f.amount_text = length(into);
      f.message = fmt::format("{} does not fit its hole: {} of material is in its way", pin.name, length(into));
      f.help =
          fmt::format("Centre the pin on the hole, or bore the hole {} wider than the pin.", pinPlayText(facts.job));
    }
    if (const PinsFlipped* other = otherFlip(facts, fit.program)) {
      Setup flipped = *program.setup;
      flipped.flip = other->flip;
      flipped.rotate_deg = other->rotate_deg;
      f.message += fmt::format("; {}, it fits all its pins", stockWords(flipped));
      f.help = fmt::format(
          "If you place the stock {}, write {} in {}. If not, the holes or the pins are in the wrong place.",
          stockWords(flipped), stockKeys(other->flip, other->rotate_deg), setupText(*program.setup));
    }
    findings.push_back(std::move(f));
  }
}

}  // namespace pin_blocked

const Rule pin_blocked_rule{"pin-blocked", Level::stop, "A pin does not fit into the stock.", pin_blocked::page,
                            pin_blocked::check};

}  // namespace provecut
