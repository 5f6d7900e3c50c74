#include "tests/reference/parting/outlines.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace provecut::reference {
namespace {

constexpr double kEdge_mm = 9;  // kept free for screws
constexpr double kSmallestHalf_mm = 2.2;

Shape randomShape(Dice& dice, ShapeForm form, PlanPoint centre, double half_x, double half_y) {
  Shape s;
  s.form = form == ShapeForm::any
               ? dice.pick({ShapeForm::rectangle, ShapeForm::rectangle, ShapeForm::round, ShapeForm::star})
               : form;
  s.centre = centre;
  s.backward = dice.chance(0.5);
  s.halves = dice.chance(0.5);
  s.start_rad = dice.real(0, 2 * std::numbers::pi);
  s.half_x = half_x;
  s.half_y = half_y;
  if (s.form == ShapeForm::rectangle) {
    if (dice.chance(0.3)) s.corner = dice.milli(0.1, 0.5) * std::min(half_x, half_y);
  } else {
    s.half_x = s.half_y = std::min(half_x, half_y);
  }
  if (s.form == ShapeForm::star) {
    const int points = dice.integer(3, 5);
    const double waist = dice.real(0.4, 0.8);
    for (int k = 0; k < points; ++k) {
      s.spokes.push_back(dice.real(0.85, 1));
      s.spokes.push_back(waist * dice.real(0.9, 1.1));
    }
  }
  return s;
}

// The largest radius about the centre that lies within the shape.
double radiusWithin(const Shape& s) {
  if (s.form != ShapeForm::star) return std::min(s.half_x, s.half_y);
  return 0.8 * s.half_x * *std::min_element(s.spokes.begin(), s.spokes.end());
}

std::vector<Shape> nested(Dice& dice, ShapeForm form, PlanPoint centre, double half_x, double half_y, double kerf) {
  std::vector<Shape> shapes{randomShape(dice, form, centre, half_x, half_y)};
  const int more = dice.integer(1, 3);
  for (int k = 0; k < more; ++k) {
    const Shape& outer = shapes.back();
    const double web = dice.milli(1.2, 5);
    const bool boxes = outer.form == ShapeForm::rectangle && (form == ShapeForm::any || form == ShapeForm::rectangle) &&
                       dice.chance(0.6);
    const double radius = radiusWithin(outer) - kerf - web;
    const double x = boxes ? outer.half_x - kerf - web : radius * 0.7;
    const double y = boxes ? outer.half_y - kerf - web : radius * 0.7;
    if (std::min(x, y) < kSmallestHalf_mm) break;
    const ShapeForm inner = boxes ? ShapeForm::rectangle : form;
    const PlanPoint moved{centre.x + dice.milli(-0.4, 0.4), centre.y + dice.milli(-0.4, 0.4)};
    shapes.push_back(randomShape(dice, inner, moved, x, y));
  }
  return shapes;
}

std::vector<Shape> islands(Dice& dice, ShapeForm form, PlanPoint centre, double half_x, double half_y, double kerf) {
  std::vector<Shape> shapes{randomShape(dice, ShapeForm::rectangle, centre, half_x, half_y)};
  const int holes = dice.integer(2, 4);
  const int first = dice.integer(0, 3);
  const double web = dice.milli(0.8, 3);
  const double x = (half_x - 1.5 * kerf) / 2 - web;
  const double y = (half_y - 1.5 * kerf) / 2 - web;
  if (std::min(x, y) < kSmallestHalf_mm / 2) return shapes;
  for (int k = 0; k < holes; ++k) {
    const int corner = (first + k) % 4;
    const double part = dice.real(0.6, 1);
    const PlanPoint place{centre.x + (corner % 2 == 0 ? -1 : 1) * (half_x - kerf) / 2,
                          centre.y + (corner < 2 ? -1 : 1) * (half_y - kerf) / 2};
    shapes.push_back(randomShape(dice, form, place, x * part, y * part));
  }
  return shapes;
}

std::vector<Shape> sideBySide(Dice& dice, ShapeForm form, double size_x, double size_y, double kerf) {
  std::vector<Shape> shapes;
  const int columns = dice.integer(1, size_x > 55 ? 2 : 1);
  const int rows = dice.integer(1, size_y > 55 ? 2 : 1);
  const double box_x = (size_x - 2 * kEdge_mm) / columns;
  const double box_y = (size_y - 2 * kEdge_mm) / rows;
  const bool together = dice.chance(0.3);  // kerfs run together
  const double gap = dice.milli(-0.2, 3) + (together ? 0 : kerf);
  for (int k = 0; k < columns * rows; ++k) {
    const PlanPoint centre{kEdge_mm + (k % columns + 0.5) * box_x + dice.milli(-0.5, 0.5),
                           kEdge_mm + (k / columns + 0.5) * box_y + dice.milli(-0.5, 0.5)};
    const double x = std::max(kSmallestHalf_mm, (box_x - gap) / 2) * (dice.chance(0.5) ? 1 : dice.real(0.4, 1));
    const double y = std::max(kSmallestHalf_mm, (box_y - gap) / 2) * (dice.chance(0.5) ? 1 : dice.real(0.4, 1));
    shapes.push_back(randomShape(dice, form, centre, x, y));
  }
  return shapes;
}

std::vector<Shape> slots(Dice& dice, double size_x, double size_y, double kerf) {
  std::vector<Shape> shapes;
  const int count = dice.integer(3, 7);
  for (int k = 0; k < count; ++k) {
    const bool whole = dice.chance(0.7);
    const bool upright = dice.chance(0.5);
    const double reach = whole ? 0.5 : dice.real(0.15, 0.4);
    const double lean = dice.chance(0.5) ? 0 : dice.milli(-12, 12);
    Shape s;
    s.form = ShapeForm::slot;
    s.centre = {size_x * dice.real(upright ? 0.1 : 0.4, upright ? 0.9 : 0.6),
                size_y * dice.real(upright ? 0.4 : 0.1, upright ? 0.6 : 0.9)};
    const double along = (upright ? size_y : size_x) * (whole ? reach * 1.25 : reach) + (whole ? kerf : 0);
    s.half_x = upright ? lean : along;
    s.half_y = upright ? along : lean;
    shapes.push_back(s);
  }
  return shapes;
}

// The heights of a pass at depth z: over each tab the tool rises to the tab's top.
std::vector<Knot> knotsOf(const CutPlan& plan, double z, double length) {
  std::vector<Knot> knots{{0, z}};
  if (z < plan.tab_top) {
    for (const Tab& tab : plan.tabs) {
      const double third = (tab.to - tab.from) / 3;
      knots.push_back({tab.from, z});
      if (plan.tab_form == TabForm::triangular) {
        knots.push_back({(tab.from + tab.to) / 2, plan.tab_top});
      } else {
        const double rise = plan.tab_form == TabForm::ramped ? third : 0;
        knots.push_back({tab.from + rise, plan.tab_top});
        knots.push_back({tab.to - rise, plan.tab_top});
      }
      knots.push_back({tab.to, z});
    }
  }
  knots.push_back({length, z});
  return knots;
}

void raise(Writer& writer, const CutPlan& plan) {
  rapidTo(writer, {writer.at.x, writer.at.y, plan.safe});
}

void goTo(Writer& writer, PlanPoint p, const CutPlan& plan) {
  rapidTo(writer, {p.x, p.y, plan.safe});
}

void cutWithLeads(Writer& writer, const Path& path, const CutPlan& plan) {
  // A quarter circle that runs into the first segment's direction.
  const PlanPoint p = pointOn(path, 0);
  const PlanPoint next = pointOn(path, 0.01);
  const double length = std::hypot(next.x - p.x, next.y - p.y);
  const PlanPoint u{(next.x - p.x) / length, (next.y - p.y) / length};
  const double side = plan.lead_left ? plan.lead_radius : -plan.lead_radius;
  const PlanPoint centre{p.x - u.y * side, p.y + u.x * side};
  const PlanPoint start{centre.x - u.x * plan.lead_radius, centre.y - u.y * plan.lead_radius};
  for (int pass = 1; pass <= plan.passes; ++pass) {
    const double z = plan.top + (plan.bottom - plan.top) * pass / plan.passes;
    goTo(writer, start, plan);
    feedTo(writer, {start.x, start.y, z});
    arcTo(writer, plan.lead_left ? MoveKind::arc_ccw : MoveKind::arc_cw, centre, {p.x, p.y, z});
    follow(writer, path, knotsOf(plan, z, lengthOf(path)));
    raise(writer, plan);
  }
}

}  // namespace

