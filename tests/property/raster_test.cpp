// What is measured does not hang on the raster: errors of volumes and of webs shrink with the cell at least in
// proportion. Truths are closed forms of solid geometry.
#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <random>

#include "tests/sim/scene.h"

namespace provecut::testing {
namespace {

constexpr double pi = std::numbers::pi;

struct Case {
  const char* name;
  Tool tool;
  double depth_mm, way_mm;
  double volume_mm3;
  bool back = false;  // out again by the way in
};

std::vector<Case> cases() {
  return {{"flat, 6 mm", flatTool(1, 6), 3, 50, 984.8230016469},
          {"ball, 6 mm", ballTool(1, 6), 2, 50, 441.8319129995},
          {"vee, 60 degrees", veeTool(1, 12, 60), 3, 50, 269.2323990961},
          {"vee, 90 degrees with a flat tip", veeTool(1, 12, 90, 0.2), 2, 50, 229.6970493241},
          {"drill", drillTool(1, 6, 118), 15, 0, pi * 9 * (15 - 1.802581857083) + pi * 9 * 1.802581857083 / 3},
          {"keyhole", keyholeTool(1, 9.5, 3.5, 5, 20), 10, 15, 1611.967784996, true}};
}

double removed(const Case& c, WorkPoint2 at, Vec2 way, double cell) {
  Moves m(1);
  const WorkPoint2 end = at + way * c.way_mm;
  m.rapid({at.x, at.y, 5}).feed({at.x, at.y, -c.depth_mm});
  if (c.way_mm > 0) m.feed({end.x, end.y, -c.depth_mm});
  if (c.back) m.feed({at.x, at.y, -c.depth_mm});
  m.rapid({c.back ? at.x : end.x, c.back ? at.y : end.y, 5});
  return runOf(stockOf({90, 90, 19}, {c.tool}, cell), {m.program()}).stock.removed_mm3;
}

TEST(Raster, errors_of_volumes_shrink_with_the_cell) {
  std::mt19937 random(11);
  std::uniform_real_distribution<double> place(15, 30), angle(0, pi / 2);
  for (const Case& c : cases()) {
    for (int k = 0; k < 3; ++k) {
      const WorkPoint2 at{place(random), place(random)};
      const double a = k == 0 ? 0 : angle(random);
      for (const double cell : {0.5, 0.25, 0.125}) {
        // 2.5 % at 0.5 mm, half as much at 0.25 mm, a quarter at 0.125 mm.
        const double got = removed(c, at, {std::cos(a), std::sin(a)}, cell);
        EXPECT_NEAR(got, c.volume_mm3, 0.05 * cell * c.volume_mm3)
            << c.name << " at " << at.x << ", " << at.y << ", cell " << cell;
      }
    }
  }
}

TEST(Raster, errors_of_webs_shrink_with_the_cell) {
  // A ball groove of R 3 from each side, 4 deep each in 9.5 mm, their axes 1.3 mm apart in plan: by symmetry the web is
  // thinnest half way between them, 9.5 - 2 · (4 - (R - sqrt(R² - 0.65²))).
  const double R = 3, aside = 0.65, thickness = 9.5, depth = 4;
  const double truth = thickness - 2 * (depth - (R - std::sqrt(R * R - aside * aside)));
  std::mt19937 random(5);
  std::uniform_real_distribution<double> place(15, 25);
  for (int k = 0; k < 4; ++k) {
    const double y = place(random);
    for (const double cell : {0.5, 0.25, 0.125}) {
      Job job = stockOf({60, 40, thickness}, {ballTool(1, 2 * R)}, cell);
      job.limits.min_floor_mm = 3;
      auto back = job.setups[0];
      back.flip = Flip::left_right;
      job.setups.push_back(back);
      for (auto& s : job.setups) s.programs.resize(1);
      const std::vector<Program> programs{Moves(1).slot({{15, y}, {45, y}}, depth).program(),
                                          Moves(1).slot({{15, y + 2 * aside}, {45, y + 2 * aside}}, depth).program()};
      const auto r = run(job, programs);
      ASSERT_FALSE(r.programs[1].thin_floors.empty());
      EXPECT_NEAR(r.programs[1].thin_floors[0].thickness_mm, truth, 0.2 * cell) << "y " << y << ", cell " << cell;
    }
  }
}

TEST(Raster, a_roof_and_a_floor_are_exact_whatever_the_cell) {
  // T-slot head 5 high, its tip 7.3 deep in 12 mm: roof 2.3, floor 4.7.
  for (const double cell : {0.5, 0.25, 0.125}) {
    Job job = stockOf({60, 60, 12}, {keyholeTool(1, 16, 5, 8, 30)}, cell);
    job.limits.min_floor_mm = 2.5;
    Moves m(1);
    m.rapid({-10, 30.07, 5}).rapid({-10, 30.07, -7.3}).feed({70, 30.07, -7.3}).rapid({70, 30.07, 5});
    const auto r = runOf(job, {m.program()});
    ASSERT_FALSE(r.programs[0].thin_floors.empty()) << "cell " << cell;
    for (const ThinFloor& f : r.programs[0].thin_floors) EXPECT_NEAR(f.thickness_mm, 2.3, 1e-4) << "cell " << cell;
  }
}

}  // namespace
}  // namespace provecut::testing
