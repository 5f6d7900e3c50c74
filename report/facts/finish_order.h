// Finishing programs that run before their roughing, as far as their names and first comments tell.
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>

#include "report/facts/facts.h"

namespace provecut {

struct FinishedFirst {
  std::size_t roughing = 0;   // the program that should have run before
  std::uint32_t deepest = 0;  // the finishing's deepest move, and its cut in one pass
  double deepest_mm = 0;
};

// Of a finishing program that meets the full stock.
std::optional<FinishedFirst> finishedFirst(const Facts& facts, std::size_t program);

// True for a roughing program whose cuts such a finishing has taken.
bool isRoughedTooLate(const Facts& facts, std::size_t program);

}  // namespace provecut
