#include "sim/stock/cut_gaps.h"

#include <algorithm>
#include <cmath>
#include <vector>

#include "sim/path/motion_extent.h"
#include "sim/path/setup_frame.h"
#include "sim/path/sweep.h"

namespace provecut::cutting {

namespace {

// A tool whose surface rises by more than this from the tip to a cell's corner is pointed at that scale: the centres do
// not tell how deep it went.
constexpr float pointed_mm = 0.005F;
// A gap counts where it is deeper than the dexels beside it by this, or goes down to the floor.
constexpr float least_gap_mm = 0.02F;
constexpr double chord_error_mm = 0.005;

bool isPointed(const DexelField& f, const CutterShape& shape) {
  const float corner = static_cast<float>(std::hypot(f.cell_x_mm, f.cell_y_mm) / 2);
  return shape.radius <= corner || shape.surface(corner) > pointed_mm;
}

struct Passing {
  DexelField& field;
  ContactLog* contacts;
  std::vector<ContactLoss> losses;
};

// A tip at `tip` passes between two dexels.
void pass(Passing& p, Cell a, Cell b, bool to_right, float tip, std::uint32_t motion) {
  DexelField& f = p.field;
  const float floor = std::max(f.floor[a], f.floor[b]), top = std::min(f.top[a], f.top[b]);
  if (tip > floor + no_material_mm && tip > top - least_gap_mm) return;
  auto& gaps = to_right ? f.gaps.to_right : f.gaps.to_back;
  Gap& gap = gaps.try_emplace(a, Gap{0, static_cast<float>(f.thickness_mm)}).first->second;
  const float least = std::max(floor, gap.low) + no_material_mm;
  const bool connected = gap.high > least;
  gap.high = std::min(gap.high, tip);
  const Lost bit = to_right ? lost_right : lost_back;
  if (!p.contacts || !connected || gap.high > least || (p.contacts->lost[a] & bit)) return;
  p.contacts->lost[a] |= bit;
  p.losses.push_back({motion, a, bit});
}

// Where a sweep crosses the lines through the centres, along one axis: calls visit(line, place along it, tip).
template <class Visit>
void crossings(double a, double b, double a_along, double b_along, float a_tip, float b_tip, double cell,
               const Visit& visit) {
  if (a == b) return;
  const double from = std::min(a, b), to = std::max(a, b);
  for (double line = std::ceil(from / cell - 0.5); (line + 0.5) * cell <= to; ++line) {
    const double t = ((line + 0.5) * cell - a) / (b - a);
    visit(static_cast<int>(line), a_along + t * (b_along - a_along), a_tip + static_cast<float>(t) * (b_tip - a_tip));
  }
}

void passSweep(Passing& p, const Sweep& s) {
  const DexelField& f = p.field;
  crossings(s.ay, s.by, s.ax, s.bx, s.a_tip, s.b_tip, f.cell_y_mm, [&](int y, double at_x, float tip) {
    const int x = static_cast<int>(std::floor(at_x / f.cell_x_mm - 0.5));
    if (f.inside(x, y) && f.inside(x + 1, y)) pass(p, f.index(x, y), f.index(x + 1, y), true, tip, s.motion);
  });
  crossings(s.ax, s.bx, s.ay, s.by, s.a_tip, s.b_tip, f.cell_x_mm, [&](int x, double at_y, float tip) {
    const int y = static_cast<int>(std::floor(at_y / f.cell_y_mm - 0.5));
    if (f.inside(x, y) && f.inside(x, y + 1)) pass(p, f.index(x, y), f.index(x, y + 1), false, tip, s.motion);
  });
}

}  // namespace

void cutGaps(DexelField& field, const Cutters& cutters, const Job& job, const Setup& setup,
             std::span<const Motion> motions, ContactLog* contacts) {
  Passing p{field, contacts, {}};
  std::vector<Sweep> sweeps;
  for (std::uint32_t m = 0; m < motions.size(); ++m) {
    const Motion& motion = motions[m];
    const auto cutter = cutters.find(motion.tool);
    if (!moves(motion) || cutter == cutters.end() || !isPointed(field, cutter->second.shape)) continue;
    sweeps.clear();
    appendSweeps(motion, m, setup, job.machine, chord_error_mm, sweeps);
    for (const Sweep& s : sweeps) {
      if (std::min(s.a_tip, s.b_tip) < static_cast<float>(field.thickness_mm)) passSweep(p, s);
    }
  }
  if (p.losses.empty()) return;
  std::vector<ContactLoss>& list = contacts->list;
  const auto middle = list.insert(list.end(), p.losses.begin(), p.losses.end());
  std::inplace_merge(list.begin(), middle, list.end(),
                     [](const ContactLoss& a, const ContactLoss& b) { return a.motion < b.motion; });
}

}  // namespace provecut::cutting
