#include "report/formats/page/page_scene.h"

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>
#include <set>
#include <string>
#include <vector>

#include "parser/job/job_words.h"
#include "report/base/visible_text.h"
#include "report/base/wording.h"
#include "report/costing/job_timing.h"
#include "report/costing/quote_table.h"
#include "report/facts/setup_words.h"
#include "report/findings/verdict_words.h"
#include "report/formats/page/finding_marks.h"
#include "report/rules/rule.h"
#include "sim/clock/job_clock.h"
#include "sim/path/setup_frame.h"
#include "sim/stock/cut.h"

namespace provecut {

namespace {

using Json = nlohmann::ordered_json;

Json number(double value) {
  return std::isfinite(value) ? Json(std::round(value * 1e6) / 1e6) : Json(nullptr);
}
Json point(Vec2 p) {
  return Json::array({number(p.x), number(p.y)});
}
Json point(SetupPoint2 p) {
  return Json::array({number(p.x), number(p.y)});
}
Json point(Vec3 p) {
  return Json::array({number(p.x), number(p.y), number(p.z)});
}
Json point(SetupPoint p) {
  return Json::array({number(p.x), number(p.y), number(p.z)});
}

std::string_view undersideWord(Underside u) {
  switch (u) {
    case Underside::flat:
      return "flat";
    case Underside::ball:
      return "ball";
    case Underside::cone:
      return "cone";
    case Underside::bull:
      return "bull";
    case Underside::profile:
      return "profile";
  }
  return {};
}

// Half the body's outline from the tip up, (radius, height); arcs as chords.
Json outlineOf(const BodyPiece& piece) {
  Json points = Json::array();
  constexpr int chords = 12;
  if (piece.arc_radius <= 0) return Json::array({point(Vec2{piece.r0, piece.z0}), point(Vec2{piece.r1, piece.z1})});
  // Angles from straight down.
  const double low = std::acos(std::clamp((piece.centre_z - piece.z0) / piece.arc_radius, -1.0, 1.0));
  const double high = std::acos(std::clamp((piece.centre_z - piece.z1) / piece.arc_radius, -1.0, 1.0));
  for (int k = 0; k <= chords; ++k) {
    const double a = low + (high - low) * k / chords;
    points.push_back(
        point(Vec2{piece.centre_r + piece.arc_radius * std::sin(a), piece.centre_z - piece.arc_radius * std::cos(a)}));
  }
  return points;
}

Json toolJson(const Job& job, const Tool& tool, const Cutter& cutter) {
  Json pieces = Json::array();
  for (const BodyPiece& piece : cutter.body.pieces) {
    Json p = {{"part", partWord(piece.part)}, {"outline", outlineOf(piece)}};
    if (piece.attachment >= 0) p["name"] = visibleText(job.spindle_attachments[piece.attachment].name);
    pieces.push_back(std::move(p));
  }
  const CutterShape& s = cutter.shape;
  Json under = {{"kind", undersideWord(s.underside)},
                {"radius", number(s.radius)},
                {"flat_radius", number(s.flat_radius)},
                {"arc_radius", number(s.arc_radius)},
                {"rise", number(s.rise)}};
  if (s.underside == Underside::profile) {
    constexpr int steps = 32;
    Json heights = Json::array();
    for (int k = 0; k <= steps; ++k) heights.push_back(number(s.surface(s.radius * static_cast<float>(k) / steps)));
    under["heights"] = std::move(heights);
  }
  return {{"number", tool.number},
          {"name", visibleText(tool.name)},
          {"shape", wordOf(tool.shape)},
          {"diameter", number(tool.diameter_mm)},
          {"flutes", tool.flutes},
          {"flute_length", number(tool.flute_length_mm)},
          {"stickout", number(tool.stickout_mm)},
          {"max_stepdown", tool.max_stepdown_mm ? number(*tool.max_stepdown_mm) : Json(nullptr)},
          {"under", std::move(under)},
          {"pieces", std::move(pieces)}};
}

Json holdDownJson(const HoldDown& h) {
  Json j = {{"name", visibleText(h.name)}, {"kind", wordOf(h.kind)}, {"top", number(h.top_mm)}};
  if (h.diameter_mm > 0) {
    j["at"] = point(h.at_mm);
    j["diameter"] = number(h.diameter_mm);
  } else {
    j["outline"] = Json::array();
    for (const SetupPoint2 p : footprint(h)) j["outline"].push_back(point(p));
  }
  if (h.depth_in_stock_mm > 0) j["depth_in_stock"] = number(h.depth_in_stock_mm);
  if (h.shaft_diameter_mm > 0) j["shaft_diameter"] = number(h.shaft_diameter_mm);
  return j;
}

Json toolsJson(const Job& job) {
  const Cutters cutters = makeCutters(job);
  Json tools = Json::array();
  for (const Tool& tool : job.tools) tools.push_back(toolJson(job, tool, cutters.at(tool.number)));
  return tools;
}

// What leads from the stock frame to the setup's in plan: for x and y the factors of the stock's x and y, and what is
// added.
Json fromStock(const Stock& stock, const Setup& setup) {
  const SetupPoint2 zero = stockToSetup(stock, setup, StockPoint2{0, 0});
  const Vec2 x = stockToSetup(stock, setup, StockPoint2{1, 0}) - zero;
  const Vec2 y = stockToSetup(stock, setup, StockPoint2{0, 1}) - zero;
  return Json::array({Json::array({number(x.x), number(y.x), number(zero.x)}),
                      Json::array({number(x.y), number(y.y), number(zero.y)})});
}

Json setupsJson(const Job& job) {
  Json setups = Json::array();
  for (const Setup& s : job.setups) {
    setups.push_back({{"name", visibleText(s.name)},
                      {"rotate", s.rotate_deg},
                      {"size", point(stockSizeInSetup(job.stock, s))},
                      {"zero", point(s.zero_mm)},
                      {"from_stock", fromStock(job.stock, s)},
                      {"lift", number(s.lift_mm)}});
  }
  return setups;
}

Json heightsJson(const cutting::HeightMap& map) {
  return {{"nx", map.nx}, {"ny", map.ny}, {"cell", point(Vec2{map.cell_x_mm, map.cell_y_mm})}};
}

// Indices of the hold-downs that a move of the program enters.
std::set<int> hitHoldDowns(const ProgramRun& run) {
  std::set<int> hit;
  for (const Contact& c : run.contacts) hit.insert(c.hold_down);
  return hit;
}

Json programsJson(const Facts& facts, const Replay& replay) {
  Json programs = Json::array();
  for (std::size_t i = 0; i < std::min(facts.programs.size(), facts.run.programs.size()); ++i) {
    const ProgramEntry& entry = *facts.programs[i].entry;
    const ProgramRun& run = facts.run.programs[i];
    Json j = {{"file", visibleText(entry.file)},
              {"setup", run.setup},
              {"hold_downs", entry.hold_downs},
              {"hit", hitHoldDowns(run)},
              {"change", changeWords(facts, i)}};
    if (i < replay.programs.size()) {
      const ProgramReplay& own = replay.programs[i];
      const cutting::HeightMap* after = own.after                        ? &*own.after
                                        : i + 1 < replay.programs.size() ? &replay.programs[i + 1].before
                                                                         : nullptr;
      j["heights"] = heightsJson(own.before);
      j["overhangs"] = !own.before.overhangs.empty() || (after && !after->overhangs.empty());
    }
    programs.push_back(std::move(j));
  }
  return programs;
}

// When the first move of the finding's line begins, s from its program's start.
Json beginOf(const Facts& facts, const Replay& job_replay, const Finding& f) {
  const int i = f.program_order;
  if (i < 0 || f.place.line == 0 || i >= std::ssize(job_replay.programs)) return nullptr;
  const Program& program = facts.programs[i].program;
  const ProgramReplay& replay = job_replay.programs[i];
  double begin_s = replay.change_before_s;
  std::size_t event = 0;
  for (std::size_t m = 0; m < program.motions.size(); ++m) {
    for (; event < program.events.size() && program.events[event].before_motion <= m; ++event) {
      begin_s += replay.event_s[event];
    }
    if (program.motions[m].line == f.place.line) return number(begin_s);
    begin_s += replay.move_s[m];
  }
  return nullptr;
}

// Where each finding is, its own line, which words of it are marked (cells from 0), and what the views show of it.
Json excerptsJson(const Report& report, const Replay& replay) {
  Json excerpts = Json::array();
  for (const Finding& f : report.findings) {
    excerpts.push_back({{"order", f.program_order},
                        {"begin_s", beginOf(*report.facts, replay, f)},
                        {"text", f.source_line},
                        {"mark", Json::array({f.mark_begin, f.mark_end})},
                        {"part", partWord(partAtFault(*report.facts, f).part)},
                        {"label", markLabel(*report.facts, f)}});
  }
  return excerpts;
}

Json rulesJson(const Report& report) {
  std::set<std::string> seen;
  Json rules = Json::object();
  for (const Finding& f : report.findings) {
    const Rule* rule = findRule(f.rule);
    if (rule && seen.insert(f.rule).second) rules[f.rule] = {{"summary", rule->summary}, {"page", rule->page}};
  }
  return rules;
}

Json quoteJson(const Facts& facts) {
  const Quotation q = simulatedQuotation(facts);
  if (q.beyond_count)
    return {{"currency", q.currency},
            {"quantities", Json::array()},
            {"rows", Json::array()},
            {"assumptions", Json::array({beyondCountText(q.currency)})}};
  Json rows = Json::array(), quantities = Json::array(), assumptions = Json::array();
  for (const QuantityPrice& p : q.prices) quantities.push_back(p.quantity);
  for (const QuoteRow& row : quoteRows(q)) {
    const char* kind = row.kind == QuoteRow::Kind::cost ? "cost" : row.kind == QuoteRow::Kind::sum ? "sum" : "remark";
    rows.push_back({{"kind", kind}, {"name", row.name}, {"working", row.working}, {"amounts", row.amounts}});
  }
  for (const std::string& a : q.assumptions) assumptions.push_back(a);
  return {{"currency", q.currency}, {"quantities", quantities}, {"rows", rows}, {"assumptions", assumptions}};
}

// Sentences that every format says alike.
Json wordsJson(const Report& report) {
  Json motions = Json::array();
  for (const MotionKind kind : {MotionKind::rapid, MotionKind::feed, MotionKind::arc_cw, MotionKind::arc_ccw,
                                MotionKind::dwell, MotionKind::probe}) {
    motions.push_back(motionText(kind));
  }
  return {{"verdict", verdictWord(report.verdict)},
          {"verdict_sentence", verdictSentence(report)},
          {"levels",
           {{"stop", levelWord(Level::stop)}, {"look", levelWord(Level::look)}, {"note", levelWord(Level::note)}}},
          {"no_guarantee", no_guarantee},
          {"cautions", cautions},
          {"motions", std::move(motions)}};
}

}  // namespace

nlohmann::ordered_json pageScene(const Report& report, const Replay& replay) {
  const Facts& facts = *report.facts;
  const Job& job = facts.job;
  Json j;
  j["words"] = wordsJson(report);
  j["units"] = job.inches ? "in" : "mm";
  j["stock"] = {{"size", point(job.stock.size_mm)},
                {"grain", job.stock.grain == Grain::x   ? "x"
                          : job.stock.grain == Grain::y ? "y"
                                                        : "none"},
                {"material", wordOf(job.stock.material)}};
  if (job.stock.shape == StockShape::round) j["stock"]["round"] = true;
  j["spoilboard"] = {{"thickness", number(job.spoilboard.thickness_mm)}};
  j["limits"] = {{"clearance", number(job.limits.clearance_mm)}};
  j["tools"] = toolsJson(job);
  j["hold_downs"] = Json::array();
  for (const HoldDown& h : job.hold_downs) j["hold_downs"].push_back(holdDownJson(h));
  j["setups"] = setupsJson(job);
  j["programs"] = programsJson(facts, replay);
  j["excerpts"] = excerptsJson(report, replay);
  j["rules"] = rulesJson(report);
  const clock::TimeAssumptions assumed = simulatedAssumptions(facts);
  j["time_assumptions"] = {{"time", assumed.time}, {"low", assumed.low}, {"high", assumed.high}};
  j["times_too_short"] = Json::array();
  for (const std::string& why : timesTooShort(facts)) j["times_too_short"].push_back(visibleText(why));
  j["assumed"] = Json::array();
  for (const std::string& a : facts.assumed) j["assumed"].push_back(visibleText(a));
  if (job.quote) j["quote"] = quoteJson(facts);
  return j;
}

}  // namespace provecut
