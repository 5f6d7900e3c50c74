#include "report/formats/data/engagement_csv.h"

#include <array>
#include <charconv>
#include <cmath>
#include <ostream>
#include <string>

#include "report/facts/measures.h"
#include "report/formats/data/csv.h"

namespace provecut {

namespace {

// Six significant digits: more than the raster gives.
void append(std::string& row, double value) {
  std::array<char, 32> digits;
  const double shown = std::isfinite(value) && value != 0 ? value : 0;
  row.append(digits.data(),
             std::to_chars(digits.data(), digits.data() + digits.size(), shown, std::chars_format::general, 6).ptr);
  row += ',';
}

void append(std::string& row, float value) {
  append(row, double{value});
}

void appendWhole(std::string& row, std::int64_t value) {
  row.append(std::to_string(value)).append(",");
}

}  // namespace

void writeEngagementHeader(std::ostream& out) {
  out << "program,line,kind,tool,removed_mm3,axial_mm,engaged_mm,mean_radial_mm,max_radial_mm,speed_mm_min,chip_load_"
         "mm,"
         "max_chip_thickness_mm,removal_mm3_min,power_w,force_n,deflection_mm\n";
}

void writeEngagement(const Facts& facts, std::size_t i, std::ostream& out) {
  const std::vector<Motion>& motions = facts.programs[i].program.motions;
  const bool material = facts.job.stock.material_given;
  std::string row;
  for (std::size_t m = 0; m < motions.size(); ++m) {
    const MoveCut cut = cutOf(facts, i, m);
    const MoveLoad load = loadOf(facts, i, m);
    const Tool* tool = findTool(facts.job, motions[m].tool);
    row.clear();
    appendWhole(row, i + 1);
    appendWhole(row, motions[m].line);
    row.append(kindName(motions[m].kind)).append(",");
    appendWhole(row, motions[m].tool);
    for (const float value :
         {cut.removed_mm3, cut.axial_depth_mm, cut.engaged_mm, cut.radial_depth_mm, cut.max_radial_depth_mm,
          load.speed_mm_min, load.chip_load_mm, load.max_chip_thickness_mm, load.removal_mm3_min}) {
      append(row, value);
    }
    const auto orEmpty = [&](float value, bool known) {
      if (known) {
        append(row, value);
      } else {
        row += ',';
      }
    };
    orEmpty(load.power_w, material);
    orEmpty(load.force_n, material);
    orEmpty(load.deflection_mm, material && tool && tool->stickout_mm > 0);
    row.back() = '\n';
    out << row;
  }
}

}  // namespace provecut
