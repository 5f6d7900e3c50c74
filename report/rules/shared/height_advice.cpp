#include "report/rules/shared/height_advice.h"

#include <fmt/core.h>

#include <cmath>
#include <optional>

#include "parser/base/units.h"
#include "report/base/number_text.h"
#include "report/base/wording.h"

namespace provecut {

namespace {

// Absent where the program uses both.
std::optional<bool> inInches(const Program& program) {
  const ModalUse& modal = program.modal;
  if (modal.ever_inch && modal.ever_mm) return std::nullopt;
  return modal.ever_inch;
}

// The program's own word, to a thousandth of a millimetre or a ten-thousandth of an inch.
std::string zWord(bool inches, double z_mm) {
  const int decimals = inches ? 4 : 3;
  const double steps = std::pow(10.0, decimals);
  return "Z" + shortNumber(std::ceil(z_mm / (inches ? mm_per_inch : 1) * steps - 1e-6) / steps, decimals);
}

}  // namespace

std::string heightText(const Facts& facts, std::size_t program, double z_mm) {
  const std::string height = zAtLeastText(facts.job, z_mm);
  const std::optional<bool> inches = inInches(facts.programs[program].program);
  if (!inches || *inches == facts.job.inches) return height;
  return fmt::format("{} ({} in this {} program)", height, zWord(*inches, z_mm), *inches ? "inch" : "mm");
}

std::string rapidUpText(const Facts& facts, std::size_t program, double z_mm) {
  const std::string height = zAtLeastText(facts.job, z_mm);
  const std::optional<bool> inches = inInches(facts.programs[program].program);
  if (!inches) return "a rapid to " + height;
  const std::string rapid = "G0 " + zWord(*inches, z_mm);
  return *inches == facts.job.inches ? rapid : fmt::format("{} ({})", rapid, height.substr(2));
}

}  // namespace provecut
