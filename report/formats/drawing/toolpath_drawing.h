// A program's moves as seen from above, in as many strokes as can be told apart.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "report/facts/facts.h"
#include "report/formats/drawing/plan_view.h"

namespace provecut {

// Depths below the stock's top face that share a colour: above `from_mm`, up to `to_mm`.
struct DepthBand {
  double from_mm = 0, to_mm = 0;
  bool one_depth = false;  // only `to_mm` itself
  std::string colour;
};

// The depths of a program's feed moves in at most six bands, shallow first; each depth by itself where there are few.
std::vector<DepthBand> depthBands(const Facts& facts, std::size_t program);

// Rapids as broken grey lines, feed moves above the stock in grey, those in it coloured by depth, the deepest on top.
void drawMoves(SvgDrawing& drawing, const PlanView& view, const Facts& facts, std::size_t program,
               const std::vector<DepthBand>& bands);

// The feed moves below the stock's top face in one thin line of one colour.
void drawCutMoves(SvgDrawing& drawing, const PlanView& view, const Facts& facts, std::size_t program,
                  std::string_view colour);

// The moves of one line once more, broad and in the colour of what is wrong.
void drawMovesOfLine(SvgDrawing& drawing, const PlanView& view, const Facts& facts, std::size_t program,
                     std::uint32_t line);

}  // namespace provecut
