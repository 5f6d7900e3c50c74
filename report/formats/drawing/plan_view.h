// A window of the stock's plan in a drawing, and the things that every plan shows: stock, hold-downs, work zero, scale.
#pragma once

#include <optional>
#include <span>
#include <string_view>

#include "parser/job/job.h"
#include "report/formats/base/svg_drawing.h"
#include "sim/path/stock_plan.h"

namespace provecut {

// Maps the plan of a setup (y to the back) onto a drawing (units, y down).
struct PlanView {
  SetupPoint2 low, high;  // the window
  double scale = 1;       // units per mm
  Vec2 corner;            // units, where the window's left back corner is drawn

  Vec2 at(SetupPoint2 p) const { return {corner.x + (p.x - low.x) * scale, corner.y + (high.y - p.y) * scale}; }
  double width() const { return (high.x - low.x) * scale; }
  double height() const { return (high.y - low.y) * scale; }
};

// The largest scale at which the box fits in `max_width` by `max_height` units.
PlanView fittedView(SetupPoint2 low, SetupPoint2 high, double max_width, double max_height, Vec2 corner);

// Lowest and highest corner of a hold-down's footprint.
struct Footprint {
  SetupPoint2 low, high;
};
Footprint footprintBox(const HoldDown& hold_down);

// Each kind has a shape of its own besides its colour: a screw a slot, a clamp a cross, a pin a dot, tape a broken
// line.
struct HoldDownLook {
  bool faint = false;          // it stands at another time
  double name_size = 0;        // units; 0: no name
  std::string_view note = {};  // after the name
};
void drawHoldDown(SvgDrawing& drawing, const PlanView& view, const HoldDown& hold_down, const HoldDownLook& look);

void drawStock(SvgDrawing& drawing, const PlanView& view, const StockPlan& stock);

// Arrows along X and Y from the work zero; nothing when it is outside the window.
void drawZero(SvgDrawing& drawing, const PlanView& view, SetupPoint2 zero_mm, double text_size);

// A bar of a round length at a place in units; `inches`: in inches.
void drawScaleBar(SvgDrawing& drawing, const PlanView& view, Vec2 at, double max_units, bool inches, double text_size);

}  // namespace provecut
