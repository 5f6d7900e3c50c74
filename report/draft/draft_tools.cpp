// Tools as comments describe them.
#include <algorithm>
#include <cmath>
#include <numbers>

#include "parser/base/units.h"
#include "report/base/comment_tokens.h"
#include "report/draft/draft_survey.h"

namespace provecut::draft {

namespace {

constexpr double least_mm = 0.01, max_mm = 500;

bool isSize(const std::optional<double>& mm) {
  return mm && *mm >= least_mm && *mm <= max_mm;
}

// Nobody has a bit of 0.03 mm: a program that states no unit means inches there.
bool meansInches(const Program& program, const ToolComment& read_in_its_unit) {
  constexpr double smallest_bit_mm = 0.05;
  return !program.modal.units_set && read_in_its_unit.diameter_mm && *read_in_its_unit.diameter_mm < smallest_bit_mm;
}

ToolComment commentOf(const Program& program, const std::string& text) {
  const ToolComment comment = readToolComment(text, inInches(program));
  return meansInches(program, comment) ? readToolComment(text, true) : comment;
}

// "T4 (drill diameter of what follows)": some write the size where the number belongs.
bool numberIsDiameter(const Program& program, const Event& comment) {
  const std::string plain = plainComment(comment.text);
  if (plain.find_first_of("0123456789") != std::string::npos) return false;
  const std::string_view text = std::string_view(plain).substr(std::min(plain.find_first_not_of(' '), plain.size()));
  const bool begins_so = text.starts_with("drill diameter") || text.starts_with("tool diameter") ||
                         text.starts_with("bit diameter") || text.starts_with("cutter diameter");
  return begins_so && std::any_of(program.events.begin(), program.events.end(), [&](const Event& e) {
           return e.kind == EventKind::tool_change && e.place.line == comment.place.line;
         });
}

bool describes(const ToolComment& c) {
  if (c.diameter_mm || c.tip_diameter_mm || (c.shape && c.angle_deg)) return true;
  return c.shape && (c.number || (c.names_tool && c.shape_named));
}

// "This file uses 6 drill bit sizes."
bool speaksOfManyTools(std::string_view text, const ToolComment& comment) {
  return !comment.diameter_mm && !comment.number && plainComment(text).find("sizes") != std::string::npos;
}

void takeShape(ToolGuess& tool, const ToolComment& c) {
  if (tool.shape_known || !c.shape) return;
  tool.shape = *c.shape;
  tool.shape_known = true;
  tool.corner_radius_mm = c.corner_radius_mm.value_or(0);
  // A vee's: half its angle, if that is what the exporter means by it.
  tool.taper_deg = c.taper_deg && *c.taper_deg > 0 && *c.taper_deg < 90 ? *c.taper_deg : 0;
}

void describeBy(ToolGuess& tool, const Described& d) {
  const ToolComment& c = d.comment;
  if (tool.comment.empty()) tool.comment = d.text;
  if (!tool.diameter_known && isSize(c.diameter_mm)) {
    tool.diameter_mm = *c.diameter_mm;
    tool.diameter_known = true;
  }
  takeShape(tool, c);
  const auto take = [](double& known, const std::optional<double>& said) {
    if (known == 0 && isSize(said)) known = *said;
  };
  take(tool.tip_diameter_mm, c.tip_diameter_mm);
  take(tool.flute_length_mm, c.flute_length_mm);
  take(tool.overall_length_mm, c.overall_length_mm);
  take(tool.shank_diameter_mm, c.shank_diameter_mm);
  if (tool.flutes == 0) tool.flutes = c.flutes.value_or(0);
  const double angle = c.angle_deg.value_or(0);
  if (tool.angle_deg == 0 && angle >= 1 && angle < 180) tool.angle_deg = angle;
}

}  // namespace

bool inInches(const Program& p) {
  return p.modal.ever_inch && !p.modal.ever_mm;
}

bool onlyInInches(const Program& program) {
  return std::any_of(program.events.begin(), program.events.end(), [&](const Event& e) {
    return e.kind == EventKind::comment_tool && meansInches(program, readToolComment(e.text, false));
  });
}

std::vector<Described> describedTools(const Program& program) {
  std::vector<Described> all;
  for (const Event& e : program.events) {
    if (e.kind != EventKind::comment_tool) continue;
    Described d{0, commentOf(program, e.text), e.text};
    if (d.comment.number) {
      d.number = *d.comment.number;
    } else if (!program.motions.empty()) {
      d.number = program.motions[std::min<std::size_t>(e.before_motion, program.motions.size() - 1)].tool;
    }
    if (d.comment.drill_number == d.number) d.comment.diameter_mm.reset();
    if (numberIsDiameter(program, e)) d.comment.diameter_mm = d.number * (inInches(program) ? mm_per_inch : 1);
    if (!describes(d.comment) || speaksOfManyTools(e.text, d.comment)) continue;
    all.push_back(std::move(d));
  }
  return all;
}

void describe(ToolGuess& tool, const std::vector<Described>& all, int number) {
  for (const bool numbered : {true, false}) {
    for (const Described& d : all) {
      if (d.number == number && d.comment.number.has_value() == numbered) describeBy(tool, d);
    }
  }
}

double cutRadius_mm(const ToolGuess& tool) {
  constexpr double unknown_mm = 0.5;
  if (!tool.diameter_known) return unknown_mm;
  const double radius = tool.diameter_mm / 2, depth = std::max(0.0, -tool.use.deepest_mm);
  const double half_deg = tool.taper_deg > 0 ? tool.taper_deg : tool.angle_deg / 2;
  if (tool.shape != ToolShape::vee || half_deg <= 0 || half_deg >= 90) return radius;
  return std::min(radius, tool.tip_diameter_mm / 2 + depth * std::tan(half_deg * std::numbers::pi / 180));
}

double longEnough_mm(double depth_mm, bool inches) {
  constexpr double eighth_mm = mm_per_inch / 8;
  const double length_mm = std::max(depth_mm + 1, 1.0);
  return inches ? std::ceil(length_mm / eighth_mm - 1e-6) * eighth_mm : std::ceil(length_mm - 1e-6);
}

void fillGuess(ToolGuess& tool, bool inches) {
  const bool tapered = tool.tip_diameter_mm > 0;
  if (!tool.diameter_known) tool.diameter_mm = std::max(inches ? 6.35 : 6.0, tapered ? 2 * tool.tip_diameter_mm : 0);
  const double radius = tool.diameter_mm / 2;
  const bool no_bull = tool.corner_radius_mm < least_mm || tool.corner_radius_mm > radius;
  if (tool.shape == ToolShape::bull && no_bull) {
    tool.shape = ToolShape::flat;
    tool.shape_known = false;
  }
  // What only goes straight down is most often a drill.
  if (!tool.shape_known && tool.use.plunge_mm_min > 0 && !tool.use.sideways) tool.shape = ToolShape::drill;
  if (tool.shape == ToolShape::vee && tapered && tool.taper_deg > 0) tool.angle_deg = 2 * tool.taper_deg;
  // Long enough for the programs' own depth: a shorter one would be news to their author.
  const double depth = std::min(std::max(0.0, -tool.use.deepest_mm), 1000.0);
  double usual = tool.shape == ToolShape::surfacing ? 10 : 3 * tool.diameter_mm;
  const double half_deg = tool.angle_deg > 0 ? tool.angle_deg / 2 : tool.taper_deg > 0 ? tool.taper_deg : 30;
  if (tool.shape == ToolShape::vee && half_deg < 89)  // as high as its cone
    usual = std::ceil((tool.diameter_mm - tool.tip_diameter_mm) / 2 / std::tan(half_deg * std::numbers::pi / 180));
  tool.long_enough_mm = std::max(longEnough_mm(usual - 1, inches), longEnough_mm(depth, inches));
}

}  // namespace provecut::draft
