#include "sim/stock/cut.h"

#include <tbb/blocked_range.h>
#include <tbb/parallel_for.h>

#include <algorithm>
#include <cmath>

#include "sim/path/setup_frame.h"
#include "sim/path/sweep.h"
#include "sim/stock/engagement.h"
#include "sim/stock/engagement_section.h"
#include "sim/stock/undercut.h"

namespace provecut::cutting {

namespace {

constexpr std::size_t motions_per_batch = 1 << 16;
constexpr std::size_t samples_per_batch = 1 << 20;

// What one sweep took in one band of rows.
struct Taken {
  std::uint32_t sweep;
  SweepCut cut;
  float above[4] = {0, 0, 0, 0};  // per Cutter::above, the first four
};

// A sweep with its tool, and the samples of its front: [first_sample, end_sample) of the batch's.
struct Item {
  Sweep sweep;
  const Cutter* cutter;
  const CutterFront* front = nullptr;
  std::uint32_t first_sample = 0, end_sample = 0;
};

// What one band of rows holds in front of a sweep at one place.
struct Seen {
  std::uint32_t sample;
  float area, height;
};

int rowsPerBand(const DexelField& field) {
  return std::clamp(field.ny / 32, 16, 64);
}

void stampRows(const DexelField& field, const CutterShape& shape, const Sweep& sweep, int from, int to,
               CutStamps& stamps) {
  const double r = static_cast<double>(shape.radius) + std::max(field.cell_x_mm, field.cell_y_mm);
  const int row_from =
      std::max(from, static_cast<int>(std::floor((std::min(sweep.ay, sweep.by) - r) / field.cell_y_mm)));
  const int row_to =
      std::min(to, static_cast<int>(std::ceil((std::max(sweep.ay, sweep.by) + r) / field.cell_y_mm)) + 1);
  const int x_from = std::max(0, static_cast<int>(std::floor((std::min(sweep.ax, sweep.bx) - r) / field.cell_x_mm)));
  const int x_to =
      std::min(field.nx, static_cast<int>(std::ceil((std::max(sweep.ax, sweep.bx) + r) / field.cell_x_mm)) + 1);
  const std::uint32_t stamp = sweep.motion + 1;
  for (int y = row_from; y < row_to; ++y) {
    for (std::size_t c = field.index(x_from, y), end = field.index(std::max(x_from, x_to), y); c < end; ++c) {
      if (stamps.parted[c] == 0 && field.top[c] <= stamps.part_level[c] + no_material_mm) stamps.parted[c] = stamp;
      if (stamps.through[c] == 0 && field.thickness(c) <= no_material_mm) stamps.through[c] = stamp;
    }
  }
}

// Cuts the items, which are in order, within one band of rows.
void cutBand(DexelField& field, std::span<const Item> items, std::span<const std::uint32_t> touching, int from, int to,
             CutStamps* stamps, std::span<const FrontSample> samples, std::vector<Taken>& taken,
             std::vector<Seen>& seen) {
  const float stock_top = static_cast<float>(field.thickness_mm);
  const float cell = static_cast<float>(std::max(field.cell_x_mm, field.cell_y_mm));
  for (const std::uint32_t i : touching) {
    const Item& item = items[i];
    for (std::uint32_t k = item.first_sample; k < item.end_sample; ++k) {
      FrontSample sample = samples[k];
      addFront(field, *item.front, item.sweep, from, to, sample);
      if (sample.area_mm2 > 0) seen.push_back({k, sample.area_mm2, sample.height_mm});
    }
    bool by_pieces = false;
    Taken t{i, cutSweep(field, *item.cutter, item.sweep, from, to, by_pieces)};
    bool anything = t.cut.removed_mm > 0 || t.cut.bite_mm > 0;
    const float lowest = std::min(item.sweep.a_tip, item.sweep.b_tip);
    for (std::size_t k = 0; k < item.cutter->above.size() && k < std::size(t.above); ++k) {
      const Cutter::Above& body = item.cutter->above[k];
      if (lowest + body.bottom >= stock_top || (body.neck && !by_pieces)) continue;
      // A shank as wide as the cutter rubs along the wall that the cutter left: that wall's dexels begin within a cell.
      const float radius = body.wall > 0 ? std::max(body.radius, body.wall + cell) : body.radius;
      t.above[k] = materialAbove(field, item.sweep, radius, body.bottom, from, to);
      anything = anything || t.above[k] > 0;
    }
    if (anything) taken.push_back(t);
    if (stamps && anything) stampRows(field, item.cutter->shape, item.sweep, from, to, *stamps);
  }
}

// A front for each tool; `cell` the smaller side of a cell.
std::map<const Cutter*, CutterFront> fronts(const Cutters& cutters, double cell) {
  std::map<const Cutter*, CutterFront> out;
  for (const auto& [number, cutter] : cutters) {
    out.emplace(&cutter, cutter.undercut ? cutterFront(cutter.pieces, cell) : cutterFront(cutter.shape, cell));
  }
  return out;
}

// Whether the width of cut means something for this motion.
bool cutsSideways(const Motion& m, double plan_mm) {
  return (m.kind == MotionKind::feed || isArc(m)) && std::fabs(m.end.z - m.start.z) <= plan_mm;
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
  return static_cast<double>(r);
}

}  // namespace

CutStamps makeStamps(const DexelField& field) {
  CutStamps s;
  s.through.assign(field.top.size(), 0);
  s.parted.assign(field.top.size(), 0);
  s.part_level = field.floor;
  for (int y = 0; y < field.ny; ++y) {
    for (int x = 0; x < field.nx; ++x) {
      const std::size_t c = field.index(x, y);
      const auto meet = [&](int nx, int ny) {
        if (!field.inside(nx, ny)) return;
        const std::size_t n = field.index(nx, ny);
        if (field.thickness(n) > no_material_mm) s.part_level[c] = std::max(s.part_level[c], field.floor[n]);
      };
      meet(x - 1, y);
      meet(x + 1, y);
      meet(x, y - 1);
      meet(x, y + 1);
    }
  }
  return s;
}

CutResult cutProgram(DexelField& field, const Cutters& cutters, const Job& job, const Setup& setup,
                     std::span<const Motion> motions, CutOptions options) {
  CutResult result;
  result.cuts.resize(motions.size());
  const float stock_top = static_cast<float>(field.thickness_mm);
  const int rows = rowsPerBand(field);
  const std::size_t bands = static_cast<std::size_t>((field.ny + rows - 1) / rows);
  const double chord_error = 0.05 * std::min(field.cell_x_mm, field.cell_y_mm);
  const double area = field.cellArea_mm2();

  const double fine = std::min(field.cell_x_mm, field.cell_y_mm), coarse = std::max(field.cell_x_mm, field.cell_y_mm);
  const bool measured = options.measured;
  const auto front_of = measured ? fronts(cutters, fine) : std::map<const Cutter*, CutterFront>{};
  std::vector<EngagementSection> meetings(measured ? motions.size() : 0);
  std::vector<FrontSample> samples;
  std::vector<std::uint32_t> samples_end;  // per motion of the batch
  const bool undercuts = std::any_of(motions.begin(), motions.end(), [&](const Motion& m) {
    const auto cutter = cutters.find(m.tool);
    return cutter != cutters.end() && mayUndercut(cutter->second);
  });
  if (undercuts) field.undercut.prepare(field.top.size(), field.ny);

  std::vector<Sweep> sweeps;
  std::vector<Item> items;
  std::vector<std::vector<std::uint32_t>> touching(bands);
  std::vector<std::vector<Taken>> taken(bands);
  std::vector<std::vector<Seen>> seen_by(bands);
  for (std::size_t batch = 0, batch_end = 0; batch < motions.size(); batch = batch_end) {
    items.clear();
    samples.clear();
    samples_end.clear();
    for (auto& t : touching) t.clear();
    for (auto& t : taken) t.clear();
    for (auto& s : seen_by) s.clear();
    for (std::size_t m = batch;
         m < motions.size() && m < batch + motions_per_batch && samples.size() < samples_per_batch; ++m) {
      batch_end = m + 1;
      if (m > batch) samples_end.push_back(static_cast<std::uint32_t>(samples.size()));
      if (!moves(motions[m])) continue;
      const auto cutter = cutters.find(motions[m].tool);
      if (cutter == cutters.end()) continue;
      sweeps.clear();
      appendSweeps(motions[m], static_cast<std::uint32_t>(m), setup, job.machine, chord_error, sweeps);
      const CutterFront* front = nullptr;
      if (measured) {
        EngagementSection& meeting = meetings[m];
        meeting.plan_mm = planLength(sweeps);
        meeting.diameter_mm = 2 * cutter->second.shape.radius;
        meeting.sideways = cutsSideways(motions[m], meeting.plan_mm);
        if (meeting.sideways && meeting.plan_mm >= 2 * coarse) front = &front_of.at(&cutter->second);
      }
      for (const Sweep& s : sweeps) {
        Item item{s, &cutter->second};
        item.first_sample = item.end_sample = static_cast<std::uint32_t>(samples.size());
        if (front && std::min(s.a_tip, s.b_tip) < stock_top) {
          item.front = front;
          appendFrontSamples(s, *front, coarse, isArc(motions[m]), &s == &sweeps.back(), samples);
          item.end_sample = static_cast<std::uint32_t>(samples.size());
        }
        if (std::min(s.a_tip, s.b_tip) >= stock_top && item.cutter->above.empty()) continue;
        const double r = reach(item, stock_top) + std::max(field.cell_x_mm, field.cell_y_mm);
        const double low = (std::min(s.ay, s.by) - r) / field.cell_y_mm,
                     high = (std::max(s.ay, s.by) + r) / field.cell_y_mm;
        if (high < 0 || low >= field.ny) continue;
        const auto first = static_cast<std::size_t>(std::max(0.0, low)) / static_cast<std::size_t>(rows);
        const auto last = std::min(bands - 1, static_cast<std::size_t>(high) / static_cast<std::size_t>(rows));
        for (std::size_t b = first; b <= last; ++b) touching[b].push_back(static_cast<std::uint32_t>(items.size()));
        items.push_back(item);
      }
    }
    samples_end.push_back(static_cast<std::uint32_t>(samples.size()));
    tbb::parallel_for(tbb::blocked_range<std::size_t>(0, bands, 1), [&](const tbb::blocked_range<std::size_t>& range) {
      for (std::size_t b = range.begin(); b < range.end(); ++b) {
        const int from = static_cast<int>(b) * rows;
        cutBand(field, items, touching[b], from, std::min(field.ny, from + rows), options.stamps, samples, taken[b],
                seen_by[b]);
      }
    });
    // Bands in their order: sums do not depend on which thread was first.
    std::map<std::pair<std::uint32_t, std::size_t>, BodyInStock> bodies;
    for (const auto& band : taken) {
      for (const Taken& t : band) {
        const Item& item = items[t.sweep];
        MoveCut& cut = result.cuts[item.sweep.motion];
        cut.removed_mm3 += static_cast<float>(t.cut.removed_mm * area);
        cut.axial_depth_mm = std::max(cut.axial_depth_mm, t.cut.axial_depth_mm);
        cut.bite_mm = std::max(cut.bite_mm, t.cut.bite_mm);
        if (measured) {
          float& height = meetings[item.sweep.motion].height_mm;
          height = std::max({height, t.cut.axial_depth_mm, t.cut.wall_mm});
        }
        cut.broken_mm = std::max(cut.broken_mm, t.cut.broken_mm);
        for (std::size_t k = 0; k < item.cutter->above.size() && k < std::size(t.above); ++k) {
          if (t.above[k] <= no_material_mm) continue;
          const Cutter::Above& body = item.cutter->above[k];
          BodyInStock& seen = bodies[{item.sweep.motion, k}];
          if (shownHeight_mm(t.above[k]) <= seen.depth_mm) continue;
          const bool end_is_lower = item.sweep.b_tip <= item.sweep.a_tip;
          const SetupPoint tip = end_is_lower
                                     ? SetupPoint{item.sweep.bx, item.sweep.by, shownHeight_mm(item.sweep.b_tip)}
                                     : SetupPoint{item.sweep.ax, item.sweep.ay, shownHeight_mm(item.sweep.a_tip)};
          seen = {item.sweep.motion, body.part, body.attachment, shownHeight_mm(t.above[k]), setupToWork(setup, tip)};
        }
      }
    }
    for (const auto& [key, body] : bodies) result.bodies_in_stock.push_back(body);
    for (const auto& band : seen_by) {
      for (const Seen& s : band) {
        samples[s.sample].area_mm2 += s.area;
        samples[s.sample].height_mm = std::max(samples[s.sample].height_mm, s.height);
      }
    }
    for (std::size_t m = batch, first = 0; measured && m < batch_end; ++m) {
      const std::size_t end = samples_end[m - batch];
      measureEngagement(meetings[m], std::span(samples).subspan(first, end - first), result.cuts[m]);
      first = end;
    }
  }
  if (measured) shareShortMoves(motions, meetings, 2 * coarse, result.cuts);
  closePlainCells(field);
  return result;
}

}  // namespace provecut::cutting
