#include "report/formats/text/summary.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <ostream>
#include <string>
#include <vector>

#include "parser/base/units.h"
#include "report/base/dimension_text.h"
#include "report/base/number_text.h"
#include "report/base/visible_text.h"
#include "report/base/wording.h"
#include "report/facts/piece_history.h"
#include "report/facts/tool_load.h"
#include "report/findings/piece_words.h"
#include "report/findings/verdict_words.h"
#include "report/formats/base/table.h"
#include "report/formats/base/terminal.h"
#include "report/formats/text/holding_text.h"

namespace provecut {

namespace {

constexpr std::size_t max_parts = 12;

struct Counts {
  std::size_t stop = 0, look = 0, note = 0, accepted = 0;
};

void count(Counts& counts, const Finding& f) {
  if (f.accepted) {
    ++counts.accepted;
  } else if (f.level == Level::stop) {
    ++counts.stop;
  } else if (f.level == Level::look) {
    ++counts.look;
  } else {
    ++counts.note;
  }
}

std::string countsText(const Counts& c) {
  std::vector<std::string> parts;
  if (c.stop > 0) parts.push_back(std::to_string(c.stop) + " stop");
  if (c.look > 0) parts.push_back(std::to_string(c.look) + " to check first");
  if (c.note > 0) parts.push_back(plural(c.note, "note", "notes"));
  if (c.accepted > 0) parts.push_back(std::to_string(c.accepted) + " accepted");
  std::string text;
  for (const std::string& part : parts) text += (text.empty() ? "" : ", ") + part;
  return text;
}

std::string verdictText(const Report& report, const Counts& c) {
  const std::string counted = countsText(c);
  const bool clear = report.verdict == Verdict::clear || report.verdict == Verdict::note;
  if (clear && !counted.empty()) return fmt::format("{}. No problems found; {}.", verdictWord(report.verdict), counted);
  return fmt::format("{}. {}{}", verdictWord(report.verdict), verdictSentence(report),
                     counted.empty() ? "" : " Found: " + counted + ".");
}

// In inches a size given in mm has three decimals; one given in inches reads as it was given.
std::string stockText(const Job& job) {
  const Vec3 size = job.stock.size_mm;
  const bool round = job.stock.shape == StockShape::round;
  if (!job.inches && round)
    return dimensionWithUnit(job, size.x) + " round, " + dimensionWithUnit(job, size.z) + " thick";
  if (!job.inches) return dimensionsText(job, size);
  const auto side = [](double mm) {
    const double inches = mm / mm_per_inch, as_given = std::round(inches * 1e4) / 1e4;
    return shortNumber(inches, std::fabs(inches - as_given) < 1e-7 ? 4 : 3);
  };
  if (round) return side(size.x) + " in round, " + side(size.z) + " in thick";
  return side(size.x) + " × " + side(size.y) + " × " + side(size.z) + " in";
}

// "Cribbage board: stock 480 × 130 × 19.05 mm, 2 setups, 9 programs"
std::string headline(const Facts& facts) {
  const Job& job = facts.job;
  const std::string measured = facts.said_thickness_mm ? fmt::format(" as measured (job file: {} thick)",
                                                                     dimensionWithUnit(job, *facts.said_thickness_mm))
                                                       : std::string();
  return visibleText(job.name.empty() ? "Job" : job.name) + ": stock " + stockText(job) + measured + ", " +
         plural(job.setups.size(), "setup", "setups") + ", " + plural(facts.programs.size(), "program", "programs");
}

Ink inkOfVerdict(Verdict verdict) {
  switch (verdict) {
    case Verdict::stop:
      return Ink::stop;
    case Verdict::look:
      return Ink::look;
    case Verdict::note:
    case Verdict::clear:
      return Ink::good;
  }
  return Ink::plain;
}

std::string volumeText(const Job& job, double mm3) {
  // A V-cut takes little: enough decimals that it is not shown as nothing.
  const double value = job.inches ? mm3 / (mm_per_inch * mm_per_inch * mm_per_inch) : mm3 / 1000;
  int decimals = job.inches ? 2 : 1;
  const std::string least = std::string("< ") + (job.inches ? "0.01 in³" : "0.1 cm³");
  if (value > 0 && value < 0.00005) return least;
  while (value > 0 && decimals < 4 && value < 0.95 * std::pow(10, -decimals)) ++decimals;
  return fixedText(value, decimals) + (job.inches ? " in³" : " cm³");
}

std::string toolsText(const Job& job, const ProgramFacts& p) {
  std::vector<int> tools;
  for (const Motion& m : p.program.motions) {
    if (std::find(tools.begin(), tools.end(), m.tool) == tools.end()) tools.push_back(m.tool);
  }
  if (tools.size() > 1) std::erase(tools, 0);  // what moves before the first T
  std::string numbers;
  for (const int t : tools) numbers += (numbers.empty() ? "" : ", ") + std::to_string(t);
  const Tool* only = tools.size() == 1 ? findTool(job, tools.front()) : nullptr;
  return visibleText(only && !only->name.empty() ? numbers + " " + only->name : numbers);
}

// Without its folder, unless another program has the same name.
std::string shortFile(const Facts& facts, std::size_t i) {
  const auto nameOf = [](const ProgramFacts& p) { return std::filesystem::path(p.entry->file).filename(); };
  const ProgramFacts& p = facts.programs[i];
  const bool alone = std::none_of(facts.programs.begin(), facts.programs.end(), [&](const ProgramFacts& other) {
    return other.entry->file != p.entry->file && nameOf(other) == nameOf(p);
  });
  return visibleText(alone ? nameOf(p).string() : p.entry->file);
}

std::string countText(std::size_t count) {
  return count > 0 ? std::to_string(count) : std::string();
}

// A program whose tools are all unknown cuts nothing here.
bool isSimulated(const Job& job, const Program& program) {
  return program.motions.empty() || std::any_of(program.motions.begin(), program.motions.end(),
                                                [&](const Motion& m) { return findTool(job, m.tool) != nullptr; });
}

std::vector<std::string> programRow(const Report& report, std::size_t i, const std::string& setup) {
  const Facts& facts = *report.facts;
  const ProgramFacts& p = facts.programs[i];
  Counts counts;
  for (const Finding& f : report.findings) {
    if (f.program_order == static_cast<int>(i)) count(counts, f);
  }
  std::vector<std::string> row{setup, shortFile(facts, i), p.program.read_whole ? "" : "*", toolsText(facts.job, p)};
  if (i < facts.run.programs.size()) {
    const ProgramRun& run = facts.run.programs[i];
    row.push_back(durationText(run.time.total_s()));
    row.push_back(isSimulated(facts.job, p.program) ? volumeText(facts.job, run.removed_mm3) : "–");
    row.push_back(allToolsKnown(facts.job, p.program) ? dimensionWithUnit(facts.job, run.deepest_below_top_mm)
                                                      : "not checked");
  }
  row.resize(7);
  for (const std::size_t n : {counts.stop, counts.look, counts.note, counts.accepted}) row.push_back(countText(n));
  return row;
}

void writePrograms(const Report& report, bool colour, std::ostream& out) {
  const Facts& facts = *report.facts;
  Table table{
      {false, false, false, false, true, true, true, true, true, true, true},
      {{"setup", "program", "", "tool", "time", "removed", "deepest cut", "stop", "check", "note", "accepted"}}};
  bool read_whole = true;
  const Setup* setup = nullptr;
  double total_s = 0, total_mm3 = 0;
  for (std::size_t i = 0; i < facts.programs.size(); ++i) {
    const bool same = facts.programs[i].setup == setup;
    setup = facts.programs[i].setup;
    read_whole = read_whole && facts.programs[i].program.read_whole;
    table.rows.push_back(programRow(report, i, same ? "" : visibleText(setup->name)));
    if (i < facts.run.programs.size()) {
      total_s += facts.run.programs[i].time.total_s();
      total_mm3 += facts.run.programs[i].removed_mm3;
    }
  }
  if (facts.programs.size() > 1) {
    table.rows.push_back({"", "total", "", "", durationText(total_s), volumeText(facts.job, total_mm3)});
  }
  fitToTerminal(table, 4);
  writeTable(table, colour, out);
  if (!read_whole) writeWrapped("* not read completely", 2, out);
}

std::string bendingText(const Job& job, double mm) {
  if (!(mm > 0)) return {};
  if (job.inches && mm < 0.0001 * mm_per_inch) return "< 0.0001 in";
  return quantityText(job, Quantity::fine_length, mm);
}

// What each tool of the job has to bear at most: one line per tool, however many programs use it.
void writeLoads(const Report& report, bool colour, std::ostream& out) {
  const Facts& facts = *report.facts;
  std::vector<ToolLoad> loads;
  for (std::size_t i = 0; i < std::min(facts.programs.size(), facts.run.programs.size()); ++i) {
    for (const ToolLoad& t : toolLoads(facts, i)) {
      const auto known = std::find_if(loads.begin(), loads.end(), [&](const ToolLoad& m) { return m.tool == t.tool; });
      if (known == loads.end()) {
        loads.push_back(t);
        continue;
      }
      known->max_chip_thickness_mm = std::max(known->max_chip_thickness_mm, t.max_chip_thickness_mm);
      known->max_removal_mm3_min = std::max(known->max_removal_mm3_min, t.max_removal_mm3_min);
      known->max_power_w = std::max(known->max_power_w, t.max_power_w);
      known->max_deflection_mm = std::max(known->max_deflection_mm, t.max_deflection_mm);
    }
  }
  if (loads.empty()) return;
  const Job& job = facts.job;
  Table table{{false, true, true, true, true},
              {{"tool", "max. chip thickness", "removal rate", "motor power", "bending"}}};
  for (const ToolLoad& t : loads) {
    const auto text = [&](Quantity quantity, double value) {
      return value > 0 ? quantityText(job, quantity, value) : std::string();
    };
    table.rows.push_back(
        {shortened(visibleText(toolText(job, t.tool)), 30), text(Quantity::fine_length, t.max_chip_thickness_mm),
         volumeText(job, t.max_removal_mm3_min) + "/min", text(Quantity::power_w, t.max_power_w / motor_efficiency),
         bendingText(job, t.max_deflection_mm)});
  }
  out << '\n';
  writeTable(table, colour, out);
  if (!job.stock.material_given) {
    writeWrapped("The job file names no `material`: motor power, bending and the usual chip loads were not checked.", 2,
                 out);
  }
}

void writeParts(const Facts& facts, std::ostream& out) {
  const std::vector<std::string> lines = pieceLines(facts, pieceHistories(facts));
  if (!lines.empty()) out << "\n  parts\n";
  for (std::size_t k = 0; k < std::min(lines.size(), max_parts); ++k) writeWrapped(lines[k], 2, out);
  if (lines.size() > max_parts) out << "  and " << lines.size() - max_parts << " more\n";
}

}  // namespace

bool allToolsKnown(const Job& job, const Program& program) {
  return std::all_of(program.motions.begin(), program.motions.end(), [&](const Motion& m) {
    return m.kind == MotionKind::rapid || m.kind == MotionKind::dwell || findTool(job, m.tool) != nullptr;
  });
}

void writeSummary(const Report& report, bool colour, std::ostream& out) {
  Counts counts;
  for (const Finding& f : report.findings) count(counts, f);
  writeHeading(headline(*report.facts), colour, out);
  out << '\n';
  writePrograms(report, colour, out);
  writeLoads(report, colour, out);
  writeParts(*report.facts, out);
  writeHolding(*report.facts, out);
  writeThickness(*report.facts, out);
  if (!report.not_checked.empty()) {
    out << '\n' << painted("  not checked", Ink::look, colour) << '\n';
    for (const std::string& what : report.not_checked) writeWrapped(what, 2, out);
  }
  out << '\n';
  for (const std::string& line : wrapped(verdictText(report, counts), terminal_columns, terminal_columns)) {
    out << painted(line, inkOfVerdict(report.verdict), colour) << '\n';
  }
  writeWrapped(std::string(no_guarantee), 0, out);
}

}  // namespace provecut
