#include "report/commands/export_moves.h"

#include <ostream>

#include "report/commands/console.h"
#include "report/commands/inputs.h"
#include "report/draft/quick_job.h"
#include "report/findings/problem_sentences.h"
#include "report/formats/base/terminal.h"
#include "report/formats/data/csv.h"
#include "report/rules/rule.h"

namespace provecut {

int runExportMoves(const Options& options) {
  if (!isProgram(options.moves_of, "--moves needs a program")) return exit_unusable;
  const draft::QuickTools tools = draft::quickTools(options.tools);
  for (const std::string& error : tools.errors) printError(visibleText(error));
  if (!tools.errors.empty()) return exit_unusable;
  const ProgramLoading loading = loadProgram(options.moves_of, loadOptions(options), tools.tools);
  printErrors(loading.errors);
  if (!loading.errors.empty()) return exit_unusable;
  const Program& program = loading.facts.program;
  bool stop = false;
  for (const Problem& p : program.problems) {
    const Rule* rule = findRule(p.id);
    const Level level = rule ? rule->level : Level::stop;
    stop = stop || level == Level::stop;
    if (options.quiet) continue;
    const ShownPlace place = shownPlace(loading.facts.line(p.place.line), p.place);
    printError(visibleText(options.moves_of) + ":" + std::to_string(place.line) + ":" + std::to_string(place.column) +
               ": " + std::string(levelName(level)) + ": " + visibleText(problemText(p, Job{})) + " [" +
               (rule ? std::string(rule->id) : "syntax") + "]");
  }
  if (!writeResult(options, [&](std::ostream& out, bool) { writeMoves(program, out); })) return exit_unusable;
  if (!stop && program.read_whole) return exit_done;
  if (options.quiet)
    printError(visibleText(options.moves_of) + " has faults or could not be read completely. Run without --quiet.");
  return exit_found;
}

}  // namespace provecut
