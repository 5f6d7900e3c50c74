#include "sim/holes/pin_fit.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numbers>
#include <optional>

#include "sim/holes/cut_section.h"
#include "sim/path/setup_frame.h"
#include "sim/path/stock_plan.h"

namespace provecut::holes {

namespace {

constexpr int directions = 720;
constexpr double just_inside_mm = 0.01;
constexpr double longest_shift_mm = 50, unseen_shift_mm = 5;

struct Pin {
  int hold_down = 0, program = 0;
  SetupPoint2 at;
  double radius = 0, depth = 0;
};

// The sections that decide for one pin: just above the underside and just below its end. Cutters without undercut leave
// holes that are narrowest at one of the two.
struct Sections {
  std::vector<placing::Stretch> foot, end;
};

Vec2 unit(double turn) {
  return {std::cos(turn), std::sin(turn)};
}

using Ways = std::array<double, directions>;

Ways waysOut(const Sections& s, SetupPoint2 p, double far) {
  const std::vector<placing::Stretch> foot = nearTo(s.foot, p, far), end = nearTo(s.end, p, far);
  Ways ways;
  for (int k = 0; k < directions; ++k) {
    const Vec2 d = unit(2 * std::numbers::pi * k / directions);
    ways[k] = std::min(openWay(foot, p, d), openWay(end, p, d));
  }
  return ways;
}

double widthAlong(const Ways& ways, Vec2 direction) {
  const double turn = std::atan2(direction.y, direction.x);
  const int k =
      ((static_cast<int>(std::lround(turn / (2 * std::numbers::pi) * directions)) % directions) + directions) %
      directions;
  return ways[k] + ways[(k + directions / 2) % directions];
}

bool takes(const Sections& s, const Pin& pin, SetupPoint2 at) {
  const std::vector<placing::Stretch> foot = nearTo(s.foot, at, pin.radius), end = nearTo(s.end, at, pin.radius);
  if (foot.empty() || end.empty()) return false;
  for (int k = 0; k < directions; k += 10) {
    const Vec2 d = unit(2 * std::numbers::pi * k / directions);
    if (std::min(openWay(foot, at, d), openWay(end, at, d)) < pin.radius - pin_press_mm) return false;
  }
  return true;
}

// Of each pin, in the stock that the programs before have cut, as it lies in `lies`.
std::vector<Sections> sectionsOf(const Job& job, const Programs& before, const Setup& lies,
                                 const std::vector<Pin>& pins) {
  std::vector<Sections> all;
  for (const Pin& pin : pins) {
    const auto done = pins.begin() + all.size();
    const auto same = std::find_if(pins.begin(), done, [&](const Pin& p) { return p.depth == pin.depth; });
    if (same != done) {
      all.push_back(all[same - pins.begin()]);
    } else {
      all.push_back(
          {cutSection(job, before, lies, just_inside_mm), cutSection(job, before, lies, pin.depth - just_inside_mm)});
    }
  }
  return all;
}

// The shortest way from where the holes are to where the pins stand, at most `longest`, at which all pins fit.
std::optional<SetupDirection2> shiftOnto(const Job& job, const Programs& before, const Setup& lies,
                                         const std::vector<Pin>& pins, double longest) {
  const std::vector<Sections> all = sectionsOf(job, before, lies, pins);
  std::vector<Vec2> shifts{{0, 0}};
  for (const SetupPoint2 c : holeCentres(job, before, lies)) {
    if (length(pins[0].at - c) <= longest) shifts.push_back(pins[0].at - c);
  }
  std::sort(shifts.begin(), shifts.end(), [](Vec2 a, Vec2 b) { return length(a) < length(b); });
  for (const Vec2 shift : shifts) {
    bool all_fit = true;
    for (std::size_t i = 0; i < pins.size() && all_fit; ++i) all_fit = takes(all[i], pins[i], pins[i].at - shift);
    if (all_fit) return SetupDirection2{shift.x, shift.y};
  }
  return std::nullopt;
}

// How far up from the underside the hole takes the pin.
double freeDepth(const Job& job, const Programs& before, const Setup& setup, const Pin& pin) {
  double free = 0, blocked = pin.depth;
  while (blocked - free > 0.005) {
    const double z = (free + blocked) / 2;
    const std::vector<placing::Stretch> section = cutSection(job, before, setup, z);
    (takes({section, section}, pin, pin.at) ? free : blocked) = z;
  }
  return free;
}

bool takesPin(const PinFit& fit, const Pin& pin) {
  return fit.wall_mm >= pin.radius - pin_press_mm;
}

// Widths and wall of one pin's hole, all of its depth taken to be free.
PinFit fitOf(const Pin& pin, const Sections& sections, const std::vector<Pin>& pins) {
  PinFit fit{pin.program, pin.hold_down, 0, 0, 0, 0};
  const Ways ways = waysOut(sections, pin.at, 4 * pin.radius + 10);
  fit.wall_mm = *std::min_element(ways.begin(), ways.end());
  fit.free_depth_mm = pin.depth;
  if (pins.size() == 2) {
    const Vec2 line = pins[1].at - pins[0].at;
    fit.along_mm = widthAlong(ways, line);
    fit.across_mm = widthAlong(ways, {-line.y, line.x});
    return fit;
  }
  double narrowest = std::numeric_limits<double>::infinity();
  for (int k = 0; k < directions / 2; ++k) narrowest = std::min(narrowest, ways[k] + ways[k + directions / 2]);
  fit.along_mm = fit.across_mm = narrowest;
  return fit;
}

// How else the stock would go onto the pins as they stand; the fewest changes first.
std::optional<PinsFlipped> flippedOnto(const Job& job, const Programs& before, const Setup& setup,
                                       const std::vector<Pin>& pins) {
  constexpr double play_mm = 0.2;  // more is a shift, not a fit
  const bool square = std::fabs(job.stock.size_mm.x - job.stock.size_mm.y) <= unseen_shift_mm;
  const std::vector<Flip> flips =
      setup.flip == Flip::none ? std::vector{Flip::none} : std::vector{Flip::front_back, Flip::left_right};
  for (const int turned : {0, 180, 90, 270}) {
    if (turned % 180 != 0 && !square) continue;
    for (const Flip flip : flips) {
      Setup other = setup;
      other.flip = flip;
      other.rotate_deg = (setup.rotate_deg + turned) % 360;
      if (shiftOnto(job, before, other, pins, play_mm)) return PinsFlipped{pins[0].program, flip, other.rotate_deg};
    }
  }
  return std::nullopt;
}

// The pins of a setup, each with the first program for which it stands.
std::vector<Pin> pinsOf(const Job& job, const Setup& setup, int first_program) {
  std::vector<Pin> pins;
  const StockPlan stock = stockPlan(job.stock, setup);
  for (int e = 0; e < std::ssize(setup.programs); ++e) {
    for (const int index : setup.programs[e].hold_downs) {
      const HoldDown& h = job.hold_downs[index];
      const bool known = std::any_of(pins.begin(), pins.end(), [&](const Pin& p) { return p.hold_down == index; });
      const bool on_stock = beyondEdge_mm(stock, h.at_mm) < 0;
      const double depth = std::min(h.depth_in_stock_mm, job.stock.size_mm.z);
      if (h.kind != HoldDownKind::pin || known || !on_stock || !(h.diameter_mm > 0) || !(depth > 3 * just_inside_mm))
        continue;
      pins.push_back({index, first_program + e, h.at_mm, h.diameter_mm / 2, depth});
    }
  }
  return pins;
}

}  // namespace

void observePins(const Job& job, const Programs& programs, Run& run) {
  int next = 0;
  for (const Setup& setup : job.setups) {
    const int first = next;
    next += static_cast<int>(setup.programs.size());
    if (first >= std::ssize(programs)) break;
    const Programs before = programs.first(first);
    const std::vector<Pin> pins = pinsOf(job, setup, first);
    if (pins.empty()) continue;
    const std::vector<Sections> sections = sectionsOf(job, before, setup, pins);
    bool all_fit = true;
    for (std::size_t i = 0; i < pins.size(); ++i) {
      PinFit fit = fitOf(pins[i], sections[i], pins);
      if (!takesPin(fit, pins[i])) {
        fit.free_depth_mm = freeDepth(job, before, setup, pins[i]);
        all_fit = false;
      }
      run.pin_fits.push_back(fit);
    }
    if (!all_fit) {
      if (const auto shift = shiftOnto(job, before, setup, pins, longest_shift_mm))
        run.pins_shifted.push_back({pins[0].program, *shift, 0});
      if (const auto flipped = flippedOnto(job, before, setup, pins)) run.pins_flipped.push_back(*flipped);
      continue;
    }
    const bool square = std::fabs(job.stock.size_mm.x - job.stock.size_mm.y) <= unseen_shift_mm;
    for (const int turned : {180, 90, 270}) {
      if (turned != 180 && !square) continue;
      Setup wrong = setup;
      wrong.rotate_deg = (setup.rotate_deg + turned) % 360;
      if (const auto shift = shiftOnto(job, before, wrong, pins, unseen_shift_mm)) {
        run.pins_either_way.push_back({pins[0].program, *shift, turned});
        break;
      }
    }
  }
}

}  // namespace provecut::holes
