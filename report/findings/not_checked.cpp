#include "report/findings/not_checked.h"

#include <fmt/format.h>

#include <algorithm>

#include "report/base/visible_text.h"
#include "report/base/wording.h"
#include "report/facts/setup_changes.h"
#include "report/facts/setup_words.h"
#include "report/findings/problem_sentences.h"

namespace provecut {

namespace {

void addPrograms(const Facts& facts, std::vector<std::string>& out) {
  for (const ProgramFacts& p : facts.programs) {
    for (const Problem& what : p.program.not_followed) {
      out.push_back(fmt::format("{}:{}: {}", p.entry->file, what.place.line, sentenceOf(what, facts.job).message));
    }
    if (!p.program.read_whole && p.program.not_followed.empty()) out.push_back(p.entry->file + ": not read to its end");
  }
}

// One zero and one way to hold the stock were taken for all of the program.
void addSetupChanges(const Facts& facts, std::vector<std::string>& out) {
  for (std::size_t i = 0; i < facts.programs.size(); ++i) {
    const std::vector<SetupChange> changes = setupChanges(facts, i);
    if (changes.empty()) continue;
    const ProgramFacts& p = facts.programs[i];
    out.push_back(
        fmt::format("{}:{}: another setup begins here. All of the program was checked in {}; its cuts in the air and "
                    "beside the stock are not told.",
                    p.entry->file, changes.front().comment.line, setupText(*p.setup)));
  }
}

void addGuesses(const Facts& facts, std::vector<std::string>& out) {
  for (const Unconfirmed& guess : facts.job.unconfirmed) {
    const bool one = guess.keys.size() == 1;
    out.push_back(fmt::format("{}:{}: {} of {} {} only guessed. Measure, correct, then delete {} from `unconfirmed`.",
                              facts.job.file, guess.place.line, listText(guess.keys), guess.whose, one ? "is" : "are",
                              one ? "it" : "them"));
  }
}

// Where some hold-downs are listed, rules judge each program by them. A job from the command line says so itself.
void addUnheldSetups(const Facts& facts, std::vector<std::string>& out) {
  const auto holds = [](const HoldDown& h) { return h.kind != HoldDownKind::pin; };
  if (facts.job.file.empty() || std::any_of(facts.job.hold_downs.begin(), facts.job.hold_downs.end(), holds)) return;
  const Setup* last = nullptr;
  for (std::size_t i = 0; i < facts.run.programs.size(); ++i) {
    const Setup* setup = facts.programs[i].setup;
    if (setup == last || facts.run.programs[i].removed_mm3 <= 0) continue;
    last = setup;
    out.push_back(
        "setup " + setup->name +
        ": the job file does not say what holds the stock. List its hold-downs in `hold_downs`, or write `held_by`.");
  }
}

}  // namespace

std::vector<std::string> whatWasNotChecked(const Facts& facts) {
  std::vector<std::string> out;
  addPrograms(facts, out);
  addSetupChanges(facts, out);
  out.insert(out.end(), facts.run.not_checked.begin(), facts.run.not_checked.end());
  addGuesses(facts, out);
  addUnheldSetups(facts, out);
  for (std::string& what : out) what = visibleText(what);
  return out;
}

}  // namespace provecut
