#include "report/placing/free_places.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

#include "parser/job/job_words.h"
#include "parser/job/outline_check.h"
#include "report/base/dimension_text.h"
#include "report/base/number_text.h"
#include "sim/path/setup_frame.h"
#include "sim/placing/keep_out.h"

namespace provecut {

namespace {

constexpr double keep_out_tolerance_mm = 0.01, box_tolerance_mm = 0.02;
constexpr double quick_tolerance_mm = 1, quick_height_step_mm = 0.05;

bool sameForm(const HoldDown& a, const HoldDown& b) {
  if (a.kind != b.kind || a.top_mm != b.top_mm || a.diameter_mm != b.diameter_mm) return false;
  if (a.diameter_mm > 0) return true;
  if (a.outline_mm.size() != b.outline_mm.size()) return false;
  for (std::size_t i = 0; i < a.outline_mm.size(); ++i) {
    if (length((a.outline_mm[i] - a.at_mm) - (b.outline_mm[i] - b.at_mm)) > 1e-9) return false;
  }
  return a.size_mm == b.size_mm && (a.angle_deg == b.angle_deg || !a.outline_mm.empty());
}

// Area of the rings within the rectangle from (0, 0) to `size`, by cutting each off at its four sides.
double areaWithin(const std::vector<std::vector<SetupPoint2>>& rings, Vec2 size) {
  double area = 0;
  for (std::vector<SetupPoint2> ring : rings) {
    for (int side = 0; side < 4 && !ring.empty(); ++side) {
      const auto inside = [&](SetupPoint2 p) {
        return side == 0 ? p.x : side == 1 ? size.x - p.x : side == 2 ? p.y : size.y - p.y;
      };
      std::vector<SetupPoint2> kept;
      for (std::size_t i = 0; i < ring.size(); ++i) {
        const SetupPoint2 a = ring[i], b = ring[(i + 1) % ring.size()];
        const double at_a = inside(a), at_b = inside(b);
        if (at_a >= 0) kept.push_back(a);
        if ((at_a >= 0) != (at_b >= 0)) kept.push_back(a + (b - a) * (at_a / (at_a - at_b)));
      }
      ring = std::move(kept);
    }
    area += signedArea(ring);
  }
  return area;
}

// What the triangle from a disc's middle to a and b has in common with the disc; its sign is the triangle's.
double triangleInDisc(double r, Vec2 a, Vec2 b) {
  const Vec2 d = b - a;
  const auto sector = [&](Vec2 from, Vec2 to) { return r * r / 2 * std::atan2(cross(from, to), dot(from, to)); };
  const double dd = dot(d, d), ad = dot(a, d), root = ad * ad - dd * (dot(a, a) - r * r);
  if (dd <= 0) return 0;
  if (root <= 0) return sector(a, b);
  const double in = std::clamp((-ad - std::sqrt(root)) / dd, 0.0, 1.0),
               out = std::clamp((-ad + std::sqrt(root)) / dd, 0.0, 1.0);
  const Vec2 p = a + d * in, q = a + d * out;
  return (in > 0 ? sector(a, p) : 0) + cross(p, q) / 2 + (out < 1 ? sector(q, b) : 0);
}

double areaWithinDisc(const std::vector<std::vector<SetupPoint2>>& rings, const StockPlan& disc) {
  double area = 0;
  for (const std::vector<SetupPoint2>& ring : rings) {
    for (std::size_t i = 0; i < ring.size(); ++i)
      area += triangleInDisc(disc.radius_mm(), ring[i] - disc.middle(), ring[(i + 1) % ring.size()] - disc.middle());
  }
  return area;
}

}  // namespace

bool holdsDown(const HoldDown& h) {
  return isMovable(h.kind);
}

HoldDown usualScrew() {
  // A pan head on wood: 9.5 across, 3.7 high (DIN 7981 and ISO 7045, sizes 4.8 and M5: 3.55 and 3.7 at most).
  HoldDown screw;
  screw.kind = HoldDownKind::screw;
  screw.diameter_mm = 9.5;
  screw.top_mm = 3.7;
  return screw;
}

std::vector<PlaceForm> placeForms(const Job& job, const std::optional<HoldDown>& asked) {
  if (asked) return {{*asked, {}}};
  std::vector<PlaceForm> forms;
  for (int i = 0; i < std::ssize(job.hold_downs); ++i) {
    const HoldDown& h = job.hold_downs[i];
    if (!holdsDown(h)) continue;
    auto form = std::find_if(forms.begin(), forms.end(), [&](const PlaceForm& f) { return sameForm(f.shape, h); });
    if (form == forms.end()) form = forms.insert(forms.end(), {h, {}});
    form->members.push_back(i);
  }
  if (forms.empty()) forms.push_back({usualScrew(), {}});
  return forms;
}

double placeMargin(std::span<const PlaceForm> forms) {
  double margin = 40;
  for (const PlaceForm& f : forms) {
    const clearance::Obstacle o = clearance::obstacle(f.shape, 0);
    margin = std::max(margin, std::max(o.high.x - o.low.x, o.high.y - o.low.y) / 2 + 20);
  }
  return margin;
}

double placeResolution(const Job& job, double margin, double wanted) {
  const double area = (job.stock.size_mm.x + 2 * margin) * (job.stock.size_mm.y + 2 * margin);
  return std::max(wanted, std::sqrt(area / 6e6));
}

placing::FreeRegion freePlaces(const Job& job, const Setup& setup, std::span<const Program* const> programs,
                               const HoldDown& shape, double margin, double resolution, Pains pains) {
  const Vec3 stock = stockSizeInSetup(job.stock, setup);
  const clearance::Obstacle form = clearance::obstacle(movedTo(shape, {}), stock.z);
  const bool quick = pains == Pains::quick, round = form.radius_mm > 0;
  const double tolerance = quick ? quick_tolerance_mm : round ? keep_out_tolerance_mm : box_tolerance_mm;
  std::vector<placing::Stretch> out;
  for (const Program* program : programs) {
    const auto own = placing::keepOut(job, setup, *program, form.top_mm, tolerance, round && !quick,
                                      quick ? quick_height_step_mm : 0);
    out.insert(out.end(), own.begin(), own.end());
  }
  return placing::freeRegion(out, form, {-margin, -margin}, {stock.x + margin, stock.y + margin}, resolution);
}

double stockShare(const placing::FreeRegion& region, const StockPlan& stock) {
  const double area = stock.round ? areaWithinDisc(region.rings, stock) : areaWithin(region.rings, stock.size_mm);
  return std::clamp(area / area_mm2(stock), 0.0, 1.0);
}

std::vector<std::string_view> placeDoubts(const Job& job, const Program& program) {
  std::vector<std::string_view> doubts;
  if (!program.read_whole) doubts.push_back(" could not be read completely");
  const auto known = [&](int number) {
    return std::any_of(job.tools.begin(), job.tools.end(), [&](const Tool& t) { return t.number == number; });
  };
  const bool unknown = std::any_of(program.motions.begin(), program.motions.end(),
                                   [&](const Motion& m) { return moves(m) && !known(m.tool); });
  if (unknown) doubts.push_back(" moves a tool that is not in the job file");
  return doubts;
}

std::string formText(const Job& job, const HoldDown& h) {
  const std::string_view kind = h.kind == HoldDownKind::other ? "hold-down" : wordOf(h.kind);
  const std::string top = dimensionWithUnit(job, h.top_mm);
  if (h.diameter_mm > 0) return fmt::format("{} {}, top {}", dimensionWithUnit(job, h.diameter_mm), kind, top);
  const clearance::Obstacle o = clearance::obstacle(h, 0);
  const bool box = h.outline_mm.empty();
  const std::string angle =
      box && h.angle_deg != 0 ? fmt::format(" at {}°", shortNumber(h.angle_deg, 1)) : std::string();
  return fmt::format("{} {}{}, top {}", dimensionsText(job, box ? h.size_mm : o.high - o.low), kind, angle, top);
}

}  // namespace provecut
