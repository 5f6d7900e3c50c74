// Where the time goes. Facts with numbers, no opinions.
#pragma once

namespace provecut {

struct TimeSpent {
  double cutting_s = 0;  // feed moves
  double air_s = 0;      // feed moves that take nothing from the stock, where that is known
  double rapid_s = 0, dwell_s = 0, stop_s = 0, spindle_s = 0, tool_change_s = 0;
  double feed_s() const { return cutting_s + air_s; }
  double total_s() const { return feed_s() + rapid_s + dwell_s + stop_s + spindle_s + tool_change_s; }
};

inline TimeSpent operator+(const TimeSpent& a, const TimeSpent& b) {
  return {a.cutting_s + b.cutting_s,
          a.air_s + b.air_s,
          a.rapid_s + b.rapid_s,
          a.dwell_s + b.dwell_s,
          a.stop_s + b.stop_s,
          a.spindle_s + b.spindle_s,
          a.tool_change_s + b.tool_change_s};
}

}  // namespace provecut
