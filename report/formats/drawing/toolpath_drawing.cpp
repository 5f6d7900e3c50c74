#include "report/formats/drawing/toolpath_drawing.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <utility>

#include "report/base/number_text.h"
#include "report/formats/base/depth_scale.h"
#include "sim/path/path.h"
#include "sim/path/setup_frame.h"

namespace provecut {

namespace {

constexpr std::size_t max_bands = 6, max_points = 40'000;
constexpr double in_air = -1;  // depth of moves that stay above the stock
// Height of stock that a move must be below to count as in it, and depths that are shown as one.
constexpr double told_apart_mm = 0.02;

bool isDrawn(const Motion& m) {
  return moves(m) && !(m.flags & (motion_start_unknown | motion_height_unknown));
}

double depthOf(const Facts& facts, const Setup& setup, const Motion& m) {
  const double top = facts.job.stock.size_mm.z;
  const double lowest = std::min(workToSetup(setup, m.start).z, workToSetup(setup, m.end).z);
  return lowest < top - told_apart_mm ? top - lowest : in_air;
}

// Points of a move in the plan, close enough for the drawing's scale.
void pointsOf(const Motion& m, const Setup& setup, const Machine& machine, double scale,
              std::vector<SetupPoint2>& points) {
  points.clear();
  for (const PathPiece& piece : pathOf(m, setup.zero_mm, machine)) {
    int steps = 1;
    if (piece.arc) {
      // Chords that stay within a quarter of a unit of the arc.
      const double radius = std::max(piece.radius0, piece.radius1) * scale;
      const double step = radius > 0.25 ? 2 * std::acos(1 - 0.25 / radius) : 1.5;
      steps = std::clamp(static_cast<int>(std::ceil(std::fabs(piece.sweep) / step)), 2, 2000);
    }
    for (int k = points.empty() ? 0 : 1; k <= steps; ++k)
      points.push_back(flat(pointAt(piece, static_cast<double>(k) / steps)));
  }
}

void pathTo(std::string& data, char command, Vec2 units) {
  data += command;
  data += shortNumber(units.x, 1);
  data += ' ';
  data += shortNumber(units.y, 1);
}

// Strokes of one kind: points that follow each other closer than `apart` units are left out.
class Strokes {
 public:
  explicit Strokes(double apart) : apart_(apart) {}

  void add(const std::vector<Vec2>& units) {
    if (units.size() < 2) return;
    if (strokes_.empty() || length(end_ - units.front()) > 1e-6) {
      finish();
      strokes_.push_back({units.front()});
      ++points_;
    }
    for (std::size_t i = 1; i < units.size(); ++i) {
      end_ = units[i];
      if (length(end_ - strokes_.back().back()) < apart_) continue;
      strokes_.back().push_back(end_);
      ++points_;
    }
  }

  // The last point of a stroke is always drawn, so that a short one does not vanish.
  void finish() {
    if (strokes_.empty() || strokes_.back().back() == end_) return;
    strokes_.back().push_back(end_);
    ++points_;
  }

  std::size_t points() const { return points_; }

  std::string data() const {
    std::string text;
    for (const std::vector<Vec2>& s : strokes_) {
      if (s.size() < 2) continue;
      for (std::size_t i = 0; i < s.size(); ++i) pathTo(text, i == 0 ? 'M' : 'L', s[i]);
    }
    return text;
  }

