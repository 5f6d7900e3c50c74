#include <fmt/core.h>

#include "report/rules/list.h"
#include "report/rules/shared/moves_by_tool.h"

namespace provecut {

namespace tool_change_unstopped {

constexpr std::string_view page = R"(## What it finds

A program calls another tool (T) after it has begun to cut, but has no M6 and no program stop (M0, M1) to change the
bit.

## Why it matters

On most machines a T word alone does nothing. The program goes on with the old bit, at the new bit's depths and with
the new bit's length.

## Example

    G0 Z40
    T2
    G0 X20 Y20

## What to do

Put M6 after the T word or M0 before it, and set Z zero again for the new bit. Or make one program per tool.

## What `amount` is

There is none.

## Source

NISTIR 6556 3.6 and 3.7: T selects a tool, M6 changes it.
)";

bool cutsBefore(const Program& program, std::uint32_t motion) {
  for (std::uint32_t m = 0; m < motion && m < program.motions.size(); ++m) {
    if (feeds(program.motions[m])) return true;
  }
  return false;
}

void check(const Facts& facts, std::vector<Finding>& findings) {
  for (std::size_t i = 0; i < facts.programs.size(); ++i) {
    const ProgramFacts& p = facts.programs[i];
    const Program& program = p.program;
    for (const Event& change : program.events) {
      if (change.kind != EventKind::tool_change || change.before_motion >= program.motions.size()) continue;
      const std::string_view line = p.line(change.place.line);
      // The place is M6's where there is one.
      const std::size_t at = change.place.column > 0 ? change.place.column - 1 : 0;
      if (at >= line.size() || (line[at] != 'T' && line[at] != 't')) continue;
      const int before = change.before_motion > 0 ? program.motions[change.before_motion - 1].tool : 0;
      if (before == 0 || before == static_cast<int>(change.value) || !cutsBefore(program, change.before_motion))
        continue;
      bool stops = false;
      for (const Event& stop : program.events) {
        const bool halts = stop.kind == EventKind::stop || stop.kind == EventKind::optional_stop;
        if (halts && (stop.before_motion == change.before_motion || stop.before_motion + 1 == change.before_motion))
          stops = true;
      }
      if (stops) continue;
      Finding f = placeFinding(facts, i, tool_change_unstopped_rule, change.place);
      f.subject = toolText(facts.job, static_cast<int>(change.value));
      f.message = fmt::format("the program calls {} with a T word alone and does not stop for the change", f.subject);
      f.help = fmt::format("Put M6 after this T word or M0 before it, and set Z zero again for {}.", f.subject);
      findings.push_back(std::move(f));
    }
  }
}

}  // namespace tool_change_unstopped

const Rule tool_change_unstopped_rule{"tool-change-unstopped", Level::look,
                                      "The program calls another tool but does not stop to change it.",
                                      tool_change_unstopped::page, tool_change_unstopped::check};

}  // namespace provecut
