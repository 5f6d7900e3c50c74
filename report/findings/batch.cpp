#include "report/findings/batch.h"

#include <algorithm>

#include "report/costing/quote.h"

namespace provecut {

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

}  // namespace provecut
