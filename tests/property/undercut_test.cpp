// Properties of the cut with undercut tools: it only takes away, separate cuts may come in any order, turning over
// keeps everything, the number of threads does not show.
#include <gtest/gtest.h>

#include <random>

#include "sim/stock/cut.h"
#include "sim/stock/dexel_replay.h"
#include "tests/sim/scene.h"

namespace provecut::testing {
namespace {

const std::vector<Tool>& tools() {
  static const std::vector<Tool> all{flatTool(1, 6), ballTool(2, 6), keyholeTool(3, 9.5, 3.5, 5, 20),
                                     dovetailTool(4, 12.7, 14, 10), roundOverTool(5, 2, 1, 4, 20)};
  return all;
}

Program randomProgram(std::mt19937& random, int tool, int moves, WorkPoint2 low, WorkPoint2 high) {
  std::uniform_real_distribution<double> x(low.x, high.x), y(low.y, high.y), z(-11, 1);
  Moves m(tool, {x(random), y(random), 5});
  for (int k = 0; k < moves; ++k) {
    const WorkPoint at{x(random), y(random), z(random)};
    if (k % 7 == 6)
      m.rapid({at.x, at.y, 5});
    else
      m.feed(at);
  }
  return m.program();
}

// True if the same or less is left at every centre, and in every mean.
void expectOnlyTaken(const cutting::DexelField& before, const cutting::DexelField& after) {
  cutting::DexelSegment plain_a, plain_b;
  for (int y = 0; y < after.ny; ++y) {
    for (int x = 0; x < after.nx; ++x) {
      const cutting::Cell c = after.index(x, y);
      for (const cutting::DexelSegment& left : cutting::centreSegments(after, c, plain_a)) {
        const auto was = cutting::centreSegments(before, c, plain_b);
        ASSERT_TRUE(std::any_of(
            was.begin(), was.end(),
            [&](cutting::DexelSegment w) { return w.low <= left.low + 1e-5F && w.high >= left.high - 1e-5F; }))
            << "material from nowhere at " << x << ", " << y;
      }
      ASSERT_LE(after.top_mean[c] - after.floor_mean[c], before.top_mean[c] - before.floor_mean[c] + 1e-4F)
          << x << ", " << y;
    }
  }
}

TEST(UndercutProperties, a_cut_never_adds_material_from_either_side) {
  std::mt19937 random(3);
  Job job = stockOf({60, 40, 12}, tools());
  const Cutters cutters = makeCutters(job);
  cutting::DexelField field = cutting::uncutStock(job.stock, {0.25, 0.25});
  auto lies = job.setups[0];
  for (int k = 0; k < 12; ++k) {
    auto next = job.setups[0];
    next.flip = k % 3 == 1 ? Flip::left_right : k % 3 == 2 ? Flip::front_back : Flip::none;
    field = cutting::movedTo(field, lies, next);
    lies = next;
    const cutting::DexelField before = field;
    const auto cut = cutting::cutProgram(field, cutters, job, next,
                                         randomProgram(random, 1 + k % 5, 12, {-5, -5}, {65, 45}).motions);
    expectOnlyTaken(before, field);
    double removed = 0;
    for (const MoveCut& c : cut.cuts) removed += static_cast<double>(c.removed_mm3);
    EXPECT_NEAR(removed, cutting::volume_mm3(before) - cutting::volume_mm3(field), 1e-3 * removed + 0.01)
        << "program " << k;
  }
}

TEST(UndercutProperties, a_dexel_cut_alone_ends_as_it_does_in_the_stock) {
  std::mt19937 random(27);
  const Job job = stockOf({60, 40, 12}, tools());
  const Cutters cutters = makeCutters(job);
  int touched = 0, by_motion = 0;
  for (int k = 0; k < 15; ++k) {
    cutting::DexelField field = cutting::uncutStock(job.stock, {0.4, 0.4});
    const cutting::DexelField before = field;
    const Program program = randomProgram(random, 1 + k % 5, 12, {-5, -5}, {65, 45});
    cutting::cutProgram(field, cutters, job, job.setups[0], program.motions);
    cutting::DexelReplayer replayer(field, cutters, job, job.setups[0], program.motions);
    for (int n = 0; n < 400; ++n) {
      const cutting::Cell c = field.index(static_cast<int>(random() % static_cast<unsigned>(field.nx)),
                                          static_cast<int>(random() % static_cast<unsigned>(field.ny)));
      const cutting::DexelReplay alone = replayer.replay(c, {before.floor[c], before.top[c]});
      ASSERT_NEAR(alone.top, field.top[c], 1e-4F) << "program " << k << ", cell " << c;
      const bool cut = cutting::solid_mm(field, c) < cutting::solid_mm(before, c) - cutting::no_material_mm;
      ASSERT_EQ(alone.last.has_value(), cut) << "program " << k << ", cell " << c;
      touched += cut ? 1 : 0;
      by_motion += alone.last && *alone.last > 0 ? 1 : 0;
    }
  }
  EXPECT_GT(touched, 1000);
  EXPECT_GT(by_motion, 1000);
}

TEST(UndercutProperties, turning_over_twice_is_the_stock_as_it_was) {
  std::mt19937 random(9);
  Job job = stockOf({60, 40, 12}, tools());
  cutting::DexelField field = cutting::uncutStock(job.stock, {0.25, 0.25});
  cutting::cutProgram(field, makeCutters(job), job, job.setups[0],
                      randomProgram(random, 3, 20, {0, 0}, {60, 40}).motions);
  std::size_t cells = 0;
  for (const auto& row : field.undercut.rows) cells += row.size();
  ASSERT_GT(cells, 100u);
  for (const Flip flip : {Flip::front_back, Flip::left_right}) {
    for (const int rotate : {0, 90, 180, 270}) {
      auto other = job.setups[0];
      other.flip = flip;
      other.rotate_deg = rotate;
      const cutting::DexelField over = cutting::movedTo(field, job.setups[0], other),
                                back = cutting::movedTo(over, other, job.setups[0]);
      EXPECT_NEAR(cutting::volume_mm3(over), cutting::volume_mm3(field), 1e-6 * cutting::volume_mm3(field));
      for (int y = 0; y < field.ny; ++y) {
        for (int x = 0; x < field.nx; ++x) {
          const cutting::Cell c = field.index(x, y);
          ASSERT_EQ(back.undercut.holds(c), field.undercut.holds(c));
          if (!field.undercut.holds(c)) continue;
          const cutting::UndercutCell &was = field.undercut.at(c, y), &is = back.undercut.at(c, y);
          ASSERT_EQ(is.counts, was.counts);
          for (std::size_t k = 0; k < was.segments.size(); ++k) {
            ASSERT_NEAR(is.segments[k].low, was.segments[k].low, 1e-5);
            ASSERT_NEAR(is.segments[k].high, was.segments[k].high, 1e-5);
          }
        }
      }
    }
  }
}

TEST(UndercutProperties, separate_cuts_may_come_in_any_order) {
  Job job = stockOf({120, 60, 19}, tools());
  const Cutters cutters = makeCutters(job);
  const auto keyhole = [](WorkPoint2 at) {
    Moves m(3);
    m.rapid({at.x, at.y, 5})
        .feed({at.x, at.y, -9})
        .feed({at.x + 12, at.y + 5, -9})
        .feed({at.x, at.y, -9})
        .rapid({at.x, at.y, 5});
    return m.program();
  };
  const std::vector<Program> cuts{keyhole({15, 15}), keyhole({50, 15.1}),
                                  Moves(1).slot({{15, 45}, {40, 40}}, 4).program(),
                                  Moves(5).slot({{70, 45}, {100, 42}}, 5).program()};
  const auto inOrder = [&](const std::vector<std::size_t>& order) {
    cutting::DexelField field = cutting::uncutStock(job.stock, {0.25, 0.25});
    for (const std::size_t k : order) cutting::cutProgram(field, cutters, job, job.setups[0], cuts[k].motions);
    return field;
  };
  const cutting::DexelField one = inOrder({0, 1, 2, 3}), other = inOrder({3, 1, 0, 2});
  EXPECT_EQ(one.top, other.top);
  EXPECT_EQ(one.top_mean, other.top_mean);
  for (cutting::Cell c = 0; c < one.top.size(); ++c) {
    ASSERT_EQ(one.undercut.holds(c), other.undercut.holds(c));
    if (!one.undercut.holds(c)) continue;
    const int y = one.row(c);
    ASSERT_EQ(one.undercut.at(c, y), other.undercut.at(c, y));
  }
}

TEST(UndercutProperties, the_number_of_threads_does_not_show) {
  std::mt19937 random(21);
  Job job = stockOf({120, 90, 12}, tools());
  job.limits.min_floor_mm = 2;
  auto back = job.setups[0];
  back.flip = Flip::front_back;
  job.setups.push_back(back);
  std::vector<Program> programs;
  for (auto& setup : job.setups) {
    for (int tool = 1; tool <= 5; ++tool) {
      setup.programs.emplace_back();
      setup.programs.back().tool = tool;
      programs.push_back(randomProgram(random, tool, 10, {-5, -5}, {125, 95}));
    }
  }
  const auto with = [&](int threads) {
    RunOptions o;
    o.threads = threads;
    return run(job, programs, o);
  };
  const auto one = with(1);
  EXPECT_GT(one.stock.removed_mm3, 1000);
  for (const int threads : {2, 8}) {
    const auto many = with(threads);
    EXPECT_EQ(many.stock.removed_mm3, one.stock.removed_mm3);
    EXPECT_EQ(many.not_checked, one.not_checked);
    for (std::size_t p = 0; p < programs.size(); ++p) {
      const ProgramRun &a = one.programs[p], &b = many.programs[p];
      ASSERT_EQ(a.cuts.size(), b.cuts.size());
      for (std::size_t m = 0; m < a.cuts.size(); ++m) {
        ASSERT_EQ(a.cuts[m].removed_mm3, b.cuts[m].removed_mm3);
        ASSERT_EQ(a.cuts[m].axial_depth_mm, b.cuts[m].axial_depth_mm);
        ASSERT_EQ(a.cuts[m].bite_mm, b.cuts[m].bite_mm);
        ASSERT_EQ(a.cuts[m].broken_mm, b.cuts[m].broken_mm);
      }
      ASSERT_EQ(a.thin_floors.size(), b.thin_floors.size());
      for (std::size_t k = 0; k < a.thin_floors.size(); ++k) {
        EXPECT_EQ(a.thin_floors[k].move, b.thin_floors[k].move);
        EXPECT_EQ(a.thin_floors[k].thickness_mm, b.thin_floors[k].thickness_mm);
      }
      ASSERT_EQ(a.pieces.size(), b.pieces.size());
      for (std::size_t k = 0; k < a.pieces.size(); ++k) {
        EXPECT_EQ(a.pieces[k].move, b.pieces[k].move);
        EXPECT_EQ(a.pieces[k].volume_mm3, b.pieces[k].volume_mm3);
      }
    }
  }
}

}  // namespace
}  // namespace provecut::testing
