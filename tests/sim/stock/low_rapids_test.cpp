// Rapids low in the stock, and walls thinner than a cell. Against closed forms.
#include <gtest/gtest.h>

#include "tests/sim/scene.h"

namespace provecut::testing {
namespace low_rapids_test {

constexpr double diameter = 6;

struct LowRapid {
  std::vector<Program> before;
  Moves moves{1};
  double cell_mm = 0.5;

  MoveCut last() const {
    std::vector<Program> programs = before;
    programs.push_back(moves.program());
    return runOf(stockOf({60, 60, 25}, {flatTool(1, diameter)}, cell_mm), programs).programs.back().cuts.back();
  }
};

LowRapid alongTheSlotAt(double y, double aside_mm, double depth_mm) {
  LowRapid s;
  s.moves.slot({{-10, y}, {70, y}}, depth_mm);
  s.moves.rapid({-10, y + aside_mm, 20}).rapid({-10, y + aside_mm, -depth_mm}).rapid({70, y + aside_mm, -depth_mm});
  return s;
}

TEST(LowRapids, a_slice_off_a_wall_is_met_wherever_it_lies_between_the_centres) {
  for (const double cell : {0.25, 0.5, 1.0}) {
    for (double y = 30; y < 31; y += 0.13) {
      SCOPED_TRACE(::testing::Message() << "cell " << cell << " y " << y);
      LowRapid s = alongTheSlotAt(y, 0.24, 20);
      s.cell_mm = cell;
      const MoveCut cut = s.last();
      EXPECT_NEAR(cut.bite_mm, 20, 1e-3);
      EXPECT_NEAR(cut.section_mm2, 0.24 * 20, 0.2);
    }
  }
}

TEST(LowRapids, the_same_way_again_meets_nothing) {
  for (double y = 30; y < 31; y += 0.13) EXPECT_EQ(alongTheSlotAt(y, 0, 20).last().bite_mm, 0) << y;
}

// Two slots with 0.2 mm of wood between them.
LowRapid twoSlots(double x) {
  LowRapid s;
  for (const double at : {x, x + diameter + 0.2}) s.moves.slot({{at, 20}, {at, 40}}, 10);
  return s;
}

TEST(LowRapids, a_film_between_two_slots_is_met_along_it_and_across_it) {
  for (double x = 20; x < 20.5; x += 0.09) {
    SCOPED_TRACE(x);
    LowRapid along = twoSlots(x), across = twoSlots(x);
    const double middle = x + diameter / 2 + 0.1;
    along.moves.rapid({middle, 24, 20}).feed({middle, 24, -10});
    along.moves.rapid({middle, 36, -10});  // up to where the walls are straight
    EXPECT_NEAR(along.last().bite_mm, 10, 1e-3);
    EXPECT_NEAR(along.last().section_mm2, 0.2 * 10, 0.2);
    across.moves.rapid({x, 30, 20}).rapid({x, 30, -10}).rapid({x + diameter + 0.2, 30, -10});
    EXPECT_NEAR(across.last().bite_mm, 10, 1e-3);
  }
}

TEST(LowRapids, what_the_program_before_left_is_met_too) {
  LowRapid s = twoSlots(20.1);
  s.before.push_back(s.moves.program());
  s.moves = Moves(1);
  s.moves.rapid({20.1, 30, 20}).rapid({20.1, 30, -10}).rapid({26.3, 30, -10});
  EXPECT_NEAR(s.last().bite_mm, 10, 1e-3);
}

TEST(LowRapids, a_rapid_in_a_pocket_that_rows_have_cleared_meets_nothing) {
  for (const double step : {0.7, 2.3, 5.9}) {
    SCOPED_TRACE(step);
    LowRapid s;
    s.moves.rapid({20, 20, 20}).feed({20, 20, -9});
    for (int row = 0; row < 4; ++row) {
      const double y = 20 + row * step, from = row % 2 ? 40 : 20;
      s.moves.feed({from, y, -9}).feed({60 - from, y, -9});
    }
    s.moves.rectangle({20, 20}, {40, 20 + 3 * step}, -9);
    s.moves.rapid({20, 20, 20}).rapid({20, 20, -9});
    s.moves.rapid({40, 20 + 3 * step, -9});
    EXPECT_EQ(s.last().bite_mm, 0);
  }
}

// A wall of 0.3 mm that rises only 0.24 mm above the tip: no cell's mean height reaches up to it. The flat bit takes
// all of its own width out of it.
TEST(LowRapids, a_thin_wall_hardly_higher_than_the_tip_is_met_across_with_all_of_the_bits_width) {
  constexpr double wall_mm = 0.3, between_mm = diameter + wall_mm;
  for (const double cell : {0.25, 0.5, 1.0}) {
    for (double y = 20; y < 21; y += 0.13) {
      SCOPED_TRACE(::testing::Message() << "cell " << cell << " y " << y);
      LowRapid s;
      s.cell_mm = cell;
      s.moves.slot({{10, y}, {50, y}}, 3).slot({{10, y + between_mm}, {50, y + between_mm}}, 3);
      s.moves.slot({{10, y + between_mm / 2}, {50, y + between_mm / 2}}, 1);
      s.moves.rapid({30, y, 20}).rapid({30, y, -1.24}).rapid({30, y + between_mm, -1.24});
      const MoveCut cut = s.last();
      EXPECT_NEAR(cut.bite_mm, 0.24, 1e-3);
      EXPECT_NEAR(cut.section_mm2, 0.24 * diameter, 0.05);
      EXPECT_NEAR(cut.max_radial_depth_mm, diameter, 0.15);
    }
  }
}

// A form with a kink at radius 2, height 1, plunged to 1.04: on a steep way up the kink shaves a rim of 0.03 mm off.
// By hand: 0.0007 mm3, 0.07 mm2 seen from above.
TEST(LowRapids, the_rim_that_a_kink_shaves_off_on_its_way_up_is_as_small_as_it_is) {
  Tool form = flatTool(1, 6);
  form.shape = ToolShape::form;
  form.profile_mm = {{1, 0}, {2, 1}, {2.2, 2}, {3, 3}};
  Moves moves(1);
  moves.rapid({30, 30, 5}).feed({30, 30, -1.04}).rapid({35, 30, 7.5});
  const auto run = runOf(stockOf({60, 60, 14}, {form}, 0.25), {moves.program()});
  const MoveCut& cut = run.programs.back().cuts.back();
  EXPECT_GT(cut.bite_mm, 0.01);
  EXPECT_LT(cut.bite_mm, 0.04);
  EXPECT_GT(cut.plan_mm2, 0);
  EXPECT_LT(cut.plan_mm2, 0.1);
}

}  // namespace low_rapids_test
}  // namespace provecut::testing
