#include "report/formats/drawing/place_svg.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <ostream>

#include "report/base/dimension_text.h"
#include "report/base/number_text.h"
#include "report/base/visible_text.h"
#include "report/formats/base/svg_drawing.h"
#include "sim/path/path.h"
#include "sim/path/setup_frame.h"

namespace provecut {

namespace {

constexpr double width_px = 1000, side_px = 24, title_px = 52, legend_px = 74, gap_px = 26;
constexpr std::string_view bed = "#eef0f2", wood = "#f6ead2", wood_edge = "#8a6d3b", path_ink = "#9aa7b1";

struct Fills {
  std::string free, forbidden;
};

// One program and form: a map from the setup frame to the page.
struct Panel {
  const Places& places;
  const Facts& facts;
  const Job& job;
  std::size_t program;
  std::size_t form;
  SvgDrawing& svg;
  const Fills& fills;
  double top_px;

  const FreePlaces& free() const { return places.free[program * places.forms.size() + form]; }
  const Setup& setup() const { return *facts.programs[program].setup; }
  double scale() const { return (width_px - 2 * side_px) / (free().region.high.x - free().region.low.x); }
  Vec2 page(SetupPoint2 p) const {
    return {side_px + (p.x - free().region.low.x) * scale(),
            top_px + title_px + (free().region.high.y - p.y) * scale()};
  }
  std::vector<Vec2> page(const std::vector<SetupPoint2>& ring) const {
    std::vector<Vec2> out;
    for (const SetupPoint2 p : ring) out.push_back(page(p));
    return out;
  }

  void title() const {
    svg.text({side_px, top_px + 22},
             visibleText(setup().name) + " \xC2\xB7 " + visibleText(facts.programs[program].entry->file),
             {.size = 18, .bold = true});
    svg.text({side_px, top_px + 42},
             "free space for the centre of a " + formText(job, places.forms[form].shape) + ", " +
                 dimensionWithUnit(job, job.limits.clearance_mm) + " clear of the tool",
             {.size = 13, .fill = ink::faint});
    svg.text({width_px - side_px, top_px + 42}, shareText(free().stock_share) + " of the stock is free",
             {.size = 13, .anchor = SvgAnchor::end});
  }

  void ground() const {
    const Vec2 low = page({free().region.low.x, free().region.high.y}),
               high = page({free().region.high.x, free().region.low.y});
    const Vec3 stock = stockSizeInSetup(job.stock, setup());
    svg.rect(low, high, {.fill = bed});
    svg.rect(page({0, stock.y}), page({stock.x, 0}), {.fill = wood});
    std::vector<std::vector<Vec2>> rings{{low, {high.x, low.y}, high, {low.x, high.y}}};
    std::vector<std::vector<Vec2>> free_rings;
    for (const std::vector<SetupPoint2>& ring : free().region.rings) {
      rings.push_back(page(ring));
      free_rings.push_back(page(ring));
    }
    svg.polygons(rings, {.fill = fills.forbidden});
    svg.polygons(free_rings, {.fill = fills.free, .stroke = ink::green, .width = 1.4});
    cuts();
    svg.rect(page({0, stock.y}), page({stock.x, 0}), {.stroke = wood_edge, .width = 2});
  }

  // The cuts of this program, so that one sees where one is.
  void cuts() const {
    const double top = stockSizeInSetup(job.stock, setup()).z;
    std::vector<Vec2> run;
    const auto flush = [&] {
      if (run.size() > 1) svg.polyline(run, {.stroke = path_ink, .width = 0.7, .opacity = 0.8});
      run.clear();
    };
    const auto add = [&](SetupPoint p) {
      const Vec2 at = page(flat(p));
      if (run.empty() || length(at - run.back()) > 0.4) run.push_back(at);
    };
    for (const Motion& m : facts.programs[program].program.motions) {
      if (!moves(m) || m.kind == MotionKind::rapid || std::min(m.start.z, m.end.z) + setup().zero_mm.z >= top) {
        flush();
        continue;
      }
      if (m.start.z > m.end.z && flat(m.start) == flat(m.end)) {
        flush();
        svg.circle(page(flat(workToSetup(setup(), m.end))), 1, {.fill = path_ink});
      }
      const PathPiece piece = pathOf(m, setup().zero_mm, job.machine).pieces[0];
      const int chords = piece.arc ? 4 + static_cast<int>(std::fabs(piece.sweep) * 6) : 1;
      if (run.empty()) add(piece.start);
      for (int k = 1; k <= chords; ++k) add(pointAt(piece, static_cast<double>(k) / chords));
    }
    flush();
  }

  void footprintAt(const HoldDown& h, SetupPoint2 at, const SvgStyle& style) const {
    if (h.diameter_mm > 0) {
      svg.circle(page(at), h.diameter_mm / 2 * scale(), style);
      return;
    }
    std::vector<Vec2> ring;
    for (const SetupPoint2 c : footprint(h)) ring.push_back(page(c + (at - h.at_mm)));
    svg.polygons(std::span(&ring, 1), style);
  }

