// Any bytes as a program: reading ends, keeps its promises about places and numbers, and says so when something was
// left out. The first byte chooses the options.
#include <algorithm>
#include <cmath>
#include <cstdint>
#include <cstdlib>
#include <iostream>
#include <string_view>
#include <tuple>

#include "parser/interpreter/interpreter.h"
#include "parser/program/arc.h"
#include "parser/program/problem_ids.h"

namespace provecut {
namespace {

void require(bool holds, const char* what) {
  if (holds) return;
  std::cerr << "does not hold: " << what << "\n";
  std::abort();
}
#define REQUIRE(condition) require((condition), #condition)

bool isPlace(WorkPoint p) {
  return std::abs(p.x) < 1e12 && std::abs(p.y) < 1e12 && std::abs(p.z) < 1e12;
}

void checkMotion(const Motion& m, std::uint32_t lines) {
  REQUIRE(isPlace(m.start) && isPlace(m.end));
  REQUIRE(m.line >= 1 && m.line <= lines);
  REQUIRE(m.column >= 1 && m.end_column >= m.column);
  REQUIRE(m.tool >= 0);
  REQUIRE(std::isfinite(m.feed_mm_min) && m.feed_mm_min >= 0);
  REQUIRE(std::isfinite(m.rpm) && m.rpm >= 0);
  REQUIRE(m.dwell_s >= 0);
  REQUIRE(m.turns >= 1);
  if (!isArc(m)) return;
  const double sweep = sweepOf(m);
  REQUIRE(sweep > 0 && sweep <= 7.0 * m.turns);
  REQUIRE(std::isfinite(arcLength(m)));
}

void checkText(const Fact& fact) {
  const auto* text = std::get_if<fact::Text>(&fact);
  const auto* code = std::get_if<fact::Code>(&fact);
  const std::string_view shown = text ? text->text : code ? code->text : std::string_view{};
  REQUIRE(std::none_of(shown.begin(), shown.end(), [](char c) { return static_cast<unsigned char>(c) < 32; }));
}

void checkProblems(const Program& p, bool strict) {
  for (std::size_t i = 0; i < p.problems.size(); ++i) {
    const Problem& q = p.problems[i];
    REQUIRE(!q.id.empty());
    REQUIRE(q.id == idOf(q.kind, strict) || q.kind == ProblemKind::more_of_the_same);
    for (const Fact& fact : q.facts) checkText(fact);
    REQUIRE(q.place.line <= p.lines);
    REQUIRE(q.place.end_column >= q.place.column);
    if (i == 0) continue;
    const Place before = p.problems[i - 1].place;
    REQUIRE(std::tie(before.line, before.column) <= std::tie(q.place.line, q.place.column));
  }
}

}  // namespace
}  // namespace provecut

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  if (size == 0) return 0;
  using namespace provecut;
  const std::string_view text(reinterpret_cast<const char*>(data) + 1, size - 1);
  InterpreterOptions options;
  options.strict = (data[0] & 1) != 0;
  options.block_delete = (data[0] & 2) != 0;
  if ((data[0] & 4) != 0) options.zero_in_machine = MachinePoint{-300, -200, -50};
  options.tool_diameter_mm = {{1, 6}, {2, -3}, {3, 0}};
  options.work_offset_mm = {{2, {100, 0, 0}}};
  options.max_motions = 50'000;
  options.max_repeated_lines = 20'000;
  const Program p = interpret(text, options);
  REQUIRE(p.motions.size() <= options.max_motions);
  for (const Motion& m : p.motions) checkMotion(m, p.lines);
  checkProblems(p, options.strict);
  for (const Event& e : p.events) REQUIRE(e.before_motion <= p.motions.size() && e.place.line <= p.lines);
  REQUIRE(p.read_whole == p.not_followed.empty());
  return 0;
}
