// How hard moves worked their cutter. Facts with numbers, no opinions.
#pragma once

namespace provecut {

// How hard a feed move works its cutter at the speed that the machine really reaches; all 0 where it takes nothing or
// the spindle stands still.
struct MoveLoad {
  float speed_mm_min = 0;           // mean over the move
  float top_speed_mm_min = 0;       // the highest reached
  float chip_load_mm = 0;           // way per tooth at the mean speed
  float max_chip_thickness_mm = 0;  // undeformed: at the highest speed and the maximum width of cut
  float removal_mm3_min = 0;        // the highest
  float power_w = 0;                // the highest, at the cutter; like what follows, 0 where the material is not known
  float force_n = 0;                // the maximum, on the teeth in the cut
  float deflection_mm = 0;          // of the cutter under it; 0 where its stick-out is not known
};

}  // namespace provecut
