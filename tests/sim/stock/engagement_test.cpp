// How a cutter meets the material, against closed forms: width and angle of cut on straight and curved walls and on
// arriving in a square inside corner (geometry of the circular tooth path).
#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <utility>

#include "sim/tool/cutting_load.h"
#include "tests/sim/scene.h"

namespace provecut::testing {
namespace {

constexpr double pi = std::numbers::pi;

// Walls fall anywhere in the raster.
const std::vector<WorkPoint2> places = {{20, 20}, {20.03, 20.11}, {20.19, 20.07}, {20.125, 20.125}};

struct Cut {
  MoveCut move;
  MoveLoad load;
};

Cut last(const Tool& tool, const Moves& moves, double cell = 0.25, double thickness = 19.05, int threads = 0) {
  Job job = stockOf({120, 80, thickness}, {tool}, cell);
  job.stock.material = Material::hardwood;
  job.stock.material_given = true;
  addProgram(job, 0, tool.number);
  const Program program = moves.program();
  RunOptions options;
  options.threads = threads;
  const auto r = run(job, std::vector{program}, options);
  const std::vector<Motion>& motions = program.motions;
  for (std::size_t i = motions.size(); i-- > 0;) {
    if (motions[i].kind != MotionKind::rapid) return {r.programs[0].cuts[i], r.programs[0].loads[i]};
  }
  return {};
}

// A pocket of `low` to `high` whose walls stand `left` further in than they shall, cut with a tool of radius r.
Moves roughed(WorkPoint2 low, WorkPoint2 high, double left, double r, double depth) {
  Moves m(1);
  m.rapid({low.x + 4 * r, low.y + 4 * r, 5});
  for (double inset = r + left; low.x + inset < (low.x + high.x) / 2 + r; inset += 1.2 * r) {
    const WorkPoint2 a{low.x + inset, low.y + inset}, b{std::max(a.x, high.x - inset), std::max(a.y, high.y - inset)};
    m.feed({a.x, a.y, -depth})
        .feed({b.x, a.y, -depth})
        .feed({b.x, b.y, -depth})
        .feed({a.x, b.y, -depth})
        .feed({a.x, a.y, -depth});
  }
  return m;
}

TEST(Engagement, a_slot_is_as_wide_as_the_cutter) {
  for (const WorkPoint2 p : places) {
    for (const Vec2 way : {Vec2{50, 0}, Vec2{0, 30}, Vec2{30, 17}}) {
      const WorkPoint2 e = p + way;
      const Cut c = last(flatTool(1, 6), Moves(1).rapid({p.x, p.y, 5}).feed({p.x, p.y, -3}).feed({e.x, e.y, -3}));
      EXPECT_NEAR(c.move.radial_depth_mm, 6, 0.03);
      EXPECT_NEAR(c.move.max_radial_depth_mm, 6, 0.1);
      EXPECT_NEAR(c.move.section_height_mm, 3, 1e-4);
      EXPECT_NEAR(c.move.engaged_mm, length(way), 0.01);
    }
  }
}

TEST(Engagement, a_wall_is_met_as_wide_as_what_was_left_on_it) {
  for (const double left : {0.1, 0.25, 0.6, 1.2, 3.0, 4.5}) {
    for (const WorkPoint2 p : places) {
      for (const double turn : {0.0, 90.0, 30.0}) {
        const Vec2 u{std::cos(turn * pi / 180), std::sin(turn * pi / 180)}, n{-u.y, u.x};
        // A slot, then a shorter one beside it that takes `left` more; at the end of the first both meet a corner.
        const WorkPoint2 a = p + Vec2{20, 10}, b = a + u * 30, c = a + n * left, d = c + u * 20;
        Moves m(1);
        m.rapid({a.x, a.y, 5}).feed({a.x, a.y, -6}).feed({b.x, b.y, -6}).rapid({b.x, b.y, 5});
        m.rapid({c.x, c.y, 5}).feed({c.x, c.y, -6}).feed({d.x, d.y, -6});
        const Cut cut = last(flatTool(1, 6), m);
        SCOPED_TRACE(::testing::Message() << left << " left, turned by " << turn << ", at " << p.x);
        EXPECT_NEAR(cut.move.radial_depth_mm, left, 0.03);
        EXPECT_NEAR(cut.move.max_radial_depth_mm, left, 0.125);  // half a cell
        EXPECT_NEAR(cut.move.section_height_mm, 6, 1e-3);
      }
    }
  }
}

// Along the front wall of a pocket at `p` into its right corner: the wall's stock is `left`, the pass goes 17 mm.
// `square`: a bit of 1 mm has been in the corner before; else it is as round as the rough pass left it.
MoveCut intoCorner(WorkPoint2 p, double left, bool square, double cell) {
  Moves m = roughed(p, p + Vec2{40, 30}, left, 3, 6);
  const std::uint32_t corner = m.count();
  const WorkPoint2 c{p.x + 40 - left - 0.5, p.y + left + 0.5};
  for (const double o : {0.0, 0.4, 0.8, 1.2, 1.6}) {
    if (square) m.feed({c.x - o, c.y + 5, -6}).feed({c.x - o, c.y + o, -6}).feed({c.x - 5, c.y + o, -6});
  }
  const std::uint32_t finish = m.count();
  m.feed({p.x + 20, p.y + 15, -6}).feed({p.x + 20, p.y + 3, -6}).feed({p.x + 37, p.y + 3, -6});
  Job job = stockOf({120, 80, 19.05}, {flatTool(1, 6), flatTool(2, 1)}, cell);
  Program program = m.program();
  for (std::uint32_t i = corner; i < finish; ++i) program.motions[i].tool = 2;
  return runOf(job, {program}).programs.at(0).cuts.at(program.motions.size() - 1);
}

// A trap: a finishing pass of 0.25 mm meets ten times that on arriving in a square inside corner.
// r 3: a_e + 2 sqrt(2 r a_e - a_e^2); from 45 degrees on r (1 + sin phi).
TEST(Engagement, a_finishing_pass_meets_ten_times_its_width_in_a_corner) {
  for (const auto& [left, wanted] : {std::pair{0.25, 2.647915761656}, {0.5, 3.816624790355}, {1.2, 5.4}}) {
    for (const WorkPoint2 p : places) {
      SCOPED_TRACE(::testing::Message() << left << " left at " << p.x << ", " << p.y);
      const MoveCut c = intoCorner(p, left, true, 0.25);
      EXPECT_NEAR(c.max_radial_depth_mm, wanted, 0.25);  // a cell
      // The straight's 17 mm, and what the second wall's stock adds: a segment of the cutter's disc, a_e high.
      const double segment = 9 * std::acos(1 - left / 3) - (3 - left) * std::sqrt(6 * left - left * left);
      if (left < 0.8) {  // later the two blanks overlap
        EXPECT_NEAR(c.radial_depth_mm, left + segment / 17, 0.03);
      }
    }
  }
}

// Where the same bit has left the corner round, more stands in it: all from the wall to straight ahead, r (1 + sin
// phi).
TEST(Engagement, a_corner_that_the_same_bit_left_round_is_met_wider_still) {
  for (const double left : {0.25, 0.5, 1.2}) {
    const double wanted = 3 + std::sqrt(6 * left - left * left);
    for (const WorkPoint2 p : places)
      EXPECT_NEAR(intoCorner(p, left, false, 0.25).max_radial_depth_mm, wanted, 0.25) << left << " left at " << p.x;
  }
}

TEST(Engagement, what_a_corner_is_said_to_take_comes_nearer_with_the_raster) {
  for (const double cell : {0.5, 0.25, 0.125}) {
    for (const WorkPoint2 p : places) {
      EXPECT_NEAR(intoCorner(p, 0.5, true, cell).max_radial_depth_mm, 3.816624790355, 1.5 * cell);
      EXPECT_NEAR(intoCorner(p, 0.25, false, cell).max_radial_depth_mm, 3 + std::sqrt(6 * 0.25 - 0.0625), 1.5 * cell);
    }
  }
}

// Equivalent straight width on a curved wall, r 3, a_e 0.25: r (1 - cos phi).
TEST(Engagement, an_inside_curve_is_met_wider_and_an_outside_curve_narrower) {
  const double left = 0.25, r = 3, depth = 6;
  const auto along = [&](WorkPoint2 c, double wall, bool inside, double cell) {
    const double rough = inside ? wall - r - left : wall + r + left, path = inside ? wall - r : wall + r;
    Moves m(1);
    m.rapid({c.x + rough, c.y, 5}).feed({c.x + rough, c.y, -depth});
    m.arc(MotionKind::arc_ccw, {c.x + rough, c.y, -depth}, c);
    m.feed({c.x + path, c.y, -depth});
    m.arc(MotionKind::arc_ccw, {c.x + path, c.y, -depth}, c);
    return last(flatTool(1, 6), m, cell).move;
  };
  for (const auto& [wall, inside, wanted] : {std::tuple{3.5, true, 1.6875},
                                             {4.0, true, 0.96875},
                                             {10.0, true, 0.3526785714286},
                                             {4.0, false, 0.1473214285714}}) {
    for (const WorkPoint2 p : places) {
      SCOPED_TRACE(::testing::Message() << (inside ? "inside " : "outside ") << wall << " at " << p.x);
      const MoveCut c = along(p + Vec2{20, 20}, wall, inside, 0.25);
      EXPECT_NEAR(c.radial_depth_mm, wanted, 0.1 + 0.15 * wanted);
      EXPECT_NEAR(c.max_radial_depth_mm, wanted, 0.25 + 0.25 * wanted);
    }
  }
}

TEST(Engagement, a_ball_in_its_groove_meets_its_section) {
  // r 3, 2 deep: section 8.250207631321, seen as a width over its depth.
  for (const WorkPoint2 p : places) {
    const Cut c =
        last(ballTool(1, 6), Moves(1).rapid({p.x, p.y, 5}).feed({p.x, p.y, -2}).feed({p.x + 50, p.y + 3, -2}));
    EXPECT_NEAR(c.move.radial_depth_mm, 8.250207631321 / 2, 0.06);
    EXPECT_NEAR(c.move.max_radial_depth_mm, 8.250207631321 / 2, 0.25);
    EXPECT_NEAR(c.move.section_height_mm, 2, 0.01);
  }
}

TEST(Engagement, a_vee_meets_its_triangle) {
  // 60 degrees, 3 deep: section 3.464101615138 x 3 / 2.
  for (const WorkPoint2 p : places) {
    const Cut c =
        last(veeTool(1, 12, 60), Moves(1).rapid({p.x, p.y, 5}).feed({p.x, p.y, -3}).feed({p.x + 50, p.y, -3}));
    EXPECT_NEAR(c.move.radial_depth_mm, 3.464101615138 / 2, 0.05);
    EXPECT_NEAR(c.move.max_radial_depth_mm, 3.464101615138 / 2, 0.2);
  }
}

TEST(Engagement, moves_shorter_than_the_raster_say_what_one_long_move_says) {
  for (const double step : {0.02, 0.1, 0.3, 0.7, 1.5}) {
    Moves m(1);
    m.rapid({20, 20, 5})
        .feed({20, 20, -6})
        .feed({60, 20, -6})
        .rapid({60, 20, 5})
        .rapid({20, 21.2, 5})
        .feed({20, 21.2, -6});
    const std::uint32_t first = m.count();
    for (double x = 20 + step; x < 50; x += step) m.feed({x, 21.2, -6});
    Job job = stockOf({120, 80, 19.05}, {flatTool(1, 6)});
    const auto r = runOf(job, {m.program()});
    double sum = 0;
    const std::uint32_t end = m.count();
    for (std::uint32_t i = first + 3; i + 3 < end; ++i) {
      EXPECT_NEAR(r.programs[0].cuts[i].max_radial_depth_mm, 1.2, 0.35) << step;
      sum += double(r.programs[0].cuts[i].radial_depth_mm);
    }
    EXPECT_NEAR(sum / (end - first - 6), 1.2, 0.05) << step;
  }
}

TEST(Engagement, air_and_a_plunge_have_no_width_and_a_rapid_through_wood_has) {
  const WorkPoint2 p{20, 20};
  EXPECT_EQ(last(flatTool(1, 6), Moves(1).rapid({p.x, p.y, 5}).feed({60, 20, 5})).move.max_radial_depth_mm, 0);
  EXPECT_EQ(last(flatTool(1, 6), Moves(1).rapid({p.x, p.y, 5}).feed({20, 20, -5})).move.max_radial_depth_mm, 0);
  Moves m(1);
  m.slot({p, p + Vec2{40, 0}}, 3);
  m.rapid({20, 20, -3}).rapid({20, 60, -3});
  const auto r = runOf(stockOf({120, 80, 19.05}, {flatTool(1, 6)}), {m.program()});
  ASSERT_FALSE(r.programs[0].cuts.empty());
  EXPECT_NEAR(r.programs[0].cuts.back().max_radial_depth_mm, 6, 0.1);
}

TEST(Engagement, a_second_pass_in_the_same_place_meets_nothing) {
  for (const WorkPoint2 p : places) {
    Moves m(1);
    m.rapid({p.x, p.y, 5}).feed({p.x, p.y, -3}).feed({p.x + 50, p.y, -3}).feed({p.x, p.y, -3});
    const Cut c = last(flatTool(1, 6), m);
    EXPECT_LT(c.move.max_radial_depth_mm, 0.02);
    EXPECT_EQ(c.load.power_w, 0);
  }
}

TEST(Engagement, each_pass_of_a_slot_is_as_deep_as_it_goes_below_the_last) {
  for (const WorkPoint2 p : places) {
    for (const double turn : {0.0, 90.0, 12.0, 45.0}) {
      const WorkPoint2 e = p + Vec2{std::cos(turn * pi / 180), std::sin(turn * pi / 180)} * 40;
      Moves m(1);
      std::vector<std::uint32_t> passes;
      for (const double z : {-2.0, -4.0, -6.0, -8.0}) {
        m.rapid({p.x, p.y, 5}).feed({p.x, p.y, z});
        passes.push_back(m.count());
        m.feed({e.x, e.y, z}).rapid({e.x, e.y, 5});
      }
      const auto r = runOf(stockOf({120, 80, 12}, {flatTool(1, 2.7)}), {m.program()});
      for (const std::uint32_t pass : passes) {
        SCOPED_TRACE(::testing::Message() << "move " << pass << ", turned by " << turn << ", at " << p.x);
        const MoveCut& c = r.programs.at(0).cuts.at(pass);
        EXPECT_NEAR(c.section_height_mm, 2, 1e-3);
        EXPECT_NEAR(c.radial_depth_mm, 2.7, 0.05);
        EXPECT_NEAR(c.section_mm2, 5.4, 0.2);
      }
    }
  }
}

// A corner rounded in steps of hundredths, three passes deep: films between cells may stand, the wall of 6 mm is not
// met.
TEST(Engagement, tiny_moves_at_a_corner_do_not_meet_the_wall_of_the_passes_before) {
  for (const WorkPoint2 p : places) {
    Moves m(1);
    m.rapid({p.x, p.y, 5});
    std::vector<std::uint32_t> tiny;
    for (const double z : {-2.0, -4.0, -6.0}) {
      m.feed({p.x, p.y, z}).feed({p.x + 20, p.y, z});
      for (const Vec2 step : {Vec2{0.014, 0.004}, {0.024, 0.014}, {0.03, 0.03}, {0.034, 0.05}}) {
        if (z == -6) tiny.push_back(m.count());
        m.feed({p.x + 20 + step.x, p.y + step.y, z});
      }
      m.feed({p.x + 20.034, p.y + 20, z}).rapid({p.x + 20.034, p.y + 20, 5}).rapid({p.x, p.y, 5});
    }
    const auto r = runOf(stockOf({120, 80, 12}, {flatTool(1, 2.7)}), {m.program()});
    for (const std::uint32_t move : tiny) {
      const MoveCut& c = r.programs.at(0).cuts.at(move);
      EXPECT_LT(c.section_height_mm, 4) << "move " << move << " at " << p.x;
    }
  }
}

TEST(Engagement, each_turn_of_a_ring_is_as_deep_as_it_goes_below_the_last) {
  for (const WorkPoint2 p : places) {
    const WorkPoint2 c = p + Vec2{20, 20};
    Moves m(1);
    std::vector<std::uint32_t> turns;
    for (const double z : {-2.0, -4.0, -6.0}) {
      m.rapid({c.x + 4, c.y, 5}).feed({c.x + 4, c.y, z});
      turns.push_back(m.count());
      m.arc(MotionKind::arc_ccw, {c.x + 4, c.y, z}, c).rapid({c.x + 4, c.y, 5});
    }
    const auto r = runOf(stockOf({120, 80, 12}, {flatTool(1, 2.7)}), {m.program()});
    for (const std::uint32_t turn : turns) {
      EXPECT_NEAR(r.programs.at(0).cuts.at(turn).section_height_mm, 2, 1e-3) << "move " << turn << " at " << p.x;
      // A ring, less the plunge's own disc: (2 pi 4 x 2.7 - pi 1.35^2) / (2 pi 4).
      EXPECT_NEAR(r.programs[0].cuts[turn].radial_depth_mm, 2.472, 0.1) << "move " << turn << " at " << p.x;
    }
  }
}

// The second pass goes down 2 mm and 0.2 mm to the side: over those it meets the whole wall.
TEST(Engagement, a_deeper_pass_beside_the_last_one_meets_the_whole_wall) {
  for (const WorkPoint2 p : places) {
    for (const double turn : {0.0, 90.0, 30.0}) {
      const Vec2 u{std::cos(turn * pi / 180), std::sin(turn * pi / 180)}, n{-u.y, u.x};
      const WorkPoint2 a = p + Vec2{20, 10}, b = a + u * 30, c = a + n * 0.2, d = c + u * 25;
      Moves m(1);
      m.rapid({a.x, a.y, 5}).feed({a.x, a.y, -4}).feed({b.x, b.y, -4}).rapid({b.x, b.y, 5});
      m.rapid({c.x, c.y, 5}).feed({c.x, c.y, -6}).feed({d.x, d.y, -6});
      EXPECT_NEAR(last(flatTool(1, 6), m).move.section_height_mm, 6, 1e-3) << "turned by " << turn << ", at " << p.x;
    }
  }
}

// The walls that the passes before left are grazed on the raster; at any angle of the corner they are not cut.
TEST(Engagement, a_pass_in_an_old_slot_is_no_deeper_than_it_goes_down) {
  for (const WorkPoint2 p : places) {
    for (const double turn : {20.0, 77.0, 130.0, 163.0}) {
      const Vec2 u{std::cos(turn * pi / 180), std::sin(turn * pi / 180)};
      const WorkPoint2 a = p + Vec2{50, 10}, b = p + Vec2{51.5, 30}, c = b + u * 20;
      Moves m(1);
      for (const double z : {-2.5, -5.0, -7.5, -10.0}) {
        m.rapid({a.x, a.y, 5}).feed({a.x, a.y, z}).feed({b.x, b.y, z}).feed({c.x, c.y, z}).rapid({c.x, c.y, 5});
      }
      m.rapid({a.x, a.y, 5}).feed({a.x, a.y, -12.5}).feed({b.x, b.y, -12.5}).feed({c.x, c.y, -12.5});
      EXPECT_LT(last(flatTool(1, 3.175), m).move.section_height_mm, 3) << "turned by " << turn << ", at " << p.x;
    }
  }
}

TEST(Engagement, half_of_a_move_in_air_is_not_averaged_in) {
  Moves m(1);
  m.slot({{20, 20}, {40, 20}}, 6);
  m.rapid({20, 20, 5}).feed({20, 20, -6}).feed({60, 20, -6});
  const Cut c = last(flatTool(1, 6), m);
  EXPECT_NEAR(c.move.engaged_mm, 20, 1.5);
  EXPECT_NEAR(c.move.radial_depth_mm, 6, 0.4);
}

TEST(Engagement, the_number_of_threads_changes_nothing) {
  Moves m = roughed({10.03, 10.11}, {90.2, 60.4}, 0.5, 3, 6);
  m.arc(MotionKind::arc_ccw, {50, 40, -6}, {48, 38});
  const Program program = m.program();
  Job job = stockOf({120, 80, 19.05}, {flatTool(1, 6)});
  addProgram(job, 0, 1);
  const auto with = [&](int threads) {
    RunOptions options;
    options.threads = threads;
    return run(job, std::vector{program}, options);
  };
  const auto one = with(1);
  for (const int threads : {2, 8}) {
    const auto many = with(threads);
    for (std::size_t i = 0; i < program.motions.size(); ++i) {
      const MoveCut &a = one.programs[0].cuts[i], &b = many.programs[0].cuts[i];
      EXPECT_EQ(a.radial_depth_mm, b.radial_depth_mm);
      EXPECT_EQ(a.max_radial_depth_mm, b.max_radial_depth_mm);
      EXPECT_EQ(a.section_mm2, b.section_mm2);
      EXPECT_EQ(a.engaged_mm, b.engaged_mm);
      EXPECT_EQ(one.programs[0].loads[i].power_w, many.programs[0].loads[i].power_w);
    }
  }
}

MoveCut lastCut(Tool tool, const Moves& moves) {
  const auto r = runOf(stockOf({120, 80, 19}, {std::move(tool)}), {moves.program()});
  return r.programs.at(0).cuts.back();
}

// 40 mm wide: its middle half reaches 10 mm from the axis.
TEST(Plunge, a_wide_mill_at_the_edge_has_stock_under_its_middle_or_only_under_its_rim) {
  Tool mill = flatTool(1, 40);
  mill.center_cutting = false;
  const auto down = [&](double y) { return lastCut(mill, Moves(1).rapid({60, y, 5}).feed({60, y, -1})); };
  EXPECT_NEAR(down(40).centre_depth_mm, 1, 1e-5);
  EXPECT_NEAR(down(-9.5).centre_depth_mm, 1, 1e-5);
  EXPECT_EQ(down(-10.5).centre_depth_mm, 0);
  EXPECT_GT(down(-10.5).removed_mm3, 0);
  EXPECT_EQ(down(-19.5).centre_depth_mm, 0);
}

TEST(Plunge, a_hole_for_its_middle_is_enough) {
  Tool mill = flatTool(1, 12);
  mill.center_cutting = false;
  Moves m(1);
  m.rapid({60, 40, 5}).feed({60, 40, -5}).rapid({60, 40, 5});
  Program program = m.rapid({60, 40, 5}).feed({60, 40, -4}).program();
  for (std::size_t i = 0; i < 3; ++i) program.motions[i].tool = 2;
  const auto r = runOf(stockOf({120, 80, 19}, {mill, flatTool(2, 7)}), {program});
  EXPECT_EQ(r.programs.at(0).cuts.back().centre_depth_mm, 0);
  EXPECT_GT(r.programs[0].cuts.back().removed_mm3, 0);
}

TEST(Plunge, how_far_above_the_material_a_move_straight_down_ends) {
  for (const WorkPoint2 p : places) {
    const auto down = [&](const Tool& tool, double z) {
      return lastCut(tool, Moves(1).rapid({p.x, p.y, 5}).rapid({p.x, p.y, z})).ends_above_mm;
    };
    for (const Tool& tool : {flatTool(1, 6), veeTool(1, 6, 60), ballTool(1, 3), flatTool(1, 0.2)}) {
      EXPECT_NEAR(down(tool, 0), 0, 1e-5);
      EXPECT_NEAR(down(tool, 0.3), 0.3, 1e-5);
      EXPECT_NEAR(down(tool, -1), -1, 1e-5);
      EXPECT_FALSE(std::isfinite(down(tool, 0.51)));
    }
    // Back down to the floor of its own slot, between its walls.
    Moves m(1);
    m.rapid({p.x, p.y, 5}).feed({p.x, p.y, -3}).feed({p.x + 40, p.y + 7, -3}).rapid({p.x + 40, p.y + 7, 5});
    EXPECT_NEAR(lastCut(flatTool(1, 6), m.rapid({p.x + 40, p.y + 7, -2.8})).ends_above_mm, 0.2, 1e-5);
  }
  EXPECT_FALSE(std::isfinite(lastCut(flatTool(1, 6), Moves(1).rapid({-5, 20, 5}).rapid({-5, 20, 0})).ends_above_mm));
  EXPECT_FALSE(std::isfinite(lastCut(flatTool(1, 6), Moves(1).rapid({20, 20, 5}).rapid({60, 20, 0})).ends_above_mm));
}

TEST(Run, a_program_that_never_says_where_it_starts_is_not_checked) {
  Program program = Moves(1).rapid({20, 20, 20}).feed({20, 20, -3}).feed({60, 20, -3}).program();
  const auto notChecked = [&] { return runOf(stockOf({120, 80, 19}, {flatTool(1, 6)}), {program}).not_checked; };
  EXPECT_TRUE(notChecked().empty());
  for (Motion& m : program.motions) m.flags = motion_start_unknown;
  ASSERT_EQ(notChecked().size(), 1u);
  EXPECT_NE(notChecked()[0].find("none of them were checked"), std::string::npos);
}

TEST(MoveLoad, a_slot_in_hardwood_takes_the_power_of_its_section) {
  // 6 x 6 mm at 3000 mm/min, 18000 rpm, two flutes: f_z 0.08333, mean chip 2 f_z / pi = 0.05305, u = 25 + 2 / 0.05305 =
  // 62.70 J/cm3, Q 108000 mm3/min, 112.9 W; on a tooth 6 (25 f_z + 2) = 24.5 N, one tooth in the cut.
  Moves m(1);
  m.rapid({20, 20, 5}).feed({20, 20, -6}).feed({100, 20, -6});
  Program program = m.program();
  for (Motion& move : program.motions) move.feed_mm_min = move.kind == MotionKind::feed ? 3000 : 0;
  Job job = stockOf({120, 80, 19.05}, {flatTool(1, 6)});
  job.stock.material = Material::hardwood;
  job.stock.material_given = true;
  const MoveLoad l = runOf(job, {program}).programs.at(0).loads.at(program.motions.size() - 1);
  EXPECT_NEAR(l.top_speed_mm_min, 3000, 1e-3);
  EXPECT_NEAR(l.max_chip_thickness_mm, 3.0 / 36, 1e-6);
  EXPECT_NEAR(l.removal_mm3_min, 108000, 0.02 * 108000);
  EXPECT_NEAR(l.power_w, 112.86, 0.02 * 112.86);
  EXPECT_NEAR(l.force_n, 24.5, 0.02 * 24.5);
  // Loaded 3 mm above the tip: 37 mm of flutes at 0.8 x 6, 20 mm of shank: F / (3 E) [37^3 / I1 + (57^3 - 37^3) / I2].
  const double i1 = pi * std::pow(4.8, 4) / 64, i2 = pi * std::pow(6.0, 4) / 64;
  const double bend = 24.5 / (3 * 600e3) * (std::pow(37, 3) / i1 + (std::pow(57, 3) - std::pow(37, 3)) / i2);
  EXPECT_NEAR(l.deflection_mm, bend, 0.02 * bend);
}

TEST(MoveLoad, a_ramp_takes_its_slot_and_the_bits_own_area_going_down) {
  // 1 in 5, from the air into 6 mm: at its end 6 x 6 in front and 9 pi / 5 from below.
  Moves m(1);
  m.rapid({20, 20, 4}).feed({70, 20, -6});
  Job job = stockOf({120, 80, 19.05}, {flatTool(1, 6)});
  const auto p = runOf(job, {m.program()}).programs[0];
  ASSERT_FALSE(p.cuts.empty());
  ASSERT_FALSE(p.loads.empty());
  EXPECT_NEAR(p.cuts.back().section_mm2, 36 + 9 * pi / 5, 0.02 * 42);
  EXPECT_NEAR(p.cuts.back().max_radial_depth_mm, 6, 0.02);
  EXPECT_NEAR(p.cuts.back().engaged_mm, 30, 2);
  EXPECT_NEAR(p.loads.back().removal_mm3_min, (36 + 9 * pi / 5) * 1500 / std::hypot(1, 0.2), 0.02 * 62000);
}

TEST(MoveLoad, a_short_raster_line_does_not_reach_its_feed) {
  // 2 mm, 3000 mm/min, 500 mm/s2, rest to rest: 31.62277660168 mm/s at most.
  Moves m(1);
  m.rapid({20, 20, 5}).feed({20, 20, -1}).feed({22, 20, -1});
  Program program = m.program();
  for (Motion& move : program.motions) move.feed_mm_min = move.kind == MotionKind::feed ? 3000 : 0;
  Job job = stockOf({120, 80, 19.05}, {flatTool(1, 6)});
  job.machine.cornering = Cornering::exact_stop;
  const MoveLoad l = runOf(job, {program}).programs.at(0).loads.at(program.motions.size() - 1);
  EXPECT_NEAR(l.top_speed_mm_min, 60 * 31.62277660168, 0.01);
  EXPECT_NEAR(l.max_chip_thickness_mm, 0.6324555320337 * 3.0 / 36, 1e-6);
  // 0.1264911064067 s for the 2 mm.
  EXPECT_NEAR(l.speed_mm_min, 120 / 0.1264911064067, 0.01);
}

TEST(MoveLoad, a_plunge_takes_its_cross_section) {
  Moves m(1);
  m.rapid({20, 20, 5}).feed({20, 20, 0}).feed({20, 20, -10});
  Program program = m.program();
  program.motions.back().feed_mm_min = 800;
  Job job = stockOf({120, 80, 19.05}, {flatTool(1, 6)});
  job.machine.acceleration_mm_s2 = {5000, 5000, 5000};
  const MoveLoad l = runOf(job, {program}).programs.at(0).loads.at(program.motions.size() - 1);
  EXPECT_NEAR(l.removal_mm3_min, 22619.46710585, 0.02 * 22619.46710585);
}

TEST(MoveLoad, nothing_is_said_of_a_spindle_that_stands_still) {
  Moves m(1);
  m.slot({{20, 20}, {60, 20}}, 3);
  Program program = m.program();
  for (Motion& move : program.motions) move.spindle = Spindle::off;
  const auto r = runOf(stockOf({120, 80, 19.05}, {flatTool(1, 6)}), {program});
  for (const MoveLoad& l : r.programs[0].loads) EXPECT_EQ(l.chip_load_mm, 0);
}

}  // namespace
}  // namespace provecut::testing
