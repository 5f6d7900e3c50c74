#include "sim/clock/clock.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "parser/base/check.h"
#include "sim/clock/arc_speed.h"
#include "sim/clock/jerk_profile.h"
#include "sim/clock/speed_profile.h"

namespace provecut::clock {
namespace {

// A program as far as it is planned: the moves since the axes stood still are planned together, at the next halt.
struct Planning {
  const Program& program;
  const Machine& machine;
  const PlanOptions& options;
  AxisLimits axes;
  Plan plan;
  std::vector<SpeedStretch> stretches;  // driven without a halt
  std::vector<std::uint32_t> moves;     // their motions
  std::vector<double> bends;            // their MovePath::bend2_mm2_s2, up to the last that has one; empty: none has
  std::vector<double> braked2;          // what braking over all before takes off a speed's square
  Vec3 last;                            // direction in which the last of them ends
  std::size_t next_control = 0;
  PathControlChange control, last_control;  // in force now, and for the move before
  bool control_changed = false;
};

void spend(Planning& p, const Motion& m, std::size_t index, double time_s) {
  p.plan.move_s[index] = static_cast<float>(time_s);
  (countsAsRapid(m) ? p.plan.time.rapid_s : p.plan.time.cutting_s) += time_s;
}

void keep(Planning& p, std::size_t i, double entry_mm_s, double exit_mm_s, double peak_mm_s) {
  if (p.options.keep_peaks) p.plan.peak_mm_s[p.moves[i]] = static_cast<float>(peak_mm_s);
  if (!p.options.keep_speeds) return;
  MoveSpeed& m = p.plan.speeds[p.moves[i]];
  m.length_mm = p.stretches[i].length_mm;
  m.limit_mm_s = p.stretches[i].speed_mm_s;
  m.entry_mm_s = entry_mm_s;
  m.exit_mm_s = exit_mm_s;
  m.peak_mm_s = peak_mm_s;
}

// v² at a joint is at most what the next N stretches can brake: with that, one pass backward over the whole path gives
// what a pass over each window would.
void limitToLookAhead(Planning& p) {
  const std::size_t seen = p.machine.look_ahead_blocks, n = p.stretches.size();
  p.braked2.resize(n + 1);
  p.braked2[0] = 0;
  for (std::size_t i = 0; i < n; ++i) {
    const SpeedStretch& s = p.stretches[i];
    const bool bent = !p.bends.empty() && p.bends[i] > 0;
    p.braked2[i + 1] = p.braked2[i] + (bent ? arcLeastBraked2(s, p.bends[i]) : 2 * s.acceleration_mm_s2 * s.length_mm);
  }
  for (std::size_t i = 0; i + seen < n; ++i)
    p.stretches[i].entry2_mm2_s2 = std::min(p.stretches[i].entry2_mm2_s2, p.braked2[i + seen] - p.braked2[i]);
}

void haltWithoutJerk(Planning& p) {
  planSpeeds(p.stretches);
  double entry = 0;
  for (std::size_t i = 0; i < p.stretches.size(); ++i) {
    const SpeedStretch& s = p.stretches[i];
    const double exit = i + 1 < p.stretches.size() ? std::sqrt(p.stretches[i + 1].entry2_mm2_s2) : 0.0;
    const double time_s = stretchTime(s.length_mm, s.speed_mm_s, s.acceleration_mm_s2, entry, exit);
    if (p.options.keep_speeds || p.options.keep_peaks)
      keep(p, i, entry, exit, peakSpeed(s.length_mm, s.speed_mm_s, s.acceleration_mm_s2, entry, exit));
    spend(p, p.program.motions[p.moves[i]], p.moves[i], time_s);
    entry = exit;
  }
}

void haltWithSharedArcs(Planning& p) {
  planSpeeds(p.stretches, p.bends);
  double entry = 0;
  for (std::size_t i = 0; i < p.stretches.size(); ++i) {
    const SpeedStretch& s = p.stretches[i];
    const double exit = i + 1 < p.stretches.size() ? std::sqrt(p.stretches[i + 1].entry2_mm2_s2) : 0.0;
    const ArcDrive drive = p.bends[i] > 0
                               ? driveArc(s, p.bends[i], entry, exit)
                               : ArcDrive{stretchTime(s.length_mm, s.speed_mm_s, s.acceleration_mm_s2, entry, exit),
                                          peakSpeed(s.length_mm, s.speed_mm_s, s.acceleration_mm_s2, entry, exit)};
    if (p.options.keep_speeds || p.options.keep_peaks) keep(p, i, entry, exit, drive.peak_mm_s);
    spend(p, p.program.motions[p.moves[i]], p.moves[i], drive.time_s);
    entry = exit;
  }
}

void haltWithJerk(Planning& p) {
  std::vector<double> limit2;
  for (const SpeedStretch& s : p.stretches) limit2.push_back(s.entry2_mm2_s2);
  planSpeeds(p.stretches);
  std::vector<StretchDrive> drive(p.stretches.size());
  driveWithJerk(p.stretches, limit2, p.machine.jerk_mm_s3, drive);
  for (std::size_t i = 0; i < drive.size(); ++i) {
    if (p.options.keep_speeds || p.options.keep_peaks)
      keep(p, i, drive[i].entry_mm_s, drive[i].exit_mm_s, drive[i].peak_mm_s);
    spend(p, p.program.motions[p.moves[i]], p.moves[i], drive[i].time_s);
  }
}

// The axes come to rest: nothing that follows can change what was driven so far.
void halt(Planning& p) {
  const bool bent = !p.bends.empty();
  if (bent) p.bends.resize(p.stretches.size(), 0);
  if (p.machine.look_ahead_blocks > 0) limitToLookAhead(p);
  if (p.machine.jerk_mm_s3 > 0)
    haltWithJerk(p);
  else if (bent)
    haltWithSharedArcs(p);
  else
    haltWithoutJerk(p);
  p.stretches.clear();
  p.bends.clear();
  p.moves.clear();
}

double corner2At(const Planning& p, const PathControlChange& c, const Vec3& first, double room_mm) {
  switch (c.control) {
    case PathControl::exact_stop:
      return 0;
    case PathControl::exact_path:
      return cornerSpeed2(p.last, first, p.axes, std::min(exact_path_mm, p.machine.junction_deviation_mm));
    case PathControl::tolerance:
      return cornerSpeed2(p.last, first, p.axes, std::max(exact_path_mm, c.tolerance_mm), room_mm);
    case PathControl::as_set:
      break;
  }
  return cornerSpeed2(p.last, first, p.axes, p.machine.junction_deviation_mm);
}

// Each axis goes at its own rate; the move is done when the slowest is.
void takeDogleg(Planning& p, const Motion& m, std::size_t index) {
  const Vec3 way = m.end - m.start;
  const auto axis = [](double way_mm, double rate, double acceleration) {
    const double far = std::fabs(way_mm);
    return far > 0 && std::isfinite(far) ? stretchTime(far, rate, acceleration, 0, 0) : 0.0;
  };
  const double time_s = std::max({axis(way.x, p.axes.rate_mm_s.x, p.axes.acceleration_mm_s2.x),
                                  axis(way.y, p.axes.rate_mm_s.y, p.axes.acceleration_mm_s2.y),
                                  axis(way.z, p.axes.rate_mm_s.z, p.axes.acceleration_mm_s2.z)});
  spend(p, m, index, time_s);
}

void take(Planning& p, const Event& event, std::size_t index) {
  double time_s = 0;
  switch (event.kind) {
    case EventKind::comment_tool:
      return;
    case EventKind::optional_stop:  // off unless the operator asks for it
      if (p.options.program_stop_s <= 0) return;
      [[fallthrough]];
    case EventKind::stop:
      p.plan.time.stop_s += time_s = p.options.program_stop_s;
      break;
    case EventKind::tool_change: {
      const int tool = static_cast<int>(event.value);
      if (tool == 0 || tool != p.plan.tool_at_end) p.plan.time.tool_change_s += time_s = p.machine.tool_change_s;
      p.plan.tool_at_end = tool;
      break;
    }
    case EventKind::spindle_start:
      p.plan.time.spindle_s += time_s = p.machine.spindle_start_s;
      break;
    case EventKind::spindle_stop:
      p.plan.time.spindle_s += time_s = p.machine.spindle_stop_s;
      break;
    case EventKind::end:
      break;
  }
  p.plan.event_s[index] = static_cast<float>(time_s);
  halt(p);
}

void takePathControl(Planning& p, std::size_t index) {
  const auto& changes = p.program.path_control;
  for (; p.next_control < changes.size() && changes[p.next_control].before_motion <= index; ++p.next_control) {
    p.control = changes[p.next_control];
    p.control_changed = true;
  }
}

void take(Planning& p, const Motion& m, std::size_t index) {
  if (m.kind == MotionKind::dwell) {
    halt(p);
    const double dwell_s = m.dwell_s > 0 && std::isfinite(m.dwell_s) ? m.dwell_s : 0;
    p.plan.move_s[index] = static_cast<float>(dwell_s);
    p.plan.time.dwell_s += dwell_s;
    return;
  }
  if (m.kind == MotionKind::rapid && p.machine.rapids == Rapids::independent) {
    halt(p);
    takeDogleg(p, m, index);
    return;
  }
  const bool approach = p.options.approach_as_rapid && (m.flags & motion_approach);
  const bool fed = m.kind != MotionKind::rapid && m.feed_mm_min > 0 && !approach;
  MovePath path = movePath(m, p.axes, fed ? double{m.feed_mm_min} * p.options.feed_override / 60 : 0);
  if (!(path.length_mm > 0)) return;
  // The moves of a canned cycle are made from one block, so they do not wait for the next one.
  if (p.machine.blocks_per_second > 0 && !(m.flags & motion_in_cycle)) {
    const double streamed_mm_s = path.length_mm * p.machine.blocks_per_second;
    if (streamed_mm_s < path.speed_mm_s) {
      path.speed_mm_s = streamed_mm_s;
      path.limit = SpeedLimit::blocks_per_second;
    }
  }
  const bool probe = m.kind == MotionKind::probe;
  if (probe) halt(p);
  SpeedStretch s{path.length_mm, path.speed_mm_s, path.acceleration_mm_s2, 0};
  const bool from_rest = p.stretches.empty();
  double corner2 = 0;
  if (!from_rest && p.machine.cornering == Cornering::junction_deviation) {
    const double slower = std::min(path.speed_mm_s, p.stretches.back().speed_mm_s);
    const double room_mm = 0.5 * std::min(path.length_mm, p.stretches.back().length_mm);
    corner2 = corner2At(p, p.control, path.first, room_mm);
    // A corner between two kinds of control belongs to both.
    if (p.control_changed) corner2 = std::min(corner2, corner2At(p, p.last_control, path.first, room_mm));
    s.entry2_mm2_s2 = std::min(slower * slower, corner2);
  }
  p.last_control = p.control;
  p.control_changed = false;
  p.stretches.push_back(s);
  if (path.bend2_mm2_s2 > 0) {
    p.bends.resize(p.stretches.size(), 0);
    p.bends.back() = path.bend2_mm2_s2;
  }
  p.moves.push_back(static_cast<std::uint32_t>(index));
  p.last = path.last;
  if (p.options.keep_speeds) {
    p.plan.speeds[index].acceleration_mm_s2 = path.acceleration_mm_s2;
    p.plan.speeds[index].limit = path.limit;
    p.plan.speeds[index].corner_mm_s = std::sqrt(corner2);
    p.plan.speeds[index].from_rest = from_rest;
  }
  if (probe) halt(p);
}

}  // namespace

Plan plan(const Program& program, const Machine& machine, const PlanOptions& options) {
  CHECK(options.feed_override > 0);
  CHECK(machine.junction_deviation_mm >= 0);
  CHECK(machine.blocks_per_second >= 0);
  CHECK(machine.jerk_mm_s3 >= 0);
  CHECK(machine.look_ahead_blocks >= 0);
  CHECK(machine.tool_change_s >= 0 && machine.spindle_start_s >= 0 && machine.spindle_stop_s >= 0);
  CHECK(options.program_stop_s >= 0);
  Planning p{program, machine, options, axisLimits(machine), {}, {}, {}, {}, {}, {}, 0, {}, {}, false};
  p.plan.move_s.assign(program.motions.size(), 0.0F);
  p.plan.event_s.assign(program.events.size(), 0.0F);
  if (options.keep_speeds) p.plan.speeds.resize(program.motions.size());
  if (options.keep_peaks) p.plan.peak_mm_s.assign(program.motions.size(), 0.0F);
  p.plan.tool_at_end = options.tool_in_spindle;

  std::size_t next_event = 0;
  const auto& events = program.events;
  for (std::size_t i = 0; i < program.motions.size(); ++i) {
    for (; next_event < events.size() && events[next_event].before_motion <= i; ++next_event)
      take(p, events[next_event], next_event);
    takePathControl(p, i);
    take(p, program.motions[i], i);
  }
  for (; next_event < events.size(); ++next_event) take(p, events[next_event], next_event);
  halt(p);
  return std::move(p.plan);
}

}  // namespace provecut::clock
