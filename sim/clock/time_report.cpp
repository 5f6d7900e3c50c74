#include "sim/clock/time_report.h"

#include <algorithm>
#include <cmath>
#include <utility>

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

// A report in the making, and the stretch of feed moves that is not at its end yet.
struct Analysis {
  const Job& job;
  const Programs& programs;
  const JobClockOptions& options;
  std::span<const ProgramRun> runs;
  TimeReport report;
  SlowStretch stretch;
  Shares stretch_shares{};
  bool open = false;
};

void nameAir(Analysis& a) {
  bool all_tools = true;
  for (const Program* p : a.programs)
    for (const Motion& m : p->motions)
      all_tools = all_tools && (m.kind == MotionKind::dwell || findTool(a.job, m.tool) != nullptr);
  std::string text = "cutting moves that remove nothing count as air";
  if (!a.report.air_known)
    text = "no stock was cut, so all feed moves count as cutting";
  else if (!all_tools)
    text += "; moves of unknown tools count as cutting";
  for (auto* list : {&a.report.assumptions.time, &a.report.assumptions.low, &a.report.assumptions.high})
    list->push_back(text);
}

ToolTime& toolTime(Analysis& a, int program, int tool) {
  for (std::size_t k = a.report.tools.size(); k-- > 0 && a.report.tools[k].program == program;)
    if (a.report.tools[k].tool == tool) return a.report.tools[k];
  ToolTime& t = a.report.tools.emplace_back();
  t.program = program;
  t.tool = tool;
  return t;
}

void keepSlowest(Analysis& a) {
  std::stable_sort(a.report.slowest.begin(), a.report.slowest.end(),
                   [](const SlowStretch& x, const SlowStretch& y) { return x.time_s > y.time_s; });
  a.report.slowest.resize(max_slowest);
}

void beginStretch(Analysis& a, int program, const Motion& m, std::uint32_t i) {
  a.open = true;
  a.stretch = {};
  a.stretch_shares = {};
  a.stretch.program = program;
  a.stretch.first_move = i;
  a.stretch.first_line = m.line;
}

void endStretch(Analysis& a) {
  if (!a.open) return;
  a.open = false;
  const double above_s = a.stretch.time_s - a.stretch.at_feed_s;
  if (above_s > worth_naming * a.stretch.time_s) {
    const auto main = std::max_element(a.stretch_shares.begin() + 1, a.stretch_shares.end());
    a.stretch.reason = static_cast<SlowReason>(main - a.stretch_shares.begin());
    a.stretch.reason_share = *main / above_s;
  }
  a.report.slowest.push_back(a.stretch);
  if (a.report.slowest.size() > 4096) keepSlowest(a);
}

void addMove(Analysis& a, int index, const Program& program, const Plan& plan, std::uint32_t i,
             double limit_before_mm_s) {
  const Motion& m = program.motions[i];
  const MoveSpeed& s = plan.speeds[i];
  const double time_s = plan.move_s[i];
  ToolTime& t = toolTime(a, index, m.tool);
  if (m.kind == MotionKind::dwell) {
    t.time.dwell_s += time_s;
    endStretch(a);
    return;
  }
  if (countsAsRapid(m)) {
    t.time.rapid_s += time_s;
    if (!(m.flags & motion_approach)) t.rapid_mm += length(m.end - m.start);
    endStretch(a);
    return;
  }
  const bool known = !a.runs.empty() && i < a.runs[index].cuts.size();
  const double air = known ? airShare(a.job, m, a.runs[index].cuts[i]) : 0;
  t.time.air_s += air * time_s;
  t.time.cutting_s += (1 - air) * time_s;
  if (!isFed(m) || !(s.length_mm > 0)) return;
  t.feed_mm += s.length_mm;

  const double feed_mm_s = m.feed_mm_min > 0 ? double{m.feed_mm_min} * a.options.feed_override / 60 : s.limit_mm_s;
  const double at_feed_s = s.length_mm / feed_mm_s;
  if (m.feed_mm_min > 0) {
    ++t.feed_moves;
    if (s.peak_mm_s < feed_mm_s * reached) {
      ++t.below_feed_moves;
      t.below_feed_s += time_s;
    }
  }
  if (!a.open) beginStretch(a, index, m, i);
  a.stretch.last_move = i;
  a.stretch.last_line = m.line;
  a.stretch.time_s += time_s;
  a.stretch.length_mm += s.length_mm;
  a.stretch.at_feed_s += at_feed_s;
  a.stretch.air_s += air * time_s;
  a.report.air_at_feed_s += air * at_feed_s;
  Corners corners;
  corners.entry = heldByCorner(s, limit_before_mm_s);
  corners.exit =
      i + 1 < plan.speeds.size() && plan.speeds[i + 1].length_mm > 0 && heldByCorner(plan.speeds[i + 1], s.limit_mm_s);
  const Shares shares = sharesOf(s, time_s, at_feed_s, corners);
  for (std::size_t k = 0; k < slow_reasons; ++k) {
    a.stretch_shares[k] += shares[k];
    a.report.feed_time_s[k] += shares[k];
  }
}

// A tool that did nothing is not listed, such as "none known" before the first change; the last one of a program stays.
void dropIdleTools(Analysis& a, int program) {
  auto& tools = a.report.tools;
  const auto idle = [&](const ToolTime& t) {
    return t.program == program && t.time.total_s() == 0 && t.feed_moves == 0;
  };
  const auto first = std::find_if(tools.begin(), tools.end(), [&](const ToolTime& t) { return t.program == program; });
  if (!std::all_of(first, tools.end(), idle))
    tools.erase(std::remove_if(first, tools.end(), idle), tools.end());
  else if (tools.end() - first > 1)
    tools.erase(first, tools.end() - 1);
}

