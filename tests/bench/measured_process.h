// provecut as a process of its own, with its time and memory, and bars that fail when missed.
#pragma once

#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <string>

namespace provecut::bench {

inline double secondsSince(std::chrono::steady_clock::time_point start) {
  return std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
}

struct Measured {
  double seconds = 0, megabytes = 0;
};

// Keeps the best: other work on the machine only ever makes a run longer.
inline void measure(const std::string& program, const char* command, const std::filesystem::path& job, Measured& best) {
  const auto start = std::chrono::steady_clock::now();
  std::fflush(stdout);  // else the child writes it once more
  const pid_t child = fork();
  if (child == 0) {
    if (!std::freopen("/dev/null", "w", stdout)) std::exit(9);
    execl(program.c_str(), program.c_str(), command, job.c_str(), "--format", "json", "--quiet", nullptr);
    std::exit(9);
  }
  int status = 0;
  rusage used{};
  wait4(child, &status, 0, &used);
  // 1: it found something.
  if (!WIFEXITED(status) || WEXITSTATUS(status) > 1) {
    std::fprintf(stderr, "the program ended with %d\n", status);
    std::exit(2);
  }
  const double s = secondsSince(start);
  if (best.seconds == 0 || s < best.seconds) best = {s, static_cast<double>(used.ru_maxrss) / 1024};
}

inline int missed_bars = 0;

inline void bar(const char* what, double got, double most) {
  std::printf("  %-52s %8.2f   at most %6.1f   %s\n", what, got, most, got <= most ? "kept" : "MISSED");
  if (got > most) ++missed_bars;
}

}  // namespace provecut::bench
