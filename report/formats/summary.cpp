#include "report/formats/summary.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <ostream>
#include <set>
#include <string>
#include <vector>

#include "report/formats/terminal.h"
#include "report/rules/wording.h"
#include "report/visible_text.h"

namespace provecut {

namespace {

constexpr std::size_t most_parts = 12;
constexpr std::size_t most_name_cells = 30;

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
  if (c.look > 0) parts.push_back(std::to_string(c.look) + " look");
  if (c.note > 0) parts.push_back(plural(c.note, "note", "notes"));
  if (c.accepted > 0) parts.push_back(std::to_string(c.accepted) + " accepted");
  std::string text;
  for (const std::string& part : parts) text += (text.empty() ? "" : ", ") + part;
  return text;
}

std::string verdictSentence(const Report& report, const Counts& c) {
  const std::string counted = countsText(c);
  switch (report.verdict) {
    case Verdict::stop: return "Do not run this job as it is: " + counted + ".";
    case Verdict::look:
      return counted.empty() ? "Not all could be checked." : "Look before you run this job: " + counted + ".";
    case Verdict::note: return "Nothing found that speaks against running this job: " + counted + ".";
    case Verdict::clear: return "Nothing found that speaks against running this job" + (counted.empty() ? "." : ": " + counted + ".");
  }
  return {};
}

Ink inkOfVerdict(Verdict verdict) {
  switch (verdict) {
    case Verdict::stop: return Ink::stop;
    case Verdict::look: return Ink::look;
    case Verdict::note:
    case Verdict::clear: return Ink::good;
  }
  return Ink::plain;
}

// "0:05:12"
std::string clockText(double seconds) {
  if (!std::isfinite(seconds) || seconds < 0) return "?";
  const auto s = static_cast<long long>(std::llround(std::min(seconds, 1e12)));
  const auto two = [](long long n) { return std::string(n < 10 ? "0" : "").append(std::to_string(n)); };
  return std::to_string(s / 3600) + ":" + two(s / 60 % 60) + ":" + two(s % 60);
}

std::string volumeText(const Job& job, double mm3) {
  return job.inches ? fixedText(mm3 / (25.4 * 25.4 * 25.4), 2) + " in3" : fixedText(mm3 / 1000, 1) + " cm3";
}

std::string shortened(std::string name) {
  if (cellsOf(name) <= most_name_cells) return name;
  return excerptOf(name, {}, most_name_cells).text;
}

std::string toolsText(const Job& job, const ProgramFacts& p) {
  std::vector<int> tools;
  for (const Motion& m : p.program.motions) {
    if (std::find(tools.begin(), tools.end(), m.tool) == tools.end()) tools.push_back(m.tool);
  }
  std::string numbers;
  for (const int t : tools) numbers += (numbers.empty() ? "" : ", ") + std::to_string(t);
  const Tool* only = tools.size() == 1 ? findTool(job, tools.front()) : nullptr;
  return visibleText(only && !only->name.empty() ? numbers + " " + only->name : numbers);
}

using Row = std::array<std::string, 7>;
constexpr std::array<bool, 7> to_the_right{false, false, false, true, true, true, false};

Row programRow(const Report& report, std::size_t i, const std::string& setup) {
  const Facts& facts = *report.facts;
  const ProgramFacts& p = facts.programs[i];
  Counts counts;
  for (const Finding& f : report.findings) {
    if (f.program_order == static_cast<int>(i)) count(counts, f);
  }
  const std::string found = countsText(counts);
  Row row{setup, shortened(visibleText(p.entry->file)), shortened(toolsText(facts.job, p)), "", "", "",
          found.empty() ? (p.program.read_whole ? "clear" : "not read whole") : found};
  if (i < facts.run.programs.size()) {
    const ProgramRun& run = facts.run.programs[i];
    row[3] = clockText(run.time.total_s());
    row[4] = volumeText(facts.job, run.removed_mm3);
    row[5] = quantityText(facts.job, Quantity::length, run.deepest_below_top_mm);
  }
  return row;
}

void writePrograms(const Report& report, bool colour, std::ostream& out) {
  const Facts& facts = *report.facts;
  std::vector<Row> rows{{"setup", "program", "tool", "time", "removed", "deepest", "found"}};
  const Setup* setup = nullptr;
  double total_s = 0, total_mm3 = 0;
  for (std::size_t i = 0; i < facts.programs.size(); ++i) {
    const bool same = facts.programs[i].setup == setup;
    setup = facts.programs[i].setup;
    rows.push_back(programRow(report, i, same ? "" : shortened(visibleText(setup->name))));
    if (i < facts.run.programs.size()) {
      total_s += facts.run.programs[i].time.total_s();
      total_mm3 += facts.run.programs[i].removed_mm3;
    }
  }
  if (facts.programs.size() > 1) rows.push_back({"", "together", "", clockText(total_s), volumeText(facts.job, total_mm3), "", ""});

  std::array<std::size_t, 7> columns{};
  for (const Row& row : rows) {
    for (std::size_t c = 0; c < row.size(); ++c) columns[c] = std::max(columns[c], cellsOf(row[c]));
  }
  for (std::size_t r = 0; r < rows.size(); ++r) {
    std::string line;
    for (std::size_t c = 0; c < rows[r].size(); ++c) {
      if (columns[c] == 0) continue;
      line += "  " + (to_the_right[c] ? padLeft(rows[r][c], columns[c]) : padRight(rows[r][c], columns[c]));
    }
    line.erase(line.find_last_not_of(' ') + 1);
    out << painted(line, r == 0 ? Ink::faint : Ink::plain, colour) << '\n';
  }
}

std::string heldText(const Job& job, const Piece& piece) {
  if (piece.free) return "comes free: nothing holds it";
  std::vector<std::string> by;
  if (!piece.tabs.empty()) {
    const auto smallest = std::min_element(piece.tabs.begin(), piece.tabs.end(),
                                           [](const Tab& a, const Tab& b) { return a.area_mm2 < b.area_mm2; });
    by.push_back(plural(piece.tabs.size(), "tab", "tabs") + (piece.tabs.size() > 1 ? ", the smallest " : " of ") +
                 quantityText(job, Quantity::area, smallest->area_mm2));
  }
  for (const int h : piece.held_by_hold_downs) by.push_back(job.hold_downs[static_cast<std::size_t>(h)].name);
  if (piece.held_by_tape) by.push_back("tape");
  return "held by " + listText(by);
}

void writeParts(const Report& report, std::ostream& out) {
  const Facts& facts = *report.facts;
  std::size_t parts = 0;
  for (std::size_t i = 0; i < std::min(facts.run.programs.size(), facts.programs.size()); ++i) {
    const ProgramFacts& p = facts.programs[i];
    for (const Piece& piece : facts.run.programs[i].pieces) {
      if (++parts > most_parts) continue;
      if (parts == 1) out << "\n  parts\n";
      const std::uint32_t line = piece.move < p.program.motions.size() ? p.program.motions[piece.move].line : 0;
      const Vec3 size = piece.bounds.high - piece.bounds.low;
      const double factor = facts.job.inches ? 1 / 25.4 : 1;
      const int decimals = facts.job.inches ? 2 : 0;
      const std::string text = p.entry->file + " line " + std::to_string(line) + ": " + fixedText(size.x * factor, decimals) +
                               " x " + fixedText(size.y * factor, decimals) + (facts.job.inches ? " in, " : " mm, ") +
                               volumeText(facts.job, piece.volume_mm3) + ", " + heldText(facts.job, piece);
      for (const std::string& part : wrapped(visibleText(text), terminal_columns - 2, terminal_columns - 2)) {
        out << "  " << part << '\n';
      }
    }
  }
  if (parts > most_parts) out << "  and " << parts - most_parts << " more\n";
}

}  // namespace

void writeSummary(const Report& report, bool colour, std::ostream& out) {
  Counts counts;
  for (const Finding& f : report.findings) count(counts, f);
  const std::string name = visibleText(report.facts->job.name);
  const std::string sentence = (name.empty() ? "" : name + ": ") + verdictSentence(report, counts);
  for (const std::string& line : wrapped(sentence, terminal_columns, terminal_columns)) {
    out << painted(line, inkOfVerdict(report.verdict), colour) << '\n';
  }
  out << '\n';
  writePrograms(report, colour, out);
  writeParts(report, out);
  if (!report.not_checked.empty()) {
    out << '\n' << painted("  not checked", Ink::look, colour) << '\n';
    for (const std::string& what : report.not_checked) {
      for (const std::string& line : wrapped(what, terminal_columns - 2, terminal_columns - 2)) out << "  " << line << '\n';
    }
  }
  out << "\nA check is no guarantee: first run above the work, hand at the emergency stop, eyes and lungs protected.\n";
}

}  // namespace provecut
