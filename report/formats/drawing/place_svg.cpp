#include "report/formats/drawing/place_svg.h"

#include <array>
#include <ostream>
#include <span>
#include <string>

#include "report/formats/base/svg_drawing.h"
#include "report/formats/drawing/place_panel.h"

namespace provecut {

namespace {

using place_panel::Fills;
using place_panel::path_ink;
using place_panel::side_px;
using place_panel::width_px;

constexpr double legend_px = 74;

// What the signs mean, in two rows.
void legend(SvgDrawing& svg, const Fills& fills, double top) {
  struct Sign {
    std::string_view words;
    int kind;
  };
  constexpr std::array<Sign, 10> signs{{{"free", 0},
                                        {"not free", 1},
                                        {"fitted, clear", 2},
                                        {"fitted, HIT", 3},
                                        {"fitted, too close", 4},
                                        {"not fitted for this program", 5},
                                        {"nearest free spot", 6},
                                        {"pin", 7},
                                        {"old screw hole", 8},
                                        {"cuts of this program", 9}}};
  for (std::size_t i = 0; i < signs.size(); ++i) {
    const double x = side_px + static_cast<double>(i % 5) * (width_px - 2 * side_px) / 5, y = top + (i < 5 ? 14 : 42);
    const Vec2 c{x + 15, y};
    const Vec2 low{x, y - 9}, high{x + 30, y + 9};
    switch (signs[i].kind) {
      case 0:
        svg.rect(low, high, {.fill = fills.free, .stroke = ink::green, .width = 1.4});
        break;
      case 1:
        svg.rect(low, high, {.fill = fills.forbidden, .stroke = ink::rule});
        break;
      case 2:
        svg.circle(c, 8, {.fill = ink::blue, .stroke = ink::black, .width = 1.4, .opacity = 0.85});
        break;
      case 3:
      case 4:
        svg.circle(c, 8, {.fill = signs[i].kind == 3 ? ink::vermilion : ink::orange, .stroke = ink::black, .width = 2});
        place_panel::drawCross(c, ink::black, 2, svg);
        break;
      case 5:
        svg.circle(c, 8, {.stroke = ink::faint, .width = 1.2, .dash = "4 3"});
        break;
      case 6:
        svg.circle(c, 8, {.stroke = ink::black, .width = 3.4});
        svg.circle(c, 8, {.stroke = ink::sky_blue, .width = 2, .dash = "6 3"});
        break;
      case 7:
        svg.circle(c, 7, {.fill = ink::paper, .stroke = ink::black, .width = 1.6});
        place_panel::drawPinMiddle(c, svg);
        break;
      case 8:
        place_panel::drawOldHole(c, 5, svg);
        break;
      default:
        svg.line({x, y}, {x + 30, y}, {.stroke = path_ink, .width = 1.5});
    }
    svg.text({x + 38, y + 4.5}, signs[i].words, {.size = 13});
  }
}

void write(const Places& places, std::span<const FreePlaces> panels, std::string_view title, std::ostream& out) {
  double height = legend_px;
  for (const FreePlaces& free : panels) height += place_panel::height_px(free);
  SvgDrawing svg(width_px, height);
  svg.describe(title,
               "The stock from above. Lines: a hold-down's centre can go here. Dots: the tool would come too close.");
  const Fills fills{svg.hatch(ink::green, 45, 7, 1.1), svg.dots(ink::vermilion, 6, 0.9)};
  double top = 0;
  for (const FreePlaces& free : panels) {
    place_panel::draw(places, free, top, fills, svg);
    top += place_panel::height_px(free);
  }
  legend(svg, fills, top);
  svg.write(out);
}

}  // namespace

void writePlaceSvg(const Places& places, std::size_t program, std::ostream& out) {
  const ProgramFacts& p = places.facts->programs[program];
  const std::span panels = std::span(places.free).subspan(program * places.forms.size(), places.forms.size());
  write(places, panels, "Where hold-downs can go: " + p.setup->name + ", " + p.entry->file, out);
}

void writePlaceSvg(const Places& places, std::ostream& out) {
  write(places, places.free, "Where hold-downs can go: " + places.facts->job.name, out);
}

std::string placeSvgName(const Places& places, std::size_t program) {
  const auto plain = [&](std::size_t p) {
    const ProgramFacts& facts = places.facts->programs[p];
    std::string name = facts.setup->name + "-" + facts.entry->file;
    if (const auto dot = name.rfind('.'); dot != std::string::npos && dot > facts.setup->name.size() + 1)
      name.erase(dot);
    for (char& c : name) {
      const bool keep =
          (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '-' || c == '_';
      if (!keep) c = '-';
    }
    return name.substr(0, 100);
  };
  const std::string name = plain(program);
  for (std::size_t p = 0; p < places.facts->programs.size(); ++p) {
    if (p != program && plain(p) == name) return std::to_string(program + 1) + "-" + name + ".svg";
  }
  return name + ".svg";
}

}  // namespace provecut
