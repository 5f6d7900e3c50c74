#include "sim/holes/hole_pairs.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <utility>

#include "sim/path/setup_frame.h"

namespace provecut::holes {

namespace {

constexpr double same_axis_mm = 1e-3;  // pecks of one hole
constexpr float least_bite_mm = 1e-3F;

struct Hole {
  int run = 0;
  std::uint32_t move = 0;
  StockPoint2 axis;
  double tip_z = 0;  // in the stock frame
  double radius_mm = 0;
  bool from_top = true;     // of the stock frame
  bool zero_on_top = true;  // Z zero on the face that it starts from
};

bool straightDown(const Motion& m) {
  return m.kind == MotionKind::feed && m.end.z < m.start.z && length(flat(m.end) - flat(m.start)) < same_axis_mm;
}

bool wholeCircle(const Motion& m) {
  return isArc(m) && m.plane == Plane::xy && length(flat(m.end) - flat(m.start)) < same_axis_mm;
}

// True if the tool, down in this hole, goes on sideways.
bool goesOn(const std::vector<Motion>& motions, std::size_t m) {
  for (std::size_t next = m + 1; next < motions.size(); ++next) {
    const Motion& n = motions[next];
    if (!moves(n)) continue;
    const bool sideways = isArc(n) || length(flat(n.end) - flat(n.start)) >= same_axis_mm;
    return n.kind != MotionKind::rapid && sideways && std::min(n.start.z, n.end.z) <= motions[m].end.z + same_axis_mm;
  }
  return false;
}

using Axes = std::map<std::pair<long, long>, Hole>;

std::pair<long, long> keyOf(StockPoint2 axis) {
  return {std::lround(axis.x / same_axis_mm / 10), std::lround(axis.y / same_axis_mm / 10)};
}

void addHoles(const Job& job, const Program& program, const ProgramRun& run, int index, std::vector<Hole>& holes) {
  const Setup& setup = job.setups[run.setup];
  const std::vector<Motion>& motions = program.motions;
  Axes by_axis;
  for (std::uint32_t m = 0; m < motions.size() && m < run.cuts.size(); ++m) {
    const Motion& motion = motions[m];
    const bool circle = wholeCircle(motion);
    if (!circle && !straightDown(motion)) continue;
    const Tool* tool = findTool(job, motion.tool);
    if (!tool || tool->shape == ToolShape::form) continue;
    const double tool_radius = tool->diameter_mm / 2;
    const WorkPoint2 axis = circle ? motion.centre : flat(motion.end);
    const StockPoint tip = setupToStock(job.stock, setup, workToSetup(setup, atHeight(axis, motion.end.z)));
    const auto known = by_axis.find(keyOf(flat(tip)));
    double radius = tool_radius;
    if (circle) {
      const double path = length(flat(motion.end) - motion.centre);
      const double cleared = std::max(tool_radius, known == by_axis.end() ? 0 : known->second.radius_mm);
      if (path > cleared + same_axis_mm) continue;  // a ring round a core
      radius = path + tool_radius;
    } else if (run.cuts[m].bite_mm <= least_bite_mm || goesOn(motions, m)) {
      continue;
    }
    const bool from_top = setup.flip == Flip::none;
    const Hole hole{index, m, flat(tip), tip.z, radius, from_top, setup.zero_z_on_top};
    if (known == by_axis.end()) {
      by_axis.emplace(keyOf(flat(tip)), hole);
      continue;
    }
    Hole& other = known->second;
    other.radius_mm = std::max(other.radius_mm, radius);
    if (hole.from_top ? hole.tip_z < other.tip_z : hole.tip_z > other.tip_z) {
      other.tip_z = hole.tip_z;
      other.move = hole.move;
    }
  }
  for (const auto& [key, hole] : by_axis) holes.push_back(hole);
}

}  // namespace

std::vector<HolePair> holePairs(const Job& job, const Programs& programs, std::span<const ProgramRun> runs) {
  std::vector<Hole> holes;
  for (int i = 0; i < std::ssize(runs); ++i) addHoles(job, programs[i], runs[i], i, holes);
  const double thickness = job.stock.size_mm.z;
  std::erase_if(holes, [&](const Hole& h) { return h.from_top ? h.tip_z <= 0 : h.tip_z >= thickness; });

  std::vector<Hole> up, down;
  double widest = 0;
  for (const Hole& h : holes) {
    (h.from_top ? up : down).push_back(h);
    widest = std::max(widest, h.radius_mm);
  }
  std::sort(up.begin(), up.end(), [](const Hole& a, const Hole& b) { return a.axis.x < b.axis.x; });
  std::vector<HolePair> pairs;
  for (const Hole& d : down) {
    auto it = std::lower_bound(up.begin(), up.end(), d.axis.x - 2 * widest,
                               [](const Hole& h, double x) { return h.axis.x < x; });
    for (; it != up.end() && it->axis.x <= d.axis.x + 2 * widest; ++it) {
      if (length(it->axis - d.axis) >= it->radius_mm + d.radius_mm) continue;
      const Hole& a = it->run < d.run ? *it : d;
      const Hole& b = it->run < d.run ? d : *it;
      const ProgramRun& run_b = runs[b.run];
      const Setup& setup_b = job.setups[run_b.setup];
      HolePair p;
      p.run_a = a.run;
      p.run_b = b.run;
      p.move_a = a.move;
      p.move_b = b.move;
      p.radius_a_mm = a.radius_mm;
      p.radius_b_mm = b.radius_mm;
      const auto toWork = [&](StockPoint2 axis, double z) {
        return setupToWork(setup_b, stockToSetup(job.stock, setup_b, atHeight(axis, z)));
      };
      p.at = toWork(b.axis, b.tip_z);
      p.offset = direction(flat(p.at), flat(toWork(a.axis, b.tip_z)));
      p.skin_mm = it->tip_z - d.tip_z;
      // A hole measured from the face that it starts from keeps its depth; one measured from the far face ends where it
      // did.
      p.moves_with_stock = (it->zero_on_top ? 1 : 0) + (d.zero_on_top ? 1 : 0) - 1;
      pairs.push_back(p);
    }
  }
  std::stable_sort(pairs.begin(), pairs.end(), [](const HolePair& x, const HolePair& y) {
    return std::pair(x.run_b, x.move_b) < std::pair(y.run_b, y.move_b);
  });
  return pairs;
}

}  // namespace provecut::holes
