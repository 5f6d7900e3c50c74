// Tabs that a lift of the bit leaves under outlines of every form of tool, against the integral over the kerf's middle,
// where a convex tool leaves least.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <functional>
#include <numbers>

#include "tests/sim/scene.h"

namespace provecut::testing {
namespace tab_area_test {

// How high the tool's surface is above its tip at a distance from its axis, mm; the tool's form apart, beyond its body.
using Profile = std::function<double(double)>;

struct Form {
  const char* name;
  Tool tool;
  double widest_mm;  // half the width that the tool cuts at the top of the stock or below
  Profile profile;
};

Profile flat(double radius) {
  return [=](double u) { return u < radius ? 0 : 1e9; };
}

Profile ball(double radius) {
  return [=](double u) { return u < radius ? radius - std::sqrt(radius * radius - u * u) : 1e9; };
}

Profile bull(double radius, double corner) {
  return [=](double u) {
    if (u >= radius) return 1e9;
    const double v = std::max(0.0, u - (radius - corner));
    return corner - std::sqrt(corner * corner - v * v);
  };
}

Profile vee(double radius, double angle_deg) {
  return [=](double u) { return u < radius ? u / std::tan(angle_deg * std::numbers::pi / 360) : 1e9; };
}

// A tip ball whose flank leaves it as a tangent.
Profile taperBall(double radius, double tip, double half_deg) {
  const double a = half_deg * std::numbers::pi / 180;
  return [=](double u) {
    if (u >= radius) return 1e9;
    if (u <= tip * std::cos(a)) return tip - std::sqrt(tip * tip - u * u);
    return tip - tip * std::sin(a) + (u - tip * std::cos(a)) / std::tan(a);
  };
}

std::vector<Form> forms() {
  return {{"flat 6", flatTool(1, 6), 3, flat(3)},
          {"flat 2", flatTool(1, 2), 1, flat(1)},
          {"ball 4", ballTool(1, 4), 2, ball(2)},
          {"ball 8", ballTool(1, 8), 4, ball(4)},
          {"bull 6 r1.5", bullTool(1, 6, 1.5), 3, bull(3, 1.5)},
          {"vee 60", veeTool(1, 12, 60), 6, vee(6, 60)},
          {"taper ball", taperBallTool(1, 6, 0.75, 10), 3, taperBall(3, 0.75, 10)}};
}

// The wood in the kerf's middle under a lift of `lift` mm from `below` mm under the stock to `high` mm above its
// underside.
double tabArea(const Profile& profile, double lift, double below, double high) {
  constexpr int steps = 20'000;
  double area = 0;
  for (int k = 0; k < steps; ++k) {
    const double u = (k + 0.5) / steps * lift / 2;  // from the lift's end inwards
    area += std::clamp(profile(u) - below, 0.0, high) * lift / steps;
  }
  return area;
}

struct Outline {
  double side, turned_deg, lift, below, high, thickness;
};

// A square outline about (45, 45), path `side` mm long, with a lift in the middle of two opposite sides.
Moves outlineOf(const Outline& o) {
  const double a = o.turned_deg * std::numbers::pi / 180, s = o.side / 2, deep = -o.thickness - o.below,
               up = -o.thickness + o.high;
  Moves m(1);
  const auto at = [&](double x, double y, double z) {
    return WorkPoint{45 + x * std::cos(a) - y * std::sin(a), 45 + x * std::sin(a) + y * std::cos(a), z};
  };
  m.rapid(at(-s, -s, 5)).feed(at(-s, -s, deep));
  const double l = o.lift / 2;
  m.feed(at(-l, -s, deep)).feed(at(-l, -s, up)).feed(at(l, -s, up)).feed(at(l, -s, deep));
  m.feed(at(s, -s, deep)).feed(at(s, s, deep));
  m.feed(at(l, s, deep)).feed(at(l, s, up)).feed(at(-l, s, up)).feed(at(-l, s, deep));
  m.feed(at(-s, s, deep)).feed(at(-s, -s, deep)).rapid(at(-s, -s, 5));
  return m;
}

HoldDown screw() {
  HoldDown h;
  h.name = "screw";
  h.kind = HoldDownKind::screw;
  h.at_mm = {4, 4};
  h.size_mm = {7, 7};
  h.top_mm = 3;
  return h;
}

std::vector<Piece> piecesOf(const Tool& tool, const Outline& o, double cell_mm = 0.25) {
  Job job = stockOf({90, 90, o.thickness}, {tool}, cell_mm);
  job.hold_downs = {screw()};
  addProgram(job, 0, 1, {0});
  return run(job, std::vector<Program>{outlineOf(o).program()}).programs[0].pieces;
}

TEST(TabArea, is_the_least_section_under_every_form_of_tool_at_every_angle) {
  for (const Form& form : forms()) {
    for (const double turned : {0.0, 13.0, 30.0, 45.0}) {
      for (const auto& [high, thickness] : {std::pair{0.3, 6.0}, {1.0, 6.0}, {2.4, 4.0}, {2.8, 4.0}, {3.0, 12.0}}) {
        if (form.profile(form.widest_mm - 1e-6) < high + 0.2) continue;  // the tool's body would take the tab
        const Outline o{40, turned, 10 + form.widest_mm, 0.2, high, thickness};
        SCOPED_TRACE(::testing::Message()
                     << form.name << ", " << turned << " degrees, " << high << " of " << thickness);
        const auto pieces = piecesOf(form.tool, o);
        EXPECT_EQ(pieces.size(), 1U);
        if (pieces.size() != 1) continue;
        EXPECT_EQ(pieces[0].tabs.size(), 2U);
        const double area = tabArea(form.profile, o.lift, o.below, o.high);
        for (const Tab& t : pieces[0].tabs) {
          EXPECT_NEAR(t.area_mm2, area, std::max(0.05 * area, 0.5 * 0.25 * high));
          EXPECT_FALSE(t.onion_skin);
        }
      }
    }
  }
}

// Two tabs of 10 x 0.3 under a ball of 4 that goes 0.6 below the stock.
TEST(TabArea, thin_tabs_under_a_ball_are_no_skin) {
  const Outline o{40, 0, 10, 0.6, 0.3, 6};
  const auto pieces = piecesOf(ballTool(1, 4), o);
  ASSERT_EQ(pieces.size(), 1U);
  ASSERT_EQ(pieces[0].tabs.size(), 2U);
  const double area = tabArea(ball(2), o.lift, o.below, o.high);
  for (const Tab& t : pieces[0].tabs) {
    EXPECT_FALSE(t.onion_skin);
    EXPECT_NEAR(t.area_mm2, area, std::max(0.05 * area, 0.125 * 0.3));
  }
}

// 24 x 24 in stock of 4, tabs 2 mm long: two of 2.4, and one of 1.0 with one of 2.8.
TEST(TabArea, a_small_part_on_thick_tabs_hangs) {
  const auto even = piecesOf(flatTool(1, 3), {27, 0, 5, 0.2, 2.4, 4});
  ASSERT_EQ(even.size(), 1U);
  ASSERT_EQ(even[0].tabs.size(), 2U);
  for (const Tab& t : even[0].tabs) EXPECT_NEAR(t.area_mm2, 4.8, 0.125 * 2.4);
  const auto thick = piecesOf(flatTool(1, 3), {27, 20, 5, 0.2, 2.8, 4});
  ASSERT_EQ(thick.size(), 1U);
  ASSERT_EQ(thick[0].tabs.size(), 2U);
  for (const Tab& t : thick[0].tabs) EXPECT_NEAR(t.area_mm2, 5.6, 0.125 * 2.8);
}

}  // namespace tab_area_test
}  // namespace provecut::testing
