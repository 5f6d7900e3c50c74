#include "report/commands/explain.h"

#include <algorithm>
#include <ostream>
#include <string>
#include <vector>

#include "parser/base/nearest_word.h"
#include "report/base/visible_text.h"
#include "report/commands/console.h"
#include "report/formats/text/rule_page.h"
#include "report/rules/rule.h"

namespace provecut {

int runExplain(const Options& options) {
  if (options.rule.empty()) return writeResult(options, writeRuleList) ? exit_done : exit_unusable;
  if (const Rule* rule = findRule(options.rule)) {
    const bool written =
        writeResult(options, [&](std::ostream& out, bool colour) { writeRulePage(*rule, colour, out); });
    return written ? exit_done : exit_unusable;
  }
  std::vector<std::string> ids;
  for (const Rule* rule : allRules()) ids.emplace_back(rule->id);
  const std::string nearest = nearestWord(options.rule, ids);
  printError("no rule \"" + visibleText(options.rule) + "\"" +
             (nearest.empty() ? ". " : "; did you mean " + nearest + "? ") + "Run provecut explain for the list.");
  return exit_unusable;
}

}  // namespace provecut
