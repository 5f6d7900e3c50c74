#include "sim/holes/old_hole.h"

#include <algorithm>
#include <map>
#include <optional>

#include "sim/clearance/clearance.h"
#include "sim/clearance/move_bounds.h"
#include "sim/clearance/tolerance.h"
#include "sim/path/setup_frame.h"
#include "sim/path/stock_plan.h"

namespace provecut::holes {

namespace {

// Screws through one hole are not driven more exactly than this, mm.
constexpr double same_hole_mm = 0.5;

bool standsIn(const Job& job, const OldHole& hole, const Setup& setup, const ProgramEntry& entry) {
  const SetupPoint2 at = placeIn(job, hole, setup);
  return std::any_of(entry.hold_downs.begin(), entry.hold_downs.end(), [&](int index) {
    const HoldDown& h = job.hold_downs[index];
    return h.kind == HoldDownKind::screw && length(h.at_mm - at) <= same_hole_mm;
  });
}

void look(const Job& job, const Setup& setup, const Program& program, const std::map<int, ToolBody>& bodies,
          const OldHole& hole, int index, std::vector<HoleInPath>& out) {
  HoldDown shaft;
  shaft.at_mm = placeIn(job, hole, setup);
  shaft.diameter_mm = hole.diameter_mm;
  const clearance::Obstacle o = clearance::obstacle(shaft, stockSizeInSetup(job.stock, setup).z);
  const std::vector<clearance::Way> ways = clearance::knownWays(program);
  std::optional<HoleInPath> found;
  for (std::uint32_t i = 0; i < program.motions.size(); ++i) {
    const Motion& m = program.motions[i];
    const auto body = bodies.find(m.tool);
    if (ways[i] == clearance::Way::none || body == bodies.end()) continue;
    if (clearance::boxBound(clearance::boxOf(m, setup.zero_mm), body->second, o) > clearance::contact_tolerance_mm)
      continue;
    const clearance::Approach a = clearance::approach(clearance::knownPath(m, ways[i], setup.zero_mm, job.machine),
                                                      body->second, o, 2 * clearance::contact_tolerance_mm);
    for (const clearance::PartTouch& t : a.touches) {
      if (t.part != ToolPart::cutter || t.overlap_mm <= clearance::contact_tolerance_mm) continue;
      if (!found) {
        found = HoleInPath{index, i, 0, hole.hold_down, hole.left_by, setupToWork(setup, t.entry)};
      }
      ++found->moves;
    }
  }
  if (found) out.push_back(*found);
}

}  // namespace

std::vector<OldHole> oldHoles(const Job& job) {
  std::vector<OldHole> holes;
  int program = 0;
  for (int s = 0; s < std::ssize(job.setups); ++s) {
    const Setup& setup = job.setups[s];
    const StockPlan stock = stockPlan(job.stock, setup);
    std::map<int, int> last;  // hold-down, program
    for (const ProgramEntry& entry : setup.programs) {
      for (const int h : entry.hold_downs) last[h] = program;
      ++program;
    }
    for (const auto& [index, left_by] : last) {
      const HoldDown& h = job.hold_downs[index];
      if (h.kind != HoldDownKind::screw || beyondEdge_mm(stock, h.at_mm) > 0) continue;
      holes.push_back({index, left_by, s, setupToStock(job.stock, setup, h.at_mm), h.shaft_diameter_mm});
    }
  }
  return holes;
}

SetupPoint2 placeIn(const Job& job, const OldHole& hole, const Setup& setup) {
  return stockToSetup(job.stock, setup, hole.at_stock);
}

std::vector<HoleInPath> holesInPath(const Job& job, const Programs& programs) {
  std::vector<HoleInPath> found;
  const std::vector<OldHole> holes = oldHoles(job);
  if (holes.empty()) return found;
  std::map<int, ToolBody> bodies;
  for (const Tool& t : job.tools) bodies.emplace(t.number, toolBody(t, job.collet_nut, job.spindle_attachments));
  int next = 0;
  for (const Setup& setup : job.setups) {
    for (const ProgramEntry& entry : setup.programs) {
      if (next >= std::ssize(programs)) return found;
      const int index = next++;
      for (const OldHole& hole : holes) {
        if (hole.left_by < index && hole.diameter_mm > 0 && !standsIn(job, hole, setup, entry)) {
          look(job, setup, programs[index], bodies, hole, index, found);
        }
      }
    }
  }
  return found;
}

}  // namespace provecut::holes
