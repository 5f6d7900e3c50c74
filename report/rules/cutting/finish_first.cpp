#include <fmt/core.h>

#include <optional>
#include <string>

#include "report/base/wording.h"
#include "report/facts/finish_order.h"
#include "report/facts/measures.h"
#include "report/rules/list.h"
#include "report/rules/shared/grouping.h"

namespace provecut {

namespace finish_first {

constexpr std::string_view page = R"(## What it finds

A finishing program runs before a roughing program of the same setup, over the same place, and meets the full stock. It
cuts at its full width most of the way, or more than 1.5 times as deep in one pass as the roughing program does.
provecut goes by the file names and the first comments.

## Why it matters

A finishing program does not step down through the full stock. The bit is overloaded, bends and breaks; the roughing
program then cuts air.

## Example

    [[setup.program]]
    file = "10-pocket-finish.nc"

    [[setup.program]]
    file = "20-pocket-rough.nc"

## What to do

List the roughing program first.

## What `amount` is

The deepest cut of the finishing program in one pass in mm.

## Source

Common practice; no published source. The limits are our estimates.
)";

void check(const Facts& facts, std::vector<Finding>& findings) {
  for (std::size_t i = 0; i < facts.programs.size(); ++i) {
    const std::optional<FinishedFirst> first = finishedFirst(facts, i);
    if (!first) continue;
    const Motion& motion = facts.programs[i].program.motions[first->deepest];
    Finding f = groupFinding(facts, i, finish_first_rule, {{first->deepest, first->deepest_mm, lowestTip(motion)}},
                             Worst::largest, Quantity::length);
    const std::string& rough = facts.programs[first->roughing].entry->file;
    f.message =
        fmt::format("finishing meets the full stock, up to {} deep in one pass; the roughing program {} runs after it",
                    quantityText(facts.job, Quantity::length, first->deepest_mm), rough);
    f.help = fmt::format("Run {} before this program.", rough);
    relateToJob(facts, f, facts.programs[first->roughing].entry->place, "the roughing program is listed here");
    findings.push_back(std::move(f));
  }
}

}  // namespace finish_first

const Rule finish_first_rule{"finish-first", Level::look, "A finishing program runs before its roughing program.",
                             finish_first::page, finish_first::check};

}  // namespace provecut
