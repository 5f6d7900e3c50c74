#include <fmt/core.h>

#include "report/facts/setup_words.h"
#include "report/rules/list.h"
#include "report/rules/shared/grouping.h"
#include "report/rules/shared/shift_text.h"

namespace provecut {

namespace pins_shifted {

constexpr std::string_view page = R"(## What it finds

The pins of a setup miss the holes as the stock is meant to sit, but the stock would go onto all of them shifted by 50
mm or less.

## Why it matters

The stock goes onto the pins easily, and the whole second side is cut out of line with the first.

## Example

Stock 420 mm wide, pins at x 60 and 372 in the spoilboard. Their holes are bored from the front, right through into
the board; then the stock is flipped left to right. The holes are at 360 and 48 now, 12 mm left of the pins, so the
stock sits 60 + 372 - 420 = 12 mm too far right.

## What to do

Pins that stay in the spoilboard need holes that mirror onto themselves: on the flip axis, or in pairs. Flipped left
to right the pairs are x and (width - x), flipped front to back y and (depth - y). Or move the pins, or the work zero,
by the shift.

## What `amount` is

The length of the shift in mm.

## Source

Geometry.
)";

void check(const Facts& facts, std::vector<Finding>& findings) {
  for (const PinsElsewhere& p : facts.run.pins_shifted) {
    const ProgramFacts& program = facts.programs[p.program];
    Finding f = jobFinding(facts, pins_shifted_rule, program.setup->place);
    f.setup = program.setup->name;
    f.amount = length(p.shift);
    f.unit = "mm";
    f.message = fmt::format("the stock fits the pins of {} {}", setupText(*program.setup),
                            shiftText(facts.job, p.shift.vec(), "too far "));
    f.help =
        fmt::format("Mirror the pins about the flip axis, or move them {}.", shiftText(facts.job, p.shift.vec() * -1));
    for (const PinsFlipped& other : facts.run.pins_flipped) {
      if (facts.programs[other.program].setup != program.setup) continue;
      Setup flipped = *program.setup;
      flipped.flip = other.flip;
      flipped.rotate_deg = other.rotate_deg;
      f.message += fmt::format("; {}, it fits them as they stand", stockWords(flipped));
      f.help = fmt::format("If you place the stock {}, write {}. If not: {}", stockWords(flipped),
                           stockKeys(other.flip, other.rotate_deg), f.help);
    }
    findings.push_back(std::move(f));
  }
}

}  // namespace pins_shifted

const Rule pins_shifted_rule{"pins-shifted", Level::stop, "The stock fits its pins, but sits shifted.",
                             pins_shifted::page, pins_shifted::check};

}  // namespace provecut
