#include "report/draft/draft_survey.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "sim/path/motion_extent.h"

namespace provecut::draft {

bool cutsAtKnownPlace(const Motion& m) {
  const auto finite = [](WorkPoint p) { return std::isfinite(p.x) && std::isfinite(p.y) && std::isfinite(p.z); };
  return moves(m) && m.kind != MotionKind::rapid && m.kind != MotionKind::probe &&
         (m.flags & (motion_machine_frame | motion_height_unknown)) == 0 && finite(m.start) && finite(m.end);
}

namespace {

void widen(double& low, double& high, double value) {
  if (value <= 0) return;
  low = low == 0 ? value : std::min(low, value);
  high = std::max(high, value);
}

bool straightDown(const Motion& m) {
  return !isArc(m) && m.end.z < m.start.z && m.start.x == m.end.x && m.start.y == m.end.y;
}

void note(ToolUse& use, const Motion& m) {
  widen(use.feed_low_mm_min, use.feed_high_mm_min, m.feed_mm_min);
  widen(use.rpm_low, use.rpm_high, m.rpm);
  use.deepest_mm = std::min(use.deepest_mm, lowestZ(m));
  if (straightDown(m)) use.plunge_mm_min = std::max(use.plunge_mm_min, double{m.feed_mm_min});
  use.sideways = use.sideways || m.start.x != m.end.x || m.start.y != m.end.y || isArc(m);
}

// Where the stock is in a program's Z, as far as its moves tell.
struct Ground {
  bool zero_on_bottom = false;
  double air_from = 0;  // feed moves at this height and above are in the air
};

// Length of level feed moves between work zero and the air less that at or below zero.
double levelLengthAboveZero(const Program& program, double air_from) {
  constexpr double level_mm = 0.01;
  double above = 0;
  for (const Motion& m : program.motions) {
    if (!cutsAtKnownPlace(m) || std::abs(m.end.z - m.start.z) > level_mm || m.end.z >= air_from) continue;
    const double run = length(flat(m.end - m.start));
    above += m.end.z > level_mm ? run : -run;
  }
  return above;
}

// Zero is on the stock's underside where everything is cut above it, and on its top where something is cut well below
// it. Between the two, through cuts go a little below an underside: there the longer way decides.
Ground groundOf(const Program& program) {
  constexpr double through_mm = 1, at_zero_mm = 1e-6;
  const double none = std::numeric_limits<double>::infinity();
  double lowest = none, clear = -none;
  for (const Motion& m : program.motions) {
    if (cutsAtKnownPlace(m)) lowest = std::min(lowest, lowestZ(m));
    const bool sideways = m.start.x != m.end.x || m.start.y != m.end.y;
    const bool known = (m.flags & (motion_machine_frame | motion_height_unknown | motion_start_unknown)) == 0;
    if (m.kind == MotionKind::rapid && sideways && known && std::isfinite(m.end.z)) clear = std::max(clear, m.end.z);
  }
  Ground ground{false, clear > lowest + at_zero_mm ? clear - at_zero_mm : none};
  ground.zero_on_bottom = lowest > 0.05 && lowest < none;
  if (!ground.zero_on_bottom && lowest >= -through_mm && lowest < none)
    ground.zero_on_bottom = levelLengthAboveZero(program, ground.air_from) > 0;
  if (!ground.zero_on_bottom && lowest < -at_zero_mm) ground.air_from = -at_zero_mm;
  return ground;
}

bool cutsStock(const Motion& m, const Ground& ground) {
  return cutsAtKnownPlace(m) && lowestZ(m) < ground.air_from;
}

// Number in the draft for a program that names no tool: its comment's, one that is described alike, or a free
// one.
int unnamedTool(Survey& survey, const std::vector<Described>& described) {
  if (!described.empty() && described.front().comment.number) return *described.front().comment.number;
  ToolGuess own;
  describe(own, described, 0);
  const auto alike = [&](const ToolGuess& t) {
    return !t.numbered && t.diameter_known == own.diameter_known && t.diameter_mm == own.diameter_mm &&
           t.shape_known == own.shape_known && t.shape == own.shape;
  };
  for (const auto& [number, tool] : survey.tools) {
    if (alike(tool)) return number;
  }
  int number = 1;
  while (survey.tools.count(number)) ++number;
  ToolGuess& tool = survey.tools[number];
  tool.numbered = false;
  describe(tool, described, 0);
  return number;
}

// Where the tip is for certain while it makes the move.
WorkBox extentOf(const Motion& m) {
  WorkBox box;
  if ((m.flags & motion_start_unknown) != 0) {
    box.add(m.end);
  } else {
    box = motionExtent(m);
  }
  const bool finite = !box.empty && std::isfinite(box.low.x + box.low.y + box.low.z) &&
                      std::isfinite(box.high.x + box.high.y + box.high.z);
  return finite ? box : WorkBox{};
}

// A stretch of feed moves between two rapids, as the extents of its moves sideways.
struct Stretch {
  int tool = 0;
  std::vector<WorkBox> level;  // in order
  std::vector<WorkPoint2> at;  // before the first of them, and after each
  WorkBox down;                // of its moves straight up and down
};

struct Leads {
  std::size_t in = 0, out = 0;  // moves
};

// A way that comes back to a point goes round something: what is before the first such point leads in, what is after
// the last one leads out.
std::optional<Leads> leadsOfLoop(const Stretch& s) {
  constexpr std::size_t most = 60, fewest_round = 3;
  constexpr double same_mm = 0.02;
  const std::size_t last = s.level.size();
  const auto same = [&](std::size_t i, std::size_t j) { return length(s.at[i] - s.at[j]) < same_mm; };
  const auto comesBackTo = [&](std::size_t i) {
    for (std::size_t j = i + fewest_round; j <= last; ++j) {
      if (same(i, j)) return true;
    }
    return false;
  };
  const auto hasBeenAt = [&](std::size_t j) {
    for (std::size_t i = 0; i + fewest_round <= j; ++i) {
      if (same(i, j)) return true;
    }
    return false;
  };
  Leads leads;
  while (leads.in <= std::min(most, last) && !comesBackTo(leads.in)) ++leads.in;
  while (leads.out <= std::min(most, last) && !hasBeenAt(last - leads.out)) ++leads.out;
  if (leads.in > std::min(most, last) || leads.out > std::min(most, last)) return std::nullopt;
  return leads;
}

// Elsewhere the way down to its depth and up again at its ends leads in and out, and a move or two beside it.
Leads usualLeads(const Stretch& s) {
  constexpr double level_mm = 1e-3;
  const std::size_t n = s.level.size(), most = n / 4, beside = n >= 8 ? 2 : n >= 4 ? 1 : 0;
  WorkBox all;
  for (const WorkBox& b : s.level) all.add(b);
  Leads ramps;
  while (ramps.in < n && s.level[ramps.in].low.z > all.low.z + level_mm) ++ramps.in;
  while (ramps.out < n && s.level[n - 1 - ramps.out].low.z > all.low.z + level_mm) ++ramps.out;
  return {(ramps.in <= most ? ramps.in : 0) + beside, (ramps.out <= most ? ramps.out : 0) + beside};
}

// What of it is a cut for certain: its ends may only lead into it and out of it.
WorkBox coreOf(const Stretch& s) {
  const std::size_t n = s.level.size();
  const Leads leads = leadsOfLoop(s).value_or(usualLeads(s));
  WorkBox box;
  for (std::size_t i = leads.in; i + leads.out < n; ++i) box.add(s.level[i]);
  if (leads.in + leads.out == 0) box.add(s.down);
  return box;
}

std::vector<Stretch> stretchesOf(const Program& program, const Ground& ground) {
  std::vector<Stretch> all;
  bool open = false;
  for (const Motion& m : program.motions) {
    if (!cutsStock(m, ground)) {
      open = open && m.kind == MotionKind::dwell;
      continue;
    }
    if (!open || m.tool != all.back().tool) all.push_back({m.tool, {}, {}, {}});
    open = true;
    const bool sideways = m.start.x != m.end.x || m.start.y != m.end.y || isArc(m);
    const WorkBox box = extentOf(m);
    if (box.empty) continue;
    if (sideways) {
      if (all.back().at.empty()) all.back().at.push_back({m.start.x, m.start.y});
      all.back().level.push_back(box);
      all.back().at.push_back({m.end.x, m.end.y});
    } else {
      all.back().down.add(box);
    }
  }
  return all;
}

// Facing runs over the stock's edges; it says where they are only if nothing else is cut.
bool faces(const ToolGuess& tool) {
  constexpr double wide_mm = 20;
  const bool flat = tool.shape == ToolShape::surfacing || tool.shape == ToolShape::flat;
  return flat && tool.diameter_known && (tool.shape == ToolShape::surfacing || tool.diameter_mm >= wide_mm);
}

void findCore(Survey& survey, ProgramSurvey& s, const Program& program) {
  const std::vector<Stretch> stretches = stretchesOf(program, groundOf(program));
  const auto toolOf = [&](const Stretch& stretch) -> const ToolGuess& {
    return survey.tools[stretch.tool > 0 ? stretch.tool : s.first_tool];
  };
  for (const bool facing_counts : {false, true}) {
    if (!s.core.empty) return;
    for (const Stretch& stretch : stretches) {
      const bool faced = faces(toolOf(stretch));
      if (faced && !facing_counts) continue;
      s.core.add(coreOf(stretch));
      if (!faced) s.core_radius_mm = std::max(s.core_radius_mm, cutRadius_mm(toolOf(stretch)));
    }
  }
}

std::vector<WorkPoint2> holesOf(const Program& program) {
  constexpr double same_mm = 0.01;
  constexpr std::size_t most = 500;
  std::vector<WorkPoint2> holes;
  for (std::size_t i = 0; i < program.motions.size() && holes.size() < most; ++i) {
    const Motion& m = program.motions[i];
    if (!cutsAtKnownPlace(m) || !straightDown(m)) continue;
    const bool goes_up = i + 1 == program.motions.size() || program.motions[i + 1].end.z > m.end.z;
    const WorkPoint2 at{m.end.x, m.end.y};
    const bool known = std::any_of(holes.begin(), holes.end(), [&](WorkPoint2 h) { return length(h - at) < same_mm; });
    if (goes_up && !known) holes.push_back(at);
  }
  return holes;
}

// "T0101" calls tool 1 with offset 1: comments speak of tool 1.
int withoutOffset(int number) {
  return number >= 100 && number / 100 == number % 100 ? number % 100 : number;
}

void describeNumbered(ToolGuess& tool, const std::vector<Described>& described, int number) {
  describe(tool, described, number);
  if (withoutOffset(number) != number) describe(tool, described, withoutOffset(number));
}

// Tools that are called and moved, whether or not they reach the stock as it is guessed here: facing at Z zero does
// not.
void surveyCalledTools(Survey& survey, ProgramSurvey& s, const Program& program,
                       const std::vector<Described>& described) {
  int last = 0;
  for (const Motion& m : program.motions) {
    if (m.tool < 1 || !cutsAtKnownPlace(m)) continue;
    ToolGuess& tool = survey.tools[m.tool];
    if (m.tool != last) {
      describeNumbered(tool, described, m.tool);
      if (s.first_tool == 0) {
        s.first_tool = m.tool;
        s.names_tool = true;
      } else {
        ++s.later_tools;
      }
    }
    last = m.tool;
    if (lowestZ(m) <= 0) note(tool.use, m);
  }
}

void surveySettings(ProgramSurvey& s, const Program& program) {
  s.lines = program.lines;
  s.states_unit = program.modal.units_set;
  if (program.modal.ever_inch != program.modal.ever_mm) s.inches = program.modal.ever_inch;
  s.looks_like_inches = !s.states_unit && onlyInInches(program);
  s.stock_moved = movedStock(program);
  for (const Problem& p : program.problems) {
    if (p.kind != ProblemKind::work_offset_unknown || p.facts.empty()) continue;
    if (const auto* name = std::get_if<fact::Code>(p.facts.data())) s.offsets.push_back(name->text);
  }
  for (const Motion& m : program.motions) {
    if (!moves(m) || m.kind == MotionKind::rapid) continue;
    s.starts_anywhere = (!s.cuts || s.starts_anywhere) && (m.flags & motion_start_unknown) != 0;
    s.cuts = true;
    s.starts_spindle = s.starts_spindle || m.spindle != Spindle::off;
    s.says_speed = s.says_speed || m.rpm > 0;
  }
}

void surveyProgram(Survey& survey, const Program& program) {
  ProgramSurvey& s = survey.programs.emplace_back();
  surveySettings(s, program);
  const std::vector<Described> described = describedTools(program);
  surveyCalledTools(survey, s, program, described);
  const Ground ground = groundOf(program);
  s.cuts_above_zero = ground.zero_on_bottom && !s.starts_anywhere;
  int unnamed = 0;
  bool first = true;
  for (const Motion& m : program.motions) {
    if (!cutsStock(m, ground)) continue;
    if (m.tool < 1 && unnamed == 0) {
      unnamed = unnamedTool(survey, described);
      describe(survey.tools[unnamed], described, 0);
      describe(survey.tools[unnamed], described, unnamed);
    }
    if (m.tool < 1 && first) {
      if (s.names_tool) ++s.later_tools;
      s.first_tool = unnamed;
      s.names_tool = false;
    }
    first = false;
    note(survey.tools[m.tool < 1 ? unnamed : m.tool].use, m);
    widen(survey.rpm_low, survey.rpm_high, m.rpm);
    s.cut.add(extentOf(m));
    if (std::abs(m.end.z - m.start.z) < 0.01) s.highest_level_mm = std::max(s.highest_level_mm, m.end.z);
  }
  if (s.starts_anywhere && !s.cut.empty) {  // taken to start at the top of the stock
    s.cut.low.z -= s.cut.high.z;
    s.cut.high.z = 0;
  }
  s.holes = holesOf(program);
  survey.cut.add(s.cut);
}

// With zero on the underside the top is as high as the stock is thick: flutes have to reach down from there.
void lengthenFlutes(Survey& survey, std::span<const DraftProgram> programs) {
  for (const SetupGuess& setup : survey.setups) {
    if (!setup.zero_on_bottom) continue;
    for (const std::size_t i : setup.programs) {
      for (const Motion& m : programs[i].program->motions) {
        if (!cutsAtKnownPlace(m)) continue;
        ToolGuess& tool = survey.tools[m.tool > 0 ? m.tool : survey.programs[i].first_tool];
        const double depth = std::min(survey.stock.size_mm.z - lowestZ(m), 1000.0);
        tool.long_enough_mm = std::max(tool.long_enough_mm, longEnough_mm(depth, survey.inches));
      }
    }
  }
}

}  // namespace

Survey surveyPrograms(std::span<const DraftProgram> programs) {
  Survey survey;
  survey.inches = !programs.empty() &&
                  std::all_of(programs.begin(), programs.end(), [](const auto& p) { return inInches(*p.program); });
  // Programs that name their tools first: the others get numbers that are free.
  for (const DraftProgram& p : programs) {
    bool cuts = false;
    for (const Motion& m : p.program->motions) {
      if (!cutsAtKnownPlace(m)) continue;
      cuts = true;
      if (m.tool > 0) survey.tools[m.tool];
    }
    if (cuts) continue;
    for (const Event& e : p.program->events) {
      if (e.kind == EventKind::tool_change && e.value >= 1) survey.tools[static_cast<int>(e.value)];
    }
  }
  for (const DraftProgram& p : programs) surveyProgram(survey, *p.program);
  if (survey.tools.empty()) survey.tools[1].numbered = false;
  for (auto& [number, tool] : survey.tools) fillGuess(tool, survey.inches);
  for (std::size_t i = 0; i < programs.size(); ++i) findCore(survey, survey.programs[i], *programs[i].program);
  survey.setups = guessSetups(programs, survey.programs);
  survey.stock = guessStock(programs, survey, survey.setups);
  lengthenFlutes(survey, programs);
  return survey;
}

}  // namespace provecut::draft
