#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <ostream>
#include <set>

#include "parser/job/job_words.h"
#include "report/base/dimension_text.h"
#include "report/base/number_text.h"
#include "report/facts/setup_words.h"
#include "report/formats/base/html_text.h"
#include "report/formats/paper/sheet_parts.h"
#include "sim/path/setup_frame.h"

namespace provecut {

namespace {

bool same(double a_mm, double b_mm) {
  return std::fabs(a_mm - b_mm) < 1e-6;
}

// "left edge", "the middle", "12 mm from the left edge"
std::string zeroText(const Job& job, double at, double size, std::string_view low, std::string_view high) {
  if (same(at, 0)) return fmt::format("{} edge", low);
  if (same(at, size)) return fmt::format("{} edge", high);
  if (same(at, size / 2)) return "the middle";
  return fmt::format("{} from the {} edge", dimensionWithUnit(job, at), low);
}

std::string zeroHeightText(const Job& job, const Setup& setup, double thickness) {
  const double z = setup.zero_mm.z;
  if (same(z, thickness)) return "top of the stock";
  if (same(z, 0)) return setup.lift_mm > 0 ? "underside of the stock" : "spoilboard (underside of the stock)";
  return dimensionWithUnit(job, z) + " above the stock's underside";
}

std::string sizeOf(const Job& job, const HoldDown& d) {
  if (d.unplaced) return "at the stock's edges";
  if (d.diameter_mm > 0) return dimensionText(job, d.diameter_mm) + " across";
  if (!d.outline_mm.empty()) return "as drawn";
  const std::string box = dimensionText(job, d.size_mm.x) + " × " + dimensionText(job, d.size_mm.y);
  return d.angle_deg != 0 ? fmt::format("{}, at {}°", box, shortNumber(d.angle_deg, 1)) : box;
}

std::string heightOf(const Job& job, const HoldDown& d) {
  if (d.kind == HoldDownKind::pin) return dimensionText(job, d.depth_in_stock_mm) + " into the stock";
  if (isUnderStock(d.kind)) return "under the stock";
  if (d.unplaced) return "not given";
  return dimensionText(job, d.top_mm) + " above the stock";
}

// "all programs", "run 1", "runs 2 to 5, 7"
std::string fittedFor(const SheetSetup& s, int hold_down) {
  const auto fitted = [&](std::size_t k) {
    const auto& list = s.facts.programs[s.steps[k].program].entry->hold_downs;
    return std::find(list.begin(), list.end(), hold_down) != list.end();
  };
  std::size_t count = 0;
  std::string list;
  for (std::size_t k = 0; k < s.steps.size(); ++k) {
    if (!fitted(k)) continue;
    const std::size_t first = k;
    while (k + 1 < s.steps.size() && fitted(k + 1)) ++k;
    count += k + 1 - first;
    list += (list.empty() ? "" : ", ") + std::to_string(first + 1);
    if (k > first) list += (k > first + 1 ? " to " : ", ") + std::to_string(k + 1);
  }
  return count == s.steps.size() ? "all programs" : (count > 1 ? "runs " : "run ") + list;
}

std::string_view materialText(Material material) {
  if (material == Material::mdf) return "MDF";
  if (material == Material::hdpe) return "HDPE";
  if (material == Material::solid_surface) return "solid surface";
  return wordOf(material);
}

std::string_view lockCell(LockState state) {
  switch (state) {
    case LockState::no_lock:
      break;
    case LockState::not_in_lock:
      return "<td><strong>not in the lock</strong></td>";
    case LockState::same:
      return "<td>as locked</td>";
    case LockState::same_moves:
      return "<td>saved again, same moves</td>";
    case LockState::other_program:
      return "<td><strong>changed since</strong></td>";
  }
  return {};
}

}  // namespace

void writeSheetStock(const SheetSetup& s, std::ostream& out) {
  const Setup& setup = s.job.setups[s.index];
  const Stock& stock = s.job.stock;
  const Vec3 size = stockSizeInSetup(stock, setup);
  out << "<table>\n<tr><th scope=\"row\">Stock</th><td>";
  if (stock.material_given) out << materialText(stock.material) << ", ";
  if (stock.shape == StockShape::round) {
    out << dimensionWithUnit(s.job, size.x) << " round, " << dimensionWithUnit(s.job, size.z) << " thick";
  } else {
    out << dimensionsText(s.job, size);
  }
  if (stock.thickness_tolerance_mm > 0)
    out << ", thickness ±" << dimensionWithUnit(s.job, stock.thickness_tolerance_mm);
  out << "</td></tr>\n<tr><th scope=\"row\">Place it</th><td>" << stockWords(setup)
      << (setup.lift_mm > 0 ? ", " + dimensionWithUnit(s.job, setup.lift_mm) + " above the spoilboard"
                            : ", on the spoilboard")
      << " (" << dimensionWithUnit(s.job, s.job.spoilboard.thickness_mm) << " thick)</td></tr>\n"
      << "<tr><th scope=\"row\">Zero</th><td>X: " << zeroText(s.job, setup.zero_mm.x, size.x, "left", "right")
      << "; Y: " << zeroText(s.job, setup.zero_mm.y, size.y, "front", "back") << "; Z: <strong>"
      << zeroHeightText(s.job, setup, size.z) << "</strong></td></tr>\n</table>\n";
}

void writeSheetHoldDowns(const SheetSetup& s, std::ostream& out) {
  std::set<int> all;
  for (const SetupStep& step : s.steps) all.insert(step.fit.begin(), step.fit.end());
  if (all.empty()) {
    out << "<p><strong>No hold-downs are listed for this setup: nothing was checked against any. Make sure "
           "that the stock is held.</strong></p>\n";
    return;
  }
  out << "<table>\n<caption>Centres, measured from the stock's front left corner in this setup, in "
      << lengthUnit(s.job)
      << "</caption>\n<thead><tr><th>Hold-down</th><th>Kind</th><th class=\"n\">X</th><th class=\"n\">Y</th>"
         "<th>Size</th><th>Height</th><th>Fitted for</th></tr></thead>\n<tbody>\n";
  for (const int h : all) {
    const HoldDown& d = s.job.hold_downs[static_cast<std::size_t>(h)];
    out << "<tr><td>" << escapeHtml(d.name) << "</td><td class=\"k\">" << wordOf(d.kind) << "</td><td class=\"n\">"
        << dimensionText(s.job, d.at_mm.x) << "</td><td class=\"n\">" << dimensionText(s.job, d.at_mm.y) << "</td><td>"
        << sizeOf(s.job, d) << "</td><td>" << heightOf(s.job, d) << "</td><td>" << fittedFor(s, h) << "</td></tr>\n";
  }
  out << "</tbody>\n</table>\n";
}

void writeSheetTools(const SheetSetup& s, std::ostream& out) {
  std::vector<int> order;
  for (const SetupStep& step : s.steps) {
    for (const ToolStretch& t : step.tools) {
      if (std::find(order.begin(), order.end(), t.tool) == order.end()) order.push_back(t.tool);
    }
  }
  out << "<h2>Tools</h2>\n<table>\n<thead><tr><th class=\"n\">No.</th><th>Tool</th><th class=\"n\">Diameter</th><th "
         "class=\"n\">Flutes</th><th class=\"n\">Flute length</th><th "
         "class=\"n\">Stickout</th></tr></thead>\n<tbody>\n";
  const auto lengthCell = [&](double mm) {
    out << "<td class=\"n\">" << (mm > 0 ? dimensionText(s.job, mm) : std::string("?")) << "</td>";
  };
  for (const int number : order) {
    const Tool* tool = findTool(s.job, number);
    out << "<tr><td class=\"n\">" << number << "</td><td>" << (tool ? escapeHtml(tool->name) : "not in the job file")
        << "</td>";
    lengthCell(tool ? tool->diameter_mm : 0);
    out << "<td class=\"n\">" << (tool ? std::to_string(tool->flutes) : "?") << "</td>";
    lengthCell(tool ? tool->flute_length_mm : 0);
    lengthCell(tool ? tool->stickout_mm : 0);
    out << "</tr>\n";
  }
  out << "</tbody>\n</table>\n";
}

void writeSheetFiles(const SheetSetup& s, std::span<const ProgramFile> files, std::ostream& out) {
  out << "<h2>Programs: are these the ones on the machine?</h2>\n<table>\n<thead><tr><th>Run</th><th>File</th><th "
         "class=\"n\">Bytes</th><th class=\"n\">Lines</th><th>Last saved</th><th>SHA-256 begins</th>"
      << (s.facts.lock ? "<th>Lock of " + escapeHtml(s.facts.lock->date) + "</th>" : std::string())
      << "</tr></thead>\n"
         "<tbody>\n";
  for (std::size_t k = 0; k < s.steps.size(); ++k) {
    const ProgramFacts& p = s.facts.programs[s.steps[k].program];
    const ProgramFile& file = files[s.steps[k].program];
    out << "<tr><td class=\"k\">" << k + 1 << "</td><td>" << escapeHtml(p.entry->file) << "</td><td class=\"n\">"
        << file.bytes << "</td><td class=\"n\">" << p.program.lines << "</td><td class=\"k\">"
        << escapeHtml(file.changed) << "</td><td class=\"mono k\">" << escapeHtml(file.digest) << "</td>"
        << lockCell(file.lock) << "</tr>\n";
  }
  out << "</tbody>\n</table>\n";
}

}  // namespace provecut
