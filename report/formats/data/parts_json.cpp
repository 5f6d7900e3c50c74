#include "report/formats/data/parts_json.h"

#include <algorithm>
#include <map>
#include <nlohmann/json.hpp>
#include <ostream>
#include <set>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "report/base/visible_text.h"
#include "report/facts/piece_history.h"
#include "report/facts/shown_names.h"
#include "report/formats/data/json_number.h"
#include "report/rules/shared/tab_margin.h"
#include "sim/tabs/tab_strength.h"

namespace provecut {

namespace {

using Json = nlohmann::ordered_json;  // keys in the order in which they are documented

Json corner(WorkPoint p) {
  return Json::array({number(p.x), number(p.y), number(p.z)});
}

Json lineOrNull(const Facts& facts, MoveRef move) {
  const std::uint32_t line = lineOf(facts, move);
  return line == 0 ? Json(nullptr) : Json(line);
}

Json momentJson(const Facts& facts, const std::optional<MoveRef>& move) {
  if (!move) return nullptr;
  return {{"program", shownFile(facts, move->run)}, {"line", lineOrNull(facts, *move)}};
}

Json heldJson(const Job& job, const Piece& piece) {
  Json held_by = Json::array();
  for (const int h : piece.held_by_hold_downs) held_by.push_back(shownHoldDown(job, h));
  if (!piece.tabs.empty()) held_by.push_back("tabs");
  const bool listed = std::any_of(piece.held_by_hold_downs.begin(), piece.held_by_hold_downs.end(),
                                  [&](int h) { return isUnderStock(job.hold_downs[h].kind); });
  if (piece.held_by_tape && !listed) held_by.push_back("tape");
  return held_by;
}

Json tabsJson(const Job& job, const Piece& piece) {
  Json tabs = Json::array();
  const Stock& stock = job.stock;
  for (const Tab& tab : piece.tabs) {
    tabs.push_back({{"at", corner(tab.at)},
                    {"length_mm", number(tab.length_mm)},
                    {"thickness_mm", number(tab.thickness_mm)},
                    {"area_mm2", number(tab.area_mm2)},
                    {"onion_skin", tab.onion_skin},
                    {"grain_deg", stock.grain == Grain::none ? Json(nullptr) : number(tab.grain_deg)},
                    {"side_load_n", stock.material_given ? number(pieces::tabSideLoad_n(stock, tab)) : Json(nullptr)}});
  }
  return tabs;
}

// Lines in order, what runs on as one stretch: [[14, 20], [31, 31]].
Json stretches(const std::set<std::uint32_t>& lines) {
  Json list = Json::array();
  for (const std::uint32_t line : lines) {
    if (!list.empty() && list.back()[1].get<std::uint32_t>() + 1 == line) {
      list.back()[1] = line;
    } else {
      list.push_back(Json::array({line, line}));
    }
  }
  return list;
}

// What cuts at the part while it is loose, program by program.
Json cutLooseJson(const Facts& facts, const PieceHistory& h) {
  struct Lines {
    std::set<std::uint32_t> into, beside;
  };
  std::map<int, Lines> of_program;
  for (const ToldPiece& told : h.told) {
    for (const CutAtLoose& c : told.piece->cut_loose) {
      Lines& lines = of_program[c.by.run];
      if (const std::uint32_t line = lineOf(facts, c.by); line > 0) (c.into ? lines.into : lines.beside).insert(line);
    }
  }
  Json list = Json::array();
  for (const auto& [program, lines] : of_program) {
    list.push_back(
        {{"program", shownFile(facts, program)}, {"into", stretches(lines.into)}, {"beside", stretches(lines.beside)}});
  }
  return list;
}

Json eventJson(const Facts& facts, std::string_view what, int program, Json line, Json held_by) {
  return {{"what", what},
          {"program", shownFile(facts, program)},
          {"line", std::move(line)},
          {"held_by", std::move(held_by)}};
}

// All that became of it, in order of time.
Json eventsJson(const Facts& facts, const PieceHistory& h) {
  Json events = Json::array();
  for (std::size_t n = 0; n < h.told.size(); ++n) {
    const auto& [run, piece] = h.told[n];
    const bool tabbed = !piece->tabs.empty();
    const std::string_view what = isReleased(*piece)    ? "hold_downs_removed"
                                  : tabbed              ? "left_on_tabs"
                                  : n > 0 && h.tabs_cut ? "tabs_cut"
                                                        : "cut_out";
    Json line = isReleased(*piece) ? Json(nullptr) : lineOrNull(facts, {run, piece->move});
    events.push_back(eventJson(facts, what, run, std::move(line), heldJson(facts.job, *piece)));
    if (!piece->free && piece->loosened_by) {
      events.push_back(eventJson(facts, "hold_milled_away", piece->loosened_by->run,
                                 lineOrNull(facts, *piece->loosened_by), Json::array()));
    }
  }
  if (h.milled_by)
    events.push_back(eventJson(facts, "milled_away", h.milled_by->run, lineOrNull(facts, *h.milled_by), Json::array()));
  return events;
}

Json loosenedJson(const Facts& facts, const PieceHistory& h) {
  Json moment = momentJson(facts, h.loose_from);
  const Piece& last = *h.told.back().piece;
  if (isReleased(last) && last.free) moment["line"] = nullptr;
  return moment;
}

Json heldBefore(const Facts& facts, const PieceHistory& h) {
  Json before = Json::array();
  for (const ToldPiece& told : h.told) {
    for (const int hold : told.piece->held_before) before.push_back(shownHoldDown(facts.job, hold));
  }
  return before;
}

Json partJson(const Facts& facts, const PieceHistory& h) {
  const Piece& piece = h.piece();
  const std::optional<TabMargin> margin = tabMargin(facts, piece);
  const WorkBox& b = piece.bounds;
  return {{"setup", shownSetup(facts.job, facts.run.programs[h.run()].setup)},
          {"program", shownFile(facts, h.run())},
          {"line", lineOrNull(facts, {h.run(), piece.move})},
          {"parent", h.parent ? Json(*h.parent) : Json(nullptr)},
          {"volume_mm3", number(piece.volume_mm3)},
          {"plan_area_mm2", number(piece.plan_area_mm2)},
          {"bounds", b.empty ? Json(nullptr) : Json::array({corner(b.low), corner(b.high)})},
          {"held_by", heldJson(facts.job, piece)},
          {"held_before", heldBefore(facts, h)},
          {"tabs", tabsJson(facts.job, piece)},
          {"tooth_force_n", margin ? number(margin->tooth_n) : Json(nullptr)},
          {"tab_margin", margin ? number(margin->weakest()) : Json(nullptr)},
          {"tabs_cut", momentJson(facts, h.tabs_cut)},
          {"free", piece.free},
          {"loosened", loosenedJson(facts, h)},
          {"cut_while_loose", cutLooseJson(facts, h)},
          {"split", h.came_off_it},
          {"milled", momentJson(facts, h.milled_by)},
          {"events", eventsJson(facts, h)}};
}

Json outlineJson(const std::vector<StockRing>& outline) {
  Json rings = Json::array();
  for (const StockRing& ring : outline) {
    Json points = Json::array();
    for (const StockPoint2 p : ring) points.push_back(Json::array({number(p.x, 4), number(p.y, 4)}));
    rings.push_back(std::move(points));
  }
  return rings;
}

}  // namespace

nlohmann::ordered_json partsJson(const Facts& facts) {
  Json parts = Json::array();
  for (const PieceHistory& h : pieceHistories(facts)) parts.push_back(partJson(facts, h));
  return parts;
}

void writePartsJson(const Facts& facts, std::ostream& out) {
  const Vec3 size = facts.job.stock.size_mm;
  Json j;
  j["provecut"] = 1;
  j["job"] = visibleText(facts.job.name);
  j["stock"] = {{"size_mm", Json::array({number(size.x), number(size.y), number(size.z)})}};
  if (facts.job.stock.shape == StockShape::round) j["stock"]["shape"] = "round";
  Json& parts = j["parts"] = Json::array();
  for (const PieceHistory& h : pieceHistories(facts)) {
    parts.push_back(partJson(facts, h));
    parts.back()["outline"] = outlineJson(outlineOf(h));
  }
  out << j.dump(2, ' ', false, Json::error_handler_t::replace) << '\n';
}

}  // namespace provecut
