#include "report/commands/shell_help.h"

#include <ostream>

#include "report/commands/console.h"
#include "report/formats/shell/completion.h"
#include "report/formats/shell/man_page.h"

namespace provecut {

int runCompletions(const Options& options) {
  const ProgramHelp help = describeCommandLine();
  const bool written = writeResult(options, [&](std::ostream& out, bool) {
    switch (*options.shell) {
      case Shell::bash:
        return writeBashCompletion(help, out);
      case Shell::zsh:
        return writeZshCompletion(help, out);
      case Shell::fish:
        return writeFishCompletion(help, out);
    }
  });
  return written ? exit_done : exit_unusable;
}

int runManual(const Options& options) {
  const ProgramHelp help = describeCommandLine();
  return writeResult(options, [&](std::ostream& out, bool) { writeManPage(help, out); }) ? exit_done : exit_unusable;
}

}  // namespace provecut
