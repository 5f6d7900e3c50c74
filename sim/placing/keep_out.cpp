#include "sim/placing/keep_out.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <numbers>
#include <optional>
#include <unordered_map>

#include "sim/clearance/clearance.h"
#include "sim/clearance/corner_gap.h"
#include "sim/clearance/tolerance.h"
#include "sim/path/path.h"

namespace provecut::placing {

namespace {

constexpr double nowhere = -1;

double reachOf(const BodyPiece& piece, double h, double wanted) {
  if (clearance::cornerGap(piece, 0, h).distance >= wanted) return nowhere;
  const double widest = std::max(piece.r0, piece.r1) + wanted;
  if (h >= piece.z1) return widest;
  // The gap is convex in the distance and grows with it: Newton's steps come down to the reach and not below it.
  double reach = widest;
  for (int i = 0; i < 60; ++i) {
    const clearance::CornerGap gap = clearance::cornerGap(piece, reach, h);
    const double next = reach - (gap.distance - wanted) / gap.by_d;
    if (!(next < reach - 1e-12)) break;
    reach = next;
  }
  return reach;
}

// Remembers the last height, moves side by side mostly share theirs; or all levels where tips are taken down to such.
class Reach {
 public:
  Reach(const ToolBody& body, double wanted, double top, double step)
      : body_(&body), wanted_(wanted), top_(top), step_(step) {}
  double operator()(double tip_z) {
    if (step_ > 0) {
      const double level = std::floor(tip_z / step_);
      const auto [entry, added] = levels_.try_emplace(level, nowhere);
      if (added) entry->second = reachAt(*body_, top_ - level * step_, wanted_);
      return entry->second;
    }
    if (tip_z != z_) {
      z_ = tip_z;
      reach_ = reachAt(*body_, top_ - tip_z, wanted_);
    }
    return reach_;
  }

 private:
  const ToolBody* body_;
  double wanted_, top_, step_;
  double z_ = std::numeric_limits<double>::quiet_NaN(), reach_ = nowhere;
  std::unordered_map<double, double> levels_;
};

struct Maker {
  std::vector<Stretch>& out;
  Reach& reach;
  double tolerance;
  bool tapered;
  std::uint32_t move;

  // From a to b, the tip at heights za and zb less `below`; all reaches `more` longer.
  void add(SetupPoint2 a, double za, SetupPoint2 b, double zb, double below, double more) const {
    if (za == zb || a == b) {
      const double r = reach(std::min(za, zb) - below);
      if (r >= 0) out.push_back({a, b, r + more, r + more, move});
      return;
    }
    split(a, za - below, reach(za - below), b, zb - below, reach(zb - below), more, 0);
  }

  // The reach only grows as the tip goes down, in jumps too where another piece comes down to the top.
  void split(SetupPoint2 a, double za, double ra, SetupPoint2 b, double zb, double rb, double more, int depth) const {
    if (ra < 0 && rb < 0) return;
    const double low = std::min(ra, rb), high = std::max(ra, rb), way = length(b - a);
    if ((low >= 0 && high - low <= tolerance) || way <= tolerance || depth > 40) {
      out.push_back({a, b, high + more, high + more, move});
      return;
    }
    if (tapered && low >= 0) {
      if (const auto bulge = aboveEven(za, ra, zb, rb)) {
        out.push_back({a, b, ra + *bulge + more, rb + *bulge + more, move});
        return;
      }
    }
    const SetupPoint2 c = middle(a, b);
    const double zc = (za + zb) / 2, rc = reach(zc);
    split(a, za, ra, c, zc, rc, more, depth + 1);
    split(c, zc, rc, b, zb, rb, more, depth + 1);
  }

