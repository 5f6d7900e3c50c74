#include <fmt/core.h>

#include <algorithm>
#include <cmath>
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
  // Screws of one kind that bite equally deep have one fault.
  struct Alike {
    std::vector<int> screws;
    double bite_mm = 0, min_mm = 0;
    const Setup* setup = nullptr;
  };
  std::vector<Alike> groups;
  for (const auto& [index, w] : worst) {
    const double min_mm = minBite_mm(facts.job, facts.job.hold_downs[index]);
    const Setup* setup = facts.programs[w.seat->program].setup;
    const auto same = std::find_if(groups.begin(), groups.end(), [&, bite_mm = w.bite_mm](const Alike& g) {
      return g.setup == setup && std::abs(g.bite_mm - bite_mm) < 1e-9 && std::abs(g.min_mm - min_mm) < 1e-9;
    });
    if (same == groups.end()) {
      groups.push_back({{index}, w.bite_mm, min_mm, setup});
    } else {
      same->screws.push_back(index);
    }
  }
  for (const Alike& g : groups) {
    std::vector<std::string> names;
    for (const int index : g.screws) names.push_back(facts.job.hold_downs[index].name);
    const bool several = names.size() > 1;
    const double bite_mm = std::max(0.0, g.bite_mm);
    Finding f = jobFinding(facts, screw_too_short_rule, facts.job.hold_downs[g.screws.front()].place);
    f.setup = g.setup->name;
    f.subject = listText(names);
    f.amount = bite_mm;
    f.unit = "mm";
    const Compared text = comparedText(facts.job, Quantity::length, bite_mm, g.min_mm);
    if (bite_mm > 0) f.amount_text = text.actual;
    f.message = bite_mm > 0 ? fmt::format("{} {} only {} into the spoilboard (minimum {}); {} may pull out", f.subject,
                                          several ? "bite" : "bites", text.actual, text.limit, several ? "they" : "it")
                            : fmt::format("{} {} not reach the spoilboard", f.subject, several ? "do" : "does");
    const std::string longer = atLeastText(facts.job, Quantity::length, g.min_mm - g.bite_mm);
    f.help = several ? fmt::format("Use screws at least {} longer.", longer)
                     : fmt::format("Use a screw at least {} longer.", longer);
    findings.push_back(std::move(f));
  }
}

}  // namespace screw_too_short

const Rule screw_too_short_rule{"screw-too-short", Level::look, "A screw bites too little into the spoilboard.",
                                screw_too_short::page, screw_too_short::check};

}  // namespace provecut
