#include "report/rules/list.h"

namespace provecut {

namespace accept_unused {

constexpr std::string_view page = R"(## What it finds

An `[[accept]]` in the job file that matches no finding.

## Why it matters

What you accepted is gone, or has a new name, another program or a larger amount. An outdated entry may hide the next
finding.

## Example

    [[accept]]
    rule = "spoilboard-cut"
    program = "50-profile.nc"
    max_amount = 0.5
    reason = "board gets surfaced after this job"

A note once 50-profile.nc no longer cuts into the spoilboard, or cuts deeper than 0.5 mm.

## What to do

Delete the entry, or correct its rule, program, subject or `max_amount`.

## What `amount` is

There is none.
)";

}  // namespace accept_unused

// Made where the findings are accepted (report/findings/report.cpp): only there is it known what met nothing.
const Rule accept_unused_rule{"accept-unused", Level::note, "An [[accept]] of the job file matches no finding.",
                              accept_unused::page, nullptr};

}  // namespace provecut
