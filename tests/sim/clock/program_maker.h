// Small programs for the clock's tests.
#pragma once

#include <cstdint>

#include "parser/job/job.h"
#include "parser/program/motion.h"

namespace provecut::test {

// Moves one after the other from the origin.
class ProgramMaker {
 public:
  ProgramMaker& rapid(WorkPoint to) { return add(MotionKind::rapid, to, 0); }
  ProgramMaker& feed(WorkPoint to, double feed_mm_min) { return add(MotionKind::feed, to, feed_mm_min); }
  ProgramMaker& arc(MotionKind way, Plane plane, WorkPoint2 centre, WorkPoint to, double feed_mm_min, int turns = 1) {
    add(way, to, feed_mm_min);
    Motion& m = program.motions.back();
    m.plane = plane;
    m.centre = centre;
    m.turns = static_cast<std::uint16_t>(turns);
    return *this;
  }
  ProgramMaker& dwell(double seconds) {
    add(MotionKind::dwell, at_, 0);
    program.motions.back().dwell_s = static_cast<float>(seconds);
    return *this;
  }
  ProgramMaker& event(EventKind kind, double value = 0) {
    Event e{};
    e.kind = kind;
    e.before_motion = static_cast<std::uint32_t>(program.motions.size());
    e.value = value;
    program.events.push_back(e);
    return *this;
  }

  Program program;

 private:
  ProgramMaker& add(MotionKind kind, WorkPoint to, double feed_mm_min) {
    Motion m;
    m.kind = kind;
    m.start = at_;
    m.end = to;
    m.feed_mm_min = static_cast<float>(feed_mm_min);
    m.line = static_cast<std::uint32_t>(program.motions.size() + 1);
    program.motions.push_back(m);
    at_ = to;
    return *this;
  }
  WorkPoint at_;
};

// All axes alike.
inline Machine machineOf(double acceleration_mm_s2, double rate_mm_min = 1e5, double junction_deviation_mm = 0.01) {
  Machine m;
  m.max_rate_mm_min = {rate_mm_min, rate_mm_min, rate_mm_min};
  m.acceleration_mm_s2 = {acceleration_mm_s2, acceleration_mm_s2, acceleration_mm_s2};
  m.junction_deviation_mm = junction_deviation_mm;
  return m;
}

// Worked examples carry 13 significant digits; compared to a billionth.
inline double within(double expected) {
  return 1e-9 * (expected < 0 ? -expected : expected);
}

}  // namespace provecut::test
