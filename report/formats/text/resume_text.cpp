#include "report/formats/text/resume_text.h"

#include <cmath>
#include <nlohmann/json.hpp>
#include <ostream>

#include "report/base/dimension_text.h"
#include "report/base/visible_text.h"
#include "report/base/wording.h"
#include "report/facts/resume.h"
#include "report/formats/base/table.h"

namespace provecut {

namespace {

constexpr std::size_t max_lines = 12;  // of one program; --before finds the others

std::vector<ResumeLine> chosen(const std::vector<ResumeLine>& lines, std::optional<std::uint32_t> before) {
  if (!before) return lines;
  std::vector<ResumeLine> last;
  for (const ResumeLine& l : lines) {
    if (l.point->place.line <= *before) last = {l};
  }
  return last;
}

// "X12 Y5.5 Z7.5": words to type.
std::string startText(const Job& job, WorkPoint at) {
  return "X" + positionText(job, at.x) + " Y" + positionText(job, at.y) + " Z" + positionText(job, at.z);
}

double rounded(double value) {
  return std::round(value * 1e9) / 1e9;
}

}  // namespace

void writeResumeText(const Facts& facts, std::optional<std::uint32_t> before, bool colour, std::ostream& out) {
  for (std::size_t i = 0; i < facts.programs.size(); ++i) {
    const ProgramFacts& p = facts.programs[i];
    const ProgramResumes resumes = resumesOf(facts, i);
    writeHeading(visibleText(p.setup->name + ": " + p.entry->file), colour, out);
    writeWrapped(resumes.relies_on.empty() ? std::string("sets every mode it needs")
                                           : "does not set these itself: " + listText(resumes.relies_on),
                 2, out);
    const std::vector<ResumeLine> lines = chosen(resumes.lines, before);
    if (lines.empty()) {
      writeWrapped("cannot be resumed: run it from the start", 2, out);
      out << '\n';
      continue;
    }
    Table table{{true, false, true, false},
                {{"line", "start from (" + std::string(lengthUnit(facts.job)) + ")", "tool", "set first"}}};
    for (std::size_t k = 0; k < std::min(lines.size(), max_lines); ++k) {
      const ResumeLine& l = lines[k];
      table.rows.push_back(
          {std::to_string(l.point->place.line), startText(facts.job, l.at), std::to_string(l.point->tool), l.words});
    }
    writeTable(table, colour, out);
    if (lines.size() > max_lines)
      out << "  and " << lines.size() - max_lines << " more; --before LINE shows the last one before LINE\n";
    out << '\n';
  }
  writeWrapped(
      "To resume: put in the tool and enter the words under \"set first\". Move to the start point at clearance height "
      "and "
      "let the spindle come to speed. Then run from that line. Everything before it must be cut already. If the "
      "machine "
      "may have lost its position, zero it first.",
      0, out);
}

void writeResumeJson(const Facts& facts, std::optional<std::uint32_t> before, std::ostream& out) {
  nlohmann::ordered_json j;
  j["provecut"] = 1;
  j["job"] = visibleText(facts.job.name);
  j["programs"] = nlohmann::ordered_json::array();
  for (std::size_t i = 0; i < facts.programs.size(); ++i) {
    const ProgramFacts& p = facts.programs[i];
    const ProgramResumes resumes = resumesOf(facts, i);
    nlohmann::ordered_json lines = nlohmann::ordered_json::array();
    for (const ResumeLine& l : chosen(resumes.lines, before)) {
      lines.push_back({{"line", l.point->place.line},
                       {"at", {rounded(l.at.x), rounded(l.at.y), rounded(l.at.z)}},
                       {"tool", l.point->tool},
                       {"in_force", l.words}});
    }
    j["programs"].push_back({{"setup", visibleText(p.setup->name)},
                             {"program", visibleText(p.entry->file)},
                             {"relies_on", resumes.relies_on},
                             {"resume_lines", lines}});
  }
  out << j.dump(2, ' ', false, nlohmann::ordered_json::error_handler_t::replace) << '\n';
}

}  // namespace provecut
