// Many moves gathered into one finding, and findings about a place.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "report/base/wording.h"
#include "report/facts/facts.h"
#include "report/facts/finding.h"
#include "report/rules/rule.h"

namespace provecut {

// One move of a group: which move, how much, and where the tip is. `amount` is in the unit of the
// group's quantity.
struct Occurrence {
  std::uint32_t move = 0;
  double amount = 0;
  WorkPoint at;
};

enum class Worst { largest, smallest };

// The occurrence (at least one) with the worst amount, the first of equals.
const Occurrence& worstOf(const std::vector<Occurrence>& occurrences, Worst worst);

// One finding out of many moves of a program (at least one): place and `at` of the first, last line, number of moves,
// amount of the worst with its unit, told as measured. Where the worst is on another line than the first, `related`
// points there.
Finding groupFinding(const Facts& facts, std::size_t program, const Rule& rule, std::vector<Occurrence> occurrences,
                     Worst worst, Quantity quantity);

// The same for moves that have no amount.
Finding groupFinding(const Facts& facts, std::size_t program, const Rule& rule, std::vector<Occurrence> occurrences);

// "up to " where the finding speaks of several moves, else nothing.
std::string upTo(const Finding& finding);

// A finding about a place in a program that is no move's (columns in bytes), or about the program as a whole.
Finding placeFinding(const Facts& facts, std::size_t program, const Rule& rule, Place bytes);

// A finding whose place is the job file.
Finding jobFinding(const Facts& facts, const Rule& rule, Place bytes);

// The columns of a motion's word in code points.
ShownPlace shownPlace(const ProgramFacts& program, Place bytes);

// Points `related` to a line of the job file; does nothing for a job made from the command line.
void relateToJob(const Facts& facts, Finding& finding, Place bytes, std::string message);

}  // namespace provecut
