// Any bytes as a job file: either a job whose numbers make sense, or problems with places inside the text.
#include <algorithm>
#include <cmath>
#include <cstdint>
#include <cstdlib>
#include <iostream>
#include <string_view>

#include "parser/job_file/job_file.h"

namespace provecut {
namespace {

void require(bool holds, const char* what) {
  if (holds) return;
  std::cerr << "does not hold: " << what << "\n";
  std::abort();
}
#define REQUIRE(condition) require((condition), #condition)

bool isSize(double v) {
  return v >= 0.001 && v <= 1e5;
}
bool isLength(double v) {
  return std::abs(v) <= 1e6;
}

void checkProblems(const std::vector<JobFileProblem>& problems, std::string_view text) {
  const auto lines = static_cast<std::uint32_t>(std::count(text.begin(), text.end(), '\n')) + 1;
  for (const JobFileProblem& p : problems) {
    REQUIRE(!p.message.empty());
    REQUIRE(!p.help.empty());
    REQUIRE(p.place.line <= lines);
    REQUIRE(p.place.line == 0 || p.place.column >= 1);
    REQUIRE(p.place.line == 0 || p.place.end_column > p.place.column);
    REQUIRE(p.place.end_column <= text.size() + 2);
  }
}

void checkTool(const Tool& t) {
  REQUIRE(t.number >= 1);
  REQUIRE(isSize(t.diameter_mm));
  REQUIRE(t.flute_length_mm > 0 && isLength(t.flute_length_mm));
  REQUIRE(t.stickout_mm > 0 && isLength(t.stickout_mm));
  REQUIRE(t.shank_diameter_mm > 0);
  REQUIRE(t.flutes >= 1);
  REQUIRE(!t.name.empty());
  if (t.shape == ToolShape::vee || t.shape == ToolShape::drill) REQUIRE(t.angle_deg > 0 && t.angle_deg < 180);
  if (t.shape == ToolShape::form) REQUIRE(t.profile_mm.size() >= 2);
}

void checkList(const std::vector<int>& list, std::size_t hold_downs) {
  for (const int i : list) REQUIRE(i >= 0 && static_cast<std::size_t>(i) < hold_downs);
}

void checkJob(const Job& job) {
  const Vec3 size = job.stock.size_mm;
  REQUIRE(isSize(size.x) && isSize(size.y) && isSize(size.z));
  REQUIRE(!job.setups.empty());
  for (const Tool& t : job.tools) {
    checkTool(t);
    REQUIRE(findTool(job, t.number) == &t);
  }
  for (const HoldDown& h : job.hold_downs) {
    REQUIRE(!h.name.empty());
    REQUIRE(std::isfinite(h.top_mm) && isLength(h.at_mm.x) && isLength(h.at_mm.y));
    REQUIRE(h.diameter_mm > 0 || footprint(h).size() >= 3);
  }
  for (const Setup& s : job.setups) {
    REQUIRE(isLength(s.zero_mm.x) && isLength(s.zero_mm.y) && isLength(s.zero_mm.z));
    REQUIRE(s.rotate_deg == 0 || s.rotate_deg == 90 || s.rotate_deg == 180 || s.rotate_deg == 270);
    REQUIRE(!s.programs.empty());
    checkList(s.hold_downs, job.hold_downs.size());
    for (const ProgramEntry& p : s.programs) {
      REQUIRE(!p.file.empty());
      checkList(p.hold_downs, job.hold_downs.size());
    }
  }
  const Machine& m = job.machine;
  for (const Vec3 v : {m.travel_mm, m.max_rate_mm_min, m.acceleration_mm_s2}) REQUIRE(v.x > 0 && v.y > 0 && v.z > 0);
}

}  // namespace
}  // namespace provecut

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string_view text(reinterpret_cast<const char*>(data), size);
  const provecut::JobReading reading = provecut::readJob(text, "job.toml");
  provecut::require(reading.job.has_value() == reading.problems.empty(), "a job or problems, never both or neither");
  provecut::checkProblems(reading.problems, text);
  if (reading.job) provecut::checkJob(*reading.job);
  return 0;
}
