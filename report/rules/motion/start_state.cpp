#include <fmt/core.h>

#include <algorithm>

#include "report/rules/list.h"
#include "report/rules/shared/grouping.h"

namespace provecut {

namespace start_state {

constexpr std::string_view page = R"(## What it finds

A program moves before it sets the unit (G20, G21), absolute or incremental distances (G90, G91), or the plane of its
arcs (G17). The plane of canned cycles counts only in a job with a program in another plane (G18, G19). A plane alone, where
no program has another one, is a note: machines start in G17. Moves in machine
coordinates (G28, G53) rest on none of these.

## Why it matters

The machine then uses whatever the last program or a reset left behind. In the wrong unit everything is 25.4 times too
large or too small. In G91 every coordinate is a step.

## Example

    M3 S18000
    G0 X20 Y20
    G1 Z-3 F300

Neither G21 nor G90 comes before the first move.

## What to do

Put the words from the finding at the top of the program.

## What `amount` is

There is none.

## Source

NISTIR 6556 3.4: a modal word stays in force until another of its group. It does not say what a machine starts with.
)";

void check(const Facts& facts, std::vector<Finding>& findings) {
  const bool other_plane = std::any_of(facts.programs.begin(), facts.programs.end(),
                                       [](const ProgramFacts& p) { return p.program.modal.ever_other_plane; });
  for (std::size_t i = 0; i < facts.programs.size(); ++i) {
    const ModalUse& modal = facts.programs[i].program.modal;
    std::vector<std::string> relied, words;
    if (modal.units_used) {
      relied.push_back("the unit (read as mm)");
      words.push_back("G21 (or G20 if it is in inches)");
    }
    if (modal.distance_used) {
      relied.push_back("absolute distances (G90)");
      words.push_back("G90");
    }
    const std::vector<Motion>& motions = facts.programs[i].program.motions;
    if (modal.plane_used && (other_plane || std::any_of(motions.begin(), motions.end(), isArc))) {
      relied.push_back("the XY plane (G17)");
      words.push_back("G17");
    }
    if (relied.empty()) continue;
    Finding f = placeFinding(facts, i, start_state_rule, modal.first_use);
    f.message = fmt::format("moves before it sets {}", listText(relied));
    f.help = fmt::format("Put {} before this line.", listText(words));
    if (!modal.units_used && !modal.distance_used && !other_plane) f.level = Level::note;
    findings.push_back(std::move(f));
  }
}

}  // namespace start_state

const Rule start_state_rule{"start-state", Level::look,
                            "The program moves before it sets unit, distance mode or plane.", start_state::page,
                            start_state::check};

}  // namespace provecut
