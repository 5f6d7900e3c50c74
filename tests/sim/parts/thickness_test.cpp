// What stock that is not as thick as said does to pockets, webs and through-cuts.
#include <gtest/gtest.h>

#include <cmath>

#include "parser/job/real_thickness.h"
#include "tests/sim/scene.h"

namespace provecut::testing {
namespace {

// Said 18, pockets 7 (front) and 8 (back), web wanted 3. A zero on the spoilboard is at the underside of the stock.
struct Sides {
  bool front_top, back_top;
};

Job twoSided(Sides zero) {
  Job job = stockOf({120, 60, 18}, {flatTool(1, 6)});
  job.limits.min_floor_mm = 12;  // so that every floor is listed
  Setup back = job.setups[0];
  back.flip = Flip::left_right;
  job.setups.push_back(back);
  const auto put = [](Setup& s, bool on_top) {
    s.zero_z_on_top = on_top;
    s.zero_mm.z = on_top ? 18 : 0;
  };
  put(job.setups[0], zero.front_top);
  put(job.setups[1], zero.back_top);
  return job;
}

// The pocket's depth as programmed: from the zero's own height.
Program pocket(bool zero_on_top, WorkPoint2 from, WorkPoint2 to, double depth) {
  const double z = zero_on_top ? -depth : 18 - depth, up = zero_on_top ? 5 : 23;
  Moves m(1, {0, 0, up});
  m.rapid({from.x, from.y, up}).feed({from.x, from.y, z}).feed({to.x, to.y, z}).rapid({to.x, to.y, up});
  return m.program();
}

struct Cut {
  double front_depth, back_depth, web;
};

Cut cutIn(Sides zero, double real_mm) {
  Job job = twoSided(zero);
  addProgram(job, 0, 1);
  addProgram(job, 1, 1);
  setRealThickness(job, real_mm);
  const std::vector<Program> programs{pocket(zero.front_top, {30, 30}, {60, 30}, 7),
                                      pocket(zero.back_top, {75, 20}, {75, 40}, 8)};
  const auto r = run(job, programs);
  Cut cut{};
  cut.front_depth = static_cast<double>(r.programs[0].cuts[1].axial_depth_mm);
  cut.back_depth = static_cast<double>(r.programs[1].cuts[1].axial_depth_mm);
  for (const ThinFloor& f : r.programs[1].thin_floors) cut.web = f.thickness_mm;
  return cut;
}

// e is what the stock is thicker than said: the table of what each pair of zeros does (geometry).
TEST(RealThickness, the_zero_of_each_side_decides_what_an_error_does_to_depths_and_web) {
  for (const double e : {0.3, -0.3}) {
    SCOPED_TRACE(e);
    const auto expect = [&](Sides zero, double front, double back, double web) {
      const Cut cut = cutIn(zero, 18 + e);
      EXPECT_NEAR(cut.front_depth, front, 1e-4);
      EXPECT_NEAR(cut.back_depth, back, 1e-4);
      EXPECT_NEAR(cut.web, web, 1e-4);
    };
    expect({true, true}, 7, 8, 3 + e);
    expect({true, false}, 7, 8 + e, 3);
    expect({false, true}, 7 + e, 8, 3);
    expect({false, false}, 7 + e, 8 + e, 3 - e);
  }
}

TEST(RealThickness, what_was_measured_has_no_tolerance_left_and_leaves_plan_zeros_alone) {
  Job job = twoSided({true, false});
  job.stock.thickness_tolerance_mm = 0.3;
  job.setups[0].zero_mm = {10, 20, 18};
  setRealThickness(job, 18.7);
  EXPECT_EQ(job.stock.thickness_tolerance_mm, 0);
  EXPECT_DOUBLE_EQ(job.stock.size_mm.z, 18.7);
  EXPECT_DOUBLE_EQ(job.setups[0].zero_mm.x, 10);
  EXPECT_DOUBLE_EQ(job.setups[0].zero_mm.z, 18.7);
  EXPECT_DOUBLE_EQ(job.setups[1].zero_mm.z, 0);
}

// What is left gains `moves_with_stock` per mm: the same table, said by the floor itself.
TEST(RealThickness, each_web_says_how_it_goes_with_the_stock) {
  const auto gain = [](Sides zero) {
    Job job = twoSided(zero);
    addProgram(job, 0, 1);
    addProgram(job, 1, 1);
    const std::vector<Program> programs{pocket(zero.front_top, {30, 30}, {60, 30}, 7),
                                        pocket(zero.back_top, {75, 20}, {75, 40}, 8)};
    const auto r = run(job, programs);
    return r.programs[1].thin_floors.at(0).moves_with_stock;
  };
  EXPECT_EQ(gain({true, true}), 1);
  EXPECT_EQ(gain({true, false}), 0);
  EXPECT_EQ(gain({false, true}), 0);
  EXPECT_EQ(gain({false, false}), -1);
}

Job throughJob(double tolerance, bool zero_on_top = true) {
  Job job = stockOf({120, 60, 18}, {flatTool(1, 6), drillTool(2, 6, 118)});
  job.stock.thickness_tolerance_mm = tolerance;
  job.setups[0].zero_z_on_top = zero_on_top;
  return job;
}

std::vector<DoubtfulThrough> doubts(const Job& job, const Moves& m) {
  return runOf(job, {m.program()}).programs[0].doubtful_throughs;
}

TEST(NotThrough, a_slot_through_by_less_than_the_tolerance_may_leave_the_difference) {
  const auto d = doubts(throughJob(0.3), Moves(1).slot({{20, 20}, {70, 20}}, 18.1));
  ASSERT_EQ(d.size(), 1U);
  EXPECT_NEAR(d[0].thickest_mm, 0.2, 1e-4);
  EXPECT_EQ(d[0].as_said_mm, 0);
  EXPECT_EQ(d[0].move, 1U);
}

TEST(NotThrough, the_tolerance_itself_is_deep_enough_and_a_hundredth_less_is_not) {
  EXPECT_TRUE(doubts(throughJob(0.3), Moves(1).slot({{20, 20}, {70, 20}}, 18.3)).empty());
  EXPECT_EQ(doubts(throughJob(0.3), Moves(1).slot({{20, 20}, {70, 20}}, 18.29)).size(), 1U);
}

TEST(NotThrough, a_skin_as_thick_as_the_tolerance_is_in_doubt_and_one_a_hundredth_thicker_is_a_floor) {
  const auto d = doubts(throughJob(0.3), Moves(1).slot({{20, 20}, {70, 20}}, 17.98));
  ASSERT_EQ(d.size(), 1U);
  EXPECT_NEAR(d[0].as_said_mm, 0.02, 1e-4);
  EXPECT_NEAR(d[0].thickest_mm, 0.32, 1e-4);
  EXPECT_EQ(doubts(throughJob(0.3), Moves(1).slot({{20, 20}, {70, 20}}, 17.7)).size(), 1U);
  EXPECT_TRUE(doubts(throughJob(0.3), Moves(1).slot({{20, 20}, {70, 20}}, 17.69)).empty());
}

TEST(NotThrough, without_a_tolerance_or_with_the_zero_on_the_spoilboard_there_is_no_doubt) {
  EXPECT_TRUE(doubts(throughJob(0), Moves(1).slot({{20, 20}, {70, 20}}, 18.1)).empty());
  EXPECT_TRUE(doubts(throughJob(0.3, false), Moves(1).slot({{20, 20}, {70, 20}}, 18.1)).empty());
}

Job plywoodJob(double thickness, Material material = Material::plywood) {
  Job job = stockOf({120, 60, thickness}, {flatTool(1, 6)});
  job.stock.material = material;
  job.stock.material_given = true;
  return job;
}

std::vector<DoubtfulThrough> soldDoubts(double thickness, double depth, Material material = Material::plywood) {
  return doubts(plywoodJob(thickness, material), Moves(1).slot({{20, 20}, {70, 20}}, depth));
}

// EN 315 for sanded plywood: 18 mm +0.74 -0.94. EN 622-1 for MDF: 0.2 mm up to 19 mm. ISO 7823-1: cast acrylic of 6 mm
// may be 5.0 to 7.0 mm thick.
TEST(ThicknessAsSold, a_cut_within_what_the_standard_allows_is_in_doubt) {
  EXPECT_TRUE(soldDoubts(18, 17.05).empty());
  ASSERT_EQ(soldDoubts(18, 17.07).size(), 1U);
  EXPECT_TRUE(soldDoubts(18, 18.75).empty());
  const auto d = soldDoubts(18, 18.3);
  ASSERT_EQ(d.size(), 1U);
  EXPECT_EQ(d[0].why, ThroughDoubt::as_sold);
  EXPECT_NEAR(d[0].beyond_mm, 0.3, 1e-4);
  EXPECT_NEAR(d[0].thickest_mm, 0.44, 1e-4);
  EXPECT_TRUE(soldDoubts(18, 17.79, Material::mdf).empty());
  EXPECT_EQ(soldDoubts(18, 18.19, Material::mdf).size(), 1U);
  EXPECT_TRUE(soldDoubts(18, 18.21, Material::mdf).empty());
  EXPECT_EQ(soldDoubts(6, 5.01, Material::acrylic).size(), 1U);
  EXPECT_TRUE(soldDoubts(6, 7.01, Material::acrylic).empty());
}

// "board" is OSB or particleboard. EN 300: an OSB that is not sanded may be off by 0.8 mm; a sanded one and a
// particleboard (EN 312) by 0.3 mm, so that the first covers all of them (from memory).
TEST(ThicknessAsSold, a_board_of_any_kind_may_be_off_as_much_as_an_unsanded_one) {
  EXPECT_EQ(soldDoubts(18, 17.21, Material::board).size(), 1U);
  EXPECT_TRUE(soldDoubts(18, 17.19, Material::board).empty());
  EXPECT_EQ(soldDoubts(18, 18.79, Material::board).size(), 1U);
  EXPECT_TRUE(soldDoubts(18, 18.81, Material::board).empty());
}

TEST(ThicknessAsSold, passes_and_ramps_on_the_way_to_a_deeper_cut_are_none) {
  const std::vector<WorkPoint2> slot{{20, 20}, {70, 20}};
  EXPECT_TRUE(doubts(plywoodJob(18), Moves(1).slot(slot, 17.5).slot(slot, 18).slot(slot, 19)).empty());
  Moves ramp(1);
  ramp.rapid({20, 20, 2}).feed({20, 20, -15}).feed({70, 20, -18}).feed({70, 20, -19}).feed({20, 20, -19});
  EXPECT_TRUE(doubts(plywoodJob(18), ramp.rapid({20, 20, 5})).empty());
  // The last pass of the second slot is missing.
  const auto d = doubts(plywoodJob(18), Moves(1).slot(slot, 19).slot({{20, 45}, {70, 45}}, 18));
  ASSERT_EQ(d.size(), 1U);
  EXPECT_NEAR(d[0].at.y, 45, 3.1);
}

TEST(ThicknessAsSold, a_later_program_that_goes_deeper_settles_it) {
  const std::vector<WorkPoint2> slot{{20, 20}, {70, 20}};
  const auto r = runOf(plywoodJob(18), {Moves(1).slot(slot, 18).program(), Moves(1).slot(slot, 19).program()});
  EXPECT_TRUE(r.programs[0].doubtful_throughs.empty());
  EXPECT_TRUE(r.programs[1].doubtful_throughs.empty());
}

TEST(ThicknessAsSold, no_sheet_is_sold_as_a_thickness_that_was_measured) {
  EXPECT_TRUE(soldDoubts(3.57, 3.87).empty());
  EXPECT_EQ(soldDoubts(3.6, 3.87).size(), 1U);
  EXPECT_EQ(soldDoubts(12.5, 12.7).size(), 1U);
  EXPECT_TRUE(soldDoubts(18.4, 18.6).empty());
  // 1/4 in, 23/32 in and 3/4 in as people write them.
  EXPECT_EQ(soldDoubts(6.35, 6.4).size(), 1U);
  EXPECT_EQ(soldDoubts(18.26, 18.4).size(), 1U);
  EXPECT_EQ(soldDoubts(19.1, 19.2).size(), 1U);
}

TEST(NotThrough, a_cut_that_ends_at_the_underside_leaves_a_foil_whatever_the_thickness) {
  for (const bool zero_on_top : {true, false}) {
    const auto ends = [&](double depth) {
      return doubts(throughJob(0, zero_on_top), Moves(1).slot({{20, 20}, {70, 20}}, depth));
    };
    ASSERT_EQ(ends(18).size(), 1U);
    EXPECT_EQ(ends(18)[0].why, ThroughDoubt::exact);
    EXPECT_NEAR(ends(18)[0].beyond_mm, 0, 1e-4);
    EXPECT_EQ(ends(18.04).size(), 1U);
    EXPECT_TRUE(ends(18.06).empty());
    EXPECT_TRUE(ends(17.98).empty());  // a floor
  }
}

TEST(NotThrough, a_foil_that_a_deeper_pass_takes_is_none) {
  const std::vector<WorkPoint2> slot{{20, 20}, {70, 20}};
  EXPECT_TRUE(doubts(throughJob(0), Moves(1).slot(slot, 18).slot(slot, 18.2)).empty());
}

TEST(NotThrough, the_sloping_rim_of_a_hole_drilled_well_through_is_none) {
  EXPECT_TRUE(doubts(throughJob(0.3), Moves(2).slot({{30, 30}}, 20)).empty());
  // A point that is through by 0.1 mm leaves 0.2 mm in a thicker stock.
  const auto d = doubts(throughJob(0.3), Moves(2).slot({{30.125, 30.125}}, 18.1));
  ASSERT_EQ(d.size(), 1U);
  EXPECT_NEAR(d[0].thickest_mm, 0.2, 1e-3);
}

TEST(NotThrough, one_shallow_side_of_an_outline_is_found_beside_deep_ones) {
  Moves m(1);
  m.slot({{20, 20}, {80, 20}}, 18.5).slot({{80, 20}, {80, 45}}, 18.1).slot({{80, 45}, {20, 45}}, 18.5);
  const auto d = doubts(throughJob(0.3), m);
  ASSERT_EQ(d.size(), 1U);
  EXPECT_NEAR(d[0].at.x, 80, 3.1);
}

TEST(NotThrough, a_later_program_that_goes_deeper_settles_it) {
  Job job = throughJob(0.3);
  const auto r = runOf(
      job, {Moves(1).slot({{20, 20}, {70, 20}}, 17.9).program(), Moves(1).slot({{20, 20}, {70, 20}}, 18.4).program()});
  EXPECT_TRUE(r.programs[0].doubtful_throughs.empty());
  EXPECT_TRUE(r.programs[1].doubtful_throughs.empty());
  const auto still = runOf(
      job, {Moves(1).slot({{20, 20}, {70, 20}}, 17.9).program(), Moves(1).slot({{20, 20}, {70, 20}}, 18.1).program()});
  EXPECT_EQ(still.programs[1].doubtful_throughs.size(), 1U);
}

// A drill whose tip is 1 mm below an 18 mm stock leaves a hole of 3.33 mm underneath, not of 6: 2 x 1 x tan(59).
TEST(Trap, a_drill_point_just_through_leaves_a_small_hole_underneath) {
  Job job = throughJob(0);
  job.limits.cell_mm = 0.1;
  addProgram(job, 0, 2);
  job.setups[0].programs[0].through = false;
  const auto exitDiameter = [&](double depth) {
    const auto r = run(job, std::vector<Program>{Moves(2).slot({{30.05, 30.05}}, depth).program()});
    return std::sqrt(r.programs[0].opened->area_mm2 * 4 / 3.14159265358979);
  };
  EXPECT_NEAR(exitDiameter(19), 3.328558964701, 0.06);
  EXPECT_NEAR(exitDiameter(20), 6, 0.06);
}

}  // namespace
}  // namespace provecut::testing
