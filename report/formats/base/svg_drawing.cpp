#include "report/formats/base/svg_drawing.h"

#include <cmath>
#include <ostream>

#include "report/base/number_text.h"
#include "report/formats/base/html_text.h"

namespace provecut {

namespace {

std::string number(double value) {
  return std::isfinite(value) ? shortNumber(value) : "0";
}

std::string attribute(std::string_view name, double value) {
  return " " + std::string(name) + "=\"" + number(value) + "\"";
}

std::string attribute(std::string_view name, std::string_view value) {
  return " " + std::string(name) + "=\"" + escapeHtml(value) + "\"";
}

std::string attributes(const SvgStyle& style) {
  std::string text = attribute("fill", style.fill);
  if (style.stroke != "none") {
    text += attribute("stroke", style.stroke) + attribute("stroke-width", style.width);
    if (!style.dash.empty()) text += attribute("stroke-dasharray", style.dash);
  }
  if (style.opacity < 1) text += attribute("opacity", style.opacity);
  return text;
}

std::string pointText(Vec2 p) {
  return number(p.x) + " " + number(p.y);
}

}  // namespace

double svgTextWidth(std::string_view words, double size) {
  std::size_t letters = 0;
  for (const char c : words) letters += (static_cast<unsigned char>(c) & 0xC0) != 0x80;
  return 0.56 * size * static_cast<double>(letters);
}

void SvgDrawing::describe(std::string_view title, std::string_view description) {
  title_ = title;
  description_ = description;
}

std::string SvgDrawing::hatch(std::string_view colour, double angle_deg, double apart, double line,
                              std::string_view ground) {
  const std::string id = name_ + "hatch" + std::to_string(names_++);
  definitions_ += "<pattern" + attribute("id", id) + attribute("width", apart) + attribute("height", apart) +
                  " patternUnits=\"userSpaceOnUse\" patternTransform=\"rotate(" + number(-angle_deg) + ")\">";
  if (ground != "none") {
    definitions_ += "<rect" + attribute("width", apart) + attribute("height", apart) + attribute("fill", ground) + "/>";
  }
  definitions_ += "<line x1=\"0\" x2=\"" + number(apart) + "\"" + attribute("y1", apart / 2) +
                  attribute("y2", apart / 2) + attribute("stroke", colour) + attribute("stroke-width", line) +
                  "/></pattern>\n";
  return "url(#" + id + ")";
}

std::string SvgDrawing::dots(std::string_view colour, double apart, double dot, std::string_view ground) {
  const std::string id = name_ + "dots" + std::to_string(names_++);
  definitions_ += "<pattern" + attribute("id", id) + attribute("width", apart) + attribute("height", apart) +
                  " patternUnits=\"userSpaceOnUse\">";
  if (ground != "none") {
    definitions_ += "<rect" + attribute("width", apart) + attribute("height", apart) + attribute("fill", ground) + "/>";
  }
  definitions_ += "<circle" + attribute("cx", apart / 2) + attribute("cy", apart / 2) + attribute("r", dot) +
                  attribute("fill", colour) + "/></pattern>\n";
  return "url(#" + id + ")";
}

void SvgDrawing::openClip(Vec2 low, Vec2 high) {
  const std::string id = name_ + "clip" + std::to_string(names_++);
  definitions_ += "<clipPath" + attribute("id", id) + "><rect" + attribute("x", low.x) + attribute("y", low.y) +
                  attribute("width", high.x - low.x) + attribute("height", high.y - low.y) + "/></clipPath>\n";
  body_ += "<g clip-path=\"url(#" + id + ")\">\n";
}

void SvgDrawing::openGroup(std::string_view title) {
  body_ += "<g>";
  if (!title.empty()) body_ += "<title>" + escapeHtml(title) + "</title>";
  body_ += "\n";
}

void SvgDrawing::close() {
  body_ += "</g>\n";
}

void SvgDrawing::line(Vec2 a, Vec2 b, const SvgStyle& style) {
  body_ += "<line" + attribute("x1", a.x) + attribute("y1", a.y) + attribute("x2", b.x) + attribute("y2", b.y) +
           attributes(style) + "/>\n";
}

void SvgDrawing::rect(Vec2 low, Vec2 high, const SvgStyle& style, double corner) {
  body_ += "<rect" + attribute("x", low.x) + attribute("y", low.y) + attribute("width", high.x - low.x) +
           attribute("height", high.y - low.y);
  if (corner > 0) body_ += attribute("rx", corner);
  body_ += attributes(style) + "/>\n";
}

void SvgDrawing::circle(Vec2 centre, double radius, const SvgStyle& style) {
  body_ += "<circle" + attribute("cx", centre.x) + attribute("cy", centre.y) + attribute("r", radius) +
           attributes(style) + "/>\n";
}

void SvgDrawing::polyline(std::span<const Vec2> points, const SvgStyle& style) {
  if (points.empty()) return;
  body_ += "<polyline points=\"";
  for (std::size_t i = 0; i < points.size(); ++i) body_ += (i > 0 ? " " : "") + pointText(points[i]);
  body_ += "\" stroke-linejoin=\"round\"" + attributes(style) + "/>\n";
}

void SvgDrawing::polygons(std::span<const std::vector<Vec2>> rings, const SvgStyle& style) {
  std::string path;
  for (const std::vector<Vec2>& ring : rings) {
    for (std::size_t i = 0; i < ring.size(); ++i) path += (i == 0 ? "M" : "L") + pointText(ring[i]);
    if (!ring.empty()) path += "Z";
  }
  if (path.empty()) return;
  body_ += "<path d=\"" + path + "\" fill-rule=\"evenodd\" stroke-linejoin=\"round\"" + attributes(style) + "/>\n";
}

void SvgDrawing::arrow(Vec2 a, Vec2 b, std::string_view colour, double width) {
  const double long_way = length(b - a);
  if (!(long_way > 0)) return;
  const Vec2 along = (b - a) * (1 / long_way), across{-along.y, along.x};
  const double head = std::min(5 * width, long_way);
  const Vec2 neck = b - along * head;
  line(a, neck, {.stroke = colour, .width = width});
  const std::vector<Vec2> tip{b, neck + across * (0.45 * head), neck - across * (0.45 * head)};
  polygons(std::span(&tip, 1), {.fill = colour});
}

void SvgDrawing::text(Vec2 at, std::string_view words, const SvgText& style) {
  body_ += "<text" + attribute("x", at.x) + attribute("y", at.y) + attribute("font-size", style.size) +
           attribute("fill", style.fill);
  if (style.anchor != SvgAnchor::start) {
    body_ += attribute("text-anchor", std::string_view(style.anchor == SvgAnchor::middle ? "middle" : "end"));
  }
  if (style.bold) body_ += " font-weight=\"bold\"";
  if (style.halo) {
    body_ += attribute("stroke", ink::paper) + attribute("stroke-width", 0.28 * style.size) +
             " stroke-linejoin=\"round\" paint-order=\"stroke\"";
  }
  if (style.turned_deg != 0) {
    body_ += " transform=\"rotate(" + number(-style.turned_deg) + " " + pointText(at) + ")\"";
  }
  body_ += ">" + escapeHtml(words) + "</text>\n";
}

void SvgDrawing::path(std::string_view data, const SvgStyle& style) {
  if (data.empty()) return;
  body_ += "<path d=\"";
  body_ += data;
  body_ += "\" stroke-linejoin=\"round\"" + attributes(style) + "/>\n";
}

void SvgDrawing::write(std::ostream& out) const {
  out << "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n" << inlined();
}

std::string SvgDrawing::inlined() const {
  std::string text = "<svg xmlns=\"http://www.w3.org/2000/svg\"" + attribute("width", width_) +
                     attribute("height", height_) + " viewBox=\"0 0 " + number(width_) + " " + number(height_) +
                     "\" font-family=\"'DejaVu Sans', Verdana, Helvetica, Arial, sans-serif\"";
  if (!title_.empty()) text += " role=\"img\"";
  text += ">\n";
  if (!title_.empty())
    text += "<title>" + escapeHtml(title_) + "</title>\n<desc>" + escapeHtml(description_) + "</desc>\n";
  if (!definitions_.empty()) text += "<defs>\n" + definitions_ + "</defs>\n";
  return text + "<rect width=\"100%\" height=\"100%\" fill=\"" + std::string(ink::paper) + "\"/>\n" + body_ +
         "</svg>\n";
}

}  // namespace provecut
