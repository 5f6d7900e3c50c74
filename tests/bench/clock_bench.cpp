// Moves planned per second on one core, and how the cost grows; clock_bars.cpp holds it to its bars.
#include <benchmark/benchmark.h>

#include "sim/clock/clock.h"
#include "tests/bench/planned_programs.h"

namespace provecut {
namespace {

void planFinishing(benchmark::State& state) {
  const Program program = bench::finishingProgram(static_cast<std::size_t>(state.range(0)));
  const Machine machine;
  for (auto _ : state) benchmark::DoNotOptimize(clock::plan(program, machine).time);
  state.SetItemsProcessed(state.iterations() * state.range(0));
  state.SetComplexityN(state.range(0));
}
BENCHMARK(planFinishing)
    ->RangeMultiplier(4)
    ->Range(1 << 14, 1 << 20)
    ->Unit(benchmark::kMillisecond)
    ->Complexity(benchmark::oN);

void planArcs(benchmark::State& state) {
  const Program program = bench::arcProgram(static_cast<std::size_t>(state.range(0)));
  const Machine machine;
  for (auto _ : state) benchmark::DoNotOptimize(clock::plan(program, machine).time);
  state.SetItemsProcessed(state.iterations() * state.range(0));
}
BENCHMARK(planArcs)->Arg(1 << 18)->Unit(benchmark::kMillisecond);

}  // namespace
}  // namespace provecut
