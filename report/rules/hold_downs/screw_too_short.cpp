#include <fmt/core.h>

#include <algorithm>
#include <map>

#include "report/rules/list.h"
#include "report/rules/shared/grip_limits.h"
#include "report/rules/shared/grouping.h"

namespace provecut {

namespace screw_too_short {

constexpr std::string_view page = R"(## What it finds

A screw bites less than 10 mm into the spoilboard, or less than three times its `shaft_diameter` if that is more. The
bite is the screw's `length` less the stock under its head. A thin spoilboard needs no more bite than its own
thickness. This is checked only if the job file gives the screw's `length`.

## Why it matters

It pulls out when the bit grabs, and the stock comes with it.

## Example

A screw 25 mm long under its head, through 19 mm of stock, bites 6 mm.

## What to do

Use a longer screw that still ends inside the spoilboard.

## What `amount` is

How far the screw reaches into the spoilboard in mm; 0 if it does not reach it.

## Source

Common practice; no published source. The load that a screw bears grows with its bite (Wood Handbook: 108 G² D L
newtons to failure in side grain). MDF and end grain hold less.
)";

void check(const Facts& facts, std::vector<Finding>& findings) {
  struct Worst {
    const ScrewSeat* seat = nullptr;
    double bite_mm = 0;
  };
  std::map<int, Worst> worst;  // by hold-down
  for (const ScrewSeat& seat : facts.run.screw_seats) {
    const HoldDown& screw = facts.job.hold_downs[seat.hold_down];
    if (screw.length_mm <= 0) continue;
    // The whole stock: a screw over a pocket is screw-in-pocket's.
    const double bite_mm = screw.length_mm - facts.job.stock.size_mm.z - facts.programs[seat.program].setup->lift_mm;
    if (bite_mm >= minBite_mm(facts.job, screw) - 1e-9) continue;
    Worst& w = worst[seat.hold_down];
    if (!w.seat || bite_mm < w.bite_mm) w = {&seat, bite_mm};
  }
  for (const auto& [index, w] : worst) {
    const HoldDown& screw = facts.job.hold_downs[index];
    const double min_mm = minBite_mm(facts.job, screw);
    const double bite_mm = std::max(0.0, w.bite_mm);
    Finding f = jobFinding(facts, screw_too_short_rule, screw.place);
    f.setup = facts.programs[w.seat->program].setup->name;
    f.subject = screw.name;
    f.amount = bite_mm;
    f.unit = "mm";
    const Compared text = comparedText(facts.job, Quantity::length, bite_mm, min_mm);
    if (bite_mm > 0) f.amount_text = text.actual;
    f.message = bite_mm > 0 ? fmt::format("{} bites only {} into the spoilboard (minimum {}); it may pull out",
                                          screw.name, text.actual, text.limit)
                            : screw.name + " does not reach the spoilboard";
    f.help =
        fmt::format("Use a screw at least {} longer.", atLeastText(facts.job, Quantity::length, min_mm - w.bite_mm));
    findings.push_back(std::move(f));
  }
}

}  // namespace screw_too_short

const Rule screw_too_short_rule{"screw-too-short", Level::look, "A screw bites too little into the spoilboard.",
                                screw_too_short::page, screw_too_short::check};

}  // namespace provecut
