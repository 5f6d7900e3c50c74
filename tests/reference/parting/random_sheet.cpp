#include "tests/reference/parting/random_sheet.h"

#include <algorithm>
#include <cmath>

#include "tests/reference/parting/cutter.h"
#include "tests/reference/parting/dice.h"
#include "tests/reference/parting/outlines.h"
#include "tests/reference/parting/paths.h"

namespace provecut::reference {
namespace {

enum class Hold { in_waste, in_part, in_both, tape, clamps, none };

struct Recipe {
  Layout layout = Layout::grid;
  ShapeForm shape = ShapeForm::any;
  Form form = Form::flat;
  Entry entry = Entry::plunge;
  TabForm tabs = TabForm::none;
  Hold hold = Hold::in_waste;
  double tab_chance = 0.75;  // that an outline has tabs, where a sheet has any
  double short_chance = 0;   // that an outline stays above the spoilboard
  bool inside_first = false;
  bool ramp_without_finish = false;
  bool tabs_cut_later = false;
  bool rough_first = false;
  bool leave = false;  // some hold-downs are gone in the second program
  bool two_faces = false;
  bool mill_hold = false;  // the tape under the first shape, or the screw in the last, is milled away
  bool mill_block = false;
};

// What any sheet may have, whatever its kind.
Recipe plainRecipe(Dice& dice) {
  Recipe r;
  r.layout = dice.pick({Layout::grid, Layout::grid, Layout::nested, Layout::islands});
  if (dice.chance(0.25)) r.form = dice.pick({Form::ball, Form::bull, Form::vee, Form::taper_ball, Form::drill});
  r.entry = dice.pick({Entry::plunge, Entry::plunge, Entry::plunge, Entry::ramp, Entry::lead_in});
  if (dice.chance(0.2)) r.tabs = dice.pick({TabForm::lifted, TabForm::ramped, TabForm::triangular});
  r.hold =
      dice.pick({Hold::in_waste, Hold::in_waste, Hold::in_both, Hold::in_part, Hold::tape, Hold::clamps, Hold::none});
  r.short_chance = dice.chance(0.2) ? 0.3 : 0;
  r.inside_first = dice.chance(0.5);
  return r;
}

void shapeRecipe(Recipe& r, SheetKind kind) {
  switch (kind) {
    case SheetKind::nested_inside_out:
    case SheetKind::nested_outside_in:
      r.layout = Layout::nested;
      r.inside_first = kind == SheetKind::nested_inside_out;
      break;
    case SheetKind::islands:
      r.layout = Layout::islands;
      break;
    case SheetKind::stars:
      r.shape = ShapeForm::star;
      break;
    case SheetKind::slots:
      r.layout = Layout::slots;
      r.tabs = TabForm::none;
      if (r.entry == Entry::lead_in) r.entry = Entry::plunge;
      break;
    case SheetKind::level_passes:
      r.entry = Entry::plunge;
      break;
    case SheetKind::ramped_passes:
    case SheetKind::helical_passes:
      r.entry = Entry::ramp;
      r.tabs = TabForm::none;
      if (kind == SheetKind::helical_passes) r.shape = ShapeForm::round;
      break;
    case SheetKind::lead_ins:
      r.entry = Entry::lead_in;
      break;
    default:
      break;
  }
}

void depthRecipe(Recipe& r, SheetKind kind, Dice& dice) {
  switch (kind) {
    case SheetKind::lifted_tabs:
      r.tabs = TabForm::lifted;
      break;
    case SheetKind::ramped_tabs:
      r.tabs = TabForm::ramped;
      break;
    case SheetKind::triangular_tabs:
      r.tabs = TabForm::triangular;
      break;
    case SheetKind::onion_skin:
      r.short_chance = 0.85;
      break;
    case SheetKind::depth_short:
      r.short_chance = 0.5;
      break;
    case SheetKind::depth_beyond:
      r.short_chance = 0;
      r.tabs = TabForm::none;
      break;
    case SheetKind::tabs_cut_later:
      r.tabs = dice.pick({TabForm::lifted, TabForm::ramped, TabForm::triangular});
      r.tabs_cut_later = true;
      r.short_chance = 0;
      break;
    case SheetKind::rough_then_finish:
      r.rough_first = true;
      break;
    case SheetKind::two_faces:
    case SheetKind::two_faces_tabs:
      r.two_faces = true;
      r.layout = dice.pick({Layout::grid, Layout::nested});
      r.tabs = kind == SheetKind::two_faces ? TabForm::none : dice.pick({TabForm::lifted, TabForm::ramped});
      r.short_chance = kind == SheetKind::two_faces ? 0.3 : 0;
      break;
    default:
      break;
  }
}

void holdRecipe(Recipe& r, SheetKind kind, Dice& dice) {
  switch (kind) {
    case SheetKind::screws:
      r.hold = dice.pick({Hold::in_part, Hold::in_both, Hold::in_waste});
      break;
    case SheetKind::screws_milled_out:
    case SheetKind::tape_milled_away:
      r.hold = kind == SheetKind::tape_milled_away ? Hold::tape : Hold::in_part;
      r.layout = dice.pick({Layout::grid, Layout::nested});
      r.mill_hold = true;
      r.short_chance = 0;
      break;
    case SheetKind::hold_downs_leave:
      r.leave = true;
      r.hold = dice.pick({Hold::in_part, Hold::in_both, Hold::tape});
      break;
    case SheetKind::tape:
      r.hold = Hold::tape;
      break;
    case SheetKind::loose_block_milled:
      r.mill_block = true;
      r.short_chance = 0;
      r.tabs = TabForm::none;
      r.layout = dice.pick({Layout::grid, Layout::nested});
      break;
    case SheetKind::tool_forms:
      r.form = dice.pick({Form::ball, Form::bull, Form::vee, Form::taper_ball, Form::drill});
      break;
    default:
      break;
  }
}

Recipe recipeOf(Dice& dice, SheetKind kind) {
  Recipe r = plainRecipe(dice);
  shapeRecipe(r, kind);
  depthRecipe(r, kind, dice);
  holdRecipe(r, kind, dice);
  r.ramp_without_finish = r.entry == Entry::ramp && dice.chance(0.2);
  return r;
}

SheetTool randomTool(Dice& dice, Form form) {
  SheetTool t;
  t.form = form;
  t.diameter = dice.milli(1.5, 6);
  switch (form) {
    case Form::bull:
      t.corner_radius = dice.milli(0.15 * t.diameter, 0.45 * t.diameter);
      break;
    case Form::vee:
      t.diameter = dice.milli(4, 12);
      t.included_angle_deg = dice.integer(30, 120);
      t.tip_diameter = dice.chance(0.5) ? 0 : dice.milli(0.1, 0.5);
      break;
    case Form::taper_ball:
      t.diameter = dice.milli(3, 6);
      t.tip_radius = dice.milli(0.25, 1);
      t.half_angle_deg = dice.milli(3, 10);
      break;
    case Form::drill:
      t.included_angle_deg = dice.integer(90, 140);
      break;
    case Form::flat:
      t.diameter = dice.milli(1, 6);
      break;
    case Form::ball:
      break;
  }
  return t;
}

// How far the tip goes below the end of the wood so that the kerf there is wide enough for any raster to see.
double beyond(Dice& dice, const Profile& tool) {
  const double depth = dice.milli(0.02, 0.5);
  const double least = 0.2;  // half the width of the kerf
  return radiusAt(tool, depth) >= least || tool.radius <= least ? depth : bottomAt(tool, least) + 0.02;
}

struct Job {
  Dice& dice;
  Recipe recipe;
  Sheet sheet;
  Profile tool;
  std::vector<Shape> shapes;  // in the order of cutting
};

// The index of a new hold-down, at a place given in the stock frame.
int addHold(Job& job, SheetHoldDown hold, PlanPoint place, Face face) {
  hold.face = face;
  hold.centre_x = face == Face::turned_left_right ? job.sheet.size_x - place.x : place.x;
  hold.centre_y = face == Face::turned_front_back ? job.sheet.size_y - place.y : place.y;
  job.sheet.hold_downs.push_back(hold);
  return static_cast<int>(job.sheet.hold_downs.size()) - 1;
}

SheetHoldDown screw(double head) {
  return {HoldKind::screw, 0, 0, head, 0, 0, Face::front};
}
SheetHoldDown block(HoldKind kind, double x, double y) {
  return {kind, 0, 0, 0, x, y, Face::front};
}

std::vector<int> addHoldsInWaste(Job& job, Face face) {
  Dice& dice = job.dice;
  std::vector<int> fitted;
  const int count = dice.integer(1, 4);
  const int first = dice.integer(0, 3);
  for (int k = 0; k < count; ++k) {
    const int corner = (first + k) % 4;
    const double in_x = dice.milli(4, 6);
    const double in_y = dice.milli(4, 6);
    const PlanPoint place{corner % 2 == 0 ? in_x : job.sheet.size_x - in_x,
                          corner < 2 ? in_y : job.sheet.size_y - in_y};
    fitted.push_back(addHold(job, screw(dice.milli(5, 8)), place, face));
  }
  return fitted;
}

std::vector<int> addHoldsInParts(Job& job, Face face, HoldKind kind) {
  Dice& dice = job.dice;
  std::vector<int> fitted;
  for (std::size_t k = 0; k < job.shapes.size(); ++k) {
    const bool wanted = job.recipe.mill_hold && (kind == HoldKind::tape ? k == 0 : k + 1 == job.shapes.size());
    if (!wanted && !dice.chance(0.6)) continue;
    const PlanPoint c = job.shapes[k].centre;
    const double stray = job.recipe.mill_hold ? 0.5 : 2;
    const PlanPoint place{c.x + dice.milli(-stray, stray), c.y + dice.milli(-stray, stray)};
    const double across = dice.milli(4, kind == HoldKind::screw ? 8 : 14);
    const double along = dice.milli(4, 14);
    const SheetHoldDown hold = kind == HoldKind::screw ? screw(across) : block(kind, across, along);
    fitted.push_back(addHold(job, hold, place, face));
  }
  return fitted;
}

std::vector<int> addClamps(Job& job, Face face) {
  std::vector<int> fitted;
  const double y = job.dice.milli(0.3, 0.7) * job.sheet.size_y;
  fitted.push_back(addHold(job, block(HoldKind::clamp, 12, 8), {0, y}, face));
  if (job.dice.chance(0.7)) {
    fitted.push_back(addHold(job, block(HoldKind::clamp, 12, 8), {job.sheet.size_x, y}, face));
  }
  return fitted;
}

std::vector<int> addHolds(Job& job, Face face) {
  const Hold hold = job.recipe.hold;
  if (hold == Hold::none) return {};
  if (hold == Hold::clamps) return addClamps(job, face);
  std::vector<int> fitted;
  const bool in_waste = hold == Hold::in_waste || hold == Hold::in_both || (hold == Hold::tape && job.dice.chance(0.5));
  if (in_waste) fitted = addHoldsInWaste(job, face);
  if (hold == Hold::in_waste) return fitted;
  const std::vector<int> more = addHoldsInParts(job, face, hold == Hold::tape ? HoldKind::tape : HoldKind::screw);
  fitted.insert(fitted.end(), more.begin(), more.end());
  return fitted;
}

SheetProgram& addProgram(Job& job, Face face, std::vector<int> fitted) {
  job.sheet.programs.push_back({face, {}, std::move(fitted)});
  return job.sheet.programs.back();
}

Writer writerFor(const Job& job, SheetProgram& program, int tool) {
  Writer writer{&program, tool, {0, 0, job.sheet.thickness + 5}};
  if (!program.moves.empty()) writer.at = program.moves.back().to;
  return writer;
}

CutPlan planFor(Job& job, const Path& path, double bottom, double web_floor, int outlines) {
  Dice& dice = job.dice;
  CutPlan plan;
  plan.top = job.sheet.thickness;
  plan.safe = plan.top + 5;
  plan.entry = job.recipe.entry;
  plan.finish = !job.recipe.ramp_without_finish;
  plan.bottom = bottom;
  if (job.recipe.tabs != TabForm::none && dice.chance(job.recipe.tab_chance)) {
    plan.tab_form = job.recipe.tabs;
    const double left = job.sheet.thickness - web_floor;
    plan.tab_top = web_floor + (dice.chance(0.1) ? left : dice.milli(std::min(0.4, left), 0.7 * left + 0.1));
    addTabs(dice, plan, lengthOf(path), 2 * job.tool.radius);
  }
  const int segments = static_cast<int>(path.segments.size()) + 2;
  const int room = 130 / std::max(1, outlines) - 5 * static_cast<int>(plan.tabs.size()) - 4;
  plan.passes = std::clamp(dice.integer(1, 4), 1, std::max(1, room / segments));
  plan.lead_radius = dice.milli(0.8, 3);
  plan.lead_left = dice.chance(0.5);
  return plan;
}

double bottomFor(Job& job) {
  return job.dice.chance(job.recipe.short_chance) ? job.dice.milli(0.02, 0.5) : -beyond(job.dice, job.tool);
}

void cutTabsLater(Job& job, const std::vector<Path>& paths, const std::vector<CutPlan>& plans, Writer& writer) {
  for (std::size_t k = 0; k < paths.size(); ++k) {
    for (const Tab& tab : plans[k].tabs) {
      if (job.dice.chance(0.15)) continue;
      const double margin = job.dice.milli(-0.5, 0.5);
      const double a = std::max(0.0, tab.from + margin);
      const double b = std::min(lengthOf(paths[k]), tab.to - margin);
      cutStretch(writer, paths[k], a, b, plans[k]);
    }
  }
}

void millArea(Job& job, Writer& writer, PlanPoint centre, double half_x, double half_y, int levels) {
  const double d = job.sheet.tools[static_cast<std::size_t>(writer.tool)].diameter;
  const int lines = std::max(2, static_cast<int>(std::ceil(2 * half_y / (0.8 * d))) + 1);
  const double bottom = -job.dice.milli(0.02, 0.5);
  const double top = job.sheet.thickness;
  for (int level = 1; level <= levels; ++level) {
    const double z = top + (bottom - top) * level / levels;
    rapidTo(writer, {centre.x - half_x, centre.y - half_y, top + 5});
    for (int line = 0; line < lines; ++line) {
      const double y = centre.y - half_y + 2 * half_y * line / (lines - 1);
      const double side = line % 2 == 0 ? -half_x : half_x;
      feedTo(writer, {centre.x + side, y, z});
      feedTo(writer, {centre.x - side, y, z});
    }
    rapidTo(writer, {writer.at.x, writer.at.y, top + 5});
  }
}

void millHoldAway(Job& job, SheetProgram& program) {
  Writer writer = writerFor(job, program, 1);
  const HoldKind kind = job.recipe.hold == Hold::tape ? HoldKind::tape : HoldKind::screw;
  for (const SheetHoldDown& hold : job.sheet.hold_downs) {
    const Shape& shape = kind == HoldKind::tape ? job.shapes.front() : job.shapes.back();
    const bool inside = std::hypot(hold.centre_x - shape.centre.x, hold.centre_y - shape.centre.y) < 1;
    if (hold.kind != kind || !inside) continue;
    const double grow = job.dice.milli(-0.6, 0.6);
    const double half_x = (kind == HoldKind::tape ? hold.size_x : hold.diameter) / 2 + grow;
    const double half_y = (kind == HoldKind::tape ? hold.size_y : hold.diameter) / 2 + grow;
    millArea(job, writer, {hold.centre_x, hold.centre_y}, half_x, half_y, job.dice.integer(1, 2));
    return;
  }
}

void millBlockAway(Job& job, SheetProgram& program) {
  Writer writer = writerFor(job, program, 1);
  const Shape& shape =
      job.shapes[static_cast<std::size_t>(job.dice.integer(0, static_cast<int>(job.shapes.size()) - 1))];
  const double d = job.sheet.tools[1].diameter;
  const double part = job.dice.milli(0.6, 1);
  const double half_x = std::max(1.0, shape.half_x * part);
  const double half_y = std::max(1.0, shape.half_y * part);
  const int lines = static_cast<int>(std::ceil(2 * half_y / (0.8 * d))) + 1;
  millArea(job, writer, shape.centre, half_x, half_y, std::clamp(30 / lines, 1, 4));
}

// All cuts from the front; what comes later than the first program may have fewer hold-downs.
void cutFront(Job& job) {
  Dice& dice = job.dice;
  const std::vector<int> fitted = addHolds(job, Face::front);
  std::vector<Path> paths;
  std::vector<CutPlan> plans;
  const int share = static_cast<int>(job.shapes.size()) * (job.recipe.rough_first ? 2 : 1) +
                    (job.recipe.mill_block || job.recipe.mill_hold ? 1 : 0);
  for (const Shape& shape : job.shapes) {
    paths.push_back(pathOf(shape, 0));
    plans.push_back(planFor(job, paths.back(), bottomFor(job), 0, share));
  }
  std::vector<int> later = fitted;
  if (job.recipe.leave || dice.chance(0.2)) std::erase_if(later, [&](int) { return dice.chance(0.6); });
  addProgram(job, Face::front, fitted);
  if (job.recipe.rough_first) {
    Writer writer = writerFor(job, job.sheet.programs.back(), 0);
    const double offset = dice.milli(-0.6, 0.6);
    for (std::size_t k = 0; k < job.shapes.size(); ++k) {
      CutPlan rough = plans[k];
      rough.bottom = dice.milli(0.1, 0.3) * job.sheet.thickness;
      rough.tabs.clear();
      cutPath(writer, pathOf(job.shapes[k], offset), rough);
    }
    addProgram(job, Face::front, later);
  }
  const bool mill_first = job.recipe.mill_hold && dice.chance(0.3);
  if (mill_first) millHoldAway(job, job.sheet.programs.back());
  const std::size_t second = (job.shapes.size() + 1) / 2;
  for (std::size_t k = 0; k < paths.size(); ++k) {
    if (job.recipe.leave && k == second) addProgram(job, Face::front, later);
    Writer writer = writerFor(job, job.sheet.programs.back(), 0);
    cutPath(writer, paths[k], plans[k]);
  }
  if (job.recipe.mill_hold && !mill_first) millHoldAway(job, job.sheet.programs.back());
  if (job.recipe.mill_block) millBlockAway(job, job.sheet.programs.back());
  const bool last = job.recipe.leave && job.sheet.programs.size() == 1;
  if (job.recipe.tabs_cut_later || last) {
    Writer writer = writerFor(job, addProgram(job, Face::front, later), 0);
    cutTabsLater(job, paths, plans, writer);
    if (writer.program->moves.empty()) rapidTo(writer, {5, 5, job.sheet.thickness + 5});
  }
}

// Half the kerf from each side; the second meets the first or stays short of it.
void cutBothFaces(Job& job) {
  Dice& dice = job.dice;
  const Face back = dice.pick({Face::turned_front_back, Face::turned_left_right});
  const std::vector<int> front_holds = addHolds(job, Face::front);
  const std::vector<int> back_holds = addHolds(job, back);
  const double depth = dice.milli(0.3, 0.7) * job.sheet.thickness;
  const int share = 2 * static_cast<int>(job.shapes.size());
  const TabForm tabs = job.recipe.tabs;
  job.recipe.tabs = TabForm::none;
  addProgram(job, Face::front, front_holds);
  for (const Shape& shape : job.shapes) {
    const Path path = pathOf(shape, 0);
    Writer writer = writerFor(job, job.sheet.programs.back(), 0);
    cutPath(writer, path, planFor(job, path, job.sheet.thickness - depth, 0, share));
  }
  job.recipe.tabs = tabs;
  addProgram(job, back, back_holds);
  for (const Shape& shape : job.shapes) {
    // A little beside the first kerf.
    Shape moved = shape;
    if (dice.chance(0.3)) moved.centre.x += dice.milli(-0.4, 0.4);
    const Path path = turnedPath(pathOf(moved, 0), back, job.sheet.size_x, job.sheet.size_y);
    const bool meets = !dice.chance(job.recipe.short_chance);
    const double bottom = meets ? depth - 2 * beyond(dice, job.tool) : depth + dice.milli(0.02, 0.5);
    Writer writer = writerFor(job, job.sheet.programs.back(), 0);
    cutPath(writer, path, planFor(job, path, bottom, depth, share));
  }
}

}  // namespace

Sheet randomSheet(std::mt19937& generator, SheetKind kind) {
  Dice dice{generator};
  Job job{dice, recipeOf(dice, kind), {}, {}, {}};
  job.sheet.size_x = dice.milli(40, 90);
  job.sheet.size_y = dice.milli(40, 90);
  job.sheet.thickness = dice.chance(0.6) ? dice.milli(3, 12) : dice.milli(12, 40);
  job.sheet.tools = {randomTool(dice, job.recipe.form), {Form::flat, dice.milli(3, 7), 0, 0, 0, 0, 0}};
  job.tool = profileOf(job.sheet.tools[0]);
  const double kerf = 2 * radiusAt(job.tool, job.sheet.thickness);
  job.shapes = layOut(dice, job.recipe.layout, job.recipe.shape, job.sheet.size_x, job.sheet.size_y, kerf);
  const bool nest = job.recipe.layout == Layout::nested || job.recipe.layout == Layout::islands;
  if (nest && job.recipe.inside_first) std::reverse(job.shapes.begin(), job.shapes.end());
  if (job.recipe.two_faces) {
    cutBothFaces(job);
  } else {
    cutFront(job);
  }
  return job.sheet;
}

}  // namespace provecut::reference
