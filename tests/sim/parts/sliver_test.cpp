// Thin walls and posts left standing: how thick and high is known from how each scene is built.
#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "tests/sim/scene.h"

namespace provecut::testing {
namespace sliver_test {

Job stock(double cell = 0.25) {
  return stockOf({100, 60, 18}, {flatTool(1, 6), drillTool(2, 6, 118)}, cell);
}

std::vector<Sliver> sliversOf(const Moves& m, double cell = 0.25) {
  return runOf(stock(cell), {m.program()}).programs[0].slivers;
}

// Two slots 6 mm wide side by side leave what lies between.
Moves fin(double thick, double depth, Vec2 along = {60, 0}) {
  const double l = length(along);
  const Vec2 across = Vec2{-along.y, along.x} * ((6 + thick) / l);
  const WorkPoint2 a{20, 15};
  return Moves(1).slot({a, a + along}, depth).slot({a + across, a + across + along}, depth);
}

Vec2 turnedBy(double degrees, Vec2 v) {
  const double a = degrees * std::numbers::pi / 180;
  return {v.x * std::cos(a) - v.y * std::sin(a), v.x * std::sin(a) + v.y * std::cos(a)};
}

// A turned film between two slots of 6 mm width and 20 mm from end to end of their axis, its middle at (30, 30) +
// `offset`, in a block of 60 x 60 mm.
Moves film(double thick, double degrees, Vec2 offset, bool left_first, double depth = 10) {
  const WorkPoint2 middle{30 + offset.x, 30 + offset.y};
  const Vec2 along = turnedBy(degrees, {10, 0}), aside = turnedBy(degrees, {0, 3 + thick / 2});
  Moves m(1);
  for (const double side : {left_first ? 1.0 : -1.0, left_first ? -1.0 : 1.0})
    m.slot({middle + aside * side - along, middle + aside * side + along}, depth);
  return m;
}

// A trench round a square post.
Moves post(double side, double degrees, Vec2 offset, double depth) {
  std::vector<WorkPoint2> corners;
  for (int k = 0; k <= 4; ++k)
    corners.push_back(WorkPoint2{30 + offset.x, 30 + offset.y} +
                      turnedBy(degrees + 90 * k, {side / 2 + 3, side / 2 + 3}));
  return Moves(1).slot(corners, depth);
}

Moves roundPost(double diameter, Vec2 offset, double depth) {
  const double r = diameter / 2 + 3, x = 30 + offset.x, y = 30 + offset.y;
  return Moves(1)
      .rapid({x + r, y, 5})
      .feed({x + r, y, -depth})
      .arc(MotionKind::arc_ccw, {x + r, y, -depth}, {x, y})
      .rapid({x + r, y, 5});
}

std::vector<Sliver> inSmallBlock(const Moves& m, double cell) {
  const Job job = stockOf({60, 60, 18}, {flatTool(1, 6), ballTool(2, 6), veeTool(3, 20, 90)}, cell);
  return runOf(job, {m.program()}).programs[0].slivers;
}

constexpr Vec2 offsets[] = {{0, 0}, {0.05, 0.11}, {0.21, 0.19}};

TEST(Sliver, a_films_thickness_is_right_within_a_quarter_of_a_cell_however_it_is_turned) {
  for (const double cell : {0.25, 0.4}) {
    for (const double thick : {0.2, 0.3, 0.6, 0.95}) {
      for (const double degrees : {0, 10, 30, 45, 77, 90}) {
        for (const Vec2 offset : offsets) {
          for (const bool left_first : {false, true}) {
            SCOPED_TRACE(::testing::Message() << thick << " mm at " << degrees << " degrees, cells of " << cell
                                              << ", offset " << offset.x << ", left first " << left_first);
            const auto s = inSmallBlock(film(thick, degrees, offset, left_first), cell);
            EXPECT_EQ(s.size(), 1U);
            if (s.empty()) continue;
            EXPECT_NEAR(s[0].width_mm, thick, cell / 4);
            EXPECT_NEAR(s[0].height_mm, 10, 1e-4);
            EXPECT_EQ(s[0].move, 6U);
          }
        }
      }
    }
  }
}

TEST(Sliver, a_film_as_thin_as_a_shaving_goes_with_the_chips_and_a_wall_of_a_millimetre_and_more_stands) {
  for (const double thick : {0.05, 0.08, 0.1, 0.12, 1.05, 1.1, 1.2}) {
    for (const double degrees : {0, 10, 30, 45, 77, 90}) {
      for (const Vec2 offset : offsets) {
        EXPECT_TRUE(inSmallBlock(film(thick, degrees, offset, true), 0.25).empty())
            << thick << " mm at " << degrees << " degrees, offset " << offset.x;
      }
    }
  }
}

TEST(Sliver, a_film_cut_in_steps_is_found_between_the_centres_of_the_cells) {
  for (const double degrees : {0, 10, 45, 90}) {
    for (const Vec2 offset : offsets) {
      SCOPED_TRACE(::testing::Message() << degrees << " degrees, offset " << offset.x);
      const WorkPoint2 middle{30 + offset.x, 30 + offset.y};
      const Vec2 along = turnedBy(degrees, {10, 0}), aside = turnedBy(degrees, {0, 3.1});
      Moves m(1);
      for (const double side : {1.0, -1.0}) {
        for (const double depth : {3.0, 6.0, 9.0})
          m.slot({middle + aside * side - along, middle + aside * side + along}, depth);
      }
      const auto s = inSmallBlock(m, 0.5);
      ASSERT_EQ(s.size(), 1U);
      EXPECT_NEAR(s[0].width_mm, 0.2, 0.05);
      EXPECT_NEAR(s[0].height_mm, 9, 1e-4);
    }
  }
}

TEST(Sliver, a_film_between_the_cuts_of_two_programs_is_the_seconds_and_measured_as_well) {
  for (const double thick : {0.3, 0.6, 0.9}) {
    for (const double degrees : {0, 10, 30, 45, 77, 90}) {
      for (const Vec2 offset : offsets) {
        SCOPED_TRACE(::testing::Message() << thick << " mm at " << degrees << " degrees, offset " << offset.x);
        Program first = film(thick, degrees, offset, true).program(), second = first;
        first.motions.resize(4);
        second.motions.erase(second.motions.begin(), second.motions.begin() + 4);
        const auto r = runOf(stockOf({60, 60, 18}, {flatTool(1, 6)}, 0.25), {first, second});
        EXPECT_TRUE(r.programs[0].slivers.empty());
        const auto& s = r.programs[1].slivers;
        EXPECT_EQ(s.size(), 1U);
        if (s.empty()) continue;
        EXPECT_NEAR(s[0].width_mm, thick, 0.25 / 4);
      }
    }
  }
}

TEST(Sliver, a_square_posts_least_width_is_its_side_however_it_is_turned) {
  for (const double side : {0.6, 0.9, 1.1, 1.4, 1.7, 1.9}) {
    for (const double degrees : {0, 10, 30, 45, 77}) {
      for (const Vec2 offset : offsets) {
        SCOPED_TRACE(::testing::Message() << side << " mm at " << degrees << " degrees, offset " << offset.x);
        const auto s = inSmallBlock(post(side, degrees, offset, 1.5 * side + 0.1), 0.25);
        EXPECT_EQ(s.size(), 1U);
        if (s.empty()) continue;
        EXPECT_NEAR(s[0].width_mm, side, 0.25 / 4);
        EXPECT_NEAR(s[0].height_mm, 1.5 * side + 0.1, 1e-4);
        EXPECT_LT(std::hypot(s[0].at.x - 30 - offset.x, s[0].at.y - 30 - offset.y), side);
      }
    }
  }
}

TEST(Sliver, a_round_posts_least_width_is_its_diameter) {
  for (const double diameter : {0.6, 0.9, 1.3, 1.7, 1.9}) {
    for (const Vec2 offset : offsets) {
      SCOPED_TRACE(::testing::Message() << diameter << " mm, offset " << offset.x);
      const auto s = inSmallBlock(roundPost(diameter, offset, 4), 0.25);
      ASSERT_EQ(s.size(), 1U);
      EXPECT_NEAR(s[0].width_mm, diameter, 0.25 / 4);
      EXPECT_NEAR(s[0].height_mm, 4, 1e-4);
    }
  }
}

TEST(Sliver, a_post_wider_than_two_millimetres_or_lower_than_half_as_high_again_as_it_is_thick_is_none) {
  for (const double degrees : {0, 30, 45}) {
    for (const Vec2 offset : offsets) {
      EXPECT_TRUE(inSmallBlock(post(2.06, degrees, offset, 12), 0.25).empty()) << degrees << " " << offset.x;
      EXPECT_TRUE(inSmallBlock(post(1.6, degrees, offset, 2.3), 0.25).empty()) << degrees << " " << offset.x;
      EXPECT_TRUE(inSmallBlock(post(0.4, degrees, offset, 0.7), 0.25).empty()) << degrees << " " << offset.x;
    }
  }
}

TEST(Sliver, a_free_splinter_of_two_tenths_goes_with_the_chips_and_one_of_four_stands) {
  for (const double degrees : {0, 30, 45}) {
    for (const double depth : {6.0, 18.2}) {
      EXPECT_TRUE(inSmallBlock(post(0.2, degrees, {}, depth), 0.25).empty()) << degrees << " " << depth;
      EXPECT_EQ(inSmallBlock(post(0.4, degrees, {}, depth), 0.25).size(), 1U) << degrees << " " << depth;
    }
  }
}

TEST(Sliver, foam_thinner_than_a_bead_crumbles_with_the_chips) {
  const auto left = [](const Moves& m, Material material) {
    Job job = stockOf({60, 60, 18}, {flatTool(1, 6)}, 0.25);
    job.stock.material = material;
    job.stock.material_given = true;
    return runOf(job, {m.program()}).programs[0].slivers.size();
  };
  const Moves thin = film(0.4, 0, {}, true);
  EXPECT_EQ(left(thin, Material::foam), 0U);
  EXPECT_EQ(left(thin, Material::softwood), 1U);
  EXPECT_EQ(left(post(1.5, 0, {}, 10), Material::foam), 1U);
}

TEST(Sliver, a_post_cut_right_out_still_stands_there) {
  const auto s = inSmallBlock(post(1.7, 20, {}, 18.2), 0.25);
  ASSERT_EQ(s.size(), 1U);
  EXPECT_NEAR(s[0].width_mm, 1.7, 0.06);
  EXPECT_NEAR(s[0].height_mm, 18, 1e-4);
}

TEST(Sliver, the_wall_of_a_long_rib_is_measured_across) {
  Moves m(1);
  for (const double y : {23.0, 29.55, 37.0}) m.slot({{2, y}, {58, y + 4}}, 12);
  // The rib between the first two: 6.55 mm from axis to axis along Y, turned by atan(4 / 56).
  const auto s = inSmallBlock(m, 0.25);
  ASSERT_EQ(s.size(), 1U);
  EXPECT_NEAR(s[0].width_mm, 6.55 * std::cos(std::atan2(4, 56)) - 6, 0.06);
}

TEST(Sliver, what_is_thick_enough_is_none_whatever_form_it_has) {
  const auto none = [](const char* what, const Moves& m) {
    for (const double cell : {0.2, 0.25, 0.5}) EXPECT_TRUE(inSmallBlock(m, cell).empty()) << what << " " << cell;
  };
  none("a kerf's side", Moves(1).slot({{10, 10.1}, {50, 10.1}, {50, 47.3}, {10, 52.3}, {10, 10.1}}, 18.3));
  Moves steps(1);
  for (int k = 0; k < 6; ++k) steps.slot({{10, 12.0 + 5.3 * k}, {50, 12.0 + 5.3 * k}}, 4 + (k % 3));
  none("a pocket in steps", steps);
  Moves vee(3);
  vee.slot({{10, 20}, {50, 23}}, 4).slot({{10, 26.2}, {50, 29.2}}, 4);
  none("a ridge between vee grooves", vee);
  Moves relief(2);
  for (int k = 0; k < 36; ++k) {
    const double y = 8 + 1.25 * k;
    relief.rapid({8, y, 5});
    for (int i = 0; i <= 40; ++i) relief.feed({8 + 1.1 * i, y, -6 - 3.5 * std::sin(0.35 * i + 0.2 * k)});
    relief.rapid({52, y, 5});
  }
  none("a scalloped relief", relief);
  Moves floor(1);
  for (int k = 0; k < 8; ++k) floor.slot({{10, 12 + 4.7 * k}, {50, 12 + 4.7 * k}}, 17.4);
  none("a thin floor", floor);
}

TEST(Sliver, the_chamfer_along_a_slot_is_none) {
  const auto r = runOf(
      stockOf({60, 60, 18}, {flatTool(1, 6), veeTool(3, 20, 90)}, 0.25),
      {Moves(1).slot({{10, 30}, {50, 33.3}}, 12).program(), Moves(3).slot({{10, 30}, {50, 33.3}}, 4.5).program()});
  for (const ProgramRun& p : r.programs) EXPECT_TRUE(p.slivers.empty());
}

TEST(Sliver, a_wall_of_six_tenths_is_found_with_its_size_at_every_raster) {
  for (const double cell : {0.1, 0.25, 0.5}) {
    SCOPED_TRACE(cell);
    const auto s = sliversOf(fin(0.6, 12), cell);
    ASSERT_EQ(s.size(), 1U);
    EXPECT_NEAR(s[0].width_mm, 0.6, 0.08);
    EXPECT_NEAR(s[0].height_mm, 12, 1e-4);
    EXPECT_NEAR(s[0].at.z, 0, 1e-4);
    EXPECT_EQ(s[0].move, 6U);  // the second slot made it
  }
}

TEST(Sliver, a_millimetre_is_thick_enough_and_a_tenth_less_is_not) {
  EXPECT_TRUE(sliversOf(fin(1.05, 12), 0.1).empty());
  EXPECT_EQ(sliversOf(fin(0.95, 12), 0.1).size(), 1U);
}

TEST(Sliver, three_millimetres_is_the_least_height) {
  EXPECT_EQ(sliversOf(fin(0.6, 3.01)).size(), 1U);
  EXPECT_TRUE(sliversOf(fin(0.6, 2.99)).empty());
}

TEST(Sliver, one_that_runs_aslant_is_measured_across) {
  const auto s = sliversOf(fin(0.8, 10, {40, 20}), 0.1);
  ASSERT_EQ(s.size(), 1U);
  EXPECT_NEAR(s[0].width_mm, 0.8, 0.1);
}

TEST(Sliver, slots_that_just_touch_leave_nothing_standing) {
  for (const double cell : {0.1, 0.25, 0.5}) {
    EXPECT_TRUE(sliversOf(fin(0, 12), cell).empty()) << cell;
    EXPECT_TRUE(sliversOf(fin(-1, 12), cell).empty()) << cell;
  }
}

TEST(Sliver, a_post_that_stands_free_counts_though_it_is_short) {
  // A ring trench round a post of 0.8 mm.
  Moves m(1);
  m.rapid({53.4, 30, 5}).feed({53.4, 30, -10}).arc(MotionKind::arc_ccw, {53.4, 30, -10}, {50, 30}).rapid({53.4, 30, 5});
  const auto s = sliversOf(m, 0.1);
  ASSERT_EQ(s.size(), 1U);
  EXPECT_NEAR(s[0].at.x, 50, 0.5);
  EXPECT_NEAR(s[0].at.y, 30, 0.5);
}

TEST(Sliver, the_cusps_of_a_row_of_overlapping_holes_are_none) {
  Moves m(2);
  for (int k = 0; k < 8; ++k) m.slot({{20 + 4.0 * k, 30}}, 12);
  EXPECT_TRUE(sliversOf(m, 0.1).empty());
}

TEST(Sliver, a_strip_at_the_stocks_edge_counts) {
  // The slot's wall is 0.7 mm from the edge.
  EXPECT_EQ(sliversOf(Moves(1).slot({{20, 3.7}, {80, 3.7}}, 12)).size(), 1U);
}

// Its top is a pocket's floor, cut before the bores about it.
TEST(Sliver, the_last_cut_beside_a_post_counts_not_the_one_that_lowered_its_top) {
  Moves m(1);
  for (double y = 18; y < 43; y += 5) m.slot({{15, y}, {45, y}}, 4);
  const std::uint32_t pocket = m.count();
  const double r = 0.4 / 2 + 3;
  for (const Vec2 off : {Vec2{r, 0}, Vec2{0, r}, Vec2{-r, 0}, Vec2{0, -r}}) {
    const WorkPoint2 at = WorkPoint2{30, 30} + off;
    m.slot({at, at + Vec2{-off.y, off.x}}, 12).slot({at, at + Vec2{off.y, -off.x}}, 12);
  }
  const auto found = sliversOf(m);
  ASSERT_EQ(found.size(), 1U);
  EXPECT_GE(found[0].move, pocket);
}

// The second program deepens the slot beside the fin, a millimetre away from it.
TEST(Sliver, one_that_an_earlier_program_left_is_not_said_of_the_next_that_cuts_near_it) {
  const auto r = runOf(stock(), {fin(0.6, 12).program(), Moves(1).slot({{20, 13.95}, {80, 13.95}}, 15).program()});
  EXPECT_EQ(r.programs[0].slivers.size(), 1U);
  EXPECT_TRUE(r.programs[1].slivers.empty());
}

TEST(Sliver, one_that_stood_before_is_not_said_again) {
  const auto r = runOf(stock(), {fin(0.6, 12).program(), Moves(1).slot({{20, 50}, {60, 50}}, 5).program()});
  EXPECT_EQ(r.programs[0].slivers.size(), 1U);
  EXPECT_TRUE(r.programs[1].slivers.empty());
}

}  // namespace sliver_test
}  // namespace provecut::testing
