// Arcs whose centre, sweep and length are known by how they were made.
#include <cmath>
#include <cstdio>
#include <numbers>
#include <random>

#include "parser/program/arc.h"
#include "parser/program/plane_axes.h"
#include "tests/parser/interpreter/reading_helper.h"

namespace provecut {
namespace {

std::string word(char letter, double value) {
  char text[64];
  std::snprintf(text, sizeof text, " %c%.14f", letter, value);
  return text;
}

TEST(RandomArc, centre_sweep_and_length_agree_in_all_planes_and_both_formats) {
  std::mt19937 random(274);
  const auto uniform = [&](double low, double high) {
    return std::uniform_real_distribution<double>(low, high)(random);
  };
  constexpr Plane planes[] = {Plane::xy, Plane::zx, Plane::yz};
  for (int i = 0; i < 6000; ++i) {
    const Plane plane = planes[i % 3];
    const PlaneAxes axes = axesOf(plane);
    const bool clockwise = i % 2 == 0, by_radius = i % 4 < 2;
    const WorkPoint2 centre{uniform(-100, 100), uniform(-100, 100)};
    const double radius = std::exp(uniform(std::log(0.1), std::log(500.0)));
    // By radius the centre hangs on the chord: near half and whole circles are left out (NISTIR 6556 3.5.3.1).
    double sweep = uniform(0.02, 2 * std::numbers::pi - 0.1);
    if (by_radius && std::abs(sweep - std::numbers::pi) < 0.2) sweep += 0.5;
    const double from = uniform(0, 2 * std::numbers::pi), to = from + (clockwise ? -sweep : sweep);
    const double rise = i % 5 == 0 ? uniform(-10, 10) : 0;
    const WorkPoint2 start = centre + Vec2{std::cos(from), std::sin(from)} * radius;
    const WorkPoint2 end = centre + Vec2{std::cos(to), std::sin(to)} * radius;

    std::string text = "G21 G90 F100 ";
    text += plane == Plane::xy ? "G17" : plane == Plane::zx ? "G18" : "G19";
    text += "\nG0" + word(axis_letter[axes.first], start.x) + word(axis_letter[axes.second], start.y) +
            word(axis_letter[axes.normal], 0);
    text += clockwise ? "\nG2" : "\nG3";
    text += word(axis_letter[axes.first], end.x) + word(axis_letter[axes.second], end.y) +
            word(axis_letter[axes.normal], rise);
    if (by_radius) {
      text += word('R', sweep > std::numbers::pi ? -radius : radius);
    } else {
      text +=
          word(centre_letter[axes.first], centre.x - start.x) + word(centre_letter[axes.second], centre.y - start.y);
    }
    const Program p = interpret(text + "\nM2\n");
    ASSERT_EQ(p.motions.size(), 2u) << text;
    const Motion& m = p.motions[1];
    const double slack = by_radius ? 1e-8 * (1 + radius) : 1e-10;
    EXPECT_EQ(m.kind, clockwise ? MotionKind::arc_cw : MotionKind::arc_ccw);
    EXPECT_EQ(m.plane, plane);
    EXPECT_NEAR(m.centre.x, centre.x, slack) << text;
    EXPECT_NEAR(m.centre.y, centre.y, slack) << text;
    EXPECT_NEAR(sweepOf(m), sweep, 1e-7) << text;
    EXPECT_NEAR(arcLength(m), std::hypot(radius * sweep, rise), 1e-6 * (1 + radius)) << text;
  }
}

}  // namespace
}  // namespace provecut
