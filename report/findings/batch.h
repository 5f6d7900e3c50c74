// Several jobs checked in one run: their sum.
#pragma once

#include <cstddef>
#include <span>

#include "report/findings/report.h"
#include "sim/observed/time_spent.h"

namespace provecut {

// Verdict, findings and time of all; complete only where each is.
struct BatchSum {
  Verdict verdict = Verdict::clear;
  bool complete = true;
  std::size_t stop = 0, look = 0, note = 0;  // accepted findings left out
  TimeSpent time, low, high;
};
BatchSum batchSum(std::span<const Report> reports);

}  // namespace provecut
