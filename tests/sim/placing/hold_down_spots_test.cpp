// Where hold-downs that are in the way could stand instead. Every spot is tried out: the hold-down is put there, and
// the job is checked again.
#include "sim/placing/hold_down_spots.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "sim/clearance/clearance.h"
#include "tests/sim/clearance/scene.h"

namespace provecut {
namespace {

using namespace scene;

// Stock of 300 × 200 × 20, one setup with work zero at its top front-left corner, clearance 3.
Job jobWith(std::vector<HoldDown> hold_downs, int programs = 1) {
  Job j;
  j.stock.size_mm = {300, 200, 20};
  j.tools = {flatTool()};
  j.hold_downs = std::move(hold_downs);
  Setup s;
  s.zero_mm = {0, 0, 20};
  for (std::size_t i = 0; i < j.hold_downs.size(); ++i) s.hold_downs.push_back(static_cast<int>(i));
  ProgramEntry entry;
  entry.hold_downs = s.hold_downs;
  s.programs.assign(static_cast<std::size_t>(programs), entry);
  j.setups = {s};
  return j;
}

Program programOf(std::vector<Motion> motions) {
  Program p;
  p.motions = std::move(motions);
  return p;
}

std::vector<ProgramRun> runsOf(const Job& j, const std::vector<Program>& programs) {
  std::vector<ProgramRun> runs;
  std::size_t next = 0;
  for (std::size_t s = 0; s < j.setups.size(); ++s) {
    for (std::size_t e = 0; e < j.setups[s].programs.size(); ++e, ++next) {
      runs.emplace_back();
      runs.back().setup = static_cast<int>(s);
      runs.back().entry = static_cast<int>(e);
      clearance::checkHoldDowns(j, j.setups[s], j.setups[s].programs[e], programs[next], runs.back().contacts,
                                runs.back().near_passes);
    }
  }
  return runs;
}

bool inTheWay(const Job& j, const std::vector<Program>& programs, int hold_down) {
  for (const ProgramRun& r : runsOf(j, programs)) {
    for (const Contact& c : r.contacts) {
      if (c.hold_down == hold_down) return true;
    }
    for (const NearPass& n : r.near_passes) {
      if (n.hold_down == hold_down) return true;
    }
  }
  return false;
}

// All spots, each of them tried out.
std::vector<ClearSpot> spots(const Job& j, const std::vector<Program>& programs) {
  const std::vector<ClearSpot> found = placing::clearSpots(j, programs, runsOf(j, programs));
  for (const ClearSpot& spot : found) {
    Job there = j;
    HoldDown& h = there.hold_downs[static_cast<std::size_t>(spot.hold_down)];
    h = moved(h, spot.at - h.at_mm);
    EXPECT_FALSE(inTheWay(there, programs, spot.hold_down));
  }
  return found;
}

// The spot of the job's first hold-down, the only one that is in the way.
SetupPoint2 spotOf(const Job& j, const std::vector<Program>& programs) {
  const std::vector<ClearSpot> found = spots(j, programs);
  EXPECT_EQ(found.size(), 1u);
  return found.empty() ? SetupPoint2{INFINITY, INFINITY} : found.front().at;
}

void expectAt(SetupPoint2 spot, SetupPoint2 expected) {
  EXPECT_NEAR(spot.x, expected.x, 1e-9);
  EXPECT_NEAR(spot.y, expected.y, 1e-9);
}

TEST(HoldDownSpots, a_screw_beside_a_cut_moves_just_out_of_its_clearance) {
  // Axis on x = 20, cutter 3, head 4.5, clearance 3: the centre must be 10.5 from it.
  const Job j = jobWith({roundOne({12, 50}, 9, 4.5)});
  expectAt(spotOf(j, {programOf({line({20, -20, -3}, {20, 220, -3})})}), {9.5, 50});
}

TEST(HoldDownSpots, a_screw_stays_wholly_on_the_stock) {
  // 2.5 to the left would leave the head across the edge at x = 0.
  const Job j = jobWith({roundOne({6, 50}, 9, 4.5)});
  expectAt(spotOf(j, {programOf({line({14, -20, -3}, {14, 220, -3})})}), {24.5, 50});
}

TEST(HoldDownSpots, a_screw_is_not_sent_nearer_to_the_edge_than_five_shafts) {
  // 2.5 to the left is clear, but 9.5 from the edge is less than 5 × 4, and less than the 12 that it has.
  Job j = jobWith({roundOne({12, 50}, 9, 4.5)});
  j.hold_downs[0].kind = HoldDownKind::screw;
  j.hold_downs[0].shaft_diameter_mm = 4;
  expectAt(spotOf(j, {programOf({line({20, -20, -3}, {20, 220, -3})})}), {30.5, 50});
}

TEST(HoldDownSpots, a_clamp_slides_along_the_edge_that_it_holds) {
  // The nut passes 2 above the clamp's end, along y = 12; only along the edge it gets away.
  HoldDown clamp = box({150, -10}, {30, 60}, 0, 35);
  clamp.kind = HoldDownKind::clamp;
  const SetupPoint2 spot = spotOf(jobWith({clamp}), {programOf({line({140, 12, -3}, {170, 12, -3})})});
  // The shank needs 4 + 3 beside the cutter's axis. The nut is 2 above the clamp's top, so its edge may come within
  // sqrt(9 - 4) of it. The left end of the cut is the nearer one.
  const double beside = std::max(4 + 3.0, 15 + std::sqrt(5.0));
  expectAt(spot, {150 - std::ceil((165 - (140 - beside)) * 10) / 10, -10});
}

TEST(HoldDownSpots, a_screw_does_not_move_into_a_part_that_another_setup_cuts_out) {
  // A circle of radius 50 about (150, 100), cut from the back. In the front a straight groove passes the screw.
  Job j = jobWith({roundOne({98, 100}, 9, 4.5)});
  j.hold_downs[0].kind = HoldDownKind::screw;
  provecut::Setup back_side = j.setups[0];
  back_side.flip = Flip::left_right;
  back_side.hold_downs.clear();
  back_side.programs[0].hold_downs.clear();
  j.setups.push_back(back_side);
  const Program round = programOf({arc(MotionKind::arc_cw, Plane::xy, {100, 100, -20}, {100, 100, -20}, {150, 100})});
  const Program groove = programOf({line({95, 0, -3}, {95, 200, -3})});
  // To the right x = 105.5 would be nearer, but it is inside the circle.
  expectAt(spotOf(j, {groove, round}), {84.5, 100});
}

TEST(HoldDownSpots, it_clears_every_program_in_which_it_stands) {
  const Job j = jobWith({roundOne({50, 100}, 9, 4.5)}, 2);
  const Program first = programOf({line({58, 0, -3}, {58, 200, -3})});   // wants x <= 47.5 or >= 68.5
  const Program second = programOf({line({40, 0, -3}, {40, 200, -3})});  // wants x <= 29.5 or >= 50.5
  expectAt(spotOf(j, {first, second}), {68.5, 100});
}

TEST(HoldDownSpots, pins_and_what_is_not_in_the_way_get_none) {
  Job j = jobWith({roundOne({12, 50}, 9, 4.5), roundOne({250, 100}, 9, 4.5)});
  j.hold_downs[0].kind = HoldDownKind::pin;
  EXPECT_TRUE(spots(j, {programOf({line({20, -20, -3}, {20, 220, -3})})}).empty());
}

TEST(HoldDownSpots, where_no_place_is_clear_there_is_none) {
  std::vector<Motion> everywhere;
  for (int y = 0; y < 200; y += 4) everywhere.push_back(line({-5, 1.0 * y, -1}, {305, 1.0 * y, -1}));
  EXPECT_TRUE(spots(jobWith({roundOne({12, 50}, 9, 4.5)}), {programOf(everywhere)}).empty());
}

TEST(HoldDownSpots, in_an_inch_job_the_step_is_a_thousandth_of_an_inch) {
  Job j = jobWith({roundOne({12, 50}, 9, 4.5)});
  j.inches = true;
  // On whole thousandths of an inch: 9.5 / 0.0254 = 374.02, 50 / 0.0254 = 1968.5.
  expectAt(spotOf(j, {programOf({line({20, -20, -3}, {20, 220, -3})})}), {374 * 0.0254, 1969 * 0.0254});
}

}  // namespace
}  // namespace provecut
