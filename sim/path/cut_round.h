// Does a program cut round a place? What lies inside a closed cut belongs to a part, an island or an offcut.
#pragma once

#include <span>
#include <vector>

#include "parser/job/job.h"
#include "parser/program/motion.h"

namespace provecut {

// Cuts are feed moves below the stock's top face, seen from above.

// True where some unbroken run of cuts goes round the point `at` by three quarters of a turn or
// more.
bool cutGoesRound(const Job& job, const Setup& setup, const Program& program, StockPoint2 at);

// A straight piece of a cut, or an eighth of a turn of one.
struct CutChord {
  SetupPoint2 a, b;
  bool last_of_move = false;
};

// Cuts with nothing but cuts between them.
struct CutRun {
  std::vector<CutChord> chords;
  SetupPoint2 low, high;  // corners of the rectangle about them
  bool joined = true;     // each begins where the one before it ends
};

// The runs that cutGoesRound() goes along, in the frame of the setup `in`.
std::vector<CutRun> cutRuns(const Job& job, const Setup& setup, const Program& program, const Setup& in);

// cutGoesRound() for every place at most `within_mm` from p: for none of them, for all, or not known.
enum class GoesRound { none, all, unknown };
GoesRound cutGoesRoundAll(std::span<const CutRun> runs, SetupPoint2 p, double within_mm);

// Adds the distances from `from`, mm, at which the straight way to `to` crosses a cut. Between
// two of them cutGoesRound changes for no closed cut.
void addCrossings(const Job& job, const Setup& setup, const Program& program, StockPoint2 from, StockPoint2 to,
                  std::vector<double>& distances);

}  // namespace provecut
