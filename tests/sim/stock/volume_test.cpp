// Volumes that cuts take, against closed forms: swept sections and ends of straight slots, solids of revolution of
// holes (solid geometry; the numbers stand beside each).
#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <random>

#include "tests/sim/scene.h"

namespace provecut::testing {
namespace volume_test {

constexpr double pi = std::numbers::pi;
constexpr double share = 0.005;  // half a per cent, at a raster of 0.25 mm

double removed(const Tool& tool, const Moves& moves, double thickness = 19.05, double cell = 0.25) {
  const auto r = runOf(stockOf({120, 60, thickness}, {tool}, cell), {moves.program()});
  // What the moves took adds up to what the stock lost.
  EXPECT_NEAR(r.programs[0].removed_mm3, r.stock.removed_mm3, 1e-4 * r.stock.removed_mm3);
  return r.stock.removed_mm3;
}

void near(double got, double wanted) {
  EXPECT_NEAR(got, wanted, share * wanted) << "off by " << 100 * (got / wanted - 1) << " %";
}

// Slots start at odd places, so that walls fall anywhere in the raster.
const std::vector<WorkPoint2> places = {{20, 20}, {20.03, 20.11}, {20.19, 20.07}, {20.125, 20.125}};

TEST(Volume, a_flat_slot_takes_its_section_times_length_and_two_round_ends) {
  for (const double diameter : {6.0, 6.35, 3.175}) {
    for (const WorkPoint2 p : places) {
      SCOPED_TRACE(::testing::Message() << "diameter " << diameter << " at " << p.x << ", " << p.y);
      const double l = 50, d = 3;
      near(removed(flatTool(1, diameter), Moves(1).slot({p, p + Vec2{l, 0}}, d)),
           (diameter * l + pi * diameter * diameter / 4) * d);
      near(removed(flatTool(1, diameter), Moves(1).slot({p, p + Vec2{0, 25}}, d)),
           (diameter * 25 + pi * diameter * diameter / 4) * d);
      near(removed(flatTool(1, diameter), Moves(1).slot({p, p + Vec2{30, 17}}, d)),
           (diameter * std::hypot(30, 17) + pi * diameter * diameter / 4) * d);
    }
  }
}

TEST(Volume, a_flat_slot_in_passes_takes_as_much_as_in_one) {
  for (const WorkPoint2 p : places) {
    Moves m(1);
    for (const double d : {2.0, 4.0, 6.0}) m.slot({p, p + Vec2{50, 0}}, d);
    near(removed(flatTool(1, 6.35), m), (6.35 * 50 + pi * 6.35 * 6.35 / 4) * 6);
  }
}

TEST(Volume, a_ball_groove_shallower_than_its_radius) {
  // r 3, 2 deep, 50 long: section 8.250207631321, ends 29.3215314335.
  for (const WorkPoint2 p : places)
    near(removed(ballTool(1, 6), Moves(1).slot({p, p + Vec2{50, 0}}, 2)), 441.8319129995);
}

TEST(Volume, a_ball_groove_deeper_than_its_radius) {
  // r 3, 5 deep, 50 long: section 26.13716694115, ends 113.0973355292.
  for (const WorkPoint2 p : places)
    near(removed(ballTool(1, 6), Moves(1).slot({p, p + Vec2{50, 0}}, 5)), 1419.955682587);
}

TEST(Volume, a_vee_groove_sharp_or_with_a_flat_tip) {
  for (const WorkPoint2 p : places) {
    near(removed(veeTool(1, 12, 60), Moves(1).slot({p, p + Vec2{50, 0}}, 3)), 269.2323990961);
    near(removed(veeTool(1, 12, 90, 0.2), Moves(1).slot({p, p + Vec2{50, 0}}, 2)), 229.6970493241);
    // Deeper than its cone: straight walls above 6.35 mm.
    near(removed(veeTool(1, 12.7, 90), Moves(1).slot({p, p + Vec2{50, 0}}, 8)), 3541.024542817);
  }
}

TEST(Volume, a_drilled_blind_hole_is_a_cylinder_on_a_cone) {
  const auto hole = [&](double diameter, double angle, double depth, double volume) {
    for (const WorkPoint2 p : places)
      near(removed(drillTool(1, diameter, angle), Moves(1).slot({p}, depth), 25), volume);
  };
  hole(6, 118, 20, 531.5088101279);
  hole(3.175, 135, 10, 75.70228723271);
  hole(6.35, 90, 12.7, 335.1658846114);
  hole(12, 118, 2, 23.20444167228);  // the cone alone
}

TEST(Volume, a_hole_drilled_through_loses_the_cone_that_is_below_the_stock) {
  // 6 mm, 118 degrees, 18 mm thick, tip 1 mm below: 500.3339210366; tip 2 mm below: the whole cylinder.
  for (const WorkPoint2 p : places) {
    near(removed(drillTool(1, 6, 118), Moves(1).slot({p}, 19), 18), 500.3339210366);
    near(removed(drillTool(1, 6, 118), Moves(1).slot({p}, 20), 18), 508.9380098815);
  }
}

TEST(Volume, a_bull_nose_slot_lacks_its_two_rounded_corners) {
  // Section: D d less two corner spandrels r²(1 - pi/4). Ends: the solid of revolution, a cylinder less the spandrel
  // turned about the axis; its centroid lies r (10 - 3 pi) / (12 - 3 pi) from the outside (geometry, Pappus).
  const double D = 12, r = 2, d = 5, l = 50;
  const double spandrel = r * r * (1 - pi / 4);
  const double section = D * d - 2 * spandrel;
  const double from_outside = r * (10 - 3 * pi) / (12 - 3 * pi);
  const double ends = pi * D * D / 4 * d - 2 * pi * (D / 2 - from_outside) * spandrel;
  for (const WorkPoint2 p : places)
    near(removed(bullTool(1, D, r), Moves(1).slot({p, p + Vec2{l, 0}}, d)), section * l + ends);
}

TEST(Volume, a_slope_cut_by_a_ball_takes_a_tilted_groove) {
  // A ball whose centre goes from (x0, z0) to (x1, z1) with its upper half never in the wood: the wood lost below the
  // flat top is found here by integrating, per x, the deepest of all circles that lie above it (numeric reference).
  const double r = 3, x0 = 20, x1 = 60, z0 = 1.5,
               z1 = -1.5;  // tip heights -1.5 … -4.5: centre above the top at the ends
  double volume = 0;
  const double step = 0.02;
  for (double x = x0 - r; x <= x1 + r; x += step) {
    for (double y = -r; y <= r; y += step) {
      double lowest = 0;
      for (int k = 0; k <= 400; ++k) {
        const double t = k / 400.0, cx = x0 + t * (x1 - x0), cz = z0 + t * (z1 - z0);
        const double under = r * r - (x - cx) * (x - cx) - y * y;
        if (under >= 0) lowest = std::min(lowest, cz - std::sqrt(under));
      }
      volume -= lowest * step * step;
    }
  }
  Moves m(1);
  m.rapid({x0, 30, 5}).feed({x0, 30, z0 - r}).feed({x1, 30, z1 - r}).rapid({x1, 30, 5});
  near(removed(ballTool(1, 2 * r), m), volume);
}

TEST(Volume, a_full_circle_by_two_arcs_leaves_the_core) {
  const double R = 12, D = 6.35, d = 4;
  for (const WorkPoint2 c : {WorkPoint2{40, 30}, WorkPoint2{40.07, 30.13}}) {
    Moves m(1);
    m.rapid({c.x + R, c.y, 5}).feed({c.x + R, c.y, -d});
    m.arc(MotionKind::arc_ccw, {c.x - R, c.y, -d}, c)
        .arc(MotionKind::arc_ccw, {c.x + R, c.y, -d}, c)
        .rapid({c.x + R, c.y, 5});
    near(removed(flatTool(1, D), m), 2 * pi * R * D * d);
  }
}

TEST(Volume, a_ramp_of_a_flat_bit_leaves_no_dexel_standing_wherever_it_goes) {
  // After a ramp from 1 to 5 mm deep a level pass along it at 6 mm meets at most 5 mm; a dexel that the ramp had
  // skipped would meet it with all 6.
  std::mt19937 random(7);
  std::uniform_real_distribution<double> x(5, 115), y(5, 55);
  Moves m(1);
  std::vector<std::uint32_t> level;
  for (int k = 0; k < 40; ++k) {
    const WorkPoint2 a{x(random), y(random)}, b{x(random), y(random)};
    m.rapid({a.x, a.y, 5}).feed({a.x, a.y, -1}).feed({b.x, b.y, -5}).rapid({b.x, b.y, 5}).rapid({a.x, a.y, 5});
    m.feed({a.x, a.y, -6}).feed({b.x, b.y, -6});
    level.push_back(m.count() - 1);
    m.rapid({b.x, b.y, 5});
  }
  for (const double cell : {0.3, 0.25, 0.15}) {
    const auto r = runOf(stockOf({120, 60, 19.05}, {flatTool(1, 6)}, cell), {m.program()});
    for (const std::uint32_t move : level)
      EXPECT_LE(r.programs[0].cuts[move].axial_depth_mm, 5 + 1e-4) << "cell " << cell << ", move " << move;
  }
}

TEST(Volume, off_the_stock_nothing_is_taken) {
  Moves m(1);
  m.rapid({-20, -20, 5}).feed({-20, -20, -5}).feed({140, -20, -5}).rapid({140, -20, 5});
  EXPECT_EQ(removed(flatTool(1, 6), m), 0);
}

TEST(Volume, halving_the_raster_brings_the_volume_nearer_to_the_truth) {
  const double truth = 441.8319129995;
  const auto error = [&](double cell) {
    return std::abs(removed(ballTool(1, 6), Moves(1).slot({{20.03, 20.11}, {70.03, 20.11}}, 2), 19.05, cell) - truth);
  };
  // At most proportional to the raster, from a per cent at 0.5 mm on.
  EXPECT_LE(error(0.5), 0.01 * truth);
  EXPECT_LE(error(0.25), 0.005 * truth);
  EXPECT_LE(error(0.125), 0.0025 * truth);
}

}  // namespace volume_test
}  // namespace provecut::testing
