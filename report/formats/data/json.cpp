#include "report/formats/data/json.h"

#include <algorithm>
#include <nlohmann/json.hpp>
#include <ostream>
#include <string>
#include <vector>

#include "report/base/digest.h"
#include "report/base/visible_text.h"
#include "report/base/wording.h"
#include "report/costing/job_timing.h"
#include "report/facts/locked.h"
#include "report/facts/tool_load.h"
#include "report/formats/data/json_number.h"
#include "report/formats/data/parts_json.h"
#include "report/formats/data/quote_json.h"
#include "report/formats/data/time_json.h"

namespace provecut {

namespace {

using Json = nlohmann::ordered_json;  // keys in the order in which they are documented

Json point(WorkPoint p) {
  return Json::array({number(p.x), number(p.y), number(p.z)});
}
Json size(Vec3 s) {
  return Json::array({number(s.x), number(s.y), number(s.z)});
}

Json box(const WorkBox& b) {
  return b.empty ? Json(nullptr) : Json::array({point(b.low), point(b.high)});
}

Json textOrNull(const std::string& text) {
  return text.empty() ? Json(nullptr) : Json(text);
}

Json orNull(std::uint32_t value) {
  return value == 0 ? Json(nullptr) : Json(value);
}

Json findingJson(const Finding& f) {
  Json j;
  j["rule"] = f.rule;
  j["level"] = levelName(f.level);
  j["setup"] = textOrNull(f.setup);
  j["program"] = textOrNull(f.program);
  j["line"] = orNull(f.place.line);
  j["column"] = orNull(f.place.column);
  j["end_column"] = orNull(f.place.end_column);
  j["last_line"] = orNull(f.last_line);
  j["moves"] = f.moves;
  j["subject"] = textOrNull(f.subject);
  j["at"] = f.at ? point(*f.at) : Json(nullptr);
  j["amount"] = f.amount ? number(*f.amount) : Json(nullptr);
  j["unit"] = textOrNull(f.unit);
  j["message"] = f.message;
  j["help"] = f.help;
  if (!f.related.empty()) {
    Json& related = j["related"] = Json::array();
    for (const Related& r : f.related) {
      related.push_back({{"file", r.file},
                         {"line", orNull(r.place.line)},
                         {"column", orNull(r.place.column)},
                         {"message", r.message}});
    }
  }
  if (f.accepted) j["accepted"] = *f.accepted;
  j["likely_cause"] = f.likely_cause ? Json(*f.likely_cause) : Json(nullptr);
  return j;
}

Json goneJson(const Gone& gone) {
  return {{"gone", gone.gone}, {"of", gone.of}};
}

Json likelyCauseJson(const LikelyCause& cause) {
  return {{"kind", cause.kind},
          {"question", cause.question},
          {"setup", textOrNull(cause.setup)},
          {"stops", goneJson(cause.stops)},
          {"looks", goneJson(cause.looks)},
          {"effect", cause.effect},
          {"change", cause.change},
          {"lines", cause.lines},
          {"file", textOrNull(cause.file)},
          {"line", orNull(cause.place.line)},
          {"one_of_several", cause.tied}};
}

std::string_view motionName(const Motion& m) {
  return isArc(m) ? "arc" : m.kind == MotionKind::rapid ? "rapid" : "feed";
}

void addHits(const Facts& facts, std::size_t i, Json& hits) {
  const ProgramFacts& p = facts.programs[i];
  for (const Contact& c : facts.run.programs[i].contacts) {
    const Motion& m = p.program.motions[c.move];
    hits.push_back({{"setup", visibleText(p.setup->name)},
                    {"program", visibleText(p.entry->file)},
                    {"line", m.line},
                    {"subject", visibleText(facts.job.hold_downs[c.hold_down].name)},
                    {"tool", m.tool},
                    {"tool_part", visibleText(partText(facts.job, c.part, c.attachment))},
                    {"motion", motionName(m)},
                    {"plunge", c.plunge},
                    {"entry", point(c.entry)},
                    {"overlap_mm", number(c.overlap_mm)}});
  }
}

Json orNull(double value, bool known) {
  return known ? number(value) : Json(nullptr);
}

Json loadsJson(const Facts& facts, std::size_t i) {
  Json loads = Json::array();
  const bool material = facts.job.stock.material_given;
  for (const ToolLoad& t : toolLoads(facts, i)) {
    const Tool* tool = findTool(facts.job, t.tool);
    loads.push_back({{"tool", t.tool},
                     {"cutting_s", number(t.cutting_s)},
                     {"mean_chip_load_mm", number(t.mean_chip_load_mm)},
                     {"max_chip_thickness_mm", number(t.max_chip_thickness_mm)},
                     {"max_chip_line", orNull(t.max_chip_line)},
                     {"max_radial_mm", number(t.max_radial_depth_mm)},
                     {"mean_removal_mm3_min", number(t.mean_removal_mm3_min)},
                     {"max_removal_mm3_min", number(t.max_removal_mm3_min)},
                     {"max_power_w", orNull(t.max_power_w, material)},
                     {"max_force_n", orNull(t.max_force_n, material)},
                     {"max_deflection_mm", orNull(t.max_deflection_mm, material && tool && tool->stickout_mm > 0)}});
  }
  return loads;
}

std::string_view lockName(LockState state) {
  switch (state) {
    case LockState::no_lock:
      return "no-lock";
    case LockState::not_in_lock:
      return "not-in-lock";
    case LockState::same:
      return "same";
    case LockState::same_moves:
      return "same-moves";
    case LockState::other_program:
      return "other-program";
  }
  return {};
}

Json programJson(const Facts& facts, std::size_t i) {
  const ProgramFacts& p = facts.programs[i];
  const ProgramRun& run = facts.run.programs[i];
  std::vector<int> tools;
  std::size_t moved = 0;
  for (const Motion& m : p.program.motions) {
    moved += moves(m) ? 1 : 0;
    if (std::find(tools.begin(), tools.end(), m.tool) == tools.end()) tools.push_back(m.tool);
  }
  const TimeSpent& t = run.time;
  return {{"setup", visibleText(p.setup->name)},
          {"file", visibleText(p.entry->file)},
          {"sha256", sha256(p.text)},
          {"lock", lockName(lockStateOf(facts, p))},
          {"tools", tools},
          {"lines", p.program.lines},
          {"moves", moved},
          {"time_s", number(t.total_s())},
          {"feed_s", number(t.feed_s())},
          {"cutting_s", number(t.cutting_s)},
          {"air_s", number(t.air_s)},
          {"rapid_s", number(t.rapid_s)},
          {"dwell_s", number(t.dwell_s)},
          {"stop_s", number(t.stop_s)},
          {"spindle_s", number(t.spindle_s)},
          {"tool_change_s", number(t.tool_change_s)},
          {"feed_mm", number(run.feed_mm)},
          {"rapid_mm", number(run.rapid_mm)},
          {"removed_mm3", number(run.removed_mm3)},
          {"bounds", box(run.bounds)},
          {"deepest_below_top_mm", number(run.deepest_below_top_mm)},
          {"loads", loadsJson(facts, i)}};
}

void addHolding(const Facts& facts, std::size_t i, Json& holding) {
  const ProgramFacts& p = facts.programs[i];
  Json pieces = Json::array();
  for (const PieceHeld& piece : facts.run.programs[i].holding) {
    Json by = Json::array();
    for (const int h : piece.by) by.push_back(visibleText(facts.job.hold_downs[h].name));
    pieces.push_back({{"part", piece.part},
                      {"bounds", box(piece.bounds)},
                      {"plan_area_mm2", number(piece.plan_area_mm2)},
                      {"hold_downs", by},
                      {"tape_mm2", number(piece.tape_mm2)},
                      {"tabs", piece.tabs},
                      {"tab_area_mm2", number(piece.tab_area_mm2)},
                      {"onion_skin_mm", piece.skin_mm > 0 ? number(piece.skin_mm) : Json(nullptr)}});
  }
  holding.push_back(
      {{"setup", visibleText(p.setup->name)}, {"program", visibleText(p.entry->file)}, {"pieces", pieces}});
}

Json holesJson(const Facts& facts) {
  Json holes = Json::array();
  for (const HolePair& h : facts.run.hole_pairs) {
    const ProgramFacts& a = facts.programs[h.run_a];
    const ProgramFacts& b = facts.programs[h.run_b];
    holes.push_back({{"setup", visibleText(b.setup->name)},
                     {"program", visibleText(b.entry->file)},
                     {"line", orNull(b.program.motions[h.move_b].line)},
                     {"other_program", visibleText(a.entry->file)},
                     {"other_line", orNull(a.program.motions[h.move_a].line)},
                     {"at", point(h.at)},
                     {"axes_apart_mm", number(length(h.offset))},
                     {"skin_mm", number(h.skin_mm)},
                     {"skin_gains_with_stock", h.moves_with_stock}});
  }
  return holes;
}

Json quoteOf(const Facts& facts) {
  const Quotation q = simulatedQuotation(facts);
  return q.beyond_count ? Json(nullptr) : quoteJson(q, simulatedAssumptions(facts));
}

}  // namespace

nlohmann::ordered_json reportJson(const Report& report) {
  const Facts& facts = *report.facts;
  Json j;
  j["provecut"] = 1;
  j["job"] = visibleText(facts.job.name);
  j["verdict"] = verdictName(report.verdict);
  j["complete"] = report.complete;
  j["not_checked"] = report.not_checked;
  j["locked_on"] = facts.lock ? Json(visibleText(facts.lock->date)) : Json(nullptr);
  j["likely_causes"] = Json::array();
  for (const LikelyCause& cause : report.likely_causes) j["likely_causes"].push_back(likelyCauseJson(cause));
  j["findings"] = Json::array();
  for (const Finding& f : report.findings) j["findings"].push_back(findingJson(f));
  for (const char* key : {"hits", "programs", "parts", "holding"}) j[key] = Json::array();
  for (std::size_t i = 0; i < std::min(facts.programs.size(), facts.run.programs.size()); ++i) {
    addHits(facts, i, j["hits"]);
    j["programs"].push_back(programJson(facts, i));
    addHolding(facts, i, j["holding"]);
  }
  j["parts"] = partsJson(facts);
  j["hole_pairs"] = holesJson(facts);
  const JobTime time = jobTime(facts.run.programs);
  j["time"] = timeJson(time.time, time.low, time.high);
  if (facts.job.quote) j["quote"] = quoteOf(facts);
  j["stock"] = {{"cell_mm", size(facts.run.stock.cell_mm)},
                {"removed_mm3", number(facts.run.stock.removed_mm3)},
                {"remaining_mm3", number(facts.run.stock.remaining_mm3)}};
  return j;
}

void writeJson(const Report& report, std::ostream& out) {
  out << reportJson(report).dump(2, ' ', false, Json::error_handler_t::replace) << '\n';
}

}  // namespace provecut
