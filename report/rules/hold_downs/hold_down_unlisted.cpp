#include <fmt/core.h>

#include <algorithm>
#include <string>
#include <vector>

#include "report/rules/list.h"
#include "report/rules/shared/grouping.h"

namespace provecut {

namespace hold_down_unlisted {

constexpr std::string_view page = R"(## What it finds

Hold-downs in the job file that no setup and no program lists in its `hold_downs`. Nothing was checked against them.

## Why it matters

Forget one name, and the bit meets a screw that this check never saw.

## Example

    [[hold_down]]
    name = "screw E"

    [[setup]]
    name = "front"
    hold_downs = ["screw W"]

## What to do

List each one under `hold_downs` of the setup or programs it is fitted for, or delete it from the job file.

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
  std::vector<const HoldDown*> unlisted;
  for (int i = 0; i < std::ssize(facts.job.hold_downs); ++i) {
    if (std::none_of(setups.begin(), setups.end(), [&](const Setup& s) { return listedIn(s, i); }))
      unlisted.push_back(&facts.job.hold_downs[static_cast<std::size_t>(i)]);
  }
  if (unlisted.empty()) return;
  Finding f = jobFinding(facts, hold_down_unlisted_rule, unlisted.front()->place);
  const bool one = unlisted.size() == 1;
  std::vector<std::string> names;
  for (const HoldDown* h : unlisted) names.push_back(h->name);
  f.subject = listText(names);
  f.message = fmt::format("{} {} not listed in any setup or program, so nothing was checked against {}", f.subject,
                          one ? "is" : "are", one ? "it" : "them");
  f.help = fmt::format(
      "List {0} under `hold_downs` of the setup or programs that {1} fitted for, or delete {0} from "
      "the job file.",
      one ? "it" : "them", one ? "it is" : "they are");
  for (std::size_t i = 1; i < unlisted.size(); ++i)
    relateToJob(facts, f, unlisted[i]->place, unlisted[i]->name + " is defined here");
  findings.push_back(std::move(f));
}

}  // namespace hold_down_unlisted

const Rule hold_down_unlisted_rule{"hold-down-unlisted", Level::look,
                                   "A hold-down is not listed in any setup or program.", hold_down_unlisted::page,
                                   hold_down_unlisted::check};

}  // namespace provecut
