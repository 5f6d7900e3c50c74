#include "sim/holes/cut_section.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>

#include "sim/clearance/clearance.h"
#include "sim/path/path.h"
#include "sim/path/setup_frame.h"

namespace provecut::holes {

namespace {

constexpr double chord_error_mm = 0.001;
constexpr double joint_mm = 0.002;  // chords that meet side by side leave no gap wider than this

// Calls each(setup, program) for the first `programs` of the job, in its order.
template <class Each>
void forEachProgram(const Job& job, const Programs& programs, const Each& each) {
  std::size_t next = 0;
  for (const Setup& setup : job.setups) {
    for (std::size_t e = 0; e < setup.programs.size() && next < programs.size(); ++e) each(setup, programs[next++]);
  }
}

struct Slicer {
  const ToolBody& body;
  double height;  // of the section in the setup that cuts
  std::vector<placing::Stretch>& out;
  std::uint32_t move;

  void level(SetupPoint2 a, SetupPoint2 b, double tip_z) const {
    const double radius = cutterRadiusAt(body, height - tip_z);
    if (radius > 0) out.push_back({a, b, radius, radius, move});
  }
  void add(SetupPoint a, SetupPoint b) const {
    // The stretch of it on which the cutter reaches through the section.
    const double low = height - body.cutter_length_mm, high = height;
    if (std::min(a.z, b.z) > high || std::max(a.z, b.z) < low) return;
    if (a.z == b.z) return level(flat(a), flat(b), a.z);
    const auto at = [&](double z) { return std::clamp((z - a.z) / (b.z - a.z), 0.0, 1.0); };
    double t0 = a.z > b.z ? at(high) : at(low), t1 = a.z > b.z ? at(low) : at(high);
    if (t0 > t1) std::swap(t0, t1);
    const double rise = std::fabs(b.z - a.z) * (t1 - t0);
    const int steps = static_cast<int>(std::clamp(std::ceil(rise / 0.05), 1.0, 400.0));
    if (flat(a) == flat(b)) {  // straight down: one disc, as wide as it gets
      double radius = 0;
      for (int i = 0; i <= steps; ++i)
        radius = std::max(radius, cutterRadiusAt(body, height - (a.z + (b.z - a.z) * (t0 + (t1 - t0) * i / steps))));
      if (radius > 0) out.push_back({flat(a), flat(a), radius, radius, move});
      return;
    }
    for (int i = 0; i < steps; ++i) {
      const double u = t0 + (t1 - t0) * i / steps, v = t0 + (t1 - t0) * (i + 1) / steps, middle = (u + v) / 2;
      const SetupPoint p = a + (b - a) * u, q = a + (b - a) * v;
      level(flat(p), flat(q), a.z + (b.z - a.z) * middle);
    }
  }
};

struct Range {
  double from, to;
  bool empty() const { return from > to; }
};

Range inDisc(SetupPoint2 from, Vec2 direction, SetupPoint2 centre, double radius) {
  const Vec2 c = centre - from;
  const double along = dot(c, direction), off = cross(direction, c), square = radius * radius - off * off;
  if (square < 0) return {1, 0};
  const double half = std::sqrt(square);
  return {along - half, along + half};
}

// The part of the ray within the stretch: it is convex, the hull of its two end discs.
Range inStretch(const placing::Stretch& s, SetupPoint2 from, Vec2 direction) {
  Range all = inDisc(from, direction, s.a, s.reach0);
  const auto join = [&all](Range r) {
    if (r.empty()) return;
    all = all.empty() ? r : Range{std::min(all.from, r.from), std::max(all.to, r.to)};
  };
  const Vec2 along = s.b - s.a;
  const double long_way = std::sqrt(dot(along, along));
  if (!(long_way > 0)) return all;
  join(inDisc(from, direction, s.b, s.reach0));
  // Between the ends: beside the middle line by no more than the radius.
  const Vec2 u = along * (1 / long_way), v{-u.y, u.x}, p = from - s.a;
  Range slab{-1e9, 1e9};
  const auto clip = [&slab](double at, double speed, double low, double high) {
    if (speed == 0) {
      if (at < low || at > high) slab = {1, 0};
      return;
    }
    const double t0 = (low - at) / speed, t1 = (high - at) / speed;
    slab = {std::max(slab.from, std::min(t0, t1)), std::min(slab.to, std::max(t0, t1))};
  };
  clip(dot(p, u), dot(direction, u), 0, long_way);
  clip(dot(p, v), dot(direction, v), -s.reach0, s.reach0);
  join(slab);
  return all;
}

}  // namespace

std::vector<placing::Stretch> cutSection(const Job& job, const Programs& programs, const Setup& lies, double height) {
  std::map<int, ToolBody> bodies;
  for (const Tool& t : job.tools) bodies.emplace(t.number, toolBody(t, job.collet_nut, job.spindle_attachments));
  std::vector<placing::Stretch> section;
  forEachProgram(job, programs, [&](const Setup& setup, const Program& program) {
    const double there = setupToSetup(job.stock, lies, setup, SetupPoint{0, 0, height}).z;
    const std::vector<clearance::Way> ways = clearance::knownWays(program);
    const std::size_t first = section.size();
    for (std::uint32_t i = 0; i < program.motions.size(); ++i) {
      const Motion& m = program.motions[i];
      const auto body = bodies.find(m.tool);
      if (ways[i] == clearance::Way::none || body == bodies.end()) continue;
      if (std::min(m.start.z, m.end.z) + setup.zero_mm.z > there && (!isArc(m) || m.plane == Plane::xy)) continue;
      const Slicer slicer{body->second, there, section, i};
      for (const PathPiece& piece : clearance::knownPath(m, ways[i], setup.zero_mm, job.machine)) {
        const double sweep = std::fabs(piece.sweep);
        const int chords = !piece.arc
                               ? 1
                               : static_cast<int>(std::clamp(
                                     std::ceil(sweep * std::sqrt(chordError(piece, 1) / chord_error_mm)), 4.0, 1e5));
        SetupPoint from = piece.start;
        for (int k = 1; k <= chords; ++k) {
          const SetupPoint to = pointAt(piece, static_cast<double>(k) / chords);
          slicer.add(from, to);
          from = to;
        }
      }
    }
    for (std::size_t i = first; i < section.size(); ++i) {
      section[i].a = setupToSetup(job.stock, setup, lies, section[i].a);
      section[i].b = setupToSetup(job.stock, setup, lies, section[i].b);
    }
  });
  return section;
}

double openWay(std::span<const placing::Stretch> section, SetupPoint2 p, Vec2 direction) {
  std::vector<Range> ranges;
  for (const placing::Stretch& s : section) {
    const Range r = inStretch(s, p, direction);
    if (!r.empty() && r.to >= 0) ranges.push_back(r);
  }
  std::sort(ranges.begin(), ranges.end(), [](const Range& a, const Range& b) { return a.from < b.from; });
  double open = 0;
  bool cut = false;
  for (const Range& r : ranges) {
    if (r.from > open + (cut ? joint_mm : 0)) break;
    cut = true;
    open = std::max(open, r.to);
  }
  return cut ? open : 0;
}

std::vector<placing::Stretch> nearTo(std::span<const placing::Stretch> section, SetupPoint2 p, double distance) {
  std::vector<placing::Stretch> near;
  for (const placing::Stretch& s : section) {
    if (clearance::fromEdge({s.a, s.b}, p).distance <= s.reach0 + distance) near.push_back(s);
  }
  return near;
}

std::vector<SetupPoint2> holeCentres(const Job& job, const Programs& programs, const Setup& lies) {
  std::vector<SetupPoint2> centres;
  forEachProgram(job, programs, [&](const Setup& setup, const Program& program) {
    const double top = stockSizeInSetup(job.stock, setup).z - setup.zero_mm.z;
    for (const Motion& m : program.motions) {
      if (!moves(m) || std::min(m.start.z, m.end.z) >= top) continue;
      WorkPoint2 c;
      if (isArc(m) && m.plane == Plane::xy) {
        c = m.centre;
      } else if (flat(m.start) == flat(m.end) && m.end.z < m.start.z) {
        c = flat(m.end);
      } else {
        continue;
      }
      centres.push_back(setupToSetup(job.stock, setup, lies, workToSetup(setup, c)));
    }
  });
  const auto key = [](SetupPoint2 p) { return std::pair(std::round(p.x * 100), std::round(p.y * 100)); };
  std::sort(centres.begin(), centres.end(), [&](SetupPoint2 a, SetupPoint2 b) { return key(a) < key(b); });
  centres.erase(
      std::unique(centres.begin(), centres.end(), [&](SetupPoint2 a, SetupPoint2 b) { return key(a) == key(b); }),
      centres.end());
  return centres;
}

}  // namespace provecut::holes