  void label(SetupPoint2 at, const std::string& words, std::string_view colour) const {
    const double wide = svgTextWidth(words, 12);
    const Vec2 p = page(at);
    const double x = std::clamp(p.x, side_px + wide / 2 + 3, width_px - side_px - wide / 2 - 3);
    svg.text({x, p.y}, words, {.size = 12, .anchor = SvgAnchor::middle, .fill = colour, .bold = true, .halo = true});
  }

  double halfHeight(const HoldDown& h) const {
    const clearance::Obstacle o = clearance::obstacle(h, 0);
    return (o.high.y - o.low.y) / 2;
  }

  void holdDowns() const {
    for (const Standing& s : places.standing[program]) {
      const HoldDown& h = job.hold_downs[static_cast<std::size_t>(s.hold_down)];
      const std::string name = visibleText(h.name);
      const bool pin = h.kind == HoldDownKind::pin;
      const std::string state = s.hit ? "hit" : s.clear() ? "clear" : "too near";
      svg.openGroup(name + (s.stands ? " is fitted: " : " is not fitted now: ") + state);
      if (!s.stands) {
        footprintAt(h, h.at_mm, {.stroke = ink::faint, .width = 1.2, .dash = "4 3"});
        if (s.hit) cross(h.at_mm, ink::faint, 1.2);
      } else if (pin) {
        footprintAt(h, h.at_mm, {.fill = ink::paper, .stroke = ink::black, .width = 1.6});
        svg.circle(page(h.at_mm), 2, {.fill = ink::black});
      } else if (s.clear()) {
        footprintAt(h, h.at_mm, {.fill = ink::blue, .stroke = ink::black, .width = 1.4, .opacity = 0.85});
      } else {
        footprintAt(h, h.at_mm, {.fill = s.hit ? ink::vermilion : ink::orange, .stroke = ink::black, .width = 2});
        cross(h.at_mm, ink::black, 2);
      }
      svg.close();
    }
    // Names above all shapes.
    for (const Standing& s : places.standing[program]) {
      const HoldDown& h = job.hold_downs[static_cast<std::size_t>(s.hold_down)];
      const double up = halfHeight(h) + 6 / scale();
      // On the side away from its nearest free spot.
      const NearestPlace* n = nearestFor(s);
      const bool low = h.at_mm.y + up + 14 / scale() > free().region.high.y || (n && n->at->y > h.at_mm.y);
      const SetupPoint2 at = low ? h.at_mm - Vec2{0, halfHeight(h) + 16 / scale()} : h.at_mm + Vec2{0, up};
      const std::string state = !s.stands ? "" : s.hit ? " HIT" : s.clear() ? "" : " too near";
      label(at, visibleText(h.name) + state, s.stands ? ink::text : ink::faint);
    }
  }

  void cross(SetupPoint2 at, std::string_view colour, double width) const {
    const Vec2 p = page(at);
    svg.line(p + Vec2{-5, -5}, p + Vec2{5, 5}, {.stroke = colour, .width = width});
    svg.line(p + Vec2{-5, 5}, p + Vec2{5, -5}, {.stroke = colour, .width = width});
  }

  // The nearest free spot of what stands here and is in the way.
  const NearestPlace* nearestFor(const Standing& s) const {
    for (const NearestPlace& n : places.nearest) {
      if (n.hold_down == s.hold_down && &job.setups[static_cast<std::size_t>(n.setup)] == &setup() && n.at && s.stands)
        return &n;
    }
    return nullptr;
  }

  void nearestSpots() const {
    for (const Standing& s : places.standing[program]) {
      const NearestPlace* n = nearestFor(s);
      if (!n) continue;
      const HoldDown& h = job.hold_downs[static_cast<std::size_t>(n->hold_down)];
      svg.openGroup("nearest free spot for " + visibleText(h.name));
      footprintAt(h, *n->at, {.stroke = ink::black, .width = 3});
      footprintAt(h, *n->at, {.stroke = ink::sky_blue, .width = 1.8, .dash = "5 3"});
      svg.arrow(page(h.at_mm), page(*n->at), ink::black, 1.5);
      svg.close();
      const double up = n->at->y > h.at_mm.y ? halfHeight(h) + 6 / scale() : -(halfHeight(h) + 16 / scale());
      label(*n->at + Vec2{0, up}, "to " + spotText(job, *n->at), ink::blue);
    }
  }

  void oldHoles() const {
    for (const holes::OldHole& hole : places.old_holes) {
      if (hole.left_by >= static_cast<int>(program) || &job.setups[static_cast<std::size_t>(hole.setup)] == &setup())
        continue;
      const Vec2 p = page(holes::placeIn(job, hole, setup()));
      const double r = std::max(3.0, hole.diameter_mm / 2 * scale());
      svg.openGroup("old hole of " + visibleText(job.hold_downs[static_cast<std::size_t>(hole.hold_down)].name));
      svg.circle(p, r, {.fill = ink::paper, .stroke = ink::purple, .width = 2});
      svg.line(p + Vec2{-r, 0}, p + Vec2{r, 0}, {.stroke = ink::purple, .width = 1.2});
      svg.line(p + Vec2{0, -r}, p + Vec2{0, r}, {.stroke = ink::purple, .width = 1.2});
      svg.close();
    }
  }

