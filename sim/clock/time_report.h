// Where the time of a job goes: by program and tool, the slowest stretches with their reason, and what would help.
#pragma once

#include <array>
#include <cstdint>
#include <span>
#include <string>
#include <vector>

#include "parser/job/job.h"
#include "parser/program/motion.h"
#include "sim/clock/job_clock.h"
#include "sim/observed/observation.h"
#include "sim/observed/time_spent.h"
#include "sim/path/programs.h"

namespace provecut::clock {

// What the time of feed moves goes to: the feed that was programmed, and whatever keeps a move below it.
enum class SlowReason : std::uint8_t {
  feed,               // it runs at its programmed feed
  axis_limit,         // the feed is above what an axis gives in this direction
  bend,               // an arc too tight for the axes' acceleration
  blocks_per_second,  // blocks do not come fast enough
  corner,             // it slows down for a corner and picks up again
  short_blocks,       // it lies between two corners and is too short to reach its feed
  acceleration,       // the axes are still speeding up, or must brake already
};
inline constexpr std::size_t slow_reasons = 7;

struct ToolTime {
  int program = 0;  // in the order of the job
  int tool = 0;     // 0: not known
  TimeSpent time;
  double feed_mm = 0, rapid_mm = 0;
  std::uint32_t feed_moves = 0;        // that have a feed
  std::uint32_t below_feed_moves = 0;  // of them, that never reach it
  double below_feed_s = 0;             // their time
};

// Feed moves one after the other without a rapid, dwell, stop or change of tool between them, in one place of a
// program.
struct SlowStretch {
  int program = 0;
  std::uint32_t first_move = 0, last_move = 0, first_line = 0, last_line = 0;
  double time_s = 0, length_mm = 0;
  double at_feed_s = 0;                  // at the programmed feed all the way
  SlowReason reason = SlowReason::feed;  // what most of the time above that goes to; feed: less than a tenth is above
  double reason_share = 0;               // of the time above that
  double air_s = 0;                      // of moves that take nothing from the stock
};

struct SetupTime {
  TimeSpent time, low, high;
};

// The whole job planned again with one thing changed.
struct WhatIf {
  std::string change;  // in words
  double time_s = 0;   // of the job then
};

struct TimeReport {
  std::vector<ProgramTimes> programs;
  std::vector<SetupTime> setups;     // in the order of the job
  std::vector<ToolTime> tools;       // by program, then in order of first use
  std::vector<SlowStretch> slowest;  // by time, at most ten
  std::array<double, slow_reasons>
      feed_time_s{};         // of feed moves, by SlowReason: at the programmed feed, then what comes on top
  double air_at_feed_s = 0;  // of the first of them, what goes to moves that take nothing from the stock
  bool air_known = false;    // false: no stock was cut, all feed moves count as cutting
  std::vector<WhatIf> what_if;
  TimeSpent time, low, high;    // of the whole job
  double below_feed_share = 0;  // of the feed moves, those that never reach their feed
  TimeAssumptions assumptions;
};

// `runs`: of the job's simulation, one per program, for what goes to air; may be empty.
TimeReport timeReport(const Job& job, const Programs& programs, const JobClockOptions& options = {},
                      std::span<const ProgramRun> runs = {});

}  // namespace provecut::clock
