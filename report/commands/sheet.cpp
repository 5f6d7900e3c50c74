#include "report/commands/sheet.h"

#include <algorithm>
#include <ostream>

#include "report/commands/console.h"
#include "report/findings/report.h"
#include "report/formats/paper/sheet_page.h"

namespace provecut {

int runSheet(const Options& options) {
  const Loading loading = loadJobFile(options.files.front(), loadOptions(options));
  endProgress(options);
  printErrors(loading.errors);
  if (!loading.facts) return exit_unusable;
  const Report report = makeReport(*loading.facts);
  const std::vector<ProgramFile> files = programFiles(*loading.facts);
  if (!writeResult(options, [&](std::ostream& out, bool) { writeSheet(report, files, out); })) return exit_unusable;
  const auto& programs = loading.facts->programs;
  const bool whole =
      std::all_of(programs.begin(), programs.end(), [](const ProgramFacts& p) { return p.program.read_whole; });
  return whole ? exit_done : exit_found;
}

}  // namespace provecut
