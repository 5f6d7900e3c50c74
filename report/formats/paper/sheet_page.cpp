#include "report/formats/paper/sheet_page.h"

#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <ctime>
#include <filesystem>
#include <ostream>
#include <string_view>
#include <system_error>

#include "report/base/digest.h"
#include "report/findings/verdict_words.h"
#include "report/formats/base/html_text.h"
#include "report/formats/drawing/sheet_drawing.h"
#include "report/formats/paper/sheet_parts.h"
#include "report/formats/paper/sheet_style.h"

namespace provecut {

namespace {

// Stops are all shown. With more than these to check first, the sheet of a setup no longer fits on two pages.
constexpr std::size_t max_findings = 5;

// "33 min", "1 h 5 min", "40 s"
std::string roughDuration(double seconds) {
  if (!std::isfinite(seconds)) return "unknown";
  if (seconds < 59.5) return fmt::format("{} s", std::lround(seconds));
  const long minutes = std::lround(seconds / 60);
  return minutes < 60 ? fmt::format("{} min", minutes) : fmt::format("{} h {} min", minutes / 60, minutes % 60);
}

double timeOf_s(const SheetSetup& s) {
  double seconds = 0;
  for (const SetupStep& step : s.steps) seconds += s.facts.run.programs[step.program].time.total_s();
  return seconds;
}

void writeVerdict(const Report& report, bool findings_below, std::ostream& out) {
  out << "<p class=\"verdict " << verdictName(report.verdict) << "\"><span>" << verdictWord(report.verdict)
      << ".</span> " << verdictSentence(report) << (findings_below ? " See \"Before you run\" below." : "") << "</p>\n";
  for (const std::string& what : report.not_checked)
    out << "<p><strong>Not checked:</strong> " << escapeHtml(what) << "</p>\n";
}

// What concerns this setup; what concerns the whole job stands with the first one. The worst come first.
std::vector<const Finding*> findingsOf(const Report& report, const SheetSetup& s) {
  std::vector<const Finding*> list;
  for (const Finding& f : report.findings) {
    if (f.level == Level::note) continue;
    const bool here = std::any_of(s.steps.begin(), s.steps.end(), [&](const SetupStep& step) {
      return static_cast<int>(step.program) == f.program_order;
    });
    if (here || (f.program_order < 0 && s.index == 0)) list.push_back(&f);
  }
  return list;
}

void writeFindings(const std::vector<const Finding*>& list, const SheetSetup& s, std::ostream& out) {
  if (list.empty()) return;
  const auto stops = static_cast<std::size_t>(
      std::count_if(list.begin(), list.end(), [](const Finding* f) { return f->level == Level::stop; }));
  const std::size_t shown = std::min(list.size(), std::max(stops, max_findings));
  out << "<h2>Before you run</h2>\n<ul>\n";
  for (std::size_t i = 0; i < shown; ++i) {
    const Finding& f = *list[i];
    out << "<li class=\"todo\"><i></i><strong><span>" << levelWord(f.level) << "</span>"
        << (f.accepted ? " (accepted) " : " ") << escapeHtml(f.program);
    if (f.place.line > 0) out << ":" << f.place.line;
    out << ":</strong> " << escapeHtml(f.message);
    if (f.accepted) out << ". Accepted: " << escapeHtml(*f.accepted);
    out << "</li>\n";
  }
  if (list.size() > shown) {
    out << "<li><strong>and " << list.size() - shown << " more</strong>. For all of them run: provecut check "
        << escapeHtml(s.job.file) << "</li>\n";
  }
  out << "</ul>\n";
}

constexpr std::string_view signing =
    "<div class=\"sign\"><span>Set up by</span><span>Date</span><span>Programs as above</span></div>\n";

void writeCautions(std::ostream& out) {
  out << "<p class=\"cautions\"><strong>" << no_guarantee << "</strong> " << safe_running << " " << last_word
      << "</p>\n";
}

void writeSetup(const Report& report, std::string_view name, std::size_t index, std::span<const ProgramFile> files,
                std::ostream& out) {
  const Facts& facts = *report.facts;
  const SheetSetup s{facts, facts.job, index, setupSteps(facts, index)};
  // A setup without a name is called by its number.
  const std::string number = std::to_string(index + 1), &called = s.job.setups[index].name;
  out << "<section>\n<header><h1>" << escapeHtml(name) << "<br>Setup " << number << " of " << s.job.setups.size()
      << (called == number ? "" : ": " + escapeHtml(called)) << "</h1><p>This setup: " << roughDuration(timeOf_s(s))
      << "</p></header>\n";
  const std::vector<const Finding*> findings = findingsOf(report, s);
  writeVerdict(report, !findings.empty(), out);
  writeSheetStock(s, out);
  out << setupDrawing(facts, index);
  writeSheetHoldDowns(s, out);
  writeFindings(findings, s, out);  // before the steps: nobody reads on after the last run
  writeSheetSteps(s, out);
  writeSheetTools(s, out);
  writeSheetFiles(s, files, out);
  out << signing;
  writeCautions(out);
  out << "</section>\n";
}

std::string localTime(std::filesystem::file_time_type changed) {
  const auto system = std::chrono::file_clock::to_sys(changed);
  const std::time_t seconds =
      std::chrono::system_clock::to_time_t(std::chrono::time_point_cast<std::chrono::system_clock::duration>(system));
  std::tm parts{};
  if (!localtime_r(&seconds, &parts)) return {};
  char buffer[32];
  return {buffer, std::strftime(buffer, sizeof buffer, "%Y-%m-%d %H:%M", &parts)};
}

}  // namespace

std::vector<ProgramFile> programFiles(const Facts& facts) {
  std::vector<ProgramFile> files;
  for (const ProgramFacts& p : facts.programs) {
    std::error_code error;
    const auto changed =
        std::filesystem::last_write_time(std::filesystem::path(facts.job.file).parent_path() / p.entry->file, error);
    files.push_back({p.text.size(), error ? std::string() : localTime(changed), sha256(p.text).substr(0, 12),
                     lockStateOf(facts, p)});
  }
  return files;
}

void writeSheet(const Report& report, std::span<const ProgramFile> files, std::ostream& out) {
  const Job& job = report.facts->job;
  const std::string& name = job.name.empty() ? job.file : job.name;
  out << static_page_head << "<title>" << escapeHtml(name) << ": setup sheet</title>\n" << sheet_style << "<main>\n";
  for (std::size_t s = 0; s < job.setups.size(); ++s) writeSetup(report, name, s, files, out);
  out << "</main>\n</body>\n</html>\n";
}

}  // namespace provecut
