#include "report/commands/inputs.h"

#include <algorithm>
#include <filesystem>
#include <system_error>

#include "parser/job_file/job_file.h"
#include "parser/job_file/lock_file.h"
#include "report/base/visible_text.h"
#include "report/causes/likely_causes.h"
#include "report/commands/console.h"
#include "report/rules/rule.h"

namespace provecut {

namespace {

bool isFolder(const std::string& file) {
  std::error_code error;
  return std::filesystem::is_directory(file, error);
}

// After saying so on standard error.
bool isLockFile(const std::string& file) {
  if (!file.ends_with(".lock")) return false;
  printError(visibleText(file) + " is a lock file; give its job file (.toml)");
  return true;
}

// The programs and the lock of the job are not its report's to replace.
bool replacesItsInputs(const Options& options, const std::string& job_file, const Facts& facts) {
  if (refusesToReplace(options.output, lockFileOf(job_file))) return true;
  const std::filesystem::path folder = std::filesystem::path(job_file).parent_path();
  return std::any_of(facts.programs.begin(), facts.programs.end(), [&](const ProgramFacts& p) {
    return p.entry && refusesToReplace(options.output, folder / p.entry->file);
  });
}

}  // namespace

bool jobFilesOrPrograms(const std::vector<std::string>& files) {
  for (const std::string& file : files) {
    if (isLockFile(file)) return false;
    if (isJobFileName(file) || !isFolder(file)) continue;  // reading a job file says so itself
    printError(visibleText(file) + " is a folder; give a job file or programs");
    return false;
  }
  const bool some = std::any_of(files.begin(), files.end(), isJobFileName);
  if (!some || std::all_of(files.begin(), files.end(), isJobFileName)) return true;
  printError("give job files or programs, not both");
  return false;
}

bool isJobFile(const std::string& file) {
  if (isJobFileName(file)) return true;
  if (isLockFile(file)) return false;
  const std::string name = visibleText(file);
  if (isFolder(file)) {
    printError(name + " is a folder; give a job file (.toml)");
    return false;
  }
  printError(name + " is not a job file (.toml). To write a first one: provecut init " + name + " --output job.toml");
  return false;
}

bool isProgram(const std::string& file, std::string_view needs) {
  if (!isJobFileName(file)) return true;
  printError(visibleText(file) + " is a job file; " + std::string(needs));
  return false;
}

Loading loadAndTell(const std::string& job_file, const Options& options, const LoadOptions& load) {
  if (!isJobFile(job_file)) return {};
  Loading loading = loadJobFile(job_file, load);
  endProgress(options);
  printErrors(loading.errors);
  if (loading.facts && replacesItsInputs(options, job_file, *loading.facts)) loading.facts.reset();
  return loading;
}

Report checkedReport(const Facts& facts) {
  Report report;
  logStage(
      "rules", [&] { report = makeReport(facts); }, [] { return allRules().size(); }, "rules");
  return report;
}

void lookForCauses(Report& report, const LoadOptions& load) {
  logStage(
      "causes", [&] { addLikelyCauses(report, load); }, [&] { return report.likely_causes.size(); }, "likely causes");
}

int toldStatusOfReading(const Facts& facts, std::string_view result) {
  const int status = statusOfReading(facts);
  if (status != exit_done)
    printError("a program could not be read completely, so the " + std::string(result) +
               " is incomplete. Run provecut check.");
  return status;
}

int statusOfReading(const Facts& facts) {
  const bool whole = std::all_of(facts.programs.begin(), facts.programs.end(),
                                 [](const ProgramFacts& p) { return p.program.read_whole; });
  return whole ? exit_done : exit_found;
}

}  // namespace provecut
