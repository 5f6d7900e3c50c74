#include "report/commands/timed_jobs.h"

#include <algorithm>
#include <utility>

#include "parser/job/machine_profiles.h"
#include "parser/job_file/job_file.h"
#include "report/commands/console.h"
#include "report/commands/inputs.h"
#include "report/facts/load.h"

namespace provecut {
namespace {

Loading loadPrograms(const std::vector<std::string>& files, const LoadOptions& options) {
  constexpr std::string_view profile = "bench-screw";
  Job job;
  for (const Machine& m : machineProfiles())
    if (m.profile == profile) job.machine = m;
  Setup& setup = job.setups.emplace_back();
  setup.name = "programs";
  for (const std::string& file : files) setup.programs.emplace_back().file = file;
  return loadJob(std::move(job), {"no job file, so the machine is the built-in \"" + std::string(profile) + "\""},
                 options);
}

}  // namespace

std::optional<std::vector<JobTiming>> timedJobs(const Options& options) {
  LoadOptions load = loadOptions(options);
  std::vector<Loading> loadings;
  if (!jobFilesOrPrograms(options.files)) return std::nullopt;
  if (isJobFileName(options.files.front())) {
    for (const std::string& file : options.files) loadings.push_back(loadJobFile(file, load));
  } else {
    load.cut = false;  // no stock is known
    loadings.push_back(loadPrograms(options.files, load));
  }
  endProgress(options);
  bool usable = true;
  for (const Loading& loading : loadings) {
    printErrors(loading.errors);
    usable = usable && loading.facts;
  }
  if (!usable) return std::nullopt;
  std::vector<JobTiming> jobs;
  for (Loading& loading : loadings) {
    std::vector<std::string> assumed = loading.facts->assumed;
    JobTiming& job = jobs.emplace_back(timeJob(std::move(loading.facts), options.feed_override, options.fit));
    clock::TimeAssumptions& a = job.report.assumptions;
    a.time.insert(a.time.begin(), assumed.begin(), assumed.end());
  }
  return jobs;
}

int toldStatusOf(const std::vector<JobTiming>& jobs, const Options& options) {
  int status = exit_done;
  for (const JobTiming& job : jobs) {
    if (job.too_short.empty()) continue;
    status = exit_found;
    if (resultIsShown(options)) continue;
    for (const std::string& why : job.too_short) printError("the time is too short: " + visibleText(why));
  }
  return status;
}

}  // namespace provecut
