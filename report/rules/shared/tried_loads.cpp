#include "report/rules/shared/tried_loads.h"

#include <algorithm>
#include <array>
#include <set>
#include <string>
#include <utility>

#include "report/facts/measures.h"
#include "report/rules/list.h"
#include "report/rules/shared/moves_by_tool.h"
#include "sim/clock/clock.h"
#include "sim/load/move_load.h"
#include "sim/tool/cutter.h"

namespace provecut {

namespace {

constexpr std::array load_rules{&chip_load_rule,      &chip_thin_rule,         &power_rule,     &cutter_deflection_rule,
                                &feed_over_rule,      &plunge_fast_rule,       &feed_slip_rule, &spindle_range_rule,
                                &tool_overspeed_rule, &cut_at_plunge_feed_rule};

using Fault = std::pair<std::string, std::string>;  // rule and subject

// Several tools beyond one limit of the spindle are one finding.
Fault faultOf(const Job& job, const Finding& f) {
  if (f.rule != spindle_range_rule.id) return {f.rule, f.subject};
  return {f.rule, f.amount && *f.amount > job.machine.spindle_rpm_max ? "fast" : "slow"};
}

std::set<Fault> faultsOf(const Facts& facts) {
  std::set<Fault> faults;
  std::vector<Finding> findings;
  for (const Rule* rule : load_rules) rule->check(facts, findings);
  for (const Finding& f : findings) faults.insert(faultOf(facts.job, f));
  return faults;
}

// One program alone, with what it takes from the stock.
Facts alone(const Facts& facts, std::size_t program) {
  Facts one;
  one.job = facts.job;
  one.advice_is_tried = true;
  ProgramFacts& p = one.programs.emplace_back();
  p.setup = facts.programs[program].setup;
  p.entry = facts.programs[program].entry;
  p.program = facts.programs[program].program;
  ProgramRun& run = one.run.programs.emplace_back();
  run.cuts = facts.run.programs[program].cuts;
  run.loads = facts.run.programs[program].loads;
  return one;
}

bool onLines(const std::vector<LineSpan>& spans, std::uint32_t line) {
  return std::any_of(spans.begin(), spans.end(), [&](const LineSpan& s) { return line >= s.first && line <= s.last; });
}

bool change(Facts& one, const Finding& finding, const AdvisedChange& c) {
  const auto tool =
      std::find_if(one.job.tools.begin(), one.job.tools.end(), [&](const Tool& t) { return t.number == c.tool; });
  const auto meant = [&](const Motion& m) {
    if (c.tool != 0 && m.tool != c.tool) return false;
    return c.lines.empty() ? onLines(finding.lines, m.line)
                           : std::find(c.lines.begin(), c.lines.end(), m.line) != c.lines.end();
  };
  std::vector<Motion>& motions = one.programs.front().program.motions;
  switch (c.kind) {
    case ChangeKind::speed:
      for (Motion& m : motions) {
        if (m.tool == c.tool && m.rpm > 0) m.rpm = static_cast<float>(c.value);
      }
      return true;
    case ChangeKind::feed:
    case ChangeKind::plunge_feed:
      for (Motion& m : motions) {
        if (feeds(m) && meant(m)) m.feed_mm_min = static_cast<float>(c.value);
      }
      return true;
    case ChangeKind::feeds_share:
      for (Motion& m : motions) {
        if (feeds(m) && m.tool == c.tool) m.feed_mm_min *= static_cast<float>(c.value);
      }
      return true;
    case ChangeKind::stickout:
      if (tool == one.job.tools.end()) return false;
      tool->stickout_mm = c.value;
      return true;
    case ChangeKind::flute_length:
      if (tool == one.job.tools.end()) return false;
      tool->flute_length_mm = c.value;
      return true;
    case ChangeKind::cross_at:
    case ChangeKind::end_rapid_at:
    case ChangeKind::cycle_r:
    case ChangeKind::retract_before:
    case ChangeKind::lowest_z:
    case ChangeKind::stepdown:
    case ChangeKind::peck:
    case ChangeKind::down_to:
    case ChangeKind::feed_there:
    case ChangeKind::hold_down_at:
    case ChangeKind::hold_down_off:
    case ChangeKind::allowed_cut:
    case ChangeKind::zero_x:
    case ChangeKind::zero_y:
    case ChangeKind::zero_z:
      break;
  }
  return false;
}

void workOut(Facts& one) {
  ProgramFacts& p = one.programs.front();
  clock::PlanOptions options;
  options.tool_in_spindle = p.entry ? p.entry->tool : 0;
  options.approach_as_rapid = true;
  options.keep_peaks = true;
  const clock::Plan plan = clock::plan(p.program, one.job.machine, options);
  ProgramRun& run = one.run.programs.front();
  run.loads = moveLoads(one.job, makeCutters(one.job), p.program.motions, run.cuts, plan);
}

}  // namespace

bool provenByLoads(const Facts& facts, const Finding& finding, const std::vector<AdvisedChange>& way,
                   const Rule* hidden) {
  if (facts.advice_is_tried) return true;
  const auto program = static_cast<std::size_t>(finding.program_order);
  if (finding.program_order < 0 || program >= facts.run.programs.size()) return false;
  Facts one = alone(facts, program);
  std::set<Fault> before = faultsOf(one);
  if (hidden) before.emplace(hidden->id, finding.subject);
  for (const AdvisedChange& c : way) {
    if (!change(one, finding, c)) return false;
  }
  workOut(one);
  const std::set<Fault> after = faultsOf(one);
  return !after.contains(faultOf(facts.job, finding)) &&
         std::includes(before.begin(), before.end(), after.begin(), after.end());
}

std::optional<double> firstProven(const Facts& facts, const Finding& finding, AdvisedChange change,
                                  const std::vector<double>& values) {
  for (const double value : values) {
    change.value = value;
    if (provenByLoads(facts, finding, {change})) return value;
  }
  return std::nullopt;
}

}  // namespace provecut
