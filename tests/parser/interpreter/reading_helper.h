// Small words for tests that read a program.
#pragma once

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <algorithm>
#include <string>
#include <string_view>
#include <vector>

#include "parser/interpreter/interpreter.h"
#include "parser/program/motion.h"

namespace provecut {

inline Program strictly(std::string_view text, InterpreterOptions options = {}) {
  options.strict = true;
  return interpret(text, options);
}

inline std::vector<std::string> idsOf(const Program& p) {
  std::vector<std::string> ids;
  for (const Problem& problem : p.problems) ids.emplace_back(problem.id);
  return ids;
}

inline const Problem* find(const Program& p, std::string_view id) {
  const auto it = std::find_if(p.problems.begin(), p.problems.end(), [&](const Problem& q) { return q.id == id; });
  return it == p.problems.end() ? nullptr : &*it;
}

template <class Wanted>
const Wanted& factOf(const Problem& problem, std::size_t index) {
  return std::get<Wanted>(problem.facts.at(index));
}

// The motions from the one with this index on, dwells left out.
inline std::vector<Motion> movesFrom(const Program& p, std::size_t first) {
  std::vector<Motion> moves;
  for (std::size_t i = first; i < p.motions.size(); ++i) {
    if (p.motions[i].kind != MotionKind::dwell) moves.push_back(p.motions[i]);
  }
  return moves;
}

struct ExpectedMove {
  MotionKind kind;
  WorkPoint end;
};
inline ExpectedMove T(double x, double y, double z) {
  return {MotionKind::rapid, {x, y, z}};
}
inline ExpectedMove F(double x, double y, double z) {
  return {MotionKind::feed, {x, y, z}};
}

inline void expectSteps(const std::vector<Motion>& moves, const std::vector<ExpectedMove>& steps,
                        double tolerance = 1e-9) {
  ASSERT_EQ(moves.size(), steps.size());
  for (std::size_t i = 0; i < steps.size(); ++i) {
    EXPECT_EQ(moves[i].kind, steps[i].kind) << "step " << i;
    EXPECT_NEAR(moves[i].end.x, steps[i].end.x, tolerance) << "step " << i;
    EXPECT_NEAR(moves[i].end.y, steps[i].end.y, tolerance) << "step " << i;
    EXPECT_NEAR(moves[i].end.z, steps[i].end.z, tolerance) << "step " << i;
    if (i > 0) {
      EXPECT_EQ(moves[i].start, moves[i - 1].end) << "step " << i;
    }
  }
}

}  // namespace provecut
