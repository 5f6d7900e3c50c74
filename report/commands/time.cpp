#include "report/commands/time.h"

#include <ostream>

#include "report/commands/console.h"
#include "report/commands/timed_jobs.h"
#include "report/formats/data/time_json.h"
#include "report/formats/text/time_text.h"

namespace provecut {

int runTime(const Options& options) {
  if (options.lines && options.format != Format::json) {
    printError("--lines needs --format json");
    return exit_unusable;
  }
  const auto jobs = timedJobs(options);
  if (!jobs) return exit_unusable;
  const bool written = writeResult(options, [&](std::ostream& out, bool colour) {
    if (options.format == Format::json)
      writeTimeJson(*jobs, options.lines, out);
    else
      writeTimeText(*jobs, colour, out);
  });
  return written ? toldStatusOf(*jobs, options) : exit_unusable;
}

}  // namespace provecut
