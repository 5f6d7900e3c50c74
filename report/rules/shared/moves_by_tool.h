// Moves of a program gathered by the tool that makes them: what all rules about tools share.
#pragma once

#include <cstddef>
#include <cstdint>
#include <functional>
#include <map>
#include <optional>
#include <vector>

#include "report/facts/facts.h"
#include "report/rules/shared/grouping.h"
#include "sim/tool/tool_body.h"

namespace provecut {

// A move whose tool the job file defines.
struct ToolMove {
  std::size_t program;
  std::uint32_t index;
  const Motion& motion;
  const Tool& tool;
};

// The body of each tool, made once.
class ToolBodies {
 public:
  explicit ToolBodies(const Job& job) : job_(job) {}
  const ToolBody& of(const Tool& tool);

 private:
  const Job& job_;
  std::map<int, ToolBody> by_number_;
};

// A feed move or an arc; not a rapid, a dwell or a probing move.
bool feeds(const Motion& motion);

// What is wrong with a move, in the unit of the rule's quantity; absent where nothing is.
using Judge = std::function<std::optional<double>(const ToolMove&)>;

// By tool number, the moves of a program against which `judge` has something, in their order. `at` of each is where its
// tip is lowest. Only tools that `concerns` accepts are looked at, all of them where it is empty.
std::map<int, std::vector<Occurrence>> movesByTool(const Facts& facts, std::size_t program, const Judge& judge,
                                                   const std::function<bool(const Tool&)>& concerns = {});

// One finding for one tool's moves of a program, with the tool as its subject. `related` points to the tool in the job
// file.
Finding toolFinding(const Facts& facts, std::size_t program, const Rule& rule, int number,
                    const std::vector<Occurrence>& occurrences, Worst worst, Quantity quantity);

}  // namespace provecut
