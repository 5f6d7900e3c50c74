// Compensated outlines against the offset curves of GEOS, a general geometry library.
#include <geos_c.h>

#include <cmath>
#include <cstdarg>
#include <cstdio>
#include <memory>
#include <numbers>
#include <random>

#include "parser/program/arc.h"
#include "tests/parser/interpreter/reading_helper.h"

namespace provecut {
namespace {

struct Geos {
  GEOSContextHandle_t handle = GEOS_init_r();
  ~Geos() { GEOS_finish_r(handle); }
  GEOSGeometry* ring(const std::vector<WorkPoint2>& points, bool closed) const {
    const unsigned n = static_cast<unsigned>(points.size());
    GEOSCoordSequence* s = GEOSCoordSeq_create_r(handle, n + (closed ? 1 : 0), 2);
    for (unsigned i = 0; i < n + (closed ? 1 : 0); ++i) {
      GEOSCoordSeq_setXY_r(handle, s, i, points[i % n].x, points[i % n].y);
    }
    return closed ? GEOSGeom_createLinearRing_r(handle, s) : GEOSGeom_createLineString_r(handle, s);
  }
};

// The tool's path as points no further than `step` from it.
std::vector<WorkPoint2> traced(const std::vector<Motion>& moves) {
  std::vector<WorkPoint2> points{flat(moves.front().start)};
  for (const Motion& m : moves) {
    if (isArc(m)) {
      const double sweep = sweepOf(m) * (m.kind == MotionKind::arc_cw ? -1 : 1);
      const Vec2 from = flat(m.start) - m.centre;
      for (int i = 1; i < 64; ++i) {
        const double a = sweep * i / 64;
        points.push_back(
            m.centre + Vec2{from.x * std::cos(a) - from.y * std::sin(a), from.x * std::sin(a) + from.y * std::cos(a)});
      }
    }
    points.push_back(flat(m.end));
  }
  return points;
}

// Distance of the farthest point of either curve from the other, for the tool beside the outline (counter-clockwise).
double disagreement(const std::vector<WorkPoint2>& outline, double radius, bool outside) {
  // Onto the outline in the middle of its first edge, along the normal; once around; and to that middle again.
  const Vec2 edge = outline[1] - outline[0];
  const WorkPoint2 half_way = middle(outline[0], outline[1]);
  const Vec2 along = edge * (1 / length(edge)), right{along.y, -along.x};
  const WorkPoint2 start = half_way + right * (outside ? 20 : -2.5 * radius) - along * 0.0;
  char buffer[128];
  std::string text = "G21 G17 G90 F100 T1 M6\n";
  const auto go = [&](const char* code, WorkPoint2 to) {
    std::snprintf(buffer, sizeof buffer, "%s X%.12f Y%.12f\n", code, to.x, to.y);
    text += buffer;
  };
  go("G0 Z0", start);
  go(outside ? "G42 G1" : "G41 G1", half_way);
  for (std::size_t i = 1; i <= outline.size(); ++i) go("G1", outline[i % outline.size()]);
  go("G1", half_way);
  text += "G40\nM2\n";
  const Program p = interpret(text, {.tool_diameter_mm = {{1, 2 * radius}}});
  EXPECT_TRUE(p.problems.empty()) << text << testing::PrintToString(idsOf(p));
  std::vector<Motion> moves = movesFrom(p, 2);  // without the way there and the entry
  // The entry ends with an arc to the middle's offset when it comes from aside.
  while (!moves.empty() && isArc(moves.front()) && length(moves.front().centre - half_way) < 1e-9)
    moves.erase(moves.begin());

  const Geos geos;
  GEOSGeometry* polygon = GEOSGeom_createPolygon_r(geos.handle, geos.ring(outline, true), nullptr, 0);
  GEOSGeometry* grown = GEOSBuffer_r(geos.handle, polygon, outside ? radius : -radius, 128);
  EXPECT_EQ(GEOSGetNumGeometries_r(geos.handle, grown), 1);
  GEOSGeometry* edge_of = GEOSBoundary_r(geos.handle, grown);
  GEOSGeometry* path = geos.ring(traced(moves), false);
  double distance = 1e9;
  GEOSHausdorffDistanceDensify_r(geos.handle, edge_of, path, 0.2, &distance);
  for (GEOSGeometry* g : {polygon, grown, edge_of, path}) GEOSGeom_destroy_r(geos.handle, g);
  return distance;
}

// Both curves are chords of arcs of the tool's radius: 64 to a corner, 512 to the turn.
double chordError(double radius) {
  return radius * (1 - std::cos(std::numbers::pi / 128)) + 1e-6;
}

TEST(CompensatedOutline, convex_outlines_agree_with_geos) {
  std::mt19937 random(41);
  for (int round = 0; round < 40; ++round) {
    const int corners = 3 + static_cast<int>(random() % 10);
    std::vector<WorkPoint2> outline;
    for (int i = 0; i < corners; ++i) {
      const double a = 2 * std::numbers::pi * (i + 0.2 * static_cast<double>(random() % 100) / 100) / corners;
      outline.push_back(WorkPoint2{60 * std::cos(a), 45 * std::sin(a)});
    }
    EXPECT_LT(disagreement(outline, 3, true), chordError(3)) << round;
    EXPECT_LT(disagreement(outline, 3, false), chordError(3)) << round;
  }
}

TEST(CompensatedOutline, concave_outlines_agree_with_geos) {
  std::mt19937 random(42);
  for (int round = 0; round < 40; ++round) {
    // Star-shaped, its edges long against the tool.
    const int corners = 6 + static_cast<int>(random() % 6);
    std::vector<WorkPoint2> outline;
    for (int i = 0; i < corners; ++i) {
      const double a = 2 * std::numbers::pi * i / corners;
      const double size = i % 2 == 0 ? 100 : 60 + static_cast<double>(random() % 30);
      outline.push_back(WorkPoint2{size * std::cos(a), size * std::sin(a)});
    }
    EXPECT_LT(disagreement(outline, 2, true), chordError(2)) << round;
    EXPECT_LT(disagreement(outline, 2, false), chordError(2)) << round;
  }
}

}  // namespace
}  // namespace provecut
