// One panel of the drawing of free space: what is free for one form while one program runs.
#pragma once

#include <string>

#include "report/formats/base/svg_drawing.h"
#include "report/placing/hold_down_places.h"

namespace provecut::place_panel {

inline constexpr double width_px = 1000, side_px = 24;
inline constexpr std::string_view path_ink = "#9aa7b1";

struct Fills {
  std::string free, forbidden;
};

// With the gap below it. The form is that of the free places.
double height_px(const FreePlaces& free);
void draw(const Places& places, const FreePlaces& free, double top_px, const Fills& fills, SvgDrawing& svg);

// Signs that the legend shows too.
void drawCross(Vec2 at, std::string_view colour, double width, SvgDrawing& svg);
void drawOldHole(Vec2 at, double radius, SvgDrawing& svg);
void drawPinMiddle(Vec2 at, SvgDrawing& svg);

}  // namespace provecut::place_panel
