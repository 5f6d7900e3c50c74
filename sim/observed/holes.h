// Pins, screws and their holes. Facts with numbers, no opinions: indices point into the Job and
// into each program's motions, points are in work coordinates of the setup, mm, unless said.
#pragma once

#include <cstdint>

#include "parser/base/geometry.h"
#include "parser/job/job.h"

namespace provecut {

// Blind holes from both faces whose axes lie near each other.
struct HolePair {
  int run_a = 0, run_b = 0;  // run_b is the later one
  std::uint32_t move_a = 0, move_b = 0;
  WorkPoint at;  // bottom of the later hole, in run_b
  double radius_a_mm = 0, radius_b_mm = 0;
  WorkDirection2 offset;     // from the later hole's axis to the earlier one's, in run_b
  double skin_mm = 0;        // between their tips; negative: they pass each other by that much
  int moves_with_stock = 0;  // what the skin gains where the stock is 1 mm thicker: 1, 0 or -1 mm
};

// A round pin that stands under the stock and the hole in the stock that it stands in, at the first program of a setup
// in which it stands. Holes are what the programs before cut.
struct PinFit {
  int program = 0;  // in the order of the job
  int hold_down = 0;
  double wall_mm =
      0;  // from the pin's axis to the nearest material beside it, over its depth; 0: it stands in material
  double free_depth_mm = 0;  // how far up from the underside the hole takes it
  // Widths of the hole through the pin's axis: along the line through the setup's pins and square to it; of a single
  // pin, or one of more than two, the narrowest for both.
  double along_mm = 0, across_mm = 0;
};

// The pins of a setup fit, but only where the stock lies elsewhere than the setup says.
struct PinsElsewhere {
  int program = 0;
  SetupDirection2 shift;  // of the stock
  int turned_deg = 0;     // 0: as the setup says; else the stock is that much too far round
};

// The pins of a setup do not fit, but would with the stock flipped or rotated otherwise than the setup says.
struct PinsFlipped {
  int program = 0;
  Flip flip = Flip::none;
  int rotate_deg = 0;
};

// What a screw stands in when a program starts that it holds for.
struct ScrewSeat {
  int program = 0;
  int hold_down = 0;
  double thickness_mm = 0;  // the least under its head, the hole of its shaft left out
  double rests_at_mm = 0;   // the highest wood under its head, above the stock's underside; 0 where there is none
  double pilot_mm = 0;      // how much of the thickness is bored or cut away on its axis
};

// A cut that meets the place where a screw stood before.
struct HoleInPath {
  int program = 0;
  std::uint32_t move = 0;  // the first one
  std::uint32_t moves = 0;
  int hold_down = 0;
  int left_by = 0;  // the last program for which it stood there
  WorkPoint at;     // of the tip at the first contact
};

}  // namespace provecut
