#include <gtest/gtest.h>

#include <cmath>

#include "tests/report/rules/scene.h"

namespace provecut {
namespace {

// A screw of 4 mm at `at` on the stock of 200 x 100 x 18, grain along x, with a pilot hole so deep.
std::vector<Finding> screwAt(SetupPoint2 at, double pilot_mm, Material material = Material::hardwood, bool given = true,
                             double shaft_mm = 4) {
  Scene s;
  s.job().stock.grain = Grain::x;
  s.job().stock.material = material;
  s.job().stock.material_given = given;
  HoldDown h = screw("screw SW", at, 9, 4.5);
  h.shaft_diameter_mm = shaft_mm;
  const int index = s.addHoldDown(h);
  s.feed({30, 12, -3});
  s.run().screw_seats.push_back({0, index, 18, 18, pilot_mm});
  return s.findings(screw_near_edge_rule);
}

TEST(ScrewNearEdge, five_shafts_from_an_edge_and_seven_from_an_end_are_enough_without_a_pilot_hole) {
  EXPECT_TRUE(screwAt({28, 20}, 0).empty());
  ASSERT_EQ(screwAt({27.999, 20}, 0).size(), 1u);  // the end, 7 x 4
  ASSERT_EQ(screwAt({28, 19.999}, 0).size(), 1u);  // the edge, 5 x 4
  const Finding f = screwAt({12, 50}, 0)[0];
  EXPECT_EQ(f.level, Level::note);
  EXPECT_DOUBLE_EQ(*f.amount, 12);
  EXPECT_EQ(
      f.message,
      "screw SW is only 12 mm from the end of the stock (minimum 28 mm without a pilot hole); the wood may split");
  EXPECT_EQ(
      screwAt({100, 90}, 0)[0].message,
      "screw SW is only 10 mm from the edge of the stock (minimum 20 mm without a pilot hole); the wood may split");
}

TEST(ScrewNearEdge, half_is_enough_with_a_pilot_hole_through_half_the_thickness) {
  EXPECT_TRUE(screwAt({14, 10}, 9).empty());
  EXPECT_EQ(screwAt({13.999, 10}, 9).size(), 1u);
  EXPECT_EQ(screwAt({14, 9.999}, 9).size(), 1u);
  EXPECT_EQ(screwAt({14, 10}, 8.99).size(), 1u);
}

// On a disc of 200 mm: 7 shafts from the rim along the grain, 5 across it, between them what lies between.
TEST(ScrewNearEdge, on_round_stock_the_rim_counts_by_where_it_faces) {
  const auto near = [](double from_rim, double deg) {
    Scene s;
    s.job().stock.size_mm = {200, 200, 18};
    s.job().stock.shape = StockShape::round;
    s.job().stock.grain = Grain::x;
    s.job().stock.material = Material::hardwood;
    s.job().stock.material_given = true;
    const double rad = deg * 3.14159265358979323846 / 180, away = 100 - from_rim;
    HoldDown h = screw("screw SW", {100 + away * std::cos(rad), 100 + away * std::sin(rad)}, 9, 4.5);
    h.shaft_diameter_mm = 4;
    const int index = s.addHoldDown(h);
    s.feed({100, 100, -3});
    s.run().screw_seats.push_back({0, index, 18, 18, 0});
    return s.findings(screw_near_edge_rule).size();
  };
  for (const double deg : {0.0, 180.0}) {
    EXPECT_EQ(near(28.001, deg), 0u);
    EXPECT_EQ(near(27.999, deg), 1u);
  }
  EXPECT_EQ(near(20.001, 90), 0u);
  EXPECT_EQ(near(19.999, 90), 1u);
  const double between = std::sqrt((28.0 * 28 + 20 * 20) / 2);
  EXPECT_EQ(near(between + 0.001, 45), 0u);
  EXPECT_EQ(near(between - 0.001, 225), 1u);
}

TEST(ScrewNearEdge, mdf_and_particle_board_burst_at_three_shafts_from_an_edge) {
  for (const Material board : {Material::mdf, Material::board}) {
    EXPECT_TRUE(screwAt({12, 12}, 0, board).empty());
    ASSERT_EQ(screwAt({11.999, 50}, 0, board).size(), 1u);
    EXPECT_TRUE(screwAt({6, 6}, 9, board).empty());
    EXPECT_EQ(screwAt({6, 50}, 0, board)[0].message,
              "screw SW is only 6 mm from the edge of the stock (minimum 12 mm without a pilot hole); the board may "
              "split");
  }
}

TEST(ScrewNearEdge, four_screws_of_a_setup_are_one_finding_with_the_worst) {
  Scene s;
  s.job().stock.grain = Grain::x;
  s.job().stock.material = Material::hardwood;
  s.job().stock.material_given = true;
  s.feed({30, 12, -3});
  const auto drive = [&](const char* name, SetupPoint2 at) {
    HoldDown h = screw(name, at, 9, 4.5);
    h.shaft_diameter_mm = 4;
    s.run().screw_seats.push_back({0, s.addHoldDown(h), 18, 18, 0});
  };
  drive("screw SW", {100, 15});
  drive("screw SE", {100, 12});
  drive("screw NE", {100, 86});
  drive("screw NW", {100, 50});  // far enough in
  const auto findings = s.findings(screw_near_edge_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].subject, "screw SE");
  EXPECT_DOUBLE_EQ(*findings[0].amount, 12);
  EXPECT_EQ(
      findings[0].message,
      "screw SE is only 12 mm from the edge of the stock (minimum 20 mm without a pilot hole); screw NE and screw "
      "SW are too near as well; the wood may split");
  EXPECT_EQ(findings[0].help, "Move them in, bore a pilot hole through at least half the thickness, or use clamps.");
}

TEST(ScrewNearEdge, only_what_splits_and_only_what_is_known_is_judged) {
  EXPECT_TRUE(screwAt({5, 5}, 0, Material::plywood).empty());
  EXPECT_TRUE(screwAt({5, 5}, 0, Material::softwood, false).empty());
  EXPECT_TRUE(screwAt({5, 5}, 0, Material::softwood, true, 0).empty());
}

}  // namespace
}  // namespace provecut
