// The nearest free spots of random jobs against a plain look at every place about, from the nearest on. The rules are
// written again here, in their plainest form; only the check of moves (tested by itself, against FCL) is the product's.
//
//     PROVECUT_PLACES=500 placing_tests --gtest_filter='RandomSpots.*'
#include <gtest/gtest.h>

#include <algorithm>
#include <boost/geometry.hpp>
#include <boost/geometry/geometries/point_xy.hpp>
#include <boost/geometry/geometries/polygon.hpp>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <ctime>

#include "sim/path/cut_round.h"
#include "sim/path/setup_frame.h"
#include "sim/placing/free_spot.h"
#include "tests/sim/placing/scene.h"

namespace provecut {
namespace {

using namespace place_scene;
namespace bg = boost::geometry;
using BoostPoint = bg::model::d2::point_xy<double>;
using Polygon = bg::model::polygon<BoostPoint>;

struct Case {
  Job job;
  std::vector<Program> programs;
  placing::SpotSearch search;
};

struct Dice {
  std::mt19937 random;
  double from(double low, double high) { return std::uniform_real_distribution<double>(low, high)(random); }
  bool one_in(int n) { return from(0, n) < 1; }
};

// Corners that no place of the lattice touches.
HoldDown randomForm(Dice& dice) {
  HoldDown h = dice.one_in(2) ? roundForm(dice.from(6, 14), dice.from(1, 8))
                              : boxForm({dice.from(15, 60), dice.from(10, 30)}, dice.from(0, 180), dice.from(3, 30));
  if (h.kind == HoldDownKind::screw && dice.one_in(2)) h.shaft_diameter_mm = dice.from(3, 5);
  if (h.kind == HoldDownKind::clamp && dice.one_in(3)) {  // an L
    const double a = dice.from(20, 40), b = dice.from(5, 15);
    h.outline_mm = {{0, 0}, {a, 0}, {a, b}, {b, b}, {b, a}, {0, a}};
    h.size_mm = {};
  }
  return h;
}

// On the stock, across its edge or beside it.
SetupPoint2 randomHome(Dice& dice, Vec3 stock) {
  const double out = dice.one_in(3) ? 25 : 0;
  return {dice.from(-out, stock.x + out), dice.from(-out, stock.y + out)};
}

Program randomMoves(Dice& dice, Vec3 stock) {
  Program program = randomProgram(dice.random, static_cast<int>(dice.from(1, 30)));
  if (dice.one_in(2)) return program;
  // Round a part, so that screws have something to stay out of; now and then not quite round.
  const double x0 = dice.from(10, stock.x / 2), x1 = x0 + dice.from(20, 100), y0 = dice.from(10, stock.y / 2),
               y1 = y0 + dice.from(20, 80), z = dice.from(-20, -1);
  program.motions = {feed({x0, y0, z}, {x1, y0, z}), feed({x1, y0, z}, {x1, y1, z}), feed({x1, y1, z}, {x0, y1, z})};
  if (!dice.one_in(3)) program.motions.push_back(feed({x0, y1, z}, {x0, y0, z}));
  return program;
}

Case randomCase(unsigned seed, bool round = false) {
  Dice dice{std::mt19937(seed)};
  Case c;
  c.job = plainJob();
  c.job.stock.size_mm = {dice.from(80, 300), dice.from(60, 200), dice.from(8, 25)};
  if (round) {
    c.job.stock.shape = StockShape::round;
    c.job.stock.size_mm.x = c.job.stock.size_mm.y = dice.from(80, 250);
  }
  c.job.limits.clearance_mm = dice.from(0, 4);
  if (dice.one_in(2)) c.job.stock.grain = dice.one_in(2) ? Grain::x : Grain::y;
  if (dice.one_in(2)) {
    c.job.stock.material_given = true;
    c.job.stock.material = dice.one_in(2) ? Material::hardwood : Material::mdf;
  }
  c.job.setups[0].zero_mm.z = c.job.stock.size_mm.z;
  if (dice.one_in(3)) c.job.setups[0].rotate_deg = 90;
  Setup back = c.job.setups[0];
  back.flip = Flip::left_right;
  if (dice.one_in(3)) c.job.setups.push_back(back);
  for (Setup& setup : c.job.setups) setup.programs.resize(dice.one_in(2) ? 1 : 2);
  const Vec3 stock = stockSizeInSetup(c.job.stock, c.job.setups[0]);
  for (const Setup& setup : c.job.setups) {
    for (std::size_t i = 0; i < setup.programs.size(); ++i) c.programs.push_back(randomMoves(dice, stock));
  }
  const int count = static_cast<int>(dice.from(1, 4));
  for (int i = 0; i < count; ++i) c.job.hold_downs.push_back(movedTo(randomForm(dice), randomHome(dice, stock)));
  for (int p = 0; p < std::ssize(c.job.setups[0].programs); ++p) c.search.programs.push_back(p);
  c.search.others.assign(c.job.hold_downs.begin() + 1, c.job.hold_downs.end());
  return c;
}

Polygon polygonOf(const std::vector<SetupPoint2>& corners) {
  Polygon p;
  for (const SetupPoint2 c : corners) bg::append(p.outer(), BoostPoint(c.x, c.y));
  bg::correct(p);
  return p;
}

double fromPolygon(const Polygon& p, SetupPoint2 at) {
  return bg::distance(p, BoostPoint(at.x, at.y));
}

bool overlap(const HoldDown& a, const HoldDown& b) {
  const bool round_a = a.diameter_mm > 0, round_b = b.diameter_mm > 0;
  if (round_a && round_b) return length(a.at_mm - b.at_mm) < (a.diameter_mm + b.diameter_mm) / 2;
  if (round_a) return fromPolygon(polygonOf(footprint(b)), a.at_mm) < a.diameter_mm / 2;
  if (round_b) return overlap(b, a);
  return bg::intersects(polygonOf(footprint(a)), polygonOf(footprint(b)));
}

struct Box {
  SetupPoint2 low, high;
};

Box boxOf(const HoldDown& h) {
  if (h.diameter_mm > 0) {
    const Vec2 r{h.diameter_mm / 2, h.diameter_mm / 2};
    return {h.at_mm - r, h.at_mm + r};
  }
  Box b{{1e9, 1e9}, {-1e9, -1e9}};
  for (const SetupPoint2 c : footprint(h)) {
    b.low = {std::min(b.low.x, c.x), std::min(b.low.y, c.y)};
    b.high = {std::max(b.high.x, c.x), std::max(b.high.y, c.y)};
  }
  return b;
}

enum class Lies { on, across, beside };

HoldDown stockBox(Vec3 stock) {
  return movedTo(boxForm({stock.x, stock.y}, 0, 0), {stock.x / 2, stock.y / 2});
}

SetupPoint2 middleOf(Vec3 stock) {
  return {stock.x / 2, stock.y / 2};
}

HoldDown stockForm(const Case& c, Vec3 stock) {
  return c.job.stock.shape == StockShape::round ? movedTo(roundForm(stock.x, 0), middleOf(stock)) : stockBox(stock);
}

// Of a disc: every corner, or the whole circle, within its radius of its middle.
bool whollyOn(const Case& c, Vec3 stock, const HoldDown& h) {
  if (c.job.stock.shape == StockShape::rectangle) {
    const Box b = boxOf(h);
    return b.low.x >= 0 && b.low.y >= 0 && b.high.x <= stock.x && b.high.y <= stock.y;
  }
  if (h.diameter_mm > 0) return length(h.at_mm - middleOf(stock)) + h.diameter_mm / 2 <= stock.x / 2;
  const std::vector<SetupPoint2> corners = footprint(h);
  return std::all_of(corners.begin(), corners.end(),
                     [&](SetupPoint2 p) { return length(p - middleOf(stock)) <= stock.x / 2; });
}

// How deep its nearest point to the middle lies in a disc.
double gripOnDisc(Vec3 stock, const HoldDown& h) {
  if (h.diameter_mm > 0) return stock.x / 2 - std::max(0.0, length(h.at_mm - middleOf(stock)) - h.diameter_mm / 2);
  return stock.x / 2 - fromPolygon(polygonOf(footprint(h)), middleOf(stock));
}

double gripOf(Vec3 stock, const HoldDown& h) {
  const Box b = boxOf(h);
  return std::min({b.high.x, b.high.y, stock.x - b.low.x, stock.y - b.low.y});
}

double fromSide(double at, double size) {
  return std::min(at, size - at);
}

constexpr double rounding_mm = 1e-9;

struct Rules {
  const Case& of;
  Vec3 stock;
  Vec2 edge;  // of a screw's axis
  Lies lies;
  std::vector<const Setup*> setups;

