#include "report/causes/zero.h"

#include <fmt/core.h>

#include <array>
#include <cmath>
#include <string_view>

#include "report/base/dimension_text.h"
#include "sim/path/setup_frame.h"

namespace provecut::causes {

namespace {

constexpr double same_place_mm = 1e-6;

double moved(Side side, double size_mm, double as_it_is_mm) {
  return side == Side::other ? as_it_is_mm : zeroAt(side, size_mm);
}

std::string word(const Job& file_job, Side side, double at_mm, const std::array<std::string_view, 3>& words) {
  if (side == Side::other) return dimensionText(file_job, at_mm);
  return fmt::format("\"{}\"", words[static_cast<std::size_t>(side)]);
}

}  // namespace

Side sideOf(double zero_mm, double size_mm) {
  if (std::fabs(zero_mm) <= same_place_mm) return Side::low;
  if (std::fabs(zero_mm - size_mm / 2) <= same_place_mm) return Side::middle;
  return std::fabs(zero_mm - size_mm) <= same_place_mm ? Side::high : Side::other;
}

double zeroAt(Side side, double size_mm) {
  return side == Side::high ? size_mm : side == Side::middle ? size_mm / 2 : 0;
}

Zero zeroOf(const Stock& stock, const Setup& setup) {
  const Vec3 size = stockSizeInSetup(stock, setup);
  const Side z = sideOf(setup.zero_mm.z, size.z);
  return {sideOf(setup.zero_mm.x, size.x), sideOf(setup.zero_mm.y, size.y), z == Side::middle ? Side::other : z};
}

void setZero(const Stock& stock, Setup& setup, Zero zero) {
  const Vec3 size = stockSizeInSetup(stock, setup);
  const SetupPoint was = setup.zero_mm;
  setup.zero_mm = {moved(zero.x, size.x, was.x), moved(zero.y, size.y, was.y), moved(zero.z, size.z, was.z)};
  if (zero.z != Side::other) setup.zero_z_on_top = zero.z == Side::high;
  // The stock and all on it are elsewhere on the bed; the zero is where it was touched off.
}

std::string zeroLine(const Job& job, const Setup& setup, bool job_file_in_inches) {
  Job file_job;
  file_job.inches = job_file_in_inches;
  const Zero zero = zeroOf(job.stock, setup);
  const std::string x = word(file_job, zero.x, setup.zero_mm.x, {"left", "center", "right"});
  const std::string y = word(file_job, zero.y, setup.zero_mm.y, {"front", "center", "back"});
  const std::string z = word(file_job, zero.z, setup.zero_mm.z, {"bottom", "center", "top"});
  return fmt::format("zero = [{}, {}, {}]", x, y, z);
}

}  // namespace provecut::causes
