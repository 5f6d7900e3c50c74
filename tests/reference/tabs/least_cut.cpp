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
constexpr double kSample_mm = 0.1;
constexpr double kWall_mm = 0.0005;
constexpr double kEven_mm = 0.05;

// The stretch as a raster of its own: i along the kerf, j across it.
struct Raster {
  int along = 0, across = 0;
  std::vector<PlanPoint> at;
  std::vector<double> thick;

  int index(int i, int j) const { return i * across + j; }
};

PlanPoint beside(const Path& path, double s, double aside) {
  constexpr double step = 0.005;
  const PlanPoint p = pointOn(path, s);
  const PlanPoint a = pointOn(path, s - step);
  const PlanPoint b = pointOn(path, s + step);
  const double length = std::hypot(b.x - a.x, b.y - a.y);
  return {p.x - (b.y - a.y) / length * aside, p.y + (b.x - a.x) / length * aside};
}

Raster rasterOf(const WoodNear& wood, const Path& path, const KerfStretch& stretch, double cell) {
  Raster r;
  r.along = static_cast<int>(std::ceil((stretch.to - stretch.from) / cell)) + 1;
  r.across = 2 * static_cast<int>(std::ceil(stretch.aside / cell)) + 1;
  for (int i = 0; i < r.along; ++i) {
    const double s = stretch.from + (stretch.to - stretch.from) * i / (r.along - 1);
    for (int j = 0; j < r.across; ++j) {
      r.at.push_back(beside(path, s, stretch.aside * (2.0 * j / (r.across - 1) - 1)));
      r.thick.push_back(wood.thickness_mm(r.at.back()));
    }
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

// The wood under a hop: its ends and what lies between them on the raster.
double hopCost(const Raster& r, int i, int j, const Hop& hop) {
  const int steps = std::max(std::abs(hop.i), std::abs(hop.j));
  double sum = 0;
  for (int k = 0; k <= steps; ++k) {
    const int u = i + static_cast<int>(std::lround(static_cast<double>(hop.i) * k / steps));
    const int v = j + static_cast<int>(std::lround(static_cast<double>(hop.j) * k / steps));
    sum += r.thick[static_cast<std::size_t>(r.index(u, v))] * (k == 0 || k == steps ? 0.5 : 1);
  }
  const PlanPoint& a = r.at[static_cast<std::size_t>(r.index(i, j))];
  const PlanPoint& b = r.at[static_cast<std::size_t>(r.index(i + hop.i, j + hop.j))];
  return sum / steps * std::hypot(a.x - b.x, a.y - b.y);
}

// The nodes of the way over the least wood, from the open nodes at the stretch's beginning to those at its end.
std::vector<PlanPoint> leastWay(const Raster& r) {
  std::vector<double> cost(r.at.size(), kNoWay);
  std::vector<int> from(r.at.size(), -1);
  using Entry = std::pair<double, int>;
  std::priority_queue<Entry, std::vector<Entry>, std::greater<>> queue;
  for (int j = 0; j < r.across; ++j) {
    if (r.thick[static_cast<std::size_t>(j)] > kOpen_mm) continue;
    cost[static_cast<std::size_t>(j)] = 0;
    queue.push({0, j});
  }
  const std::vector<Hop> all = hops();
  int end = -1;
  while (!queue.empty() && end < 0) {
    const auto [so_far, node] = queue.top();
    queue.pop();
    const auto n = static_cast<std::size_t>(node);
    if (so_far > cost[n]) continue;
    const int i = node / r.across;
    const int j = node % r.across;
    if (i + 1 == r.along && r.thick[n] <= kOpen_mm) end = node;
    for (const Hop& hop : all) {
      if (i + hop.i < 0 || i + hop.i >= r.along || j + hop.j < 0 || j + hop.j >= r.across) continue;
      const int next = r.index(i + hop.i, j + hop.j);
      const double sum = so_far + hopCost(r, i, j, hop);
      if (sum >= cost[static_cast<std::size_t>(next)]) continue;
      cost[static_cast<std::size_t>(next)] = sum;
      from[static_cast<std::size_t>(next)] = node;
      queue.push({sum, next});
    }
  }
  std::vector<PlanPoint> way;
  for (int node = end; node >= 0; node = from[static_cast<std::size_t>(node)]) {
    way.push_back(r.at[static_cast<std::size_t>(node)]);
  }
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

// What lies in wood, with the open points just before and behind it, thinned out to about one in half a millimetre.
std::vector<PlanPoint> inWood(const WoodNear& wood, const std::vector<PlanPoint>& way) {
  const auto open = [&](const PlanPoint& p) { return wood.thickness_mm(p) <= kOpen_mm; };
  std::size_t first = 0;
  std::size_t last = way.size() - 1;
  while (first + 1 < way.size() && open(way[first + 1])) ++first;
  while (last > first + 1 && open(way[last - 1])) --last;
  std::vector<PlanPoint> points{way[first]};
  for (std::size_t k = first + 1; k < last; ++k) {
    if (std::hypot(way[k].x - points.back().x, way[k].y - points.back().y) >= 0.5) points.push_back(way[k]);
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

double pullTight(const WoodNear& wood, std::vector<PlanPoint>& points) {
  Line line{points, {}};
  for (std::size_t k = 0; k + 1 < points.size(); ++k) line.under.push_back(woodUnder(wood, points[k], points[k + 1]));
  for (double step = 0.1; step > 0.004; step /= 2) {
    straighten(wood, line);
    for (int round = 0; round < 12; ++round) {
      bool moved = false;
      for (std::size_t k = 0; k < line.points.size(); ++k) {
        for (const PlanPoint& way : {PlanPoint{step, 0}, {-step, 0}, {0, step}, {0, -step}}) {
          moved |= tryMove(wood, line, k, {line.points[k].x + way.x, line.points[k].y + way.y});
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
        sweeps_.push_back({program.face != Face::front, profile, stroke});
      }
    }
  }
}

double WoodNear::thickness_mm(PlanPoint p) const {
  double top = thickness_;
  double under = thickness_;  // of the stock turned over
  for (const Sweep& sweep : sweeps_) {
    double& height = sweep.from_below ? under : top;
    height = std::min(height, envelopeAt(sweep.profile, sweep.stroke, p.x, p.y, height));
  }
  return std::max(0.0, std::max(0.0, top) + std::max(0.0, under) - thickness_);
}

LeastCut leastCut(const WoodNear& wood, const Path& path, const KerfStretch& stretch, double cell_mm) {
  const std::vector<PlanPoint> way = leastWay(rasterOf(wood, path, stretch, cell_mm));
  if (way.empty()) return {-1, {}};
  LeastCut cut{0, inWood(wood, way)};
  cut.area_mm2 = pullTight(wood, cut.points);
  return cut;
}

}  // namespace provecut::reference
