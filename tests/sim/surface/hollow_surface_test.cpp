// The surface of stock with hollows under overhangs: closed, and its sections those of the cutter that went through.
#include "sim/surface/hollow_surface.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <random>
#include <vector>

#include "tests/sim/scene.h"
#include "tests/sim/surface/closed.h"

namespace provecut::testing {
namespace {

constexpr double cell_mm = 0.25;
// A hollow's walls lie no farther off than a ninth of a cell; those open to the top, beside it, follow the raster.
constexpr double wall_mm = cell_mm / 9, open_wall_mm = cell_mm;

struct Cut {
  surface::TriangleMesh filled, surface;
  double remaining_mm3 = 0;
};

Cut cut(const Tool& tool, const Moves& moves, Vec3 stock, double cell) {
  Job job = stockOf(stock, {tool}, cell);
  addProgram(job, 0, 1);
  Cut c;
  RunOptions options;
  options.finished_stock = [&](const cutting::DexelField& dexels) {
    EXPECT_TRUE(surface::hasHollows(dexels));
    c.filled = surface::stockSurface(dexels);
    c.surface = surface::surfaceWithHollows(c.filled, dexels, cell);
  };
  const std::vector<Program> programs{moves.program()};
  c.remaining_mm3 = run(job, programs, options).stock.remaining_mm3;
  return c;
}

// Area of the section at `x`, mm²: each triangle that the plane cuts gives one edge of the section's outline.
double section_mm2(const surface::TriangleMesh& mesh, double x) {
  double twice = 0;
  for (const auto& t : mesh.triangles) {
    std::array<std::array<double, 2>, 2> ends{};  // where the outline enters and leaves the triangle, y and z
    int crossings = 0;
    for (std::size_t k = 0; k < 3; ++k) {
      const auto &a = mesh.points[t[k]], &b = mesh.points[t[(k + 1) % 3]];
      if ((a[0] < x) == (b[0] < x)) continue;
      const double share = (x - static_cast<double>(a[0])) / (static_cast<double>(b[0]) - static_cast<double>(a[0]));
      const auto between = [&](std::size_t i) {
        return static_cast<double>(a[i]) + share * (static_cast<double>(b[i]) - static_cast<double>(a[i]));
      };
      ends[b[0] < a[0] ? 0 : 1] = {between(1), between(2)};
      ++crossings;
    }
    if (crossings == 2) twice += ends[0][0] * ends[1][1] - ends[0][1] * ends[1][0];
  }
  return std::fabs(twice) / 2;
}

// Where the section at `x` meets the level `z`, or with `upright` the upright at y = `z`: y or z of each wall, in
// order.
std::vector<double> walls(const surface::TriangleMesh& mesh, double x, double level, bool upright = false) {
  std::vector<double> found;
  for (const auto& t : mesh.triangles) {
    std::vector<std::array<double, 2>> ends;  // the triangle's edge in the section: along the level, and across it
    for (std::size_t k = 0; k < 3; ++k) {
      const auto &a = mesh.points[t[k]], &b = mesh.points[t[(k + 1) % 3]];
      if ((a[0] < x) == (b[0] < x)) continue;
      const double share = (x - static_cast<double>(a[0])) / (static_cast<double>(b[0]) - static_cast<double>(a[0]));
      const auto between = [&](std::size_t i) {
        return static_cast<double>(a[i]) + share * (static_cast<double>(b[i]) - static_cast<double>(a[i]));
      };
      ends.push_back(upright ? std::array{between(2), between(1)} : std::array{between(1), between(2)});
    }
    if (ends.size() != 2 || (ends[0][1] < level) == (ends[1][1] < level)) continue;
    found.push_back(ends[0][0] + (ends[1][0] - ends[0][0]) * (level - ends[0][1]) / (ends[1][1] - ends[0][1]));
  }
  std::sort(found.begin(), found.end());
  return found;
}

void expectWalls(const std::vector<double>& found, const std::vector<double>& wanted, double within_mm = wall_mm) {
  ASSERT_EQ(found.size(), wanted.size());
  for (std::size_t i = 0; i < wanted.size(); ++i) EXPECT_NEAR(found[i], wanted[i], within_mm) << "wall " << i;
}

Moves groove(double y, double depth) {
  Moves m(1);
  m.rapid({-20, y, 5}).rapid({-20, y, -depth}).feed({70, y, -depth}).rapid({70, y, 5});
  return m;
}

TEST(HollowSurface, of_a_t_slot_has_head_and_neck_wherever_its_walls_fall) {
  // Head 16 x 6, neck 8, 10 deep: 16 * 6 + 8 * 4 mm² taken out of the section.
  for (const double y : {20.0, 20.03, 20.11, 20.2}) {
    const Cut c = cut(keyholeTool(1, 16, 6, 8, 20), groove(y, 10), {50, 40, 19}, 0.25);
    expectClosed(c.surface);
    for (const double x : {10.03, 25.17, 41.5}) {
      SCOPED_TRACE(::testing::Message() << "groove at y " << y << ", section at x " << x);
      expectWalls(walls(c.surface, x, 12), {0, y - 8, y + 8, 40});                // through the head
      expectWalls(walls(c.surface, x, 17), {0, y - 4, y + 4, 40}, open_wall_mm);  // through the neck
      expectWalls(walls(c.surface, x, y + 6, true), {0, 9, 15, 19});              // bottom, floor, roof, top
      expectWalls(walls(c.surface, x, y + 1, true), {0, 9});                      // under the neck
      // 44 mm of outline, each piece of it that near.
      EXPECT_NEAR(section_mm2(c.surface, x), 40 * 19 - 128, 44 * wall_mm);
    }
    // With the hollow filled only the neck's width is open.
    EXPECT_GT(section_mm2(c.filled, 25.17), 40 * 19 - 128 + 40);
  }
}

TEST(HollowSurface, of_a_dovetail_groove_has_its_trapezium) {
  // 12.7 wide at the foot, 14 degrees, 10 deep: (6.35 + 6.35 - 10 tan 14°) * 10 mm².
  const double trapezium = (2 * 6.35 - 10 * 0.249328002843) * 10;
  for (const double y : {20.0, 20.07, 20.125}) {
    const Cut c = cut(dovetailTool(1, 12.7, 14, 10), groove(y, 10), {50, 40, 19}, 0.25);
    expectClosed(c.surface);
    for (const double up : {2.0, 5.0, 8.0}) {
      SCOPED_TRACE(::testing::Message() << "groove at y " << y << ", " << up << " above its foot");
      const double half = 6.35 - up * 0.249328002843;
      expectWalls(walls(c.surface, 25.17, 9 + up), {0, y - half, y + half, 40});
    }
    EXPECT_NEAR(section_mm2(c.surface, 25.17), 40 * 19 - trapezium, 0.002 * trapezium) << y;
  }
}

TEST(HollowSurface, of_a_keyhole_slot_holds_all_but_hole_head_and_neck) {
  // Head 9.5 x 3.5, neck 5, 10 deep, 15 long: 1611.967784996 mm³ (the closed form: tests/sim/stock/undercut_test.cpp).
  for (const WorkPoint2 p : {WorkPoint2{20, 20}, WorkPoint2{20.03, 20.11}, WorkPoint2{20.125, 20.19}}) {
    Moves m(1);
    m.rapid({p.x, p.y, 5}).feed({p.x, p.y, -10}).feed({p.x + 15, p.y, -10}).feed({p.x, p.y, -10}).rapid({p.x, p.y, 5});
    const Cut c = cut(keyholeTool(1, 9.5, 3.5, 5, 20), m, {60, 40, 19}, cell_mm);
    expectClosed(c.surface);
    EXPECT_NEAR(60 * 40 * 19 - surface::volume_mm3(c.surface), 1611.967784996, 0.016 * 1611.967784996) << p.x;
  }
}

TEST(HollowSurface, of_any_way_of_a_form_bit_is_closed_and_holds_what_is_left) {
  std::mt19937 random(11);
  std::uniform_real_distribution<double> x(-5, 35), y(-5, 25), z(-18, -5);
  for (int trial = 0; trial < 24; ++trial) {
    Moves m(1);
    m.rapid({x(random), y(random), 5});
    for (int k = 0; k < 6; ++k) m.feed({x(random), y(random), z(random)});
    const std::array tools{keyholeTool(1, 9.5, 3.5, 5, 25), dovetailTool(1, 12.7, 14, 10),
                           keyholeTool(1, 16, 2, 4, 25)};
    const Cut c = cut(tools[static_cast<std::size_t>(trial) % tools.size()], m, {30, 20, 15}, 0.3);
    expectClosed(c.surface);
    const double removed = 30 * 20 * 15 - c.remaining_mm3;
    EXPECT_NEAR(30 * 20 * 15 - surface::volume_mm3(c.surface), removed, 0.016 * removed) << trial;
  }
}

}  // namespace
}  // namespace provecut::testing
