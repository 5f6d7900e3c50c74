#include "report/formats/batch.h"

#include <algorithm>
#include <nlohmann/json.hpp>
#include <ostream>
#include <utility>

#include "report/formats/json.h"
#include "report/formats/table.h"
#include "report/formats/time_json.h"
#include "report/quote.h"
#include "report/visible_text.h"

namespace provecut {

namespace {

std::string nameOf(const Report& report) {
  const Job& job = report.facts->job;
  return visibleText(job.name.empty() ? job.file : job.name);
}

std::string counted(std::size_t n) { return n > 0 ? std::to_string(n) : std::string(); }

std::string verdictText(Verdict verdict, bool complete) {
  return std::string(verdictName(verdict)) + (complete ? "" : ", not all checked");
}

}  // namespace

BatchSum batchSum(std::span<const Report> reports) {
  BatchSum sum;
  for (const Report& report : reports) {
    sum.verdict = std::max(sum.verdict, report.verdict);
    sum.complete = sum.complete && report.complete;
    for (const Finding& f : report.findings) {
      if (!f.accepted) ++(f.level == Level::stop ? sum.stop : f.level == Level::look ? sum.look : sum.note);
    }
    const JobTime time = jobTime(report.facts->run.programs);
    sum.time = sum.time + time.time;
    sum.low = sum.low + time.low;
    sum.high = sum.high + time.high;
  }
  return sum;
}

void writeBatchText(std::span<const Report> reports, const TextStyle& style, std::ostream& out) {
  for (const Report& report : reports) {
    writeHeading("== " + visibleText(report.facts->job.file), style.colour, out);
    out << '\n';
    writeText(report, style, out);
    out << '\n';
  }
  Table table{{false, true, true, true, true, true, true, false}, {{"job", "time", "low", "high", "stop", "look", "note", "verdict"}}};
  const auto add = [&](std::string name, const BatchSum& of) {
    table.rows.push_back({std::move(name), durationText(of.time.total_s()), durationText(of.low.total_s()), durationText(of.high.total_s()),
                          counted(of.stop), counted(of.look), counted(of.note), verdictText(of.verdict, of.complete)});
  };
  for (const Report& report : reports) add(nameOf(report), batchSum({&report, 1}));
  add(std::to_string(reports.size()) + " jobs together", batchSum(reports));
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
  j["counts"] = {{"stop", sum.stop}, {"look", sum.look}, {"note", sum.note}};
  j["time"] = timeJson(sum.time, sum.low, sum.high);
  out << j.dump(2, ' ', false, nlohmann::ordered_json::error_handler_t::replace) << '\n';
}

}  // namespace provecut
