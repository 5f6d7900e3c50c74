#include "sim/pieces/program_cut.h"

#include <algorithm>

#include "sim/path/setup_frame.h"

namespace provecut::pieces {

std::optional<cutting::Cell> cellAt(const cutting::DexelField& f, const ProgramAt& at, StockPoint2 point) {
  const SetupPoint2 p = stockToSetup(at.job.stock, at.setup, point);
  return f.cellAt(p.x, p.y);
}

SetupPoint cellCentre(const cutting::DexelField& f, cutting::Cell c) {
  const auto [x, y] = f.place(c);
  return atHeight(f.centre(x, y), cutting::shownHeight_mm(f.top[c]));
}

double widestCutter_mm(const Job& job) {
  double widest = 0;
  for (const Tool& t : job.tools) widest = std::max(widest, t.diameter_mm);
  return widest;
}

std::uint32_t lastCut(const Program& program, const ProgramRun& run) {
  for (std::size_t m = std::min(program.motions.size(), run.cuts.size()); m-- > 0;) {
    if (run.cuts[m].bite_mm > 0) return static_cast<std::uint32_t>(m);
  }
  return 0;
}

std::uint32_t motionThatCut(const ProgramCut& cut, cutting::DexelReplayer& replayer, cutting::Cell cell) {
  const auto* hollows = cut.before.undercut.holds(cell) ? &cut.before.undercut.at(cell, cut.before.row(cell)) : nullptr;
  return replayer.replay(cell, {cut.after.floor[cell], cut.before.top[cell], hollows}).last.value_or(0);
}

}  // namespace provecut::pieces