void addProgram(Analysis& a, int index, const Program& program, const ProgramTimes& times) {
  const Plan& plan = times.plan;
  int tool = program.motions.empty() ? 0 : program.motions.front().tool;
  if (times.change_before_s > 0) toolTime(a, index, tool).time.tool_change_s += times.change_before_s;
  std::size_t next_event = 0;
  const auto takeEvents = [&](std::size_t before) {
    for (; next_event < program.events.size() && program.events[next_event].before_motion <= before; ++next_event) {
      const Event& e = program.events[next_event];
      const double time_s = plan.event_s[next_event];
      if (e.kind != EventKind::comment_tool) endStretch(a);
      if (e.kind == EventKind::tool_change) {
        tool = static_cast<int>(e.value);
        toolTime(a, index, tool).time.tool_change_s += time_s;
      } else if (time_s > 0) {
        const bool spindle = e.kind == EventKind::spindle_start || e.kind == EventKind::spindle_stop;
        (spindle ? toolTime(a, index, tool).time.spindle_s : toolTime(a, index, tool).time.stop_s) += time_s;
      }
    }
  };
  double limit_before_mm_s = 0;
  for (std::uint32_t i = 0; i < program.motions.size(); ++i) {
    takeEvents(i);
    const Motion& m = program.motions[i];
    tool = m.tool;
    addMove(a, index, program, plan, i, limit_before_mm_s);
    if (plan.speeds[i].length_mm > 0) limit_before_mm_s = plan.speeds[i].limit_mm_s;
  }
  takeEvents(program.motions.size());
  endStretch(a);
  dropIdleTools(a, index);
}

void askWhatIf(Analysis& a) {
  const auto ask = [&](std::string change, const Job& job, const JobClockOptions& options) {
    double time_s = 0;
    for (const ProgramTimes& t : jobTimes(job, a.programs, options)) time_s += t.time.total_s();
    a.report.what_if.push_back({std::move(change), time_s});
  };
  JobClockOptions plain = a.options;
  plain.keep_speeds = plain.bounds = false;
  JobClockOptions slower = plain;
  slower.feed_override *= 0.75;
  ask("feeds 25 % lower", a.job, slower);
  JobClockOptions faster = plain;
  faster.feed_override *= 1.25;
  ask("feeds 25 % higher", a.job, faster);
  Job quicker = a.job;
  quicker.machine.acceleration_mm_s2 = a.job.machine.acceleration_mm_s2 * 1.5;
  ask("accelerations 50 % higher", quicker, plain);
  Job rates = a.job;
  rates.machine.max_rate_mm_min = a.job.machine.max_rate_mm_min * 1.5;
  ask("axis rates 50 % higher", rates, plain);
  if (a.job.machine.cornering == Cornering::exact_stop) {
    Job rounding = a.job;
    rounding.machine.cornering = Cornering::junction_deviation;
    ask("corners rounded within the junction deviation instead of a stop at each block", rounding, plain);
  }
  if (a.job.machine.look_ahead_blocks > 0) {
    Job seeing = a.job;
    seeing.machine.look_ahead_blocks = 0;
    ask("all blocks seen ahead", seeing, plain);
  }
  if (a.job.machine.blocks_per_second > 0) {
    Job fed = a.job;
    fed.machine.blocks_per_second = 0;
    ask("blocks sent as fast as the machine can run them", fed, plain);
  }
}

// Adds a program's times to those of its setup and of the job.
void addTimes(const ProgramTimes& t, TimeReport& report, SetupTime& setup) {
  setup.time = setup.time + t.time;
  setup.low = setup.low + t.low;
  setup.high = setup.high + t.high;
  report.time = report.time + t.time;
  report.low = report.low + t.low;
  report.high = report.high + t.high;
}

// Of the feed moves, those that never reach their feed.
double belowFeedShare(const std::vector<ToolTime>& tools) {
  std::uint64_t feed_moves = 0, below = 0;
  for (const ToolTime& t : tools) {
    feed_moves += t.feed_moves;
    below += t.below_feed_moves;
  }
  return feed_moves > 0 ? static_cast<double>(below) / static_cast<double>(feed_moves) : 0;
}

}  // namespace

TimeReport timeReport(const Job& job, const Programs& programs, const JobClockOptions& options,
                      std::span<const ProgramRun> runs) {
  Analysis a{job, programs, options, runs.size() == programs.size() ? runs : std::span<const ProgramRun>{},
             {},  {},       {},      false};
  TimeReport& report = a.report;
  JobClockOptions keep = options;
  keep.keep_speeds = true;
  report.programs = jobTimes(job, programs, keep);
  report.assumptions = timeAssumptions(job, programs, options);
  report.air_known = !a.runs.empty();
  nameAir(a);
  report.setups.resize(job.setups.size());
  std::size_t setup = 0, programs_left = job.setups.empty() ? 0 : job.setups[0].programs.size();
  for (int i = 0; i < std::ssize(report.programs); ++i) {
    ProgramTimes& t = report.programs[i];
    if (!a.runs.empty()) shareOutAir(job, programs[i], a.runs[i].cuts, t);
    while (programs_left == 0) programs_left = job.setups[++setup].programs.size();
    --programs_left;
    addTimes(t, report, report.setups[setup]);
    addProgram(a, i, programs[i], t);
    t.plan.speeds = {};
  }
  report.below_feed_share = belowFeedShare(report.tools);
  std::stable_sort(report.slowest.begin(), report.slowest.end(),
                   [](const SlowStretch& x, const SlowStretch& y) { return x.time_s > y.time_s; });
  if (report.slowest.size() > max_slowest) report.slowest.resize(max_slowest);
  askWhatIf(a);
  return std::move(report);
}

}  // namespace provecut::clock
