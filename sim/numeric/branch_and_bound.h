// Lowest value of a function of one variable that can be bounded from below on an interval.
#pragma once

#include <algorithm>
#include <limits>
#include <vector>

namespace provecut {

struct Bounded {
  double low = 0;    // no value on the interval is lower
  double value = 0;  // a value that is met, at t
  double t = 0;
};

// `bound(a, b, best)` gives the Bounded of an interval; it may stop refining once low exceeds `best`.
// Intervals are halved until the lowest value is known to within `gap`, or is known to be above `enough`, or
// `most` intervals were looked at: then `low` stays the proven bound.
template <class Bound>
Bounded lowest(Bound bound, double gap, double enough, int max_steps) {
  struct Interval {
    double a, b, low;
    bool operator<(const Interval& other) const { return low > other.low; }
  };
  constexpr double far = std::numeric_limits<double>::infinity();
  Bounded best{far, far, 0};
  // The interval that may hold the lowest value is always looked at next, so that stopping early leaves no
  // part aside.
  std::vector<Interval> open{{0, 1, -far}};
  for (; !open.empty(); --max_steps) {
    std::pop_heap(open.begin(), open.end());
    const Interval i = open.back();
    open.pop_back();
    const double wanted = std::min(enough, best.value - gap);
    if (i.low > wanted || max_steps <= 0) {
      best.low = std::min(best.low, i.low);
      break;  // all others are no lower
    }
    Bounded found = bound(i.a, i.b, wanted);
    found.low = std::max(found.low, i.low);
    if (found.value < best.value) {
      best.value = found.value;
      best.t = found.t;
    }
    const double middle = i.a + (i.b - i.a) / 2;
    const bool settled = found.low == far || found.low > std::min(enough, best.value - gap);
    if (settled || !(i.a < middle && middle < i.b)) {
      best.low = std::min(best.low, found.low);
      continue;
    }
    for (const Interval half : {Interval{i.a, middle, found.low}, Interval{middle, i.b, found.low}}) {
      open.push_back(half);
      std::push_heap(open.begin(), open.end());
    }
  }
  return best;
}

}  // namespace provecut
