// provecut as a process of its own with its time and memory, and bars that fail when missed.
#pragma once

#include <algorithm>
#include <cstdio>
#include <cstdlib>
#include <ctime>
#include <filesystem>
#include <string>

#include "tests/process.h"

namespace provecut::bench {

// Seconds of this thread's processor: other work on the machine does not count.
inline double processorSeconds() {
  timespec t{};
  clock_gettime(CLOCK_THREAD_CPUTIME_ID, &t);
  return static_cast<double>(t.tv_sec) + 1e-9 * static_cast<double>(t.tv_nsec);
}

struct Measured {
  double processor_s = 0, megabytes = 0;
};

// Keeps the best: other work on the machine only ever makes a run longer.
inline void measure(const std::string& program, const char* command, const std::filesystem::path& job, Measured& best) {
  const testing::Ran ran =
      testing::runProcess(job.parent_path(), {program, command, job.string(), "--format", "json", "--quiet"});
  // 1: it found something.
  if (ran.status < 0 || ran.status > 1) {
    std::fprintf(stderr, "the program ended with %d\n%s", ran.status, ran.err.c_str());
    std::exit(2);
  }
  if (best.processor_s == 0 || ran.processor_s < best.processor_s) best = {ran.processor_s, ran.megabytes};
}

inline int missed_bars = 0;

inline void bar(const char* what, double got, double most) {
  std::printf("  %-52s %8.3f   at most %8.3f   %s\n", what, got, most, got <= most ? "kept" : "MISSED");
  if (got > most) ++missed_bars;
}

}  // namespace provecut::bench
