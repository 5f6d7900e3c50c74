#include "report/formats/drawing/outline_svg.h"

#include <fmt/format.h>

#include <ostream>
#include <string>
#include <vector>

#include "report/base/number_text.h"
#include "report/facts/piece_history.h"
#include "report/findings/piece_words.h"
#include "report/formats/base/html_text.h"
#include "report/formats/base/svg_drawing.h"

namespace provecut {

namespace {

constexpr double stroke_mm = 0.3;

std::string millimetres(double mm) {
  return shortNumber(mm, 3);
}

// SVG counts Y down from the back edge of the stock.
std::string ringData(const StockRing& ring, double depth_mm) {
  std::string data;
  for (const StockPoint2 p : ring)
    data += (data.empty() ? "M" : "L") + millimetres(p.x) + " " + millimetres(depth_mm - p.y);
  return data + "Z";
}

// A piece that is loose from the start is dashed as well as of another colour.
std::string pathOf(const Facts& facts, const std::vector<PieceHistory>& pieces, std::size_t index) {
  const Piece& piece = *pieces[index].piece;
  std::string data;
  for (const StockRing& ring : piece.outline) data += ringData(ring, facts.job.stock.size_mm.y);
  const std::string_view colour = piece.free ? ink::vermilion : ink::blue;
  return fmt::format(
      "<path id=\"part-{}\" d=\"{}\" fill=\"{}\" fill-opacity=\"0.12\" fill-rule=\"evenodd\" stroke=\"{}\" "
      "stroke-width=\"{}\"{}><title>{}</title></path>\n",
      index, data, colour, colour, stroke_mm, piece.free ? " stroke-dasharray=\"2 1\"" : "",
      escapeHtml(pieceLine(facts, pieces, index)));
}

}  // namespace

void writeOutlineSvg(const Facts& facts, std::ostream& out) {
  const std::string width = millimetres(facts.job.stock.size_mm.x), depth = millimetres(facts.job.stock.size_mm.y);
  out << fmt::format(
      "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{0}mm\" "
      "height=\"{1}mm\" viewBox=\"0 0 {0} {1}\">\n<title>{2}: its parts</title>\n"
      "<rect id=\"stock\" width=\"{0}\" height=\"{1}\" fill=\"none\" stroke=\"{3}\" stroke-width=\"{4}\"/>\n",
      width, depth, escapeHtml(facts.job.name.empty() ? facts.job.file : facts.job.name), ink::faint, stroke_mm);
  const std::vector<PieceHistory> pieces = pieceHistories(facts);
  for (std::size_t k = 0; k < pieces.size(); ++k) {
    if (!pieces[k].piece->outline.empty()) out << pathOf(facts, pieces, k);
  }
  out << "</svg>\n";
}

}  // namespace provecut
