#include "report/base/wording.h"

#include <algorithm>
#include <cmath>
#include <cstdio>

namespace provecut {

namespace {

struct Shown {
  double factor;
  int decimals;
  std::string_view unit;
};

Shown shown(const Job& job, Quantity quantity) {
  switch (quantity) {
    case Quantity::length:
      return job.inches ? Shown{1 / 25.4, 3, " in"} : Shown{1, 1, " mm"};
    case Quantity::area:
      return job.inches ? Shown{1 / (25.4 * 25.4), 4, " in2"} : Shown{1, 1, " mm2"};
    case Quantity::feed:
      return job.inches ? Shown{1 / 25.4, 1, " in/min"} : Shown{1, 0, " mm/min"};
    case Quantity::speed_rpm:
      return {1, 0, " rpm"};
    case Quantity::time_s:
      return {1, 1, " s"};
    case Quantity::fine_length:
      return job.inches ? Shown{1 / 25.4, 4, " in"} : Shown{1, 3, " mm"};
    case Quantity::power_w:
      return {1, 0, " W"};
    case Quantity::force_n:
      return {1, 1, " N"};
  }
  return {1, 1, ""};
}

constexpr int max_decimals = 6;

bool looksZero(double value, int decimals) {
  return std::fabs(value) < 0.5 * std::pow(10.0, -decimals);
}

int usualDecimals(double value, int decimals) {
  while (value != 0 && decimals < max_decimals && looksZero(value, decimals)) ++decimals;
  return decimals;
}

// Up to the next step of the decimals shown; a value that is on a step but for rounding of the arithmetic stays there.
double roundedUp(double value, int decimals) {
  const double step = std::pow(10.0, decimals);
  return std::ceil(value * step - 1e-7) / step;
}

constexpr int position_decimals = 3;

// As many of three decimals as say something, at least `fewest`.
std::string trimmed(double value, int fewest) {
  std::string text = fixedText(value, position_decimals);
  const std::size_t shortest =
      text.size() - static_cast<std::size_t>(position_decimals - std::min(fewest, position_decimals));
  while (text.size() > shortest && text.back() == '0') text.pop_back();
  return text;
}

std::string trimmedLength(const Job& job, double mm) {
  const Shown s = shown(job, Quantity::length);
  return trimmed(mm * s.factor, s.decimals);
}

std::string rounded(const Job& job, Quantity quantity, double value, bool up) {
  const Shown s = shown(job, quantity);
  const double v = value * s.factor;
  const double whole = up ? roundedUp(v, s.decimals) : -roundedUp(-v, s.decimals);
  return fixedText(whole, s.decimals) + std::string(s.unit);
}

}  // namespace

std::string fixedText(double value, int decimals) {
  char buffer[400];
  const int n = std::snprintf(buffer, sizeof buffer, "%.*f", decimals, value);
  std::string text(buffer, static_cast<std::size_t>(std::clamp(n, 0, 399)));
  const bool zero = text.find_first_of("123456789") == std::string::npos;
  if (zero && text.starts_with('-') && std::isfinite(value)) text.erase(0, 1);
  return text;
}

std::string quantityText(const Job& job, Quantity quantity, double value) {
  const Shown s = shown(job, quantity);
  const double v = value * s.factor;
  return fixedText(v, usualDecimals(v, s.decimals)) + std::string(s.unit);
}

std::string atLeastText(const Job& job, Quantity quantity, double value) {
  return rounded(job, quantity, value, true);
}

std::string atMostText(const Job& job, Quantity quantity, double value) {
  return rounded(job, quantity, value, false);
}

Compared comparedText(const Job& job, Quantity quantity, double met, double allowed) {
  const Shown s = shown(job, quantity);
  const double m = met * s.factor, a = allowed * s.factor;
  int decimals = std::max(usualDecimals(m, s.decimals), usualDecimals(a, s.decimals));
  while (decimals < max_decimals && m != a && fixedText(m, decimals) == fixedText(a, decimals)) ++decimals;
  return {fixedText(m, decimals) + std::string(s.unit), fixedText(a, decimals) + std::string(s.unit)};
}

std::string zText(const Job& job, double z_mm) {
  return "Z " + trimmedLength(job, z_mm);
}

std::string zAtLeastText(const Job& job, double z_mm) {
  const Shown s = shown(job, Quantity::length);
  return "Z " + trimmed(roundedUp(z_mm * s.factor, position_decimals), s.decimals);
}

std::string sizeText(const Job& job, Vec3 size_mm) {
  const double factor = job.inches ? 1 / 25.4 : 1;
  const int decimals = job.inches ? 2 : 1;
  return fixedText(size_mm.x * factor, decimals) + " x " + fixedText(size_mm.y * factor, decimals) + " x " +
         fixedText(size_mm.z * factor, decimals) + (job.inches ? " in" : " mm");
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
  return attachment >= 0 && index < job.spindle_attachments.size() ? job.spindle_attachments[index].name
                                                                   : "spindle attachment";
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

}  // namespace provecut
