#include "report/rules/shared/moves_by_tool.h"

#include <algorithm>

#include "report/facts/measures.h"

namespace provecut {

const ToolBody& ToolBodies::of(const Tool& tool) {
  const auto [at, added] = by_number_.try_emplace(tool.number);
  if (added) at->second = toolBody(tool, job_.collet_nut, job_.spindle_attachments);
  return at->second;
}

bool feeds(const Motion& motion) {
  return motion.kind == MotionKind::feed || isArc(motion);
}

std::map<int, std::vector<Occurrence>> movesByTool(const Facts& facts, std::size_t program, const Judge& judge,
                                                   const std::function<bool(const Tool&)>& concerns) {
  std::map<int, std::vector<Occurrence>> by_tool;
  const std::vector<Tool>& tools = facts.job.tools;
  if (concerns && std::none_of(tools.begin(), tools.end(), concerns)) return by_tool;
  const std::vector<Motion>& motions = facts.programs[program].program.motions;
  const Tool* tool = nullptr;
  for (std::uint32_t m = 0; m < motions.size(); ++m) {
    if (!tool || tool->number != motions[m].tool) tool = findTool(facts.job, motions[m].tool);
    if (!tool || (concerns && !concerns(*tool))) continue;
    const std::optional<double> amount = judge({program, m, motions[m], *tool});
    if (amount) by_tool[tool->number].push_back({m, *amount, lowestTip(motions[m])});
  }
  return by_tool;
}

Finding toolFinding(const Facts& facts, std::size_t program, const Rule& rule, int number,
                    const std::vector<Occurrence>& occurrences, Worst worst, Quantity quantity) {
  Finding f = groupFinding(facts, program, rule, occurrences, worst, quantity);
  f.subject = toolText(facts.job, number);
  if (const Tool* tool = findTool(facts.job, number)) {
    relateToJob(facts, f, tool->place, f.subject + " is defined here");
  }
  return f;
}

}  // namespace provecut
