// The stretches of a long list that can decide at a place: searches that halve their squares hand on ever fewer.
#pragma once

#include <span>
#include <vector>

#include "sim/placing/keep_out.h"

namespace provecut::placing {

// Rounding, mm: what might be the least is looked at, so that neighbours find the very same value at a common corner.
inline constexpr double slack_mm = 1e-9;

// A stretch that may decide somewhere about a middle, and its value there.
struct Near {
  const Stretch* stretch = nullptr;
  double value = 0;
};

std::vector<Near> allOf(std::span<const Stretch> stretches);

// A disc of places, mm, and above which distance none need be known in it.
struct Disc {
  SetupPoint2 middle;
  double radius = 0;
  double cap = 0;
};

// By how much the footprint keeps out in the middle of the disc. In `kept` those stretches that can decide within it,
// the least first: those that may come below the cap there and below the least one. Where no place of the disc is
// clear, the first value that tells so, and `kept` is of no use.
double leastWithin(const Disc& disc, const Footprint& form, const std::vector<Near>& of, std::vector<Near>& kept);

// By how much the footprint, put at p, keeps out, up to the disc's cap; `kept` by leastWithin() for a disc about p.
double valueAt(const SetupPoint2& p, const Footprint& form, const std::vector<Near>& kept, double radius, double cap);

}  // namespace provecut::placing
