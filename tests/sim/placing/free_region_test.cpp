// What the issue asks of safe regions: every spot in one is clear when it is checked as a hold-down with the exact
// check, every spot outside by more than the resolution is not.
#include "sim/placing/free_region.h"

#include <gtest/gtest.h>

#include <cmath>
#include <cstdio>

#include "tests/sim/placing/scene.h"

namespace provecut {
namespace {

using namespace place_scene;

struct Tried {
  int inside = 0, outside = 0;
};

// `spots` of them at random, half over all, half within 2 mm of the region's outline, where it is decided.
Tried tryOut(const Job& job, const Program& program, const HoldDown& form, const placing::FreeRegion& region, int spots,
             std::mt19937& random) {
  std::uniform_real_distribution<double> x(region.low.x, region.high.x), y(region.low.y, region.high.y), near(-2, 2);
  std::vector<SetupPoint2> corners;
  for (const auto& ring : region.rings) corners.insert(corners.end(), ring.begin(), ring.end());
  Tried tried;
  for (int i = 0; i < spots; ++i) {
    SetupPoint2 p{x(random), y(random)};
    if (i % 2 == 1 && !corners.empty()) {
      p = corners[random() % corners.size()] + Vec2{near(random), near(random)};
      p = {std::clamp(p.x, region.low.x, region.high.x), std::clamp(p.y, region.low.y, region.high.y)};
    }
    const double away = fromRegion(region, p);
    if (away == 0) {
      ++tried.inside;
      EXPECT_TRUE(clearAt(job, program, form, p)) << p.x << ", " << p.y << " is given as free";
    } else if (away > region.resolution_mm) {
      ++tried.outside;
      EXPECT_FALSE(clearAt(job, program, form, p)) << p.x << ", " << p.y << " is " << away << " from all that is given";
    }
  }
  return tried;
}

TEST(FreeRegion, ten_thousand_spots_about_random_programs_for_heads_and_clamps) {
  const unsigned seed = 20261125;
  std::printf("seed %u\n", seed);
  std::mt19937 random(seed);
  const std::vector<HoldDown> forms{roundForm(9.5, 3.5), roundForm(12, 0.5), boxForm({60, 20}, 0, 12),
                                    boxForm({32, 110}, 30, 25), roundForm(9, -8)};
  Tried all;
  for (int scene = 0; scene < 20; ++scene) {
    const Job job = plainJob();
    const Program program = randomProgram(random, 4 + scene);
    const HoldDown& form = forms[static_cast<std::size_t>(scene) % forms.size()];
    const placing::FreeRegion region = regionOf(job, program, form);
    const Tried tried = tryOut(job, program, form, region, 500, random);
    all.inside += tried.inside;
    all.outside += tried.outside;
  }
  std::printf("%d inside, %d outside\n", all.inside, all.outside);
  EXPECT_GT(all.inside, 4000);
  EXPECT_GT(all.outside, 2500);
}

// As the page asks for it: levels of tips instead of each one's height, and coarse stretches.
TEST(FreeRegion, a_quick_look_gives_only_what_is_clear_and_max_of_it) {
  const unsigned seed = 20261126;
  std::printf("seed %u\n", seed);
  std::mt19937 random(seed);
  const std::vector<HoldDown> forms{roundForm(9.5, 3.5), boxForm({60, 20}, 0, 12), boxForm({32, 110}, 30, 25),
                                    roundForm(9, -8)};
  int in_full = 0, in_both = 0;
  std::uniform_real_distribution<double> x(-40, 340), y(-40, 240);
  for (int scene = 0; scene < 8; ++scene) {
    const Job job = plainJob();
    const Program program = randomProgram(random, 4 + scene);
    const HoldDown& form = forms[static_cast<std::size_t>(scene) % forms.size()];
    const clearance::Obstacle o = aboutOrigin(form, job);
    const auto stretches = placing::keepOut(job, job.setups[0], program, o.top_mm, 1, false, 0.05);
    placing::FreeRegion quick =
        placing::freeRegion(stretches, o, {-40, -40}, {job.stock.size_mm.x + 40, job.stock.size_mm.y + 40}, 2);
    const placing::FreeRegion full = regionOf(job, program, form);
    for (int i = 0; i < 2000; ++i) {
      const SetupPoint2 p{x(random), y(random)};
      if (!full.contains(p)) continue;
      ++in_full;
      in_both += quick.contains(p) ? 1 : 0;
    }
    quick.resolution_mm = 1000;  // nothing is said of what lies outside
    tryOut(job, program, form, quick, 300, random);
  }
  std::printf("%d of %d free spots\n", in_both, in_full);
  EXPECT_GT(in_full, 3000);
  EXPECT_GT(in_both, 0.9 * in_full);
}

TEST(FreeRegion, with_independent_axes_the_dogleg_is_kept_out_of) {
  std::mt19937 random(7);
  Job job = plainJob();
  job.machine.rapids = Rapids::independent;
  Motion m;
  m.tool = 1;
  m.start = {20, 20, -3};
  m.end = {220, 90, -3};
  const Program program = programOf({m});
  const HoldDown form = roundForm(9, 4.5);
  EXPECT_FALSE(regionOf(job, program, form).contains({90, 90}));  // the corner of the dogleg
  EXPECT_TRUE(regionOf(job, program, form).contains({130, 55}));  // the middle of the straight way
  tryOut(job, program, form, regionOf(job, program, form), 500, random);
}

TEST(FreeRegion, round_one_groove_the_area_is_that_of_all_but_a_capsule) {
  const Job job = plainJob();
  Motion m;
  m.kind = MotionKind::feed;
  m.tool = 1;
  m.start = {100, 100, -3};
  m.end = {200, 100, -3};
  const placing::FreeRegion region = regionOf(job, programOf({m}), roundForm(9, 4.5));
  // Cutter 3 + clearance 3 + head 4.5; the nut is far above.
  const double r = 10.5, box = (region.high.x - region.low.x) * (region.high.y - region.low.y);
  const double capsule = 2 * r * 100 + M_PI * r * r, outline = 2 * 100 + 2 * M_PI * r;
  EXPECT_LE(region.area_mm2, box - capsule);
  EXPECT_GE(region.area_mm2, box - capsule - outline * region.resolution_mm);
  ASSERT_EQ(region.rings.size(), 2u);
  EXPECT_TRUE(region.contains({150, 110.9}));
  EXPECT_FALSE(region.contains({150, 110.499}));
}

TEST(FreeRegion, a_gap_much_narrower_than_the_resolution_is_found) {
  // Two grooves leave a head of 9 a gap of a twentieth of a millimetre to stand in.
  const Job job = plainJob();
  std::vector<Motion> motions;
  for (const double y : {100.0, 100 + 21.05}) {
    Motion m;
    m.kind = MotionKind::feed;
    m.tool = 1;
    m.start = {-100, y, -3};
    m.end = {400, y, -3};
    motions.push_back(m);
  }
  std::mt19937 random(11);
  const placing::FreeRegion region = regionOf(job, programOf(motions), roundForm(9, 4.5));
  for (double x = -39; x < 339; x += 3.7) EXPECT_LE(fromRegion(region, {x, 110.525}), region.resolution_mm);
  tryOut(job, programOf(motions), roundForm(9, 4.5), region, 500, random);
}

TEST(FreeRegion, a_pinhole_of_free_ground_is_found_wherever_it_lies) {
  // Four grooves leave a head of 9 a square of 0.06 mm to stand in: cutter 3 + clearance 3 + head 4.5 from each.
  const Job job = plainJob();
  for (int k = 0; k < 24; ++k) {
    const SetupPoint2 hole{100 + 0.0371 * k, 90 + 0.0173 * k};
    std::vector<Motion> motions;
    for (const double side : {-10.53, 10.53}) {
      motions.push_back(feed({hole.x - 60, hole.y + side, -3}, {hole.x + 60, hole.y + side, -3}));
      motions.push_back(feed({hole.x + side, hole.y - 60, -3}, {hole.x + side, hole.y + 60, -3}));
    }
    const placing::FreeRegion region = regionOf(job, programOf(motions), roundForm(9, 4.5));
    ASSERT_TRUE(clearAt(job, programOf(motions), roundForm(9, 4.5), hole));
    EXPECT_LE(fromRegion(region, hole), region.resolution_mm) << "hole " << k;
  }
}

TEST(FreeRegion, a_finer_resolution_takes_away_less) {
  std::mt19937 random(3);
  const Job job = plainJob();
  const Program program = randomProgram(random, 12);
  const auto taken = [&](double resolution) {
    const placing::FreeRegion r = regionOf(job, program, roundForm(9.5, 3.5), resolution);
    return (r.high.x - r.low.x) * (r.high.y - r.low.y) - r.area_mm2;
  };
  EXPECT_GT(taken(2), taken(0.5));
  EXPECT_GT(taken(0.5), taken(0.125));
}

TEST(FreeRegion, without_moves_all_is_free_and_under_a_covering_cut_nothing) {
  const Job job = plainJob();
  const placing::FreeRegion all = regionOf(job, programOf({}), roundForm(9, 4.5));
  EXPECT_NEAR(all.area_mm2, (all.high.x - all.low.x) * (all.high.y - all.low.y), 1e-6);
  std::vector<Motion> motions;
  for (int y = -60; y < 260; y += 6) {
    Motion m;
    m.kind = MotionKind::feed;
    m.tool = 1;
    m.start = {-60, 1.0 * y, -1};
    m.end = {360, 1.0 * y, -1};
    motions.push_back(m);
  }
  EXPECT_TRUE(regionOf(job, programOf(motions), roundForm(9, 4.5)).rings.empty());
}

}  // namespace
}  // namespace provecut
