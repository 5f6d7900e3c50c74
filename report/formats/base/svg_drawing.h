// Elements of an SVG picture: shapes in the drawing's own units, escaped text, hatches. Knows nothing of jobs.
// A stream that fails is left failed: the caller looks at it afterwards.
#pragma once

#include <iosfwd>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "parser/base/geometry.h"

namespace provecut {

// Colours that stay apart for the common kinds of colour blindness (M. Okabe, K. Ito, "Color universal design",
// 2008, jfly.uni-koeln.de/color). Whatever a colour says is also said by a pattern, a shape or a word.
namespace ink {
inline constexpr std::string_view black = "#000000", orange = "#e69f00", sky_blue = "#56b4e9", green = "#009e73",
                                  yellow = "#f0e442", blue = "#0072b2", vermilion = "#d55e00", purple = "#cc79a7";
inline constexpr std::string_view paper = "#ffffff", text = "#222222", faint = "#777777", rule = "#bbbbbb";
}  // namespace ink

struct SvgStyle {
  std::string_view fill = "none";  // a colour, "none", or SvgDrawing::hatch(...)
  std::string_view stroke = "none";
  double width = 1;            // of the stroke
  std::string_view dash = {};  // "4 2"
  double opacity = 1;          // of all of it
};

enum class SvgAnchor { start, middle, end };

struct SvgText {
  double size = 12;
  SvgAnchor anchor = SvgAnchor::start;
  std::string_view fill = ink::text;
  bool bold = false;
  bool halo = false;      // a white rim, for words over lines
  double turned_deg = 0;  // counter-clockwise
};

// x to the right, y down, as SVG has it. Numbers are written with two decimals.
class SvgDrawing {
 public:
  // `name` begins the names of hatches and clips: drawings in one page need different ones.
  SvgDrawing(double width, double height, std::string_view name = {}) : width_(width), height_(height), name_(name) {}

  // What a screen reader says of it.
  void describe(std::string_view title, std::string_view description);

  // A fill of lines `apart` from each other, turned by `angle_deg`, or of dots. Gives
  // the value for SvgStyle::fill.
  std::string hatch(std::string_view colour, double angle_deg, double apart, double line,
                    std::string_view ground = "none");
  std::string dots(std::string_view colour, double apart, double dot, std::string_view ground = "none");
  // What is drawn after openClip() is seen only within the rectangle, up to close().
  void openClip(Vec2 low, Vec2 high);
  // All up to close() belongs together; `title` is shown where the pointer rests.
  void openGroup(std::string_view title = {});
  void close();

  void line(Vec2 a, Vec2 b, const SvgStyle& style);
  void rect(Vec2 low, Vec2 high, const SvgStyle& style, double corner = 0);
  void circle(Vec2 centre, double radius, const SvgStyle& style);
  void polyline(std::span<const Vec2> points, const SvgStyle& style);
  // Rings taken together, holes by the even-odd rule.
  void polygons(std::span<const std::vector<Vec2>> rings, const SvgStyle& style);
  // Many strokes in one element: path data as SVG has it ("M1 2L3 4").
  void path(std::string_view data, const SvgStyle& style);
  // A line with a head at b.
  void arrow(Vec2 a, Vec2 b, std::string_view colour, double width);
  void text(Vec2 at, std::string_view words, const SvgText& style = {});

  void write(std::ostream& out) const;
  // The drawing to stand in a page: the same without the line that only a file of its own has.
  std::string inlined() const;

 private:
  double width_, height_;
  std::string name_, title_, description_, definitions_, body_;
  int names_ = 0;
};

// About how wide a line of text of `size` comes out in a sans-serif face.
double svgTextWidth(std::string_view words, double size);

}  // namespace provecut
