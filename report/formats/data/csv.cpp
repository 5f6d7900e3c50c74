#include "report/formats/data/csv.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <ostream>
#include <string>
#include <string_view>

#include "report/base/visible_text.h"
#include "report/base/wording.h"

namespace provecut {

std::string_view kindName(MotionKind kind) {
  switch (kind) {
    case MotionKind::rapid:
      return "rapid";
    case MotionKind::feed:
      return "feed";
    case MotionKind::arc_cw:
      return "cw";
    case MotionKind::arc_ccw:
      return "ccw";
    case MotionKind::dwell:
      return "dwell";
    case MotionKind::probe:
      return "probe";
  }
  return {};
}

namespace {

std::string_view planeName(Plane plane) {
  switch (plane) {
    case Plane::xy:
      return "xy";
    case Plane::zx:
      return "zx";
    case Plane::yz:
      return "yz";
  }
  return {};
}

WorkPoint centreOf(const Motion& m) {
  switch (m.plane) {
    case Plane::xy:
      return {m.centre.x, m.centre.y, m.start.z};
    case Plane::zx:
      return {m.centre.y, m.start.y, m.centre.x};
    case Plane::yz:
      return {m.start.x, m.centre.x, m.centre.y};
  }
  return {};
}

// Rounded to a thousandth of the contact tolerance, so that 38.1 is not written as 38.099999999999994.
double shown(double value) {
  const double rounded = std::round(value * 1e9) / 1e9;
  if (!std::isfinite(rounded)) return value;
  return rounded == 0 ? 0 : rounded;  // never "-0"
}

template <typename Number>
void append(std::string& row, Number value) {
  std::array<char, 32> digits;
  const auto end = std::to_chars(digits.data(), digits.data() + digits.size(), value).ptr;
  row.append(digits.data(), end);
  row += ',';
}

void append(std::string& row, WorkPoint p) {
  append(row, shown(p.x));
  append(row, shown(p.y));
  append(row, shown(p.z));
}

// Text in quotes. What a spreadsheet would take for a formula gets an apostrophe before it (OWASP, "CSV Injection").
void appendText(std::string& row, std::string_view text) {
  row += '"';
  const std::string visible = visibleText(text);
  if (!visible.empty() && std::string_view("=+-@").find(visible.front()) != std::string_view::npos) row += '\'';
  for (const char c : visible) {
    if (c == '"') row += '"';
    row += c;
  }
  row += "\",";
}

}  // namespace

void writeMoves(const Program& program, std::ostream& out) {
  out << "line,kind,x0,y0,z0,x1,y1,z1,cx,cy,cz,plane,turns,feed,rpm,tool\n";
  std::string row;
  for (const Motion& m : program.motions) {
    row.clear();
    append(row, m.line);
    row.append(kindName(m.kind)).append(",");
    append(row, m.start);
    append(row, m.end);
    if (isArc(m)) {
      append(row, centreOf(m));
    } else {
      row += ",,,";
    }
    row.append(planeName(m.plane)).append(",");
    append(row, isArc(m) ? m.turns : std::uint16_t{0});
    append(row, m.feed_mm_min);
    append(row, m.rpm);
    append(row, m.tool);
    row.back() = '\n';
    out << row;
  }
}

void writeHits(const Facts& facts, std::ostream& out) {
  out << "setup,program,line,subject,tool,tool_part,motion,plunge,x,y,z,overlap_mm\n";
  std::string row;
  for (std::size_t i = 0; i < std::min(facts.programs.size(), facts.run.programs.size()); ++i) {
    const ProgramFacts& p = facts.programs[i];
    for (const Contact& c : facts.run.programs[i].contacts) {
      const Motion& m = p.program.motions[c.move];
      row.clear();
      appendText(row, p.setup->name);
      appendText(row, p.entry->file);
      append(row, m.line);
      appendText(row, facts.job.hold_downs[c.hold_down].name);
      append(row, m.tool);
      appendText(row, partText(facts.job, c.part, c.attachment));
      row.append(isArc(m) ? "arc," : m.kind == MotionKind::rapid ? "rapid," : "feed,");
      row.append(c.plunge ? "true," : "false,");
      append(row, c.entry);
      append(row, shown(c.overlap_mm));
      row.back() = '\n';
      out << row;
    }
  }
}

}  // namespace provecut
