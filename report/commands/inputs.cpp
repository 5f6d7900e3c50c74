#include "report/commands/inputs.h"

#include <algorithm>

#include "parser/job_file/job_file.h"
#include "report/commands/console.h"
#include "report/rules/rule.h"

namespace provecut {

bool jobFilesOrPrograms(const std::vector<std::string>& files) {
  const bool some = std::any_of(files.begin(), files.end(), isJobFileName);
  if (!some || std::all_of(files.begin(), files.end(), isJobFileName)) return true;
  printError("give job files or programs, not both");
  return false;
}

Loading loadAndTell(const std::string& job_file, const Options& options, const LoadOptions& load) {
  Loading loading = loadJobFile(job_file, load);
  endProgress(options);
  printErrors(loading.errors);
  return loading;
}

Report checkedReport(const Facts& facts) {
  Report report;
  logStage(
      "rules", [&] { report = makeReport(facts); }, [] { return allRules().size(); }, "rules");
  return report;
}

int statusOfReading(const Facts& facts) {
  const bool whole = std::all_of(facts.programs.begin(), facts.programs.end(),
                                 [](const ProgramFacts& p) { return p.program.read_whole; });
  return whole ? exit_done : exit_found;
}

}  // namespace provecut
