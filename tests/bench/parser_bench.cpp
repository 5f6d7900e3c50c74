// Text to motions against a bare scan of the same text: std::from_chars over each number, nothing kept.
#include <benchmark/benchmark.h>

#include <charconv>
#include <string>

#include "parser/interpreter/interpreter.h"
#include "tests/bench/bare_height_kernel.h"

namespace provecut::bench {
namespace {

// Plain G1 lines of a 3D finishing program.
std::string plainLines(std::size_t lines) {
  std::string text = "G21 G90 G17 G94\nS18000 M3\nF2000\n";
  char line[96];
  for (const WorkPoint& p : finishingPoints(300, 20, 0.5, 300.0 * 600 / static_cast<double>(lines + 1), lines)) {
    text.append(
        line, static_cast<std::size_t>(std::snprintf(line, sizeof line, "G1 X%.3f Y%.3f Z%.3f\n", p.x, p.y, p.z - 20)));
  }
  return text;
}

void bareScan(benchmark::State& state) {
  const std::string text = plainLines(static_cast<std::size_t>(state.range(0)));
  for (auto _ : state) {
    double sum = 0;
    for (const char *at = text.data(), *end = at + text.size(); at < end;) {
      double value = 0;
      const auto [next, error] = std::from_chars(at, end, value);
      if (error == std::errc{}) {
        sum += value;
        at = next;
      } else {
        ++at;
      }
    }
    benchmark::DoNotOptimize(sum);
  }
  state.SetItemsProcessed(state.iterations() * state.range(0));
}
BENCHMARK(bareScan)->ArgName("lines")->Arg(1'000'000)->Unit(benchmark::kMillisecond);

void textToMotions(benchmark::State& state) {
  const std::string text = plainLines(static_cast<std::size_t>(state.range(0)));
  for (auto _ : state) benchmark::DoNotOptimize(interpret(text));
  state.SetItemsProcessed(state.iterations() * state.range(0));
}
BENCHMARK(textToMotions)->ArgName("lines")->Arg(10'000)->Arg(100'000)->Arg(1'000'000)->Unit(benchmark::kMillisecond);

}  // namespace
}  // namespace provecut::bench
