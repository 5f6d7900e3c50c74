// What the page shows of a finding in its views: the part of the tool at fault, and a short phrase.
#pragma once

#include <string>
#include <string_view>

#include "report/facts/facts.h"
#include "report/facts/finding.h"
#include "sim/tool/tool_body.h"

namespace provecut {

struct FaultyPart {
  ToolPart part = ToolPart::cutter;
  int attachment = -1;  // index into Job::spindle_attachments
};

// "cutter", "shank", "nut", "spindle", "spindle_attachment": what the page's bodies of tools go by.
std::string_view partWord(ToolPart part);

// The part that hits, passes close or digs in, where a group does so the worst; the cutter where the finding is of no
// other.
FaultyPart partAtFault(const Facts& facts, const Finding& finding);

// "nut 1.0 mm into the stock": a phrase for a label beside the place, with the amount in the words of the finding's
// message; without where the message does not tell it.
std::string markLabel(const Facts& facts, const Finding& finding);

}  // namespace provecut
