#include "sim/placing/outline_trace.h"

#include <algorithm>
#include <bit>
#include <cmath>
#include <cstdint>
#include <unordered_map>

#include "parser/job/outline_check.h"
#include "sim/clearance/obstacle.h"

namespace provecut::placing {

namespace {

bool before(SetupPoint2 a, SetupPoint2 b) {
  return a.x < b.x || (a.x == b.x && a.y < b.y);
}

// From the smaller end, so that both triangles at an edge get the same bits.
SetupPoint2 crossing(const LevelPoint& a, const LevelPoint& b) {
  const LevelPoint& p = before(a.at, b.at) ? a : b;
  const LevelPoint& q = before(a.at, b.at) ? b : a;
  if (p.value == 0) return p.at;
  if (q.value == 0) return q.at;
  return p.at + (q.at - p.at) * (p.value / (p.value - q.value));
}

struct PointHash {
  std::size_t operator()(SetupPoint2 p) const {
    // 0.0 and -0.0 are equal and must hash alike.
    const std::uint64_t x = std::bit_cast<std::uint64_t>(p.x + 0.0), y = std::bit_cast<std::uint64_t>(p.y + 0.0);
    return static_cast<std::size_t>((x * 0x9e3779b97f4a7c15ULL) ^ (y * 0xc2b2ae3d27d4eb4fULL + (x >> 29)));
  }
};

void dropStraight(std::vector<SetupPoint2>& ring) {
  const auto straight = [](SetupPoint2 a, SetupPoint2 b, SetupPoint2 c) {
    return std::fabs(cross(b - a, c - b)) <= 1e-9 && dot(b - a, c - b) >= 0;
  };
  std::vector<SetupPoint2> out;
  for (const SetupPoint2 p : ring) {
    while (out.size() >= 2 && straight(out[out.size() - 2], out.back(), p)) out.pop_back();
    out.push_back(p);
  }
  while (out.size() > 3 && straight(out[out.size() - 2], out.back(), out.front())) out.pop_back();
  while (out.size() > 3 && straight(out.back(), out.front(), out[1])) out.erase(out.begin());
  ring = std::move(out);
}

// D. Douglas, T. Peucker, Cartographica 10(2), 1973: keep the farthest point from the chord while it is too far.
void keepFarthest(const std::vector<SetupPoint2>& points, std::size_t a, std::size_t b, double tolerance,
                  std::vector<bool>& keep) {
  std::vector<std::pair<std::size_t, std::size_t>> open{{a, b}};
  while (!open.empty()) {
    const auto [from, to] = open.back();
    open.pop_back();
    double max_distance = tolerance;
    std::size_t farthest = 0;
    for (std::size_t i = from + 1; i < to; ++i) {
      const double d = clearance::fromEdge({points[from], points[to]}, points[i]).distance;
      if (d > max_distance) {
        max_distance = d;
        farthest = i;
      }
    }
    if (farthest == 0) continue;
    keep[farthest] = true;
    open.push_back({from, farthest});
    open.push_back({farthest, to});
  }
}

}  // namespace

void traceTriangle(const std::array<LevelPoint, 3>& triangle, std::vector<Segment>& out) {
  Segment s;
  int crossings = 0;
  for (std::size_t k = 0; k < 3; ++k) {
    const LevelPoint& a = triangle[k];
    const LevelPoint& b = triangle[(k + 1) % 3];
    if ((a.value >= 0) == (b.value >= 0)) continue;
    (a.value >= 0 ? s.from : s.to) = crossing(a, b);
    ++crossings;
  }
  if (crossings == 2 && !(s.from == s.to)) out.push_back(s);
}

void traceEdge(const LevelPoint& a, const LevelPoint& b, std::vector<Segment>& out) {
  if (a.value < 0 && b.value < 0) return;
  const Segment s{a.value >= 0 ? a.at : crossing(a, b), b.value >= 0 ? b.at : crossing(a, b)};
  if (!(s.from == s.to)) out.push_back(s);
}

std::vector<std::vector<SetupPoint2>> ringsOf(std::span<const Segment> segments) {
  std::unordered_multimap<SetupPoint2, std::size_t, PointHash> starts;
  starts.reserve(segments.size());
  for (std::size_t i = segments.size(); i-- > 0;) starts.emplace(segments[i].from, i);
  std::vector<bool> used(segments.size(), false);
  std::vector<std::vector<SetupPoint2>> rings;
  for (std::size_t first = 0; first < segments.size(); ++first) {
    if (used[first]) continue;
    std::vector<SetupPoint2> ring;
    for (std::size_t i = first; !used[i];) {
      used[i] = true;
      ring.push_back(segments[i].from);
      const auto [begin, end] = starts.equal_range(segments[i].to);
      for (auto next = begin; next != end; ++next) {
        if (!used[next->second]) {
          i = next->second;
          break;
        }
      }
    }
    dropStraight(ring);
    if (ring.size() >= 3) rings.push_back(std::move(ring));
  }
  return rings;
}

std::vector<SetupPoint2> simplified(const std::vector<SetupPoint2>& ring, double tolerance) {
  if (ring.size() < 5) return ring;
  // Two halves, from the first corner to the one farthest from it and back.
  std::size_t far = 0;
  double max_distance = 0;
  for (std::size_t i = 1; i < ring.size(); ++i) {
    const double d = length(ring[i] - ring.front());
    if (d > max_distance) {
      max_distance = d;
      far = i;
    }
  }
  if (far == 0) return ring;
  std::vector<SetupPoint2> closed = ring;
  closed.push_back(ring.front());
  std::vector<bool> keep(closed.size(), false);
  keep[0] = keep[far] = true;
  keepFarthest(closed, 0, far, tolerance, keep);
  keepFarthest(closed, far, closed.size() - 1, tolerance, keep);
  std::vector<SetupPoint2> out;
  for (std::size_t i = 0; i < ring.size(); ++i) {
    if (keep[i]) out.push_back(ring[i]);
  }
  const double area = signedArea(ring);
  if (out.size() < 3 || std::fabs(signedArea(out) - area) > 0.5 * std::fabs(area)) return ring;
  return out;
}

}  // namespace provecut::placing
