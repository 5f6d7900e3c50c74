#include "sim/clock/time_report.h"

#include <algorithm>
#include <cmath>

namespace provecut::clock {
namespace {

constexpr std::size_t max_slowest = 10;
constexpr double reached = 1 - 1e-3;  // of the feed: reached, for whoever looks at the machine

constexpr double worth_naming = 0.1;  // of a stretch's time

using Shares = std::array<double, slow_reasons>;

double& of(Shares& shares, SlowReason reason) {
  return shares[static_cast<std::size_t>(reason)];
}

SlowReason reasonOf(SpeedLimit limit) {
  switch (limit) {
    case SpeedLimit::axis_rate:
      return SlowReason::axis_limit;
    case SpeedLimit::centripetal:
      return SlowReason::bend;
    case SpeedLimit::blocks_per_second:
      return SlowReason::blocks_per_second;
    case SpeedLimit::feed:
      break;
  }
  return SlowReason::feed;
}

struct Corners {
  bool entry = false, exit = false;  // the speed there is what the corner allows, less than the moves beside it allow
};

// A move's time: what the feed alone would take, what its own speed limit adds, what speeding up and braking add.
Shares sharesOf(const MoveSpeed& s, double time_s, double at_feed_s, Corners corners) {
  Shares shares{};
  const double at_limit_s = s.length_mm / s.limit_mm_s;
  of(shares, SlowReason::feed) = at_feed_s;
  of(shares, reasonOf(s.limit)) += at_limit_s - at_feed_s;
  SlowReason ramps = SlowReason::acceleration;
  if (s.peak_mm_s < s.limit_mm_s * reached && corners.entry && corners.exit)
    ramps = SlowReason::short_blocks;
  else if (corners.entry || corners.exit)
    ramps = SlowReason::corner;
  of(shares, ramps) += time_s - at_limit_s;
  return shares;
}

bool isFed(const Motion& m) {
  return m.kind == MotionKind::feed || isArc(m) || m.kind == MotionKind::probe;
}

bool heldByCorner(const MoveSpeed& after, double limit_before_mm_s) {
  return !after.from_rest && after.corner_mm_s < std::min(limit_before_mm_s, after.limit_mm_s) * reached &&
         after.entry_mm_s >= after.corner_mm_s * reached;
}

class Analysis {
 public:
  Analysis(const Job& job, std::span<const Program> programs, const JobClockOptions& options,
           std::span<const ProgramRun> runs)
      : job_(job),
        programs_(programs),
        options_(options),
        runs_(runs.size() == programs.size() ? runs : std::span<const ProgramRun>{}) {}

  TimeReport run() {
    JobClockOptions keep = options_;
    keep.keep_speeds = true;
    report_.programs = jobTimes(job_, programs_, keep);
    std::vector<const Program*> programs;
    for (const Program& p : programs_) programs.push_back(&p);
    report_.assumptions = timeAssumptions(job_, programs, options_);
    report_.air_known = !runs_.empty();
    nameAir();
    report_.setups.resize(job_.setups.size());
    std::size_t setup = 0, programs_left = job_.setups.empty() ? 0 : job_.setups[0].programs.size();
    std::uint64_t feed_moves = 0, below = 0;
    for (std::size_t i = 0; i < report_.programs.size(); ++i) {
      ProgramTimes& t = report_.programs[i];
      if (!runs_.empty()) shareOutAir(job_, programs_[i], runs_[i].cuts, t);
      while (programs_left == 0) programs_left = job_.setups[++setup].programs.size();
      --programs_left;
      report_.setups[setup].time = report_.setups[setup].time + t.time;
      report_.setups[setup].low = report_.setups[setup].low + t.low;
      report_.setups[setup].high = report_.setups[setup].high + t.high;
      report_.time = report_.time + t.time;
      report_.low = report_.low + t.low;
      report_.high = report_.high + t.high;
      const std::size_t first_tool = report_.tools.size();
      addProgram(static_cast<int>(i), programs_[i], t);
      for (std::size_t k = first_tool; k < report_.tools.size(); ++k) {
        feed_moves += report_.tools[k].feed_moves;
        below += report_.tools[k].below_feed_moves;
      }
      t.plan.speeds = {};
    }
    if (feed_moves > 0) report_.below_feed_share = static_cast<double>(below) / static_cast<double>(feed_moves);
    std::stable_sort(report_.slowest.begin(), report_.slowest.end(),
                     [](const SlowStretch& a, const SlowStretch& b) { return a.time_s > b.time_s; });
    if (report_.slowest.size() > max_slowest) report_.slowest.resize(max_slowest);
    askWhatIf();
    return std::move(report_);
  }

