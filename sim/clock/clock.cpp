#include "sim/clock/clock.h"

#include <algorithm>
#include <cmath>

#include "parser/base/check.h"
#include "sim/clock/arc_speed.h"
#include "sim/clock/jerk_profile.h"
#include "sim/clock/speed_profile.h"

namespace provecut::clock {
namespace {

// Plans the moves between two halts of the axes at a time.
class Planner {
 public:
  Planner(const Program& program, const Machine& machine, const PlanOptions& options)
      : program_(program), machine_(machine), options_(options), axes_(axisLimits(machine)) {
    CHECK(options.feed_override > 0);
    CHECK(machine.junction_deviation_mm >= 0);
    CHECK(machine.blocks_per_second >= 0);
    CHECK(machine.jerk_mm_s3 >= 0);
    CHECK(machine.look_ahead_blocks >= 0);
    CHECK(machine.tool_change_s >= 0 && machine.spindle_start_s >= 0 && machine.spindle_stop_s >= 0);
    CHECK(options.program_stop_s >= 0);
    plan_.move_s.assign(program.motions.size(), 0.0F);
    plan_.event_s.assign(program.events.size(), 0.0F);
    if (options.keep_speeds) plan_.speeds.resize(program.motions.size());
    if (options.keep_peaks) plan_.peak_mm_s.assign(program.motions.size(), 0.0F);
    plan_.tool_at_end = options.tool_in_spindle;
  }

  Plan run() {
    std::size_t next_event = 0;
    const auto& motions = program_.motions;
    for (std::size_t i = 0; i < motions.size(); ++i) {
      for (; next_event < program_.events.size() && program_.events[next_event].before_motion <= i; ++next_event)
        take(program_.events[next_event], next_event);
      takePathControl(i);
      take(motions[i], i);
    }
    for (; next_event < program_.events.size(); ++next_event) take(program_.events[next_event], next_event);
    halt();
    return std::move(plan_);
  }

 private:
  void take(const Event& event, std::size_t index) {
    double time_s = 0;
    switch (event.kind) {
      case EventKind::comment_tool:
        return;
      case EventKind::optional_stop:  // off unless the operator asks for it
        if (options_.program_stop_s <= 0) return;
        [[fallthrough]];
      case EventKind::stop:
        plan_.time.stop_s += time_s = options_.program_stop_s;
        break;
      case EventKind::tool_change: {
        const int tool = static_cast<int>(event.value);
        if (tool == 0 || tool != plan_.tool_at_end) plan_.time.tool_change_s += time_s = machine_.tool_change_s;
        plan_.tool_at_end = tool;
        break;
      }
      case EventKind::spindle_start:
        plan_.time.spindle_s += time_s = machine_.spindle_start_s;
        break;
      case EventKind::spindle_stop:
        plan_.time.spindle_s += time_s = machine_.spindle_stop_s;
        break;
      case EventKind::end:
        break;
    }
    plan_.event_s[index] = static_cast<float>(time_s);
    halt();
  }

