#include "report/formats/text/time_text.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <ostream>
#include <set>
#include <string>
#include <utility>
#include <vector>

#include "report/base/dimension_text.h"
#include "report/base/number_text.h"
#include "report/base/visible_text.h"
#include "report/base/wording.h"
#include "report/formats/base/table.h"
#include "report/formats/base/terminal.h"

namespace provecut {
namespace {

constexpr std::size_t bar_cells = 36;
constexpr std::size_t max_name_cells = 24;

std::string shortName(const std::string& name) {
  return shortened(visibleText(name), max_name_cells);
}

// The file's own name where the way to it takes too much room.
std::string shortFile(const std::string& file) {
  const std::size_t slash = file.rfind('/');
  const bool long_way = slash != std::string::npos && displayWidth(visibleText(file)) > max_name_cells;
  return shortName(long_way ? file.substr(slash + 1) : file);
}

std::string nameOf(const JobTiming& job) {
  const Job& j = job.facts->job;
  return visibleText(!j.name.empty() ? j.name : !j.file.empty() ? j.file : "Job");
}

void writeHead(const std::string& name, const TimeSpent& time, const TimeSpent& low, const TimeSpent& high, bool colour,
               std::ostream& out) {
  writeHeading(name + ": " + durationText(time.total_s()) + " (low " + durationText(low.total_s()) + ", high " +
                   durationText(high.total_s()) + ")",
               colour, out);
}

// Nothing for nothing.
std::string durationOrNone(double seconds) {
  return seconds > 0 ? durationText(seconds) : std::string();
}

// "2 1/8 in drill", or "2" for a tool without a name.
std::string numberAndName(const Job& job, int number) {
  const Tool* tool = findTool(job, number);
  return std::to_string(number) + (tool && !tool->name.empty() ? " " + tool->name : "");
}

void writeTools(const JobTiming& job, bool colour, std::ostream& out) {
  const clock::TimeReport& r = job.report;
  Table table{{false, false, true, true, true, true, true, true, true},
              {{"program", "tool", "time", "cutting", "air", "rapid", "waits", "change", "slow"}}};
  const auto add = [&](std::string first, std::string second, const TimeSpent& t, std::string share) {
    table.rows.push_back({std::move(first), std::move(second), durationOrNone(t.total_s()), durationOrNone(t.cutting_s),
                          durationOrNone(t.air_s), durationOrNone(t.rapid_s),
                          durationOrNone(t.dwell_s + t.stop_s + t.spindle_s), durationOrNone(t.tool_change_s),
                          std::move(share)});
  };
  const std::vector<Setup>& setups = job.facts->job.setups;
  const bool several = setups.size() > 1;
  const Setup* setup = nullptr;
  int program = -1;
  for (const clock::ToolTime& t : r.tools) {
    const ProgramFacts& p = job.facts->programs[t.program];
    if (several && p.setup != setup)
      add("setup " + shortName(p.setup->name), "", r.setups[p.setup - setups.data()].time, "");
    setup = p.setup;
    const bool new_program = t.program != program;
    program = t.program;
    const std::string share = t.feed_moves > 0 ? shareText(static_cast<double>(t.below_feed_moves) / t.feed_moves) : "";
    add(new_program ? shortFile(p.entry->file) : "", t.tool > 0 ? shortName(numberAndName(job.facts->job, t.tool)) : "",
        t.time, share);
  }
  add("total", "", r.time, shareText(r.below_feed_share));
  fitToTerminal(table, 2);
  writeTable(table, colour, out);
  writeWrapped("waits: dwells, spindle starts and stops; slow: share of cutting moves that never reach their feed", 2,
               out);
}

void writeBars(const clock::TimeReport& r, bool colour, std::ostream& out) {
  std::vector<std::pair<std::string, double>> parts;
  parts.emplace_back("cutting at the programmed feed", r.feed_time_s[0] - r.air_at_feed_s);
  parts.emplace_back("cutting moves in air, at the programmed feed", r.air_at_feed_s);
  for (std::size_t k = 1; k < clock::slow_reasons; ++k)
    parts.emplace_back("slowed by " + std::string(reasonText(static_cast<clock::SlowReason>(k))), r.feed_time_s[k]);
  parts.emplace_back("rapids", r.time.rapid_s);
  parts.emplace_back("dwells", r.time.dwell_s);
  parts.emplace_back("program stops", r.time.stop_s);
  parts.emplace_back("spindle starts and stops", r.time.spindle_s);
  parts.emplace_back("tool changes", r.time.tool_change_s);
  Table table{{false, true, true, false}, {{"where the time goes", "time", "share", "bar"}}};
  for (const auto& [name, seconds] : parts) {
    if (!(seconds >= 0.5)) continue;
    const double share = seconds / r.time.total_s();
    table.rows.push_back({name, durationText(seconds), shareText(share), barText(share, bar_cells)});
  }
  if (table.rows.size() == 1) return;
  out << '\n';
  table.rows[0].back().clear();
  writeTable(table, colour, out);
}

void writeSlowest(const JobTiming& job, bool colour, std::ostream& out) {
  if (job.report.slowest.empty()) return;
  const Job& j = job.facts->job;
  Table table{{true, false, true, true, true, false},
              {{"longest stretches", "program", "lines", "mean", "of feed", "why"}}};
  for (const clock::SlowStretch& s : job.report.slowest) {
    const std::string lines = s.first_line == s.last_line
                                  ? std::to_string(s.first_line)
                                  : std::to_string(s.first_line) + "-" + std::to_string(s.last_line);
    const double mean = s.time_s > 0 ? s.length_mm / s.time_s * 60 : 0,
                 feed = s.at_feed_s > 0 ? s.length_mm / s.at_feed_s * 60 : 0;
    std::string why(reasonText(s.reason));
    if (s.reason != clock::SlowReason::feed) why += ", " + durationText(s.time_s - s.at_feed_s) + " lost";
    if (s.air_s > 0.5 * s.time_s) why += s.air_s > 0.999 * s.time_s ? "; all air" : "; mostly air";
    table.rows.push_back({durationText(s.time_s), shortFile(job.facts->programs[s.program].entry->file), lines,
                          quantityText(j, Quantity::feed, mean), shareText(feed > 0 ? mean / feed : 0), why});
  }
  out << '\n';
  writeTable(table, colour, out);
}

void writeWhatIf(const JobTiming& job, bool colour, std::ostream& out) {
  const clock::TimeReport& r = job.report;
  const double now_s = r.time.total_s();
  if (!(now_s > 0)) return;
  std::string facts;
  if (r.below_feed_share > 0) facts = shareText(r.below_feed_share) + " of the cutting moves never reach their feed. ";
  if (r.time.air_s > 0) facts += shareText(r.time.air_s / r.time.feed_s()) + " of the cutting time is in air.";
  if (!facts.empty()) {
    out << '\n';
    writeWrapped(facts, 2, out);
  }
  if (r.what_if.empty()) return;
  out << '\n' << painted("  what if", Ink::faint, colour) << '\n';
  for (const clock::WhatIf& w : r.what_if) {
    const double change_s = w.time_s - now_s;
    const bool same = std::fabs(change_s) < 0.5;
    writeWrapped(w.change + ": " +
                     (same ? std::string("no difference")
                           : durationText(std::fabs(change_s)) + (change_s < 0 ? " shorter" : " longer") + " (" +
                                 shareText(std::fabs(change_s) / now_s) + ")"),
                 2, out);
  }
}

void writeAssumptions(const clock::TimeAssumptions& a, bool colour, std::ostream& out) {
  out << '\n' << painted("  how these times were worked out", Ink::faint, colour) << '\n';
  for (const std::string& line : assumptionLines(a)) writeWrapped(line, 2, out);
}

void writeFitted(const JobTiming& job, std::ostream& out) {
  const MachineFit& fit = *job.fit;
  const Job& j = job.facts->job;
  const double unit_mm = lengthUnit_mm(j);
  // People copy what they read first.
  const std::string_view best = fit.clock.at_edge ? "best of what was tried: " : "";
  if (fit.clock.at_edge)
    writeWrapped(
        "No sensible fit: do not use these values. Something else explains the times, such as a feed override or a "
        "pause.",
        2, out);
  if (fit.clock.acceleration_found) {
    const Vec3 a = j.machine.acceleration_mm_s2 * (fit.clock.acceleration_factor / unit_mm);
    const int decimals = j.inches ? 1 : 0;
    writeWrapped(fmt::format("{}acceleration = [{:.{}f}, {:.{}f}, {:.{}f}], {:.2f} × the value set", best, a.x,
                             decimals, a.y, decimals, a.z, decimals, fit.clock.acceleration_factor),
                 2, out);
  } else {
    writeWrapped("acceleration left as set: these programs hardly depend on it", 2, out);
  }
  if (fit.clock.junction_found)
    writeWrapped(fmt::format("{}junction_deviation = {:.{}f}", best, fit.clock.junction_deviation_mm / unit_mm,
                             j.inches ? 5 : 4),
                 2, out);
  else if (j.machine.cornering == Cornering::junction_deviation)
    writeWrapped(std::set<std::string>(fit.programs.begin(), fit.programs.end()).size() < 2
                     ? "junction_deviation left as set: fitting it takes at least two different measured programs"
                     : "junction_deviation left as set: these programs hardly depend on it",
                 2, out);
  writeWrapped("error: " + shareText(fit.clock.before_share) + " as set, " + shareText(fit.clock.after_share) +
                   " fitted (root mean square over the programs)",
               2, out);
  if (fit.clock.exact_stop_share)
    writeWrapped("A machine that stops at the end of every block fits better (error " +
                     shareText(*fit.clock.exact_stop_share) + "). Check `cornering` in the job file.",
                 2, out);
}

void writeFit(const JobTiming& job, bool colour, std::ostream& out) {
  const MachineFit& fit = *job.fit;
  out << '\n' << painted("  measured at the machine", Ink::faint, colour) << '\n';
  if (fit.programs.empty()) {
    writeWrapped(fit.left_out.empty()
                     ? "No measured times. Add [[machine.measured]] with program and seconds to the job file."
                     : "No measured time could be used:",
                 2, out);
  } else {
    Table table{{false, true, true, true}, {{"program", "measured", "as set", "fitted"}}};
    for (std::size_t i = 0; i < fit.programs.size(); ++i)
      table.rows.push_back({shortFile(fit.programs[i]), durationText(fit.measured_s[i]),
                            durationText(fit.clock.before_s[i]), durationText(fit.clock.after_s[i])});
    writeTable(table, colour, out);
    writeFitted(job, out);
  }
  for (const std::string& name : fit.left_out)
    writeWrapped("[[machine.measured]] " + visibleText(name) + " was left out: the job has no such program", 2, out);
}

void writeJob(const JobTiming& job, bool colour, std::ostream& out) {
  const clock::TimeReport& r = job.report;
  writeHead(nameOf(job), r.time, r.low, r.high, colour, out);
  out << '\n';
  writeTools(job, colour, out);
  writeBars(r, colour, out);
  writeSlowest(job, colour, out);
  writeWhatIf(job, colour, out);
  if (job.fit) writeFit(job, colour, out);
  writeAssumptions(r.assumptions, colour, out);
  for (const std::string& why : job.too_short) {
    out << '\n';
    writeWrapped(visibleText(why) + ", so its time is too short. Run provecut check for details.", 2, out);
  }
}

}  // namespace

std::string_view reasonText(clock::SlowReason reason) {
  switch (reason) {
    case clock::SlowReason::feed:
      return "at its programmed feed";
    case clock::SlowReason::axis_limit:
      return "an axis at its maximum rate";
    case clock::SlowReason::bend:
      return "tight arcs";
    case clock::SlowReason::blocks_per_second:
      return "blocks arriving too slowly";
    case clock::SlowReason::corner:
      return "corners";
    case clock::SlowReason::short_blocks:
      return "short blocks";
    case clock::SlowReason::acceleration:
      return "speeding up and slowing down";
  }
  return {};
}

std::vector<std::string> assumptionLines(const clock::TimeAssumptions& a) {
  const auto in = [](const std::vector<std::string>& list, const std::string& text) {
    return std::find(list.begin(), list.end(), text) != list.end();
  };
  const auto ofAll = [&](const std::string& text) { return in(a.time, text) && in(a.low, text) && in(a.high, text); };
  std::vector<std::string> lines;
  const auto add = [&](const char* name, const std::vector<std::string>& list, bool common) {
    std::string text;
    for (const std::string& item : list)
      if (ofAll(item) == common) text += (text.empty() ? name : "; ") + item;
    if (!text.empty()) lines.push_back(std::move(text));
  };
  add("all times: ", a.time, true);
  add("planned: ", a.time, false);
  add("low: ", a.low, false);
  add("high: ", a.high, false);
  return lines;
}

void writeTimeText(std::span<const JobTiming> jobs, bool colour, std::ostream& out) {
  TimeSpent time, low, high;
  for (std::size_t i = 0; i < jobs.size(); ++i) {
    if (i > 0) out << '\n';
    writeJob(jobs[i], colour, out);
    time = time + jobs[i].report.time;
    low = low + jobs[i].report.low;
    high = high + jobs[i].report.high;
  }
  if (jobs.size() < 2) return;
  out << '\n';
  writeHead(std::to_string(jobs.size()) + " jobs, total", time, low, high, colour, out);
}

}  // namespace provecut
