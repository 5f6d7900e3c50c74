#include "sim/path/cut_round.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "sim/path/path.h"
#include "sim/path/setup_frame.h"

namespace provecut {

namespace {

bool cuts(const Motion& m, const Setup& setup, double top) {
  return moves(m) && m.kind != MotionKind::rapid && std::min(m.start.z, m.end.z) + setup.zero_mm.z < top;
}

// Calls `chord(a, b)` along the move seen from above; arcs as chords of an eighth of a turn.
template <class Chord>
void alongChords(const Motion& m, const Setup& setup, const Machine& machine, const Chord& chord) {
  if (!isArc(m)) {
    chord(flat(workToSetup(setup, m.start)), flat(workToSetup(setup, m.end)));
    return;
  }
  const PathPiece arc = pathOf(m, setup.zero_mm, machine).pieces[0];
  const int chords = 1 + static_cast<int>(std::fabs(arc.sweep) / (std::numbers::pi / 4));
  SetupPoint2 from = flat(arc.start);
  for (int i = 1; i <= chords; ++i) {
    const SetupPoint2 to = flat(pointAt(arc, static_cast<double>(i) / chords));
    chord(from, to);
    from = to;
  }
}

}  // namespace

bool cutGoesRound(const Job& job, const Setup& setup, const Program& program, StockPoint2 at) {
  const SetupPoint2 eye = stockToSetup(job.stock, setup, at);
  const double top = stockSizeInSetup(job.stock, setup).z;
  double turned = 0;
  for (const Motion& m : program.motions) {
    if (!cuts(m, setup, top)) {
      if (moves(m)) turned = 0;
      continue;
    }
    alongChords(m, setup, job.machine, [&](SetupPoint2 a, SetupPoint2 b) {
      turned += std::atan2(cross(a - eye, b - eye), dot(a - eye, b - eye));
    });
    if (std::fabs(turned) >= 1.5 * std::numbers::pi) return true;
  }
  return false;
}

void addCrossings(const Job& job, const Setup& setup, const Program& program, StockPoint2 from, StockPoint2 to,
                  std::vector<double>& distances) {
  const SetupPoint2 start = stockToSetup(job.stock, setup, from);
  const Vec2 way = stockToSetup(job.stock, setup, to) - start;
  const double top = stockSizeInSetup(job.stock, setup).z, long_way = length(way);
  for (const Motion& m : program.motions) {
    if (!cuts(m, setup, top)) continue;
    alongChords(m, setup, job.machine, [&](SetupPoint2 a, SetupPoint2 b) {
      const double side_a = cross(way, a - start), side_b = cross(way, b - start);
      if ((side_a < 0) == (side_b < 0)) return;
      const SetupPoint2 crossing = a + (b - a) * (side_a / (side_a - side_b));
      const double distance = dot(crossing - start, way) / long_way;
      if (distance > 0 && distance < long_way) distances.push_back(distance);
    });
  }
}

}  // namespace provecut
