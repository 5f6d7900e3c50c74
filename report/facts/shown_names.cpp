#include "report/facts/shown_names.h"

#include "report/base/visible_text.h"

namespace provecut {

std::string shownHoldDown(const Job& job, int hold_down) {
  return visibleText(job.hold_downs[hold_down].name);
}

std::string shownSetup(const Job& job, int setup) {
  return visibleText(job.setups[setup].name);
}

std::string shownFile(const Facts& facts, int program) {
  return visibleText(facts.programs[program].entry->file);
}

}  // namespace provecut
