#include <fmt/core.h>

#include "report/rules/list.h"
#include "report/rules/shared/grouping.h"

namespace provecut {

namespace unwanted_through {

constexpr std::string_view page = R"(## What it finds

A program with `through = false` cuts a hole through the stock.

## Why it matters

A pocket that comes out on the other face is scrap, and the bit goes on into the spoilboard.

## Example

    [[setup.program]]
    file = "pocket.nc"
    through = false

on 18 mm stock, and in the program

    G1 Z-18.2

## What to do

Cut less deep, or correct the stock's thickness in the job file. On the second side remember what the first one took.

## What `amount` is

The area of the hole in plan in mm².

## Source

You set `through`.
)";

void check(const Facts& facts, std::vector<Finding>& findings) {
  for (std::size_t i = 0; i < facts.run.programs.size(); ++i) {
    const auto& opened = facts.run.programs[i].opened;
    if (!opened) continue;
    Finding f = groupFinding(facts, i, unwanted_through_rule, {{opened->move, opened->area_mm2, opened->at}},
                             Worst::largest, Quantity::area);
    f.message = fmt::format("cuts {} hole through the stock; this program must not go through",
                            withArticle(quantityText(facts.job, Quantity::area, opened->area_mm2)));
    f.help =
        "Cut less deep from here on, check the stock's thickness and zero in the job file, or delete through = false.";
    if (facts.programs[i].entry) relateToJob(facts, f, facts.programs[i].entry->place, "through = false is set here");
    findings.push_back(std::move(f));
  }
}

}  // namespace unwanted_through

const Rule unwanted_through_rule{"unwanted-through", Level::stop,
                                 "A program that must not go through the stock cuts a hole.", unwanted_through::page,
                                 unwanted_through::check};

}  // namespace provecut
