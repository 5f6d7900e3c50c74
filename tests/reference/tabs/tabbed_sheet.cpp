#include "tests/reference/tabs/tabbed_sheet.h"

#include <algorithm>
#include <cmath>

#include "tests/reference/parting/cutter.h"
#include "tests/reference/parting/dice.h"
#include "tests/reference/tabs/kerf_line.h"
#include "tests/reference/tabs/least_cut.h"
#include "tests/reference/tabs/part_outline.h"

namespace provecut::reference {
namespace {

constexpr double kMostOnTabs = 0.22;  // of the outline's area
constexpr double kEdge_mm = 10;       // for screws
constexpr double kLeastHeight_mm = 0.1;
constexpr double kSteepest = 3;  // of a ramp: places are rounded to 0.001 mm
constexpr double kBetweenParts_mm = 1.5;
constexpr double kBetweenTabs_mm = 0.8;
constexpr double kRasterCell_mm = 0.15;

enum class Rise { upright, ramped, triangular };

// How the kerfs of a sheet are cut. Heights are those of the face from which the tool is lifted.
struct Way {
  Face face = Face::front;  // from which the tool is lifted
  bool two_faces = false;   // the other half of each kerf comes from the other face
  bool lift_in_both = false;
  PlanPoint aside;            // how far the second kerfs are moved
  double low = 0, floor = 0;  // of the tip, and where the other kerf, or the air, begins
  double other_low = 0;       // of the tip on the other face, in its frame
  Rise rise = Rise::upright;
  bool gaps = false;
};

// A lift of the tool on the way round a part, and its fellow from the other face.
struct Lift {
  LiftedTip tip, other;
};

struct Kerf {
  PartOutline outline;
  std::vector<Lift> lifts;
  double low = 0;
};

struct Draft {
  Dice& dice;
  TabbedKind kind;
  TabbedSheet out;
  Profile tool;
  Way way;
  std::vector<Kerf> kerfs;  // beside out.parts
};

Face otherFace(Dice& dice, Face face) {
  return face == Face::front ? dice.pick({Face::turned_front_back, Face::turned_left_right}) : Face::front;
}

SheetTool randomTool(Dice& dice, TabbedKind kind) {
  SheetTool t;
  t.form = dice.pick({Form::flat, Form::flat, Form::ball, Form::bull, Form::vee, Form::taper_ball, Form::drill});
  t.diameter = kind == TabbedKind::narrow_kerfs ? dice.milli(1, 2) : dice.milli(1, 8);
  switch (t.form) {
    case Form::bull:
      t.corner_radius = dice.milli(0.15 * t.diameter, 0.45 * t.diameter);
      break;
    case Form::vee:
      t.diameter = std::max(2.0, t.diameter);
      t.included_angle_deg = dice.integer(30, 90);
      t.tip_diameter = dice.chance(0.5) ? 0 : dice.milli(0.1, 0.5);
      break;
    case Form::taper_ball:
      t.diameter = std::clamp(t.diameter, 2.0, 6.0);
      t.tip_radius = dice.milli(0.3, std::min(1.0, 0.35 * t.diameter));
      t.half_angle_deg = dice.milli(3, 10);
      break;
    case Form::drill:
      t.included_angle_deg = dice.integer(90, 140);
      break;
    case Form::flat:
    case Form::ball:
      break;
  }
  return t;
}

// How deep the tip goes beyond the end of the wood: the kerf is open there over a good part of the tool's width.
double beyond(Dice& dice, const Profile& tool, double most) {
  const double widest = tool.slope > 5 ? tool.arc_end : 0.95 * tool.radius;
  const double half = std::clamp(dice.real(0.35, 0.9) * tool.radius, std::min(0.3, widest), widest);
  return std::ceil(1000 * std::min(most, std::max(dice.milli(0.05, 0.5), bottomAt(tool, half)))) / 1000;
}

void chooseWay(Draft& d) {
  Dice& dice = d.dice;
  Sheet& sheet = d.out.sheet;
  Way& w = d.way;
  const TabbedKind kind = d.kind;
  w.two_faces = kind == TabbedKind::both_faces_tabs_in_one || kind == TabbedKind::both_faces_tabs_in_both ||
                kind == TabbedKind::both_faces_aside;
  w.lift_in_both = kind == TabbedKind::both_faces_tabs_in_both;
  w.gaps = kind == TabbedKind::gaps;
  if (kind == TabbedKind::from_the_back || (w.two_faces && dice.chance(0.5))) w.face = otherFace(dice, Face::front);
  if (kind == TabbedKind::ramped) w.rise = Rise::ramped;
  if (kind == TabbedKind::triangular) w.rise = Rise::triangular;
  const bool plain = kind == TabbedKind::lifted || kind == TabbedKind::at_corners || w.gaps || w.lift_in_both;
  if (!plain && w.rise == Rise::upright && dice.chance(0.4)) w.rise = dice.pick({Rise::ramped, Rise::triangular});
  const double t = sheet.thickness;
  if (!w.two_faces) {
    w.low = -beyond(dice, d.tool, 3);
    return;
  }
  const double middle = std::round(1000 * dice.real(0.35, 0.65) * t) / 1000;  // above the underside of w.face
  const double deeper = beyond(dice, d.tool, 0.2 * t);
  w.floor = middle + deeper;
  w.low = middle - deeper;
  w.other_low = t - middle - deeper;
  if (kind != TabbedKind::both_faces_aside) return;
  const double most = std::min(0.4, 0.5 * radiusAt(d.tool, deeper));
  w.aside = {dice.milli(-most, most), dice.milli(-most, most)};
}

double kerfRadius(const Draft& d, double low) {
  return radiusAt(d.tool, d.out.sheet.thickness - std::min({low, d.way.low, d.way.two_faces ? d.way.other_low : low}));
}

double randomHalf(Dice& dice, TabbedKind kind) {
  if (kind == TabbedKind::small_parts) return dice.pick({dice.milli(1.01, 2), dice.milli(2, 5), 12.0});
  if (kind == TabbedKind::mixed) return dice.milli(3, 10);
  if (kind == TabbedKind::nested) return dice.milli(13, 17);
  return dice.chance(0.2) ? 12 : dice.milli(4, 15);
}

TruePart partAt(const Draft& d, const PartOutline& outline, PlanPoint centre) {
  TruePart part;
  part.path = movedPath(outline.path, centre);
  part.least = boxAbout(movedPath(outline.edge, centre));
  part.most = boxAbout(part.path);
  const double radius = kerfRadius(d, d.way.low);
  part.most.x0 -= radius, part.most.x1 += radius;
  part.most.y0 -= radius, part.most.y1 += radius;
  return part;
}

// A part within the first one, cut out of it before.
void addInnerPart(Draft& d, double outer_half, PlanPoint centre) {
  constexpr double farthest_corner = 2;  // of any outline, in halves
  const double radius = kerfRadius(d, d.way.low);
  const double half = (outer_half - 2 * radius - d.dice.milli(2, 4)) / farthest_corner;
  if (half < 1.01) return;
  const PartOutline outline = randomOutline(d.dice, OutlineForm::any, half, radius);
  d.kerfs.insert(d.kerfs.begin(), {outline, {}, d.way.low});
  d.out.parts.insert(d.out.parts.begin(), partAt(d, outline, centre));
}

// The parts side by side along X.
void layOutParts(Draft& d) {
  Dice& dice = d.dice;
  const int count = d.kind == TabbedKind::mixed ? 3 : d.kind == TabbedKind::nested ? 1 : dice.pick({1, 1, 2, 3});
  const double radius = kerfRadius(d, d.way.low);
  std::vector<PlanBox> boxes;
  double half = 0;
  PlanPoint centre;
  double x = kEdge_mm;
  double high = 0;
  for (int k = 0; k < count; ++k) {
    const bool round = d.kind == TabbedKind::round_parts;
    half = randomHalf(dice, d.kind);
    Kerf kerf{randomOutline(dice, round ? OutlineForm::round : OutlineForm::any, half, radius), {}, d.way.low};
    boxes.push_back(boxAbout(kerf.outline.path));
    high = std::max({high, boxes.back().y1, -boxes.back().y0});
    d.kerfs.push_back(kerf);
  }
  d.out.sheet.size_y = std::ceil(2 * (high + radius + 1 + kEdge_mm));
  for (std::size_t k = 0; k < boxes.size(); ++k) {
    centre = {x + radius + 0.5 - boxes[k].x0 + dice.real(0, 0.5), d.out.sheet.size_y / 2 + dice.real(-0.5, 0.5)};
    d.out.parts.push_back(partAt(d, d.kerfs[k].outline, centre));
    x = centre.x + boxes[k].x1 + radius + 0.5 + kBetweenParts_mm;
  }
  d.out.sheet.size_x = std::ceil(x + kEdge_mm);
  if (d.kind == TabbedKind::nested) addInnerPart(d, half, centre);
}

struct Straight {
  double from = 0, to = 0;
};

// Where a lift may stand: on one line or arc, away from its ends.
std::vector<Straight> stretchesOf(const Path& path, double margin) {
  std::vector<Straight> all;
  double s = 0;
  for (const PathSegment& segment : path.segments) {
    const double length = lengthOf({{segment}});
    const bool whole = path.segments.size() <= 2;  // circles
    if ((segment.kind == MoveKind::feed || whole) && length > 2 * margin) {
      all.push_back({s + margin, s + length - margin});
    }
    s += length;
  }
  return all;
}

LiftedTip liftOf(const Draft& d, double length, double high, double ramp_part) {
  LiftedTip tip{0, length, 0, d.way.low, high};
  if (d.way.rise == Rise::ramped) tip.ramp = ramp_part * length;
  if (d.way.rise == Rise::triangular) tip.ramp = length / 2;
  return tip;
}

// The lift whose tab has a foot of that length along the kerf; longer than `most`: none.
std::optional<LiftedTip> liftForFoot(const Draft& d, double foot, double high, double ramp_part, double most) {
  const auto foot_of = [&](double length) {
    return length - 2 * reachOf(d.tool, liftOf(d, length, high, ramp_part), d.way.floor);
  };
  if (foot_of(most) < foot) return std::nullopt;
  double low = 0;
  double long_enough = most;
  for (int k = 0; k < 50; ++k) {
    const double middle = (low + long_enough) / 2;
    (foot_of(middle) < foot ? low : long_enough) = middle;
  }
  return liftOf(d, long_enough, high, ramp_part);
}

double randomHigh(Draft& d) {
  const double t = d.out.sheet.thickness;
  if (d.way.gaps) return t + 5;
  const double most = 0.9 * t - d.way.floor;
  const double height = 0.1 * std::pow(most / 0.1, d.dice.real(0, 1));
  return std::round(1000 * (d.way.floor + height)) / 1000;
}

// From the other face too, a little farther along.
LiftedTip fellowOf(Draft& d, const LiftedTip& tip) {
  const double t = d.out.sheet.thickness;
  const double shift = d.dice.real(-0.3, 0.3) * (tip.to - tip.from - 2 * radiusAt(d.tool, d.way.floor - d.way.low));
  LiftedTip other{tip.from + shift, tip.to + shift, 0, d.way.other_low, 0};
  const double floor = t - d.way.low;
  other.high = std::round(1000 * (floor + d.dice.real(0.1, 0.9) * (t - floor))) / 1000;
  return other;
}

// What is left on the middle of the kerf, for any pair of lifts: by small steps.
struct MiddleLeft {
  double area = 0, from = 0, to = 0, height = 0;
};
MiddleLeft leftByBoth(const Draft& d, const Lift& lift) {
  const double t = d.out.sheet.thickness;
  const double begin = std::min(lift.tip.from, lift.other.from);
  const double end = std::max(lift.tip.to, lift.other.to);
  const int steps = static_cast<int>((end - begin) / 0.001) + 1;
  MiddleLeft left{0, end, begin, 0};
  for (int k = 0; k < steps; ++k) {
    const double s = begin + (end - begin) * (k + 0.5) / steps;
    const double wood = std::min(t, middleAt(d.tool, lift.tip, s)) + std::min(t, middleAt(d.tool, lift.other, s)) - t;
    if (wood <= 0) continue;
    left.area += wood * (end - begin) / steps;
    left.from = std::min(left.from, s);
    left.to = std::max(left.to, s);
    left.height = std::max(left.height, wood);
  }
  return left;
}

MiddleLeft leftBy(const Draft& d, const Lift& lift) {
  if (d.way.lift_in_both) return leftByBoth(d, lift);
  const double t = d.out.sheet.thickness;
  const double reach = reachOf(d.tool, lift.tip, d.way.floor);
  const double top = std::min(t, middleAt(d.tool, lift.tip, (lift.tip.from + lift.tip.to) / 2));
  return {middleArea(d.tool, lift.tip, d.way.floor, t), lift.tip.from + reach, lift.tip.to - reach, top - d.way.floor};
}

bool standsApart(const Kerf& kerf, const Lift& lift) {
  const auto apart = [](const LiftedTip& a, const LiftedTip& b) {
    return a.to + kBetweenTabs_mm < b.from || b.to + kBetweenTabs_mm < a.from;
  };
  return std::all_of(kerf.lifts.begin(), kerf.lifts.end(), [&](const Lift& other) {
    return apart(lift.tip, other.tip) && apart(lift.other, other.other) && apart(lift.tip, other.other) &&
           apart(lift.other, other.tip);
  });
}

// Round a corner the cut is shorter than the kerf's middle: something must be left between the open kerfs' ends, and so
// little of the height that the cut does not go through the part instead.
bool holdsRound(const Draft& d, const Path& path, const LiftedTip& tip) {
  const PlanPoint a = pointOn(path, tip.from);
  const PlanPoint b = pointOn(path, tip.to);
  const double left =
      std::hypot(b.x - a.x, b.y - a.y) - 2 * reachOf(d.tool, tip, std::min(tip.high, d.way.floor + 0.1));
  return left >= 0.8 && tip.high <= 0.4 * d.out.sheet.thickness;
}

// Tries to give a part one more tab.
bool addTab(Draft& d, std::size_t k, double foot) {
  Dice& dice = d.dice;
  Kerf& kerf = d.kerfs[k];
  TruePart& part = d.out.parts[k];
  const double aside = std::hypot(d.way.aside.x, d.way.aside.y);
  const double margin = 0.3 * d.tool.radius + 0.2 + 2 * aside;
  const bool corner = d.kind == TabbedKind::at_corners && !kerf.outline.round && dice.chance(0.7);
  const std::vector<Straight> free =
      corner ? std::vector<Straight>{{margin, lengthOf(part.path) - margin}} : stretchesOf(part.path, margin);
  if (free.empty()) return false;
  const Straight& on = free[static_cast<std::size_t>(dice.integer(0, static_cast<int>(free.size()) - 1))];
  const double ramp_part = dice.real(0.1, 0.45);
  const auto tip = liftForFoot(d, foot, randomHigh(d), ramp_part, on.to - on.from);
  if (!tip || (tip->ramp > 0 && tip->ramp * kSteepest < tip->high - tip->low)) return false;
  // Not a needle of wood between two stands of the tool's cylinder.
  const bool walled = tip->ramp == 0 && tip->high - tip->low > bottomAt(d.tool, d.tool.radius);
  if (walled && tip->to - 2 * d.tool.radius < 0.8) return false;
  const double shift = dice.real(on.from, on.to - tip->to);
  Lift lift{*tip, *tip};
  lift.tip.from += shift;
  lift.tip.to += shift;
  lift.other = d.way.lift_in_both ? fellowOf(d, lift.tip) : lift.tip;
  if (corner && !holdsRound(d, part.path, lift.tip)) return false;
  if (lift.other.from < on.from || lift.other.to > on.to || !standsApart(kerf, lift)) return false;
  const MiddleLeft left = leftBy(d, lift);
  double sum = left.area;
  for (const TrueTab& tab : part.tabs) sum += tab.area_mm2;
  if (left.area <= 0 || left.height < kLeastHeight_mm ||
      sum > kMostOnTabs * lengthOf(kerf.outline.edge) * d.out.sheet.thickness)
    return false;
  kerf.lifts.push_back(lift);
  const double across = 2 * radiusAt(d.tool, d.way.floor + left.height - d.way.low);
  const bool exact = !kerf.outline.round && !corner && aside == 0;
  const KerfStretch stretch{std::min(lift.tip.from, lift.other.from) - aside,
                            std::max(lift.tip.to, lift.other.to) + aside, kerfRadius(d, kerf.low) + aside};
  part.tabs.push_back({pointOn(part.path, (left.from + left.to) / 2), left.to - left.from, left.height, across,
                       left.area, exact, stretch});
  return true;
}

void addTabs(Draft& d, std::size_t k) {
  const int wanted = d.dice.integer(1, 6);
  for (int n = 0; n < 60 && static_cast<int>(d.kerfs[k].lifts.size()) < wanted; ++n) {
    // Shorter ones where long ones find no place.
    const double longest = 0.8 + 11.2 * std::pow(d.dice.real(0, 1), 1 + n / 10.0);
    addTab(d, k, d.dice.milli(0.8, longest));
  }
  if (d.kerfs[k].lifts.empty()) d.out.parts[k].hanging = Hanging::loose;
  auto& lifts = d.kerfs[k].lifts;
  std::sort(lifts.begin(), lifts.end(), [](const Lift& a, const Lift& b) { return a.tip.from < b.tip.from; });
}

// An even web all round: the least wall about the part lies where its length times its height is least.
void addSkin(Draft& d, std::size_t k) {
  Kerf& kerf = d.kerfs[k];
  TruePart& part = d.out.parts[k];
  const double most = std::min(0.95, 0.3 * d.out.sheet.thickness);
  part.skin_mm = kerf.low = d.dice.milli(0.1, most);
  const double outer = lengthOf(part.path);
  const double radius = kerfRadius(d, d.way.low);
  const double shrink = (outer - lengthOf(kerf.outline.edge)) / radius;
  part.skin_area_mm2 = outer * part.skin_mm;
  constexpr int steps = 2000;
  for (int n = 0; n <= steps; ++n) {
    const double inwards = d.tool.radius * n / steps;
    const double length = outer - shrink * inwards;
    if (length > 0) part.skin_area_mm2 = std::min(part.skin_area_mm2, length * (kerf.low + bottomAt(d.tool, inwards)));
  }
}

// Either a thick web all round or a long gap.
void attach(Draft& d, std::size_t k) {
  Kerf& kerf = d.kerfs[k];
  const double t = d.out.sheet.thickness;
  if (t > 3 && d.dice.chance(0.5)) {
    kerf.low = d.dice.milli(std::max(1.3, 0.45 * t), 0.8 * t);
    return;
  }
  const double length = lengthOf(d.out.parts[k].path);
  const double from = d.dice.real(0.05, 0.2) * length;
  const LiftedTip tip{from, from + d.dice.real(0.55, 0.75) * length, 0, kerf.low, t + 5};
  kerf.lifts.push_back({tip, tip});
}

void chooseHanging(Draft& d, std::size_t k) {
  TruePart& part = d.out.parts[k];
  const double roll = d.dice.real(0, 1);
  if (d.kind == TabbedKind::skins) part.hanging = Hanging::on_skin;
  if (d.kind == TabbedKind::attached) part.hanging = Hanging::attached;
  if (d.kind == TabbedKind::mixed) {
    part.hanging = roll < 0.4   ? Hanging::on_tabs
                   : roll < 0.6 ? Hanging::on_skin
                   : roll < 0.8 ? Hanging::attached
                                : Hanging::loose;
  } else if (part.hanging == Hanging::on_tabs && d.kind != TabbedKind::nested && k > 0 && roll < 0.15) {
    part.hanging = Hanging::loose;
  }
  if (part.hanging == Hanging::on_tabs) addTabs(d, k);
  if (part.hanging == Hanging::on_skin) addSkin(d, k);
  if (part.hanging == Hanging::attached) attach(d, k);
}

// The screws of a face, one in each corner of the frame; fitted once.
std::vector<int> screwsIn(Sheet& sheet, Face face) {
  const bool fitted = std::any_of(sheet.hold_downs.begin(), sheet.hold_downs.end(),
                                  [&](const SheetHoldDown& h) { return h.face == face; });
  for (int corner = 0; corner < 4 && !fitted; ++corner) {
    sheet.hold_downs.push_back(
        {HoldKind::screw, corner % 2 == 0 ? 5 : sheet.size_x - 5, corner < 2 ? 5 : sheet.size_y - 5, 6, 0, 0, face});
  }
  std::vector<int> screws;
  for (std::size_t h = 0; h < sheet.hold_downs.size(); ++h) {
    if (sheet.hold_downs[h].face == face) screws.push_back(static_cast<int>(h));
  }
  return screws;
}

Writer writerFor(Draft& d, Face face, bool anew) {
  auto& programs = d.out.sheet.programs;
  const double safe = d.out.sheet.thickness + 5;
  if (!anew) return {&programs.back(), 0, programs.back().moves.back().to};
  programs.push_back({face, {}, screwsIn(d.out.sheet, face)});
  return {&programs.back(), 0, {0, 0, safe}};
}

void cutRound(Draft& d, Writer& writer, const Path& path, const std::vector<LiftedTip>& lifts, double low) {
  const double top = d.out.sheet.thickness;
  const PlanPoint start = pointOn(path, 0);
  rapidTo(writer, {start.x, start.y, top + 5});
  const int passes = d.dice.integer(1, 3);
  for (int pass = 1; pass <= passes; ++pass) {
    const double z = top + (low - top) * pass / passes;
    feedTo(writer, {writer.at.x, writer.at.y, z});
    follow(writer, path, passAt(lifts, z, lengthOf(path)));
  }
  rapidTo(writer, {writer.at.x, writer.at.y, top + 5});
}

void cutFace(Draft& d, bool of_lifts, Face face, bool second) {
  const bool apart = d.dice.chance(0.3);
  for (std::size_t k = 0; k < d.kerfs.size(); ++k) {
    const Kerf& kerf = d.kerfs[k];
    Writer writer = writerFor(d, face, k == 0 || apart);
    std::vector<LiftedTip> lifts;
    for (const Lift& lift : kerf.lifts) {
      if (of_lifts || d.way.lift_in_both) lifts.push_back(of_lifts ? lift.tip : lift.other);
    }
    const Path path = movedPath(d.out.parts[k].path, second ? d.way.aside : PlanPoint{});
    cutRound(d, writer, turnedPath(path, face, d.out.sheet.size_x, d.out.sheet.size_y), lifts,
             of_lifts ? kerf.low : d.way.other_low);
    d.out.parts[k].left_by = static_cast<int>(d.out.sheet.programs.size()) - 1;
  }
}

void cutTabsOff(Draft& d) {
  const Kerf& kerf = d.kerfs[0];
  const Path path = turnedPath(d.out.parts[0].path, d.way.face, d.out.sheet.size_x, d.out.sheet.size_y);
  Writer writer = writerFor(d, d.way.face, true);
  const double safe = d.out.sheet.thickness + 5;
  for (const Lift& lift : kerf.lifts) {
    const PlanPoint start = pointOn(path, lift.tip.from - 0.1);
    rapidTo(writer, {start.x, start.y, safe});
    feedTo(writer, {start.x, start.y, kerf.low});
    follow(writer, path, {{lift.tip.from - 0.1, kerf.low}, {lift.tip.to + 0.1, kerf.low}});
    rapidTo(writer, {writer.at.x, writer.at.y, safe});
  }
  d.out.parts[0].cut_off_by = static_cast<int>(d.out.sheet.programs.size()) - 1;
}

void cutSheet(Draft& d) {
  const Face face = d.way.face;
  if (d.way.two_faces) {
    // The front first.
    const Face back = face == Face::front ? otherFace(d.dice, face) : face;
    cutFace(d, face == Face::front, Face::front, false);
    cutFace(d, face != Face::front, back, true);
  } else {
    cutFace(d, true, face, false);
  }
}

// Bent and mismatched kerfs have no closed form.
void measureByLeastCut(Draft& d) {
  for (TruePart& part : d.out.parts) {
    for (TrueTab& tab : part.tabs) {
      if (!tab.closed_form) tab.area_mm2 = leastCutAt(d.out.sheet, part, tab);
    }
  }
}

}  // namespace

double leastCutAt(const Sheet& sheet, const TruePart& part, const TrueTab& tab) {
  const double reach = 0.7 * (tab.stretch.to - tab.stretch.from) + tab.stretch.aside;
  return leastCut(WoodNear(sheet, tab.at, reach), part.path, tab.stretch, kRasterCell_mm).area_mm2;
}

TabbedSheet randomTabbedSheet(std::mt19937& generator, TabbedKind kind) {
  Dice dice{generator};
  Draft d{dice, kind, {}, {}, {}, {}};
  const bool two = kind == TabbedKind::both_faces_tabs_in_one || kind == TabbedKind::both_faces_tabs_in_both ||
                   kind == TabbedKind::both_faces_aside;
  d.out.sheet.thickness = dice.chance(0.5) ? dice.milli(two ? 5 : 2, 8) : dice.milli(8, 25);
  d.out.sheet.tools = {randomTool(dice, kind)};
  d.tool = profileOf(d.out.sheet.tools[0]);
  chooseWay(d);
  layOutParts(d);
  for (std::size_t k = 0; k < d.kerfs.size(); ++k) chooseHanging(d, k);
  cutSheet(d);
  measureByLeastCut(d);
  if (kind == TabbedKind::cut_later && !d.kerfs[0].lifts.empty()) cutTabsOff(d);
  return d.out;
}

}  // namespace provecut::reference
