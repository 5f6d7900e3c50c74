#include "tests/reference/parting/paths.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "tests/reference/parting/arc.h"

namespace provecut::reference {
namespace {

constexpr double kShortest_mm = 0.01;  // shorter parts of a path are left out

double rounded(double v) {
  return std::round(v * 1000) / 1000;
}

SheetPoint rounded(const SheetPoint& p) {
  return {rounded(p.x), rounded(p.y), rounded(p.z)};
}

bool isArc(const PathSegment& s) {
  return s.kind == MoveKind::arc_cw || s.kind == MoveKind::arc_ccw;
}

double turnOf(const PathSegment& s) {
  return arcTurn(s.from.x, s.from.y, s.to.x, s.to.y, s.centre.x, s.centre.y, s.kind == MoveKind::arc_cw);
}

double lengthOf(const PathSegment& s) {
  if (!isArc(s)) return std::hypot(s.to.x - s.from.x, s.to.y - s.from.y);
  return std::abs(turnOf(s)) * std::hypot(s.from.x - s.centre.x, s.from.y - s.centre.y);
}

PlanPoint pointAt(const PathSegment& s, double part) {
  if (!isArc(s)) return {s.from.x + (s.to.x - s.from.x) * part, s.from.y + (s.to.y - s.from.y) * part};
  const double angle = std::atan2(s.from.y - s.centre.y, s.from.x - s.centre.x) + turnOf(s) * part;
  const double r = std::hypot(s.from.x - s.centre.x, s.from.y - s.centre.y);
  return {s.centre.x + r * std::cos(angle), s.centre.y + r * std::sin(angle)};
}

MoveKind otherWay(MoveKind kind) {
  if (kind == MoveKind::arc_cw) return MoveKind::arc_ccw;
  if (kind == MoveKind::arc_ccw) return MoveKind::arc_cw;
  return kind;
}

// The stretch between two knots, over all segments that lie in it.
void followStretch(Writer& writer, const Path& path, const Knot& a, const Knot& b) {
  double start = 0;
  for (const PathSegment& segment : path.segments) {
    const double length = lengthOf(segment);
    const double low = std::max(a.s, start);
    const double high = std::min(b.s, start + length);
    if (high - low > kShortest_mm) {
      const PlanPoint to = pointAt(segment, std::min(1.0, (high - start) / length));
      const double z = a.z + (b.z - a.z) * (high - a.s) / (b.s - a.s);
      if (isArc(segment)) {
        arcTo(writer, segment.kind, segment.centre, {to.x, to.y, z});
      } else {
        feedTo(writer, {to.x, to.y, z});
      }
    }
    start += length;
  }
}

}  // namespace

double lengthOf(const Path& path) {
  double sum = 0;
  for (const PathSegment& s : path.segments) sum += lengthOf(s);
  return sum;
}

PlanPoint pointOn(const Path& path, double s) {
  for (const PathSegment& segment : path.segments) {
    const double length = lengthOf(segment);
    if (s <= length) return pointAt(segment, s / length);
    s -= length;
  }
  return path.segments.back().to;
}

Path polygonPath(const std::vector<PlanPoint>& corners) {
  Path path;
  for (std::size_t k = 0; k < corners.size(); ++k) {
    path.segments.push_back({MoveKind::feed, corners[k], corners[(k + 1) % corners.size()], {}});
  }
  return path;
}

Path linePath(PlanPoint from, PlanPoint to) {
  return {{{MoveKind::feed, from, to, {}}}};
}

Path circlePath(PlanPoint centre, double radius, double start_rad, bool clockwise, bool in_halves) {
  const MoveKind kind = clockwise ? MoveKind::arc_cw : MoveKind::arc_ccw;
  const PlanPoint out{radius * std::cos(start_rad), radius * std::sin(start_rad)};
  const PlanPoint start{centre.x + out.x, centre.y + out.y};
  const PlanPoint across{centre.x - out.x, centre.y - out.y};
  if (!in_halves) return {{{kind, start, start, centre}}};
  return {{{kind, start, across, centre}, {kind, across, start, centre}}};
}

Path rectanglePath(PlanPoint c, double half_x, double half_y, double round) {
  const double x0 = c.x - half_x, x1 = c.x + half_x, y0 = c.y - half_y, y1 = c.y + half_y;
  const double r = round;
  if (r <= 0) return polygonPath({{c.x, y0}, {x1, y0}, {x1, y1}, {x0, y1}, {x0, y0}});
  Path path;
  const auto side = [&](PlanPoint a, PlanPoint b) { path.segments.push_back({MoveKind::feed, a, b, {}}); };
  const auto corner = [&](PlanPoint a, PlanPoint b, PlanPoint o) {
    path.segments.push_back({MoveKind::arc_ccw, a, b, o});
  };
  side({c.x, y0}, {x1 - r, y0});
  corner({x1 - r, y0}, {x1, y0 + r}, {x1 - r, y0 + r});
  side({x1, y0 + r}, {x1, y1 - r});
  corner({x1, y1 - r}, {x1 - r, y1}, {x1 - r, y1 - r});
  side({x1 - r, y1}, {x0 + r, y1});
  corner({x0 + r, y1}, {x0, y1 - r}, {x0 + r, y1 - r});
  side({x0, y1 - r}, {x0, y0 + r});
  corner({x0, y0 + r}, {x0 + r, y0}, {x0 + r, y0 + r});
  side({x0 + r, y0}, {c.x, y0});
  return path;
}

Path reversed(const Path& path) {
  Path back;
  for (auto s = path.segments.rbegin(); s != path.segments.rend(); ++s) {
    back.segments.push_back({otherWay(s->kind), s->to, s->from, s->centre});
  }
  return back;
}

Path turnedPath(const Path& path, Face face, double size_x, double size_y) {
  if (face == Face::front) return path;
  const auto turned = [&](PlanPoint p) {
    return face == Face::turned_front_back ? PlanPoint{p.x, size_y - p.y} : PlanPoint{size_x - p.x, p.y};
  };
  Path result;
  for (const PathSegment& s : path.segments) {
    result.segments.push_back({otherWay(s.kind), turned(s.from), turned(s.to), turned(s.centre)});
  }
  return result;
}

void rapidTo(Writer& writer, SheetPoint to) {
  to = rounded(to);
  writer.program->moves.push_back({MoveKind::rapid, writer.at, to, 0, 0, writer.tool});
  writer.at = to;
}

void feedTo(Writer& writer, SheetPoint to) {
  to = rounded(to);
  writer.program->moves.push_back({MoveKind::feed, writer.at, to, 0, 0, writer.tool});
  writer.at = to;
}

void arcTo(Writer& writer, MoveKind kind, PlanPoint centre, SheetPoint to) {
  to = rounded(to);
  writer.program->moves.push_back({kind, writer.at, to, rounded(centre.x), rounded(centre.y), writer.tool});
  writer.at = to;
}

void follow(Writer& writer, const Path& path, const std::vector<Knot>& knots) {
  for (std::size_t k = 0; k + 1 < knots.size(); ++k) {
    if (knots[k + 1].s - knots[k].s > kShortest_mm) {
      followStretch(writer, path, knots[k], knots[k + 1]);
    } else if (std::abs(knots[k + 1].z - knots[k].z) > 0.0005) {
      feedTo(writer, {writer.at.x, writer.at.y, knots[k + 1].z});
    }
  }
}

}  // namespace provecut::reference