Path pathOf(const Shape& s, double offset) {
  const double x = std::max(0.5, s.half_x + offset);
  const double y = std::max(0.5, s.half_y + offset);
  Path path;
  if (s.form == ShapeForm::slot) {
    path = linePath({s.centre.x - s.half_x, s.centre.y - s.half_y}, {s.centre.x + s.half_x, s.centre.y + s.half_y});
  } else if (s.form == ShapeForm::round) {
    return circlePath(s.centre, x, s.start_rad, s.backward, s.halves);
  } else if (s.form == ShapeForm::star) {
    std::vector<PlanPoint> corners;
    const auto count = static_cast<double>(s.spokes.size());
    for (std::size_t k = 0; k < s.spokes.size(); ++k) {
      const double angle = s.start_rad + 2 * std::numbers::pi * static_cast<double>(k) / count;
      corners.push_back(
          {s.centre.x + x * s.spokes[k] * std::cos(angle), s.centre.y + x * s.spokes[k] * std::sin(angle)});
    }
    path = polygonPath(corners);
  } else {
    path = rectanglePath(s.centre, x, y, s.corner);
  }
  return s.backward ? reversed(path) : path;
}

std::vector<Shape> layOut(Dice& dice, Layout layout, ShapeForm form, double size_x, double size_y, double kerf) {
  if (layout == Layout::slots) return slots(dice, size_x, size_y, kerf);
  if (layout == Layout::grid) return sideBySide(dice, form, size_x, size_y, kerf);
  const PlanPoint centre{size_x / 2 + dice.milli(-1, 1), size_y / 2 + dice.milli(-1, 1)};
  const double half_x = (size_x / 2 - kEdge_mm) * dice.real(0.8, 1);
  const double half_y = (size_y / 2 - kEdge_mm) * dice.real(0.8, 1);
  if (layout == Layout::nested) return nested(dice, form, centre, half_x, half_y, kerf);
  return islands(dice, form, centre, half_x, half_y, kerf);
}

