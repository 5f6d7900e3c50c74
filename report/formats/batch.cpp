#include "report/formats/batch.h"

#include <algorithm>
#include <nlohmann/json.hpp>
#include <ostream>

#include "report/formats/json.h"
#include "report/formats/table.h"
#include "report/formats/terminal.h"
#include "report/visible_text.h"
#include "sim/job_clock.h"

namespace provecut {

namespace {

std::string nameOf(const Report& report) {
  const Job& job = report.facts->job;
  return visibleText(job.name.empty() ? job.file : job.name);
}

std::string counted(const Report& report, Level level) {
  const auto n = std::count_if(report.findings.begin(), report.findings.end(),
                               [&](const Finding& f) { return !f.accepted && f.level == level; });
  return n > 0 ? std::to_string(n) : std::string();
}

std::string verdictText(Verdict verdict, bool complete) {
  return std::string(verdictName(verdict)) + (complete ? "" : ", not all checked");
}

}  // namespace

BatchSum batchSum(std::span<const Report> reports) {
  BatchSum sum;
  for (const Report& report : reports) {
    sum.verdict = std::max(sum.verdict, report.verdict);
    sum.complete = sum.complete && report.complete;
    for (const ProgramRun& p : report.facts->run.programs) {
      sum.time = sum.time + p.time;
      sum.low = sum.low + p.time_low;
      sum.high = sum.high + p.time_high;
    }
  }
  return sum;
}

void writeBatchText(std::span<const Report> reports, const TextStyle& style, std::ostream& out) {
  for (const Report& report : reports) {
    out << painted("== " + visibleText(report.facts->job.file), Ink::strong, style.colour) << "\n\n";
    writeText(report, style, out);
    out << '\n';
  }
  const BatchSum sum = batchSum(reports);
  Table table{{false, true, true, true, true, true, true, false}, {{"job", "time", "low", "high", "stop", "look", "note", "verdict"}}};
  for (const Report& report : reports) {
    const BatchSum one = batchSum({&report, 1});
    table.rows.push_back({nameOf(report), durationText(one.time.total_s()), durationText(one.low.total_s()), durationText(one.high.total_s()),
                          counted(report, Level::stop), counted(report, Level::look), counted(report, Level::note),
                          verdictText(report.verdict, report.complete)});
  }
  table.rows.push_back({std::to_string(reports.size()) + " jobs together", durationText(sum.time.total_s()), durationText(sum.low.total_s()),
                        durationText(sum.high.total_s()), "", "", "", verdictText(sum.verdict, sum.complete)});
  fitToTerminal(table, 1);
  writeTable(table, style.colour, out);
}

void writeBatchJson(std::span<const Report> reports, std::ostream& out) {
  const BatchSum sum = batchSum(reports);
  nlohmann::ordered_json j;
  j["provecut"] = 1;
  j["verdict"] = verdictName(sum.verdict);
  j["complete"] = sum.complete;
  j["jobs"] = nlohmann::ordered_json::array();
  for (const Report& report : reports) j["jobs"].push_back(reportJson(report));
  j["time"] = {{"total_s", sum.time.total_s()}, {"low_s", sum.low.total_s()}, {"high_s", sum.high.total_s()}};
  out << j.dump(2, ' ', false, nlohmann::ordered_json::error_handler_t::replace) << '\n';
}

}  // namespace provecut
