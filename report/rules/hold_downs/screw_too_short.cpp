#include <algorithm>
#include <map>

#include "report/rules/list.h"
#include "report/rules/shared/grouping.h"

namespace provecut {

namespace {

constexpr std::string_view page = R"(## What it finds

A screw that bites less than 10 mm into the spoilboard, or less than three times its `shaft_diameter` where that is more: its
`length` without the stock under its head. A thinner spoilboard is asked for no more than its own thickness. Looked at only where
the job file gives the screw's `length`.

## Why it matters

It pulls out when the bit catches, and the stock comes with it.

## Example

A screw of 25 mm under its head, through stock of 19 mm: it bites 6 mm.

## What to do

Take a longer screw that still ends within the spoilboard.

## What `amount` is

How far the screw reaches into the spoilboard in mm; 0 where it does not.

## Source

Common practice, no source. What a screw bears grows with its bite (Wood Handbook: 108 G² D L newtons to failure in side grain);
boards of MDF or of end grain hold less.
)";

constexpr double least_bite_mm = 10, bite_in_shafts = 3;

double wantedBite(const Job& job, const HoldDown& screw) {
  const double wanted_mm = std::max(least_bite_mm, bite_in_shafts * screw.shaft_diameter_mm);
  return job.spoilboard.thickness_mm > 0 ? std::min(wanted_mm, job.spoilboard.thickness_mm) : wanted_mm;
}

void check(const Facts& facts, std::vector<Finding>& findings) {
  struct Worst {
    const ScrewSeat* seat = nullptr;
    double bite_mm = 0;
  };
  std::map<int, Worst> worst;  // by hold-down
  for (const ScrewSeat& seat : facts.run.screw_seats) {
    const HoldDown& screw = facts.job.hold_downs[static_cast<std::size_t>(seat.hold_down)];
    if (screw.length_mm <= 0) continue;
    // The whole stock: a screw over a pocket is screw-in-pocket's.
    const double bite_mm = screw.length_mm - facts.job.stock.size_mm.z -
                           facts.programs[static_cast<std::size_t>(seat.program)].setup->lift_mm;
    if (bite_mm >= wantedBite(facts.job, screw) - 1e-9) continue;
    Worst& w = worst[seat.hold_down];
    if (!w.seat || bite_mm < w.bite_mm) w = {&seat, bite_mm};
  }
  for (const auto& [index, w] : worst) {
    const HoldDown& screw = facts.job.hold_downs[static_cast<std::size_t>(index)];
    const double wanted_mm = wantedBite(facts.job, screw);
    const double bite_mm = std::max(0.0, w.bite_mm);
    Finding f = jobFinding(facts, screw_too_short_rule, screw.place);
    f.setup = facts.programs[static_cast<std::size_t>(w.seat->program)].setup->name;
    f.subject = screw.name;
    f.amount = bite_mm;
    f.unit = "mm";
    const Compared text = comparedText(facts.job, Quantity::length, bite_mm, wanted_mm);
    f.message =
        screw.name +
        (bite_mm > 0 ? " bites " + text.met + " into the spoilboard, " : " does not reach the spoilboard, a bite of ") +
        text.allowed + " wanted: it may pull out";
    f.help = "Take a screw at least " + atLeastText(facts.job, Quantity::length, wanted_mm - w.bite_mm) + " longer.";
    findings.push_back(std::move(f));
  }
}

}  // namespace

const Rule screw_too_short_rule{"screw-too-short", Level::look, "A screw bites too little of the spoilboard.", page,
                                check};

}  // namespace provecut
