#include <fmt/core.h>

#include <algorithm>
#include <map>

#include "report/facts/measures.h"
#include "report/rules/list.h"
#include "report/rules/shared/commented_tools.h"
#include "report/rules/shared/grouping.h"

namespace provecut {

namespace tool_unknown {

constexpr std::string_view page = R"(## What it finds

A program cuts with a tool number that the job file does not define, or with no tool known to be in the spindle.

## Why it matters

Without the tool's shape provecut cannot tell what it cuts, what it hits or what it cuts loose. None of these moves is
checked.

## Example

    T5 M6
    M3 S18000
    G1 Z-3 F300

with no `[[tool]]` number 5 in the job file.

## What to do

Add the tool to the job file. Or give the program's entry the `tool` that is in the spindle when it starts.

## What `amount` is

There is none.

## Source

NISTIR 6556 3.6 and 3.7 (M6 and T).
)";

void check(const Facts& facts, std::vector<Finding>& findings) {
  const bool no_job_file = facts.job.file.empty();
  for (std::size_t i = 0; i < facts.programs.size(); ++i) {
    const ProgramFacts& p = facts.programs[i];
    const std::vector<Motion>& motions = p.program.motions;
    const auto mismatch = numberMismatch(p.program);
    std::map<int, std::vector<Occurrence>> by_tool;
    for (std::uint32_t m = 0; m < motions.size(); ++m) {
      const Motion& motion = motions[m];
      if (!moves(motion) || findTool(facts.job, motion.tool)) continue;
      // Before the first tool change rapids may well run with nothing known to be in the spindle.
      if (motion.tool == 0 && motion.kind == MotionKind::rapid) continue;
      by_tool[motion.tool].push_back({m, 0, motion.start});
    }
    for (const auto& [number, met] : by_tool) {
      Finding f = groupFinding(facts, i, tool_unknown_rule, met);
      if (number == 0) {
        f.message = "no tool is known to be in the spindle, so these moves were not checked";
        f.help = no_job_file ? "Put T and M6 before this move. With a job file, its `tool` can be given there."
                             : "Give this program its `tool` in the job file, or put T and M6 before this move.";
        if (p.entry) relateToJob(facts, f, p.entry->place, "this program is listed here");
      } else {
        f.subject = toolText(facts.job, number);
        f.message = fmt::format("{} is not {}, so none of its moves were checked", f.subject,
                                no_job_file ? "among the tools given" : "in the job file");
        f.help = no_job_file
                     ? fmt::format("Add --tool {0}=SHAPE,DIAMETER, for example --tool {0}=flat,6mm.", number)
                     : fmt::format("Add a [[tool]] with number = {} to the job file, or change the program's T word.",
                                   number);
        if (mismatch && mismatch->called == number)
          f.help += fmt::format(" Its comments describe tool {}: is that one meant?", mismatch->described);
        const auto change = std::find_if(p.program.events.begin(), p.program.events.end(), [&](const Event& e) {
          return e.kind == EventKind::tool_change && e.value == number && e.before_motion <= met.front().move;
        });
        if (change != p.program.events.end() && change->place.line > 0) {
          f.place = shownPlace(p, change->place);
          f.at.reset();
        } else if (p.entry) {
          relateToJob(facts, f, p.entry->place, "this program's tool is set here");
        }
      }
      findings.push_back(std::move(f));
    }
  }
}

}  // namespace tool_unknown

const Rule tool_unknown_rule{"tool-unknown", Level::stop,
                             "A program cuts with a tool that the job file does not define.", tool_unknown::page,
                             tool_unknown::check};

}  // namespace provecut
