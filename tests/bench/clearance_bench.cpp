// Hold-downs against the 3D finishing program of 560,000 ball-nose moves of 0.5 mm on a 300 x 300 x 20 mm
// stock: four screws in its corners and two clamps at its edges.
#include <benchmark/benchmark.h>

#include "sim/clearance/clearance.h"
#include "sim/placing/hold_down_spots.h"
#include "tests/bench/bare_height_kernel.h"

namespace provecut::bench {
namespace {

constexpr double size_mm = 300, thickness_mm = 20;

Job heldJob(double inset_mm) {
  Job job;
  job.stock.size_mm = {size_mm, size_mm, thickness_mm};
  Tool ball;
  ball.number = 1;
  ball.shape = ToolShape::ball;
  ball.diameter_mm = 3;
  ball.flute_length_mm = 20;
  ball.shank_diameter_mm = 3;
  ball.stickout_mm = 30;
  job.tools = {ball};
  ProgramEntry entry;
  const auto add = [&](HoldDown h) {
    entry.hold_downs.push_back(static_cast<int>(job.hold_downs.size()));
    job.hold_downs.push_back(h);
  };
  for (const double x : {inset_mm, size_mm - inset_mm}) {
    for (const double y : {inset_mm, size_mm - inset_mm}) {
      HoldDown screw;
      screw.at_mm = {x, y};
      screw.diameter_mm = 9;
      screw.top_mm = 4.5;
      add(screw);
    }
  }
  for (const double y : {-20.0, size_mm + 20}) {
    HoldDown clamp;
    clamp.kind = HoldDownKind::clamp;
    clamp.at_mm = {size_mm / 2, y};
    clamp.size_mm = {30, 60};
    clamp.angle_deg = 10;
    clamp.top_mm = 25;
    add(clamp);
  }
  Setup setup;
  setup.zero_mm = {0, 0, thickness_mm};
  setup.programs = {entry};
  job.setups = {setup};
  return job;
}

Program finishing(std::size_t moves) {
  const auto p = finishingPoints(size_mm, thickness_mm, 0.5, 0.3 * 560000.0 / static_cast<double>(moves), moves);
  Program program;
  for (std::size_t i = 0; i + 1 < p.size(); ++i) {
    Motion m;
    m.kind = MotionKind::feed;
    m.start = p[i] - Vec3{0, 0, thickness_mm};
    m.end = p[i + 1] - Vec3{0, 0, thickness_mm};
    m.tool = 1;
    program.motions.push_back(m);
  }
  return program;
}

void holdDowns(benchmark::State& state) {
  const Job job = heldJob(static_cast<double>(state.range(1)));
  const Program program = finishing(static_cast<std::size_t>(state.range(0)));
  std::size_t contacts = 0, near = 0;
  for (auto _ : state) {
    std::vector<Contact> c;
    std::vector<NearPass> n;
    clearance::checkHoldDowns(job, job.setups[0], job.setups[0].programs[0], program, c, n);
    contacts = c.size();
    near = n.size();
  }
  state.counters["contacts"] = static_cast<double>(contacts);
  state.counters["near"] = static_cast<double>(near);
}
// Beside the stock, in its corners, and where the program cuts.
BENCHMARK(holdDowns)
    ->ArgsProduct({{560000, 1120000}, {-20, 8, 40}})
    ->Unit(benchmark::kMillisecond)
    ->MeasureProcessCPUTime();

void spotsOfHoldDowns(benchmark::State& state) {
  const Job job = heldJob(static_cast<double>(state.range(1)));
  const std::vector<Program> programs{finishing(static_cast<std::size_t>(state.range(0)))};
  std::vector<ProgramRun> runs(1);
  clearance::checkHoldDowns(job, job.setups[0], job.setups[0].programs[0], programs[0], runs[0].contacts,
                            runs[0].near_passes);
  for (auto _ : state) benchmark::DoNotOptimize(placing::clearSpots(job, programs, runs));
}
BENCHMARK(spotsOfHoldDowns)->Args({560000, 40})->Unit(benchmark::kMillisecond)->MeasureProcessCPUTime();

}  // namespace
}  // namespace provecut::bench
