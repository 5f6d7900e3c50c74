#include "sim/path/cut_round.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "sim/path/path.h"
#include "sim/path/setup_frame.h"

namespace provecut {

namespace {

bool cuts(const Motion& m, Vec3 zero, double top) {
  return moves(m) && m.kind != MotionKind::rapid && std::min(m.start.z, m.end.z) + zero.z < top;
}

// Calls `chord(a, b)` along the move seen from above; arcs as chords of an eighth of a turn.
template <class Chord>
void alongChords(const Motion& m, Vec3 zero, const Machine& machine, const Chord& chord) {
  if (!isArc(m)) {
    chord(flat(m.start + zero), flat(m.end + zero));
    return;
  }
  const PathPiece arc = pathOf(m, zero, machine).pieces[0];
  const int chords = 1 + static_cast<int>(std::fabs(arc.sweep) / (std::numbers::pi / 4));
  Vec2 from = flat(arc.start);
  for (int i = 1; i <= chords; ++i) {
    const Vec2 to = flat(pointAt(arc, static_cast<double>(i) / chords));
    chord(from, to);
    from = to;
  }
}

Vec2 lying(const Job& job, const Setup& setup, Vec2 p) {
  return flat(stockToSetup(job.stock, setup, {p.x, p.y, 0}));
}

}  // namespace

bool cutGoesRound(const Job& job, const Setup& setup, const Program& program, Vec2 at) {
  const Vec2 eye = lying(job, setup, at);
  const double top = stockSizeInSetup(job.stock, setup).z;
  double turned = 0;
  for (const Motion& m : program.motions) {
    if (!cuts(m, setup.zero_mm, top)) {
      if (moves(m)) turned = 0;
      continue;
    }
    alongChords(m, setup.zero_mm, job.machine,
                [&](Vec2 a, Vec2 b) { turned += std::atan2(cross(a - eye, b - eye), dot(a - eye, b - eye)); });
    if (std::fabs(turned) >= 1.5 * std::numbers::pi) return true;
  }
  return false;
}

void addCrossings(const Job& job, const Setup& setup, const Program& program, Vec2 from, Vec2 to,
                  std::vector<double>& distances) {
  const Vec2 start = lying(job, setup, from), way = lying(job, setup, to) - start;
  const double top = stockSizeInSetup(job.stock, setup).z, long_way = length(way);
  for (const Motion& m : program.motions) {
    if (!cuts(m, setup.zero_mm, top)) continue;
    alongChords(m, setup.zero_mm, job.machine, [&](Vec2 a, Vec2 b) {
      const double side_a = cross(way, a - start), side_b = cross(way, b - start);
      if ((side_a < 0) == (side_b < 0)) return;
      const Vec2 crossing = a + (b - a) * (side_a / (side_a - side_b));
      const double distance = dot(crossing - start, way) / long_way;
      if (distance > 0 && distance < long_way) distances.push_back(distance);
    });
  }
}

}  // namespace provecut
