// Rules for reading: the list of all of them, and one rule's page set for a terminal.
// A stream that fails is left failed: the caller looks at it afterwards.
#pragma once

#include <iosfwd>

#include "report/rules/rule.h"

namespace provecut {

void writeRuleList(std::ostream& out, bool colour);

// The page is Markdown: headings (##), paragraphs, lists (-), tables and blocks indented by four spaces.
void writeRulePage(const Rule& rule, bool colour, std::ostream& out);

}  // namespace provecut
