#include "report/facts/setup_steps.h"

#include <algorithm>
#include <optional>

namespace provecut {

namespace {

std::vector<int> without(const std::vector<int>& all, const std::vector<int>& gone) {
  std::vector<int> left;
  std::copy_if(all.begin(), all.end(), std::back_inserter(left),
               [&](int h) { return std::find(gone.begin(), gone.end(), h) == gone.end(); });
  return left;
}

void widen(double& low, double& high, double value) {
  if (!(value > 0)) return;
  low = low > 0 ? std::min(low, value) : value;
  high = std::max(high, value);
}

std::vector<ToolStretch> stretches(const Program& program, std::optional<int>& in_spindle) {
  std::vector<ToolStretch> list;
  for (const Motion& m : program.motions) {
    if (!moves(m)) continue;
    if (list.empty() || list.back().tool != m.tool) {
      ToolStretch& s = list.emplace_back();
      s.tool = m.tool;
      s.line = m.line;
      s.change_before = in_spindle != m.tool;
      in_spindle = m.tool;
    }
    if (m.kind == MotionKind::rapid) continue;
    widen(list.back().rpm_low, list.back().rpm_high, m.rpm);
    widen(list.back().feed_low_mm_min, list.back().feed_high_mm_min, m.feed_mm_min);
  }
  return list;
}

}  // namespace

std::vector<SetupStep> setupSteps(const Facts& facts, std::size_t setup) {
  std::vector<SetupStep> steps;
  std::optional<int> in_spindle;
  std::vector<int> standing;
  for (std::size_t i = 0; i < facts.programs.size(); ++i) {
    const ProgramFacts& p = facts.programs[i];
    std::vector<ToolStretch> tools = stretches(p.program, in_spindle);
    if (p.setup != &facts.job.setups[setup]) continue;
    SetupStep& step = steps.emplace_back();
    step.program = i;
    step.tools = std::move(tools);
    step.remove = without(standing, p.entry->hold_downs);
    step.fit = without(p.entry->hold_downs, standing);
    standing = p.entry->hold_downs;
  }
  return steps;
}

}  // namespace provecut
