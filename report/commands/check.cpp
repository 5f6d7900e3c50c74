#include "report/commands/check.h"

#include <algorithm>
#include <utility>
#include <vector>

#include "parser/job_file/job_file.h"
#include "report/base/visible_text.h"
#include "report/base/wording.h"
#include "report/commands/console.h"
#include "report/commands/inputs.h"
#include "report/draft/quick_job.h"
#include "report/formats/data/batch_json.h"
#include "report/formats/data/json.h"
#include "report/formats/data/sarif.h"
#include "report/formats/page/html.h"
#include "report/formats/text/batch_text.h"
#include "report/formats/text/text.h"

namespace provecut {

namespace {

int statusOf(const Report& report, const std::optional<Level>& fail_on) {
  const int read = statusOfReading(*report.facts);
  if (read != exit_done || !fail_on) return read;
  const bool found = std::any_of(report.findings.begin(), report.findings.end(),
                                 [&](const Finding& f) { return !f.accepted && f.level >= *fail_on; });
  return found ? exit_found : exit_done;
}

// Says why the status is 1 where the result itself does not show it.
void tellWhy(const Report& report, const Options& options) {
  const auto shown = [&](const Finding& f) { return !options.quiet || f.level != Level::note; };
  const auto found = [&](const Finding& f) { return !f.accepted && f.level >= *options.fail_on; };
  std::size_t count = 0, seen = report.not_checked.size();
  for (const Finding& f : report.findings) {
    if (!options.fail_on || !found(f)) continue;
    ++count;
    if (shown(f)) ++seen;
  }
  if (resultIsShown(options) && seen > 0) return;
  std::string why;
  if (count > 0)
    why = plural(count, "finding", "findings") + " of level " + std::string(levelName(*options.fail_on)) + " or above";
  if (!report.complete) why += (why.empty() ? "" : "; ") + std::string("the check is not complete");
  printError(visibleText(report.facts->job.file.empty() ? options.files.front() : report.facts->job.file) + ": " + why);
}

// What is wrong with the options taken together; empty: nothing.
std::string misfit(const Options& options, bool job_files) {
  if (job_files && (!options.stock.empty() || !options.tools.empty()))
    return "leave out --stock and --tool: the job file says both";
  if (options.thickness && (!job_files || options.files.size() > 1))
    return "--thickness goes with one job file; without one, --stock gives the thickness";
  const bool one_report = options.format == Format::text || options.format == Format::json;
  if (job_files && options.files.size() > 1 && !one_report)
    return std::string("--format ") + (options.format == Format::html ? "html" : "sarif") +
           " takes one job file; several go as text or json";
  if (options.format == Format::html && !pageIsBuiltIn())
    return "--format html: this provecut was built without the page (PROVECUT_BUILD_PAGE=OFF); use text or json";
  return {};
}

int checkJobs(const Options& options) {
  std::vector<Loading> loadings;
  bool usable = true;
  LoadOptions load = loadOptions(options);
  load.read_lock = true;
  for (const std::string& file : options.files) {
    loadings.push_back(loadAndTell(file, options, load));
    usable = usable && loadings.back().facts;
  }
  if (!usable) return exit_unusable;
  std::vector<Report> reports;
  int status = exit_done;
  for (const Loading& loading : loadings) {
    reports.push_back(checkedReport(*loading.facts));
    lookForCauses(reports.back(), loadOptions(options));
    status = std::max(status, statusOf(reports.back(), options.fail_on));
  }
  const bool written = writeResult(options, [&](std::ostream& out, bool colour) {
    if (options.format == Format::json)
      writeBatchJson(reports, out);
    else
      writeBatchText(reports, {colour, options.quiet}, out);
  });
  if (!written) return exit_unusable;
  for (const Report& report : reports) {
    if (statusOf(report, options.fail_on) == exit_found) tellWhy(report, options);
  }
  return status;
}

Loading loadQuickJob(const Options& options, const LoadOptions& load) {
  draft::QuickJob quick = draft::quickJob(options.files, options.stock, options.tools);
  for (const std::string& error : quick.errors) printError(visibleText(error));
  if (!quick.job) return {};
  Loading loading = loadJob(std::move(*quick.job), std::move(quick.assumed), load);
  endProgress(options);
  printErrors(loading.errors);
  return loading;
}

}  // namespace

int runCheck(const Options& options) {
  if (!jobFilesOrPrograms(options.files)) return exit_unusable;
  const bool job_files = isJobFileName(options.files.front());
  if (const std::string why = misfit(options, job_files); !why.empty()) {
    printError(why);
    return exit_unusable;
  }
  if (job_files && options.files.size() > 1) return checkJobs(options);
  LoadOptions load = loadOptions(options);
  load.read_lock = true;
  if (options.thickness) {
    load.thickness = options.thickness->value;
    load.thickness_mm_per_unit = options.thickness->mm_per_unit;
  }
  Replay replay;
  if (options.format == Format::html) {
    replay.max_cells = page_cells;
    load.replay = &replay;
    load.outlines = true;
  }
  const Loading loading = job_files ? loadAndTell(options.files.front(), options, load) : loadQuickJob(options, load);
  if (!loading.facts) return exit_unusable;

  Report report = checkedReport(*loading.facts);
  lookForCauses(report, load);
  endProgress(options);
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
  if (!written) return exit_unusable;
  const int status = statusOf(report, options.fail_on);
  if (status == exit_found) tellWhy(report, options);
  return status;
}

}  // namespace provecut
