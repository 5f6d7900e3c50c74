// Checks what judges the tabs: closed forms against plain geometry, the least cut against closed forms, and the random
// sheets against the brute force over loose pieces.
#include <algorithm>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <numbers>
#include <random>
#include <string>

#include "tests/reference/parting/check.h"
#include "tests/reference/parting/dice.h"
#include "tests/reference/parting/truth.h"
#include "tests/reference/tabs/kerf_line.h"
#include "tests/reference/tabs/least_cut.h"
#include "tests/reference/tabs/tabbed_sheet.h"

namespace provecut::reference {
namespace {

constexpr double kWithin = 0.01;  // of the closed form

Profile flatOf(double diameter) {
  return profileOf({Form::flat, diameter, 0, 0, 0, 0, 0});
}

void checkPlainForms(Checks& c) {
  checkNear(c, middleArea(flatOf(6), {0, 16, 0, -0.2, 2.5}, 0, 12), 10 * 2.5, 1e-9, "flat: width times height");
  checkNear(c, middleArea(flatOf(6), {0, 5.9, 0, -0.2, 2.5}, 0, 12), 0, 1e-9, "a lift shorter than the cutter: none");
  checkNear(c, middleArea(flatOf(6), {0, 16, 0, -0.2, 17}, 0, 12), 10 * 12.0, 1e-9, "lifted out: the whole thickness");
  // Ramps of 4 mm up 2 mm: the wood begins 3 mm behind the foot of the ramp, and rises as the ramp does.
  checkNear(c, middleArea(flatOf(6), {0, 20, 4, 0, 2}, 0, 12), 2 * (14 + 6) / 2.0, 1e-9, "flat on ramps: a trapezium");
  checkNear(c, middleArea(flatOf(6), {0, 20, 10, 0, 2}, 0, 12), 14 * 1.4 / 2, 1e-9, "flat, triangular: a triangle");
  const Profile ball = profileOf({Form::ball, 4, 0, 0, 0, 0, 0});
  // Foot and shoulder where the ball's circle of radius 2 about z = 1.4 meets z = 0 and z = 0.3.
  const double foot = std::sqrt(4 - 1.4 * 1.4);
  const double shoulder = std::sqrt(4 - 1.1 * 1.1);
  const auto below_circle = [](double d) { return (d * std::sqrt(4 - d * d) + 4 * std::asin(d / 2)) / 2; };
  const double ends = 2 * (1.4 * (shoulder - foot) - below_circle(shoulder) + below_circle(foot));
  checkNear(c, middleArea(ball, {0, 14, 0, -0.6, 0.3}, 0, 6), (14 - 2 * shoulder) * 0.3 + ends, 1e-9,
            "ball: rounded ends");
  const Profile vee = profileOf({Form::vee, 8, 0, 90, 0, 0, 0});
  checkNear(c, middleArea(vee, {0, 20, 0, -1, 2}, 0, 6), 2 * (18 + 14) / 2.0, 1e-9, "vee: a trapezium");
  checkNear(c, middleArea(vee, {0, 20, 0, -1, 8}, 0, 3), 3 * (18 + 12) / 2.0, 1e-9, "vee lifted out of thin stock");
}

double numbered(Dice& dice, double low, double high) {
  return low * std::pow(high / low, dice.real(0, 1));
}

SheetTool anyTool(Dice& dice) {
  SheetTool t;
  t.form = dice.pick({Form::flat, Form::ball, Form::bull, Form::vee, Form::taper_ball, Form::drill});
  t.diameter = dice.milli(1, 8);
  t.corner_radius = 0.3 * t.diameter;
  t.included_angle_deg = dice.integer(40, 140);
  t.tip_diameter = 0.1;
  t.tip_radius = 0.15 * t.diameter;
  t.half_angle_deg = dice.milli(4, 10);
  return t;
}

// A straight kerf at any angle, right across the middle of a sheet of 80 x 80 mm, with one lift.
struct OneKerf {
  Sheet sheet;
  Path path;
  LiftedTip tip;
  Profile profile;
};

void feedAlong(OneKerf& kerf, SheetProgram& program, const Path& path, const std::vector<Knot>& knots) {
  program.face = Face::front;
  const PlanPoint start = pointOn(path, 0);
  Writer writer{&program, 0, {start.x, start.y, kerf.sheet.thickness + 5}};
  feedTo(writer, {start.x, start.y, knots.front().z});
  follow(writer, path, knots);
}

OneKerf randomKerf(Dice& dice) {
  OneKerf k;
  k.sheet.size_x = k.sheet.size_y = 80;
  k.sheet.thickness = dice.milli(2, 25);
  k.sheet.tools = {anyTool(dice)};
  k.profile = profileOf(k.sheet.tools[0]);
  const double angle = dice.real(0, 2 * std::numbers::pi);
  const PlanPoint out{35 * std::cos(angle), 35 * std::sin(angle)};
  k.path = linePath({40 - out.x, 40 - out.y}, {40 + out.x, 40 + out.y});
  const double high = dice.chance(0.15) ? k.sheet.thickness + 5 : dice.milli(0.1, 0.9 * k.sheet.thickness);
  k.tip = {0, 0, 0, -std::ceil(1000 * std::min(2.0, bottomAt(k.profile, 0.7 * k.profile.radius)) + 50) / 1000, high};
  const double length = 2 * k.profile.radius + numbered(dice, 0.8, 14);
  k.tip.from = 35 - length / 2;
  k.tip.to = 35 + length / 2;
  k.tip.ramp = dice.pick({0.0, 0.2, 0.4, 0.5}) * length;
  k.sheet.programs.push_back({});
  feedAlong(k, k.sheet.programs[0], k.path, passAt({k.tip}, k.tip.low, 70));
  return k;
}

LeastCut cutOf(const OneKerf& k, double aside) {
  const double length = k.tip.to - k.tip.from;
  const WoodNear wood(k.sheet, pointOn(k.path, (k.tip.from + k.tip.to) / 2), length + 5);
  return leastCut(wood, k.path, {k.tip.from - aside, k.tip.to + aside, k.profile.radius + aside}, 0.1);
}

void checkLeastCuts(Checks& c, int kerfs) {
  std::mt19937 generator(11);
  Dice dice{generator};
  double worst = 0;
  int tabs = 0;
  for (int n = 0; n < kerfs; ++n) {
    const OneKerf k = randomKerf(dice);
    const WoodNear wood(k.sheet, {40, 40}, 40);
    for (double s = k.tip.from; s < k.tip.to; s += 0.31) {
      const double exact = std::max(0.0, std::min(k.sheet.thickness, middleAt(k.profile, k.tip, s)));
      // Coordinates have three decimals: an upright wall may stand beside its place.
      const double before = middleAt(k.profile, k.tip, s - 0.001), behind = middleAt(k.profile, k.tip, s + 0.001);
      if (std::abs(before - behind) > 0.05) continue;
      checkNear(c, wood.thickness_mm(pointOn(k.path, s)), exact, 0.03, "the middle of a kerf is as its moves cut it");
    }
    const double exact = middleArea(k.profile, k.tip, 0, k.sheet.thickness);
    if (exact < 0.05) continue;
    const double found = cutOf(k, 0).area_mm2;
    const double off = std::abs(found / exact - 1);
    worst = std::max(worst, off);
    ++tabs;
    checkNear(c, found, exact, kWithin * exact + 0.003, "the least cut through a tab is its closed form");
  }
  std::printf("%d tabs: the least cut is off its closed form by at most %.2f %%\n", tabs, 100 * worst);
}

// Two flat tools, one moved across the kerf by less than its radius: the middle of the lifted one is the least still.
void checkAside(Checks& c) {
  OneKerf k;
  k.sheet.size_x = k.sheet.size_y = 80;
  k.sheet.thickness = 10;
  k.sheet.tools = {{Form::flat, 3, 0, 0, 0, 0, 0}};
  k.profile = flatOf(3);
  k.path = linePath({5, 30}, {75, 47});
  k.tip = {30, 40, 0, 4, 7};
  k.sheet.programs.resize(2);
  feedAlong(k, k.sheet.programs[0], k.path, passAt({k.tip}, k.tip.low, lengthOf(k.path)));
  const Path other = linePath({5, 30.7}, {75, 47.7});
  feedAlong(k, k.sheet.programs[1], turnedPath(other, Face::turned_front_back, 80, 80), {{0, 4.5}, {70, 4.5}});
  k.sheet.programs[1].face = Face::turned_front_back;
  checkNear(c, cutOf(k, 0.7).area_mm2, 7 * 1.5, kWithin * 7 * 1.5, "flat tools a little beside each other");
}

// Round a bend the least cut of a flat tool's tab is the chord between the two ends of the open kerf.
void checkBend(Checks& c) {
  for (const double r : {6.0, 12.0, 30.0}) {
    OneKerf k;
    k.sheet.size_x = k.sheet.size_y = 80;
    k.sheet.thickness = 6;
    k.sheet.tools = {{Form::flat, 3, 0, 0, 0, 0, 0}};
    k.profile = flatOf(3);
    k.path = circlePath({40, 40}, r, 0.3, false, false);
    k.tip = {10, 18, 0, -0.3, 1.2};
    k.sheet.programs.resize(1);
    feedAlong(k, k.sheet.programs[0], k.path, passAt({k.tip}, k.tip.low, lengthOf(k.path)));
    const double chord = (2 * r * std::sin(4 / r) - 3) * 1.2;
    checkNear(c, cutOf(k, 0).area_mm2, chord, kWithin * chord, "the chord of a bend");
  }
}

// Round a square corner: the chord where the kerf is wide enough for it, else bent about the part's corner.
void checkCorner(Checks& c) {
  for (const double leg : {2.7, 6.0}) {
    OneKerf k;
    k.sheet.size_x = k.sheet.size_y = 80;
    k.sheet.thickness = 12;
    k.sheet.tools = {{Form::flat, 3, 0, 0, 0, 0, 0}};
    k.profile = flatOf(3);
    k.path.segments = {{MoveKind::feed, {40, 70}, {40, 40}, {}}, {MoveKind::feed, {40, 40}, {70, 40}, {}}};
    k.tip = {30 - leg, 30 + leg, 0, -0.3, 0.6};
    k.sheet.programs.resize(1);
    feedAlong(k, k.sheet.programs[0], k.path, passAt({k.tip}, k.tip.low, lengthOf(k.path)));
    const double chord = leg <= 3 ? leg * std::sqrt(2) - 3 : 2 * (std::hypot(leg - 1.5, 1.5) - 1.5);
    checkNear(c, cutOf(k, 2).area_mm2, chord * 0.6, kWithin * chord * 0.6, "round a corner");
  }
}

// Every part comes loose, or does not, as the sheet says; and the least cut agrees with every closed form.
void checkSheets(Checks& c, int sheets) {
  int parts = 0, tabs = 0;
  double worst = 0;
  for (int n = 0; n < sheets; ++n) {
    const NamedTabbedKind& kind = tabbed_kinds[static_cast<std::size_t>(n) % tabbed_kinds.size()];
    std::mt19937 generator(static_cast<unsigned>(3000 + n));
    const TabbedSheet sheet = randomTabbedSheet(generator, kind.kind);
    const auto pieces = truth(sheet.sheet, 0.1);
    std::size_t loose = 0;
    for (const TruePart& part : sheet.parts) {
      ++parts;
      for (const TrueTab& tab : part.tabs) {
        ++tabs;
        check(c, tab.area_mm2 > 0, "a tab has an area");
        if (!tab.closed_form || part.cut_off_by) continue;
        const double found = leastCutAt(sheet.sheet, part, tab);
        worst = std::max(worst, std::abs(found / tab.area_mm2 - 1));
        checkNear(c, found, tab.area_mm2, 0.015 * tab.area_mm2 + 0.004,
                  std::string(kind.name) + " " + std::to_string(n) + ": the least cut is the closed form");
      }
      loose += part.hanging == Hanging::loose || part.cut_off_by ? 1 : 0;
    }
    std::size_t found = 0;
    for (const TruePiece& piece : pieces) found += piece.parent >= 0 ? 1 : 0;
    // The frame goes on as a piece of its own each time that a part leaves it.
    check(c, found >= 2 * loose || loose == 0,
          std::string(kind.name) + " " + std::to_string(n) + ": loose parts come loose");
    check(c, found <= 2 * loose,
          std::string(kind.name) + " " + std::to_string(n) + ": hanging parts hang: " + std::to_string(found) +
              " pieces, " + std::to_string(loose) + " loose");
  }
  std::printf("%d random sheets: %d parts, %d tabs, the least cut is off their closed form by at most %.2f %%\n",
              sheets, parts, tabs, 100 * worst);
}

}  // namespace
}  // namespace provecut::reference

// Arguments: kerfs with one tab, random sheets.
int main(int argc, char** argv) {
  using namespace provecut::reference;
  Checks c;
  checkPlainForms(c);
  checkAside(c);
  checkBend(c);
  checkCorner(c);
  checkLeastCuts(c, argc > 1 ? std::atoi(argv[1]) : 100);
  checkSheets(c, argc > 2 ? std::atoi(argv[2]) : 30);
  std::printf("%d checks, %d failed\n", c.made, c.failed);
  return c.failed == 0 ? 0 : 1;
}
