#include "sim/path/sweep.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "sim/path/path.h"

namespace provecut {

void appendSweeps(const Motion& motion, std::uint32_t index, const Setup& setup, const Machine& machine,
                  double chord_error_mm, std::vector<Sweep>& sweeps) {
  for (const PathPiece& piece : pathOf(motion, setup.zero_mm, machine)) {
    int chords = 1;
    if (piece.arc) {
      // The error grows with the square of the angle; no bound on the angle is needed once a quarter turn is one chord.
      const double angle = std::abs(piece.sweep);
      const double wanted = angle * std::sqrt(chordError(piece, 1) / chord_error_mm);
      chords = static_cast<int>(std::clamp(std::ceil(wanted), std::ceil(angle / (std::numbers::pi / 4)), 1e6));
      chords = std::max(1, chords);
    }
    SetupPoint from = piece.start;
    for (int k = 1; k <= chords; ++k) {
      const SetupPoint to = pointAt(piece, static_cast<double>(k) / chords);
      sweeps.push_back({from.x, from.y, to.x, to.y, static_cast<float>(from.z), static_cast<float>(to.z), index});
      from = to;
    }
  }
}

}  // namespace provecut
