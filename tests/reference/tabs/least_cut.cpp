#include "tests/reference/tabs/least_cut.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>
#include <queue>
#include <utility>

#include "tests/reference/parting/strokes.h"

namespace provecut::reference {
namespace {

constexpr double kNoWay = std::numeric_limits<double>::infinity();
constexpr double kOpen_mm = 1e-6;
constexpr int kHops = 4;
constexpr double kOpenEnd_mm = 0.3;
constexpr double kAxisStep_mm = 0.1;
constexpr double kSample_mm = 0.1;
constexpr double kWall_mm = 0.0005;
// Under a steep vee a hundredth beside its line is a good part of a thin tab.
constexpr double kFinestStep_mm = 0.001;
constexpr double kEven_mm = 0.02;

// The places of a stretch in plan: those whose nearest point on the kerf's axis lies within it.
struct Raster {
  int nx = 0, ny = 0;
  double x0 = 0, y0 = 0, cell = 0;
  std::vector<char> inside, at_start, at_end;
  std::vector<double> thick;

  int index(int i, int j) const { return j * nx + i; }
  PlanPoint at(int node) const { return {x0 + node % nx * cell, y0 + node / nx * cell}; }
};

// A little longer than the stretch, so that the kerf is open at both ends.
std::vector<PlanPoint> axisOf(const Path& path, const KerfStretch& stretch) {
  const double from = stretch.from - kOpenEnd_mm;
  const double length = stretch.to - stretch.from + 2 * kOpenEnd_mm;
  const int steps = static_cast<int>(std::ceil(length / kAxisStep_mm));
  std::vector<PlanPoint> axis;
  for (int k = 0; k <= steps; ++k) axis.push_back(pointOn(path, from + length * k / steps));
  return axis;
}

Raster emptyRaster(const std::vector<PlanPoint>& axis, double aside, double cell) {
  Raster r;
  r.cell = cell;
  double x1 = axis[0].x, y1 = axis[0].y;
  r.x0 = x1, r.y0 = y1;
  for (const PlanPoint& p : axis) {
    r.x0 = std::min(r.x0, p.x), x1 = std::max(x1, p.x);
    r.y0 = std::min(r.y0, p.y), y1 = std::max(y1, p.y);
  }
  r.x0 -= aside, r.y0 -= aside;
  r.nx = static_cast<int>(std::ceil((x1 + aside - r.x0) / cell)) + 1;
  r.ny = static_cast<int>(std::ceil((y1 + aside - r.y0) / cell)) + 1;
  const auto nodes = static_cast<std::size_t>(r.nx) * static_cast<std::size_t>(r.ny);
  r.inside.assign(nodes, 0), r.at_start.assign(nodes, 0), r.at_end.assign(nodes, 0);
  r.thick.assign(nodes, 0);
  return r;
}

Raster rasterOf(const WoodNear& wood, const Path& path, const KerfStretch& stretch, double cell) {
  const std::vector<PlanPoint> axis = axisOf(path, stretch);
  Raster r = emptyRaster(axis, stretch.aside, cell);
  const auto end_zone = static_cast<std::ptrdiff_t>(std::ceil(2 * cell / kAxisStep_mm));
  for (std::size_t n = 0; n < r.thick.size(); ++n) {
    const PlanPoint p = r.at(static_cast<int>(n));
    const auto away = [&](const PlanPoint& q) { return (q.x - p.x) * (q.x - p.x) + (q.y - p.y) * (q.y - p.y); };
    const auto nearest = std::min_element(axis.begin(), axis.end(),
                                          [&](const PlanPoint& u, const PlanPoint& v) { return away(u) < away(v); });
    if (away(*nearest) > stretch.aside * stretch.aside) continue;
    if (nearest == axis.begin() || nearest + 1 == axis.end()) continue;
    r.inside[n] = 1;
    r.thick[n] = wood.thickness_mm(p);
    if (r.thick[n] > kOpen_mm) continue;
    r.at_start[n] = nearest - axis.begin() <= end_zone;
    r.at_end[n] = axis.end() - nearest <= end_zone;
  }
  return r;
}

struct Hop {
  int i = 0, j = 0;
};

std::vector<Hop> hops() {
  std::vector<Hop> all;
  for (int i = -kHops; i <= kHops; ++i) {
    for (int j = -kHops; j <= kHops; ++j) {
      if (std::gcd(std::abs(i), std::abs(j)) == 1) all.push_back({i, j});
    }
  }
  return all;
}

// The wood under a hop: its ends and what lies between them on the raster; beyond the stretch there is no way.
double hopCost(const Raster& r, int i, int j, const Hop& hop) {
  const int steps = std::max(std::abs(hop.i), std::abs(hop.j));
  double sum = 0;
  for (int k = 0; k <= steps; ++k) {
    const int u = i + static_cast<int>(std::lround(static_cast<double>(hop.i) * k / steps));
    const int v = j + static_cast<int>(std::lround(static_cast<double>(hop.j) * k / steps));
    const auto n = static_cast<std::size_t>(r.index(u, v));
    if (!r.inside[n]) return kNoWay;
    sum += r.thick[n] * (k == 0 || k == steps ? 0.5 : 1);
  }
  return sum / steps * std::hypot(hop.i, hop.j) * r.cell;
}

// The nodes of the way over the least wood, from the open nodes at the stretch's beginning to those at its end.
std::vector<PlanPoint> leastWay(const Raster& r) {
  std::vector<double> cost(r.thick.size(), kNoWay);
  std::vector<int> from(r.thick.size(), -1);
  using Entry = std::pair<double, int>;
  std::priority_queue<Entry, std::vector<Entry>, std::greater<>> queue;
  for (std::size_t n = 0; n < r.thick.size(); ++n) {
    if (!r.at_start[n]) continue;
    cost[n] = 0;
    queue.push({0, static_cast<int>(n)});
  }
  const std::vector<Hop> all = hops();
  int end = -1;
  while (!queue.empty() && end < 0) {
    const auto [so_far, node] = queue.top();
    queue.pop();
    const auto n = static_cast<std::size_t>(node);
    if (so_far > cost[n]) continue;
    const int i = node % r.nx;
    const int j = node / r.nx;
    if (r.at_end[n]) end = node;
    for (const Hop& hop : all) {
      if (i + hop.i < 0 || i + hop.i >= r.nx || j + hop.j < 0 || j + hop.j >= r.ny) continue;
      const int next = r.index(i + hop.i, j + hop.j);
      if (so_far >= cost[static_cast<std::size_t>(next)]) continue;
      const double sum = so_far + hopCost(r, i, j, hop);
      if (sum >= cost[static_cast<std::size_t>(next)]) continue;
      cost[static_cast<std::size_t>(next)] = sum;
      from[static_cast<std::size_t>(next)] = node;
      queue.push({sum, next});
    }
  }
  std::vector<PlanPoint> way;
  for (int node = end; node >= 0; node = from[static_cast<std::size_t>(node)]) way.push_back(r.at(node));
  return way;
}

// The wood under a stretch between two points of known thickness: halved where the two differ, down to the wall.
double woodBetween(const WoodNear& wood, PlanPoint a, double thick_a, PlanPoint b, double thick_b) {
  const double length = std::hypot(b.x - a.x, b.y - a.y);
  if (length < kWall_mm || (length < kSample_mm && std::abs(thick_a - thick_b) < kEven_mm)) {
    return length * (thick_a + thick_b) / 2;
  }
  const PlanPoint middle{(a.x + b.x) / 2, (a.y + b.y) / 2};
  const double thick = wood.thickness_mm(middle);
  return woodBetween(wood, a, thick_a, middle, thick) + woodBetween(wood, middle, thick, b, thick_b);
}

double woodUnder(const WoodNear& wood, PlanPoint a, PlanPoint b) {
  return woodBetween(wood, a, wood.thickness_mm(a), b, wood.thickness_mm(b));
}

// What lies in wood, with the open points just before and behind it, thinned out to one in 0.7 mm.
std::vector<PlanPoint> inWood(const WoodNear& wood, const std::vector<PlanPoint>& way) {
  const auto open = [&](const PlanPoint& p) { return wood.thickness_mm(p) <= kOpen_mm; };
  std::size_t first = 0;
  std::size_t last = way.size() - 1;
  while (first + 1 < way.size() && open(way[first + 1])) ++first;
  while (last > first + 1 && open(way[last - 1])) --last;
  std::vector<PlanPoint> points{way[first]};
  for (std::size_t k = first + 1; k < last; ++k) {
    if (std::hypot(way[k].x - points.back().x, way[k].y - points.back().y) >= 0.7) points.push_back(way[k]);
  }
  points.push_back(way[last]);
  return points;
}

struct Line {
  std::vector<PlanPoint> points;
  std::vector<double> under;  // between each point and the next
};

// Moves a point where that saves wood; the ends only where they stay in the open.
bool tryMove(const WoodNear& wood, Line& line, std::size_t k, PlanPoint to) {
  const std::size_t last = line.points.size() - 1;
  if ((k == 0 || k == last) && wood.thickness_mm(to) > kOpen_mm) return false;
  const double before = k > 0 ? woodUnder(wood, line.points[k - 1], to) : 0;
  const double behind = k < last ? woodUnder(wood, to, line.points[k + 1]) : 0;
  const double now = (k > 0 ? line.under[k - 1] : 0) + (k < last ? line.under[k] : 0);
  if (before + behind >= now - 1e-9) return false;
  line.points[k] = to;
  if (k > 0) line.under[k - 1] = before;
  if (k < last) line.under[k] = behind;
  return true;
}

// Leaves out the points without which the line crosses no more wood.
void straighten(const WoodNear& wood, Line& line) {
  for (std::size_t k = 1; k + 1 < line.points.size();) {
    const double straight = woodUnder(wood, line.points[k - 1], line.points[k + 1]);
    if (straight > line.under[k - 1] + line.under[k]) {
      ++k;
      continue;
    }
    line.under[k - 1] = straight;
    line.under.erase(line.under.begin() + static_cast<std::ptrdiff_t>(k));
    line.points.erase(line.points.begin() + static_cast<std::ptrdiff_t>(k));
  }
}

PlanPoint directionAt(const std::vector<PlanPoint>& points, std::size_t k) {
  const PlanPoint& a = points[k > 0 ? k - 1 : k];
  const PlanPoint& b = points[std::min(k + 1, points.size() - 1)];
  const double length = std::hypot(b.x - a.x, b.y - a.y);
  if (length < kWall_mm) return {1, 0};
  return {(b.x - a.x) / length, (b.y - a.y) / length};
}

double pullTight(const WoodNear& wood, std::vector<PlanPoint>& points) {
  Line line{points, {}};
  for (std::size_t k = 0; k + 1 < points.size(); ++k) line.under.push_back(woodUnder(wood, points[k], points[k + 1]));
  for (double step = 0.1; step > kFinestStep_mm; step /= 2) {
    straighten(wood, line);
    for (int round = 0; round < 8; ++round) {
      bool moved = false;
      for (std::size_t k = 0; k < line.points.size(); ++k) {
        const PlanPoint along = directionAt(line.points, k);
        for (const PlanPoint& way : {PlanPoint{-along.y, along.x}, {along.y, -along.x}, along, {-along.x, -along.y}}) {
          moved |= tryMove(wood, line, k, {line.points[k].x + way.x * step, line.points[k].y + way.y * step});
        }
      }
      if (!moved) break;
    }
  }
  straighten(wood, line);
  points = line.points;
  return std::accumulate(line.under.begin(), line.under.end(), 0.0);
}

}  // namespace

WoodNear::WoodNear(const Sheet& sheet, PlanPoint place, double reach) : thickness_(sheet.thickness) {
  for (const SheetProgram& program : sheet.programs) {
    for (const SheetMove& move : program.moves) {
      const Profile profile = profileOf(sheet.tools[static_cast<std::size_t>(move.tool)]);
      for (const Stroke& stroke : strokesOf(sheet, program.face, move)) {
        const double along = (place.x - stroke.x) * stroke.ux + (place.y - stroke.y) * stroke.uy;
        const double nearest = std::clamp(along, 0.0, stroke.length);
        const double distance =
            std::hypot(stroke.x + nearest * stroke.ux - place.x, stroke.y + nearest * stroke.uy - place.y);
        if (lowestTip(stroke) >= thickness_ || distance > reach + profile.radius) continue;
        (program.face == Face::front ? from_above_ : from_below_).push_back({lowestTip(stroke), profile, stroke});
      }
    }
  }
  for (std::vector<Sweep>* sweeps : {&from_above_, &from_below_}) {
    std::sort(sweeps->begin(), sweeps->end(), [](const Sweep& a, const Sweep& b) { return a.lowest < b.lowest; });
  }
}

double WoodNear::lowestAt(const std::vector<Sweep>& sweeps, PlanPoint p, double height) {
  for (const Sweep& sweep : sweeps) {
    if (sweep.lowest >= height) break;
    height = std::min(height, envelopeAt(sweep.profile, sweep.stroke, p.x, p.y, height));
  }
  return std::max(0.0, height);
}

double WoodNear::thickness_mm(PlanPoint p) const {
  const double top = lowestAt(from_above_, p, thickness_);
  const double under = lowestAt(from_below_, p, thickness_);  // of the stock turned over
  return std::max(0.0, top + under - thickness_);
}

LeastCut leastCut(const WoodNear& wood, const Path& path, const KerfStretch& stretch, double cell_mm) {
  const std::vector<PlanPoint> way = leastWay(rasterOf(wood, path, stretch, cell_mm));
  if (way.empty()) return {-1, {}};
  LeastCut cut{0, inWood(wood, way)};
  cut.area_mm2 = pullTight(wood, cut.points);
  return cut;
}

}  // namespace provecut::reference
