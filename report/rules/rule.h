// A rule: facts → findings. Data and one function. Its page is what `explain`, SARIF and the HTML help show.
#pragma once

#include <span>
#include <string_view>
#include <vector>

#include "report/facts/facts.h"
#include "report/facts/finding.h"

namespace provecut {

struct Rule {
  std::string_view id;
  Level level;
  std::string_view summary;  // one sentence
  std::string_view page;  // Markdown: What it finds / Why it matters / Example / What to do / What `amount` is / Source
  void (*check)(const Facts&,
                std::vector<Finding>&);  // null: its findings come from the parser's problems of the same id
};

std::span<const Rule* const> allRules();
const Rule* findRule(std::string_view id);

}  // namespace provecut
