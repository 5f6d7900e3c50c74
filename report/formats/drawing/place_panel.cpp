#include "report/formats/drawing/place_panel.h"

#include <algorithm>
#include <cmath>
#include <vector>

#include "report/base/dimension_text.h"
#include "report/base/number_text.h"
#include "report/base/visible_text.h"
#include "report/facts/shown_names.h"
#include "report/formats/drawing/plan_style.h"
#include "sim/path/path.h"
#include "sim/path/setup_frame.h"

namespace provecut::place_panel {

namespace {

constexpr double title_px = 52, gap_px = 26;
constexpr std::string_view bed = "#eef0f2";

// The rectangle of the setup that a panel shows, and where it comes out on the page.
struct View {
  SetupPoint2 low, high;
  double top_px = 0;  // of the picture, below its title

  double scale() const { return (width_px - 2 * side_px) / (high.x - low.x); }
  double bottom_px() const { return page(low).y; }
  Vec2 page(SetupPoint2 p) const { return {side_px + (p.x - low.x) * scale(), top_px + (high.y - p.y) * scale()}; }
  std::vector<Vec2> page(const std::vector<SetupPoint2>& ring) const {
    std::vector<Vec2> out;
    for (const SetupPoint2 p : ring) out.push_back(page(p));
    return out;
  }
};

void drawTitle(const Places& places, const FreePlaces& free, double top_px, SvgDrawing& svg) {
  const Facts& facts = *places.facts;
  svg.text({side_px, top_px + 22},
           visibleText(facts.programs[free.program].setup->name) + " \xC2\xB7 " + shownFile(facts, free.program),
           {.size = 18, .bold = true});
  svg.text({side_px, top_px + 42},
           "free for the centre of a " + formText(facts.job, places.forms[free.form].shape) + ", " +
               dimensionWithUnit(facts.job, facts.job.limits.clearance_mm) + " clear of the tool",
           {.size = 13, .fill = ink::faint});
  svg.text({width_px - side_px, top_px + 42}, shareText(free.stock_share) + " of the stock is free",
           {.size = 13, .anchor = SvgAnchor::end});
}

// The cuts of this program, so that one sees where one is.
void drawCuts(const Program& program, const Setup& setup, const Job& job, const View& view, SvgDrawing& svg) {
  const double top = stockSizeInSetup(job.stock, setup).z;
  std::vector<Vec2> run;
  const auto flush = [&] {
    if (run.size() > 1) svg.polyline(run, {.stroke = path_ink, .width = 0.7, .opacity = 0.8});
    run.clear();
  };
  const auto add = [&](SetupPoint p) {
    const Vec2 at = view.page(flat(p));
    if (run.empty() || length(at - run.back()) > 0.4) run.push_back(at);
  };
  for (const Motion& m : program.motions) {
    if (!moves(m) || m.kind == MotionKind::rapid || std::min(m.start.z, m.end.z) + setup.zero_mm.z >= top) {
      flush();
      continue;
    }
    if (m.start.z > m.end.z && flat(m.start) == flat(m.end)) {
      flush();
      svg.circle(view.page(flat(workToSetup(setup, m.end))), 1, {.fill = path_ink});
    }
    const PathPiece piece = pathOf(m, setup.zero_mm, job.machine).pieces[0];
    const int chords = piece.arc ? 4 + static_cast<int>(std::fabs(piece.sweep) * 6) : 1;
    if (run.empty()) add(piece.start);
    for (int k = 1; k <= chords; ++k) add(pointAt(piece, static_cast<double>(k) / chords));
  }
  flush();
}

void drawOutline(const StockPlan& stock, const SvgStyle& style, const View& view, SvgDrawing& svg) {
  if (stock.round) {
    svg.circle(view.page(stock.middle()), stock.radius_mm() * view.scale(), style);
  } else {
    svg.rect(view.page({0, stock.size_mm.y}), view.page({stock.size_mm.x, 0}), style);
  }
}

// Bed, stock and the free space over them.
void drawGround(const placing::FreeRegion& region, const StockPlan& stock, const View& view, const Fills& fills,
                SvgDrawing& svg) {
  const Vec2 low = view.page({region.low.x, region.high.y}), high = view.page({region.high.x, region.low.y});
  svg.rect(low, high, {.fill = bed});
  drawOutline(stock, {.fill = plan_style::wood}, view, svg);
  std::vector<std::vector<Vec2>> rings{{low, {high.x, low.y}, high, {low.x, high.y}}};
  std::vector<std::vector<Vec2>> free_rings;
  for (const std::vector<SetupPoint2>& ring : region.rings) {
    rings.push_back(view.page(ring));
    free_rings.push_back(view.page(ring));
  }
  svg.polygons(rings, {.fill = fills.forbidden});
  svg.polygons(free_rings, {.fill = fills.free, .stroke = ink::green, .width = 1.4});
}

void drawOldHoles(const Places& places, int program, const Setup& setup, const View& view, SvgDrawing& svg) {
  const Job& job = places.facts->job;
  for (const holes::OldHole& hole : places.old_holes) {
    if (hole.left_by >= program || &job.setups[hole.setup] == &setup) continue;
    svg.openGroup("old hole of " + shownHoldDown(job, hole.hold_down));
    drawOldHole(view.page(holes::placeIn(job, hole, setup)), std::max(3.0, hole.diameter_mm / 2 * view.scale()), svg);
    svg.close();
  }
}

void drawFootprint(const HoldDown& h, SetupPoint2 at, const SvgStyle& style, const View& view, SvgDrawing& svg) {
  if (h.diameter_mm > 0) {
    svg.circle(view.page(at), h.diameter_mm / 2 * view.scale(), style);
    return;
  }
  std::vector<Vec2> ring;
  for (const SetupPoint2 c : footprint(h)) ring.push_back(view.page(c + (at - h.at_mm)));
  svg.polygons(std::span(&ring, 1), style);
}

void drawHoldDown(const HoldDown& h, const Standing& s, const View& view, SvgDrawing& svg) {
  const std::string state = s.hit ? "hit" : s.clear() ? "clear" : "too close";
  svg.openGroup(visibleText(h.name) + (s.fitted ? " is fitted: " : " is not fitted for this program: ") + state);
  const Vec2 middle = view.page(h.at_mm);
  if (!s.fitted) {
    drawFootprint(h, h.at_mm, {.stroke = ink::faint, .width = 1.2, .dash = "4 3"}, view, svg);
    if (s.hit) drawCross(middle, ink::faint, 1.2, svg);
  } else if (h.kind == HoldDownKind::pin) {
    drawFootprint(h, h.at_mm, {.fill = ink::paper, .stroke = ink::black, .width = 1.6}, view, svg);
    drawPinMiddle(middle, svg);
  } else if (s.clear()) {
    drawFootprint(h, h.at_mm, {.fill = ink::blue, .stroke = ink::black, .width = 1.4, .opacity = 0.85}, view, svg);
  } else {
    const std::string_view fill = s.hit ? ink::vermilion : ink::orange;
    drawFootprint(h, h.at_mm, {.fill = fill, .stroke = ink::black, .width = 2}, view, svg);
    drawCross(middle, ink::black, 2, svg);
  }
  svg.close();
}

double halfHeight(const HoldDown& h) {
  const clearance::Obstacle o = clearance::obstacle(h, 0);
  return (o.high.y - o.low.y) / 2;
}

void drawLabel(SetupPoint2 at, const std::string& words, std::string_view colour, const View& view, SvgDrawing& svg) {
  const double wide = svgTextWidth(words, plan_style::text_size);
  const Vec2 p = view.page(at);
  const double x = std::clamp(p.x, side_px + wide / 2 + 3, width_px - side_px - wide / 2 - 3);
  svg.text({x, p.y}, words,
           {.size = plan_style::text_size, .anchor = SvgAnchor::middle, .fill = colour, .bold = true, .halo = true});
}

// On the side away from its nearest free spot.
void drawName(const HoldDown& h, const Standing& s, const NearestPlace* nearest, const View& view, SvgDrawing& svg) {
  const double up = halfHeight(h) + 6 / view.scale();
  const bool low = h.at_mm.y + up + 14 / view.scale() > view.high.y || (nearest && nearest->at->y > h.at_mm.y);
  const SetupPoint2 at = low ? h.at_mm - Vec2{0, halfHeight(h) + 16 / view.scale()} : h.at_mm + Vec2{0, up};
  const std::string state = !s.fitted ? "" : s.hit ? " HIT" : s.clear() ? "" : " too close";
  drawLabel(at, visibleText(h.name) + state, s.fitted ? ink::text : ink::faint, view, svg);
}

void drawNearest(const Job& job, const HoldDown& h, SetupPoint2 to, const View& view, SvgDrawing& svg) {
  svg.openGroup("nearest free spot for " + visibleText(h.name));
  drawFootprint(h, to, {.stroke = ink::black, .width = 3}, view, svg);
  drawFootprint(h, to, {.stroke = ink::sky_blue, .width = 1.8, .dash = "5 3"}, view, svg);
  svg.arrow(view.page(h.at_mm), view.page(to), ink::black, 1.5);
  svg.close();
  const double up = to.y > h.at_mm.y ? halfHeight(h) + 6 / view.scale() : -(halfHeight(h) + 16 / view.scale());
  drawLabel(to + Vec2{0, up}, "to " + spotText(job, to), ink::blue, view, svg);
}

// The nearest free spot of what stands in this setup and is in the way.
const NearestPlace* nearestFor(const Places& places, const Setup& setup, const Standing& s) {
  for (const NearestPlace& n : places.nearest) {
    const bool here = n.hold_down == s.hold_down && &places.facts->job.setups[n.setup] == &setup;
    if (here && n.at && s.fitted) return &n;
  }
  return nullptr;
}

void drawHoldDowns(const Places& places, int program, const Setup& setup, const View& view, SvgDrawing& svg) {
  const Job& job = places.facts->job;
  const std::vector<Standing>& standing = places.standing[program];
  for (const Standing& s : standing) drawHoldDown(job.hold_downs[s.hold_down], s, view, svg);
  // Names above all shapes.
  for (const Standing& s : standing) drawName(job.hold_downs[s.hold_down], s, nearestFor(places, setup, s), view, svg);
  for (const Standing& s : standing) {
    if (const NearestPlace* n = nearestFor(places, setup, s))
      drawNearest(job, job.hold_downs[s.hold_down], *n->at, view, svg);
  }
}

// A disc in quarters, and the axes.
void drawZero(Vec2 z, SvgDrawing& svg) {
  svg.openGroup("work zero");
  svg.arrow(z, z + Vec2{38, 0}, ink::black, 1.6);
  svg.arrow(z, z + Vec2{0, -38}, ink::black, 1.6);
  svg.circle(z, 6, {.fill = ink::paper, .stroke = ink::black, .width = 1.4});
  svg.polygons(std::vector<std::vector<Vec2>>{{z, z + Vec2{6, 0}, z + Vec2{4.2, -4.2}, z + Vec2{0, -6}},
                                              {z, z + Vec2{-6, 0}, z + Vec2{-4.2, 4.2}, z + Vec2{0, 6}}},
               {.fill = ink::black});
  svg.text(z + Vec2{42, 4}, "X", {.size = plan_style::text_size, .halo = true});
  svg.text(z + Vec2{-4, -42}, "Y", {.size = plan_style::text_size, .halo = true});
  svg.close();
}

void drawScaleBar(const Job& job, const View& view, SvgDrawing& svg) {
  const double unit = lengthUnit_mm(job);
  double span = unit;
  for (const double n : {1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0, 500.0, 1000.0}) {
    if (n * unit * view.scale() <= 160) span = n * unit;
  }
  const Vec2 b{width_px - side_px - 10, view.bottom_px() - 12}, a = b - Vec2{span * view.scale(), 0};
  svg.line(a, b, {.stroke = ink::black, .width = 2});
  for (const Vec2 end : {a, b}) svg.line(end + Vec2{0, -4}, end + Vec2{0, 4}, {.stroke = ink::black, .width = 2});
  svg.text({(a.x + b.x) / 2, a.y - 6}, dimensionWithUnit(job, span),
           {.size = plan_style::text_size, .anchor = SvgAnchor::middle, .halo = true});
}

}  // namespace

double height_px(const FreePlaces& free) {
  const placing::FreeRegion& r = free.region;
  return title_px + (r.high.y - r.low.y) * (width_px - 2 * side_px) / (r.high.x - r.low.x) + gap_px;
}

void draw(const Places& places, const FreePlaces& free, double top_px, const Fills& fills, SvgDrawing& svg) {
  const Job& job = places.facts->job;
  const ProgramFacts& program = places.facts->programs[free.program];
  const Setup& setup = *program.setup;
  const StockPlan stock = stockPlan(job.stock, setup);
  const View view{free.region.low, free.region.high, top_px + title_px};
  drawTitle(places, free, top_px, svg);
  svg.openClip({side_px, view.top_px}, {width_px - side_px, view.bottom_px()});
  drawGround(free.region, stock, view, fills, svg);
  drawCuts(program.program, setup, job, view, svg);
  drawOutline(stock, {.stroke = plan_style::wood_edge, .width = 2}, view, svg);
  drawOldHoles(places, free.program, setup, view, svg);
  drawHoldDowns(places, free.program, setup, view, svg);
  drawZero(view.page(flat(setup.zero_mm)), svg);
  drawScaleBar(job, view, svg);
  svg.close();
  svg.rect({side_px, view.top_px}, {width_px - side_px, view.bottom_px()}, {.stroke = ink::rule});
}

void drawCross(Vec2 at, std::string_view colour, double width, SvgDrawing& svg) {
  svg.line(at + Vec2{-5, -5}, at + Vec2{5, 5}, {.stroke = colour, .width = width});
  svg.line(at + Vec2{-5, 5}, at + Vec2{5, -5}, {.stroke = colour, .width = width});
}

void drawOldHole(Vec2 at, double r, SvgDrawing& svg) {
  svg.circle(at, r, {.fill = ink::paper, .stroke = ink::purple, .width = 2});
  svg.line(at + Vec2{-r, 0}, at + Vec2{r, 0}, {.stroke = ink::purple, .width = 1.2});
  svg.line(at + Vec2{0, -r}, at + Vec2{0, r}, {.stroke = ink::purple, .width = 1.2});
}

void drawPinMiddle(Vec2 at, SvgDrawing& svg) {
  svg.circle(at, 2, {.fill = ink::black});
}

}  // namespace provecut::place_panel