 private:
  void nameAir() {
    bool all_tools = true;
    for (const Program& p : programs_)
      for (const Motion& m : p.motions)
        all_tools = all_tools && (m.kind == MotionKind::dwell || findTool(job_, m.tool) != nullptr);
    std::string text = "cutting moves that cut nothing count as air";
    if (!report_.air_known)
      text = "no stock was cut, so all feed moves count as cutting";
    else if (!all_tools)
      text += "; moves of tools missing from the job file count as cutting";
    for (auto* list : {&report_.assumptions.time, &report_.assumptions.low, &report_.assumptions.high})
      list->push_back(text);
  }

  ToolTime& toolTime(int program, int tool) {
    for (std::size_t k = report_.tools.size(); k-- > 0 && report_.tools[k].program == program;)
      if (report_.tools[k].tool == tool) return report_.tools[k];
    ToolTime& t = report_.tools.emplace_back();
    t.program = program;
    t.tool = tool;
    return t;
  }

  void addProgram(int index, const Program& program, const ProgramTimes& times) {
    const Plan& plan = times.plan;
    int tool = program.motions.empty() ? 0 : program.motions.front().tool;
    if (times.change_before_s > 0) toolTime(index, tool).time.tool_change_s += times.change_before_s;
    std::size_t next_event = 0;
    const auto takeEvents = [&](std::size_t before) {
      for (; next_event < program.events.size() && program.events[next_event].before_motion <= before; ++next_event) {
        const Event& e = program.events[next_event];
        const double time_s = static_cast<double>(plan.event_s[next_event]);
        if (e.kind != EventKind::comment_tool) endStretch();
        if (e.kind == EventKind::tool_change) {
          tool = static_cast<int>(e.value);
          toolTime(index, tool).time.tool_change_s += time_s;
        } else if (time_s > 0) {
          const bool spindle = e.kind == EventKind::spindle_start || e.kind == EventKind::spindle_stop;
          (spindle ? toolTime(index, tool).time.spindle_s : toolTime(index, tool).time.stop_s) += time_s;
        }
      }
    };
    double limit_before_mm_s = 0;
    for (std::size_t i = 0; i < program.motions.size(); ++i) {
      takeEvents(i);
      const Motion& m = program.motions[i];
      tool = m.tool;
      addMove(index, program, plan, i, limit_before_mm_s);
      if (plan.speeds[i].length_mm > 0) limit_before_mm_s = plan.speeds[i].limit_mm_s;
    }
    takeEvents(program.motions.size());
    endStretch();
    dropIdleTools(index);
  }

  // A tool that did nothing is not listed, such as "none known" before the first change; the last one of a program
  // stays.
  void dropIdleTools(int program) {
    auto& tools = report_.tools;
    const auto idle = [&](const ToolTime& t) {
      return t.program == program && t.time.total_s() == 0 && t.feed_moves == 0;
    };
    const auto first =
        std::find_if(tools.begin(), tools.end(), [&](const ToolTime& t) { return t.program == program; });
    if (!std::all_of(first, tools.end(), idle))
      tools.erase(std::remove_if(first, tools.end(), idle), tools.end());
    else if (tools.end() - first > 1)
      tools.erase(first, tools.end() - 1);
  }

  void addMove(int index, const Program& program, const Plan& plan, std::size_t i, double limit_before_mm_s) {
    const Motion& m = program.motions[i];
    const MoveSpeed& s = plan.speeds[i];
    const double time_s = static_cast<double>(plan.move_s[i]);
    ToolTime& t = toolTime(index, m.tool);
    if (m.kind == MotionKind::dwell) {
      t.time.dwell_s += time_s;
      endStretch();
      return;
    }
    if (countsAsRapid(m)) {
      t.time.rapid_s += time_s;
      if (!(m.flags & motion_approach)) t.rapid_mm += length(m.end - m.start);
      endStretch();
      return;
    }
    const bool air = !runs_.empty() && i < runs_[static_cast<std::size_t>(index)].cuts.size() &&
                     feedsThroughAir(job_, m, runs_[static_cast<std::size_t>(index)].cuts[i]);
    (air ? t.time.air_s : t.time.cutting_s) += time_s;
    if (!isFed(m) || !(s.length_mm > 0)) return;
    t.feed_mm += s.length_mm;

    const double feed_mm_s =
        m.feed_mm_min > 0 ? static_cast<double>(m.feed_mm_min) * options_.feed_override / 60 : s.limit_mm_s;
    const double at_feed_s = s.length_mm / feed_mm_s;
    if (m.feed_mm_min > 0) {
      ++t.feed_moves;
      if (s.peak_mm_s < feed_mm_s * reached) {
        ++t.below_feed_moves;
        t.below_feed_s += time_s;
      }
    }
    if (!open_) beginStretch(index, m, i);
    stretch_.last_move = static_cast<std::uint32_t>(i);
    stretch_.last_line = m.line;
    stretch_.time_s += time_s;
    stretch_.length_mm += s.length_mm;
    stretch_.at_feed_s += at_feed_s;
    if (air) {
      stretch_.air_s += time_s;
      report_.air_at_feed_s += at_feed_s;
    }
    Corners corners;
    corners.entry = heldByCorner(s, limit_before_mm_s);
    corners.exit = i + 1 < plan.speeds.size() && plan.speeds[i + 1].length_mm > 0 &&
                   heldByCorner(plan.speeds[i + 1], s.limit_mm_s);
    const Shares shares = sharesOf(s, time_s, at_feed_s, corners);
    for (std::size_t k = 0; k < slow_reasons; ++k) {
      stretch_shares_[k] += shares[k];
      report_.feed_time_s[k] += shares[k];
    }
  }

