#include "report/commands/quote.h"

#include <algorithm>
#include <ostream>
#include <vector>

#include "report/base/visible_text.h"
#include "report/commands/console.h"
#include "report/commands/inputs.h"
#include "report/commands/timed_jobs.h"
#include "report/formats/data/quote_json.h"
#include "report/formats/paper/quote_page.h"
#include "report/formats/text/quote_text.h"

namespace provecut {
namespace {

QuotedJob quotedJob(const JobTiming& timing) {
  const Job& job = timing.facts->job;
  QuotedJob quoted;
  quoted.name = visibleText(job.name.empty() ? job.file : job.name);
  quoted.stock = {timing.report.time, timing.report.low, timing.report.high, timing.report.air_known};
  quoted.quotation = quotation(*job.quote, job.setups.size(), quoted.stock);
  quoted.quotation.currency = visibleText(quoted.quotation.currency);
  quoted.time = timing.report.assumptions;
  for (const std::string& why : timing.too_short) quoted.too_short.push_back(visibleText(why));
  return quoted;
}

}  // namespace

int runQuote(const Options& options) {
  if (!std::all_of(options.files.begin(), options.files.end(), isJobFile)) return exit_unusable;
  const auto jobs = timedJobs(options);
  if (!jobs) return exit_unusable;
  std::vector<QuotedJob> quoted;
  for (const JobTiming& timing : *jobs) {
    const Job& job = timing.facts->job;
    if (!job.quote) {
      printError(visibleText(job.file) +
                 ": no [quote] section. A quote needs its rates, labour minutes and material cost.");
      return exit_unusable;
    }
    quoted.push_back(quotedJob(timing));
    const Quotation& q = quoted.back().quotation;
    if (q.beyond_count) {
      printError(visibleText(job.file) + ": " + beyondCountText(q.currency));
      return exit_unusable;
    }
  }
  const std::vector<QuoteSum> sums = quoteSums(quoted);
  if (std::any_of(sums.begin(), sums.end(), [](const QuoteSum& s) { return beyondCount(s.total); })) {
    printError("all jobs: " + beyondCountText(quoted.front().quotation.currency));
    return exit_unusable;
  }
  const bool written = writeResult(options, [&](std::ostream& out, bool colour) {
    switch (options.format) {
      case Format::text:
        return writeQuoteText(quoted, colour, out);
      case Format::json:
        return writeQuoteJson(quoted, out);
      case Format::html:
        return writeQuotePage(quoted, out);
      case Format::sarif:
      case Format::svg:
        return;
    }
  });
  return written ? toldStatusOf(*jobs, options) : exit_unusable;
}

}  // namespace provecut
