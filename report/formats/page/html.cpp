#include "report/formats/page/html.h"

#include <nlohmann/json.hpp>
#include <ostream>
#include <string>
#include <string_view>
#include <utility>

#include "parser/base/check.h"
#include "report/formats/base/packed_bytes.h"
#include "report/formats/data/json.h"
#include "report/formats/page/page_moves.h"
#include "report/formats/page/page_pieces.h"
#include "report/formats/page/page_places.h"
#include "report/formats/page/page_scene.h"
#include "report/formats/page/page_shell.h"

namespace provecut {

namespace {

using Json = nlohmann::ordered_json;

constexpr std::size_t max_segments = 4'000'000;  // of all programs in total
constexpr std::size_t max_text = 48 << 20;       // bytes, of all programs in total
constexpr std::size_t large_text = 4 << 20;

// JSON that may stand in a script element: nothing in it can end the element or open a comment.
void writeData(std::string_view id, std::string_view json, std::ostream& out) {
  out << "<script type=\"application/json\" id=\"" << id << "\">";
  for (const char c : json) {
    if (c == '<') {
      out << "\\u003c";
    } else if (c == '>') {
      out << "\\u003e";
    } else if (c == '&') {
      out << "\\u0026";
    } else {
      out << c;
    }
  }
  out << "</script>\n";
}

// A text element with compressed bytes; base64 has no character that markup knows.
void writeBytes(std::string_view kind, std::size_t index, std::string_view bytes, std::ostream& out) {
  out << "<script type=\"text/plain\" id=\"" << kind << '-' << index << "\">"
      << base64(compressed(bytes, bytes.size() > large_text ? 3 : 6)) << "</script>\n";
}

}  // namespace

bool pageIsBuiltIn() {
  return !pageHead().empty();
}

void writeHtml(const Report& report, const Replay& replay, std::ostream& out) {
  const Facts& facts = *report.facts;
  CHECK(replay.programs.size() == facts.run.programs.size());
  out << pageHead();
  Json data = reportJson(report);
  data.erase("hits");  // the scene says which hold-downs are hit; single hits may be many
  data["scene"] = pageScene(report, replay);
  data["scene"]["places"] = pagePlaces(facts);
  data["scene"]["pieces"] = pagePieces(facts, replay);

  std::size_t segments = 0, text = 0;
  for (std::size_t i = 0; i < replay.programs.size(); ++i) {
    const ProgramReplay& own = replay.programs[i];
    Json& program = data["scene"]["programs"][i];
    const auto writeStock = [&](const std::string& moment, const cutting::HeightMap& map) {
      writeBytes(moment, i, packedHeights(map, facts.job.stock.size_mm.z), out);
      if (!map.overhangs.empty())
        writeBytes("overhangs-" + moment, i, packedOverhangs(map, facts.job.stock.size_mm.z), out);
    };
    writeStock("before", own.before);
    if (own.after) writeStock("after", *own.after);
    const PackedMoves moves = packedMoves(facts, i, own);
    segments += moves.segments;
    if (segments <= max_segments) {
      program["moves"] = {{"count", facts.programs[i].program.motions.size()},
                          {"segments", moves.segments},
                          {"streams", Json::object()}};
      for (const auto& [name, length] : moves.streams) program["moves"]["streams"][name] = length;
      writeBytes("moves", i, moves.bytes, out);
    }
    text += facts.programs[i].text.size();
    if (text <= max_text) writeBytes("text", i, packedText(facts.programs[i]), out);
  }
  writeData("report", data.dump(-1, ' ', false, Json::error_handler_t::replace), out);
  out << pageTail();
}

}  // namespace provecut
