#include "report/formats/drawing/picture.h"

#include <algorithm>
#include <cmath>
#include <optional>
#include <vector>

#include "report/base/dimension_text.h"
#include "report/base/visible_text.h"
#include "report/base/wording.h"
#include "report/formats/drawing/plan_style.h"
#include "report/formats/drawing/plan_view.h"
#include "report/formats/drawing/toolpath_drawing.h"
#include "sim/path/motion_extent.h"
#include "sim/path/setup_frame.h"

namespace provecut {

namespace {

using plan_style::text_size;
constexpr double line_height = 16, legend_width = 112, margin = 8;

struct Box {
  SetupPoint2 low, high;
  void add(SetupPoint2 p) {
    low = {std::min(low.x, p.x), std::min(low.y, p.y)};
    high = {std::max(high.x, p.x), std::max(high.y, p.y)};
  }
};

// Stock and hold-downs, and the moves as far as they are not far away from them.
Box surroundings(const Facts& facts, std::size_t program) {
  const ProgramFacts& p = facts.programs[program];
  const Vec3 size = stockSizeInSetup(facts.job.stock, *p.setup);
  Box box{{0, 0}, {size.x, size.y}};
  for (const int h : p.entry->hold_downs) {
    const Footprint foot = footprintBox(facts.job.hold_downs[h]);
    box.add(foot.low);
    box.add(foot.high);
  }
  const Vec2 reach{size.x * 0.25, size.y * 0.25};
  const Box within{SetupPoint2{0, 0} - reach, SetupPoint2{size.x, size.y} + reach};
  for (const Motion& m : p.program.motions) {
    if (!moves(m) || m.flags & motion_start_unknown) continue;
    const SetupBox extent = workToSetup(*p.setup, motionExtent(m));
    for (const SetupPoint corner : {extent.low, extent.high}) {
      const SetupPoint2 q = flat(corner);
      if (std::isfinite(q.x) && std::isfinite(q.y))
        box.add({std::clamp(q.x, within.low.x, within.high.x), std::clamp(q.y, within.low.y, within.high.y)});
    }
  }
  const double rim = 0.02 * std::max(box.high.x - box.low.x, box.high.y - box.low.y);
  return {box.low - Vec2{rim, rim}, box.high + Vec2{rim, rim}};
}

void drawLegend(SvgDrawing& drawing, const Job& job, Vec2 at, const std::vector<DepthBand>& bands, bool with_spot) {
  const Vec2 swatch{22, 0}, words{28, text_size * 0.35};
  const auto entry = [&](const SvgStyle& style, const std::string& text) {
    drawing.line(at, at + swatch, style);
    drawing.text(at + words, text, {.size = text_size});
    at.y += line_height;
  };
  at.y += line_height / 2;
  if (with_spot) {
    drawing.circle(at + Vec2{11, 0}, 6, {.stroke = ink::vermilion, .width = 2.2});
    drawing.text(at + words, "here", {.size = text_size});
    at.y += line_height;
  }
  if (!bands.empty()) {
    drawing.text(at + Vec2{0, text_size * 0.35}, job.inches ? "depth, in" : "depth, mm",
                 {.size = text_size, .bold = true});
    at.y += line_height;
  }
  for (const DepthBand& b : bands) {
    entry({.stroke = b.colour, .width = 4}, b.one_depth
                                                ? dimensionText(job, b.to_mm)
                                                : dimensionText(job, b.from_mm) + " to " + dimensionText(job, b.to_mm));
  }
  entry({.stroke = "#8a8a8a", .width = 1.2}, "no cut");
  entry({.stroke = "#8a8a8a", .width = 1.2, .dash = "5 3"}, "rapid");
}

void drawScene(SvgDrawing& drawing, const PlanView& view, const Facts& facts, std::size_t program,
               const std::vector<DepthBand>& bands, std::optional<std::uint32_t> line) {
  const ProgramFacts& p = facts.programs[program];
  drawing.openClip(view.corner, view.corner + Vec2{view.width(), view.height()});
  drawing.rect(view.corner, view.corner + Vec2{view.width(), view.height()}, {.fill = "#e9edf0"});
  drawStock(drawing, view, stockPlan(facts.job.stock, *p.setup));
  drawMoves(drawing, view, facts, program, bands);
  for (const int h : p.entry->hold_downs)
    drawHoldDown(drawing, view, facts.job.hold_downs[h], {.name_size = text_size});
  if (line) drawMovesOfLine(drawing, view, facts, program, *line);
  drawZero(drawing, view, flat(p.setup->zero_mm), text_size);
  drawing.close();
  drawing.rect(view.corner, view.corner + Vec2{view.width(), view.height()}, {.stroke = ink::faint, .width = 0.8});
}

// Radius of what a finding is about: the part of the tool that met the hold-down, else the cutter. mm; 0: not known.
double radiusAt(const Facts& facts, const Finding& f) {
  const int i = f.program_order;
  const ProgramFacts& p = facts.programs[i];
  const Job& job = facts.job;
  int number = 0;
  for (const Motion& m : p.program.motions) {
    if (m.line == f.place.line) number = m.tool;
  }
  const Tool* tool = findTool(job, number);
  const auto radiusOf = [&](ToolPart part, int attachment) {
    switch (part) {
      case ToolPart::cutter:
        return tool ? tool->diameter_mm / 2 : 0;
      case ToolPart::shank:
        return tool ? tool->shank_diameter_mm / 2 : 0;
      case ToolPart::collet_nut:
        return job.collet_nut.diameter_mm / 2;
      case ToolPart::spindle:
        return job.collet_nut.spindle_diameter_mm / 2;
      case ToolPart::attachment:
        return attachment >= 0 ? reach_mm(job.spindle_attachments[attachment]) : 0;
    }
    return 0.0;
  };
  if (i < std::ssize(facts.run.programs)) {
    const ProgramRun& run = facts.run.programs[i];
    const auto lineOf = [&](std::uint32_t move) {
      return move < p.program.motions.size() ? p.program.motions[move].line : 0;
    };
    const auto isSubject = [&](int h) { return visibleText(job.hold_downs[h].name) == f.subject; };
    for (const Contact& c : run.contacts) {
      if (lineOf(c.move) == f.place.line && isSubject(c.hold_down)) return radiusOf(c.part, c.attachment);
    }
    for (const NearPass& n : run.near_passes) {
      if (lineOf(n.move) == f.place.line && isSubject(n.hold_down)) return radiusOf(n.part, n.attachment);
    }
    if (f.rule == "nut-hit") {
      for (const BodyInStock& b : run.bodies_in_stock) {
        if (lineOf(b.move) == f.place.line) return radiusOf(b.part, b.attachment);
      }
    }
  }
  return radiusOf(ToolPart::cutter, -1);
}

void drawSpot(SvgDrawing& drawing, const PlanView& view, SetupPoint2 at_mm, double radius_mm) {
  const Vec2 at = view.at(at_mm);
  if (radius_mm > 0) drawing.circle(at, radius_mm * view.scale, {.fill = ink::vermilion, .opacity = 0.18});
  if (radius_mm > 0)
    drawing.circle(at, radius_mm * view.scale, {.stroke = ink::vermilion, .width = 1.4, .dash = "4 2"});
  for (const auto& [colour, width] : {std::pair{std::string_view("#ffffff"), 5.0}, std::pair{ink::vermilion, 2.4}}) {
    drawing.circle(at, 8, {.stroke = colour, .width = width});
    for (const Vec2 way : {Vec2{1, 0}, Vec2{-1, 0}, Vec2{0, 1}, Vec2{0, -1}}) {
      drawing.line(at + way * 8, at + way * 15, {.stroke = colour, .width = width});
    }
  }
}

}  // namespace

std::string programPicture(const Facts& facts, std::size_t program, const PictureSize& size) {
  const ProgramFacts& p = facts.programs[program];
  const Box box = surroundings(facts, program);
  const double bar_room = 22;
  const PlanView view = fittedView(box.low, box.high, size.width - legend_width - 3 * margin,
                                   size.height - 2 * margin - bar_room, {margin, margin});
  const std::vector<DepthBand> bands = depthBands(facts, program);
  const double legend_height = line_height * static_cast<double>(bands.size() + 4);
  const double height = std::max(view.height() + bar_room, legend_height) + 2 * margin;
  SvgDrawing drawing(view.width() + legend_width + 3 * margin, height, "program" + std::to_string(program) + "-");
  drawing.describe(visibleText(p.entry->file) + " from above",
                   "The stock, its hold-downs and the moves of the program, coloured by depth.");
  drawScene(drawing, view, facts, program, bands, std::nullopt);
  drawLegend(drawing, facts.job, {2 * margin + view.width(), margin}, bands, false);
  drawScaleBar(drawing, view, {margin + 1, margin + view.height() + 13}, view.width() / 3, facts.job.inches, text_size);
  return drawing.inlined();
}

std::string findingPicture(const Facts& facts, const Finding& f, const PictureSize& size) {
  if (f.program_order < 0 || !f.at) return {};
  const int program = f.program_order;
  const ProgramFacts& p = facts.programs[program];
  const SetupPoint2 spot = flat(workToSetup(*p.setup, *f.at));
  if (!std::isfinite(spot.x) || !std::isfinite(spot.y)) return {};
  const double radius = radiusAt(facts, f);
  const double bar_room = 22;
  const double width = size.width - legend_width - 3 * margin, height = size.height - 2 * margin - bar_room;
  // So near that a cutter is well seen, so far that one sees where on the stock it is.
  const Vec3 stock = stockSizeInSetup(facts.job.stock, *p.setup);
  const double half =
      std::clamp(std::max(stock.x, stock.y) / 10, std::max(2.5 * radius, 15.0), std::max(6 * radius, 60.0));
  const Vec2 reach{half * width / height, half};
  const PlanView view = fittedView(spot - reach, spot + reach, width, height, {margin, margin});
  const std::vector<DepthBand> bands = depthBands(facts, program);
  const double all =
      std::max(view.height() + bar_room, line_height * static_cast<double>(bands.size() + 5)) + 2 * margin;
  SvgDrawing drawing(size.width, all,
                     "at" + std::to_string(program) + "-" + std::to_string(f.place.line) + "-" + f.rule + "-");
  drawing.describe(f.program + " line " + std::to_string(f.place.line) + ": " + f.rule, f.message);
  drawScene(drawing, view, facts, program, bands, f.place.line);
  drawing.openClip(view.corner, view.corner + Vec2{view.width(), view.height()});
  drawSpot(drawing, view, spot, radius);
  drawing.close();
  drawLegend(drawing, facts.job, {2 * margin + view.width(), margin}, bands, true);
  drawScaleBar(drawing, view, {margin + 1, margin + view.height() + 13}, view.width() / 3, facts.job.inches, text_size);
  return drawing.inlined();
}

}  // namespace provecut
