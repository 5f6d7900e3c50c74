// Tools that are wider below than above, and what they leave hanging, against closed forms of solid geometry; the
// numbers are worked out from the formulas beside them.
#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <utility>

#include "sim/stock/cut.h"
#include "sim/surface/stock_grid.h"
#include "tests/sim/scene.h"

namespace provecut::testing {
namespace undercut_test {

// A thousandth, at a raster of 0.25 mm; more where a cut is only a few cells wide.
constexpr double narrow_share = 0.003;

void near(double got, double wanted, double share = 0.001) {
  EXPECT_NEAR(got, wanted, share * wanted) << "off by " << 100 * (got / wanted - 1) << " %";
}

// Places that let walls fall anywhere in the raster.
const std::vector<WorkPoint2> places = {{20, 20}, {20.03, 20.11}, {20.19, 20.07}, {20.125, 20.125}};

Run cut(const Tool& tool, const Moves& moves, Vec3 stock = {120, 60, 19}, double cell = 0.25) {
  Run r = runOf(stockOf(stock, {tool}, cell), {moves.program()});
  EXPECT_NEAR(r.programs[0].removed_mm3, r.stock.removed_mm3, 1e-4 * r.stock.removed_mm3) << "moves and stock disagree";
  return r;
}

Moves keyholeSlot(WorkPoint2 at, double depth, Vec2 way) {
  Moves m(1);
  m.rapid({at.x, at.y, 5})
      .feed({at.x, at.y, -depth})
      .feed({at.x + way.x, at.y + way.y, -depth})
      .feed({at.x, at.y, -depth})
      .rapid({at.x, at.y, 5});
  return m;
}

TEST(Undercut, a_keyhole_slot_takes_hole_head_and_neck) {
  // Head radius R, h high, neck radius r, tip at depth d, slot length L: pi R² d + 2 R L h + A (d - h),
  // A = 2 r L + pi r² / 2 - r sqrt(R² - r²) - R² asin(r / R).
  for (const WorkPoint2 p : places) {
    near(cut(keyholeTool(1, 9.5, 3.5, 5, 20), keyholeSlot(p, 10, {15, 0})).stock.removed_mm3, 1611.967784996,
         narrow_share);
    near(cut(keyholeTool(1, 9.5, 3.5, 5, 20), keyholeSlot(p, 10, {9, 12})).stock.removed_mm3, 1611.967784996,
         narrow_share);
    near(cut(keyholeTool(1, 12.7, 4, 6.35, 20), keyholeSlot(p, 11, {0, 20})).stock.removed_mm3, 3139.277064463);
  }
}

// The flank is nowhere flatter than 0.2 mm out per mm up, and the tool leaves by 1.3 mm out on 6.9 mm up: 0.188. It
// comes free of its own hole. At 0.4 mm out per mm up it does not.
TEST(Undercut, a_form_bit_with_a_kink_leaves_its_own_hole_on_a_slant_that_its_flank_allows) {
  Tool bit = roundOverTool(1, 1, 1, 1, 20);
  bit.profile_mm = {{1, 0}, {2, 1}, {2.2, 2}, {3, 3}};
  bit.diameter_mm = 6;
  bit.flute_length_mm = 3;
  for (const WorkPoint2 p : places) {
    for (const double cell : {0.25, 0.4}) {
      Moves free(1), caught(1);
      free.rapid({p.x, p.y, 5}).feed({p.x, p.y, -1.9}).rapid({p.x + 1.3, p.y, 5});
      caught.rapid({p.x, p.y, 5}).feed({p.x, p.y, -1.9}).rapid({p.x + 6.9 * 0.4, p.y, 5});
      const MoveCut out = cut(bit, free, {60, 60, 19}, cell).programs[0].cuts[2];
      EXPECT_LE(out.bite_mm, 0.001F) << p.x << " " << cell;
      EXPECT_GT(cut(bit, caught, {60, 60, 19}, cell).programs[0].cuts[2].bite_mm, 0.1F) << p.x << " " << cell;
    }
  }
}

TEST(Undercut, a_dovetail_groove_takes_its_section_times_length) {
  // Bottom diameter D, height h, flank alpha: section (r_b + r_t) h with r_t = r_b - h tan(alpha); open at both edges,
  // 60 mm long: section times length; in from an edge and blind: and half the frustum at the end.
  const auto open = [&](double D, double alpha, double h, double y) {
    Moves m(1);
    m.rapid({-10, y, -h}).feed({70, y, -h}).rapid({70, y, 5});
    return cut(dovetailTool(1, D, alpha, h), m, {60, 60, 19}).stock.removed_mm3;
  };
  const auto blind = [&](double D, double alpha, double h, double L, double y) {
    Moves m(1);
    m.rapid({-10, y, -h}).feed({L, y, -h}).feed({-10, y, -h}).rapid({-10, y, 5});
    return cut(dovetailTool(1, D, alpha, h), m, {90, 60, 19}).stock.removed_mm3;
  };
  for (const double y : {30.0, 30.03, 30.125, 30.2}) {
    near(open(12.7, 8, 12, y), 7929.727188171);
    near(open(12.7, 14, 10, y), 6124.031982941);
    near(blind(12.7, 8, 12, 60, y), 8505.795464666);
    near(blind(9.525, 14, 6.35, 40, y), 2176.570381311);
  }
}

// The area under a half circle of radius `r` between y0 and y1, both within it.
double underCircle(double r, double y0, double y1) {
  const auto to = [&](double y) { return (y * std::sqrt(std::fmax(0, r * r - y * y)) + r * r * std::asin(y / r)) / 2; };
  return to(y1) - to(y0);
}

// Simpson's rule.
template <class F>
double integral(double low, double high, int intervals, const F& f) {
  double sum = f(low) + f(high);
  for (int i = 1; i < intervals; ++i) sum += (i % 2 == 1 ? 4 : 2) * f(low + (high - low) * i / intervals);
  return sum * (high - low) / intervals / 3;
}

TEST(Undercut, a_dovetail_lowered_into_the_wood_takes_its_hole_and_its_groove) {
  // 14 degrees, 12.7 mm at the bottom, 10 high and 10 deep, L 50. At the height z the bit has the radius r(z); it cuts
  // a stadium of that radius, and on its way down a circle of the full radius R. Of the circle the stadium spares the
  // ring on the near half and, on the far half, what is farther aside than r.
  const double R = 6.35, h = 10, slope = std::tan(14 * std::numbers::pi / 180), L = 50;
  const double wanted = integral(0, h, 200, [&](double z) {
    const double r = R - z * slope;
    const double stadium = std::numbers::pi * r * r + 2 * r * L;
    return stadium + std::numbers::pi / 2 * (R * R - r * r) + 2 * underCircle(R, r, R);
  });
  for (const WorkPoint2 p : places) {
    near(cut(dovetailTool(1, 12.7, 14, 10), keyholeSlot(p, 10, {L, 0})).stock.removed_mm3, wanted);
    near(cut(dovetailTool(1, 12.7, 14, 10), keyholeSlot(p, 10, {30, -0.0})).stock.removed_mm3,
         wanted - (2 * R - h * slope) * h * 20);
  }
}

// A ramp through the whole stock, in at one edge and out at the other: beside its axis by y the bit reaches down by
// g(y) = max over u of (k u - f(sqrt(u² + y²))) more than its tip, with f the height of its underside and k the slope.
// So the ramp takes X times the integral over y of (the tip's mean depth + g(y)) on a stock X long.
template <class Underside>
double rampVolume(double radius, const Underside& f, double k, double mean_depth, double way) {
  const auto g = [&](double y) {
    const double half = std::sqrt(std::fmax(0, radius * radius - y * y));
    double best = -1e9;
    for (int i = 0; i <= 4000; ++i) {
      const double u = half * (i / 2000.0 - 1);
      best = std::fmax(best, k * u - f(std::fmin(radius, std::hypot(u, y))));
    }
    return best;
  };
  return way * 2 * integral(0, radius, 400, [&](double y) { return mean_depth + g(y); });
}

TEST(Undercut, a_ramp_takes_what_the_bits_underside_sweeps_whichever_way_it_goes) {
  const double R = 6, tip = 2, lip = 1, a = R - tip;
  const auto roundOver = [&](double r) {
    return r <= tip ? 0 : lip + std::sqrt(std::fmax(0, a * a - (R - r) * (R - r)));
  };
  const auto hollow = [](double r) { return r <= 1 ? 0 : r <= 2 ? 3 * (r - 1) : 3 + 0.375 * (r - 2); };
  const auto step = [&](double r) { return r <= tip ? 0 : 4.0; };
  const auto ball = [&](double r) { return R - std::sqrt(std::fmax(0, R * R - r * r)); };
  const auto flat = [](double) { return 0.0; };
  Tool step_bit = roundOverTool(1, tip, lip, a, 40);
  step_bit.profile_mm = {{0, 0}, {tip, 0}, {tip, 4}, {R, 4}, {R, 40}};
  Tool hollow_bit = step_bit;
  hollow_bit.profile_mm = {{0, 0}, {1, 0}, {2, 3}, {R, 4.5}, {R, 40}};
  // Gently, where the tip's rim cuts deepest, and steeply, where the outer rim does: 7 deep at one edge of the stock,
  // and `way` mm on, at the other, deeper by k for each of them.
  for (const auto& [k, way] : {std::pair{0.15, 60.0}, {1.5, 8.0}}) {
    const double mean = 7 + k * way / 2, kernel_share = k > 1 ? 0.004 : 0.001;
    const auto ramp = [&, k = k, way = way](const Tool& tool, bool along_y, bool back) {
      const auto at = [&](double s) {
        const WorkPoint2 p = along_y ? WorkPoint2{30.03, s} : WorkPoint2{s, 30.03};
        return WorkPoint{p.x, p.y, -7 - k * (back ? way - s : s)};
      };
      Moves m(1, {at(-10).x, at(-10).y, 15});
      m.rapid(at(-10)).feed(at(way + 10)).rapid({at(way + 10).x, at(way + 10).y, 15});
      return cut(tool, m, along_y ? Vec3{60, way, 30} : Vec3{way, 60, 30}).stock.removed_mm3;
    };
    for (const bool along_y : {false, true}) {
      for (const bool back : {false, true}) {
        SCOPED_TRACE(::testing::Message() << (along_y ? "along Y" : "along X") << (back ? ", upwards" : ", downwards")
                                          << ", " << k << " for each mm");
        near(ramp(roundOverTool(1, tip, lip, a, 40), along_y, back), rampVolume(R, roundOver, k, mean, way));
        near(ramp(hollow_bit, along_y, back), rampVolume(R, hollow, k, mean, way));
        near(ramp(step_bit, along_y, back), rampVolume(R, step, k, mean, way));
        near(ramp(ballTool(1, 2 * R), along_y, back), rampVolume(R, ball, k, mean, way), kernel_share);
        near(ramp(flatTool(1, 2 * R), along_y, back), rampVolume(R, flat, k, mean, way), kernel_share);
      }
    }
  }
}

// Runs of material over the middle of a groove along x at the plan distance `aside` from its axis.
struct Section {
  cutting::DexelField field;
  std::vector<cutting::DexelSegment> at(double x, double y) const {
    cutting::DexelSegment plain;
    const auto c = field.index(static_cast<int>(x / field.cell_x_mm), static_cast<int>(y / field.cell_y_mm));
    const auto runs = cutting::centreSegments(field, c, plain);
    return {runs.begin(), runs.end()};
  }
};

Section sectionOf(const Tool& tool, const Moves& moves, Vec3 size = {120, 60, 19}) {
  Job job = stockOf(size, {tool});
  Section s{cutting::uncutStock(job.stock, {0.25, 0.25})};
  cutting::cutProgram(s.field, makeCutters(job), job, job.setups[0], moves.program().motions);
  return s;
}

TEST(Undercut, the_section_of_a_dovetail_is_its_trapezium_dexel_by_dexel) {
  const double h = 10, slope = std::tan(14 * std::numbers::pi / 180), y0 = 30.1;
  Moves m(1);
  m.rapid({-10, y0, -h}).feed({130, y0, -h}).rapid({130, y0, 5});
  const Section s = sectionOf(dovetailTool(1, 12.7, 14, h), m);
  for (int iy = 60; iy < 180; ++iy) {
    const double y = (iy + 0.5) * 0.25, d = std::abs(y - y0);
    const auto runs = s.at(60.1, y);
    SCOPED_TRACE(::testing::Message() << "aside " << d);
    if (d > 6.35) {
      ASSERT_EQ(runs.size(), 1u);
      EXPECT_NEAR(runs[0].high, 19, 1e-5);
    } else if (d < 6.35 - h * slope) {
      ASSERT_EQ(runs.size(), 1u);
      EXPECT_NEAR(runs[0].high, 9, 1e-5);
    } else {  // the flank hangs over: from where the cutter is that wide up to the stock's top
      ASSERT_EQ(runs.size(), 2u);
      EXPECT_NEAR(runs[0].high, 9, 1e-5);
      EXPECT_NEAR(runs[1].low, 9 + (6.35 - d) / slope, 1e-4);
      EXPECT_NEAR(runs[1].high, 19, 1e-5);
    }
  }
}

TEST(Undercut, the_overhang_is_there_for_the_next_tool_too) {
  // A T-slot from edge to edge, 16 wide and 6 high, neck 8; then a flat bit mills 3 mm off the top over it: it takes 3
  // mm of the roof and nothing of the hollow.
  const Tool t_slot = keyholeTool(1, 16, 6, 8, 20);
  Tool flat = flatTool(2, 6);
  Moves m(1);
  m.rapid({-20, 30.03, -12}).feed({140, 30.03, -12}).rapid({140, 30.03, 5});
  Job job = stockOf({120, 60, 19}, {t_slot, flat});
  Moves across(2);
  across.rapid({60, -10, 5}).feed({60, -10, -3}).feed({60, 70, -3}).rapid({60, 70, 5});
  const auto depth8 = [&](double z) {
    Moves deep(2);
    deep.rapid({60, -10, 5}).feed({60, -10, -z}).feed({60, 70, -z}).rapid({60, 70, 5});
    return deep;
  };
  const auto r = runOf(job, {m.program(), across.program()});
  near(r.programs[0].removed_mm3, (16 * 6 + 8 * 6) * 120);
  near(r.programs[1].removed_mm3, 6 * (60 - 8) * 3);  // the neck's slot is open already
  // Through the roof (6 thick) and 2 mm into the hollow: the roof's two sides of 4 mm are only 6 high.
  const auto deep = runOf(job, {m.program(), depth8(8).program()});
  near(deep.programs[1].removed_mm3, 6 * (60 - 16) * 8 + 6 * (16 - 8) * 6);
  // Down to the floor of the hollow and 1 mm below.
  const auto deeper = runOf(job, {m.program(), depth8(13).program()});
  near(deeper.programs[1].removed_mm3, 6 * (60 - 16) * 13 + 6 * (16 - 8) * 6 + 6 * 16 * 1);
}

TEST(Undercut, the_hollow_is_there_from_the_other_side) {
  // A blind T-slot; the stock flipped left to right, a hole drilled down into it from the back by a flat bit of 6 mm:
  // of 19 mm it meets the 7 mm under the slot and, having crossed the hollow, nothing more.
  Job job = stockOf({120, 60, 19}, {keyholeTool(1, 16, 6, 8, 20), flatTool(2, 6)});
  auto back = job.setups[0];
  back.name = "back";
  back.flip = Flip::left_right;
  job.setups.push_back(back);
  job.setups[0].programs.resize(1);
  job.setups[1].programs.resize(1);
  Moves slot(1);
  slot.rapid({-20, 30, -12}).feed({140, 30, -12}).rapid({140, 30, 5});
  for (const double y : {25.2, 30.06}) {  // under the roof and under the neck
    Moves hole(2);
    hole.slot({{40.03, y}}, 10);
    const auto r = run(job, std::vector<Program>{slot.program(), hole.program()});
    near(r.programs[1].removed_mm3, std::numbers::pi * 9 * 7);
    EXPECT_NEAR(r.stock.removed_mm3, r.programs[0].removed_mm3 + r.programs[1].removed_mm3, 1e-4 * r.stock.removed_mm3);
  }
}

TEST(Undercut, the_voxels_keep_the_overhang) {
  Job job = stockOf({60, 60, 19}, {dovetailTool(1, 12.7, 14, 10)});
  cutting::DexelField field = cutting::uncutStock(job.stock, {0.25, 0.25});
  const double whole = surface::StockGrid(field).volume_mm3();
  EXPECT_NEAR(whole, 60 * 60 * 19, 1e-6);
  Moves m(1);
  m.rapid({-10, 30.1, -10}).feed({70, 30.1, -10}).rapid({70, 30.1, 5});
  cutting::cutProgram(field, makeCutters(job), job, job.setups[0], m.program().motions);
  // Voxels are cut whole: within one cell of every wall.
  EXPECT_NEAR(whole - surface::StockGrid(field).volume_mm3(), 6124.031982941, 60 * 2 * 10 * 0.25);
  near(whole - cutting::volume_mm3(field), 6124.031982941);
}

TEST(Undercut, a_round_over_with_a_tip_takes_its_section) {
  // A round-over of radius 6 with a plunge tip of 3 mm radius and 1 mm height, tip at 8 mm depth along a line of 50 mm:
  // the section is 2 (r_tip 1 + r_tip 6 + the hollow quarter: 6² - pi 6² / 4 …) + the straight part above: full width
  // 2 · 9 · 1.
  const double a = 6, tip = 3;
  const double section = 2 * (tip * 1 + tip * a + a * a * (1 - std::numbers::pi / 4) + (tip + a) * 1);
  // Ends: the same half section turned about the axis. Hollow quarter: centroid of the spandrel lies
  // a (10 - 3 pi) / (12 - 3 pi) from the square corner's sides (Pappus), the corner here at radius tip, height a.
  const double spandrel = a * a * (1 - std::numbers::pi / 4),
               from_corner = a * (10 - 3 * std::numbers::pi) / (12 - 3 * std::numbers::pi);
  const double ends = std::numbers::pi * tip * tip * (1 + a) + 2 * std::numbers::pi * (tip + from_corner) * spandrel +
                      std::numbers::pi * (tip + a) * (tip + a) * 1;
  for (const WorkPoint2 p : places) {
    near(cut(roundOverTool(1, tip, 1, a, 20), Moves(1).slot({p, p + Vec2{50, 0}}, 8)).stock.removed_mm3,
         section * 50 + ends);
    near(cut(roundOverTool(1, tip, 1, a, 20), Moves(1).slot({p, p + Vec2{30, 25}}, 8)).stock.removed_mm3,
         section * std::hypot(30, 25) + ends);
  }
}

TEST(Undercut, a_form_ground_like_a_flat_bit_cuts_like_one) {
  // The same sloping path cut by a plain cylinder and by a form with a thin waist of no consequence: where the waist is
  // above the wood nothing differs.
  Tool form = keyholeTool(1, 6, 12, 4, 30);
  Moves m(1);
  m.rapid({20, 20, 5})
      .feed({20, 20, 0})
      .feed({60.3, 31.7, -6})
      .feed({60.3, 31.7, -3})
      .feed({80, 20, -3})
      .rapid({80, 20, 5});
  const double by_pieces = cut(form, m).stock.removed_mm3, by_kernel = cut(flatTool(1, 6), m).stock.removed_mm3;
  EXPECT_NEAR(by_pieces, by_kernel, 0.005 * by_kernel);
}

TEST(Undercut, a_thin_roof_and_a_thin_floor_are_measured_the_feather_edge_of_a_dovetail_is_not) {
  const auto thinnest = [](const auto& r) {
    double least = 1e9;
    for (const ThinFloor& f : r.programs[0].thin_floors) least = std::min(least, f.thickness_mm);
    return least;
  };
  // T-slot 6 high with its tip 7 deep: a roof of 1 mm. 18 deep: a floor of 1 mm.
  Moves shallow(1), deep(1), dovetail(1);
  shallow.rapid({-20, 30, -7}).feed({140, 30, -7}).rapid({140, 30, 5});
  deep.rapid({-20, 30, -18}).feed({140, 30, -18}).rapid({140, 30, 5});
  dovetail.rapid({-20, 30, -10}).feed({140, 30, -10}).rapid({140, 30, 5});
  EXPECT_NEAR(thinnest(cut(keyholeTool(1, 16, 6, 8, 30), shallow)), 1, 1e-4);
  EXPECT_NEAR(thinnest(cut(keyholeTool(1, 16, 6, 8, 30), deep)), 1, 1e-4);
  EXPECT_EQ(thinnest(cut(dovetailTool(1, 12.7, 14, 10), dovetail)), 1e9);
}

TEST(Undercut, a_board_slit_into_two_layers_is_said_not_to_be_checked) {
  Moves m(1);
  // A disc of 30 mm, 2 mm thick, on a thin neck, all across a board 20 mm wide: what lies above comes off.
  m.rapid({-40, 10, -8}).feed({140, 10, -8}).rapid({140, 10, 5});
  const auto r = cut(keyholeTool(1, 30, 2, 0.5, 30), m, {100, 20, 19});
  ASSERT_EQ(r.not_checked.size(), 1u);
  EXPECT_NE(r.not_checked[0].find("one piece above another"), std::string::npos);
  // A groove that leaves both sides standing parts nothing.
  Moves groove(1);
  groove.rapid({-40, 30, -8}).feed({140, 30, -8}).rapid({140, 30, 5});
  EXPECT_TRUE(cut(keyholeTool(1, 30, 2, 0.5, 30), groove, {100, 60, 19}).not_checked.empty());
}

TEST(Undercut, a_short_fluted_bit_on_a_thin_neck_leaves_what_stands_over_its_flutes) {
  // 20 mm bit with 4 mm of flutes on a shank of 6 mm, from the side 10 mm below the top: it takes 4 mm of height and
  // the shank runs into the roof of 6 mm.
  Tool slitter = flatTool(1, 20);
  slitter.flute_length_mm = 4;
  slitter.shank_diameter_mm = 6;
  Moves m(1);
  m.rapid({-15, 30.03, -10}).feed({135, 30.03, -10}).rapid({135, 30.03, 5});
  const auto r = cut(slitter, m);
  near(r.stock.removed_mm3, 20 * 4 * 120, narrow_share);
  ASSERT_FALSE(r.programs[0].bodies_in_stock.empty());
  EXPECT_EQ(r.programs[0].bodies_in_stock[0].part, ToolPart::shank);
  EXPECT_NEAR(r.programs[0].bodies_in_stock[0].depth_mm, 6, 1e-4);
}

TEST(Undercut, only_the_way_out_through_material_breaks_it) {
  const auto broken = [](const Moves& m, const Tool& tool) {
    const auto r = runOf(stockOf({120, 60, 19}, {tool}), {m.program()});
    double most = 0;
    for (const MoveCut& c : r.programs[0].cuts) most = std::max(most, static_cast<double>(c.broken_mm));
    return most;
  };
  const Tool keyhole = keyholeTool(1, 9.5, 3.5, 5, 20);
  EXPECT_EQ(broken(keyholeSlot({40, 30}, 10, {15, 0}), keyhole), 0);
  // Lifted at the far end: 6.5 mm of wood hang over the head.
  Moves lifted(1);
  lifted.rapid({40, 30, 5}).feed({40, 30, -10}).feed({55, 30, -10}).rapid({55, 30, 5});
  EXPECT_NEAR(broken(lifted, keyhole), 6.5, 1e-4);
  // Back within a hundredth of a millimetre of the hole is back; a quarter of a millimetre off is not.
  const auto backTo = [](double x) {
    Moves m(1);
    m.rapid({40, 30, 5}).feed({40, 30, -10}).feed({55, 30, -10}).feed({x, 30, -10}).rapid({x, 30, 5});
    return m;
  };
  EXPECT_EQ(broken(backTo(40.01), keyhole), 0);
  EXPECT_NEAR(broken(backTo(40.25), keyhole), 6.5, 1e-4);
  // A dovetail in from the side and out again by the same way; lifted within the groove; lowered into it.
  const Tool dovetail = dovetailTool(1, 12.7, 14, 10);
  const auto groove = [] {
    Moves m(1);
    m.rapid({-10, 30, 5}).rapid({-10, 30, -10}).feed({60, 30, -10});
    return m;
  };
  EXPECT_EQ(broken(groove().feed({-10, 30, -10}).rapid({-10, 30, 5}), dovetail), 0);
  EXPECT_GT(broken(groove().rapid({60, 30, 5}), dovetail), 9);
  EXPECT_GT(broken(groove().feed({-10, 30, -10}).rapid({-10, 30, 5}).rapid({30, 30, 5}).feed({30, 30, -10}), dovetail),
            9);
}

TEST(Undercut, a_taper_ball_takes_the_section_of_its_ball_and_flanks) {
  // Tip radius 1, half-angle 10 degrees, groove 6 deep and 50 long: below the height 1 - sin(t) the ball, above it the
  // flanks r cos t + (h - r (1 - sin t)) tan t; both integrated here in closed form.
  const double r = 1, t = 10 * std::numbers::pi / 180, d = 6;
  const double h0 = r * (1 - std::sin(t)), r0 = r * std::cos(t), r1 = r0 + (d - h0) * std::tan(t);
  const double ball_section = r * r * std::acos((r - h0) / r) - (r - h0) * std::sqrt(2 * r * h0 - h0 * h0);
  const double section = ball_section + (r0 + r1) * (d - h0);
  const double ends =
      std::numbers::pi * h0 * h0 * (3 * r - h0) / 3 + std::numbers::pi * (d - h0) / 3 * (r0 * r0 + r0 * r1 + r1 * r1);
  for (const WorkPoint2 p : places) {
    near(cut(taperBallTool(1, 8, 1, 10), Moves(1).slot({p, p + Vec2{50, 0}}, d)).stock.removed_mm3, section * 50 + ends,
         narrow_share);
  }
}

TEST(Undercut, a_taper_ball_is_as_wide_as_the_formula_says) {
  // r 0.5, 5 degrees: the flank begins at height 0.4564221286262 with radius 0.4980973490459; at height 10 it is
  // 1.333052222268.
  const Tool tool = taperBallTool(1, 6, 0.5, 5);
  const ToolBody body = toolBody(tool, {}, {});
  EXPECT_NEAR(body.pieces.at(0).z1, 0.4564221286262, 1e-12);
  EXPECT_NEAR(body.pieces.at(0).r1, 0.4980973490459, 1e-12);
  EXPECT_NEAR(cutterRadiusAt(body, 10), 1.333052222268, 1e-11);
}

}  // namespace undercut_test
}  // namespace provecut::testing
