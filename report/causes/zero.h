// A setup's work zero in the words that a job file has for it.
#pragma once

#include <string>

#include "parser/job/job.h"

namespace provecut::causes {

enum class Side { low, middle, high, other };

// Where along a side of the stock the zero is; `other`: at a number.
Side sideOf(double zero_mm, double size_mm);
double zeroAt(Side side, double size_mm);

struct Zero {
  Side x = Side::low, y = Side::low, z = Side::high;
};

Zero zeroOf(const Stock& stock, const Setup& setup);
void setZero(const Stock& stock, Setup& setup, Zero zero);

// The line for the job file: `zero = ["left", "front", "top"]`; numbers stay as they are, in the file's unit.
std::string zeroLine(const Job& job, const Setup& setup, bool job_file_in_inches);

}  // namespace provecut::causes
