#include "report/rules/problem_rules.h"

#include <algorithm>
#include <array>
#include <deque>
#include <string>
#include <vector>

#include "parser/program/problem_ids.h"

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
    {"beyond-standard", Level::note},
    {"comment-faulty", Level::look},
    {"exponent-number", Level::look},
    {"space-in-number", Level::look},
    {"line-number-odd", Level::note},
    {"checksum-wrong", Level::look},
    {"percent-unpaired", Level::note},
    {"end-missing", Level::note},
    {"block-delete", Level::note},
    {"text-after-end", Level::look},
    {"limit-reached", Level::stop},
    {"word-unused", Level::look},
    {"word-twice", Level::stop},
    {"word-missing", Level::stop},
    {"word-out-of-range", Level::stop},
    {"word-negative", Level::stop},
    {"modal-conflict", Level::stop},
    {"motion-mode-missing", Level::stop},
    {"tool-number", Level::stop},
    {"length-offset-of-other-tool", Level::look},
    {"dwell-time-missing", Level::stop},
    {"expression", Level::stop},
    {"parameter-unset", Level::look},
    {"feed-missing", Level::stop},
    {"feed-missing-inverse-time", Level::stop},
    {"feed-from-other-tool", Level::look},
    {"position-unknown", Level::look},
    {"repeated-point", Level::note},
    {"incremental-at-end", Level::look},
    {"arc-radius", Level::stop},
    {"arc-radius-too-short", Level::stop},
    {"arc-faulty", Level::stop},
    {"arc-centre-missing", Level::stop},
    {"arc-ends-at-start", Level::stop},
    {"arc-two-formats", Level::stop},
    {"arc-whole-circle-doubt", Level::look},
    {"radius-format-doubt", Level::look},
    {"probe-assumed", Level::note},
    {"probe-faulty", Level::stop},
    {"cycle-faulty", Level::stop},
    {"line-too-long", Level::note},
    {"cycle-without-depth", Level::stop},
    {"cycle-r-below-depth", Level::stop},
    {"cycle-repeats", Level::stop},
    {"cycle-dwell", Level::stop},
    {"cycle-peck", Level::stop},
    {"cycle-in-wrong-mode", Level::stop},
    {"cycle-spindle", Level::stop},
    {"work-offset-unknown", Level::look},
    {"system-number", Level::stop},
    {"zero-setting-faulty", Level::stop},
    {"zero-shift-without-axis", Level::stop},
    {"zero-set-by-program", Level::look},
    {"machine-move", Level::note},
    {"machine-move-mode", Level::stop},
    {"compensation-faulty", Level::stop},
    {"compensation-misplaced", Level::stop},
    {"compensation-diameter-unknown", Level::stop},
    {"subprogram-faulty", Level::stop},
    {"endless-program", Level::stop},
    {"line-over-256", Level::stop},
    {"line-number-refused", Level::stop},
    {"comment-refused", Level::stop},
    {"percent-refused", Level::stop},
    {"end-refused", Level::stop},
    {"word-refused", Level::stop},
    {"m-words-too-many", Level::stop},
    {"axis-word-missing", Level::stop},
    {"axis-words-claimed-twice", Level::stop},
    {"arc-end-missing", Level::stop},
    {"cycle-without-position", Level::stop},
    {"length-offset-missing", Level::stop},
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
    std::string page =
        "## What it finds\n\n" + std::string(p.summary) + "\n\n## What to do\n\n" + std::string(p.what_to_do) +
        "\n\n## What `amount` is\n\nThere is none. `moves` is how many times the same thing stands in the program.\n"
        "\n## Source\n\nThe RS274/NGC language, NISTIR 6556, and what exported programs commonly add to it.\n";
    made.pages.push_back(std::move(page));
    made.rules.push_back({p.id, levelOf(p.id), p.summary, made.pages.back(), nullptr});
  }
  return made;
}

}  // namespace

bool hasLevel(std::string_view id) {
  return std::any_of(levels.begin(), levels.end(), [&](const ProblemLevel& l) { return l.id == id; });
}

std::span<const Rule> problemRules() {
  static const Made made = make();
  return made.rules;
}

}  // namespace provecut
