#include "report/formats/data/time_json.h"

#include <map>
#include <nlohmann/json.hpp>
#include <ostream>
#include <string>

#include "report/base/visible_text.h"
#include "report/formats/data/json_number.h"

namespace provecut {
namespace {

using Json = nlohmann::ordered_json;

std::string idOf(clock::SlowReason reason) {
  switch (reason) {
    case clock::SlowReason::feed:
      return "feed";
    case clock::SlowReason::axis_limit:
      return "axis-limit";
    case clock::SlowReason::bend:
      return "bend";
    case clock::SlowReason::blocks_per_second:
      return "blocks-per-second";
    case clock::SlowReason::corner:
      return "corner";
    case clock::SlowReason::short_blocks:
      return "short-blocks";
    case clock::SlowReason::acceleration:
      return "acceleration";
  }
  return {};
}

Json fitJson(const JobTiming& job) {
  const MachineFit& fit = *job.fit;
  Json j;
  j["programs"] = Json::array();
  for (std::size_t i = 0; i < fit.programs.size(); ++i)
    j["programs"].push_back({{"file", visibleText(fit.programs[i])},
                             {"measured_s", number(fit.measured_s[i])},
                             {"as_set_s", number(fit.clock.before_s[i])},
                             {"as_found_s", number(fit.clock.after_s[i])}});
  const Vec3 a = job.facts->job.machine.acceleration_mm_s2 * fit.clock.acceleration_factor;
  j["acceleration_mm_s2"] =
      fit.clock.acceleration_found ? Json::array({number(a.x), number(a.y), number(a.z)}) : Json(nullptr);
  j["acceleration_factor"] = fit.clock.acceleration_found ? number(fit.clock.acceleration_factor) : Json(nullptr);
  j["junction_deviation_mm"] = fit.clock.junction_found ? number(fit.clock.junction_deviation_mm) : Json(nullptr);
  j["off_as_set"] = number(fit.clock.before_share);
  j["off_as_found"] = number(fit.clock.after_share);
  j["off_with_exact_stop"] = fit.clock.exact_stop_share ? number(*fit.clock.exact_stop_share) : Json(nullptr);
  j["at_edge"] = fit.clock.at_edge;
  j["left_out"] = Json::array();
  for (const std::string& name : fit.left_out) j["left_out"].push_back(visibleText(name));
  return j;
}

// [line, seconds] in order of line, all runs of a line in loops and subprograms together.
Json linesJson(const Program& program, const clock::Plan& plan) {
  std::map<std::uint32_t, double> seconds;
  for (std::size_t i = 0; i < program.motions.size(); ++i) seconds[program.motions[i].line] += plan.move_s[i];
  for (std::size_t i = 0; i < program.events.size(); ++i)
    if (plan.event_s[i] > 0) seconds[program.events[i].place.line] += plan.event_s[i];
  Json lines = Json::array();
  for (const auto& [line, s] : seconds) lines.push_back(Json::array({line, number(s, 6)}));
  return lines;
}

Json jobJson(const JobTiming& job, bool lines) {
  const clock::TimeReport& r = job.report;
  const Facts& facts = *job.facts;
  Json j;
  j["job"] = visibleText(facts.job.name);
  j["complete"] = job.too_short.empty();
  j["not_checked"] = Json::array();
  for (const std::string& why : job.too_short) j["not_checked"].push_back(visibleText(why));
  j["time"] = timeJson(r.time, r.low, r.high);
  j["air_known"] = r.air_known;
  j["setups"] = Json::array();
  for (std::size_t s = 0; s < r.setups.size(); ++s)
    j["setups"].push_back({{"setup", visibleText(facts.job.setups[s].name)},
                           {"time", timeJson(r.setups[s].time, r.setups[s].low, r.setups[s].high)}});
  j["programs"] = Json::array();
  for (int i = 0; i < std::ssize(r.programs); ++i) {
    const clock::ProgramTimes& t = r.programs[i];
    Json p = {{"setup", visibleText(facts.programs[i].setup->name)},
              {"file", visibleText(facts.programs[i].entry->file)}};
    p["time"] = timeJson(t.time, t.low, t.high);
    p["tools"] = Json::array();
    for (const clock::ToolTime& tool : r.tools) {
      if (tool.program != i) continue;
      p["tools"].push_back({{"tool", tool.tool},
                            {"time", timeJson(tool.time)},
                            {"feed_mm", number(tool.feed_mm)},
                            {"rapid_mm", number(tool.rapid_mm)},
                            {"feed_moves", tool.feed_moves},
                            {"below_feed_moves", tool.below_feed_moves},
                            {"below_feed_s", number(tool.below_feed_s)}});
    }
    if (lines) p["lines"] = linesJson(job.facts->programs[i].program, t.plan);
    j["programs"].push_back(std::move(p));
  }
  j["feed_time_s"] = Json::object();
  for (std::size_t k = 0; k < clock::slow_reasons; ++k)
    j["feed_time_s"][idOf(static_cast<clock::SlowReason>(k))] = number(r.feed_time_s[k]);
  j["below_feed_share"] = number(r.below_feed_share);
  j["slowest"] = Json::array();
  for (const clock::SlowStretch& s : r.slowest)
    j["slowest"].push_back({{"program", visibleText(facts.programs[s.program].entry->file)},
                            {"line", s.first_line},
                            {"last_line", s.last_line},
                            {"time_s", number(s.time_s)},
                            {"at_feed_s", number(s.at_feed_s)},
                            {"air_s", number(s.air_s)},
                            {"length_mm", number(s.length_mm)},
                            {"reason", idOf(s.reason)}});
  j["what_if"] = Json::array();
  for (const clock::WhatIf& w : r.what_if)
    j["what_if"].push_back({{"change", w.change}, {"total_s", number(w.time_s)}});
  j["assumed"] = {{"time", r.assumptions.time}, {"low", r.assumptions.low}, {"high", r.assumptions.high}};
  if (job.fit) j["fit"] = fitJson(job);
  return j;
}

}  // namespace

Json timeJson(const TimeSpent& t) {
  return {{"total_s", number(t.total_s())},   {"cutting_s", number(t.cutting_s)},
          {"air_s", number(t.air_s)},         {"rapid_s", number(t.rapid_s)},
          {"dwell_s", number(t.dwell_s)},     {"stop_s", number(t.stop_s)},
          {"spindle_s", number(t.spindle_s)}, {"tool_change_s", number(t.tool_change_s)}};
}

Json timeJson(const TimeSpent& time, const TimeSpent& low, const TimeSpent& high) {
  Json j = {{"total_s", number(time.total_s())}, {"low_s", number(low.total_s())}, {"high_s", number(high.total_s())}};
  j.update(timeJson(time));
  return j;
}

void writeTimeJson(std::span<const JobTiming> jobs, bool lines, std::ostream& out) {
  Json j = {{"provecut", 1}};
  if (jobs.size() == 1) {
    j.update(jobJson(jobs[0], lines));
  } else {
    TimeSpent time, low, high;
    j["jobs"] = Json::array();
    for (const JobTiming& job : jobs) {
      j["jobs"].push_back(jobJson(job, lines));
      time = time + job.report.time;
      low = low + job.report.low;
      high = high + job.report.high;
    }
    j["time"] = timeJson(time, low, high);
  }
  out << j.dump(2, ' ', false, Json::error_handler_t::replace) << '\n';
}

}  // namespace provecut