  bool round() const { return of.job.stock.shape == StockShape::round; }
  double gripOf(const HoldDown& h) const { return round() ? gripOnDisc(stock, h) : ::provecut::gripOf(stock, h); }
  // Towards the rim of a disc, between what its side asks for and what its end asks for.
  double rimEdge(SetupPoint2 p) const {
    const Vec2 out = p - middleOf(stock);
    const double away = length(out);
    return std::hypot(edge.x * out.x / away, edge.y * out.y / away);
  }
  double fromRim(SetupPoint2 p) const { return stock.x / 2 - length(p - middleOf(stock)); }
  bool over(SetupPoint2 p) const {
    if (round()) return fromRim(p) >= 0;
    return p.x >= 0 && p.y >= 0 && p.x <= stock.x && p.y <= stock.y;
  }
  bool inside(int program, SetupPoint2 p) const {
    return cutGoesRound(of.job, *setups[program], of.programs[program],
                        setupToStock(of.job.stock, of.job.setups[0], p));
  }
  bool lieServes(const HoldDown& h, const HoldDown& home) const {
    const bool on = whollyOn(of, stock, h);
    if (lies == Lies::on) return on;
    if (on || overlap(h, stockForm(of, stock)) != (lies == Lies::across)) return false;
    return lies == Lies::beside || gripOf(h) >= std::min(5.0, gripOf(home)) - rounding_mm;
  }
  bool edgeServes(const HoldDown& h, const HoldDown& home) const {
    if (h.kind != HoldDownKind::screw) return true;
    if (!over(home.at_mm)) return !over(h.at_mm);
    if (round()) return fromRim(h.at_mm) >= rimEdge(h.at_mm) - rounding_mm;
    return fromSide(h.at_mm.x, stock.x) >= edge.x - rounding_mm && fromSide(h.at_mm.y, stock.y) >= edge.y - rounding_mm;
  }
  bool allow(SetupPoint2 at) const {
    const HoldDown& home = of.job.hold_downs[0];
    const HoldDown h = movedTo(home, at);
    if (!lieServes(h, home) || !edgeServes(h, home)) return false;
    for (const HoldDown& o : of.search.others) {
      if (overlap(h, o)) return false;
    }
    if (!placing::isClearAt(of.job, of.programs, of.search, at)) return false;
    for (int p = 0; h.kind == HoldDownKind::screw && p < std::ssize(of.programs); ++p) {
      if (inside(p, at) && !inside(p, home.at_mm)) return false;
    }
    return true;
  }
};

Rules rulesOf(const Case& c) {
  const HoldDown& home = c.job.hold_downs[0];
  const Setup& setup = c.job.setups[0];
  Rules r{c, stockSizeInSetup(c.job.stock, setup), {}, Lies::on, {}};
  r.lies = overlap(home, stockForm(c, r.stock)) ? Lies::across : Lies::beside;
  if (whollyOn(c, r.stock, home)) r.lies = Lies::on;
  for (const Setup& s : c.job.setups) r.setups.insert(r.setups.end(), s.programs.size(), &s);
  // Five shafts, seven from an end of the grain; no board of fibres splits.
  const bool splits = !c.job.stock.material_given || c.job.stock.material == Material::hardwood;
  const bool turned = setup.rotate_deg == 90;
  const Grain grain = c.job.stock.grain;
  const bool ends_x = grain == (turned ? Grain::y : Grain::x), ends_y = grain == (turned ? Grain::x : Grain::y);
  const double d = splits ? home.shaft_diameter_mm : 0;
  r.edge = {(ends_x ? 7 : 5) * d, (ends_y ? 7 : 5) * d};
  return r;
}

// The nearest of all places up to 150 mm away, or infinity.
double nearestByLooking(const Rules& rules, double step) {
  const SetupPoint2 home = rules.of.job.hold_downs[0].at_mm;
  std::vector<std::pair<double, SetupPoint2>> places;
  for (double i = std::ceil((home.x - 150) / step); i * step <= home.x + 150; ++i) {
    for (double k = std::ceil((home.y - 150) / step); k * step <= home.y + 150; ++k) {
      const SetupPoint2 at{i * step, k * step};
      if (length(at - home) <= 150) places.emplace_back(length(at - home), at);
    }
  }
  std::sort(places.begin(), places.end(), [](const auto& a, const auto& b) { return a.first < b.first; });
  for (const auto& [away, at] : places) {
    if (rules.allow(at)) return away;
  }
  return INFINITY;
}

// What nearestFreeSpot() promises, by looking.
double nearestWanted(const Case& c, double step) {
  Rules rules = rulesOf(c);
  Rules as_near = rules;
  const SetupPoint2 home = c.job.hold_downs[0].at_mm;
  if (rules.over(home) && rules.edge.x > 0) {
    const double share = rules.round() ? rules.fromRim(home) / rules.rimEdge(home)
                                       : std::min(fromSide(home.x, rules.stock.x) / rules.edge.x,
                                                  fromSide(home.y, rules.stock.y) / rules.edge.y);
    as_near.edge = rules.edge * std::min(1.0, share);
  }
  if (as_near.allow(home)) return 0;
  const double away = nearestByLooking(rules, step);
  const bool nearer = as_near.edge.x < rules.edge.x || as_near.edge.y < rules.edge.y;
  return away < INFINITY || !nearer ? away : nearestByLooking(as_near, step);
}

unsigned countAsked(unsigned otherwise) {
  const char* asked = std::getenv("PROVECUT_PLACES");
  return asked == nullptr ? otherwise : static_cast<unsigned>(std::atoi(asked));
}

void eachIsFreeAndNoneIsNearer(bool round) {
  int moved = 0, none = 0;
  for (unsigned seed = 1; seed <= countAsked(25); ++seed) {
    Case c = randomCase(seed, round);
    c.search.step_mm = 2;  // so that all around can be tried
    const auto at = placing::nearestFreeSpot(c.job, c.programs, c.search);
    const double away = at ? length(*at - c.job.hold_downs[0].at_mm) : INFINITY, wanted = nearestWanted(c, 2);
    EXPECT_EQ(at.has_value(), wanted < INFINITY) << "seed " << seed << ", " << away << ", " << wanted;
    if (at && wanted < INFINITY) {
      EXPECT_NEAR(away, wanted, 1e-9) << "seed " << seed;
    }
    moved += at && away > 0;
    none += !at;
  }
  std::printf("%d moved, %d without a free spot\n", moved, none);
  EXPECT_GT(moved, 5);
}

TEST(RandomSpots, each_is_free_and_none_that_is_free_is_nearer) {
  eachIsFreeAndNoneIsNearer(false);
}

TEST(RandomSpots, on_round_stock_each_is_free_and_none_that_is_free_is_nearer) {
  eachIsFreeAndNoneIsNearer(true);
}

// In steps of a tenth, as it is asked for. A second is plenty on a machine of its own; ten here, for sanitizers.
TEST(RandomSpots, each_is_found_at_once) {
  double longest_s = 0;
  for (unsigned seed = 1; seed <= countAsked(100); ++seed) {
    const Case c = randomCase(seed);
    const std::clock_t begin = std::clock();
    const auto at = placing::nearestFreeSpot(c.job, c.programs, c.search);
    longest_s = std::max(longest_s, static_cast<double>(std::clock() - begin) / CLOCKS_PER_SEC);
    if (at) {
      EXPECT_TRUE(placing::isClearAt(c.job, c.programs, c.search, *at)) << "seed " << seed;
    }
    EXPECT_LT(longest_s, 10) << "seed " << seed;
  }
  std::printf("the longest search took %.3f s\n", longest_s);
}

}  // namespace
}  // namespace provecut
