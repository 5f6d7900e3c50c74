#include <algorithm>

#include "report/rules/list.h"
#include "report/rules/shared/grouping.h"

namespace provecut {

namespace {

constexpr std::string_view page = R"(## What it finds

A hold-down of the job file that stands in no program: neither its setup's `hold_downs` nor that of a program names it, so nothing
was held against it.

## Why it matters

One forgotten name, and the bit meets a screw that the check never looked at.

## Example

    [[hold_down]]
    name = "screw E"

    [[setup]]
    name = "front"
    hold_downs = ["screw W"]

## What to do

Name it in the `hold_downs` of the setup or the programs in which it stands, or take it out of the job file.

## What `amount` is

There is none.

## Source

Common practice, no source.
)";

bool standsIn(const Setup& setup, int index) {
  return std::any_of(setup.programs.begin(), setup.programs.end(), [&](const ProgramEntry& entry) {
    return std::find(entry.hold_downs.begin(), entry.hold_downs.end(), index) != entry.hold_downs.end();
  });
}

void check(const Facts& facts, std::vector<Finding>& findings) {
  const std::vector<Setup>& setups = facts.job.setups;
  for (std::size_t i = 0; i < facts.job.hold_downs.size(); ++i) {
    const HoldDown& h = facts.job.hold_downs[i];
    if (std::any_of(setups.begin(), setups.end(), [&](const Setup& s) { return standsIn(s, static_cast<int>(i)); }))
      continue;
    Finding f = jobFinding(facts, hold_down_unlisted_rule, h.place);
    f.subject = h.name;
    f.message = h.name + " stands in no program: nothing was held against it";
    f.help =
        "Name it in the `hold_downs` of the setup or the programs in which it stands, or take it out of the job file.";
    findings.push_back(std::move(f));
  }
}

}  // namespace

const Rule hold_down_unlisted_rule{"hold-down-unlisted", Level::look,
                                   "A hold-down of the job file stands in no program.", page, check};

}  // namespace provecut