  void take(const Motion& m, std::size_t index) {
    if (m.kind == MotionKind::dwell) {
      halt();
      const double dwell_s = m.dwell_s > 0 && std::isfinite(m.dwell_s) ? m.dwell_s : 0;
      plan_.move_s[index] = static_cast<float>(dwell_s);
      plan_.time.dwell_s += dwell_s;
      return;
    }
    if (m.kind == MotionKind::rapid && machine_.rapids == Rapids::independent) {
      halt();
      takeDogleg(m, index);
      return;
    }
    const bool approach = options_.approach_as_rapid && (m.flags & motion_approach);
    const bool fed = m.kind != MotionKind::rapid && m.feed_mm_min > 0 && !approach;
    MovePath path = movePath(m, axes_, fed ? static_cast<double>(m.feed_mm_min) * options_.feed_override / 60 : 0);
    if (!(path.length_mm > 0)) return;
    // The moves of a canned cycle are made from one block, so they do not wait for the next one.
    if (machine_.blocks_per_second > 0 && !(m.flags & motion_in_cycle)) {
      const double streamed_mm_s = path.length_mm * machine_.blocks_per_second;
      if (streamed_mm_s < path.speed_mm_s) {
        path.speed_mm_s = streamed_mm_s;
        path.limit = SpeedLimit::blocks_per_second;
      }
    }
    const bool probe = m.kind == MotionKind::probe;
    if (probe) halt();
    Stretch s{path.length_mm, path.speed_mm_s, path.acceleration_mm_s2, 0};
    const bool from_rest = stretches_.empty();
    double corner2 = 0;
    if (!from_rest && machine_.cornering == Cornering::junction_deviation) {
      const double slower = std::min(path.speed_mm_s, stretches_.back().speed_mm_s);
      const double room_mm = 0.5 * std::min(path.length_mm, stretches_.back().length_mm);
      corner2 = corner2At(control_, path.first, room_mm);
      // A corner between two kinds of control belongs to both.
      if (control_changed_) corner2 = std::min(corner2, corner2At(last_control_, path.first, room_mm));
      s.entry2_mm2_s2 = std::min(slower * slower, corner2);
    }
    last_control_ = control_;
    control_changed_ = false;
    stretches_.push_back(s);
    if (path.bend2_mm2_s2 > 0) {
      bends_.resize(stretches_.size(), 0);
      bends_.back() = path.bend2_mm2_s2;
    }
    moves_.push_back(static_cast<std::uint32_t>(index));
    last_ = path.last;
    if (options_.keep_speeds) {
      plan_.speeds[index].acceleration_mm_s2 = path.acceleration_mm_s2;
      plan_.speeds[index].limit = path.limit;
      plan_.speeds[index].corner_mm_s = std::sqrt(corner2);
      plan_.speeds[index].from_rest = from_rest;
    }
    if (probe) halt();
  }

  void takePathControl(std::size_t index) {
    const auto& changes = program_.path_control;
    for (; next_control_ < changes.size() && changes[next_control_].before_motion <= index; ++next_control_) {
      control_ = changes[next_control_];
      control_changed_ = true;
    }
  }

  double corner2At(const PathControlChange& c, const Vec3& first, double room_mm) const {
    switch (c.control) {
      case PathControl::exact_stop:
        return 0;
      case PathControl::exact_path:
        return cornerSpeed2(last_, first, axes_, std::min(exact_path_mm, machine_.junction_deviation_mm));
      case PathControl::tolerance:
        return cornerSpeed2(last_, first, axes_, std::max(exact_path_mm, c.tolerance_mm), room_mm);
      case PathControl::as_set:
        break;
    }
    return cornerSpeed2(last_, first, axes_, machine_.junction_deviation_mm);
  }

  // Each axis goes at its own rate; the move is done when the slowest is.
  void takeDogleg(const Motion& m, std::size_t index) {
    const Vec3 way = m.end - m.start;
    const auto axis = [](double way_mm, double rate, double acceleration) {
      const double far = std::fabs(way_mm);
      return far > 0 && std::isfinite(far) ? stretchTime(far, rate, acceleration, 0, 0) : 0.0;
    };
    const double time_s = std::max({axis(way.x, axes_.rate_mm_s.x, axes_.acceleration_mm_s2.x),
                                    axis(way.y, axes_.rate_mm_s.y, axes_.acceleration_mm_s2.y),
                                    axis(way.z, axes_.rate_mm_s.z, axes_.acceleration_mm_s2.z)});
    spend(m, index, time_s);
  }

  void spend(const Motion& m, std::size_t index, double time_s) {
    plan_.move_s[index] = static_cast<float>(time_s);
    (countsAsRapid(m) ? plan_.time.rapid_s : plan_.time.cutting_s) += time_s;
  }

  // The axes come to rest: nothing that follows can change what was driven so far.
  void halt() {
    const bool bent = !bends_.empty();
    if (bent) bends_.resize(stretches_.size(), 0);
    if (machine_.look_ahead_blocks > 0) limitToLookAhead();
    if (machine_.jerk_mm_s3 > 0)
      haltWithJerk();
    else if (bent)
      haltWithSharedArcs();
    else
      haltWithoutJerk();
    stretches_.clear();
    bends_.clear();
    moves_.clear();
  }

