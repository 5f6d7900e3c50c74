#include "report/costing/job_timing.h"

#include <algorithm>
#include <filesystem>
#include <set>
#include <string>
#include <utility>

#include "report/base/visible_text.h"
#include "report/facts/job_programs.h"

namespace provecut {
namespace {

// The name in the job of the program that a measured time is of: that very name, else that of the only program whose
// file name it is without its folder; empty for none.
std::string measuredProgram(const Facts& facts, const std::string& name) {
  std::set<std::string> in_a_folder;
  for (const ProgramFacts& p : facts.programs) {
    if (p.entry->file == name) return name;
    if (std::filesystem::path(p.entry->file).filename() == name) in_a_folder.insert(p.entry->file);
  }
  return in_a_folder.size() == 1 ? *in_a_folder.begin() : std::string();
}

MachineFit fitMachine(const Facts& facts, const Programs& programs, double feed_override) {
  MachineFit fit;
  std::vector<clock::MeasuredRun> runs;
  for (const Measured& m : facts.job.machine.measured) {
    const std::string file = measuredProgram(facts, m.program);
    bool found = false;
    int in_spindle = 0;
    for (std::size_t i = 0; i < programs.size() && !found; ++i) {
      const ProgramEntry& entry = *facts.programs[i].entry;
      if (entry.tool != 0) in_spindle = entry.tool;
      if (entry.file != file || programs[i].motions.empty()) continue;
      found = true;
      runs.push_back({&programs[i], in_spindle, m.seconds});
      fit.programs.push_back(m.program);
      fit.measured_s.push_back(m.seconds);
    }
    if (!found) fit.left_out.push_back(m.program);
  }
  fit.clock = clock::fitClock(runs, facts.job.machine, feed_override);
  return fit;
}

bool feedsWithoutFeed(const Program& program) {
  return std::any_of(program.motions.begin(), program.motions.end(), [](const Motion& m) {
    const bool feeds = m.kind != MotionKind::rapid && m.kind != MotionKind::dwell;
    return feeds && !(m.feed_mm_min > 0) && !(m.start == m.end && !isArc(m));
  });
}

// Whether moves at a feed go on from a position that is never set, as under G91 throughout: how far they go is not
// known.
bool feedsFromUnknown(const Program& program) {
  constexpr auto axes = 3;  // once each, a feed move may set where it is along an axis
  return std::count_if(program.motions.begin(), program.motions.end(), [](const Motion& m) {
           return m.kind != MotionKind::rapid && m.kind != MotionKind::dwell && (m.flags & motion_approach) != 0;
         }) > axes;
}

}  // namespace

std::vector<std::string> timesTooShort(const Facts& facts) {
  std::vector<std::string> why;
  for (const ProgramFacts& p : facts.programs) {
    if (!p.program.read_whole) why.push_back(p.entry->file + " could not be read completely");
    if (feedsWithoutFeed(p.program)) why.push_back(p.entry->file + " has cutting moves with no feed rate set");
    if (feedsFromUnknown(p.program)) why.push_back(p.entry->file + " has cutting moves from a position it never sets");
  }
  return why;
}

clock::TimeAssumptions simulatedAssumptions(const Facts& facts) {
  return clock::timeAssumptions(facts.job, programsOf(facts));
}

Quotation simulatedQuotation(const Facts& facts) {
  Quotation q = quotation(*facts.job.quote, facts.job.setups.size(), jobTime(facts.run.programs));
  q.currency = visibleText(q.currency);
  for (const std::string& why : timesTooShort(facts))
    q.assumptions.push_back(visibleText(why) + ", so the time and the price are too low.");
  return q;
}

JobTiming timeJob(std::unique_ptr<Facts> facts, double feed_override, bool fit) {
  JobTiming timing;
  timing.facts = std::move(facts);
  timing.too_short = timesTooShort(*timing.facts);
  const Programs programs = programsOf(*timing.facts);
  clock::JobClockOptions options;
  options.feed_override = feed_override;
  timing.report = clock::timeReport(timing.facts->job, programs, options, timing.facts->run.programs);
  if (fit) timing.fit = fitMachine(*timing.facts, programs, feed_override);
  return timing;
}

}  // namespace provecut
