#include "report/commands/resume.h"

#include <algorithm>

#include "report/commands/console.h"
#include "report/formats/text/resume_text.h"

namespace provecut {

int runResume(const Options& options) {
  LoadOptions load = loadOptions(options);
  load.cut = false;
  const Loading loading = loadJobFile(options.files.front(), load);
  endProgress(options);
  printErrors(loading.errors);
  if (!loading.facts) return exit_unusable;
  const Facts& facts = *loading.facts;
  const bool written = writeResult(options, [&](std::ostream& out, bool colour) {
    if (options.format == Format::json) return writeResumeJson(facts, options.before_line, out);
    writeResumeText(facts, options.before_line, colour, out);
  });
  if (!written) return exit_unusable;
  const bool whole = std::all_of(facts.programs.begin(), facts.programs.end(),
                                 [](const ProgramFacts& p) { return p.program.read_whole; });
  return whole ? exit_done : exit_found;
}

}  // namespace provecut
