#include "report/formats/page/page_pieces.h"

#include <cmath>
#include <map>
#include <nlohmann/json.hpp>
#include <utility>
#include <vector>

#include "report/facts/piece_history.h"
#include "report/findings/piece_words.h"

namespace provecut {

namespace {

using Json = nlohmann::ordered_json;

// More would make the page heavy: the pieces after that are in the lists, but have no colour in the view.
constexpr std::size_t max_outline_points = 200'000;

// When each move of a program ends.
std::vector<double> moveEnds_s(const Program& program, const ProgramReplay& replay) {
  std::vector<double> ends;
  ends.reserve(program.motions.size());
  double clock_s = replay.change_before_s;
  std::size_t event = 0;
  for (std::size_t m = 0; m < program.motions.size(); ++m) {
    for (; event < program.events.size() && program.events[event].before_motion <= m; ++event)
      clock_s += replay.event_s[event];
    clock_s += double{replay.move_s[m]};
    ends.push_back(clock_s);
  }
  return ends;
}

// The ends of moves, of each program that is asked for.
struct Clock {
  const Facts& facts;
  const Replay& replay;
  std::map<int, std::vector<double>> ends_s;
};

Json endOf(Clock& clock, MoveRef move) {
  auto [at, is_new] = clock.ends_s.try_emplace(move.run);
  if (is_new) at->second = moveEnds_s(clock.facts.programs[move.run].program, clock.replay.programs[move.run]);
  const double s = move.move < at->second.size() ? at->second[move.move] : 0;
  return {{"program", move.run}, {"s", std::round(s * 1e4) / 1e4}};
}

Json startOf(int program) {
  return {{"program", program}, {"s", 0}};
}

Json toldAt(Clock& clock, int run, const Piece& piece) {
  return isReleased(piece) ? startOf(run) : endOf(clock, {run, piece.move});
}

Json looseFrom(Clock& clock, const PieceHistory& h) {
  const auto& [run, last] = h.told.back();
  if (isReleased(*last) && last->free) return startOf(run);
  return h.loose_from ? endOf(clock, *h.loose_from) : Json(nullptr);
}

Json ringsJson(const std::vector<StockRing>& outline) {
  Json rings = Json::array();
  for (const StockRing& ring : outline) {
    Json points = Json::array();
    for (const StockPoint2 p : ring)
      points.push_back(Json::array({std::round(p.x * 1e3) / 1e3, std::round(p.y * 1e3) / 1e3}));
    rings.push_back(std::move(points));
  }
  return rings;
}

std::size_t pointsOf(const std::vector<StockRing>& outline) {
  std::size_t points = 0;
  for (const StockRing& ring : outline) points += ring.size();
  return points;
}

}  // namespace

nlohmann::ordered_json pagePieces(const Facts& facts, const Replay& replay) {
  Clock clock{facts, replay, {}};
  const std::vector<PieceHistory> pieces = pieceHistories(facts);
  Json list = Json::array();
  std::size_t points = 0;
  for (std::size_t k = 0; k < pieces.size(); ++k) {
    const PieceHistory& h = pieces[k];
    points += pointsOf(outlineOf(h));
    Json at = Json::array();
    for (const auto& [run, piece] : h.told) {
      at.push_back(toldAt(clock, run, *piece));
      if (!piece->free && piece->loosened_by) at.push_back(endOf(clock, *piece->loosened_by));
    }
    list.push_back({{"line", pieceLine(facts, pieces, k)},
                    {"changes", pieceChanges(facts, pieces, k)},
                    {"at", std::move(at)},
                    {"loose", looseFrom(clock, h)},
                    {"gone", h.milled_by ? endOf(clock, *h.milled_by) : Json(nullptr)},
                    {"outline", points <= max_outline_points ? ringsJson(outlineOf(h)) : Json::array()}});
  }
  return list;
}

}  // namespace provecut
