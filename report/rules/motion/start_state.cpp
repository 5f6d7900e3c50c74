#include "report/rules/list.h"
#include "report/rules/shared/grouping.h"

namespace provecut {

namespace {

constexpr std::string_view page = R"(## What it finds

A program whose moves rely on a modal word that it never set before them: the unit (G20, G21), absolute or incremental distance
(G90, G91), or the plane of its arcs and cycles (G17, G18, G19).

## Why it matters

The machine then uses what the program before it, or a reset, left behind. In the wrong unit everything is 25.4 times too large or
too small; in G91 every coordinate is a step.

## Example

    M3 S18000
    G0 X20 Y20
    G1 Z-3 F300

Neither G21 nor G90 stands before the first move.

## What to do

Write the words that the finding names at the top of the program.

## What `amount` is

There is none.

## Source

NISTIR 6556 3.4 has modal words stay in force until another of their group; what a machine starts with it does not fix.
)";

void check(const Facts& facts, std::vector<Finding>& findings) {
  for (std::size_t i = 0; i < facts.programs.size(); ++i) {
    const ModalUse& modal = facts.programs[i].program.modal;
    std::vector<std::string> relied, words;
    if (modal.units_used) {
      relied.push_back("the unit (read as mm)");
      words.push_back("G21 (or G20 if it is in inches)");
    }
    if (modal.distance_used) {
      relied.push_back("absolute distances");
      words.push_back("G90");
    }
    if (modal.plane_used) {
      relied.push_back("the XY plane");
      words.push_back("G17");
    }
    if (relied.empty()) continue;
    Finding f = placeFinding(facts, i, start_state_rule, modal.first_use);
    f.message = "moves before the program has set " + listText(relied);
    f.help = "Put " + listText(words) + " before this line.";
    findings.push_back(std::move(f));
  }
}

}  // namespace

const Rule start_state_rule{"start-state", Level::look, "The program relies on a modal state that it never set.", page,
                            check};

}  // namespace provecut
