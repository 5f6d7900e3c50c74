#include "report/formats/base/depth_scale.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace provecut {

namespace {

struct Lab {
  double l, a, b;
};

// ISO/CIE 11664-4: from L*a*b* to a tristimulus value over that of the white.
double fromLab(double f) {
  constexpr double edge = 6.0 / 29;
  return f > edge ? f * f * f : 3 * edge * edge * (f - 4.0 / 29);
}

// IEC 61966-2-1: linear light to an eight-bit value.
int encoded(double linear) {
  const double c = std::clamp(linear, 0.0, 1.0);
  const double s = c <= 0.0031308 ? 12.92 * c : 1.055 * std::pow(c, 1 / 2.4) - 0.055;
  return static_cast<int>(std::lround(s * 255));
}

std::string hexOf(const Lab& lab) {
  const double fy = (lab.l + 16) / 116;
  const double x = 0.95047 * fromLab(fy + lab.a / 500), y = fromLab(fy), z = 1.08883 * fromLab(fy - lab.b / 200);
  const int rgb[] = {encoded(3.2406 * x - 1.5372 * y - 0.4986 * z), encoded(-0.9689 * x + 1.8758 * y + 0.0415 * z),
                     encoded(0.0557 * x - 0.2040 * y + 1.0570 * z)};
  std::string hex = "#";
  for (const int c : rgb) {
    hex += "0123456789abcdef"[c >> 4];
    hex += "0123456789abcdef"[c & 0xF];
  }
  return hex;
}

}  // namespace

std::string depthColour(double share) {
  const double s = std::isfinite(share) ? std::clamp(share, 0.0, 1.0) : 0.0;
  const double hue = (180 + 130 * s) * std::numbers::pi / 180, chroma = 26 + 10 * s;  // all of it within sRGB
  return hexOf({72 - 50 * s, chroma * std::cos(hue), chroma * std::sin(hue)});
}

}  // namespace provecut
