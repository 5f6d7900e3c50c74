#include "report/formats/text/batch_text.h"

#include <ostream>
#include <string>
#include <utility>

#include "report/base/number_text.h"
#include "report/base/visible_text.h"
#include "report/findings/batch.h"
#include "report/findings/verdict_words.h"
#include "report/formats/base/table.h"

namespace provecut {

namespace {

std::string nameOf(const Report& report) {
  const Job& job = report.facts->job;
  return visibleText(job.name.empty() ? job.file : job.name);
}

std::string counted(std::size_t n) {
  return n > 0 ? std::to_string(n) : std::string();
}

std::string verdictText(Verdict verdict, bool complete) {
  return std::string(verdictWord(verdict)) + (complete ? "" : "; check incomplete");
}

}  // namespace

void writeBatchText(std::span<const Report> reports, const TextStyle& style, std::ostream& out) {
  for (const Report& report : reports) {
    writeHeading("== " + visibleText(report.facts->job.file), style.colour, out);
    out << '\n';
    writeText(report, style, out);
    out << '\n';
  }
  Table table{{false, true, true, true, true, true, true, false},
              {{"job", "planned", "low", "high", "stop", "check", "note", "verdict"}}};
  const auto add = [&](std::string name, const BatchSum& of) {
    table.rows.push_back({std::move(name), durationText(of.time.total_s()), durationText(of.low.total_s()),
                          durationText(of.high.total_s()), counted(of.stop), counted(of.look), counted(of.note),
                          verdictText(of.verdict, of.complete)});
  };
  for (const Report& report : reports) add(nameOf(report), batchSum({&report, 1}));
  add(std::to_string(reports.size()) + " jobs, total", batchSum(reports));
  fitToTerminal(table, 1);
  writeTable(table, style.colour, out);
}

}  // namespace provecut
