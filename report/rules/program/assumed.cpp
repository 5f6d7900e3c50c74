#include "report/rules/list.h"

namespace provecut {

namespace assumed {

constexpr std::string_view page = R"(## What it finds

The programs came without a job file, so provecut had to assume how the stock is set up, where zero is and what holds
it.

## Why it matters

A check is only as good as what it is told. Without a job file it sees no screws, no clamps, no flip, and no zero at
another corner.

## Example

    provecut check outline.nc --stock 420x130x19.05mm --tool 1=flat,6mm

## What to do

Write a job file. `provecut init outline.nc > job.toml` makes a first one; correct it and run `provecut check
job.toml`.

## What `amount` is

There is none.
)";

void check(const Facts& facts, std::vector<Finding>& findings) {
  if (!facts.job.file.empty()) return;
  Finding f;
  f.rule = assumed_rule.id;
  f.message = "assumed:";
  for (std::size_t i = 0; i < facts.assumed.size(); ++i) f.message += (i == 0 ? " " : "; ") + facts.assumed[i];
  f.help = "Write a job file with the zero and every screw and clamp; `provecut init` makes a first one.";
  findings.push_back(std::move(f));
}

}  // namespace assumed

const Rule assumed_rule{"assumed", Level::note, "Programs were checked without a job file, on assumptions.",
                        assumed::page, assumed::check};

}  // namespace provecut
