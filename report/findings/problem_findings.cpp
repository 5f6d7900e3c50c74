#include "report/findings/problem_findings.h"

#include <algorithm>
#include <map>
#include <span>
#include <string>
#include <tuple>
#include <utility>

#include "report/findings/problem_sentences.h"
#include "report/rules/rule.h"

namespace provecut {

namespace {

Finding fromProblem(const Problem& problem, const Job& job, const ProgramFacts& program, int program_order) {
  Finding f;
  const auto shown = [&](Place place) { return shownPlace(program.line(place.line), place); };
  const Rule* rule = findRule(problem.id);
  f.rule = rule ? rule->id : std::string_view("syntax");
  f.level = rule ? rule->level : Level::stop;
  f.program_order = program_order;
  f.place = shown(problem.place);
  f.last_line = problem.place.line;
  f.moves = 1;
  f.message = problemText(problem, job);
  f.help = sentenceOf(problem, job).help;
  if (problem.other) f.related.push_back({{}, shown(*problem.other), std::string(otherWordText(problem.kind))});
  return f;
}

// Problems of one kind about the same codes are one trouble, whatever numbers they come with: hundreds of arcs whose
// radii differ, each by another amount.
using Trouble = std::tuple<std::string_view, ProblemKind, std::vector<std::string>>;

Trouble troubleOf(const Problem& problem) {
  std::vector<std::string> about;
  for (const Fact& fact : problem.facts) {
    if (const auto* code = std::get_if<fact::Code>(&fact)) about.push_back(code->text);
    if (const auto* tool = std::get_if<fact::Tool>(&fact)) about.push_back(std::to_string(tool->number));
    if (const auto* parameter = std::get_if<fact::Parameter>(&fact)) about.push_back(std::to_string(parameter->number));
  }
  return {problem.id, problem.kind, std::move(about)};
}

// Those beyond the first hundred of an id: most likely more of what there is most of.
void addUncounted(const Problem& problem, std::span<Finding> findings) {
  Finding* most = nullptr;
  for (Finding& f : findings) {
    if (f.rule == problem.id && (!most || f.moves > most->moves)) most = &f;
  }
  const auto* count = problem.facts.empty() ? nullptr : std::get_if<fact::Count>(&problem.facts.front());
  if (!most || !count) return;
  most->moves += static_cast<std::uint32_t>(count->count);
  most->last_line = std::max(most->last_line, problem.place.line);
}

}  // namespace

std::vector<Finding> problemFindings(const Facts& facts) {
  std::vector<Finding> findings;
  for (int p = 0; p < std::ssize(facts.programs); ++p) {
    std::map<Trouble, std::size_t> first_of;
    const ProgramFacts& program = facts.programs[p];
    const std::size_t own = findings.size();
    for (const Problem& problem : program.program.problems) {
      if (problem.kind == ProblemKind::more_of_the_same) {
        addUncounted(problem, {findings.begin() + static_cast<std::ptrdiff_t>(own), findings.end()});
        continue;
      }
      const auto [it, fresh] = first_of.try_emplace(troubleOf(problem), findings.size());
      if (fresh) {
        findings.push_back(fromProblem(problem, facts.job, program, p));
        continue;
      }
      Finding& group = findings[it->second];
      ++group.moves;
      group.last_line = std::max(group.last_line, problem.place.line);
      if (group.related.size() < repeats_kept) {
        const ShownPlace here = shownPlace(program.line(problem.place.line), problem.place);
        group.related.push_back({"", here, std::string(same_here)});
      }
    }
  }
  return findings;
}

}  // namespace provecut
