#include "report/commands/inputs.h"

#include <algorithm>

#include "report/commands/console.h"
#include "report/rules/rule.h"

namespace provecut {

bool isJobFile(std::string_view name) {
  constexpr std::string_view ending = ".toml";
  if (name.size() < ending.size()) return false;
  name.remove_prefix(name.size() - ending.size());
  return std::equal(name.begin(), name.end(), ending.begin(),
                    [](char a, char b) { return (a >= 'A' && a <= 'Z' ? a + 32 : a) == b; });
}

bool jobFilesOrPrograms(const std::vector<std::string>& files) {
  const bool some = std::any_of(files.begin(), files.end(), isJobFile);
  if (!some || std::all_of(files.begin(), files.end(), isJobFile)) return true;
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
