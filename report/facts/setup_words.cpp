#include "report/facts/setup_words.h"

#include <algorithm>
#include <vector>

#include "report/base/visible_text.h"
#include "report/base/wording.h"

namespace provecut {

namespace {

// Names of the hold-downs of `list` that are not in `other`: "screw SW and clamp S".
std::string namesOnlyIn(const Job& job, const std::vector<int>& list, const std::vector<int>& other) {
  std::vector<std::string> names;
  for (const int h : list) {
    if (std::find(other.begin(), other.end(), h) == other.end())
      names.push_back(visibleText(job.hold_downs[static_cast<std::size_t>(h)].name));
  }
  return listText(names);
}

}  // namespace

std::string stockWords(const Setup& setup) {
  std::string words = setup.flip == Flip::left_right   ? "flipped left to right"
                      : setup.flip == Flip::front_back ? "flipped front to back"
                                                       : "face up";
  if (setup.rotate_deg != 0) words += ", then rotated " + std::to_string(setup.rotate_deg) + "° counter-clockwise";
  return words;
}

std::string holdDownChange(std::string_view fit, std::string_view remove) {
  if (remove.empty()) return fit.empty() ? std::string() : "Fit " + std::string(fit);
  if (fit.empty()) return "Remove " + std::string(remove);
  return "Fit " + std::string(fit) + ", then remove " + std::string(remove);
}

std::string changeWords(const Facts& facts, std::size_t program) {
  const ProgramFacts& now = facts.programs[program];
  const ProgramFacts* before = program > 0 ? &facts.programs[program - 1] : nullptr;
  if (before == nullptr || before->setup != now.setup) {
    const bool as_described = now.setup->flip == Flip::none && now.setup->rotate_deg == 0;
    return before == nullptr && as_described ? "" : "Place the stock " + stockWords(*now.setup) + ".";
  }
  const std::string fit = namesOnlyIn(facts.job, now.entry->hold_downs, before->entry->hold_downs);
  const std::string remove = namesOnlyIn(facts.job, before->entry->hold_downs, now.entry->hold_downs);
  const std::string change = holdDownChange(fit, remove);
  return change.empty() ? change : change + ".";
}

}  // namespace provecut
