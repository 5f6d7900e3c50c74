#include "report/commands/check.h"

#include <spdlog/spdlog.h>

#include <algorithm>
#include <string_view>
#include <utility>
#include <vector>

#include "parser/job_file/job_file.h"
#include "report/base/visible_text.h"
#include "report/commands/console.h"
#include "report/draft/quick_job.h"
#include "report/findings/report.h"
#include "report/formats/data/batch_json.h"
#include "report/formats/data/json.h"
#include "report/formats/data/sarif.h"
#include "report/formats/page/html.h"
#include "report/formats/text/batch_text.h"
#include "report/formats/text/text.h"

namespace provecut {

namespace {

int statusOf(const Report& report, const std::optional<Level>& fail_on) {
  for (const ProgramFacts& p : report.facts->programs) {
    if (!p.program.read_whole) return exit_found;
  }
  if (!fail_on) return exit_done;
  const bool found = std::any_of(report.findings.begin(), report.findings.end(),
                                 [&](const Finding& f) { return !f.accepted && f.level >= *fail_on; });
  return found ? exit_found : exit_done;
}

}  // namespace

namespace {

int checkJobs(const Options& options) {
  std::vector<Loading> loadings;
  bool usable = true;
  for (const std::string& file : options.files) {
    loadings.push_back(loadJobFile(file, loadOptions(options)));
    endProgress(options);
    printErrors(loadings.back().errors);
    usable = usable && loadings.back().facts;
  }
  if (!usable) return exit_unusable;
  std::vector<Report> reports;
  int status = exit_done;
  for (const Loading& loading : loadings) {
    reports.push_back(makeReport(*loading.facts));
    status = std::max(status, statusOf(reports.back(), options.fail_on));
  }
  const bool written = writeResult(options, [&](std::ostream& out, bool colour) {
    if (options.format == Format::json)
      writeBatchJson(reports, out);
    else
      writeBatchText(reports, {colour, options.quiet}, out);
  });
  return written ? status : exit_unusable;
}

}  // namespace

int runCheck(const Options& options) {
  const bool job_file =
      !options.files.empty() && std::all_of(options.files.begin(), options.files.end(), isJobFileName);
  if (!job_file && std::any_of(options.files.begin(), options.files.end(), isJobFileName)) {
    printError("give job files, or programs: not both");
    return exit_unusable;
  }
  if (job_file && (!options.stock.empty() || !options.tools.empty())) {
    printError("--stock and --tool are for programs without a job file; the job file says what is on the machine");
    return exit_unusable;
  }
  if (options.thickness && (!job_file || options.files.size() > 1)) {
    printError("--thickness goes with one job file; without one --stock says how thick the stock is");
    return exit_unusable;
  }
  if (options.files.size() > 1 && job_file) {
    if (options.format == Format::text || options.format == Format::json) return checkJobs(options);
    printError("several jobs are written as text or json; give one job file for this format");
    return exit_unusable;
  }
  LoadOptions load_options = loadOptions(options);
  if (options.thickness) {
    load_options.thickness = options.thickness->value;
    load_options.thickness_mm_per_unit = options.thickness->mm_per_unit;
  }
  Replay replay;
  if (options.format == Format::html) {
    if (!pageIsBuiltIn()) {
      printError(
          "--format html: this provecut was built without the page (PROVECUT_BUILD_PAGE=OFF); text and json are there");
      return exit_unusable;
    }
    replay.max_cells = page_cells;
    load_options.replay = &replay;
  }
  Loading loading;
  if (job_file) {
    loading = loadJobFile(options.files.front(), load_options);
  } else {
    draft::QuickJob quick = draft::quickJob(options.files, options.stock, options.tools);
    for (const std::string& error : quick.errors) printError(visibleText(error));
    if (!quick.job) return exit_unusable;
    quick.job->inches = options.stock.ends_with("in");
    loading = loadJob(std::move(*quick.job), std::move(quick.assumed), load_options);
  }
  endProgress(options);
  printErrors(loading.errors);
  if (!loading.facts) return exit_unusable;

  const Report report = makeReport(*loading.facts);
  spdlog::info("{} findings", report.findings.size());
  const bool written = writeResult(options, [&](std::ostream& out, bool colour) {
    switch (options.format) {
      case Format::text:
        return writeText(report, {colour, options.quiet, options.verbose}, out);
      case Format::json:
        return writeJson(report, out);
      case Format::sarif:
        return writeSarif(report, out);
      case Format::html:
        return writeHtml(report, replay, out);
      case Format::svg:
        return;
    }
  });
  return written ? statusOf(report, options.fail_on) : exit_unusable;
}

}  // namespace provecut
