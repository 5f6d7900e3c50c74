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

// A number of the program's own, to a thousandth of a millimetre or a ten-thousandth of an inch.
std::string programNumber(bool inches, double z_mm) {
  const int decimals = inches ? 4 : 3;
  const double steps = std::pow(10.0, decimals);
  return shortNumber(std::ceil(z_mm / (inches ? mm_per_inch : 1) * steps - 1e-6) / steps, decimals);
}

// "Z 3 mm" without its letter.
std::string withoutZ(const std::string& height) {
  return height.substr(2);
}

// " (Z0.1182 in this inch program)" where the program is in the other unit than the job.
std::string inProgramText(const Facts& facts, std::size_t program, char letter, double z_mm) {
  const std::optional<bool> inches = inInches(facts.programs[program].program);
  if (!inches || *inches == facts.job.inches) return {};
  return fmt::format(" ({}{} in this {} program)", letter, programNumber(*inches, z_mm), *inches ? "inch" : "mm");
}

std::string setRText(const Facts& facts, std::size_t program, std::string_view how, double z_mm, std::uint32_t line) {
  const std::string height = zAtLeastText(facts.job, z_mm);
  const std::string r = line > 0 ? fmt::format("R of the cycle on line {}", line) : "this cycle's R";
  if (facts.programs[program].program.modal.ever_incremental)
    return fmt::format("{} {} until it reaches {}", how, r, height);
  return fmt::format("{} {} to {}{}", how, r, withoutZ(height), inProgramText(facts, program, 'R', z_mm));
}

}  // namespace

std::string heightText(const Facts& facts, std::size_t program, double z_mm) {
  return zAtLeastText(facts.job, z_mm) + inProgramText(facts, program, 'Z', z_mm);
}

std::string raiseRText(const Facts& facts, std::size_t program, double z_mm, std::uint32_t line) {
  return setRText(facts, program, "raise", z_mm, line);
}

std::string lowerRText(const Facts& facts, std::size_t program, double z_mm) {
  return setRText(facts, program, "lower", z_mm, 0);
}

std::string rapidUpText(const Facts& facts, std::size_t program, double z_mm) {
  const std::string height = zAtLeastText(facts.job, z_mm);
  const Program& p = facts.programs[program].program;
  const std::optional<bool> inches = inInches(p);
  if (!inches || p.modal.units_used) return "a rapid to " + height;
  if (*inches != facts.job.inches) return fmt::format("G0 Z{} ({})", programNumber(*inches, z_mm), withoutZ(height));
  const std::string number = withoutZ(height);
  return "G0 Z" + number.substr(0, number.find(' '));
}

}  // namespace provecut
