// The cut against the bare height kernel, on the 3D finishing program of 560,000 ball-nose moves of 0.5 mm (3 mm ball,
// 0.3 mm step-over) on a 300 x 300 x 20 mm stock.
#include <benchmark/benchmark.h>

#include "parser/job/job.h"
#include "sim/run.h"
#include "sim/stock/cut.h"
#include "tests/bench/bare_height_kernel.h"

namespace provecut::bench {
namespace {

constexpr double size_mm = 300, thickness_mm = 20, ball_mm = 3;

std::vector<WorkPoint> points(std::size_t moves) {
  return finishingPoints(size_mm, thickness_mm, 0.5, 0.3 * 560000.0 / static_cast<double>(moves), moves);
}

Job finishingJob(double cell_mm) {
  Job job;
  job.stock.size_mm = {size_mm, size_mm, thickness_mm};
  job.limits.cell_mm = cell_mm;
  Tool ball;
  ball.number = 1;
  ball.shape = ToolShape::ball;
  ball.diameter_mm = ball_mm;
  ball.flute_length_mm = 20;
  ball.shank_diameter_mm = ball_mm;
  ball.stickout_mm = 30;
  job.tools = {ball};
  Setup setup;
  setup.zero_mm = {0, 0, thickness_mm};
  setup.programs.emplace_back();
  setup.programs.back().tool = 1;
  job.setups = {setup};
  return job;
}

Program finishingProgram(std::span<const WorkPoint> p) {
  Program program;
  program.motions.reserve(p.size());
  for (std::size_t i = 0; i + 1 < p.size(); ++i) {
    Motion m;
    m.kind = MotionKind::feed;
    m.start = p[i] - Vec3{0, 0, thickness_mm};
    m.end = p[i + 1] - Vec3{0, 0, thickness_mm};
    m.feed_mm_min = 2000;
    m.rpm = 18000;
    m.tool = 1;
    m.spindle = Spindle::cw;
    m.line = static_cast<std::uint32_t>(i + 1);
    program.motions.push_back(m);
  }
  return program;
}

void bareKernel(benchmark::State& state) {
  const auto p = points(static_cast<std::size_t>(state.range(0)));
  const double cell = static_cast<double>(state.range(1)) / 1000;
  for (auto _ : state) {
    const int n = static_cast<int>(size_mm / cell + 0.5);
    BareField f{n, n, static_cast<float>(cell),
                std::vector<float>(static_cast<std::size_t>(n) * static_cast<std::size_t>(n),
                                   static_cast<float>(thickness_mm))};
    bareBallKernel(f, p, static_cast<float>(ball_mm / 2));
    benchmark::DoNotOptimize(f.height.data());
  }
}
BENCHMARK(bareKernel)
    ->ArgNames({"moves", "cell_um"})
    ->Args({560000, 200})
    ->Args({560000, 100})
    ->Unit(benchmark::kMillisecond)
    ->MinTime(1);

void cutAlone(benchmark::State& state) {
  const auto program = finishingProgram(points(static_cast<std::size_t>(state.range(0))));
  const double cell = static_cast<double>(state.range(1)) / 1000;
  const Job job = finishingJob(cell);
  const Cutters cutters = makeCutters(job);
  for (auto _ : state) {
    cutting::DexelField field = cutting::uncutStock(job.stock, cutting::cellSize(job, 0));
    benchmark::DoNotOptimize(cutting::cutProgram(field, cutters, job, job.setups[0], program.motions));
  }
}
BENCHMARK(cutAlone)
    ->ArgNames({"moves", "cell_um"})
    ->Args({560000, 200})
    ->Args({560000, 100})
    ->Unit(benchmark::kMillisecond)
    ->MeasureProcessCPUTime()
    ->UseRealTime();

void wholeRun(benchmark::State& state) {
  const std::vector<Program> programs{finishingProgram(points(static_cast<std::size_t>(state.range(0))))};
  const Job job = finishingJob(static_cast<double>(state.range(1)) / 1000);
  for (auto _ : state) benchmark::DoNotOptimize(run(job, programs));
}
BENCHMARK(wholeRun)
    ->ArgNames({"moves", "cell_um"})
    ->Args({560000, 200})
    ->Args({1120000, 200})
    ->Args({560000, 100})
    ->Unit(benchmark::kMillisecond)
    ->MeasureProcessCPUTime()
    ->UseRealTime();

}  // namespace
}  // namespace provecut::bench
