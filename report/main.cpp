// Only dispatches: each command has its own file in report/commands/.
#if __has_include(<malloc.h>)
#include <malloc.h>
#endif

#include <exception>
#include <fstream>
#include <iostream>
#include <new>

#include "report/command_line/command_line.h"
#include "report/commands/check.h"
#include "report/commands/console.h"
#include "report/commands/explain.h"
#include "report/commands/export.h"
#include "report/commands/init.h"
#include "report/commands/lock.h"
#include "report/commands/place.h"
#include "report/commands/quote.h"
#include "report/commands/resume.h"
#include "report/commands/sheet.h"
#include "report/commands/shell_help.h"
#include "report/commands/time.h"

namespace {

// A check takes and frees large buffers over and over. As it comes, the C library gives each back to the system and
// takes it anew, which cost a quarter of all time.
void keepFreedMemory() {
#ifdef M_MMAP_THRESHOLD
  mallopt(M_TRIM_THRESHOLD, 1 << 30);
  mallopt(M_MMAP_THRESHOLD, 32 << 20);
  mallopt(M_TOP_PAD, 16 << 20);
#endif
}

int dispatch(const provecut::Options& options) {
  using namespace provecut;
  switch (options.command) {
    case Command::check:
      return runCheck(options);
    case Command::init:
      return runInit(options);
    case Command::time:
      return runTime(options);
    case Command::quote:
      return runQuote(options);
    case Command::place:
      return runPlace(options);
    case Command::resume:
      return runResume(options);
    case Command::explain:
      return runExplain(options);
    case Command::export_:
      return runExport(options);
    case Command::sheet:
      return runSheet(options);
    case Command::lock:
      return runLock(options);
    case Command::completions:
      return runCompletions(options);
    case Command::manual:
      return runManual(options);
  }
  return exit_defect;
}

int runLogged(const provecut::Options& options) {
  std::ofstream log;
  if (!provecut::startLog(options, log)) return provecut::exit_unusable;
  const int status = dispatch(options);
  return provecut::endLog(options, log) ? status : provecut::exit_unusable;
}

}  // namespace

int main(int argc, char** argv) {
  keepFreedMemory();
  try {
    const provecut::CommandLine line = provecut::readCommandLine(argc, argv);
    if (line.options) return runLogged(*line.options);
    if (line.status != provecut::exit_done) {
      std::cerr << line.text;
      return line.status;
    }
    std::cout << line.text;
    return provecut::endOutput() ? provecut::exit_done : provecut::exit_unusable;
  } catch (const std::bad_alloc&) {
    std::cerr << "provecut: out of memory: use a larger --cell, or report this as a defect in provecut\n";
  } catch (const std::exception& error) {
    std::cerr << "provecut: " << error.what() << "; this is a defect in provecut\n";
  } catch (...) {
    std::cerr << "provecut: an unknown error; this is a defect in provecut\n";
  }
  return provecut::exit_defect;
}
