#include "parser/interpreter/reading.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

#include "parser/base/quoted_text.h"
#include "parser/program/plane_axes.h"

namespace provecut::interpreter {

namespace {

constexpr std::uint32_t max_problems_of_one_id = 100;
constexpr std::size_t max_not_followed = 20;

std::uint16_t saturated(std::uint32_t column) {
  return static_cast<std::uint16_t>(std::min<std::uint32_t>(column, std::numeric_limits<std::uint16_t>::max()));
}

// What a move relies on though the program did not set it.
void noteModalUse(Reading& r, const Motion& m) {
  ModalUse& use = r.program.modal;
  (r.state.inch ? use.ever_inch : use.ever_mm) = true;
  const bool plane_matters = isArc(m) || r.in_cycle;
  if (use.units_set && use.distance_set && (use.plane_set || !plane_matters)) return;
  if (use.first_use.line == 0) use.first_use = placeOf(m);
  use.units_used |= !use.units_set;
  use.distance_used |= !use.distance_set;
  use.plane_used |= plane_matters && !use.plane_set;
}

void noteInheritedFeed(Reading& r, Place place) {
  r.state.feed_before_tool = false;
  addProblem(r, "feed-from-other-tool", place,
             "Tool " + std::to_string(r.state.tool) + " cuts at the feed that was set before it was put in.",
             "That feed is taken.", "Put an F word after the tool change.");
}

// Moves along an axis of which nobody knows where it stood.
bool isApproach(const Reading& r, const WorkPoint& start, const WorkPoint& end) {
  return (!r.start_known[0] && start.x != end.x) || (!r.start_known[1] && start.y != end.y) ||
         (!r.start_known[2] && start.z != end.z);
}

std::string unknownAxes(const std::array<bool, 3>& known, const std::array<bool, 3>& asked) {
  std::string names;
  for (std::size_t axis = 0; axis < 3; ++axis) {
    if (known[axis] || !asked[axis]) continue;
    if (!names.empty()) names += " and ";
    names += axis_letter[axis];
  }
  return names;
}

void sayPositionUnknown(Reading& r, const std::string& what, Place place) {
  addProblemOnce(r, "position-unknown", place, what + " is not known.",
                 "It is taken where it stood last; at the start that is X 0, Y 0 and the top of the travel.",
                 "Start with an absolute rapid (G90 G0) to a known place.");
}

// A feed move with X or Y unknown. Below the work zero it cuts. Above it, going down may be all that it does: that is
// held against the program's rapids in the end, which do not cut. Across at the first height named is how programs
// without rapids begin.
void noteFeedFromUnknown(Reading& r, const Motion& m, Place place) {
  if (m.kind == MotionKind::probe) return;
  const double low = std::min(m.start.z, m.end.z);
  const std::string axes = unknownAxes(r.start_known, {true, true, false});
  const std::string what = "The tool is fed while the place of " + axes;
  if (low < 0 || isArc(m)) {
    sayPositionUnknown(r, what, place);
  } else if (r.start_known[2] && m.end.z < m.start.z && low < r.lowest_feed_from_unknown) {
    r.lowest_feed_from_unknown = low;
    r.feed_from_unknown = {what, place};
  }
}

unsigned commonFlags(const Reading& r) {
  unsigned flags = 0;
  if (r.in_cycle) flags |= motion_in_cycle;
  if (r.in_subprogram) flags |= motion_in_subprogram;
  if (!startKnown(r)) flags |= motion_start_unknown;
  return flags;
}

}  // namespace

Place placeOf(const Reading& r, const Word& w) {
  return {r.line_number, w.column, w.end_column};
}

Problem& addProblem(Reading& r, std::string_view id, Place place, std::string message, std::string assumed,
                    std::string help) {
  std::uint32_t& count = r.problem_counts[id];
  ++count;
  if (count <= max_problems_of_one_id + 1) {
    if (count == max_problems_of_one_id + 1) r.first_uncounted[id] = r.program.problems.size();
    r.program.problems.push_back({std::string(id), place, std::move(message), std::move(assumed), std::move(help), {}});
    return r.program.problems.back();
  }
  r.spare_problem = {};
  return r.spare_problem;
}

Problem* addProblemOnce(Reading& r, std::string_view id, Place place, std::string message, std::string assumed,
                        std::string help) {
  if (!r.said_once.insert(id).second) return nullptr;
  return &addProblem(r, id, place, std::move(message), std::move(assumed), std::move(help));
}

void addNotFollowed(Reading& r, std::string_view id, Place place, std::string message, std::string assumed,
                    std::string help) {
  r.program.read_whole = false;
  if (r.program.not_followed.size() < max_not_followed) {
    r.program.not_followed.push_back("line " + std::to_string(place.line) + ": " + message);
  }
  addProblem(r, id, place, std::move(message), std::move(assumed), std::move(help));
}

void tolerate(Reading& r, std::string_view usual_id, std::string_view strict_id, Place place, std::string message,
              std::string assumed, std::string help) {
  const std::string_view id = r.options.strict ? strict_id : usual_id;
  if (!id.empty()) addProblem(r, id, place, std::move(message), std::move(assumed), std::move(help));
}

std::string shownWord(const Reading& r, const Word& w) {
  return shownText(r.line.substr(w.column - 1, w.end_column - w.column));
}

void finishProblems(Reading& r) {
  for (const auto& [id, index] : r.first_uncounted) {
    const std::uint32_t more = r.problem_counts[id] - max_problems_of_one_id;
    if (more > 1) r.program.problems[index].message = std::to_string(more) + " more places like this, from here on.";
  }
  std::stable_sort(r.program.problems.begin(), r.program.problems.end(), [](const Problem& a, const Problem& b) {
    return std::pair{a.place.line, a.place.column} < std::pair{b.place.line, b.place.column};
  });
}

Motion& addMotion(Reading& r, MotionKind kind, WorkPoint end, Place place) {
  if (r.program.motions.size() >= r.options.max_motions) r.over_limit = true;
  if (r.over_limit) {
    r.spare_motion = {};
    return r.spare_motion;
  }
  Motion& m = r.program.motions.emplace_back();
  m.start = r.position;
  m.end = end;
  m.line = place.line;
  m.column = saturated(place.column);
  m.end_column = saturated(place.end_column);
  m.tool = r.state.tool;
  m.kind = kind;
  m.plane = r.state.plane;
  m.spindle = r.state.spindle;
  m.rpm = static_cast<float>(r.state.rpm);
  unsigned flags = commonFlags(r);
  if (isApproach(r, m.start, m.end)) flags |= motion_approach;
  if (kind != MotionKind::rapid && kind != MotionKind::dwell) {
    if (r.state.feed <= 0) {
      flags |= motion_feed_unset;
      addProblemOnce(r, "feed-missing", place,
                     r.state.feed == 0 ? "The feed in force is 0, so this move would never end."
                                       : "A feed move, and no F word before it.",
                     "The move is followed; its time is not known.", "Put an F word at or before this line.");
    } else if (r.state.feed_per_turn && r.state.rpm <= 0) {
      flags |= motion_feed_unset;
      addProblemOnce(r, "feed-missing", place,
                     "A feed per revolution (G95), and no spindle speed before it, so this move would never end.",
                     "The move is followed; its time is not known.", "Put an S word at or before this line.");
    } else if (r.state.feed_per_turn) {
      m.feed_mm_min = static_cast<float>(r.state.feed * r.state.unit() * r.state.rpm);
    } else if (!r.state.inverse_time) {
      m.feed_mm_min = static_cast<float>(r.state.feed * r.state.unit());
    } else {
      m.feed_mm_min = static_cast<float>(r.state.feed * length(end - m.start));
    }
    if (r.state.feed_before_tool) noteInheritedFeed(r, place);
    if (!r.start_known[0] || !r.start_known[1]) noteFeedFromUnknown(r, m, place);
    if (kind == MotionKind::feed && end == m.start && !r.in_cycle && r.repeated_points++ == 0)
      r.first_repeated_point = place;
  }
  if (kind == MotionKind::rapid) r.lowest_rapid = std::min(r.lowest_rapid, end.z);
  m.flags = static_cast<std::uint8_t>(flags);
  noteModalUse(r, m);
  r.position = end;
  r.start_known = r.known;
  return m;
}

void addDwell(Reading& r, double seconds, Place place) {
  if (r.over_limit) return;
  Motion& m = r.program.motions.emplace_back();
  m.start = m.end = r.position;
  m.kind = MotionKind::dwell;
  m.dwell_s = static_cast<float>(seconds);
  m.line = place.line;
  m.column = saturated(place.column);
  m.end_column = saturated(place.end_column);
  m.tool = r.state.tool;
  m.plane = r.state.plane;
  m.spindle = r.state.spindle;
  m.rpm = static_cast<float>(r.state.rpm);
  m.flags = static_cast<std::uint8_t>(commonFlags(r));
}

void addEvent(Reading& r, EventKind kind, double value, Place place, std::string text) {
  r.program.events.push_back(
      {kind, static_cast<std::uint32_t>(r.program.motions.size()), value, place, std::move(text)});
}

void noteUse(Reading& r, std::string_view feature, Place place) {
  for (const FeatureUse& use : r.program.features) {
    if (use.feature == feature) return;
  }
  r.program.features.push_back({std::string(feature), place});
}

WorkPoint programmedPoint(const Reading& r) {
  const CompensationState& c = r.compensation;
  if (c.side == 0 || !c.entered) return r.position;
  return {c.programmed.x, c.programmed.y, r.position.z};
}

void noteIncrements(Reading& r, Place place) {
  if (!r.state.incremental) return;
  const LineWords& w = r.line_words;
  std::array<bool, 3> moved{};
  for (std::size_t axis = 0; axis < 3; ++axis)
    moved[axis] = w.has(axis_letter[axis]) && w.value(axis_letter[axis]) != 0;
  const std::string axes = unknownAxes(r.known, moved);
  if (!axes.empty()) sayPositionUnknown(r, "The program moves by increments while the place of " + axes, place);
}

void reportFeedFromUnknown(Reading& r) {
  // A program without rapids feeds in the air too.
  if (std::isfinite(r.lowest_rapid) && r.lowest_feed_from_unknown < r.lowest_rapid)
    sayPositionUnknown(r, r.feed_from_unknown.first, r.feed_from_unknown.second);
}

WorkPoint targetOf(Reading& r) {
  const LineWords& w = r.line_words;
  WorkPoint target = programmedPoint(r);
  const double unit = r.state.unit();
  const auto axis = [&](char letter, double& value, double shift, bool& known) {
    if (!w.has(letter)) return;
    if (r.state.incremental) {
      value += w.value(letter) * unit;
    } else {
      value = w.value(letter) * unit + shift;
      known = true;
    }
  };
  axis('X', target.x, r.origin.x + r.g92.x, r.known[0]);
  axis('Y', target.y, r.origin.y + r.g92.y, r.known[1]);
  axis('Z', target.z, r.origin.z + r.g92.z, r.known[2]);
  return target;
}

}  // namespace provecut::interpreter