void addTabs(Dice& dice, CutPlan& plan, double length, double diameter) {
  const int wanted = dice.integer(1, 4);
  const double slot = length / wanted;
  for (int k = 0; k < wanted; ++k) {
    // Now and then shorter than the cutter is wide: then nothing of the tab is left.
    const double width = dice.chance(0.12) ? diameter * dice.real(0.3, 0.95) : diameter + dice.milli(0.5, 5);
    const double room = slot - width - 0.4;
    if (room <= 0) continue;
    const double from = k * slot + 0.2 + dice.real(0, room);
    plan.tabs.push_back({from, from + width});
  }
}

void cutPath(Writer& writer, const Path& path, const CutPlan& plan) {
  if (plan.entry == Entry::lead_in) {
    cutWithLeads(writer, path, plan);
    return;
  }
  const double length = lengthOf(path);
  const PlanPoint start = pointOn(path, 0);
  const bool closed = std::hypot(start.x - path.segments.back().to.x, start.y - path.segments.back().to.y) < 1e-6;
  goTo(writer, start, plan);
  bool ramped = false;
  double from = plan.top;
  for (int pass = 1; pass <= plan.passes; ++pass) {
    const double z = plan.top + (plan.bottom - plan.top) * pass / plan.passes;
    const bool over_tabs = !plan.tabs.empty() && z < plan.tab_top;
    ramped = plan.entry == Entry::ramp && !over_tabs;
    if (pass > 1 && !closed) {
      raise(writer, plan);
      goTo(writer, start, plan);
    }
    feedTo(writer, {writer.at.x, writer.at.y, ramped ? from : z});
    follow(writer, path, ramped ? std::vector<Knot>{{0, from}, {length, z}} : knotsOf(plan, z, length));
    from = z;
  }
  if (ramped && plan.finish && closed) follow(writer, path, knotsOf(plan, plan.bottom, length));
  raise(writer, plan);
}

void cutStretch(Writer& writer, const Path& path, double a, double b, const CutPlan& plan) {
  if (b - a < 0.05) return;
  const PlanPoint start = pointOn(path, a);
  goTo(writer, start, plan);
  feedTo(writer, {start.x, start.y, plan.bottom});
  follow(writer, path, {{a, plan.bottom}, {b, plan.bottom}});
  raise(writer, plan);
}

}  // namespace provecut::reference
