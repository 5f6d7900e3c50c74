#include <fmt/core.h>

#include <algorithm>
#include <map>
#include <vector>

#include "report/base/wording.h"
#include "report/rules/list.h"
#include "report/rules/shared/grip_limits.h"
#include "report/rules/shared/grouping.h"
#include "sim/holes/pin_fit.h"

namespace provecut {

namespace pin_loose {

constexpr double max_play_mm = 0.2;

constexpr std::string_view page = R"(## What it finds

A pin's hole is more than 0.2 mm wider than the pin. With two pins, play across the line that joins them counts for
each pin, play along it only for the tighter one. So a hole and a slot are a good pair.

## Why it matters

The two sides match only as well as the pins locate the stock. Between two pins a point may be off by half the play,
in each setup. Beyond them it is worse: half the play × 2 r / L, with L the distance between the pins and r the
distance from their middle.

## Example

An 8 mm pin in an 8.5 mm hole.

## What to do

Bore the hole 0.05 to 0.15 mm wider than the pin. Measure what your bit really cuts. Dowel rod from a shop is up to
0.4 mm out of round: do not use it as a locating pin.

## What `amount` is

The play in mm: the hole's width less the pin's diameter.

## Source

0.05 to 0.15 mm for holes bored in wood with an end mill is common practice; no published source. The limit of 0.2 mm
is just above. The error of a point is geometry.
)";

void check(const Facts& facts, std::vector<Finding>& findings) {
  std::map<std::string, std::vector<const PinFit*>> by_setup;
  for (const PinFit& fit : facts.run.pin_fits) {
    by_setup[facts.programs[fit.program].setup->name].push_back(&fit);
  }
  for (const auto& [setup, fits] : by_setup) {
    const auto diameter = [&](const PinFit* f) { return facts.job.hold_downs[f->hold_down].diameter_mm; };
    double along = fits.front()->along_mm - diameter(fits.front());
    for (const PinFit* f : fits) along = std::min(along, f->along_mm - diameter(f));
    for (const PinFit* fit : fits) {
      const HoldDown& pin = facts.job.hold_downs[fit->hold_down];
      if (pin.diameter_mm / 2 - fit->wall_mm > holes::pin_press_mm) continue;  // it does not go in at all
      const double own_along = fit->along_mm - pin.diameter_mm, across = fit->across_mm - pin.diameter_mm;
      const double play = std::max(across, along > max_play_mm ? own_along : 0);
      if (play <= max_play_mm + 1e-6) continue;
      Finding f = jobFinding(facts, pin_loose_rule, pin.place);
      f.setup = setup;
      f.subject = pin.name;
      f.amount = play;
      f.unit = "mm";
      const Compared text = comparedText(facts.job, Quantity::length, play, max_play_mm);
      f.amount_text = text.actual;
      f.message =
          fmt::format("the hole for {} is {} wider than the pin (maximum {})", pin.name, text.actual, text.limit);
      f.help = fmt::format("Bore the hole {} wider than the pin, or use a thicker pin.", pinPlayText(facts.job));
      findings.push_back(std::move(f));
    }
  }
}

}  // namespace pin_loose

const Rule pin_loose_rule{"pin-loose", Level::look, "A pin is loose in its hole.", pin_loose::page, pin_loose::check};

}  // namespace provecut
