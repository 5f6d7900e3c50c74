#include "sim/placing/near_stretches.h"

#include <algorithm>
#include <limits>

namespace provecut::placing {

std::vector<Near> allOf(std::span<const Stretch> stretches) {
  std::vector<Near> all;
  all.reserve(stretches.size());
  for (const Stretch& s : stretches) all.push_back({&s, 0});
  return all;
}

double leastWithin(const Disc& disc, const Footprint& form, const std::vector<Near>& of, std::vector<Near>& kept) {
  const double radius = disc.radius;
  double lowest = std::numeric_limits<double>::infinity();
  const auto deciding = [&] { return std::min(radius + disc.cap, lowest + 2 * radius) + slack_mm; };
  for (const Near& n : of) {
    const double v = keptOut(*n.stretch, form, disc.middle, deciding());
    if (v < -radius) return v;
    lowest = std::min(lowest, v);
    if (v <= deciding()) kept.push_back({n.stretch, v});
  }
  std::erase_if(kept, [&](const Near& n) { return n.value > lowest + 2 * radius + slack_mm; });
  std::sort(kept.begin(), kept.end(), [](const Near& a, const Near& b) {
    return a.value != b.value ? a.value < b.value : a.stretch < b.stretch;
  });
  return lowest;
}

double valueAt(const SetupPoint2& p, const Footprint& form, const std::vector<Near>& kept, double radius, double cap) {
  double v = cap;
  for (const Near& n : kept) {
    if (n.value - radius >= v + slack_mm) break;  // and all after it
    v = std::min(v, keptOut(*n.stretch, form, p, v + slack_mm));
  }
  return v;
}

}  // namespace provecut::placing
