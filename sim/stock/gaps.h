// Cuts that pass between the centres of dexels: kerfs narrower than a cell, and the grooves of pointed tools, whose
// depth no centre tells.
#pragma once

#include <cstdint>
#include <unordered_map>

namespace provecut::cutting {

// What is left between the centres of two dexels side by side, mm above the underside of the stock in its setup.
struct Gap {
  float low = 0, high = 0;
};

// By the left or the front one of the two dexels.
struct Gaps {
  std::unordered_map<std::uint32_t, Gap> to_right, to_back;

  bool empty() const { return to_right.empty() && to_back.empty(); }
};

}  // namespace provecut::cutting
