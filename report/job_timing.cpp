#include "report/job_timing.h"

#include <utility>

namespace provecut {
namespace {

MachineFit fitMachine(const Facts& facts, const std::vector<Program>& programs) {
  MachineFit fit;
  std::vector<MeasuredRun> runs;
  for (const Measured& m : facts.job.machine.measured) {
    bool found = false;
    int in_spindle = 0;
    for (std::size_t i = 0; i < programs.size() && !found; ++i) {
      const ProgramEntry& entry = *facts.programs[i].entry;
      if (entry.tool != 0) in_spindle = entry.tool;
      if (entry.file != m.program || programs[i].motions.empty()) continue;
      found = true;
      runs.push_back({&programs[i], in_spindle, m.seconds});
      fit.programs.push_back(m.program);
      fit.measured_s.push_back(m.seconds);
    }
    if (!found) fit.left_out.push_back(m.program);
  }
  fit.clock = fitClock(runs, facts.job.machine);
  return fit;
}

}  // namespace

JobTiming timeJob(std::unique_ptr<Facts> facts, double feed_override, bool fit) {
  JobTiming timing;
  timing.facts = std::move(facts);
  for (ProgramFacts& p : timing.facts->programs) {
    if (!p.program.read_whole) timing.not_read.push_back(p.entry->file);
    timing.programs.push_back(std::move(p.program));
  }
  JobClockOptions options;
  options.feed_override = feed_override;
  timing.report = timeReport(timing.facts->job, timing.programs, options, timing.facts->run.programs);
  if (fit) timing.fit = fitMachine(*timing.facts, timing.programs);
  return timing;
}

}  // namespace provecut
