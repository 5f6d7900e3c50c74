// Round stock: a disc from the first dexel on. Against closed forms, and against a plain look at each place.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <random>

#include "sim/path/setup_frame.h"
#include "sim/path/stock_plan.h"
#include "sim/stock/close_up.h"
#include "sim/stock/cut.h"
#include "tests/sim/scene.h"

namespace provecut::testing {
namespace round_stock_test {

constexpr double pi = std::numbers::pi;
constexpr double diameter = 100, radius = 50, thickness = 12;
constexpr double through = -thickness - 0.2;
constexpr WorkPoint2 centre{50, 50};

Job disc(std::vector<Tool> tools = {flatTool(1, 6)}, double cell_mm = 0.25) {
  Job job = stockOf({diameter, diameter, thickness}, std::move(tools), cell_mm);
  job.stock.shape = StockShape::round;
  return job;
}

cutting::DexelField uncut(double cell_mm = 0.25) {
  return cutting::uncutStock(disc().stock, {cell_mm, cell_mm});
}

WorkPoint2 around(double from_centre, double rad) {
  return centre + Vec2{std::cos(rad), std::sin(rad)} * from_centre;
}

HoldDown screwAt(SetupPoint2 at) {
  HoldDown h;
  h.name = "screw";
  h.kind = HoldDownKind::screw;
  h.at_mm = at;
  h.diameter_mm = 8;
  h.top_mm = 3;
  return h;
}

Run checked(Job job, const Moves& moves, std::vector<HoldDown> hold_downs = {}) {
  job.hold_downs = std::move(hold_downs);
  std::vector<int> all;
  for (int i = 0; i < std::ssize(job.hold_downs); ++i) all.push_back(i);
  addProgram(job, 0, 1, all);
  const Program program = moves.program();
  return run(job, std::vector<Program>{program});
}

// Counted by centres: by Gauss's circle problem off by far less than the cells at the rim, here by a tenth of them.
TEST(RoundStock, uncut_is_pi_r_squared_times_its_thickness_within_the_rasters_bound) {
  for (const double cell : {0.1, 0.25, 0.5, 1.0, 3.0}) {
    SCOPED_TRACE(cell);
    cutting::DexelField f = cutting::uncutStock(disc().stock, cutting::cellSize(disc(), cell));
    const double rim_mm2 = 2 * pi * radius * f.cell_x_mm;
    EXPECT_NEAR(cutting::volume_mm3(f), pi * radius * radius * thickness, 0.1 * rim_mm2 * thickness);
    // Its surface has the circle's own.
    cutting::shareRim(disc().stock, f);
    EXPECT_NEAR(cutting::volume_mm3(f), pi * radius * radius * thickness, 1e-6 * pi * radius * radius * thickness);
  }
}

// The circle's area within a box, against a count of 2000 × 2000 points.
TEST(RoundStock, the_share_of_a_cell_in_a_disc_is_its_area) {
  std::mt19937 random(3);
  std::uniform_real_distribution<double> at(-7, 7);
  for (int i = 0; i < 40; ++i) {
    const Vec2 a{at(random), at(random)}, b{at(random), at(random)};
    const Vec2 low{std::min(a.x, b.x), std::min(a.y, b.y)}, high{std::max(a.x, b.x), std::max(a.y, b.y)};
    constexpr int n = 2000;
    int in = 0;
    for (int y = 0; y < n; ++y) {
      for (int x = 0; x < n; ++x) {
        const Vec2 p{low.x + (high.x - low.x) * (x + 0.5) / n, low.y + (high.y - low.y) * (y + 0.5) / n};
        in += dot(p, p) <= 25;
      }
    }
    const double box = (high.x - low.x) * (high.y - low.y);
    EXPECT_NEAR(discArea_mm2(5, low, high), box * in / (n * n), 1e-3 * box + 1e-9);
  }
  EXPECT_NEAR(discArea_mm2(5, {-9, -9}, {9, 9}), pi * 25, 1e-12);
  EXPECT_NEAR(discArea_mm2(5, {0, 0}, {9, 9}), pi * 25 / 4, 1e-12);
}

TEST(RoundStock, a_dexel_stands_where_its_centre_is_in_the_disc) {
  const cutting::DexelField f = uncut(0.4);
  for (int y = 0; y < f.ny; ++y) {
    for (int x = 0; x < f.nx; ++x) {
      const bool in = std::hypot(f.centreX(x) - radius, f.centreY(y) - radius) <= radius;
      ASSERT_EQ(f.thickness(f.index(x, y)), in ? static_cast<float>(thickness) : 0.0F);
    }
  }
}

TEST(RoundStock, flipped_and_turned_is_the_same_disc) {
  const provecut::Setup as_stock;
  const cutting::DexelField f = uncut();
  for (const Flip flip : {Flip::none, Flip::front_back, Flip::left_right}) {
    for (const int rotate : {0, 90, 180, 270}) {
      provecut::Setup setup;
      setup.flip = flip;
      setup.rotate_deg = rotate;
      const cutting::DexelField moved = cutting::movedTo(f, as_stock, setup);
      for (std::size_t c = 0; c < f.top.size(); ++c) {
        ASSERT_EQ(moved.top[c] - moved.floor[c], f.top[c] - f.floor[c]);
        ASSERT_NEAR(moved.top_mean[c] - moved.floor_mean[c], f.top_mean[c] - f.floor_mean[c], 2e-6);
      }
    }
  }
}

Moves faced(double depth) {
  Moves m(1, {-10, -10, 20});
  for (double y = -2; y <= diameter + 2; y += 4) m.slot({{-10, y}, {diameter + 10, y}}, depth);
  return m;
}

TEST(RoundStock, a_facing_pass_takes_the_disc_by_its_depth) {
  const auto r = checked(disc(), faced(1.5));
  EXPECT_NEAR(r.stock.removed_mm3, pi * radius * radius * 1.5, 1e-3 * pi * radius * radius * 1.5);
  EXPECT_NEAR(r.stock.remaining_mm3, pi * radius * radius * (thickness - 1.5), 1e-3 * r.stock.remaining_mm3);
}

TEST(RoundStock, cut_away_wholly_leaves_nothing) {
  const auto r = checked(disc(), faced(thickness + 0.2));
  EXPECT_EQ(r.stock.remaining_mm3, 0);
  EXPECT_TRUE(r.programs[0].pieces.empty());
}

// A straight plunge beside the rim, `gap` from it at the nearest; negative: so deep in.
MoveCut plunge(double gap, double rad, MotionKind kind = MotionKind::rapid) {
  const WorkPoint2 at = around(radius + 3 + gap, rad);
  Moves m(1, atHeight(at, 20));
  kind == MotionKind::rapid ? m.rapid(atHeight(at, -8)) : m.feed(atHeight(at, -8));
  return checked(disc(), m).programs[0].cuts[0];
}

TEST(RoundStock, a_rapid_down_a_micrometre_beside_the_rim_meets_nothing) {
  for (int k = 0; k < 24; ++k) {
    const MoveCut cut = plunge(0.001, 0.1 + k * pi / 12);
    EXPECT_EQ(cut.bite_mm, 0) << k;
  }
}

// As far in as a diagonal of a cell and the guard of the rim it is always seen, whatever its place in the raster.
TEST(RoundStock, a_rapid_down_into_the_rim_is_met_from_half_a_millimetre_on) {
  for (int k = 0; k < 24; ++k) EXPECT_NEAR(plunge(-0.5, 0.1 + k * pi / 12).bite_mm, 8, 1e-5) << k;
}

TEST(RoundStock, rapids_through_the_corners_of_the_square_meet_nothing) {
  for (const WorkPoint2 corner : {WorkPoint2{0, 0}, {100, 0}, {0, 100}, {100, 100}}) {
    const Vec2 in = (centre - corner) * (1 / length(centre - corner));
    const Vec2 across{-in.y, in.x};
    // Between the corner and the rim are 20.71 mm.
    const WorkPoint2 beside = corner + in * 17.7;
    Moves m(1, atHeight(beside + across * 40, 20));
    m.rapid(atHeight(beside + across * 40, -10)).rapid(atHeight(beside - across * 40, -10));
    const auto r = checked(disc(), m);
    for (const MoveCut& cut : r.programs[0].cuts) EXPECT_EQ(cut.bite_mm, 0);
    // A millimetre on it is met.
    Moves deeper(1, atHeight(beside + in + across * 40, 20));
    deeper.rapid(atHeight(beside + in + across * 40, -10)).rapid(atHeight(beside + in - across * 40, -10));
    EXPECT_NEAR(checked(disc(), deeper).programs[0].cuts[1].bite_mm, 10, 1e-5);
  }
}

double fromSegment(WorkPoint2 p, WorkPoint2 a, WorkPoint2 b) {
  const Vec2 along = b - a;
  const double square = dot(along, along);
  const double k = square > 0 ? std::clamp(dot(p - a, along) / square, 0.0, 1.0) : 0;
  return length(p - (a + along * k));
}

// Level moves of a flat cutter all over the square. Plainly: a centre in the disc stands as high as the lowest of them
// that came nearer than the cutter's radius.
TEST(RoundStock, random_moves_leave_each_dexel_as_a_plain_look_at_it_says) {
  struct Level {
    WorkPoint2 a, b;
    double depth;
  };
  for (unsigned seed = 1; seed <= 12; ++seed) {
    SCOPED_TRACE(seed);
    std::mt19937 random(seed);
    const auto from = [&](double low, double high) {
      return std::uniform_real_distribution<double>(low, high)(random);
    };
    std::vector<Level> levels;
    Moves m(1);
    for (int i = 0; i < 12; ++i) {
      const Level l{{from(-10, 110), from(-10, 110)}, {from(-10, 110), from(-10, 110)}, from(0.5, 13)};
      levels.push_back(l);
      m.slot({l.a, l.b}, l.depth);
    }
    const Job job = disc();
    cutting::DexelField f = uncut();
    const auto cut = cutting::cutProgram(f, makeCutters(job), job, job.setups[0], m.program().motions);
    double taken = 0, stands = 0;
    int unsure = 0;
    for (int y = 0; y < f.ny; ++y) {
      for (int x = 0; x < f.nx; ++x) {
        const WorkPoint2 p{f.centreX(x), f.centreY(y)};
        double top = length(p - centre) <= radius ? thickness : 0;
        bool near = false;
        for (const Level& l : levels) {
          const double d = fromSegment(p, l.a, l.b);
          near = near || std::abs(d - 3) < 1e-3;
          if (d < 3) top = std::min(top, std::max(0.0, thickness - l.depth));
        }
        stands += top;
        unsure += near;
        if (near) continue;
        ASSERT_NEAR(f.top[f.index(x, y)], top, 1e-5) << p.x << " " << p.y;
      }
    }
    for (const MoveCut& c : cut.cuts) taken += c.removed_mm3;
    EXPECT_LT(unsure, 400);
    // Counted at the centres; walls fall to both sides of them.
    EXPECT_NEAR(cutting::volume_mm3(f), stands * f.cellArea_mm2(), 2e-3 * stands * f.cellArea_mm2());
    EXPECT_NEAR(taken + cutting::volume_mm3(f), pi * radius * radius * thickness, 1e-4 * 94'248);
  }
}

// What a chord at `away` from the middle leaves beyond it: r² (a - sin a) / 2 with a = 2 acos(away / r).
double segment_mm2(double away) {
  const double angle = 2 * std::acos(away / radius);
  return radius * radius * (angle - std::sin(angle)) / 2;
}

TEST(RoundStock, a_part_cut_off_by_a_chord_comes_loose_as_large_as_its_segment) {
  // The kerf takes x 70 to 76: the right piece begins 26 from the middle.
  const Moves chord = Moves(1).slot({{73, -10}, {73, 110}}, -through);
  const auto r = checked(disc(), chord, {screwAt({30, 50})});
  ASSERT_EQ(r.programs[0].pieces.size(), 1U);
  const Piece& p = r.programs[0].pieces[0];
  EXPECT_TRUE(p.free);
  EXPECT_EQ(p.move, 2U) << "above, plunge, along";
  EXPECT_NEAR(p.plan_area_mm2, segment_mm2(26), 0.005 * segment_mm2(26));
  EXPECT_NEAR(p.volume_mm3, segment_mm2(26) * thickness, 0.005 * segment_mm2(26) * thickness);
  // Held there too, nothing is loose; and a screw in the corner of the square holds nothing.
  const auto loose = [&](SetupPoint2 at) {
    const auto both = checked(disc(), chord, {screwAt({30, 50}), screwAt(at)});
    return std::any_of(both.programs[0].pieces.begin(), both.programs[0].pieces.end(),
                       [](const Piece& q) { return q.free; });
  };
  EXPECT_FALSE(loose({88, 50}));
  EXPECT_TRUE(loose({94, 94}));
}

TEST(RoundStock, turning_its_rim_off_leaves_no_corners_behind) {
  Moves m(1, {110, 50, 20});
  m.rapid({101, 50, 5}).feed({101, 50, through});
  m.arc(MotionKind::arc_ccw, {-1, 50, through}, centre).arc(MotionKind::arc_ccw, {101, 50, through}, centre);
  const auto r = checked(disc(), m, {screwAt({50, 50})});
  EXPECT_TRUE(r.programs[0].pieces.empty());
  const double ring = pi * (radius * radius - 48 * 48) * thickness;
  EXPECT_NEAR(r.stock.removed_mm3, ring, 0.01 * ring);
  // Of square stock the same program cuts four corners loose.
  Job square = disc();
  square.stock.shape = StockShape::rectangle;
  EXPECT_EQ(checked(square, m, {screwAt({50, 50})}).programs[0].pieces.size(), 4U);
}

TEST(RoundStock, a_part_on_tabs_well_inside_is_told_as_in_the_square) {
  const WorkPoint2 low{32, 36}, high{68, 64};
  Moves m(1);
  for (const double z : {-6.0, -10.0}) m.rectangle(low, high, z);
  m.rapid({low.x, low.y, 5}).feed({low.x, low.y, through}).feed({46, low.y, through}).feed({46, low.y, -10});
  m.feed({54, low.y, -10}).feed({54, low.y, through}).feed({high.x, low.y, through}).feed({high.x, high.y, through});
  m.feed({54, high.y, through}).feed({54, high.y, -10}).feed({46, high.y, -10}).feed({46, high.y, through});
  m.feed({low.x, high.y, through}).feed({low.x, low.y, through});
  Job square = disc();
  square.stock.shape = StockShape::rectangle;
  const auto of = [&](const Job& job) { return checked(job, m, {screwAt({20, 50})}).programs[0]; };
  const ProgramRun round = of(disc()), rectangle = of(square);
  ASSERT_EQ(round.pieces.size(), 1U);
  ASSERT_EQ(rectangle.pieces.size(), 1U);
  ASSERT_EQ(round.pieces[0].tabs.size(), 2U);
  ASSERT_EQ(rectangle.pieces[0].tabs.size(), 2U);
  for (std::size_t k = 0; k < 2; ++k) EXPECT_EQ(round.pieces[0].tabs[k].area_mm2, rectangle.pieces[0].tabs[k].area_mm2);
}

// A pocket to 1 mm that runs off the rim: its floor is as thin as that, and no thinner at the edge.
TEST(RoundStock, a_thin_floor_at_the_rim_is_as_thick_as_it_was_cut) {
  Job job = disc();
  job.limits.min_floor_mm = 1.5;
  const auto r = checked(job, Moves(1).slot({{50, 50}, {110, 50}}, thickness - 1), {screwAt({20, 50})});
  ASSERT_EQ(r.programs[0].thin_floors.size(), 1U);
  EXPECT_NEAR(r.programs[0].thin_floors[0].thickness_mm, 1, 1e-5);
  EXPECT_TRUE(r.programs[0].pieces.empty());
}

TEST(RoundStock, what_is_cut_from_both_sides_meets_in_the_disc) {
  Job job = disc();
  provecut::Setup back = job.setups[0];
  back.flip = Flip::left_right;
  back.zero_mm = {0, 0, thickness};
  job.setups.push_back(back);
  addProgram(job, 0, 1);
  addProgram(job, 1, 1);
  const Program front = Moves(1).slot({{30, 50}, {30, 50}}, 7).program(),
                behind = Moves(1).slot({{70, 50}, {70, 50}}, 7).program();
  const std::vector<Program> programs{front, behind};
  const auto r = run(job, programs);
  job.stock.shape = StockShape::rectangle;
  const auto square = run(job, programs);
  for (int i = 0; i < 2; ++i) EXPECT_EQ(r.programs[i].removed_mm3, square.programs[i].removed_mm3);
  // 7 mm from each side of 12: the second takes the 5 mm that are left.
  EXPECT_NEAR(r.programs[0].removed_mm3, pi * 9 * 7, 0.01 * pi * 9 * 7);
  EXPECT_NEAR(r.programs[1].removed_mm3, pi * 9 * 5, 0.01 * pi * 9 * 5);
}

TEST(RoundStock, a_screw_beside_the_disc_has_no_seat_in_it) {
  EXPECT_TRUE(checked(disc(), Moves(1), {screwAt({10, 10})}).screw_seats.empty());
  EXPECT_EQ(checked(disc(), Moves(1), {screwAt({20, 20})}).screw_seats.size(), 1U);
}

// What is cut again on finer cells at the rim begins from the disc as well.
TEST(RoundStock, a_close_up_at_the_rim_has_the_disc_in_it) {
  const Job job = disc();
  const Cutters cutters = makeCutters(job);
  for (const Flip flip : {Flip::none, Flip::left_right}) {
    for (const int rotate : {0, 90}) {
      provecut::Setup setup = job.setups[0];
      setup.flip = flip;
      setup.rotate_deg = rotate;
      const Program none;
      const std::vector<cutting::PastCut> past{cutting::pastCut(cutters, setup, none)};
      const cutting::PastCuts cuts{job, cutters, past};
      const SetupPoint2 low{10, 6};
      const cutting::DexelField f = cutting::closeUp(cuts, cutting::placeOf(cuts, low, {10, 15}), {0.1, 0.1});
      ASSERT_EQ(f.nx, 100);
      ASSERT_EQ(f.ny, 150);
      for (int y = 0; y < f.ny; ++y) {
        for (int x = 0; x < f.nx; ++x) {
          const double away = std::hypot(low.x + f.centreX(x) - radius, low.y + f.centreY(y) - radius);
          if (std::abs(away - radius) < 1e-9) continue;
          ASSERT_EQ(f.thickness(f.index(x, y)) > 0, away < radius);
        }
      }
    }
  }
}

HoldDown jaw(SetupPoint2 at, double angle_deg) {
  HoldDown h;
  h.name = "jaw";
  h.kind = HoldDownKind::side_clamp;
  h.at_mm = at;
  h.size_mm = {20, 10};
  h.angle_deg = angle_deg;
  h.top_mm = -4;
  return h;
}

bool gripped(const std::vector<HoldDown>& jaws) {
  const auto r = checked(disc(), Moves(1).slot({{40, 50}, {60, 50}}, 3), jaws);
  return !r.programs[0].holding.front().by.empty();
}

// Flat jaws that touch the rim: their face is 5 mm from their middle.
TEST(RoundStock, jaws_hold_it_from_two_opposite_sides_anywhere_on_its_rim) {
  for (const double deg : {0.0, 30.0, 45.0, 60.0, 90.0, 135.0}) {
    SCOPED_TRACE(deg);
    const double rad = deg * pi / 180;
    const auto at = [&](double away, double turn) {
      const WorkPoint2 p = around(away, rad + turn);
      return SetupPoint2{p.x, p.y};
    };
    EXPECT_TRUE(gripped({jaw(at(55, 0), deg + 90), jaw(at(55, pi), deg + 90)}));
    EXPECT_FALSE(gripped({jaw(at(55, 0), deg + 90)}));
    EXPECT_FALSE(gripped({jaw(at(57, 0), deg + 90), jaw(at(57, pi), deg + 90)})) << "2 mm from the rim";
  }
}

TEST(RoundStock, jaws_at_the_corners_of_the_square_hold_nothing) {
  EXPECT_FALSE(gripped({jaw({5, -5}, 0), jaw({95, 105}, 0)}));
}

}  // namespace round_stock_test
}  // namespace provecut::testing
