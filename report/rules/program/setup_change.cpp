#include <fmt/core.h>

#include "parser/base/quoted_text.h"
#include "report/facts/setup_changes.h"
#include "report/facts/setup_words.h"
#include "report/rules/list.h"
#include "report/rules/shared/grouping.h"

namespace provecut {

namespace setup_change {

constexpr std::string_view page = R"(## What it finds

Between two cuts, beside a stop (M0, M1, M60) or another work offset (G54 to G59.3), a comment says that the stock is
turned over or moved: "flip", "turn the part", "other side", "setup 2"; another operation with a zero of its own ("OP 2",
"G54 FRONT-LEFT"); or a zero at another corner than before.

## Why it matters

A program in the job file has one setup: one zero, one side up, one set of hold-downs. What comes after the change was
checked in the wrong one. Hits can be missed, and findings of the other setups may be wrong.

## Example

    M0
    (OP 2)
    (G54 FRONT-LEFT-TOP)

## What to do

Split the program at the stop, and describe both setups in the job file. If the comment means something else, accept
this finding: then all of the program is judged in its setup.

## What `amount` is

There is none. `moves` is how many such changes the program has.

## Source

What people and CAM programs write into comments: common practice, no published source.
)";

void check(const Facts& facts, std::vector<Finding>& findings) {
  for (std::size_t i = 0; i < facts.programs.size(); ++i) {
    const ProgramFacts& p = facts.programs[i];
    const std::vector<SetupChange> changes = setupChanges(p);
    if (changes.empty()) continue;
    const SetupChange& first = changes.front();
    Finding f = placeFinding(facts, i, setup_change_rule, first.comment);
    f.moves = static_cast<std::uint32_t>(changes.size());
    f.last_line = changes.back().comment.line;
    const std::string_view line = p.line(first.comment.line);
    const std::string said =
        shownText(line.substr(first.comment.column - 1, first.comment.end_column - first.comment.column));
    f.message = fmt::format("the comment {} begins another setup {}; all of the program was checked in {}", said,
                            first.by_stop ? "at a stop" : "with another work offset", setupText(*p.setup));
    f.help = fmt::format(
        "Split the program {} line {}, and give each half a setup of its own in the job file, with its zero, side and "
        "hold-downs.",
        first.by_stop ? "after" : "before", first.stop.line);
    const std::string file = p.entry ? p.entry->file : std::string();
    f.related.push_back(
        {file, shownPlace(p, first.stop), first.by_stop ? "the stop is here" : "the work offset is here"});
    for (std::size_t k = 1; k < changes.size() && k <= repeats_kept; ++k)
      f.related.push_back({file, shownPlace(p, changes[k].comment), std::string(same_here)});
    findings.push_back(std::move(f));
  }
}

}  // namespace setup_change

const Rule setup_change_rule{"setup-change", Level::look,
                             "A comment in the program begins another setup; the job file has one for all of it.",
                             setup_change::page, setup_change::check};

}  // namespace provecut
