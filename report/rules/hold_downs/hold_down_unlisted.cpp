#include <algorithm>

#include "report/rules/list.h"
#include "report/rules/shared/grouping.h"

namespace provecut {

namespace hold_down_unlisted {

constexpr std::string_view page = R"(## What it finds

A hold-down in the job file that no setup and no program lists in its `hold_downs`. Nothing was checked against it.

## Why it matters

Forget one name, and the bit meets a screw that this check never saw.

## Example

    [[hold_down]]
    name = "screw E"

    [[setup]]
    name = "front"
    hold_downs = ["screw W"]

## What to do

List it under `hold_downs` of the setup or the programs that it is fitted for, or delete it from the job file.

## What `amount` is

There is none.

## Source

Common practice; no published source.
)";

bool listedIn(const Setup& setup, int index) {
  return std::any_of(setup.programs.begin(), setup.programs.end(), [&](const ProgramEntry& entry) {
    return std::find(entry.hold_downs.begin(), entry.hold_downs.end(), index) != entry.hold_downs.end();
  });
}

void check(const Facts& facts, std::vector<Finding>& findings) {
  const std::vector<Setup>& setups = facts.job.setups;
  for (int i = 0; i < std::ssize(facts.job.hold_downs); ++i) {
    const HoldDown& h = facts.job.hold_downs[i];
    if (std::any_of(setups.begin(), setups.end(), [&](const Setup& s) { return listedIn(s, i); })) continue;
    Finding f = jobFinding(facts, hold_down_unlisted_rule, h.place);
    f.subject = h.name;
    f.message = h.name + " is not listed in any setup or program, so nothing was checked against it";
    f.help =
        "List it under `hold_downs` of the setup or programs that it is fitted for, or delete it from the job file.";
    findings.push_back(std::move(f));
  }
}

}  // namespace hold_down_unlisted

const Rule hold_down_unlisted_rule{"hold-down-unlisted", Level::look,
                                   "A hold-down is not listed in any setup or program.", hold_down_unlisted::page,
                                   hold_down_unlisted::check};

}  // namespace provecut