  // By how much an even change of reach must be raised so that it is nowhere too short; nothing where that would make
  // it too long by more than the tolerance.
  std::optional<double> aboveEven(double za, double ra, double zb, double rb) const {
    constexpr int steps = 8;
    double bulge = 0, dip = 0, before = ra;
    for (int i = 1; i <= steps; ++i) {
      const double t0 = (i - 1.0) / steps, t1 = i / double{steps};
      const double now = i == steps ? rb : reach(za + (zb - za) * t1);
      const double even0 = ra + (rb - ra) * t0, even1 = ra + (rb - ra) * t1;
      // Between two looks it is no longer than at the lower one.
      bulge = std::max(bulge, std::max(before, now) - std::min(even0, even1));
      dip = std::max(dip, even1 - now);
      before = now;
    }
    return bulge + dip <= tolerance ? std::optional(bulge) : std::nullopt;
  }
};

// What is seen from the place of a footprint about the origin.
SetupPoint2 about(Vec2 p) {
  return {p.x, p.y};
}

bool crosses(SetupPoint2 a, SetupPoint2 b, const clearance::Edge& e) {
  const Vec2 way = b - a, along = e.b - e.a;
  const double turn = cross(way, along);
  if (turn == 0) return false;
  const double t = cross(e.a - a, along) / turn, k = cross(e.a - a, way) / turn;
  return t >= 0 && t <= 1 && k >= 0 && k <= 1;
}

// Distance of a segment from a box about the origin; negative where one of its ends lies in it.
double toBox(Vec2 p, Vec2 q, const Footprint& f) {
  const Vec2 across{-f.axis.y, f.axis.x};
  const Vec2 a{dot(p, f.axis), dot(p, across)}, b{dot(q, f.axis), dot(q, across)};
  const auto signedTo = [&](Vec2 c) {
    const double x = std::fabs(c.x) - f.half.x, y = std::fabs(c.y) - f.half.y;
    if (x <= 0 && y <= 0) return std::max(x, y);
    const double ox = std::max(x, 0.0), oy = std::max(y, 0.0);
    return std::sqrt(ox * ox + oy * oy);
  };
  const double ends = std::min(signedTo(a), signedTo(b));
  if (ends <= 0) return ends;
  const Vec2 way = b - a;
  const double square = dot(way, way);
  if (!(square > 0)) return ends;
  // The stretch of it that lies between both pairs of sides.
  double from = 0, to = 1;
  const auto clip = [&](double at, double speed, double half) {
    if (speed == 0) {
      if (std::fabs(at) > half) to = -1;
      return;
    }
    const double t0 = (-half - at) / speed, t1 = (half - at) / speed;
    from = std::max(from, std::min(t0, t1));
    to = std::min(to, std::max(t0, t1));
  };
  clip(a.x, way.x, f.half.x);
  clip(a.y, way.y, f.half.y);
  if (from <= to) return 0;
  double nearest = ends * ends;
  for (const Vec2 corner : {f.half, Vec2{-f.half.x, f.half.y}, Vec2{f.half.x, -f.half.y}, f.half * -1}) {
    const Vec2 off = corner - a;
    const double t = std::clamp(dot(off, way) / square, 0.0, 1.0);
    const Vec2 apart = off - way * t;
    nearest = std::min(nearest, dot(apart, apart));
  }
  return std::sqrt(nearest);
}

// Stretches that follow on each other with one reach, drawn as one where the corners between lie within `tolerance` of
// it; those that stand on one place become the one of them that reaches farthest.
std::vector<Stretch> merged(const std::vector<Stretch>& all, double tolerance, std::size_t max_corners) {
  std::vector<Stretch> out;
  std::vector<SetupPoint2> corners;  // between the stretches that the last of `out` stands for
  for (const Stretch& s : all) {
    if (!out.empty()) {
      Stretch& last = out.back();
      const bool even = s.reach0 == s.reach1 && last.reach0 == last.reach1;
      if (even && last.a == last.b && s.a == s.b && s.a == last.a) {
        last.reach0 = last.reach1 = std::max(last.reach0, s.reach0);
        continue;
      }
      // The reach of a run is its first one's, made longer once by the tolerance.
      const double first = corners.empty() ? last.reach0 : last.reach0 - tolerance;
      if (even && last.b == s.a && s.reach0 == first && corners.size() < max_corners) {
        corners.push_back(s.a);
        const bool near = std::all_of(corners.begin(), corners.end(), [&](SetupPoint2 c) {
          return clearance::fromEdge({last.a, s.b}, c).distance <= tolerance;
        });
        if (near) {
          last.b = s.b;
          last.reach0 = last.reach1 = first + tolerance;
          continue;
        }
      }
    }
    corners.clear();
    out.push_back(s);
  }
  return out;
}

}  // namespace

double reachAt(const ToolBody& body, double h, double wanted) {
  double reach = nowhere;
  for (const BodyPiece& p : body.pieces) reach = std::max(reach, reachOf(p, h, wanted));
  return reach;
}

std::vector<Stretch> keepOut(const Job& job, const Setup& setup, const Program& program, double top, double tolerance,
                             bool tapered, double height_step) {
  // A quarter of the tolerance for tapers, another for arcs (twice the chord error), half for what is drawn as one.
  const double wanted = std::max(job.limits.clearance_mm, 2 * clearance::contact_tolerance_mm);
  std::map<int, ToolBody> bodies;
  std::map<int, Reach> reaches;
  for (const Tool& t : job.tools) {
    const auto& [entry, added] = bodies.emplace(t.number, toolBody(t, job.collet_nut, job.spindle_attachments));
    if (added) reaches.emplace(t.number, Reach(entry->second, wanted, top, height_step));
  }
  const std::vector<clearance::Way> ways = clearance::knownWays(program);
  std::vector<Stretch> out;
  out.reserve(program.motions.size());
  for (std::uint32_t i = 0; i < program.motions.size(); ++i) {
    const Motion& m = program.motions[i];
    const auto reach = reaches.find(m.tool);
    if (ways[i] == clearance::Way::none || reach == reaches.end()) continue;
    const Maker maker{out, reach->second, tolerance / 4, tapered, i};
    for (const PathPiece& piece : clearance::knownPath(m, ways[i], setup.zero_mm, job.machine)) {
      if (!piece.arc) {
        maker.add(flat(piece.start), piece.start.z, flat(piece.end), piece.end.z, 0, 0);
        continue;
      }
      const double sweep = std::fabs(piece.sweep);
      const double wanted_chords = sweep * std::sqrt(chordError(piece, 1) / (tolerance / 8));
      const int chords =
          static_cast<int>(std::clamp(std::ceil(wanted_chords), std::ceil(sweep / (std::numbers::pi / 4)), 1e5));
      const double error = chordError(piece, sweep / std::max(1, chords));
      // In the other planes the chord is off in height too.
      const double below = piece.plane == Plane::xy ? 0 : error;
      SetupPoint from = piece.start;
      for (int k = 1; k <= chords; ++k) {
        const SetupPoint to = pointAt(piece, static_cast<double>(k) / chords);
        maker.add(flat(from), from.z, flat(to), to.z, below, error);
        from = to;
      }
    }
  }
  return merged(out, tolerance / 4, height_step > 0 ? 16 : 64);
}

Footprint footprintOf(const clearance::Obstacle& o) {
  Footprint f{o, 0, false, {}, {}};
  for (const clearance::Edge& e : o.edges) f.around = std::max(f.around, length(e.a - about({})) + o.radius_mm);
  if (o.edges.size() != 4) return f;
  // A rectangle about the origin: opposite corners are each other's mirror image, and two sides stand square.
  const Vec2 side = o.edges[0].b - o.edges[0].a, next = o.edges[1].b - o.edges[1].a;
  const double size = length(side) + length(next), slack = 1e-12 * size;
  const auto mirrors = [&](SetupPoint2 p, SetupPoint2 q) { return length((p - about({})) + (q - about({}))) <= slack; };
  const bool mirrored = mirrors(o.edges[0].a, o.edges[2].a) && mirrors(o.edges[1].a, o.edges[3].a);
  if (!mirrored || std::fabs(dot(side, next)) > slack * size || !(length(side) > 0)) return f;
  f.box = true;
  f.axis = side * (1 / length(side));
  f.half = {length(side) / 2, length(next) / 2};
  return f;
}

double keptOut(const Stretch& s, const Footprint& f, const SetupPoint2& p, double enough) {
  const clearance::Obstacle& o = f.outline;
  const Vec2 a = s.a - p, b = s.b - p, along = b - a;
  if (o.radius_mm > 0) {
    const double long_way = std::sqrt(dot(along, along)), taper = s.reach1 - s.reach0;
    if (!(long_way > 0)) return std::sqrt(dot(a, a)) - o.radius_mm - std::max(s.reach0, s.reach1);
    double x = -dot(a, along) / long_way;
    const double y = std::fabs(cross(a, along)) / long_way;
    if (taper != 0) {
      // Where distance less reach is least: the reach shifts the foot of the perpendicular.
      const double k = taper / long_way;
      x = std::fabs(k) < 1 ? x + k / std::sqrt(1 - k * k) * y : (k > 0 ? long_way : 0);
    }
    x = std::clamp(x, 0.0, long_way);
    const double foot = -dot(a, along) / long_way - x;
    return std::sqrt(foot * foot + y * y) - o.radius_mm - (s.reach0 + taper * (x / long_way));
  }
  const double reach = std::max(s.reach0, s.reach1);
  const double square = dot(along, along), t = square > 0 ? std::clamp(-dot(a, along) / square, 0.0, 1.0) : 0;
  const Vec2 foot = a + along * t;
  const double bound = std::sqrt(dot(foot, foot)) - f.around - reach;
  if (bound > enough) return bound;
  if (f.box) return toBox(a, b, f) - reach;
  // At its ends and in its middle also how deep it is in: what is deep in need not be looked at closer.
  double distance = std::min(clearance::signedDistance(o, about(a)), clearance::signedDistance(o, about(b)));
  if (dot(along, along) > 1) distance = std::min(distance, clearance::signedDistance(o, about((a + b) * 0.5)));
  for (const clearance::Edge& e : o.edges) {
    if (distance <= 0) break;
    const bool cross = crosses(about(a), about(b), e);
    distance = cross ? 0 : std::min(distance, clearance::fromEdge({about(a), about(b)}, e.a).distance);
  }
  return distance - reach;
}

}  // namespace provecut::placing