  // v² at a joint is at most what the next N stretches can brake: with that, one pass backward over the whole path
  // gives what a pass over each window would.
  void limitToLookAhead() {
    const std::size_t seen = static_cast<std::size_t>(machine_.look_ahead_blocks), n = stretches_.size();
    braked2_.resize(n + 1);
    braked2_[0] = 0;
    for (std::size_t i = 0; i < n; ++i) {
      const Stretch& s = stretches_[i];
      const bool bent = !bends_.empty() && bends_[i] > 0;
      braked2_[i + 1] = braked2_[i] + (bent ? arcLeastBraked2(s, bends_[i]) : 2 * s.acceleration_mm_s2 * s.length_mm);
    }
    for (std::size_t i = 0; i + seen < n; ++i)
      stretches_[i].entry2_mm2_s2 = std::min(stretches_[i].entry2_mm2_s2, braked2_[i + seen] - braked2_[i]);
  }

  void haltWithoutJerk() {
    planSpeeds(stretches_);
    double entry = 0;
    for (std::size_t i = 0; i < stretches_.size(); ++i) {
      const Stretch& s = stretches_[i];
      const double exit = i + 1 < stretches_.size() ? std::sqrt(stretches_[i + 1].entry2_mm2_s2) : 0.0;
      const double time_s = stretchTime(s.length_mm, s.speed_mm_s, s.acceleration_mm_s2, entry, exit);
      if (options_.keep_speeds || options_.keep_peaks)
        keep(i, entry, exit, peakSpeed(s.length_mm, s.speed_mm_s, s.acceleration_mm_s2, entry, exit));
      spend(program_.motions[moves_[i]], moves_[i], time_s);
      entry = exit;
    }
  }

  void haltWithSharedArcs() {
    planSpeeds(stretches_, bends_);
    double entry = 0;
    for (std::size_t i = 0; i < stretches_.size(); ++i) {
      const Stretch& s = stretches_[i];
      const double exit = i + 1 < stretches_.size() ? std::sqrt(stretches_[i + 1].entry2_mm2_s2) : 0.0;
      const ArcDrive drive = bends_[i] > 0
                                 ? driveArc(s, bends_[i], entry, exit)
                                 : ArcDrive{stretchTime(s.length_mm, s.speed_mm_s, s.acceleration_mm_s2, entry, exit),
                                            peakSpeed(s.length_mm, s.speed_mm_s, s.acceleration_mm_s2, entry, exit)};
      if (options_.keep_speeds || options_.keep_peaks) keep(i, entry, exit, drive.peak_mm_s);
      spend(program_.motions[moves_[i]], moves_[i], drive.time_s);
      entry = exit;
    }
  }

  void haltWithJerk() {
    std::vector<double> limit2;
    for (const Stretch& s : stretches_) limit2.push_back(s.entry2_mm2_s2);
    planSpeeds(stretches_);
    std::vector<StretchDrive> drive(stretches_.size());
    driveWithJerk(stretches_, limit2, machine_.jerk_mm_s3, drive);
    for (std::size_t i = 0; i < drive.size(); ++i) {
      if (options_.keep_speeds || options_.keep_peaks)
        keep(i, drive[i].entry_mm_s, drive[i].exit_mm_s, drive[i].peak_mm_s);
      spend(program_.motions[moves_[i]], moves_[i], drive[i].time_s);
    }
  }

  void keep(std::size_t i, double entry_mm_s, double exit_mm_s, double peak_mm_s) {
    if (options_.keep_peaks) plan_.peak_mm_s[moves_[i]] = static_cast<float>(peak_mm_s);
    if (!options_.keep_speeds) return;
    MoveSpeed& m = plan_.speeds[moves_[i]];
    m.length_mm = stretches_[i].length_mm;
    m.limit_mm_s = stretches_[i].speed_mm_s;
    m.entry_mm_s = entry_mm_s;
    m.exit_mm_s = exit_mm_s;
    m.peak_mm_s = peak_mm_s;
  }

  const Program& program_;
  const Machine& machine_;
  const PlanOptions& options_;
  AxisLimits axes_;
  Plan plan_;
  std::vector<Stretch> stretches_;    // driven without a halt
  std::vector<std::uint32_t> moves_;  // their motions
  std::vector<double> bends_;         // their MovePath::bend2_mm2_s2, up to the last that has one; empty where none has
  std::vector<double> braked2_;       // what braking over all before takes off a speed's square
  Vec3 last_;                         // direction in which the last of them ends
  std::size_t next_control_ = 0;
  PathControlChange control_, last_control_;  // in force now, and for the move before
  bool control_changed_ = false;
};

}  // namespace

Plan plan(const Program& program, const Machine& machine, const PlanOptions& options) {
  return Planner(program, machine, options).run();
}

}  // namespace provecut::clock
