// Tells a finding again after the program was exported anew with lines more or less before it.
#pragma once

#include <map>
#include <string>

#include "report/facts/facts.h"
#include "report/facts/finding.h"

namespace provecut {

class BlockFingerprints {
 public:
  // From the rule, the subject and the words of the block and of those before and after it: no line number, no N word,
  // no spaces. Where all of that is met again, the second one counts as number 2, and so on: ask once per finding, in
  // order.
  std::string of(const Facts& facts, const Finding& finding);

 private:
  std::map<std::string, int> met_;
};

}  // namespace provecut
