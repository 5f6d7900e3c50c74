#include "report/facts/setup_words.h"

#include <algorithm>
#include <vector>

#include "report/base/visible_text.h"
#include "report/base/wording.h"

namespace provecut {

namespace {

using Names = std::vector<std::string>;

bool isAsDescribed(const Setup& setup) {
  return setup.flip == Flip::none && setup.rotate_deg == 0;
}

// "Flip the stock left to right and place it." where it is face up now, as described or in the setup `before`.
std::string placeWords(const Setup& setup, const Setup* before) {
  if (setup.flip == Flip::none || setup.rotate_deg != 0 || (before != nullptr && !isAsDescribed(*before)))
    return "Place the stock " + stockWords(setup) + ".";
  return std::string("Flip the stock ") + (setup.flip == Flip::left_right ? "left to right" : "front to back") +
         " and place it.";
}

// The hold-downs of a setup's first program, and the stock: pins go into the spoilboard before the stock goes on them.
std::string placingWords(const Facts& facts, std::size_t program) {
  const ProgramFacts& now = facts.programs[program];
  const ProgramFacts* before = program > 0 ? &facts.programs[program - 1] : nullptr;
  Names pins, vacuum, others;
  for (const int h : now.entry->hold_downs) {
    const HoldDown& hold_down = facts.job.hold_downs[h];
    Names& names = hold_down.kind == HoldDownKind::pin      ? pins
                   : hold_down.kind == HoldDownKind::vacuum ? vacuum
                                                            : others;
    names.push_back(visibleText(hold_down.name));
  }
  Names sentences;
  if (before != nullptr && !before->entry->hold_downs.empty()) sentences.emplace_back("Remove all hold-downs.");
  if (!pins.empty()) sentences.push_back("Put " + listText(pins) + " into the spoilboard.");
  if (before != nullptr || !isAsDescribed(*now.setup)) {
    sentences.push_back(placeWords(*now.setup, before == nullptr ? nullptr : before->setup));
  }
  if (!others.empty()) sentences.push_back("Fit " + listText(others) + ".");
  if (!vacuum.empty()) sentences.push_back("Switch on " + listText(vacuum) + ".");
  std::string words;
  for (const std::string& sentence : sentences) words += (words.empty() ? "" : " ") + sentence;
  return words;
}

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

std::string stockKeys(Flip flip, int rotate_deg) {
  const std::string_view word = flip == Flip::none ? "none" : flip == Flip::front_back ? "front-back" : "left-right";
  std::string keys = "`flip = \"" + std::string(word) + "\"`";
  if (rotate_deg != 0) keys += " and `rotate = " + std::to_string(rotate_deg) + "`";
  return keys;
}

std::string setupText(const Setup& setup) {
  return setup.name.starts_with("setup") ? setup.name : "setup " + setup.name;
}

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
  if (before == nullptr || before->setup != now.setup) return placingWords(facts, program);
  const std::string fit = namesOnlyIn(facts.job, now.entry->hold_downs, before->entry->hold_downs);
  const std::string remove = namesOnlyIn(facts.job, before->entry->hold_downs, now.entry->hold_downs);
  const std::string change = holdDownChange(fit, remove);
  return change.empty() ? change : change + ".";
}

}  // namespace provecut
