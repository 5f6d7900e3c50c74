#include "report/commands/sheet.h"

#include <ostream>

#include "report/commands/console.h"
#include "report/commands/inputs.h"
#include "report/formats/paper/sheet_page.h"

namespace provecut {

int runSheet(const Options& options) {
  LoadOptions load = loadOptions(options);
  load.read_lock = true;
  const Loading loading = loadAndTell(options.files.front(), options, load);
  if (!loading.facts) return exit_unusable;
  const Report report = checkedReport(*loading.facts);
  const std::vector<ProgramFile> files = programFiles(*loading.facts);
  const bool written = writeResult(options, [&](std::ostream& out, bool) { writeSheet(report, files, out); });
  return written ? toldStatusOfReading(*loading.facts, "sheet") : exit_unusable;
}

}  // namespace provecut
