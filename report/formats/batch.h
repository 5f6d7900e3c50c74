// Several jobs checked in one run: each as it would be alone, then their sum.
#pragma once

#include <cstddef>
#include <iosfwd>
#include <span>
#include <string>

#include "report/formats/text.h"
#include "report/report.h"

namespace provecut {

// Verdict, findings and time of all; complete only where each is.
struct BatchSum {
  Verdict verdict = Verdict::clear;
  bool complete = true;
  std::size_t stop = 0, look = 0, note = 0;  // accepted findings left out
  TimeSpent time, low, high;
};
BatchSum batchSum(std::span<const Report> reports);

// At most 100 columns.
void writeBatchText(std::span<const Report> reports, const TextStyle& style, std::ostream& out);

// Version 1 (report/schemas/batch-1.schema.json): "jobs" holds one report each, "counts" and "time" the sums.
void writeBatchJson(std::span<const Report> reports, std::ostream& out);

}  // namespace provecut
