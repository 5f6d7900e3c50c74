// Where reading a program puts what it finds: the Program, with its problems counted and its motions limited.
#pragma once

#include <cstdint>
#include <limits>
#include <map>
#include <optional>
#include <set>
#include <string>
#include <string_view>
#include <vector>

#include "parser/interpreter/resume_tracker.h"
#include "parser/program/motion.h"

namespace provecut::interpreter {

// How often problems of each public id were met: after the first hundred they are only counted.
struct ProblemTally {
  std::map<std::string_view, std::uint32_t> counts;
  std::map<std::string_view, std::size_t> first_uncounted;  // index of the problem that counts all further ones
  std::set<std::string_view> said_once;
  bool line_before_numbered = false;  // with N
};

// What of the moves can be judged only when all are known.
struct MoveTally {
  double lowest_rapid_mm = std::numeric_limits<double>::infinity();  // where rapids end
  // The lowest of the feeds above the work zero while X or Y is not known:
  double lowest_unknown_feed_mm = std::numeric_limits<double>::infinity();
  fact::Axes unknown_axes;
  Place unknown_feed;
};

struct Sink {
  bool strict = false;
  std::uint64_t max_motions = 0;
  Program program;
  bool over_limit = false;  // more motions than allowed: no more are taken
  std::size_t tool_comments = 0;
  ProblemTally tally;
  MoveTally moves;
  ResumeTracker resuming;
};

using FactList = std::vector<Fact>;

// Adds a problem under the id that its kind has in this reading; none where it has none.
void addProblem(Sink& sink, ProblemKind kind, Place place, FactList facts = {}, std::optional<Place> other = {});
// Only the first one of its id in this program.
void addProblemOnce(Sink& sink, ProblemKind kind, Place place, FactList facts = {});
// The program cannot be followed whole from here on.
void addNotFollowed(Sink& sink, ProblemKind kind, Place place, FactList facts = {});
// From here on problems of this kind's id are a new matter.
void sayAgain(Sink& sink, ProblemKind kind);
// Sorts the problems by place and writes the counts of those not kept.
void finishProblems(Sink& sink);

void addEvent(Sink& sink, EventKind kind, double value, Place place, std::string text = {});
// Notes the first use of something that not every machine takes ("arcs", "canned-cycles" …: the job file's `accepts`).
void noteUse(Sink& sink, std::string_view feature, Place place);

// Index of the next motion, as events have it.
inline std::uint32_t nextMotion(const Sink& sink) {
  return static_cast<std::uint32_t>(sink.program.motions.size());
}

}  // namespace provecut::interpreter
