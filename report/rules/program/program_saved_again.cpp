#include <fmt/core.h>

#include "report/facts/locked.h"
#include "report/rules/list.h"
#include "report/rules/shared/grouping.h"

namespace provecut {

namespace program_saved_again {

constexpr std::string_view page = R"(## What it finds

The job has a lock file (`provecut lock`), and a program file differs from the locked one, but makes the same moves with
the same tools, feeds, speeds, stops and other codes. Only comments, line numbers or the spelling of numbers differ.

## Why it matters

It does the same as the locked export. But its SHA-256 differs, so it no longer matches the one on an older sheet.

## Example

The same program exported again, with the new date in its header.

## What to do

Nothing, or update the lock: `provecut lock --update job.toml`.

## What `amount` is

There is none.

## Source

SHA-256 of the file, and of its moves and codes (FIPS 180-4).
)";

void check(const Facts& facts, std::vector<Finding>& findings) {
  for (std::size_t i = 0; i < facts.programs.size(); ++i) {
    if (lockStateOf(facts, facts.programs[i]) != LockState::same_moves) continue;
    Finding f = placeFinding(facts, i, program_saved_again_rule, Place{});
    f.message = fmt::format("saved again since it was locked on {}; it makes the same moves", facts.lock->date);
    f.help = fmt::format("To keep this file in the lock: provecut lock --update {}", facts.job.file);
    findings.push_back(std::move(f));
  }
}

}  // namespace program_saved_again

const Rule program_saved_again_rule{"program-saved-again", Level::note,
                                    "A program file differs from the locked one, but makes the same moves.",
                                    program_saved_again::page, program_saved_again::check};

}  // namespace provecut
