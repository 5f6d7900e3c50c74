#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <optional>
#include <set>
#include <string_view>
#include <vector>

#include "report/base/comment_tokens.h"
#include "report/base/tool_comment.h"
#include "report/rules/list.h"
#include "report/rules/shared/grouping.h"
#include "report/rules/shared/moves_by_tool.h"

namespace provecut {

namespace tool_not_called {

constexpr std::string_view page = R"(## What it finds

Between two cuts of a program the spindle stops and starts again, or the program stops, and a comment there names a tool
of the job that no program calls: by its number, its name, or its shape and diameter. Or the comment names another bit
that the job file does not have, and no tool change stands there. A tool of the job file that no comment names is fine:
a shop's list may hold many.

## Why it matters

The T and M6 were lost. The next cuts run with the bit before, and this whole check is about the wrong bit.

## Example

    M5
    (ROUNDOVER R6)
    S14000 M3

where tool 5 of the job file, "R6 roundover", is never called.

## What to do

Put the T and M6 back, or correct the comment.

## What `amount` is

There is none.

## Source

What CAM programs write into comments: common practice, no published source.
)";

// Bits that only a form or an undercut profile in the job file stands for.
constexpr std::array<std::string_view, 4> form_words{"roundover", "ogee", "dovetail", "keyhole"};

std::vector<std::string> wordsOf(std::string_view text) {
  const std::string plain = plainComment(text);
  std::vector<std::string> words;
  for (const CommentToken& t : commentTokens(plain)) {
    if (t.kind != CommentToken::Kind::sign) words.emplace_back(t.text);
  }
  return words;
}

// Every word and number of the tool's name, two at least.
bool saysName(const std::vector<std::string>& said, const Tool& tool) {
  constexpr std::size_t least_words = 2;
  const std::vector<std::string> name = wordsOf(tool.name);
  return name.size() >= least_words && std::all_of(name.begin(), name.end(), [&](const std::string& word) {
           return std::find(said.begin(), said.end(), word) != said.end();
         });
}

bool names(const Event& comment, const Tool& tool) {
  const ToolComment said = readToolComment(comment.text, false), in_inches = readToolComment(comment.text, true);
  if (said.number) return *said.number == tool.number;
  if (saysName(wordsOf(comment.text), tool)) return true;
  const std::optional<double> mm = saidDiameter_mm(said), inches_mm = saidDiameter_mm(in_inches);
  if (!said.shape || !sameKind(*said.shape, tool.shape) || !mm || !inches_mm) return false;
  return sameDiameter(*mm, tool.diameter_mm) || sameDiameter(*inches_mm, tool.diameter_mm);
}

bool namesForm(const Event& comment) {
  const std::vector<std::string> said = wordsOf(comment.text);
  return std::any_of(form_words.begin(), form_words.end(),
                     [&](std::string_view word) { return std::find(said.begin(), said.end(), word) != said.end(); });
}

std::set<int> calledTools(const Facts& facts) {
  std::set<int> called;
  for (const ProgramFacts& p : facts.programs) {
    if (p.entry) called.insert(p.entry->tool);
    for (const Motion& m : p.program.motions) called.insert(m.tool);
    for (const Event& e : p.program.events) {
      if (e.kind == EventKind::tool_change) called.insert(static_cast<int>(e.value));
    }
  }
  return called;
}

// The stretch without a cutting move about a comment in mid-program, where the spindle or the program stops and no tool
// is changed: the move before and the one after it. Absent elsewhere.
struct Pause {
  const Motion& before;
  const Motion& after;
};
std::optional<Pause> pauseAt(const Program& program, const Event& comment) {
  const std::vector<Motion>& motions = program.motions;
  std::size_t first = comment.before_motion, last = comment.before_motion;
  while (first > 0 && !feeds(motions[first - 1])) --first;
  while (last < motions.size() && !feeds(motions[last])) ++last;
  if (first == 0 || last == motions.size()) return std::nullopt;
  bool stops = false;
  for (const Event& e : program.events) {
    if (e.before_motion < first || e.before_motion > last) continue;
    if (e.kind == EventKind::tool_change) return std::nullopt;
    stops = stops || e.kind == EventKind::spindle_stop || e.kind == EventKind::stop;
  }
  if (!stops) return std::nullopt;
  return Pause{motions[first - 1], motions[last]};
}

void check(const Facts& facts, std::vector<Finding>& findings) {
  const std::set<int> called = calledTools(facts);
  for (std::size_t i = 0; i < facts.programs.size(); ++i) {
    const Program& program = facts.programs[i].program;
    std::set<std::uint32_t> told;  // one comment for a pause
    for (const Event& comment : program.events) {
      if (comment.kind != EventKind::comment_tool) continue;
      const std::optional<Pause> pause = pauseAt(program, comment);
      if (!pause || pause->before.tool != pause->after.tool || told.contains(pause->after.line)) continue;
      const Tool* running = findTool(facts.job, pause->after.tool);
      if (!running || names(comment, *running)) continue;
      const auto& tools = facts.job.tools;
      const auto unused = std::find_if(tools.begin(), tools.end(),
                                       [&](const Tool& t) { return !called.contains(t.number) && names(comment, t); });
      const std::optional<int> number = readToolComment(comment.text, false).number;
      const bool other =
          (number && !called.contains(*number)) || (namesForm(comment) && running->shape != ToolShape::form);
      if (unused == tools.end() && !other) continue;
      told.insert(pause->after.line);
      Finding f = placeFinding(facts, i, tool_not_called_rule, comment.place);
      f.subject = running->name.empty() ? toolText(facts.job, running->number) : running->name;
      if (unused != tools.end()) {
        f.message =
            fmt::format("the comment names {} (tool {}), but no program calls it; the cuts that follow run with {}",
                        toolText(facts.job, unused->number), unused->number, f.subject);
        f.help = fmt::format("Add T{} M6 before them, or correct the comment.", unused->number);
        relateToJob(facts, f, unused->place, toolText(facts.job, unused->number) + " is defined here");
      } else {
        f.message = fmt::format(
            "the comment names another bit, but no tool change stands here; the cuts that follow run with {}",
            f.subject);
        f.help = "Add its T and M6, and the bit to the job file. Or correct the comment.";
      }
      findings.push_back(std::move(f));
    }
  }
}

}  // namespace tool_not_called

const Rule tool_not_called_rule{"tool-not-called", Level::look, "A comment names a tool, and no program calls it.",
                                tool_not_called::page, tool_not_called::check};

}  // namespace provecut
