// What a run tells of its stages, for logs: how long each took and how much it went through.
#pragma once

#include <chrono>
#include <cstddef>
#include <functional>
#include <string_view>

namespace provecut {

struct Stage {
  std::string_view name;  // "cut"
  double time_s = 0;      // of this stage alone; stages may overlap
  std::size_t size = 0;
  std::string_view of;  // what `size` counts: "moves"
};

using StageObserver = std::function<void(const Stage&)>;

// Adds up the seconds of what is done in pieces.
class Stopwatch {
 public:
  template <class Work>
  void time(const Work& work) {
    const auto begun = std::chrono::steady_clock::now();
    work();
    time_s_ += std::chrono::duration<double>(std::chrono::steady_clock::now() - begun).count();
  }
  double time_s() const { return time_s_; }

 private:
  double time_s_ = 0;
};

}  // namespace provecut
