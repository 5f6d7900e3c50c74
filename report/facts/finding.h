// One thing that a router owner should know before pressing Start.
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "parser/base/geometry.h"
#include "parser/base/place.h"

namespace provecut {

enum class Level { note, look, stop };  // in growing order

std::string_view levelName(Level level);

struct Related {     // another place that has to do with the cause
  std::string file;  // empty: the finding's own
  ShownPlace place;
  std::string message;
};

// What `related` says of a place where the same thing stands again, and how many of them are kept.
inline constexpr std::string_view same_here = "the same here";
inline constexpr std::size_t repeats_kept = 20;

struct LineSpan {
  std::uint32_t first = 0, last = 0;
};

// What the help asks for, as data, so that a test can do it and see that the finding is gone.
enum class ChangeKind {
  cross_at,        // make the rapids on these lines at this Z or higher: up before, down after
  end_rapid_at,    // end the rapids straight down on these lines at this Z, and feed on from there
  cycle_r,         // raise R of the cycles on these lines to this Z
  retract_before,  // a rapid up to this Z before these lines
  lowest_z,        // go no deeper than this Z, with the tool where one is named
  down_to,         // go down to this Z on these lines
  feed_there,      // make the rapids on these lines feed moves at this F
  stepdown,        // take no more than this depth in a pass
  peck,            // drill on these lines in pecks of this depth
  speed,           // S of the tool
  feed,            // F of the moves on these lines, at most or at least this
  feeds_share,     // every F of the tool times this
  plunge_feed,     // F of the plunges on these lines
  stickout,        // of the tool
  flute_length,    // of the tool: another bit
  zero_x,
  zero_y,
  zero_z,         // where the setup's work zero is on the machine
  hold_down_at,   // put the hold-down there
  hold_down_off,  // remove the hold-down before this program
  allowed_cut,    // spoilboard.allowed_cut
};

// One way out of several: any of them does.
struct AdvisedChange {
  ChangeKind kind = ChangeKind::cross_at;
  double value = 0;                  // mm, mm/min or rpm; heights in work coordinates
  std::vector<std::uint32_t> lines;  // of the program; empty: those of the finding
  int tool = 0;
  int hold_down = -1;
  SetupPoint2 at;  // of the hold-down
};

struct Finding {
  std::string rule;
  Level level = Level::note;  // the rule's own, or lower where that is not sure
  int program_order = -1;     // index into Facts::programs; -1: the job file or the whole job
  std::string setup;
  std::string program;  // file as the job writes it; the job file's name when the place is there
  ShownPlace place;
  std::uint32_t last_line = 0;
  std::uint32_t moves = 0;
  std::vector<LineSpan> lines;  // of all moves of the group, in order; empty where it is none
  std::string subject;
  std::optional<WorkPoint> at;
  std::optional<double> amount;
  std::string unit;         // "mm", "mm²", "rpm" ...
  std::string amount_text;  // the amount in the message's words: "12 mm²", "8 mm from the end"; empty where it has none
  std::string message;      // what happens, by how much
  std::string help;         // what to do, with a number
  // The same as data, where the rule can say it: the inner ones together are one way.
  std::vector<std::vector<AdvisedChange>> ways;
  std::string source_line;  // the line's own text, control characters made visible, cut to fit a terminal
  std::uint32_t mark_begin = 0,
                mark_end = 0;  // terminal cells of source_line at fault, one past the last; both 0: none
  std::vector<Related> related;
  std::optional<std::string> accepted;  // the reason
  // Index into Report::likely_causes: under that description it is gone.
  std::optional<std::size_t> likely_cause;
};

}  // namespace provecut
