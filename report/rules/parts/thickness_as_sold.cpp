#include <optional>

#include "report/facts/measures.h"
#include "report/rules/list.h"
#include "report/rules/shared/grouping.h"
#include "sim/path/setup_frame.h"

namespace provecut {

namespace {

constexpr std::string_view page = R"(## What it finds

A cut that ends so near the underside of a sheet that its thickness as sold decides whether it goes through, in a job file without
`thickness_tolerance`. Looked at where the `material` is one whose standard says how far a sheet may be off.

## Why it matters

Cast acrylic sold as 6 mm may by its standard be 5.0 to 7.0 mm thick; plywood and MDF vary too. Where the sheet is thick the part
stays in it; where it is thin the cut goes deeper into the spoilboard than the program means to.

## Example

In acrylic of 6 mm, zero on its top:

    G1 Z-6.3 F800

Through by 0.3 mm as said; in a sheet of 7 mm, 0.7 mm is left.

## What to do

Measure the sheet where it is cut and put its thickness in the job file (or `--thickness`), with `thickness_tolerance` for how far the
measured places differ. Then not-through and floor-thin look at each cut.

## What `amount` is

How far the thickness may be off by the standard, in mm, to the thicker side.

## Source

Acrylic, cast: ISO 7823-1, ±(0.4 + 0.1 t); extruded sheets vary less (ISO 7823-2, 5 %). Plywood, sanded: EN 315,
+(0.2 + 0.03 t) −(0.4 + 0.03 t). MDF: EN 622-1, 0.2 mm up to 19 mm, else 0.3 mm (from memory).
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
    case Material::polycarbonate:
    case Material::aluminium:
    case Material::foam:
      return std::nullopt;
  }
  return std::nullopt;
}

void check(const Facts& facts, std::vector<Finding>& findings) {
  const Stock& stock = facts.job.stock;
  if (!stock.material_given || stock.thickness_tolerance_mm > 0) return;
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
    if (doubtful.empty()) continue;
    Finding f = groupFinding(facts, i, thickness_as_sold_rule, doubtful, Worst::smallest, Quantity::length);
    f.amount = spread->thicker_mm;
    f.unit = "mm";
    const auto text = [&](double mm) { return quantityText(facts.job, Quantity::length, mm); };
    f.message = "ends near the underside of a sheet that is " + text(t) + " as sold: by its standard it may be " +
                text(t - spread->thinner_mm) + " to " + text(t + spread->thicker_mm) +
                ", and the job file has no thickness_tolerance";
    f.help = "Measure the sheet, put its thickness and a thickness_tolerance in the job file.";
    findings.push_back(std::move(f));
  }
}

}  // namespace

const Rule thickness_as_sold_rule{"thickness-as-sold", Level::note,
                                  "A cut ends where a sheet's thickness as sold decides whether it goes through.", page,
                                  check};

}  // namespace provecut
