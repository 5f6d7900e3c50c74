#include <fmt/core.h>

#include <optional>

#include "report/base/dimension_text.h"
#include "report/facts/measures.h"
#include "report/rules/list.h"
#include "report/rules/shared/cut_short.h"
#include "report/rules/shared/grouping.h"
#include "sim/path/setup_frame.h"

namespace provecut {

namespace thickness_as_sold {

constexpr std::string_view page = R"(## What it finds

A cut ends so near the underside of a sheet that the sheet's real thickness decides if it goes through, and the
job file has no `thickness_tolerance`. This is checked for materials with a standard for how far a sheet may be off.

## Why it matters

By its standard, cast acrylic sold as 6 mm may be 5.0 to 7.0 mm thick. Plywood and MDF vary too. In a thick sheet the
part stays put; in a thin one the cut goes deeper into the spoilboard than planned.

## Example

In 6 mm acrylic, zero on its top:

    G1 Z-6.3 F800

On paper it goes through by 0.3 mm. In a 7 mm sheet 0.7 mm is left.

## What to do

Measure the sheet where it is cut. Put its thickness in the job file (or use `--thickness`), and how far your
measurements differ as `thickness_tolerance`. Then not-through and floor-thin check each cut.

## What `amount` is

How much thicker than nominal the standard allows the sheet to be, in mm.

## Source

Acrylic, cast: ISO 7823-1, ±(0.4 + 0.1 t); extruded sheets vary less (ISO 7823-2, 5 %). Plywood, sanded: EN 315, +(0.2
+ 0.03 t) −(0.4 + 0.03 t). MDF: EN 622-1, 0.2 mm up to 19 mm, else 0.3 mm (from memory).
)";

struct Spread {
  double thinner_mm = 0, thicker_mm = 0;
};

std::optional<Spread> asSold(Material material, double t) {
  switch (material) {
    case Material::acrylic:
      return Spread{0.4 + 0.1 * t, 0.4 + 0.1 * t};
    case Material::plywood:
      return Spread{0.4 + 0.03 * t, 0.2 + 0.03 * t};
    case Material::mdf:
      return t <= 19 ? Spread{0.2, 0.2} : Spread{0.3, 0.3};
    case Material::softwood:
    case Material::hardwood:
    case Material::board:
    case Material::polycarbonate:
    case Material::hdpe:
    case Material::solid_surface:
    case Material::aluminium:
    case Material::brass:
    case Material::foam:
      return std::nullopt;
  }
  return std::nullopt;
}

void check(const Facts& facts, std::vector<Finding>& findings) {
  const Stock& stock = facts.job.stock;
  // Where somebody measured the sheet, it is as thick as that.
  if (!stock.material_given || stock.thickness_tolerance_mm > 0 || facts.said_thickness_mm) return;
  const double t = stock.size_mm.z;
  const auto spread = asSold(stock.material, t);
  if (!spread) return;
  for (std::size_t i = 0; i < facts.programs.size() && i < facts.run.programs.size(); ++i) {
    const ProgramFacts& p = facts.programs[i];
    if (!p.setup->zero_z_on_top) continue;  // cuts as deep whatever the thickness
    std::vector<Occurrence> doubtful;
    for (std::uint32_t m = 0; m < p.program.motions.size(); ++m) {
      const Motion& motion = p.program.motions[m];
      if (!cutsMaterial(cutOf(facts, i, m))) continue;
      const WorkPoint tip = lowestTip(motion);
      const double above_mm = workToSetup(*p.setup, tip).z;
      if (above_mm > -spread->thicker_mm && above_mm < spread->thinner_mm) doubtful.push_back({m, above_mm, tip});
    }
    if (doubtful.empty() || !cutsThatFallShort(facts, i).empty()) continue;
    Finding f = groupFinding(facts, i, thickness_as_sold_rule, doubtful, Worst::smallest, Quantity::length);
    f.amount = spread->thicker_mm;
    f.unit = "mm";
    f.message = fmt::format("may not go through: a sheet sold as {} may measure {} to {}",
                            dimensionWithUnit(facts.job, t), dimensionText(facts.job, t - spread->thinner_mm),
                            dimensionWithUnit(facts.job, t + spread->thicker_mm));
    f.help = "Measure the sheet. Put its thickness and a thickness_tolerance in the job file.";
    findings.push_back(std::move(f));
  }
}

}  // namespace thickness_as_sold

const Rule thickness_as_sold_rule{"thickness-as-sold", Level::note,
                                  "A through-cut depends on the sheet's real thickness.", thickness_as_sold::page,
                                  thickness_as_sold::check};

}  // namespace provecut
