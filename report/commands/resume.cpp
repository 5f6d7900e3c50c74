#include "report/commands/resume.h"

#include "report/commands/console.h"
#include "report/commands/inputs.h"
#include "report/formats/data/resume_json.h"
#include "report/formats/text/resume_text.h"

namespace provecut {

int runResume(const Options& options) {
  LoadOptions load = loadOptions(options);
  load.cut = false;
  load.resume_line = options.before_line.value_or(0);
  const Loading loading = loadAndTell(options.files.front(), options, load);
  if (!loading.facts) return exit_unusable;
  const Facts& facts = *loading.facts;
  const bool written = writeResult(options, [&](std::ostream& out, bool colour) {
    if (options.format == Format::json) return writeResumeJson(facts, options.before_line, out);
    writeResumeText(facts, options.before_line, colour, out);
  });
  return written ? toldStatusOfReading(facts, "list of lines") : exit_unusable;
}

}  // namespace provecut
