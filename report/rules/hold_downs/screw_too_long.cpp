#include <map>

#include "report/rules/list.h"
#include "report/rules/shared/grouping.h"

namespace provecut {

namespace {

constexpr std::string_view page = R"(## What it finds

A screw whose tip comes through the spoilboard: its `length` is more than what it stands in when it is driven, the stock under its
head and the spoilboard together. Looked at only where the job file gives the screw's `length` and the spoilboard's `thickness`.

## Why it matters

The tip scratches the bed, or lifts the board off it; a tip that breaks off stays where the next job cuts.

## Example

A screw of 40 mm under its head, through stock of 18 mm into a spoilboard of 18 mm: 4 mm too long.

## What to do

Take a shorter screw, or put a washer under its head.

## What `amount` is

How far the tip reaches below the spoilboard in mm.

## Source

Geometry; the lengths are yours.
)";

void check(const Facts& facts, std::vector<Finding>& findings) {
  const double board_mm = facts.job.spoilboard.thickness_mm;
  if (!(board_mm > 0)) return;
  struct Worst {
    const ScrewSeat* seat = nullptr;
    double below_mm = 0;
  };
  std::map<int, Worst> worst;  // by hold-down
  for (const ScrewSeat& seat : facts.run.screw_seats) {
    const double length_mm = facts.job.hold_downs[static_cast<std::size_t>(seat.hold_down)].length_mm;
    const Setup& setup = *facts.programs[static_cast<std::size_t>(seat.program)].setup;
    const double below_mm = length_mm - seat.thickness_mm - setup.lift_mm - board_mm;
    if (length_mm <= 0 || below_mm <= 1e-9) continue;
    Worst& w = worst[seat.hold_down];
    if (below_mm > w.below_mm) w = {&seat, below_mm};
  }
  for (const auto& [index, w] : worst) {
    const HoldDown& screw = facts.job.hold_downs[static_cast<std::size_t>(index)];
    Finding f = jobFinding(facts, screw_too_long_rule, screw.place);
    f.setup = facts.programs[static_cast<std::size_t>(w.seat->program)].setup->name;
    f.subject = screw.name;
    f.amount = w.below_mm;
    f.unit = "mm";
    f.message = screw.name + " comes " + quantityText(facts.job, Quantity::length, w.below_mm) +
                " through the spoilboard, into the bed";
    f.help = "Take a screw at least " + atLeastText(facts.job, Quantity::length, w.below_mm) + " shorter.";
    findings.push_back(std::move(f));
  }
}

}  // namespace

const Rule screw_too_long_rule{"screw-too-long", Level::look, "A screw reaches through the spoilboard into the bed.",
                               page, check};

}  // namespace provecut
