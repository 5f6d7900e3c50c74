#include "report/commands/export_engagement.h"

#include <filesystem>
#include <ostream>
#include <string>
#include <vector>

#include "report/base/visible_text.h"
#include "report/commands/console.h"
#include "report/commands/inputs.h"
#include "report/formats/data/engagement_csv.h"

namespace provecut {

namespace {

// The programs of the job with this path or file name; all of them where no name is given.
std::vector<std::size_t> meant(const Facts& facts, const std::string& name) {
  std::vector<std::size_t> found;
  for (std::size_t i = 0; i < facts.programs.size(); ++i) {
    const std::string& file = facts.programs[i].entry->file;
    if (name.empty() || file == name || std::filesystem::path(file).filename() == name) found.push_back(i);
  }
  return found;
}

}  // namespace

int runExportEngagement(const Options& options) {
  const std::string& job_file = options.engagement_of.front();
  const std::string program = options.engagement_of.size() > 1 ? options.engagement_of[1] : std::string();
  const Loading loading = loadAndTell(job_file, options, loadOptions(options));
  if (!loading.facts) return exit_unusable;
  const Facts& facts = *loading.facts;
  const std::vector<std::size_t> programs = meant(facts, program);
  if (programs.empty()) {
    printError(visibleText(job_file) + " has no program \"" + visibleText(program) + "\"");
    return exit_unusable;
  }
  const bool written = writeResult(options, [&](std::ostream& out, bool) {
    writeEngagementHeader(out);
    for (const std::size_t i : programs) writeEngagement(facts, i, out);
  });
  if (!written) return exit_unusable;
  bool whole = true;
  for (const std::size_t i : programs) whole = whole && facts.programs[i].program.read_whole;
  if (!whole) printError("a program could not be read completely, so the export is incomplete. Run provecut check.");
  return whole ? exit_done : exit_found;
}

}  // namespace provecut