  void beginStretch(int program, const Motion& m, std::size_t i) {
    open_ = true;
    stretch_ = {};
    stretch_shares_ = {};
    stretch_.program = program;
    stretch_.first_move = static_cast<std::uint32_t>(i);
    stretch_.first_line = m.line;
  }

  void endStretch() {
    if (!open_) return;
    open_ = false;
    const double above_s = stretch_.time_s - stretch_.at_feed_s;
    if (above_s > worth_naming * stretch_.time_s) {
      const auto most = std::max_element(stretch_shares_.begin() + 1, stretch_shares_.end());
      stretch_.reason = static_cast<SlowReason>(most - stretch_shares_.begin());
      stretch_.reason_share = *most / above_s;
    }
    report_.slowest.push_back(stretch_);
    if (report_.slowest.size() > 4096) keepSlowest();
  }

  void keepSlowest() {
    std::stable_sort(report_.slowest.begin(), report_.slowest.end(),
                     [](const SlowStretch& a, const SlowStretch& b) { return a.time_s > b.time_s; });
    report_.slowest.resize(max_slowest);
  }

  void askWhatIf() {
    const auto ask = [&](std::string change, const Job& job, const JobClockOptions& options) {
      double time_s = 0;
      for (const ProgramTimes& t : jobTimes(job, programs_, options)) time_s += t.time.total_s();
      report_.what_if.push_back({std::move(change), time_s});
    };
    JobClockOptions plain = options_;
    plain.keep_speeds = plain.bounds = false;
    JobClockOptions slower = plain;
    slower.feed_override *= 0.75;
    ask("feeds 25 % lower", job_, slower);
    JobClockOptions faster = plain;
    faster.feed_override *= 1.25;
    ask("feeds 25 % higher", job_, faster);
    Job quicker = job_;
    quicker.machine.acceleration_mm_s2 = job_.machine.acceleration_mm_s2 * 1.5;
    ask("accelerations 50 % higher", quicker, plain);
    Job rates = job_;
    rates.machine.max_rate_mm_min = job_.machine.max_rate_mm_min * 1.5;
    ask("axis rates 50 % higher", rates, plain);
    if (job_.machine.cornering == Cornering::exact_stop) {
      Job rounding = job_;
      rounding.machine.cornering = Cornering::junction_deviation;
      ask("corners rounded within the junction deviation instead of a stop at each block", rounding, plain);
    }
    if (job_.machine.look_ahead_blocks > 0) {
      Job seeing = job_;
      seeing.machine.look_ahead_blocks = 0;
      ask("all blocks seen ahead", seeing, plain);
    }
    if (job_.machine.blocks_per_second > 0) {
      Job fed = job_;
      fed.machine.blocks_per_second = 0;
      ask("blocks sent as fast as the machine can run them", fed, plain);
    }
  }

  const Job& job_;
  std::span<const Program> programs_;
  const JobClockOptions& options_;
  std::span<const ProgramRun> runs_;
  TimeReport report_;
  SlowStretch stretch_;
  Shares stretch_shares_{};
  bool open_ = false;
};

}  // namespace

TimeReport timeReport(const Job& job, std::span<const Program> programs, const JobClockOptions& options,
                      std::span<const ProgramRun> runs) {
  return Analysis(job, programs, options, runs).run();
}

}  // namespace provecut::clock
