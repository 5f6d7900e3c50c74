#include "report/rules/problem_rules.h"

#include <algorithm>
#include <array>
#include <deque>
#include <string>
#include <vector>

#include "parser/problem_ids.h"

namespace provecut {

namespace {

struct ProblemLevel {
  std::string_view id;
  Level level;
};

// stop: a machine refuses it, or may do something else than was checked. look: machines differ, or the program leans on
// what it did not set. note: it is read alike everywhere, or says what the check took for granted.
constexpr auto levels = std::to_array<ProblemLevel>({
    {"syntax", Level::stop},
    {"unknown-code", Level::stop},
    {"not-followed", Level::look},
    {"word-unused", Level::look},
    {"word-twice", Level::stop},
    {"word-missing", Level::stop},
    {"word-out-of-range", Level::stop},
    {"modal-conflict", Level::stop},
    {"arc-radius", Level::stop},
    {"arc-faulty", Level::stop},
    {"feed-missing", Level::stop},
    {"cycle-faulty", Level::stop},
    {"work-offset-unknown", Level::look},
    {"machine-move", Level::note},
    {"position-unknown", Level::look},
    {"zero-set-by-program", Level::look},
    {"tool-number", Level::stop},
    {"expression", Level::stop},
    {"parameter-unset", Level::look},
    {"comment-faulty", Level::look},
    {"exponent-number", Level::look},
    {"space-in-number", Level::look},
    {"line-number-odd", Level::note},
    {"checksum-wrong", Level::look},
    {"line-too-long", Level::note},
    {"percent-unpaired", Level::note},
    {"end-missing", Level::note},
    {"text-after-end", Level::look},
    {"compensation-faulty", Level::stop},
    {"probe-assumed", Level::note},
    {"subprogram-faulty", Level::stop},
    {"limit-reached", Level::stop},
    {"beyond-standard", Level::note},
    {"radius-format-doubt", Level::look},
});

// An id that is not in the table yet must not pass unseen.
Level levelOf(std::string_view id) {
  const auto it = std::find_if(levels.begin(), levels.end(), [&](const ProblemLevel& l) { return l.id == id; });
  return it == levels.end() ? Level::stop : it->level;
}

struct Made {
  std::deque<std::string> pages;  // a deque, so that the views into it stay
  std::vector<Rule> rules;
};

Made make() {
  Made made;
  for (const ProblemId& p : problem_ids) {
    std::string page = "## What it finds\n\n" + std::string(p.summary) + "\n\n## What to do\n\n" + std::string(p.what_to_do) +
                       "\n\n## What `amount` is\n\nThere is none. `moves` is how many times the same thing stands in the program.\n"
                       "\n## Source\n\nThe RS274/NGC language, NISTIR 6556, and what exported programs commonly add to it.\n";
    made.pages.push_back(std::move(page));
    made.rules.push_back({p.id, levelOf(p.id), p.summary, made.pages.back(), nullptr});
  }
  return made;
}

}  // namespace

std::span<const Rule> problemRules() {
  static const Made made = make();
  return made.rules;
}

}  // namespace provecut
