#include "sim/stock/cut.h"

#include <tbb/blocked_range.h>
#include <tbb/parallel_for.h>

#include <algorithm>
#include <cmath>
#include <limits>

#include "sim/path/setup_frame.h"
#include "sim/path/sweep.h"
#include "sim/stock/dexel_walk.h"
#include "sim/stock/engagement.h"
#include "sim/stock/engagement_section.h"
#include "sim/stock/undercut.h"

namespace provecut::cutting {

namespace {

constexpr float nothing_below = std::numeric_limits<float>::infinity();
constexpr std::size_t motions_per_batch = 1 << 16;
constexpr std::size_t samples_per_batch = 1 << 20;

// How far below the end of a straight-down move material is looked for, and how high above the tip a cutter counts as
// its end.
constexpr float look_below_mm = 0.5F, touch_mm = 0.1F, rim_slack_mm = 0.02F;

// What one sweep took in one band of rows.
struct Taken {
  std::uint32_t sweep;
  SweepCut cut;
  float above[4] = {0, 0, 0, 0};                             // per Cutter::above, the first four
  float centre_depth_mm = 0, ends_above_mm = nothing_below;  // see MoveCut
};

// A sweep with its tool, and its engagement samples: [first_sample, end_sample) of the batch's.
struct Item {
  Sweep sweep;
  const Cutter* cutter;
  const LeadingHalf* leading = nullptr;
  std::uint32_t first_sample = 0, end_sample = 0;
  bool looks_at_centre = false, looks_below = false;
};

// What one band of rows holds in front of a sweep at one place.
struct Seen {
  std::uint32_t sample;
  float area, height;
};

// Motions in a row, cut together: each band of rows takes them in their order.
struct Batch {
  std::size_t begin = 0, end = 0;  // its motions
  std::vector<Item> items;
  std::vector<SectionSample> samples;
  std::vector<std::size_t> samples_end;              // per motion
  std::vector<std::vector<std::uint32_t>> touching;  // items, by band
  std::vector<std::vector<Taken>> taken;             // by band
  std::vector<std::vector<Seen>> seen;               // by band
  std::vector<std::vector<ContactLoss>> losses;      // by band, of all batches
};

// A program on its way through the stock.
struct Cutting {
  DexelField& field;
  const Cutters& cutters;
  const Job& job;
  const Setup& setup;
  std::span<const Motion> motions;
  CutOptions options;
  std::map<const Cutter*, LeadingHalf> leading;  // empty where nothing is measured
  std::vector<EngagementSection> sections;       // one per motion, where measured
  CutResult result;
};

float stockTop(const DexelField& field) {
  return static_cast<float>(field.thickness_mm);
}

double fineSide(const DexelField& field) {
  return std::min(field.cell_x_mm, field.cell_y_mm);
}

double coarseSide(const DexelField& field) {
  return std::max(field.cell_x_mm, field.cell_y_mm);
}

int rowsPerBand(const DexelField& field) {
  return std::clamp(field.ny / 32, 16, 64);
}

int bandsOf(const DexelField& field) {
  return (field.ny + rowsPerBand(field) - 1) / rowsPerBand(field);
}

// What stands under the cutter before the sweep is cut. True where there is anything to tell.
bool lookDown(const DexelField& field, const Item& item, int from, int to, Taken& t) {
  const CutterShape& shape = item.cutter->shape;
  if (item.looks_at_centre) t.centre_depth_mm = materialAbove(field, item.sweep, shape.radius / 2, 0, from, to);
  if (item.looks_below) {
    // Of a point, only what is right under it; of a flat end not the walls that it stands between.
    const float cell = static_cast<float>(coarseSide(field));
    const float radius = std::max(shape.radiusAt(touch_mm) - rim_slack_mm, 0.75F * cell);
    const float above = materialAbove(field, item.sweep, radius, -look_below_mm, from, to);
    if (above > 0) t.ends_above_mm = look_below_mm - above;
  }
  return t.centre_depth_mm > 0 || t.ends_above_mm < nothing_below;
}

// Cuts the batch's items, in their order, within one band of rows.
void cutBand(DexelField& field, Batch& batch, int band, ContactLog* contacts) {
  const int from = band * rowsPerBand(field), to = std::min(field.ny, from + rowsPerBand(field));
  const float stock_top = stockTop(field), cell = static_cast<float>(coarseSide(field));
  for (const std::uint32_t i : batch.touching[band]) {
    const Item& item = batch.items[i];
    for (std::uint32_t k = item.first_sample; k < item.end_sample; ++k) {
      SectionSample sample = batch.samples[k];
      addSection(field, *item.leading, item.sweep, from, to, sample);
      if (sample.area_mm2 > 0) batch.seen[band].push_back({k, sample.area_mm2, sample.height_mm});
    }
    bool by_pieces = false;
    Taken t{i, {}};
    bool anything = lookDown(field, item, from, to, t);
    t.cut = cutSweep(field, *item.cutter, item.sweep, from, to, by_pieces);
    anything = anything || t.cut.removed_mm > 0 || t.cut.bite_mm > 0;
    const float lowest = std::min(item.sweep.a_tip, item.sweep.b_tip);
    for (std::size_t k = 0; k < item.cutter->above.size() && k < std::size(t.above); ++k) {
      const Cutter::Above& body = item.cutter->above[k];
      if (lowest + body.bottom >= stock_top || (body.neck && !by_pieces)) continue;
      // A shank as wide as the cutter rubs along the wall that the cutter left: that wall's dexels begin within a cell.
      const float radius = body.wall > 0 ? std::max(body.radius, body.wall + cell) : body.radius;
      t.above[k] = materialAbove(field, item.sweep, radius, body.bottom, from, to);
      anything = anything || t.above[k] > 0;
    }
    if (anything) batch.taken[band].push_back(t);
    if (contacts && anything && lowest <= contacts->highest) {
      // A cell under the axis of a pointed tool is cut even where its centre is out of the tool's reach.
      const float radius = std::max(item.cutter->shape.radius, cell);
      noteLosses(field, item.sweep, radius, from, to, *contacts, batch.losses[band]);
    }
  }
}

// The leading half of each tool; `cell_mm`: the smaller side of a cell.
std::map<const Cutter*, LeadingHalf> leadingHalves(const Cutters& cutters, double cell_mm) {
  std::map<const Cutter*, LeadingHalf> out;
  for (const auto& [number, cutter] : cutters) {
    out.emplace(&cutter, cutter.undercut ? leadingHalf(cutter.pieces, cell_mm) : leadingHalf(cutter.shape, cell_mm));
  }
  return out;
}

// True if the width of cut means something for this motion.
bool cutsSideways(const Motion& m, double plan_mm) {
  return (m.kind == MotionKind::feed || m.kind == MotionKind::rapid || isArc(m)) &&
         std::fabs(m.end.z - m.start.z) <= plan_mm;
}

// Goes down more than this many times as far as to the side: 84 degrees.
constexpr double straight_down = 9.5;

bool goesDown(const Motion& m, double plan_mm, double times) {
  return moves(m) && m.kind != MotionKind::probe && m.start.z - m.end.z > times * plan_mm;
}

bool cutsAtCentre(const Job& job, int number) {
  const Tool* tool = findTool(job, number);
  return !tool || tool->center_cutting;
}

double planLength(std::span<const Sweep> sweeps) {
  double length = 0;
  for (const Sweep& s : sweeps) length += std::hypot(s.bx - s.ax, s.by - s.ay);
  return length;
}

// Max reach of a sweep's tool in plan: the bodies above count only where they are low enough to meet the stock.
double reach(const Item& item, float stock_top) {
  float r = item.cutter->shape.radius;
  const float lowest = std::min(item.sweep.a_tip, item.sweep.b_tip);
  for (const Cutter::Above& body : item.cutter->above) {
    if (lowest + body.bottom < stock_top) r = std::max(r, body.radius);
  }
  return double{r};
}

// Adds an item to the batch, and to the bands that it may touch.
void addItem(const DexelField& field, const Item& item, Batch& batch) {
  const Sweep& s = item.sweep;
  const double r = reach(item, stockTop(field)) + coarseSide(field);
  const double low = (std::min(s.ay, s.by) - r) / field.cell_y_mm, high = (std::max(s.ay, s.by) + r) / field.cell_y_mm;
  if (high < 0 || low >= field.ny) return;
  const int rows = rowsPerBand(field);
  const int first = static_cast<int>(std::max(0.0, low)) / rows;
  const int last = static_cast<int>(std::min<double>(high, field.ny - 1)) / rows;
  for (int b = first; b <= last; ++b) batch.touching[b].push_back(static_cast<std::uint32_t>(batch.items.size()));
  batch.items.push_back(item);
}

void addMotion(Cutting& c, std::size_t m, std::vector<Sweep>& sweeps, Batch& batch) {
  const Motion& motion = c.motions[m];
  const auto cutter = c.cutters.find(motion.tool);
  if (!moves(motion) || cutter == c.cutters.end()) return;
  const double coarse = coarseSide(c.field);
  const float stock_top = stockTop(c.field);
  sweeps.clear();
  appendSweeps(motion, static_cast<std::uint32_t>(m), c.setup, c.job.machine, 0.05 * fineSide(c.field), sweeps);
  const LeadingHalf* leading = nullptr;
  bool looks_at_centre = false, looks_below = false;
  if (c.options.measured) {
    EngagementSection& section = c.sections[m];
    section.plan_mm = planLength(sweeps);
    section.diameter_mm = 2 * cutter->second.shape.radius;
    section.sideways = cutsSideways(motion, section.plan_mm);
    if (section.sideways && section.plan_mm >= 2 * coarse) leading = &c.leading.at(&cutter->second);
    looks_at_centre = goesDown(motion, section.plan_mm, 1) && !cutsAtCentre(c.job, motion.tool);
    looks_below = goesDown(motion, section.plan_mm, straight_down);
  }
  for (const Sweep& s : sweeps) {
    Item item{s, &cutter->second};
    item.first_sample = item.end_sample = static_cast<std::uint32_t>(batch.samples.size());
    const bool in_stock = std::min(s.a_tip, s.b_tip) < stock_top;
    if (leading && in_stock) {
      item.leading = leading;
      appendSamples(s, *leading, coarse, isArc(motion), &s == &sweeps.back(), batch.samples);
      item.end_sample = static_cast<std::uint32_t>(batch.samples.size());
    }
    item.looks_at_centre = looks_at_centre && in_stock;
    item.looks_below = looks_below && std::min(s.a_tip, s.b_tip) < stock_top + look_below_mm;
    if (in_stock || item.looks_below || !item.cutter->above.empty()) addItem(c.field, item, batch);
  }
}

// The next motions of the program, from the end of the batch before.
void fillBatch(Cutting& c, Batch& batch) {
  batch.begin = batch.end;
  batch.items.clear();
  batch.samples.clear();
  batch.samples_end.clear();
  for (auto& t : batch.touching) t.clear();
  for (auto& t : batch.taken) t.clear();
  for (auto& s : batch.seen) s.clear();
  std::vector<Sweep> sweeps;
  while (batch.end < c.motions.size() && batch.end < batch.begin + motions_per_batch &&
         batch.samples.size() < samples_per_batch) {
    addMotion(c, batch.end++, sweeps, batch);
    batch.samples_end.push_back(batch.samples.size());
  }
}

// Bodies above the cutter that met the stock: by motion, then by Cutter::above.
using Bodies = std::map<std::pair<std::uint32_t, std::size_t>, BodyInStock>;

void addBodies(const Setup& setup, const Item& item, const Taken& t, Bodies& bodies) {
  for (std::size_t k = 0; k < item.cutter->above.size() && k < std::size(t.above); ++k) {
    if (t.above[k] <= no_material_mm) continue;
    const Cutter::Above& body = item.cutter->above[k];
    BodyInStock& seen = bodies[{item.sweep.motion, k}];
    if (shownHeight_mm(t.above[k]) <= seen.depth_mm) continue;
    const bool end_is_lower = item.sweep.b_tip <= item.sweep.a_tip;
    const SetupPoint tip = end_is_lower ? SetupPoint{item.sweep.bx, item.sweep.by, shownHeight_mm(item.sweep.b_tip)}
                                        : SetupPoint{item.sweep.ax, item.sweep.ay, shownHeight_mm(item.sweep.a_tip)};
    seen = {item.sweep.motion, body.part, body.attachment, shownHeight_mm(t.above[k]), setupToWork(setup, tip)};
  }
}

// Adds up what the bands took, in their order: sums do not depend on which thread was first.
void addTaken(Cutting& c, const Batch& batch) {
  Bodies bodies;
  for (const auto& band : batch.taken) {
    for (const Taken& t : band) {
      const Item& item = batch.items[t.sweep];
      MoveCut& cut = c.result.cuts[item.sweep.motion];
      cut.removed_mm3 += static_cast<float>(t.cut.removed_mm * c.field.cellArea_mm2());
      cut.axial_depth_mm = std::max(cut.axial_depth_mm, t.cut.axial_depth_mm);
      cut.bite_mm = std::max(cut.bite_mm, t.cut.bite_mm);
      if (c.options.measured) {
        EngagementSection& section = c.sections[item.sweep.motion];
        section.height_mm = std::max({section.height_mm, t.cut.axial_depth_mm, t.cut.wall_mm});
        section.doubtful_height_mm = std::max(section.doubtful_height_mm, t.cut.doubtful_wall_mm);
      }
      cut.broken_mm = std::max(cut.broken_mm, t.cut.broken_mm);
      cut.centre_depth_mm = std::max(cut.centre_depth_mm, t.centre_depth_mm);
      cut.ends_above_mm = std::min(cut.ends_above_mm, t.ends_above_mm);
      addBodies(c.setup, item, t, bodies);
    }
  }
  for (const auto& [key, body] : bodies) c.result.bodies_in_stock.push_back(body);
}

void measure(Cutting& c, Batch& batch) {
  for (const auto& band : batch.seen) {
    for (const Seen& s : band) {
      SectionSample& sample = batch.samples[s.sample];
      sample.area_mm2 += s.area;
      sample.height_mm = std::max(sample.height_mm, s.height);
    }
  }
  for (std::size_t m = batch.begin, first = 0; m < batch.end; ++m) {
    const std::size_t end = batch.samples_end[m - batch.begin];
    EngagementSection& section = c.sections[m];
    const bool is_short = section.plan_mm < 2 * coarseSide(c.field);  // its neighbours may know better
    if (section.height_mm <= 0 && !is_short) section.height_mm = section.doubtful_height_mm;
    measureEngagement(section, std::span(batch.samples).subspan(first, end - first), c.result.cuts[m]);
    first = end;
  }
}

}  // namespace

CutResult cutProgram(DexelField& field, const Cutters& cutters, const Job& job, const Setup& setup,
                     std::span<const Motion> motions, CutOptions options) {
  Cutting c{field, cutters, job, setup, motions, options, {}, {}, {}};
  c.result.cuts.resize(motions.size());
  if (options.measured) {
    c.leading = leadingHalves(cutters, fineSide(field));
    c.sections.resize(motions.size());
  }
  const bool undercuts = std::any_of(motions.begin(), motions.end(), [&](const Motion& m) {
    const auto cutter = cutters.find(m.tool);
    return cutter != cutters.end() && mayUndercut(cutter->second);
  });
  if (undercuts) field.undercut.prepare(field.top.size(), field.ny);

  const int bands = bandsOf(field);
  Batch batch;
  batch.touching.resize(bands);
  batch.taken.resize(bands);
  batch.seen.resize(bands);
  batch.losses.resize(bands);
  while (batch.end < motions.size()) {
    fillBatch(c, batch);
    tbb::parallel_for(tbb::blocked_range<int>(0, bands, 1), [&](const tbb::blocked_range<int>& range) {
      for (int b = range.begin(); b < range.end(); ++b) cutBand(field, batch, b, options.contacts);
    });
    addTaken(c, batch);
    if (options.measured) measure(c, batch);
  }
  if (options.measured) shareShortMoves(motions, c.sections, 2 * coarseSide(field), c.result.cuts);
  closePlainCells(field);
  if (options.contacts) gatherLosses(batch.losses, motions.size(), *options.contacts);
  return std::move(c.result);
}

}  // namespace provecut::cutting