  // A disc in quarters, and the axes.
  void zeroMark() const {
    const Vec2 z = page(flat(setup().zero_mm));
    svg.openGroup("work zero");
    svg.arrow(z, z + Vec2{38, 0}, ink::black, 1.6);
    svg.arrow(z, z + Vec2{0, -38}, ink::black, 1.6);
    svg.circle(z, 6, {.fill = ink::paper, .stroke = ink::black, .width = 1.4});
    svg.polygons(std::vector<std::vector<Vec2>>{{z, z + Vec2{6, 0}, z + Vec2{4.2, -4.2}, z + Vec2{0, -6}},
                                                {z, z + Vec2{-6, 0}, z + Vec2{-4.2, 4.2}, z + Vec2{0, 6}}},
                 {.fill = ink::black});
    svg.text(z + Vec2{42, 4}, "X", {.size = 12, .halo = true});
    svg.text(z + Vec2{-4, -42}, "Y", {.size = 12, .halo = true});
    svg.close();
  }

  void scaleBar() const {
    const double unit = lengthUnit_mm(job);
    double span = unit;
    for (const double n : {1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0, 500.0, 1000.0}) {
      if (n * unit * scale() <= 160) span = n * unit;
    }
    const Vec2 b{width_px - side_px - 10, bottom() - 12}, a = b - Vec2{span * scale(), 0};
    svg.line(a, b, {.stroke = ink::black, .width = 2});
    for (const Vec2 end : {a, b}) svg.line(end + Vec2{0, -4}, end + Vec2{0, 4}, {.stroke = ink::black, .width = 2});
    svg.text({(a.x + b.x) / 2, a.y - 6}, dimensionWithUnit(job, span),
             {.size = 12, .anchor = SvgAnchor::middle, .halo = true});
  }

  double bottom() const { return page(free().region.low).y; }

  void draw() const {
    title();
    svg.openClip({side_px, top_px + title_px}, {width_px - side_px, bottom()});
    ground();
    oldHoles();
    holdDowns();
    nearestSpots();
    zeroMark();
    scaleBar();
    svg.close();
    svg.rect({side_px, top_px + title_px}, {width_px - side_px, bottom()}, {.stroke = ink::rule});
  }
};

double heightOf(const Places& places, std::size_t program, std::size_t form) {
  const placing::FreeRegion& r = places.free[program * places.forms.size() + form].region;
  return title_px + (r.high.y - r.low.y) * (width_px - 2 * side_px) / (r.high.x - r.low.x) + gap_px;
}

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
                                        {"fitted, too near", 4},
                                        {"not fitted now", 5},
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
        svg.line(c + Vec2{-5, -5}, c + Vec2{5, 5}, {.stroke = ink::black, .width = 2});
        svg.line(c + Vec2{-5, 5}, c + Vec2{5, -5}, {.stroke = ink::black, .width = 2});
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
        svg.circle(c, 2, {.fill = ink::black});
        break;
      case 8:
        svg.circle(c, 5, {.fill = ink::paper, .stroke = ink::purple, .width = 2});
        svg.line(c + Vec2{-5, 0}, c + Vec2{5, 0}, {.stroke = ink::purple, .width = 1.2});
        svg.line(c + Vec2{0, -5}, c + Vec2{0, 5}, {.stroke = ink::purple, .width = 1.2});
        break;
      default:
        svg.line({x, y}, {x + 30, y}, {.stroke = path_ink, .width = 1.5});
    }
    svg.text({x + 38, y + 4.5}, signs[i].words, {.size = 13});
  }
}

void write(const Places& places, std::size_t begin, std::size_t end, std::string_view title, std::ostream& out) {
  double height = legend_px;
  for (std::size_t p = begin; p < end; ++p) {
    for (std::size_t f = 0; f < places.forms.size(); ++f) height += heightOf(places, p, f);
  }
  SvgDrawing svg(width_px, height);
  svg.describe(title,
               "The stock from above. Lines: a hold-down's centre can go here. Dots: the tool would come too near.");
  const Fills fills{svg.hatch(ink::green, 45, 7, 1.1), svg.dots(ink::vermilion, 6, 0.9)};
  double top = 0;
  for (std::size_t p = begin; p < end; ++p) {
    for (std::size_t f = 0; f < places.forms.size(); ++f) {
      Panel{places, *places.facts, places.facts->job, p, f, svg, fills, top}.draw();
      top += heightOf(places, p, f);
    }
  }
  legend(svg, fills, top);
  svg.write(out);
}

}  // namespace

void writePlaceSvg(const Places& places, std::size_t program, std::ostream& out) {
  const ProgramFacts& p = places.facts->programs[program];
  write(places, program, program + 1, "Where hold-downs can go: " + p.setup->name + ", " + p.entry->file, out);
}

void writePlaceSvg(const Places& places, std::ostream& out) {
  write(places, 0, places.facts->programs.size(), "Where hold-downs can go: " + places.facts->job.name, out);
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
