#include "report/facts/lost_tool_change.h"

#include <algorithm>
#include <array>
#include <optional>
#include <set>
#include <string>
#include <string_view>

#include "report/base/comment_tokens.h"
#include "report/base/tool_comment.h"

namespace provecut {

namespace lost_tool_change {

bool feeds(const Motion& m) {
  return m.kind == MotionKind::feed || isArc(m);
}

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

}  // namespace lost_tool_change

std::vector<LostToolChange> lostToolChanges(const Facts& facts, std::size_t program_order) {
  using namespace lost_tool_change;
  const Program& program = facts.programs[program_order].program;
  const std::set<int> called = calledTools(facts);
  std::vector<LostToolChange> lost;
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
    lost.push_back({&comment, running, unused == tools.end() ? nullptr : &*unused});
  }
  return lost;
}

}  // namespace provecut
