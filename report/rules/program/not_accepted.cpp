#include <fmt/core.h>

#include <algorithm>

#include "report/rules/list.h"
#include "report/rules/shared/grouping.h"

namespace provecut {

namespace not_accepted {

constexpr std::string_view page = R"(## What it finds

A program uses something that `machine.accepts` does not list: arcs, canned cycles, a tool change, cutter radius
compensation, parameters, or subprograms.

## Why it matters

The machine stops at that line with an error, or skips it. If it skips a tool change, it cuts the next tool's depths
with the last tool.

## Example

With `accepts = ["arcs"]`:

    G81 X20 Y20 Z-5 R3 F300

## What to do

Export the program again for a machine without it. If your machine does take it, add the word to `accepts`.

## What `amount` is

There is none.

## Source

You set `accepts`.
)";

struct FeatureWords {
  std::string_view name, pronoun;
};

FeatureWords wordsOf(std::string_view feature) {
  if (feature == "tool-change") return {"a tool change (M6)", "it"};
  if (feature == "canned-cycles") return {"canned cycles", "them"};
  if (feature == "cutter-compensation") return {"cutter radius compensation (G41, G42)", "it"};
  if (feature == "feed-per-revolution") return {"feed per revolution (G95)", "it"};
  return {feature, "them"};
}

void check(const Facts& facts, std::vector<Finding>& findings) {
  const std::vector<std::string>& accepts = facts.job.machine.accepts;
  for (std::size_t i = 0; i < facts.programs.size(); ++i) {
    for (const FeatureUse& use : facts.programs[i].program.features) {
      // Those that no router takes have a rule of their own: spindle-cycle.
      if (use.feature == "tapping" || use.feature == "spindle-orientation") continue;
      if (std::find(accepts.begin(), accepts.end(), use.feature) != accepts.end()) continue;
      Finding f = placeFinding(facts, i, not_accepted_rule, use.place);
      f.subject = use.feature;
      const FeatureWords words = wordsOf(use.feature);
      f.message = fmt::format("the program uses {}, but this machine does not accept {}", words.name, words.pronoun);
      f.help = fmt::format("Export it again without {}, or add \"{}\" to `accepts` under [machine] in the job file.",
                           words.pronoun, use.feature);
      findings.push_back(std::move(f));
    }
  }
}

}  // namespace not_accepted

const Rule not_accepted_rule{"not-accepted", Level::look,
                             "The program uses something that the machine does not accept.", not_accepted::page,
                             not_accepted::check};

}  // namespace provecut
