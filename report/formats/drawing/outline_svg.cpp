#include "report/formats/drawing/outline_svg.h"

#include <fmt/format.h>

#include <algorithm>
#include <iterator>
#include <ostream>
#include <sstream>
#include <string>
#include <string_view>
#include <vector>

#include "report/base/number_text.h"
#include "report/facts/piece_history.h"
#include "report/findings/piece_words.h"
#include "report/formats/base/html_text.h"
#include "report/formats/base/svg_drawing.h"
#include "report/rules/shared/piece_findings.h"

namespace provecut {

namespace {

// How a part ended: each look has dashes of its own besides its colour.
enum class Fate { held, on_tabs, loose, milled };

struct Look {
  Fate fate;
  std::string_view colour;
  std::string_view dash;  // in widths of the stroke
  std::string_view words;
};

// As the legend shows them, from its lowest row up.
constexpr Look looks[] = {{Fate::milled, ink::faint, "1 2", "milled away"},
                          {Fate::loose, ink::vermilion, "5 3", "loose at the end"},
                          {Fate::on_tabs, ink::green, "8 2 2 2", "held by its tabs or skin alone"},
                          {Fate::held, ink::blue, "", "held by a hold-down"}};

Fate fateOf(const PieceHistory& h) {
  const Piece& last = *h.told.back().piece;
  if (h.milled_by) return Fate::milled;
  if (h.loose_from) return Fate::loose;
  return heldByTabsAlone(last) ? Fate::on_tabs : Fate::held;
}

// Sizes that can be read on the screen and in print, mm.
struct Sizes {
  double text_mm, stroke_mm;
};

Sizes sizesFor(const Vec3& stock_mm) {
  const double width = stock_mm.x;
  return {std::min(std::max(width / 60, 2.4), width / 26), std::max(0.3, std::max(width, stock_mm.y) / 1000)};
}

std::string millimetres(double mm) {
  return shortNumber(mm, 3);
}

std::string strokeOf(const Look& look, double stroke_mm) {
  std::string dashes, number;
  std::istringstream widths{std::string(look.dash)};
  while (widths >> number) dashes += (dashes.empty() ? "" : " ") + millimetres(std::stod(number) * stroke_mm);
  return fmt::format("fill=\"{0}\" fill-opacity=\"0.15\" stroke=\"{0}\" stroke-width=\"{1}\"{2}", look.colour,
                     millimetres(stroke_mm), dashes.empty() ? "" : " stroke-dasharray=\"" + dashes + "\"");
}

// SVG counts Y down from the back edge of the stock.
std::string ringData(const StockRing& ring, double depth_mm) {
  std::string data;
  for (const StockPoint2 p : ring)
    data += (data.empty() ? "M" : "L") + millimetres(p.x) + " " + millimetres(depth_mm - p.y);
  return data + "Z";
}

const Look& lookOf(const PieceHistory& h) {
  return *std::find_if(std::begin(looks), std::end(looks), [&](const Look& l) { return l.fate == fateOf(h); });
}

std::string pathOf(const Facts& facts, const std::vector<PieceHistory>& pieces, std::size_t index, double stroke_mm) {
  std::string data;
  for (const StockRing& ring : outlineOf(pieces[index])) data += ringData(ring, facts.job.stock.size_mm.y);
  return fmt::format("<path id=\"part-{}\" d=\"{}\" fill-rule=\"evenodd\" {}><title>{}</title></path>\n", index, data,
                     strokeOf(lookOf(pieces[index]), stroke_mm), escapeHtml(pieceLine(facts, pieces, index)));
}

// Rows above the stock: a swatch and what it means, of the looks that are met.
struct Legend {
  std::string rows;
  double height_mm = 0;
};

Legend legendOf(const std::vector<PieceHistory>& pieces, const Sizes& sizes) {
  Legend legend;
  const double t = sizes.text_mm;
  for (const Look& look : looks) {
    if (std::none_of(pieces.begin(), pieces.end(), [&](const PieceHistory& h) { return fateOf(h) == look.fate; }))
      continue;
    legend.height_mm += 1.6 * t;
    legend.rows += fmt::format(
        "<rect x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\" {}/><text x=\"{}\" y=\"{}\">{}</text>\n",
        millimetres(sizes.stroke_mm), millimetres(-legend.height_mm), millimetres(2.4 * t), millimetres(t),
        strokeOf(look, sizes.stroke_mm), millimetres(3 * t), millimetres(0.85 * t - legend.height_mm), look.words);
  }
  if (legend.height_mm > 0) legend.height_mm += 0.4 * t;
  return legend;
}

}  // namespace

void writeOutlineSvg(const Facts& facts, std::ostream& out) {
  const Vec3 size = facts.job.stock.size_mm;
  const Sizes sizes = sizesFor(size);
  const std::vector<PieceHistory> pieces = pieceHistories(facts);
  const Legend legend = legendOf(pieces, sizes);
  out << fmt::format(
      "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{0}mm\" "
      "height=\"{1}mm\" viewBox=\"0 {2} {0} {1}\">\n<title>{3}: parts</title>\n",
      millimetres(size.x), millimetres(size.y + legend.height_mm), millimetres(0 - legend.height_mm),
      escapeHtml(facts.job.name.empty() ? facts.job.file : facts.job.name));
  if (!legend.rows.empty()) {
    out << fmt::format("<g id=\"legend\" font-family=\"sans-serif\" font-size=\"{}\" fill=\"{}\">\n{}</g>\n",
                       millimetres(sizes.text_mm), ink::text, legend.rows);
  }
  if (facts.job.stock.shape == StockShape::round) {
    out << fmt::format(
        "<circle id=\"stock\" cx=\"{0}\" cy=\"{0}\" r=\"{0}\" fill=\"none\" stroke=\"{1}\" stroke-width=\"{2}\"/>\n",
        millimetres(size.x / 2), ink::text, millimetres(sizes.stroke_mm));
  } else {
    out << fmt::format(
        "<rect id=\"stock\" width=\"{}\" height=\"{}\" fill=\"none\" stroke=\"{}\" stroke-width=\"{}\"/>\n",
        millimetres(size.x), millimetres(size.y), ink::text, millimetres(sizes.stroke_mm));
  }
  for (std::size_t k = 0; k < pieces.size(); ++k) {
    if (!outlineOf(pieces[k]).empty()) out << pathOf(facts, pieces, k, sizes.stroke_mm);
  }
  out << "</svg>\n";
}

}  // namespace provecut
