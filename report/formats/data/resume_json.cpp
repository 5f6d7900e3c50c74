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
      const WorkPoint& at = l.point->at;
      const nlohmann::ordered_json z = l.point->height_unknown ? nlohmann::ordered_json(nullptr) : number(at.z);
      lines.push_back({{"line", l.point->line},
                       {"at", {number(at.x), number(at.y), z}},
                       {"tool", l.point->tool},
                       {"in_force", l.words}});
    }
    j["programs"].push_back({{"setup", visibleText(p.setup->name)},
                             {"program", visibleText(p.entry->file)},
                             {"relies_on", resumes.relies_on},
                             {"resume_lines", lines}});
    if (!resumes.why_not.empty()) j["programs"].back()["why_not"] = resumes.why_not;
  }
  out << j.dump(2, ' ', false, nlohmann::ordered_json::error_handler_t::replace) << '\n';
}

}  // namespace provecut
