#include "report/rules/list.h"

#include <algorithm>
#include <array>

namespace provecut {

namespace {

// In the order in which `explain` shows them. One line per rule.
constexpr std::array rules{
    &accept_unused_rule,
    &assumed_rule,
};

// Ids that once were; they go on working in `explain` and in [[accept]].
struct Renamed {
  std::string_view before, now;
};
constexpr std::array<Renamed, 0> renamed{};

}  // namespace

std::span<const Rule* const> allRules() {
  return rules;
}

const Rule* findRule(std::string_view id) {
  for (const Renamed& r : renamed) {
    if (r.before == id) id = r.now;
  }
  const auto all = allRules();
  const auto it = std::find_if(all.begin(), all.end(), [&](const Rule* r) { return r->id == id; });
  return it == all.end() ? nullptr : *it;
}

}  // namespace provecut
