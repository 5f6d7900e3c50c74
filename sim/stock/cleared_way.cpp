#include "sim/stock/cleared_way.h"

#include <algorithm>
#include <cmath>
#include <optional>
#include <vector>

#include "sim/path/setup_frame.h"

namespace provecut::cutting {

namespace {

constexpr double step_mm = 0.1, rounding_mm = 2e-3, pass_chord_error_mm = 1e-3;

struct Pass {
  Sweep sweep;
  const CutterShape* shape = nullptr;
};

// The point of a sweep nearest to a place of the plan.
struct Nearest {
  double distance_mm = 0, tip_mm = 0;
};
Nearest nearestOn(const Sweep& s, SetupPoint2 p) {
  const double dx = s.bx - s.ax, dy = s.by - s.ay, length2 = dx * dx + dy * dy;
  const double lowest = std::min(double{s.a_tip}, double{s.b_tip});
  if (length2 == 0) return {std::hypot(p.x - s.ax, p.y - s.ay), lowest};
  const double t = std::clamp(((p.x - s.ax) * dx + (p.y - s.ay) * dy) / length2, 0.0, 1.0);
  return {std::hypot(p.x - s.ax - t * dx, p.y - s.ay - t * dy),
          double{s.a_tip} + t * (double{s.b_tip} - double{s.a_tip})};
}

// How low the pass leaves the material at a place at most; none where it does not come there.
std::optional<double> leaves_mm(const Pass& pass, SetupPoint2 p) {
  const Nearest at = nearestOn(pass.sweep, p);
  if (at.distance_mm > double{pass.shape->radius}) return std::nullopt;
  return at.tip_mm + double{pass.shape->surface(static_cast<float>(at.distance_mm))};
}

struct Box {
  SetupPoint2 low, high;
};

Box boxOf(std::span<const Sweep> sweeps, double radius_mm) {
  Box box{{1e30, 1e30}, {-1e30, -1e30}};
  for (const Sweep& s : sweeps) {
    box.low.x = std::min({box.low.x, s.ax - radius_mm, s.bx - radius_mm});
    box.low.y = std::min({box.low.y, s.ay - radius_mm, s.by - radius_mm});
    box.high.x = std::max({box.high.x, s.ax + radius_mm, s.bx + radius_mm});
    box.high.y = std::max({box.high.y, s.ay + radius_mm, s.by + radius_mm});
  }
  return box;
}

// The passes of this setup that come into the box, the latest first.
std::vector<Pass> passesIn(const PastCuts& past, const Box& box, std::uint32_t until) {
  const Setup& setup = *past.programs.back().setup;
  const WorkPoint2 low = setupToWork(setup, box.low), high = setupToWork(setup, box.high);
  std::vector<Pass> passes;
  std::vector<Sweep> sweeps;
  for (auto p = past.programs.rbegin(); p != past.programs.rend() && p->setup == &setup; ++p) {
    const std::size_t end = p == past.programs.rbegin() ? until : p->reach.size();
    for (std::size_t m = end; m-- > 0;) {
      const MotionReach& reach = p->reach[m];
      const Motion& motion = p->program->motions[m];
      if (double{reach.low_x} > high.x || double{reach.high_x} < low.x || double{reach.low_y} > high.y ||
          double{reach.high_y} < low.y || (motion.flags & (motion_start_unknown | motion_height_unknown)))
        continue;
      sweeps.clear();
      appendSweeps(motion, 0, setup, past.job.machine, pass_chord_error_mm, sweeps);
      for (const Sweep& s : sweeps) passes.push_back({s, &past.cutters.at(motion.tool).shape});
    }
  }
  return passes;
}

}  // namespace

bool wasCleared(const PastCuts& past, std::uint32_t motion, std::span<const Sweep> sweeps) {
  const PastCut& program = past.programs.back();
  const CutterShape& shape = past.cutters.at(program.program->motions[motion].tool).shape;
  const double radius_mm = double{shape.radius};
  const Vec3 stock = stockSizeInSetup(past.job.stock, *program.setup);
  const std::vector<Pass> passes = passesIn(past, boxOf(sweeps, radius_mm), motion);
  std::size_t last = 0;  // neighbours were mostly cleared by the same pass
  const auto isCleared = [&](SetupPoint2 p, double z_mm) {
    const auto clears = [&](const Pass& pass) {
      const std::optional<double> left = leaves_mm(pass, p);
      return left && *left <= z_mm + rounding_mm;
    };
    if (last < passes.size() && clears(passes[last])) return true;
    const auto found = std::find_if(passes.begin(), passes.end(), clears);
    if (found == passes.end()) return false;
    last = static_cast<std::size_t>(found - passes.begin());
    return true;
  };
  for (const Sweep& s : sweeps) {
    const Box box = boxOf({&s, 1}, radius_mm);
    for (double y = std::max(0.0, box.low.y); y <= std::min(stock.y, box.high.y); y += step_mm) {
      for (double x = std::max(0.0, box.low.x); x <= std::min(stock.x, box.high.x); x += step_mm) {
        const Nearest at = nearestOn(s, {x, y});
        if (at.distance_mm > radius_mm - rounding_mm) continue;
        const double z_mm = at.tip_mm + double{shape.surface(static_cast<float>(at.distance_mm))};
        if (z_mm < stock.z && !isCleared({x, y}, z_mm)) return false;
      }
    }
  }
  return true;
}

}  // namespace provecut::cutting
