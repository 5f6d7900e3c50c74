#include "parser/interpreter/sink.h"

#include <algorithm>
#include <utility>

#include "parser/program/problem_ids.h"

namespace provecut::interpreter {

namespace {

constexpr std::uint32_t max_problems_of_one_id = 100;
constexpr std::size_t max_not_followed = 20;

void keepProblem(Sink& sink, Problem problem) {
  const std::uint32_t count = ++sink.tally.counts[problem.id];
  if (count > max_problems_of_one_id + 1) return;
  if (count == max_problems_of_one_id + 1) sink.tally.first_uncounted[problem.id] = sink.program.problems.size();
  sink.program.problems.push_back(std::move(problem));
}

}  // namespace

void addProblem(Sink& sink, ProblemKind kind, Place place, FactList facts, std::optional<Place> other) {
  const std::string_view id = idOf(kind, sink.strict);
  if (!id.empty()) keepProblem(sink, {kind, id, place, std::move(facts), other});
}

void addProblemOnce(Sink& sink, ProblemKind kind, Place place, FactList facts) {
  const std::string_view id = idOf(kind, sink.strict);
  if (!id.empty() && sink.tally.said_once.insert(id).second) keepProblem(sink, {kind, id, place, std::move(facts), {}});
}

void addNotFollowed(Sink& sink, ProblemKind kind, Place place, FactList facts) {
  Problem problem{kind, idOf(kind, sink.strict), place, std::move(facts), {}};
  sink.program.read_whole = false;
  if (sink.program.not_followed.size() < max_not_followed) sink.program.not_followed.push_back(problem);
  keepProblem(sink, std::move(problem));
}

void sayAgain(Sink& sink, ProblemKind kind) {
  sink.tally.said_once.erase(idOf(kind, sink.strict));
}

void finishProblems(Sink& sink) {
  std::vector<Problem>& problems = sink.program.problems;
  for (const auto& [id, index] : sink.tally.first_uncounted) {
    const std::uint32_t more = sink.tally.counts[id] - max_problems_of_one_id;
    if (more == 1) continue;
    problems[index].kind = ProblemKind::more_of_the_same;
    problems[index].facts = {fact::Count{more}};
    problems[index].other.reset();
  }
  std::stable_sort(problems.begin(), problems.end(), [](const Problem& a, const Problem& b) {
    return std::pair{a.place.line, a.place.column} < std::pair{b.place.line, b.place.column};
  });
}

void addEvent(Sink& sink, EventKind kind, double value, Place place, std::string text) {
  sink.program.events.push_back({kind, nextMotion(sink), value, place, std::move(text)});
}

void noteUse(Sink& sink, std::string_view feature, Place place) {
  for (const FeatureUse& use : sink.program.features) {
    if (use.feature == feature) return;
  }
  sink.program.features.push_back({std::string(feature), place});
}

}  // namespace provecut::interpreter
