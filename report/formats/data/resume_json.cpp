#include "report/formats/data/resume_json.h"

#include <nlohmann/json.hpp>
#include <ostream>

#include "report/base/visible_text.h"
#include "report/facts/resume.h"
#include "report/formats/data/json_number.h"

namespace provecut {

void writeResumeJson(const Facts& facts, std::optional<std::uint32_t> before, std::ostream& out) {
  nlohmann::ordered_json j;
  j["provecut"] = 1;
  j["job"] = visibleText(facts.job.name);
  j["programs"] = nlohmann::ordered_json::array();
  for (std::size_t i = 0; i < facts.programs.size(); ++i) {
    const ProgramFacts& p = facts.programs[i];
    const ProgramResumes resumes = resumesOf(facts, i, before);
    nlohmann::ordered_json lines = nlohmann::ordered_json::array();
    for (const ResumeLine& l : resumes.lines) {
      lines.push_back({{"line", l.point->place.line},
                       {"at", {number(l.at.x), number(l.at.y), number(l.at.z)}},
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