 private:
  double apart_;
  std::size_t points_ = 0;
  std::vector<std::vector<Vec2>> strokes_;
  Vec2 end_;
};

bool meetsWindow(const PlanView& view, const std::vector<SetupPoint2>& points) {
  SetupPoint2 low = points.front(), high = points.front();
  for (const SetupPoint2 p : points) {
    low = {std::min(low.x, p.x), std::min(low.y, p.y)};
    high = {std::max(high.x, p.x), std::max(high.y, p.y)};
  }
  return high.x >= view.low.x && low.x <= view.high.x && high.y >= view.low.y && low.y <= view.high.y;
}

std::vector<Vec2> drawn(const PlanView& view, const std::vector<SetupPoint2>& points) {
  std::vector<Vec2> units;
  units.reserve(points.size());
  for (const SetupPoint2 p : points) units.push_back(view.at(p));
  return units;
}

// Kinds of strokes in drawing order: rapids, feed moves in air, then a kind for each band.
std::vector<Strokes> gather(const PlanView& view, const Facts& facts, std::size_t program,
                            const std::vector<DepthBand>& bands, double apart) {
  const ProgramFacts& p = facts.programs[program];
  std::vector<Strokes> kinds(bands.size() + 2, Strokes(apart));
  std::vector<SetupPoint2> points;
  for (const Motion& m : p.program.motions) {
    if (!isDrawn(m)) continue;
    pointsOf(m, *p.setup, facts.job.machine, view.scale, points);
    if (points.empty() || !meetsWindow(view, points)) continue;
    std::size_t kind = 0;
    if (m.kind != MotionKind::rapid) {
      const double depth = depthOf(facts, *p.setup, m);
      kind = 1;
      for (std::size_t b = 0; b < bands.size() && depth > 0; ++b) {
        if (depth <= bands[b].to_mm || b + 1 == bands.size()) {
          kind = b + 2;
          break;
        }
      }
    }
    kinds[kind].add(drawn(view, points));
  }
  for (Strokes& s : kinds) s.finish();
  return kinds;
}

}  // namespace

std::vector<DepthBand> depthBands(const Facts& facts, std::size_t program) {
  const ProgramFacts& p = facts.programs[program];
  std::map<long, double> depths;  // in steps of what is told apart: the deepest of each, mm
  for (const Motion& m : p.program.motions) {
    if (!isDrawn(m) || m.kind == MotionKind::rapid) continue;
    const double depth = depthOf(facts, *p.setup, m);
    if (depth > 0 && depth < 1e6) {
      double& deepest = depths[std::lround(depth / told_apart_mm)];
      deepest = std::max(deepest, depth);
    }
  }
  std::vector<DepthBand> bands;
  if (depths.empty()) return bands;
  const double deepest = depths.rbegin()->second;
  if (depths.size() <= max_bands) {
    double before = 0;
    for (const auto& [step, depth] : depths) {
      bands.push_back({before, depth, true, depthColour(depths.size() == 1 ? 0.6 : depth / deepest)});
      before = depth;
    }
    return bands;
  }
  // Short numbers between the bands, the true depth at the end.
  const auto edge = [&](std::size_t b) {
    const double depth = deepest * static_cast<double>(b) / max_bands;
    return b == max_bands ? deepest : std::round(depth / told_apart_mm) * told_apart_mm;
  };
  for (std::size_t b = 0; b < max_bands; ++b)
    bands.push_back({edge(b), edge(b + 1), false, depthColour(static_cast<double>(b) / (max_bands - 1))});
  return bands;
}

namespace {

// As much detail as fits in a drawing that a browser shows at once.
std::vector<Strokes> gatherFitting(const PlanView& view, const Facts& facts, std::size_t program,
                                   const std::vector<DepthBand>& bands) {
  for (double apart = 0.3;; apart *= 2) {
    std::vector<Strokes> kinds = gather(view, facts, program, bands, apart);
    std::size_t points = 0;
    for (const Strokes& s : kinds) points += s.points();
    if (points <= max_points || apart > 10) return kinds;
  }
}

}  // namespace

void drawCutMoves(SvgDrawing& drawing, const PlanView& view, const Facts& facts, std::size_t program,
                  std::string_view colour) {
  const std::vector<DepthBand> all{{0, 1e9, false, {}}};
  drawing.path(gatherFitting(view, facts, program, all)[2].data(), {.stroke = colour, .width = 0.7});
}

void drawMoves(SvgDrawing& drawing, const PlanView& view, const Facts& facts, std::size_t program,
               const std::vector<DepthBand>& bands) {
  const std::vector<Strokes> kinds = gatherFitting(view, facts, program, bands);
  drawing.path(kinds[0].data(), {.stroke = "#8a8a8a", .width = 0.8, .dash = "5 3"});
  drawing.path(kinds[1].data(), {.stroke = "#9a9a9a", .width = 0.8});
  for (std::size_t b = 0; b < bands.size(); ++b)
    drawing.path(kinds[b + 2].data(), {.stroke = bands[b].colour, .width = 1.3});
}

void drawMovesOfLine(SvgDrawing& drawing, const PlanView& view, const Facts& facts, std::size_t program,
                     std::uint32_t line) {
  const ProgramFacts& p = facts.programs[program];
  Strokes strokes(0.3);
  std::vector<SetupPoint2> points;
  for (const Motion& m : p.program.motions) {
    if (m.line != line || !isDrawn(m)) continue;
    pointsOf(m, *p.setup, facts.job.machine, view.scale, points);
    strokes.add(drawn(view, points));
  }
  strokes.finish();
  const std::string data = strokes.data();
  drawing.path(data, {.stroke = "#ffffff", .width = 5});
  drawing.path(data, {.stroke = ink::vermilion, .width = 2.6});
}

}  // namespace provecut
