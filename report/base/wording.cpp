#include "report/base/wording.h"

#include <algorithm>
#include <cctype>
#include <cmath>

#include "parser/base/units.h"
#include "report/base/dimension_text.h"
#include "report/base/number_text.h"

namespace provecut {

namespace {

struct Shown {
  double factor;
  int decimals, advice_decimals;  // of what was measured; of what one is told to set
  std::string_view unit;
};

constexpr double per_inch = 1 / mm_per_inch;

// Of a tab's section the tenths count.
constexpr double small_area_mm2 = 20;

// `value` as it is measured.
Shown shown(const Job& job, Quantity quantity, double value = 0) {
  switch (quantity) {
    case Quantity::length:
      return job.inches ? Shown{per_inch, 3, 3, " in"} : Shown{1, 2, 1, " mm"};
    case Quantity::area:
      return job.inches ? Shown{per_inch * per_inch, 4, 4, " in²"}
                        : Shown{1, value < small_area_mm2 ? 1 : 0, 0, " mm²"};
    case Quantity::feed:
      return job.inches ? Shown{per_inch, 1, 0, " in/min"} : Shown{1, 0, 0, " mm/min"};
    case Quantity::speed_rpm:
      return {1, 0, 0, " rpm"};
    case Quantity::time_s:
      return {1, 1, 1, " s"};
    case Quantity::fine_length:
      return job.inches ? Shown{per_inch, 4, 4, " in"} : Shown{1, 3, 3, " mm"};
    case Quantity::power_w:
      return {1, 0, 0, " W"};
    case Quantity::force_n:
      return {1, 1, 1, " N"};
  }
  return {1, 1, 1, ""};
}

constexpr int finest_decimals = 6;
constexpr int advised_z_decimals = 3;  // in inches no finer than a length is measured and advised

bool looksZero(double value, int decimals) {
  return std::fabs(value) < 0.5 * std::pow(10.0, -decimals);
}

int usualDecimals(double value, int decimals) {
  while (value != 0 && decimals < finest_decimals && looksZero(value, decimals)) ++decimals;
  return decimals;
}

// The decimals that a number was given with, where those are dimension_decimals at most; else `usual`.
int givenDecimals(double value, int usual) {
  for (int decimals = usual; decimals <= dimension_decimals; ++decimals) {
    const double steps = value * std::pow(10.0, decimals);
    if (std::fabs(steps - std::round(steps)) < 1e-6) return decimals;
  }
  return usual;
}

// Up to the next step of the decimals shown; a value that is on a step but for rounding of the arithmetic stays there.
double roundedUp(double value, int decimals) {
  const double step = std::pow(10.0, decimals);
  return std::ceil(value * step - 1e-7) / step;
}

std::string grouped(Quantity quantity, std::string number) {
  const bool large = quantity == Quantity::feed || quantity == Quantity::speed_rpm || quantity == Quantity::power_w;
  return large ? withThousands(std::move(number)) : number;
}

std::string rounded(const Job& job, Quantity quantity, double value, bool up) {
  const Shown s = shown(job, quantity);
  const double v = value * s.factor;
  const auto at = [&](int decimals) { return up ? roundedUp(v, decimals) : -roundedUp(-v, decimals); };
  int decimals = s.advice_decimals;
  while (decimals < finest_decimals && v != 0 && looksZero(at(decimals), decimals)) ++decimals;
  return grouped(quantity, shortNumber(at(decimals), decimals)) + std::string(s.unit);
}

}  // namespace

std::string_view unitOf(Quantity quantity) {
  return shown({}, quantity).unit.substr(1);
}

std::string_view shownUnit(const Job& job, Quantity quantity) {
  return shown(job, quantity).unit.substr(1);
}

std::string shownNumber(const Job& job, Quantity quantity, double value, int decimals) {
  return grouped(quantity, fixedText(value * shown(job, quantity).factor, decimals));
}

std::string quantityText(const Job& job, Quantity quantity, double value) {
  const Shown s = shown(job, quantity, value);
  const double v = value * s.factor;
  return grouped(quantity, shortNumber(v, usualDecimals(v, s.decimals))) + std::string(s.unit);
}

std::string longLengthText(const Job& job, double mm) {
  const Shown s = shown(job, Quantity::length);
  const int decimals = job.inches ? 1 : 0;
  return shortNumber(roundedUp(mm * s.factor, decimals), decimals) + std::string(s.unit);
}

std::string atLeastText(const Job& job, Quantity quantity, double value) {
  return rounded(job, quantity, value, true);
}

std::string atMostText(const Job& job, Quantity quantity, double value) {
  return rounded(job, quantity, value, false);
}

Compared comparedText(const Job& job, Quantity quantity, double actual, double limit) {
  const Shown s = shown(job, quantity, actual);
  const double a = actual * s.factor, l = limit * s.factor;
  int decimals = std::max(usualDecimals(a, s.decimals), givenDecimals(l, usualDecimals(l, s.decimals)));
  while (decimals < finest_decimals && a != l && fixedText(a, decimals) == fixedText(l, decimals)) ++decimals;
  return {grouped(quantity, shortNumber(a, decimals)) + std::string(s.unit),
          grouped(quantity, shortNumber(l, decimals)) + std::string(s.unit)};
}

std::string zText(const Job& job, double z_mm) {
  return "Z " + positionText(job, z_mm) + " " + std::string(lengthUnit(job));
}

std::string zAtLeastText(const Job& job, double z_mm) {
  const double unit_mm = lengthUnit_mm(job);
  return zText(job, roundedUp(z_mm / unit_mm, advised_z_decimals) * unit_mm);
}

std::string sizeText(const Job& job, Vec2 size_mm) {
  const double unit_mm = lengthUnit_mm(job);
  const int decimals = job.inches ? 2 : 1;
  return shortNumber(size_mm.x / unit_mm, decimals) + " × " + shortNumber(size_mm.y / unit_mm, decimals) + " " +
         std::string(lengthUnit(job));
}

std::string sizeText(const Job& job, Vec3 size_mm) {
  std::string plan = sizeText(job, flat(size_mm));
  plan.resize(plan.rfind(' '));
  return plan + " × " + dimensionWithUnit(job, size_mm.z);
}

std::string_view directionText(Vec2 direction) {
  if (std::fabs(direction.x) >= std::fabs(direction.y)) return direction.x < 0 ? "to the left" : "to the right";
  return direction.y < 0 ? "to the front" : "to the back";
}

std::string_view motionText(MotionKind kind) {
  switch (kind) {
    case MotionKind::rapid:
      return "rapid";
    case MotionKind::feed:
      return "feed move";
    case MotionKind::arc_cw:
    case MotionKind::arc_ccw:
      return "arc";
    case MotionKind::dwell:
      return "dwell";
    case MotionKind::probe:
      return "probing move";
  }
  return "move";
}

std::string partText(const Job& job, ToolPart part, int attachment) {
  switch (part) {
    case ToolPart::cutter:
      return "cutter";
    case ToolPart::shank:
      return "shank";
    case ToolPart::collet_nut:
      return "collet nut";
    case ToolPart::spindle:
      return "spindle";
    case ToolPart::attachment:
      break;
  }
  const auto index = static_cast<std::size_t>(attachment);
  if (attachment < 0 || index >= job.spindle_attachments.size()) return "spindle attachment";
  const SpindleAttachment& own = job.spindle_attachments[index];
  return own.offset_mm == Vec2{} ? own.name : own.name + " (checked as a circle around the spindle)";
}

std::string toolText(const Job& job, int number) {
  const Tool* tool = findTool(job, number);
  if (tool && !tool->name.empty()) return tool->name;
  return "tool " + std::to_string(number);
}

std::string listText(std::span<const std::string> items) {
  std::string text;
  for (std::size_t i = 0; i < items.size(); ++i) {
    if (i > 0) text += i + 1 == items.size() ? " and " : ", ";
    text += items[i];
  }
  return text;
}

std::string plural(std::size_t count, std::string_view one, std::string_view many) {
  return std::to_string(count) + " " + std::string(count == 1 ? one : many);
}

std::string withArticle(std::string_view text) {
  const std::string_view whole = text.substr(0, text.find_first_not_of("0123456789"));
  const bool vowel = whole.starts_with('8') || whole == "11" || whole == "18";
  return (vowel ? "an " : "a ") + std::string(text);
}

std::string sentence(std::string clause) {
  if (clause.empty()) return clause;
  clause.front() = static_cast<char>(std::toupper(static_cast<unsigned char>(clause.front())));
  const bool ended = clause.back() == '.' || clause.back() == '?' || clause.back() == '!';
  return ended ? clause : clause + ".";
}

}  // namespace provecut
