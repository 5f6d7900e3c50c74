#include "sim/path/cut_round.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "sim/path/path.h"
#include "sim/path/setup_frame.h"

namespace provecut {

namespace {

constexpr double right_angle = std::numbers::pi / 2, rounding_mm = 1e-6;

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

bool within(const CutChord& c, SetupPoint2 p, double within_mm) {
  const Vec2 along = c.b - c.a, to_a = c.a - p;
  const double square = dot(along, along), aside = cross(to_a, along);
  if (aside * aside > within_mm * within_mm * square) return false;
  const double k = square > 0 ? std::clamp(-dot(to_a, along) / square, 0.0, 1.0) : 0;
  return length(to_a + along * k) <= within_mm;
}

int quadrantOf(Vec2 v) {
  if (v.y >= 0) return v.x > 0 ? 0 : v.y > 0 ? 1 : 2;
  return v.x < 0 ? 2 : 3;
}

double angleInQuadrant(Vec2 v) {
  switch (quadrantOf(v)) {
    case 0:
      return std::atan2(v.y, v.x);
    case 1:
      return std::atan2(-v.x, v.y);
    case 2:
      return std::atan2(-v.y, -v.x);
    default:
      return std::atan2(v.x, -v.y);
  }
}

// The angle by which a chain of chords goes round the origin. Quadrants are counted, so that an angle costs nothing
// until it is asked for.
struct Turn {
  Vec2 start, end;
  int quarters = 0;

  // From the end straight to `to`, not through the origin.
  void add(Vec2 to) {
    const int by = (quadrantOf(to) - quadrantOf(end)) & 3;
    quarters += by < 2 ? by : by == 3 ? -1 : cross(end, to) > 0 ? 2 : -2;
    end = to;
  }
  double angle() const { return quarters * right_angle + angleInQuadrant(end) - angleInQuadrant(start); }
  double atMost() const { return (std::abs(quarters) + 1) * right_angle; }
};

GoesRound runGoesRoundAll(const CutRun& run, SetupPoint2 p, double within_mm) {
  constexpr double enough = 3 * right_angle, rounding = 1e-9;
  const SetupPoint2 first = run.chords.front().a;
  GoesRound found = GoesRound::none;
  Turn turn{first - p, first - p};
  double turned = 0, unsure = spread(p, first, within_mm);  // of the chains before this one, and of all ends behind
  SetupPoint2 last = first;
  for (const CutChord& c : run.chords) {
    if (!(c.a == last)) {
      unsure += spread(p, last, within_mm) + spread(p, c.a, within_mm);
      turned += turn.angle();
      turn = {c.a - p, c.a - p};
    }
    last = c.b;
    // It may pass either side.
    if (within(c, p, within_mm)) return GoesRound::unknown;
    turn.add(c.b - p);
    if (!c.last_of_move) continue;
    // The arc sine is no more than the chord to it.
    const double share = std::min(within_mm / length(turn.end), 1.0);
    if (std::fabs(turned) + turn.atMost() + unsure + share * right_angle + rounding < enough) continue;
    const double angle = std::fabs(turned + turn.angle()), slack = unsure + std::asin(share) + rounding;
    if (angle - slack >= enough) return GoesRound::all;
    if (angle + slack >= enough) found = GoesRound::unknown;
  }
  return found;
}

}  // namespace

std::vector<CutRun> cutRuns(const Job& job, const Setup& setup, const Program& program, const Setup& in) {
  const double top = stockSizeInSetup(job.stock, setup).z;
  std::vector<CutRun> runs;
  bool first = true;
  for (const Motion& m : program.motions) {
    if (!cuts(m, setup, top)) {
      first = first || moves(m);
      continue;
    }
    alongChords(m, setup, job.machine, [&](SetupPoint2 a, SetupPoint2 b) {
      const CutChord chord{setupToSetup(job.stock, setup, in, a), setupToSetup(job.stock, setup, in, b), false};
      if (first) runs.push_back({{}, chord.a, chord.a});
      CutRun& run = runs.back();
      run.joined = run.joined && (first || length(chord.a - run.chords.back().b) < rounding_mm);
      first = false;
      run.chords.push_back(chord);
      for (const SetupPoint2 p : {chord.a, chord.b}) {
        run.low = {std::min(run.low.x, p.x), std::min(run.low.y, p.y)};
        run.high = {std::max(run.high.x, p.x), std::max(run.high.y, p.y)};
      }
    });
    runs.back().chords.back().last_of_move = true;
  }
  return runs;
}

GoesRound cutGoesRoundAll(std::span<const CutRun> runs, SetupPoint2 p, double within_mm) {
  GoesRound found = GoesRound::none;
  for (const CutRun& run : runs) {
    // Seen from beside the rectangle a joined run turns by less than half a turn.
    const bool beside = p.x + within_mm < run.low.x || p.x - within_mm > run.high.x || p.y + within_mm < run.low.y ||
                        p.y - within_mm > run.high.y;
    if (run.joined && beside) continue;
    const GoesRound one = runGoesRoundAll(run, p, within_mm);
    if (one == GoesRound::all) return one;
    if (one == GoesRound::unknown) found = one;
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
