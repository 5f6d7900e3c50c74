// The elements of a picture: what is written is SVG whatever the words in it (SVG 1.1, W3C; XML 1.0 §2.2, §2.4).
#include "report/formats/base/svg_drawing.h"

#include <gtest/gtest.h>

#include <sstream>

namespace provecut {
namespace {

std::string written(const SvgDrawing& drawing) {
  std::ostringstream out;
  drawing.write(out);
  return out.str();
}

bool holds(const std::string& text, std::string_view part) {
  return text.find(part) != std::string::npos;
}

TEST(SvgDrawing, words_from_outside_are_never_markup) {
  SvgDrawing drawing(100, 50);
  drawing.describe("<a>", "b & c");
  drawing.openGroup("\"</title><script>");
  drawing.text({1, 2}, "<script>alert('1')</script>");
  drawing.close();
  drawing.text({1, 2}, "\x1b[2J");
  const std::string svg = written(drawing);
  EXPECT_FALSE(holds(svg, "<script"));
  EXPECT_FALSE(holds(svg, "\x1b"));
  EXPECT_TRUE(holds(svg, "&lt;script&gt;alert(&#39;1&#39;)&lt;/script&gt;</text>"));
  EXPECT_TRUE(holds(svg, "<title>&lt;a&gt;</title>\n<desc>b &amp; c</desc>"));
  EXPECT_TRUE(holds(svg, "<title>&quot;&lt;/title&gt;&lt;script&gt;</title>"));
}

TEST(SvgDrawing, a_polygon_with_a_hole_is_one_path_by_the_even_odd_rule) {
  SvgDrawing drawing(100, 50);
  const std::vector<std::vector<Vec2>> rings{{{0, 0}, {10, 0}, {10, 10}}, {{2, 1}, {8, 1}, {8.126, 7}}};
  drawing.polygons(rings, {.fill = ink::blue});
  EXPECT_TRUE(holds(written(drawing), "d=\"M0 0L10 0L10 10ZM2 1L8 1L8.13 7Z\" fill-rule=\"evenodd\""));
}

TEST(SvgDrawing, what_is_not_a_number_does_not_spoil_the_picture) {
  SvgDrawing drawing(100, 50);
  drawing.line({NAN, -0.001}, {INFINITY, 1e-9}, {.stroke = ink::black});
  EXPECT_TRUE(holds(written(drawing), "<line x1=\"0\" y1=\"0\" x2=\"0\" y2=\"0\""));
}

TEST(SvgDrawing, every_hatch_has_a_name_of_its_own) {
  SvgDrawing drawing(100, 50);
  const std::string a = drawing.hatch(ink::green, 45, 8, 1), b = drawing.dots(ink::green, 8, 1);
  EXPECT_NE(a, b);
  EXPECT_TRUE(holds(written(drawing), "id=\"" + a.substr(5, a.size() - 6) + "\""));
}

}  // namespace
}  // namespace provecut
