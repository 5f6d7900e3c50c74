// Moves planned per second on one core. Wanted: 5 million a second, and a cost that grows no faster than the program.
#include <benchmark/benchmark.h>

#include <cmath>

#include "sim/clock.h"

namespace provecut {
namespace {

// A 3D finishing program: raster lines over waves, moves of 0.5 mm.
Program finishing(std::size_t moves) {
  Program p;
  p.motions.reserve(moves);
  Motion m;
  m.kind = MotionKind::feed;
  m.feed_mm_min = 3000;
  double x = 0, y = 0, step = 0.5;
  while (p.motions.size() < moves) {
    m.start = m.end;
    x += step;
    if (x > 300 || x < 0) {
      x -= step;
      step = -step;
      y += 0.3;
    }
    m.end = {x, y, 3 * std::sin(x / 9) * std::cos(y / 7) - 4};
    p.motions.push_back(m);
  }
  return p;
}

// Circles of 3 to 23 mm, each a quarter turn at a time, with a climb.
Program arcs(std::size_t moves) {
  Program p;
  Motion m;
  m.kind = MotionKind::arc_ccw;
  m.feed_mm_min = 3000;
  for (std::size_t i = 0; i < moves; ++i) {
    const double r = 3 + static_cast<double>(i % 21);
    m.start = {r, 0, 0};
    m.end = {0, r, -0.1};
    p.motions.push_back(m);
  }
  return p;
}

void planFinishing(benchmark::State& state) {
  const Program program = finishing(static_cast<std::size_t>(state.range(0)));
  const Machine machine;
  for (auto _ : state) benchmark::DoNotOptimize(plan(program, machine).time);
  state.SetItemsProcessed(state.iterations() * state.range(0));
  state.SetComplexityN(state.range(0));
}
BENCHMARK(planFinishing)->RangeMultiplier(4)->Range(1 << 14, 1 << 20)->Unit(benchmark::kMillisecond)->Complexity(benchmark::oN);

void planArcs(benchmark::State& state) {
  const Program program = arcs(static_cast<std::size_t>(state.range(0)));
  const Machine machine;
  for (auto _ : state) benchmark::DoNotOptimize(plan(program, machine).time);
  state.SetItemsProcessed(state.iterations() * state.range(0));
}
BENCHMARK(planArcs)->Arg(1 << 18)->Unit(benchmark::kMillisecond);

}  // namespace
}  // namespace provecut
