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

// By how much the direction to q can differ, seen from anywhere within that distance of p.
double spread(SetupPoint2 p, SetupPoint2 q, double within) {
  const double away = length(q - p);
  return away > within ? std::asin(within / away) : std::numbers::pi;
}

double fromChord(const CutChord& c, SetupPoint2 p) {
  const Vec2 along = c.b - c.a;
  const double square = dot(along, along);
  const double k = square > 0 ? std::clamp(dot(p - c.a, along) / square, 0.0, 1.0) : 0;
  return length(p - (c.a + along * k));
}

}  // namespace

std::vector<CutChord> cutChords(const Job& job, const Setup& setup, const Program& program, const Setup& in) {
  const double top = stockSizeInSetup(job.stock, setup).z;
  std::vector<CutChord> chords;
  bool first = true;
  for (const Motion& m : program.motions) {
    if (!cuts(m, setup, top)) {
      first = first || moves(m);
      continue;
    }
    alongChords(m, setup, job.machine, [&](SetupPoint2 a, SetupPoint2 b) {
      chords.push_back({setupToSetup(job.stock, setup, in, a), setupToSetup(job.stock, setup, in, b), first, false});
      first = false;
    });
    chords.back().last_of_move = true;
  }
  return chords;
}

GoesRound cutGoesRoundAll(std::span<const CutChord> chords, SetupPoint2 p, double within_mm) {
  constexpr double enough = 1.5 * std::numbers::pi, rounding = 1e-9;
  GoesRound found = GoesRound::none;
  double turned = 0, unsure = 0;  // the latter of the ends that lie behind
  bool lost = false;              // a chord came so near that it may pass either side
  SetupPoint2 last;
  for (const CutChord& c : chords) {
    if (c.first_of_run) {
      turned = 0;
      lost = false;
      unsure = spread(p, c.a, within_mm);
    } else if (!(c.a == last)) {
      unsure += spread(p, last, within_mm) + spread(p, c.a, within_mm);
    }
    last = c.b;
    if (lost) continue;
    if (fromChord(c, p) <= within_mm) {
      lost = true;
      found = GoesRound::unknown;
      continue;
    }
    turned += std::atan2(cross(c.a - p, c.b - p), dot(c.a - p, c.b - p));
    if (!c.last_of_move) continue;
    const double slack = unsure + spread(p, c.b, within_mm) + rounding;
    if (std::fabs(turned) - slack >= enough) return GoesRound::all;
    if (std::fabs(turned) + slack >= enough) found = GoesRound::unknown;
  }
  return found;
}

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
