#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <map>

#include "report/rules/list.h"
#include "report/rules/shared/grip_limits.h"
#include "report/rules/shared/grouping.h"

namespace provecut {

namespace screw_too_long {

constexpr std::string_view page = R"(## What it finds

A screw's tip comes out under the spoilboard: its `length` is more than the height of the wood that its head rests on
and the thickness of the spoilboard together. This is checked only if the job file gives the screw's `length` and the
spoilboard's `thickness`.

## Why it matters

The tip scratches the bed or lifts the board. If it breaks off, it waits there for the next job's bit.

## Example

A screw 40 mm long under its head, through 18 mm of stock into an 18 mm spoilboard, is 4 mm too long.

## What to do

Use a shorter screw, or put a washer under its head.

## What `amount` is

How far the tip reaches below the spoilboard in mm.

## Source

Geometry; you give the lengths.
)";

// The heights of the cells under the head are kept in single precision.
constexpr double cell_rounding_mm = 1e-5;

void check(const Facts& facts, std::vector<Finding>& findings) {
  const double board_mm = facts.job.spoilboard.thickness_mm;
  if (!(board_mm > 0)) return;
  struct Worst {
    const ScrewSeat* seat = nullptr;
    double below_mm = 0;
  };
  std::map<int, Worst> worst;  // by hold-down
  for (const ScrewSeat& seat : facts.run.screw_seats) {
    const double length_mm = facts.job.hold_downs[seat.hold_down].length_mm;
    const Setup& setup = *facts.programs[seat.program].setup;
    const double below_mm = length_mm - seat.rests_at_mm - setup.lift_mm - board_mm;
    if (length_mm <= 0 || below_mm <= 1e-9) continue;
    Worst& w = worst[seat.hold_down];
    if (below_mm > w.below_mm) w = {&seat, below_mm};
  }
  // Screws of one kind that go equally deep have one fault.
  struct Alike {
    std::vector<int> screws;
    double below_mm = 0, to_spare_mm = 0;
    const Setup* setup = nullptr;
  };
  std::vector<Alike> groups;
  for (const auto& [index, w] : worst) {
    const HoldDown& screw = facts.job.hold_downs[index];
    const Setup& setup = *facts.programs[w.seat->program].setup;
    const double bite_mm = screw.length_mm - w.below_mm - facts.job.stock.size_mm.z - setup.lift_mm;
    const double to_spare_mm = bite_mm - minBite_mm(facts.job, screw);
    const auto same = std::find_if(groups.begin(), groups.end(), [&, below_mm = w.below_mm](const Alike& g) {
      return g.setup == &setup && std::abs(g.below_mm - below_mm) < cell_rounding_mm &&
             std::abs(g.to_spare_mm - to_spare_mm) < cell_rounding_mm;
    });
    if (same == groups.end()) {
      groups.push_back({{index}, w.below_mm, to_spare_mm, &setup});
    } else {
      same->screws.push_back(index);
    }
  }
  for (const Alike& g : groups) {
    std::vector<std::string> names;
    for (const int index : g.screws) names.push_back(facts.job.hold_downs[index].name);
    const bool several = names.size() > 1;
    Finding f = jobFinding(facts, screw_too_long_rule, facts.job.hold_downs[g.screws.front()].place);
    f.setup = g.setup->name;
    f.subject = listText(names);
    f.amount = g.below_mm;
    f.unit = "mm";
    f.amount_text = quantityText(facts.job, Quantity::length, g.below_mm);
    f.message = fmt::format("{} {} through the spoilboard and {} into the bed{}", f.subject, several ? "go" : "goes",
                            f.amount_text, several ? " each" : "");
    // Stock thinner than meant lets the tip down; a shorter screw must still bite.
    const double thinner_mm = std::clamp(g.to_spare_mm, 0.0, facts.job.stock.thickness_tolerance_mm);
    const std::string shorter = atLeastText(facts.job, Quantity::length, g.below_mm + thinner_mm - cell_rounding_mm);
    f.help = g.to_spare_mm < -1e-9
                 ? fmt::format("No length suits both this pocket and full thickness: move the {} out of the pocket.",
                               several ? "screws" : "screw")
             : several ? fmt::format("Use screws at least {} shorter.", shorter)
                       : fmt::format("Use a screw at least {} shorter.", shorter);
    findings.push_back(std::move(f));
  }
}

}  // namespace screw_too_long

const Rule screw_too_long_rule{"screw-too-long", Level::look, "A screw goes through the spoilboard into the bed.",
                               screw_too_long::page, screw_too_long::check};

}  // namespace provecut
