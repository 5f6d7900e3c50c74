// How large a part is said to be, against closed forms.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "tests/sim/scene.h"

namespace provecut::testing {
namespace piece_size_test {

constexpr double thickness = 12, through = -thickness - 0.2;
constexpr WorkPoint2 middle{100.13, 90.07};  // nowhere near the edges of cells

Job stock(double cell_mm) {
  Job job = stockOf({200, 180, thickness}, {flatTool(1, 6)}, cell_mm);
  HoldDown clamp;
  clamp.name = "clamp";
  clamp.kind = HoldDownKind::clamp;
  clamp.at_mm = {5, 90};
  clamp.size_mm = {10, 20};
  clamp.top_mm = 5;
  job.hold_downs = {clamp};
  return job;
}

WorkPoint2 turned(Vec2 p, double angle_deg) {
  const double a = angle_deg * std::numbers::pi / 180;
  return middle + Vec2{p.x * std::cos(a) - p.y * std::sin(a), p.x * std::sin(a) + p.y * std::cos(a)};
}

// Round a part of this size, turned; on each long side a tab of 8 mm, as thick as said (0: none).
Moves rectangle(Vec2 size, double angle_deg, double z = through, double tab_mm = 0) {
  const double x = size.x / 2 + 3, y = size.y / 2 + 3;
  Moves m(1);
  const auto go = [&](Vec2 p, double at_z) {
    const WorkPoint2 q = turned(p, angle_deg);
    m.feed({q.x, q.y, at_z});
  };
  const WorkPoint2 start = turned({-x, -y}, angle_deg);
  m.rapid({start.x, start.y, 5});
  go({-x, -y}, z);
  for (const double side : {-1.0, 1.0}) {
    if (tab_mm > 0) {
      go({side * 7, side * y}, z);
      go({side * 7, side * y}, -thickness + tab_mm);
      go({-side * 7, side * y}, -thickness + tab_mm);
      go({-side * 7, side * y}, z);
    }
    go({-side * x, side * y}, z);
    go({-side * x, -side * y}, z);
  }
  return m;
}

Moves circle(double diameter_mm) {
  const double r = diameter_mm / 2 + 3;
  Moves m(1);
  m.rapid({middle.x + r, middle.y, 5}).feed({middle.x + r, middle.y, through});
  m.arc(MotionKind::arc_ccw, {middle.x - r, middle.y, through}, middle);
  m.arc(MotionKind::arc_ccw, {middle.x + r, middle.y, through}, middle);
  return m;
}

Vec3 sizeOf(const Moves& moves, double cell_mm) {
  Job job = stock(cell_mm);
  addProgram(job, 0, 1, {0});
  const auto r = run(job, std::vector<Program>{moves.program()});
  if (r.programs[0].pieces.size() != 1) return {};
  const Piece& p = r.programs[0].pieces[0];
  const auto same = [&](const PieceHeld& h) {
    return h.part && std::abs(h.bounds.low.x - p.bounds.low.x) < 0.01 &&
           std::abs(h.bounds.high.y - p.bounds.high.y) < 0.01;
  };
  EXPECT_TRUE(std::any_of(r.programs[0].holding.begin(), r.programs[0].holding.end(), same)) << "one size for one part";
  return p.bounds.high - p.bounds.low;
}

TEST(PieceSize, a_rectangle_cut_at_any_angle_is_as_large_as_it_was_drawn) {
  for (const double cell_mm : {0.5, 0.4, 0.25}) {
    for (const double angle_deg : {0.0, 17.0, 45.0, 90.0, 2.0}) {
      const double a = angle_deg * std::numbers::pi / 180;
      const Vec3 size = sizeOf(rectangle({100, 60}, angle_deg), cell_mm);
      EXPECT_NEAR(size.x, 100 * std::cos(a) + 60 * std::sin(a), 0.05) << angle_deg << " degrees, cells " << cell_mm;
      EXPECT_NEAR(size.y, 100 * std::sin(a) + 60 * std::cos(a), 0.05) << angle_deg << " degrees, cells " << cell_mm;
      EXPECT_NEAR(size.z, thickness, 1e-4);
    }
  }
}

TEST(PieceSize, a_disc_is_as_wide_as_it_was_drawn) {
  for (const double cell_mm : {0.5, 0.4, 0.25}) {
    for (const double diameter : {40.0, 33.3, 12.0}) {
      // A wall that turns within a few cells is read to a third of a cell only.
      const double exact_mm = diameter > 30 ? 0.05 : std::max(0.05, 0.3 * cell_mm);
      const Vec3 size = sizeOf(circle(diameter), cell_mm);
      EXPECT_NEAR(size.x, diameter, exact_mm) << "cells " << cell_mm;
      EXPECT_NEAR(size.y, diameter, exact_mm) << "cells " << cell_mm;
    }
  }
}

TEST(PieceSize, tabs_and_skins_do_not_add_to_it) {
  for (const double tab_mm : {3.0, 8.0}) {
    const Vec3 size = sizeOf(rectangle({100, 60}, 0, through, tab_mm), 0.4);
    EXPECT_NEAR(size.x, 100, 0.05) << tab_mm;
    EXPECT_NEAR(size.y, 60, 0.05) << tab_mm;
  }
  const Vec3 on_skin = sizeOf(rectangle({100, 60}, 0, -thickness + 0.4), 0.4);
  EXPECT_NEAR(on_skin.x, 100, 0.05);
  EXPECT_NEAR(on_skin.y, 60, 0.05);
}

}  // namespace piece_size_test
}  // namespace provecut::testing
