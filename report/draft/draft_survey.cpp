#include "report/draft/draft_survey.h"

#include <algorithm>
#include <cmath>

#include "report/base/tool_comment.h"
#include "sim/path/motion_extent.h"

namespace provecut::draft {

namespace {

bool cuts(const Motion& m) {
  return moves(m) && m.kind != MotionKind::rapid && m.kind != MotionKind::probe &&
         (m.flags & (motion_machine_frame | motion_height_unknown)) == 0;
}

bool finite(WorkPoint p) {
  return std::isfinite(p.x) && std::isfinite(p.y) && std::isfinite(p.z);
}

bool inInches(const Program& p) {
  return p.modal.ever_inch && !p.modal.ever_mm;
}

void widen(double& low, double& high, double value) {
  if (value <= 0) return;
  low = low == 0 ? value : std::min(low, value);
  high = std::max(high, value);
}

void note(ToolUse& use, const Motion& m) {
  widen(use.feed_low_mm_min, use.feed_high_mm_min, m.feed_mm_min);
  widen(use.rpm_low, use.rpm_high, m.rpm);
  use.deepest_mm = std::min(use.deepest_mm, lowestZ(m));
  const bool straight_down = !isArc(m) && m.end.z < m.start.z && m.start.x == m.end.x && m.start.y == m.end.y;
  if (straight_down) use.plunge_mm_min = std::max(use.plunge_mm_min, double{m.feed_mm_min});
}

// A tool as one comment describes it, for the number that it has or that is in the spindle right after it.
struct Described {
  int number = 0;
  ToolComment comment;
  std::string text;
};

std::vector<Described> describedTools(const Program& program) {
  std::vector<Described> all;
  for (const Event& e : program.events) {
    if (e.kind != EventKind::comment_tool) continue;
    Described d{0, readToolComment(e.text, inInches(program)), e.text};
    if (!d.comment.diameter_mm && !(d.comment.number && d.comment.shape)) continue;
    if (d.comment.number) {
      d.number = *d.comment.number;
    } else if (!program.motions.empty()) {
      d.number = program.motions[std::min<std::size_t>(e.before_motion, program.motions.size() - 1)].tool;
    }
    all.push_back(std::move(d));
  }
  return all;
}

void describe(ToolGuess& tool, const Described& d) {
  constexpr double least_mm = 0.01, max_mm = 500;
  const double diameter = d.comment.diameter_mm.value_or(0);
  const bool sized = diameter >= least_mm && diameter <= max_mm;
  if (tool.diameter_known || (!sized && tool.shape_known)) return;
  tool.comment = d.text;
  tool.diameter_known = sized;
  if (sized) tool.diameter_mm = diameter;
  tool.shape = d.comment.shape.value_or(ToolShape::flat);
  tool.shape_known = d.comment.shape.has_value();
  tool.corner_radius_mm = d.comment.corner_radius_mm.value_or(0);
  const bool no_bull = tool.corner_radius_mm < least_mm || tool.corner_radius_mm > tool.diameter_mm / 2;
  if (tool.shape == ToolShape::bull && no_bull) {
    tool.shape = ToolShape::flat;
    tool.shape_known = false;
  }
  const double angle = d.comment.angle_deg.value_or(0);
  tool.angle_deg = angle >= 1 && angle < 180 ? angle : 0;
}

// Comments that give the number themselves come first: the others only stand near a tool's moves.
void describe(ToolGuess& tool, const std::vector<Described>& all, int number) {
  for (const bool numbered : {true, false}) {
    for (const Described& d : all) {
      if (d.number == number && d.comment.number.has_value() == numbered) describe(tool, d);
    }
  }
}

void fillGuess(ToolGuess& tool, bool inches) {
  if (!tool.diameter_known) tool.diameter_mm = inches ? 6.35 : 6;
  // Long enough for the programs' own depth: a shorter one would be news to their author.
  const double depth = std::min(std::max(0.0, -tool.use.deepest_mm), 1000.0);
  tool.flute_length_mm = std::max({3 * tool.diameter_mm, std::ceil(depth + 1), 1.0});
}

// Number in the draft for a program that names no tool: its comment's, one that is described alike, or a free
// one.
int unnamedTool(Survey& survey, const std::vector<Described>& described) {
  if (!described.empty() && described.front().comment.number) return *described.front().comment.number;
  const double diameter = described.empty() ? 0 : described.front().comment.diameter_mm.value_or(0);
  for (const auto& [number, tool] : survey.tools) {
    const bool alike = described.empty() ? !tool.diameter_known : tool.diameter_known && tool.diameter_mm == diameter;
    if (!tool.numbered && alike) return number;
  }
  int number = 1;
  while (survey.tools.count(number)) ++number;
  ToolGuess& tool = survey.tools[number];
  tool.numbered = false;
  if (!described.empty()) describe(tool, described.front());
  return number;
}

void surveyProgram(Survey& survey, const Program& program) {
  ProgramSurvey& s = survey.programs.emplace_back();
  s.lines = program.lines;
  if (program.modal.ever_inch != program.modal.ever_mm) s.inches = program.modal.ever_inch;
  const std::vector<Described> described = describedTools(program);
  int unnamed = 0, last = 0;
  for (const Motion& m : program.motions) {
    if (!cuts(m) || !finite(m.start) || !finite(m.end)) continue;
    int number = m.tool;
    if (number < 1 && unnamed == 0) unnamed = unnamedTool(survey, described);
    if (number < 1) number = unnamed;
    const bool fresh = number != last;
    if (s.first_tool == 0) {
      s.first_tool = number;
      s.names_tool = m.tool > 0;
    } else if (fresh) {
      ++s.later_tools;
    }
    last = number;
    ToolGuess& tool = survey.tools[number];
    if (fresh) describe(tool, described, m.tool > 0 ? number : 0);
    note(tool.use, m);
    WorkBox box;
    if ((m.flags & motion_start_unknown) != 0) {
      box.add(m.end);
    } else {
      box = motionExtent(m);
    }
    if (!box.empty && finite(box.low) && finite(box.high)) s.cut.add(box);
  }
  survey.cut.add(s.cut);
}

// Length of level feed moves above work zero less that at or below it: programs with Z zero on the bottom cut
// above it.
double levelLengthAboveZero(const Program& program) {
  constexpr double level_mm = 0.01;
  double above = 0;
  for (const Motion& m : program.motions) {
    if (!cuts(m) || std::abs(m.end.z - m.start.z) > level_mm || !finite(m.start) || !finite(m.end)) continue;
    const double run = length(flat(m.end - m.start));
    above += m.end.z > level_mm ? run : -run;
  }
  return above;
}

// From the tip's extent along one axis: work zero and the stock's size.
double guessAxis(double low, double high, double radius, double margin, const char* low_word, ZeroGuess& zero) {
  const double width = high - low;
  const bool about_zero = low < 0 && high > 0 && std::abs(low + high) < 0.02 * width;
  if (about_zero) {
    zero = {"center", 0};
    return width + 2 * (radius + margin);
  }
  if (low >= 0) {
    zero = {low_word, 0};
    return high + std::max(low, radius);  // as much beyond the cut on the far side as on this one
  }
  zero = {"", radius + margin - low};
  return width + 2 * (radius + margin);
}

StockGuess guessStock(const Survey& survey) {
  const double margin = survey.inches ? 12.7 : 10;
  StockGuess stock;
  if (survey.cut.empty) {
    stock.size_mm = survey.inches ? Vec3{101.6, 101.6, 12.7} : Vec3{100, 100, 12};
    stock.zero_x = {"left", 0};
    stock.zero_y = {"front", 0};
    stock.zero_z = {"top", 0};
    return stock;
  }
  double radius = 0;
  for (const auto& [number, tool] : survey.tools) radius = std::max(radius, tool.diameter_mm / 2);
  const WorkPoint low = survey.cut.low, high = survey.cut.high;
  stock.size_mm.x = guessAxis(low.x, high.x, radius, margin, "left", stock.zero_x);
  stock.size_mm.y = guessAxis(low.y, high.y, radius, margin, "front", stock.zero_y);
  stock.zero_z = {survey.zero_on_bottom ? "bottom" : "top", 0};
  stock.size_mm.z = survey.zero_on_bottom ? high.z : -low.z;
  constexpr double least_mm = 1, max_mm = 50'000, max_thickness_mm = 2000;
  stock.size_mm = {std::clamp(stock.size_mm.x, least_mm, max_mm), std::clamp(stock.size_mm.y, least_mm, max_mm),
                   std::clamp(stock.size_mm.z, least_mm, max_thickness_mm)};
  for (ZeroGuess* zero : {&stock.zero_x, &stock.zero_y})
    zero->from_corner_mm = std::clamp(zero->from_corner_mm, -max_mm, max_mm);
  return stock;
}

}  // namespace

Survey surveyPrograms(std::span<const DraftProgram> programs) {
  Survey survey;
  survey.inches = !programs.empty() &&
                  std::all_of(programs.begin(), programs.end(), [](const auto& p) { return inInches(*p.program); });
  // Programs that name their tools first: the others get numbers that are free.
  for (const DraftProgram& p : programs) {
    for (const Motion& m : p.program->motions) {
      if (cuts(m) && m.tool > 0) survey.tools[m.tool];
    }
  }
  for (const DraftProgram& p : programs) surveyProgram(survey, *p.program);
  if (survey.tools.empty()) survey.tools[1].numbered = false;
  for (auto& [number, tool] : survey.tools) fillGuess(tool, survey.inches);
  for (std::size_t i = 0; i < programs.size(); ++i) {
    survey.programs[i].cuts_above_zero = levelLengthAboveZero(*programs[i].program) > 0;
  }
  // The first that cuts decides: a job begins with the front.
  const auto first =
      std::find_if(survey.programs.begin(), survey.programs.end(), [](const auto& p) { return !p.cut.empty; });
  survey.zero_on_bottom = first != survey.programs.end() && first->cuts_above_zero;
  survey.stock = guessStock(survey);
  return survey;
}

}  // namespace provecut::draft
