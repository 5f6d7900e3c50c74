#include <fmt/core.h>

#include "report/facts/lost_tool_change.h"
#include "report/rules/list.h"
#include "report/rules/shared/grouping.h"

namespace provecut {

namespace tool_not_called {

constexpr std::string_view page = R"(## What it finds

Between two cuts of a program the spindle stops and starts again, or the program stops, and a comment there names a tool
of the job that no program calls: by its number, its name, or its shape and diameter. Or the comment names another bit
that the job file does not have, and no tool change stands there. A tool of the job file that no comment names is fine:
a shop's list may hold many.

## Why it matters

The T and M6 were lost. The next cuts run with the bit before, and this whole check is about the wrong bit.

## Example

    M5
    (ROUNDOVER R6)
    S14000 M3

where tool 5 of the job file, "R6 roundover", is never called.

## What to do

Put the T and M6 back, or correct the comment.

## What `amount` is

There is none.

## Source

What CAM programs write into comments: common practice, no published source.
)";

// "R6 roundover (tool 5)"; "tool 5" for one without a name.
std::string withNumber(const Job& job, const Tool& tool) {
  const std::string text = toolText(job, tool.number);
  return tool.name.empty() ? text : fmt::format("{} (tool {})", text, tool.number);
}

void check(const Facts& facts, std::vector<Finding>& findings) {
  for (std::size_t i = 0; i < facts.programs.size(); ++i) {
    for (const LostToolChange& lost : lostToolChanges(facts, i)) {
      Finding f = placeFinding(facts, i, tool_not_called_rule, lost.comment->place);
      f.subject = toolText(facts.job, lost.running->number);
      if (lost.named) {
        f.message = fmt::format("the comment names {}, but no program calls it; the cuts that follow run with {}",
                                withNumber(facts.job, *lost.named), f.subject);
        f.help = fmt::format("Add T{} M6 before them, or correct the comment.", lost.named->number);
        relateToJob(facts, f, lost.named->place, toolText(facts.job, lost.named->number) + " is defined here");
      } else {
        f.message = fmt::format(
            "the comment names another bit, but no tool change stands here; the cuts that follow run with {}",
            f.subject);
        f.help = "Add its T and M6 here. If the job file lacks the bit, add it there too. Or correct the comment.";
      }
      findings.push_back(std::move(f));
    }
  }
}

}  // namespace tool_not_called

const Rule tool_not_called_rule{"tool-not-called", Level::look, "A comment names a tool, and no program calls it.",
                                tool_not_called::page, tool_not_called::check};

}  // namespace provecut
