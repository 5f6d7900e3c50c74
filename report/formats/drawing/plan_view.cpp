#include "report/formats/drawing/plan_view.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <string>
#include <vector>

#include "parser/base/units.h"
#include "report/base/number_text.h"
#include "report/base/visible_text.h"
#include "report/formats/drawing/plan_style.h"

namespace provecut {

namespace {

std::string_view colourOf(HoldDownKind kind) {
  switch (kind) {
    case HoldDownKind::screw:
      return ink::black;
    case HoldDownKind::clamp:
      return ink::blue;
    case HoldDownKind::pin:
      return ink::green;
    case HoldDownKind::tape:
    case HoldDownKind::glue:
    case HoldDownKind::vacuum:
      return ink::orange;
    case HoldDownKind::vise:
    case HoldDownKind::side_clamp:
      return ink::blue;
    case HoldDownKind::other:
      return ink::purple;
  }
  return ink::black;
}

// The mark that tells the kind without colour, in white on the shape.
void drawKind(SvgDrawing& drawing, HoldDownKind kind, Vec2 low, Vec2 high, double radius) {
  const Vec2 c = (low + high) * 0.5;
  const SvgStyle white{.stroke = "#ffffff", .width = std::max(0.8, radius * 0.18)};
  switch (kind) {
    case HoldDownKind::screw:
      drawing.line({c.x - radius * 0.6, c.y}, {c.x + radius * 0.6, c.y}, white);
      break;
    case HoldDownKind::pin:
      drawing.circle(c, radius * 0.35, {.fill = "#ffffff"});
      break;
    case HoldDownKind::clamp:
      drawing.line(low, high, white);
      drawing.line({low.x, high.y}, {high.x, low.y}, white);
      break;
    case HoldDownKind::tape:
    case HoldDownKind::glue:
    case HoldDownKind::vacuum:
    case HoldDownKind::vise:
    case HoldDownKind::side_clamp:
    case HoldDownKind::other:
      break;
  }
}

}  // namespace

PlanView fittedView(SetupPoint2 low, SetupPoint2 high, double max_width, double max_height, Vec2 corner) {
  const double x = std::max(high.x - low.x, 1e-6), y = std::max(high.y - low.y, 1e-6);
  return {low, high, std::min(max_width / x, max_height / y), corner};
}

Footprint footprintBox(const HoldDown& h) {
  if (h.diameter_mm > 0) {
    const Vec2 r{h.diameter_mm / 2, h.diameter_mm / 2};
    return {h.at_mm - r, h.at_mm + r};
  }
  Footprint box{h.at_mm, h.at_mm};
  bool first = true;
  for (const SetupPoint2 p : footprint(h)) {
    box.low = first ? p : SetupPoint2{std::min(box.low.x, p.x), std::min(box.low.y, p.y)};
    box.high = first ? p : SetupPoint2{std::max(box.high.x, p.x), std::max(box.high.y, p.y)};
    first = false;
  }
  return box;
}

void drawStock(SvgDrawing& drawing, const PlanView& view, const StockPlan& stock) {
  const SvgStyle style{.fill = plan_style::wood, .stroke = plan_style::wood_edge, .width = 1.4};
  if (stock.round) {
    drawing.circle(view.at(stock.middle()), stock.radius_mm() * view.scale, style);
  } else {
    drawing.rect(view.at({0, stock.size_mm.y}), view.at({stock.size_mm.x, 0}), style);
  }
}

void drawHoldDown(SvgDrawing& drawing, const PlanView& view, const HoldDown& h, const HoldDownLook& look) {
  const std::string_view colour = colourOf(h.kind);
  const bool tape = !isObstacle(h);
  SvgStyle style{.fill = look.faint || tape ? std::string_view("none") : colour, .stroke = colour, .width = 1.2};
  if (look.faint || tape) style.dash = "3 2";
  const Footprint box = footprintBox(h);
  const Vec2 low = view.at(box.low), high = view.at(box.high);
  if (h.diameter_mm > 0) {
    drawing.circle(view.at(h.at_mm), h.diameter_mm / 2 * view.scale, style);
  } else {
    std::vector<Vec2> ring;
    for (const SetupPoint2 p : footprint(h)) ring.push_back(view.at(p));
    drawing.polygons(std::span(&ring, 1), style);
  }
  const double radius = std::min(high.x - low.x, low.y - high.y) / 2;
  // The cross of a turned or drawn outline would reach over its edges.
  const bool box_upright = h.diameter_mm > 0 || (h.outline_mm.empty() && h.angle_deg == 0);
  if (!look.faint && (h.kind != HoldDownKind::clamp || box_upright)) drawKind(drawing, h.kind, low, high, radius);
  if (look.name_size <= 0) return;
  const std::string name = visibleText(h.name) + std::string(look.note);
  const Vec2 corner = view.corner, opposite = corner + Vec2{view.width(), view.height()};
  if (high.x < corner.x || low.x > opposite.x || low.y < corner.y || high.y > opposite.y) return;
  // Beside small shapes near the sides, else above the shape, or below it where it stands at the back edge.
  const double middle = (low.x + high.x) / 2, line = std::clamp((low.y + high.y) / 2 + look.name_size * 0.35,
                                                                corner.y + look.name_size, opposite.y - 3);
  if (middle < corner.x + view.width() * 0.3) {
    drawing.text({high.x + 4, line}, name, {.size = look.name_size, .halo = true});
  } else if (middle > corner.x + view.width() * 0.7) {
    drawing.text({low.x - 4, line}, name, {.size = look.name_size, .anchor = SvgAnchor::end, .halo = true});
  } else {
    const bool room_above = high.y - 3 - look.name_size >= corner.y;
    drawing.text({middle, room_above ? high.y - 3 : std::min(low.y + look.name_size + 1, opposite.y - 2)}, name,
                 {.size = look.name_size, .anchor = SvgAnchor::middle, .halo = true});
  }
}

void drawZero(SvgDrawing& drawing, const PlanView& view, SetupPoint2 zero_mm, double text_size) {
  const Vec2 o = view.at(zero_mm);
  const double left = view.corner.x, top = view.corner.y;
  if (o.x < left - 1 || o.y < top - 1 || o.x > left + view.width() + 1 || o.y > top + view.height() + 1) return;
  const double arm = text_size * 2.2;
  const Vec2 x_end = o + Vec2{arm, 0}, y_end = o - Vec2{0, arm};
  drawing.line(o, x_end, {.stroke = "#ffffff", .width = 4});
  drawing.line(o, y_end, {.stroke = "#ffffff", .width = 4});
  drawing.arrow(o, x_end, ink::vermilion, 1.8);
  drawing.arrow(o, y_end, ink::vermilion, 1.8);
  drawing.circle(o, 3.2, {.fill = "#ffffff", .stroke = ink::vermilion, .width = 1.6});
  drawing.text(x_end + Vec2{3, text_size * 0.35}, "X", {.size = text_size, .bold = true, .halo = true});
  drawing.text(y_end + Vec2{-text_size * 0.3, -3}, "Y", {.size = text_size, .bold = true, .halo = true});
}

void drawScaleBar(SvgDrawing& drawing, const PlanView& view, Vec2 at, double max_units, bool inches, double text_size) {
  const double unit_mm = inches ? mm_per_inch : 1;
  const double max_length = max_units / view.scale / unit_mm;
  if (!(max_length > 0) || !std::isfinite(max_length)) return;
  const double ten = std::pow(10, std::floor(std::log10(max_length)));
  const double length = max_length >= 5 * ten ? 5 * ten : max_length >= 2 * ten ? 2 * ten : ten;
  const double units = length * unit_mm * view.scale;
  const SvgStyle line{.stroke = ink::text, .width = 1.2};
  drawing.line(at, at + Vec2{units, 0}, line);
  drawing.line(at - Vec2{0, 3}, at + Vec2{0, 3}, line);
  drawing.line(at + Vec2{units, -3}, at + Vec2{units, 3}, line);
  drawing.text(at + Vec2{units + 5, text_size * 0.35}, shortNumber(length, 4) + (inches ? " in" : " mm"),
               {.size = text_size});
}

}  // namespace provecut
