#include "report/rules/list.h"

namespace provecut {

namespace {

constexpr std::string_view page = R"(## What it finds

An `[[accept]]` in the job file that meets no finding.

## Why it matters

What was accepted is gone, or it now has another name, another program or a larger amount. An entry that no longer says
anything true may hide the next finding.

## Example

    [[accept]]
    rule = "spoilboard-cut"
    program = "50-profile.nc"
    max_amount = 0.5
    reason = "board is skimmed after this job"

A note when 50-profile.nc no longer cuts into the spoilboard, or cuts deeper than 0.5 mm.

## What to do

Take the entry out, or correct its rule, program, subject or `most`.

## What `amount` is

There is none.
)";

}  // namespace

// Made where the findings are accepted (report/findings/report.cpp): only there is it known what met nothing.
const Rule accept_unused_rule{"accept-unused", Level::note, "An [[accept]] of the job file meets no finding.", page,
                              nullptr};

}  // namespace provecut
