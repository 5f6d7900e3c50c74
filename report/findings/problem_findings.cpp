#include "report/findings/problem_findings.h"

#include <algorithm>
#include <map>
#include <utility>

#include "report/rules/rule.h"

namespace provecut {

namespace {

// A sentence of the parser's as part of a line: no capital, no full stop. Codes such as "G2" keep their capital.
std::string asClause(std::string text) {
  while (!text.empty() && (text.back() == '.' || text.back() == ' ')) text.pop_back();
  const bool sentence =
      text.size() > 1 && text[0] >= 'A' && text[0] <= 'Z' && (text[1] == ' ' || (text[1] >= 'a' && text[1] <= 'z'));
  const bool word_letter = text.size() > 2 && text[1] == ' ' && text[0] != 'A';  // "T word without a number"
  if (sentence && !word_letter) text[0] = static_cast<char>(text[0] - 'A' + 'a');
  return text;
}

Finding fromProblem(const Problem& problem, const ProgramFacts& program, int program_order) {
  Finding f;
  const Rule* rule = findRule(problem.id);
  f.rule = rule ? rule->id : std::string_view("syntax");
  f.program_order = program_order;
  f.place = shownColumns(program.line(problem.place.line), problem.place);
  f.last_line = problem.place.line;
  f.moves = 1;
  f.message = asClause(problem.message);
  if (!problem.assumed.empty()) f.message += "; " + asClause(problem.assumed);
  f.help = problem.help;
  for (const Related& r : problem.related) {
    f.related.push_back(
        {r.file, r.file.empty() ? shownColumns(program.line(r.place.line), r.place) : r.place, r.message});
  }
  return f;
}

// The message with its measured numbers left out: hundreds of arcs whose radii differ each by another amount are one
// trouble. Numbers that belong to a word ("M45", "X1.2.3") stay.
std::string kindOf(const std::string& message) {
  std::string kind;
  bool after_space = true;
  for (std::size_t i = 0; i < message.size();) {
    std::size_t end = i;
    if (after_space) {
      while (end < message.size() &&
             ((message[end] >= '0' && message[end] <= '9') || message[end] == '.' || message[end] == '-'))
        ++end;
    }
    if (end > i && (end == message.size() || message[end] == ' ')) {
      kind += '#';
      i = end;
      after_space = false;
    } else {
      after_space = message[i] == ' ';
      kind += message[i++];
    }
  }
  return kind;
}

}  // namespace

std::vector<Finding> problemFindings(const Facts& facts) {
  std::vector<Finding> findings;
  for (std::size_t p = 0; p < facts.programs.size(); ++p) {
    std::map<std::pair<std::string, std::string>, std::size_t> first_of;  // rule and kind of message
    const ProgramFacts& program = facts.programs[p];
    for (const Problem& problem : program.program.problems) {
      Finding f = fromProblem(problem, program, static_cast<int>(p));
      const auto [it, fresh] = first_of.try_emplace({f.rule, kindOf(f.message)}, findings.size());
      if (fresh) {
        findings.push_back(std::move(f));
        continue;
      }
      Finding& group = findings[it->second];
      ++group.moves;
      group.last_line = std::max(group.last_line, problem.place.line);
      if (group.related.size() < repeats_kept) group.related.push_back({"", f.place, std::string(same_here)});
    }
  }
  return findings;
}

}  // namespace provecut
