#include "report/formats/drawing/sheet_drawing.h"
#include "report/formats/drawing/plan_style.h"

#include <algorithm>
#include <set>
#include <vector>

#include "report/base/dimension_text.h"
#include "report/base/visible_text.h"
#include "report/formats/drawing/plan_view.h"
#include "report/formats/drawing/toolpath_drawing.h"
#include "sim/path/setup_frame.h"

namespace provecut {

namespace {

constexpr double sheet_text_size = plan_style::paper_text_size, max_width = 690, max_plan_height = 205,
                 left_margin = 70, bottom_margin = 58, other_margin = 10;
constexpr std::string_view leader = "#666666";

// Every hold-down that stands in one of the setup's programs, in the order of the job.
std::set<int> standing(const Facts& facts, const Setup& setup) {
  std::set<int> all;
  for (const ProgramFacts& p : facts.programs) {
    if (p.setup == &setup) all.insert(p.entry->hold_downs.begin(), p.entry->hold_downs.end());
  }
  return all;
}

// Values in order, those that are the same to a hundredth of a millimetre once.
std::vector<double> inOrder(std::vector<double> values) {
  std::sort(values.begin(), values.end());
  values.erase(std::unique(values.begin(), values.end(), [](double a, double b) { return b - a < 0.01; }),
               values.end());
  return values;
}

// A measure for every value under (or beside) the plan. Where two would run into each other the second one moves out a
// row.
void drawMeasures(SvgDrawing& drawing, const PlanView& view, const Job& job, const std::vector<double>& values,
                  bool along_x) {
  double free_from[2] = {-1e9, -1e9};
  for (const double v : values) {
    const std::string text = dimensionText(job, v);
    const double room = along_x ? svgTextWidth(text, sheet_text_size) + 8 : sheet_text_size + 3;
    const Vec2 on_edge = view.at(along_x ? SetupPoint2{v, view.low.y} : SetupPoint2{view.low.x, v});
    const double place = along_x ? on_edge.x : -on_edge.y;
    const int row = place - room / 2 >= free_from[0] ? 0 : place - room / 2 >= free_from[1] ? 1 : -1;
    if (row < 0) continue;  // the table beside the drawing has every measure
    free_from[row] = place + room / 2;
    const double out = 8 + row * (along_x ? sheet_text_size + 4 : 30);
    const Vec2 end = along_x ? on_edge + Vec2{0, out} : on_edge - Vec2{out, 0};
    drawing.line(on_edge, end, {.stroke = leader, .width = 1});
    if (along_x) {
      drawing.text(end + Vec2{0, sheet_text_size}, text, {.size = sheet_text_size, .anchor = SvgAnchor::middle});
    } else {
      drawing.text(end + Vec2{-2, sheet_text_size * 0.35}, text, {.size = sheet_text_size, .anchor = SvgAnchor::end});
    }
  }
}

// Thin lines from each hold-down's centre to the edges where its measures stand.
void drawLeaders(SvgDrawing& drawing, const PlanView& view, const std::vector<SetupPoint2>& centres) {
  for (const SetupPoint2 c : centres) {
    const Vec2 at = view.at(c);
    drawing.line(at, {at.x, view.corner.y + view.height()}, {.stroke = leader, .width = 0.6, .dash = "2 3"});
    drawing.line(at, {view.corner.x, at.y}, {.stroke = leader, .width = 0.6, .dash = "2 3"});
  }
}

}  // namespace

std::string setupDrawing(const Facts& facts, std::size_t index) {
  const Job& job = facts.job;
  const Setup& setup = job.setups[index];
  const Vec3 size = stockSizeInSetup(job.stock, setup);
  const std::set<int> all = standing(facts, setup);
  SetupPoint2 low{0, 0}, high{size.x, size.y};
  std::vector<SetupPoint2> centres;
  std::vector<double> xs{0, size.x}, ys{0, size.y};
  for (const int h : all) {
    const HoldDown& hold_down = job.hold_downs[static_cast<std::size_t>(h)];
    const Footprint foot = footprintBox(hold_down);
    low = {std::min(low.x, foot.low.x), std::min(low.y, foot.low.y)};
    high = {std::max(high.x, foot.high.x), std::max(high.y, foot.high.y)};
    const SetupPoint2 centre = middle(foot.low, foot.high);
    centres.push_back(centre);
    xs.push_back(centre.x);
    ys.push_back(centre.y);
  }
  const double rim = 0.02 * std::max(high.x - low.x, high.y - low.y);
  low = low - Vec2{rim, rim};
  high = high + Vec2{rim, rim};
  const PlanView view =
      fittedView(low, high, max_width - left_margin - other_margin, max_plan_height, {left_margin, other_margin});
  SvgDrawing drawing(view.width() + left_margin + other_margin, view.height() + other_margin + bottom_margin,
                     "setup" + std::to_string(index) + "-");
  drawing.describe("Setup " + visibleText(setup.name) + " from above",
                   "The stock in this setup, the work zero and every hold-down.");
  const Vec2 corner = view.corner, opposite = view.corner + Vec2{view.width(), view.height()};
  drawing.openClip(corner, opposite);
  drawing.rect(corner, opposite, {.fill = "#eef1f3"});
  drawStock(drawing, view, stockPlan(job.stock, setup));
  for (std::size_t i = 0; i < facts.programs.size(); ++i) {
    if (facts.programs[i].setup == &setup) drawCutMoves(drawing, view, facts, i, "#c3ab86");
  }
  drawLeaders(drawing, view, centres);
  for (const int h : all)
    drawHoldDown(drawing, view, job.hold_downs[static_cast<std::size_t>(h)], {.name_size = sheet_text_size});
  drawZero(drawing, view, flat(setup.zero_mm), sheet_text_size);
  drawing.close();
  drawing.rect(corner, opposite, {.stroke = ink::faint, .width = 0.8});
  drawMeasures(drawing, view, job, inOrder(xs), true);
  drawMeasures(drawing, view, job, inOrder(ys), false);
  return drawing.inlined();
}

}  // namespace provecut
