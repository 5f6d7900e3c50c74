#include "report/problem_findings.h"

#include <algorithm>
#include <map>
#include <utility>

#include "report/rules/rule.h"

namespace provecut {

namespace {

Finding fromProblem(const Problem& problem, const ProgramFacts& program, int program_order) {
  Finding f;
  const Rule* rule = findRule(problem.id);
  f.rule = rule ? rule->id : std::string_view("syntax");
  f.program_order = program_order;
  f.place = shownColumns(program.line(problem.place.line), problem.place);
  f.last_line = problem.place.line;
  f.moves = 1;
  f.message = problem.message;
  if (!problem.assumed.empty()) f.message += "; " + problem.assumed;
  f.help = problem.help;
  for (const Related& r : problem.related) {
    f.related.push_back({r.file, r.file.empty() ? shownColumns(program.line(r.place.line), r.place) : r.place, r.message});
  }
  return f;
}

}  // namespace

std::vector<Finding> problemFindings(const Facts& facts) {
  std::vector<Finding> findings;
  for (std::size_t p = 0; p < facts.programs.size(); ++p) {
    std::map<std::pair<std::string, std::string>, std::size_t> first_of;  // rule and message
    const ProgramFacts& program = facts.programs[p];
    for (const Problem& problem : program.program.problems) {
      Finding f = fromProblem(problem, program, static_cast<int>(p));
      const auto [it, fresh] = first_of.try_emplace({f.rule, f.message}, findings.size());
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
