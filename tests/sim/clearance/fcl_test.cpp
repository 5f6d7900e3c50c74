// Convex tools and hold-downs against FCL 0.7, a general library for distances between bodies (its GJK over
// libccd).
#include <fcl/narrowphase/distance.h>
#include <gtest/gtest.h>

#include <cmath>
#include <memory>

#include "tests/sim/clearance/random_scene.h"
#include "tests/sim/clearance/sampled.h"

namespace provecut {
namespace {

using namespace scene;
using Geometry = std::shared_ptr<fcl::CollisionGeometryd>;

constexpr double depth = 150;      // hold-downs reach down without end; this is far below every tool
constexpr int sides = 720;         // of a cone as a pyramid
constexpr double gjk_mm = 2e-6;    // its iterations for round bodies; measured worst 2.2e-7
constexpr double touch_mm = 2e-4;  // where bodies just touch GJK converges slowly; measured worst 5.1e-5

struct Body {
  Geometry geometry;
  fcl::Vector3d at;     // of its own origin
  double short_of = 0;  // the true body reaches at most this much further
};

// A convex body between two outlines with the same number of corners, one above the other.
template <class Point>
Geometry between(const std::vector<Point>& low, double z0, const std::vector<Point>& high, double z1) {
  auto points = std::make_shared<std::vector<fcl::Vector3d>>();
  const int n = static_cast<int>(low.size());
  for (const Point p : low) points->push_back({p.x, p.y, z0});
  for (const Point p : high) points->push_back({p.x, p.y, z1});
  auto faces = std::make_shared<std::vector<int>>();
  const auto face = [&](const std::vector<int>& corners) {
    faces->push_back(static_cast<int>(corners.size()));
    faces->insert(faces->end(), corners.begin(), corners.end());
  };
  std::vector<int> bottom, top;
  for (int i = 0; i < n; ++i) {
    bottom.push_back(n - 1 - i);
    top.push_back(n + i);
    face({i, (i + 1) % n, n + (i + 1) % n, n + i});
  }
  face(bottom);
  face(top);
  return std::make_shared<fcl::Convexd>(points, n + 2, faces);
}

std::vector<Vec2> ring(double radius) {
  std::vector<Vec2> points;
  for (int i = 0; i < sides; ++i) {
    const double a = 2 * M_PI * i / sides;
    points.push_back({radius * std::cos(a), radius * std::sin(a)});
  }
  return points;
}

Body cylinder(double radius, double z0, double z1) {
  return {std::make_shared<fcl::Cylinderd>(radius, z1 - z0), {0, 0, (z0 + z1) / 2}};
}

// The parts of a flat, ball or vee tool in its own frame.
std::vector<Body> toolOf(const Tool& t) {
  std::vector<Body> bodies;
  const double r = t.diameter_mm / 2;
  double straight_from = 0;
  if (t.shape == ToolShape::ball) {
    // The upper half of the sphere lies within the cylinder.
    bodies.push_back({std::make_shared<fcl::Sphered>(r), {0, 0, r}});
    straight_from = r;
  } else if (t.shape == ToolShape::vee) {
    const double tip = t.tip_diameter_mm / 2;
    straight_from = (r - tip) / std::tan(t.angle_deg * M_PI / 360);
    bodies.push_back({between(ring(tip), 0, ring(r), straight_from), {0, 0, 0}, r * (1 - std::cos(M_PI / sides))});
  }
  const double flutes = std::max(t.flute_length_mm, straight_from + 1), face = t.stickout_mm;
  const ColletNut nut;
  bodies.push_back(cylinder(r, straight_from, flutes));
  bodies.push_back(cylinder(t.shank_diameter_mm / 2, flutes, face));
  bodies.push_back(cylinder(nut.diameter_mm / 2, face, face + nut.length_mm));
  bodies.push_back(cylinder(nut.spindle_diameter_mm / 2, face + nut.length_mm, face + nut.length_mm + 200));
  return bodies;
}

fcl::CollisionObjectd prismOf(const HoldDown& h) {
  fcl::Transform3d place = fcl::Transform3d::Identity();
  if (h.diameter_mm > 0) {
    place.translation() = fcl::Vector3d(h.at_mm.x, h.at_mm.y, h.top_mm - depth / 2);
    return {std::make_shared<fcl::Cylinderd>(h.diameter_mm / 2, depth), place};
  }
  if (h.outline_mm.empty()) {
    place.translation() = fcl::Vector3d(h.at_mm.x, h.at_mm.y, h.top_mm - depth / 2);
    place.linear() = Eigen::AngleAxisd(h.angle_deg * M_PI / 180, fcl::Vector3d::UnitZ()).toRotationMatrix();
    return {std::make_shared<fcl::Boxd>(h.size_mm.x, h.size_mm.y, depth), place};
  }
  return {between(footprint(h), h.top_mm - depth, footprint(h), h.top_mm), place};
}

// FCL's distance with the tip at one point; 0 where they overlap. `short_of`: of the nearest body.
double fclDistance(const std::vector<Body>& tool, const fcl::CollisionObjectd& prism, SetupPoint tip,
                   double& short_of) {
  double best = INFINITY;
  for (const Body& b : tool) {
    fcl::Transform3d place = fcl::Transform3d::Identity();
    place.translation() = b.at + fcl::Vector3d(tip.x, tip.y, tip.z);
    const fcl::CollisionObjectd object(b.geometry, place);
    fcl::DistanceRequestd request;
    request.gjk_solver_type = fcl::GJKSolverType::GST_LIBCCD;
    request.distance_tolerance = 1e-9;
    fcl::DistanceResultd result;
    fcl::distance(&object, &prism, request, result);
    short_of = std::max(short_of, b.short_of);
    best = std::min(best, std::max(0.0, result.min_distance));
  }
  return best;
}

TEST(Clearance, agrees_with_fcl_for_convex_tools_and_hold_downs) {
  const unsigned seed = 41519;
  std::printf("seed %u\n", seed);
  std::mt19937 random(seed);
  const ToolShape shapes[] = {ToolShape::flat, ToolShape::ball, ToolShape::vee};
  int scenes = 0, touching = 0;
  double worst = 0;
  for (int i = 0; scenes < 2000; ++i) {
    RandomScene s = randomScene(random);
    if (!clearance::obstacle(s.hold_down, 0).convex) continue;
    ++scenes;
    s.tool.shape = shapes[i % 3];
    s.tool.angle_deg = std::clamp(s.tool.angle_deg, 30.0, 120.0);
    s.tool.flute_length_mm = std::max(s.tool.flute_length_mm, 35.0);  // above every cone here
    SCOPED_TRACE("scene " + std::to_string(i) + ": " + s.text);
    const clearance::Approach a = see(s.motion, bodyOf(s.tool), s.hold_down);
    const std::vector<Body> tool = toolOf(s.tool);
    const fcl::CollisionObjectd prism = prismOf(s.hold_down);
    double short_of = 0;
    if (!a.touches.empty()) {
      ++touching;
      // At the first touch of all parts FCL finds no distance either.
      for (const clearance::PartTouch& t : a.touches)
        EXPECT_LE(fclDistance(tool, prism, t.entry, short_of), short_of + touch_mm);
      continue;
    }
    ASSERT_TRUE(a.near);
    const double there = fclDistance(tool, prism, a.near->at, short_of);
    EXPECT_LE(a.near->clearance_mm, there + gjk_mm);
    EXPECT_GE(a.near->clearance_mm, there - short_of - gjk_mm);
    if (short_of == 0) worst = std::max(worst, std::fabs(a.near->clearance_mm - there));
    for (int k = 0; k <= 12; ++k) {  // and nowhere on the way is it nearer
      const double elsewhere = fclDistance(tool, prism, sampled::pointOn(s.motion, k / 12.0), short_of);
      EXPECT_GE(elsewhere, a.near->clearance_mm - gjk_mm);
    }
  }
  std::printf("%d scenes, %d touch, maxOf difference without pyramids %.2g mm\n", scenes, touching, worst);
  EXPECT_GT(touching, 200);
  EXPECT_GT(scenes - touching, 500);
}

}  // namespace
}  // namespace provecut
