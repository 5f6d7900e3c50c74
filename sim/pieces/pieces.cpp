#include "sim/pieces/pieces.h"

#include <algorithm>
#include <limits>
#include <map>
#include <unordered_map>

#include "sim/numeric/union_find.h"

namespace provecut::pieces {

namespace {

// A crumb is smaller than this or nowhere three cells wide.
constexpr double crumb_area_mm2 = 4;

bool touches(const cutting::DexelField& f, std::size_t a, std::size_t b) {
  return std::min(f.top[a], f.top[b]) - std::max(f.floor[a], f.floor[b]) > cutting::no_material_mm;
}

// The sets of an undercut cell's runs, from below.
using Layers = std::unordered_map<std::size_t, std::vector<std::uint32_t>>;

// Joins the runs of two dexels side by side of which one at least is an undercut cell.
void joinSegments(const cutting::DexelField& f, std::size_t a, std::size_t b, const std::vector<std::int32_t>& label,
                  const Layers& layers, UnionFind& sets) {
  if (label[a] == 0 || label[b] == 0) return;
  cutting::DexelSegment plain_a, plain_b;
  const auto runs_a = cutting::centreSegments(f, a, plain_a), runs_b = cutting::centreSegments(f, b, plain_b);
  const auto setOf = [&](std::size_t c, std::size_t run) {
    const auto layer = layers.find(c);
    return layer == layers.end() ? static_cast<std::uint32_t>(label[c]) : layer->second[run];
  };
  for (std::size_t i = 0; i < runs_a.size(); ++i) {
    for (std::size_t k = 0; k < runs_b.size(); ++k) {
      const float overlap = std::min(runs_a[i].high, runs_b[k].high) - std::max(runs_a[i].low, runs_b[k].low);
      if (overlap > cutting::no_material_mm) sets.join(setOf(a, i), setOf(b, k));
    }
  }
}

}  // namespace

Pieces labelPieces(const cutting::DexelField& field, const std::vector<std::uint8_t>* left_out) {
  Pieces pieces;
  pieces.label.assign(field.top.size(), 0);
  auto& label = pieces.label;
  const auto solid = [&](std::size_t c) {
    return !(left_out && (*left_out)[c]) && field.thickness(c) > cutting::no_material_mm;
  };
  const auto stride = static_cast<std::size_t>(field.stride);

  UnionFind sets(1);  // 0 stands for "nothing"
  Layers layers;
  for (int y = 0; y < field.ny; ++y) {
    const std::size_t row = field.index(0, y);
    std::uint32_t run = 0;
    std::int32_t joined = 0;  // what the run met last in the row before
    for (std::size_t c = row, end = row + static_cast<std::size_t>(field.nx); c < end; ++c) {
      if (!solid(c)) {
        run = 0;
        continue;
      }
      const bool undercut = field.undercut.holds(c), beside = c > row && field.undercut.holds(c - 1);
      const bool before = y > 0 && field.undercut.holds(c - stride);
      if (undercut) {
        auto& ids = layers[c];
        for (std::size_t k = field.undercut.at(c, y).atCentre().size(); k > 0; --k) ids.push_back(sets.add());
        run = ids.front();
        joined = 0;
      } else if (run == 0 || beside || !touches(field, c - 1, c)) {
        run = sets.add();
        joined = 0;
      }
      label[c] = static_cast<std::int32_t>(run);
      if (c > row && (undercut || beside)) joinSegments(field, c, c - 1, label, layers, sets);
      if (y > 0 && (undercut || before)) {
        joinSegments(field, c, c - stride, label, layers, sets);
      } else if (y > 0 && label[c - stride] != 0 && label[c - stride] != joined && touches(field, c - stride, c)) {
        joined = label[c - stride];
        sets.join(run, static_cast<std::uint32_t>(joined));
      }
    }
  }

  std::vector<std::int32_t> number(sets.size(), 0);
  std::vector<bool> wide;
  const double area = field.cellArea_mm2();
  const auto numberOf = [&](std::uint32_t set, std::size_t c) {
    const std::uint32_t root = sets.find(set);
    if (number[root] == 0) {
      pieces.shapes.push_back({});
      pieces.shapes.back().seed = c;
      wide.push_back(false);
      number[root] = static_cast<std::int32_t>(pieces.shapes.size());
    }
    return number[root];
  };
  // Cells from..to of row y, their material between the two heights.
  const auto addTo = [&](std::int32_t piece, int from, int to, int y, cutting::DexelSegment run, double volume_mm3) {
    PieceShape& shape = pieces.shapes[static_cast<std::size_t>(piece - 1)];
    shape.volume_mm3 += volume_mm3;
    shape.box.add(SetupPoint{field.centreX(from) - field.cell_x_mm / 2, field.centreY(y) - field.cell_y_mm / 2,
                             cutting::shownHeight_mm(run.low)});
    shape.box.add(SetupPoint{field.centreX(to) + field.cell_x_mm / 2, field.centreY(y) + field.cell_y_mm / 2,
                             cutting::shownHeight_mm(run.high)});
  };
  const auto volumeOf = [&](std::size_t c) {
    return area * static_cast<double>(std::max(0.0F, field.meanThickness(c)));
  };
  for (int y = 0; y < field.ny; ++y) {
    for (int x = 0; x < field.nx; ++x) {
      const std::size_t c = field.index(x, y);
      if (label[c] == 0) continue;
      int last = x;
      if (const auto layer = layers.find(c); layer != layers.end()) {
        const auto runs = field.undercut.at(c, y).atCentre();
        const double solid_height = static_cast<double>(cutting::solid_mm(field, c));
        std::map<std::int32_t, float> heights;  // by piece
        for (std::size_t k = 0; k < runs.size(); ++k) {
          const std::int32_t piece = numberOf(layer->second[k], c);
          heights[piece] += runs[k].high - runs[k].low;
          addTo(piece, x, x, y, runs[k], volumeOf(c) * static_cast<double>(runs[k].high - runs[k].low) / solid_height);
        }
        for (const auto& [piece, height] : heights)
          pieces.shapes[static_cast<std::size_t>(piece - 1)].plan_area_mm2 += area;
        label[c] = std::max_element(heights.begin(), heights.end(), [](const auto& p, const auto& q) {
                     return p.second < q.second;
                   })->first;
        if (heights.size() > 1) {
          pieces.layered_mm2 += area;
          pieces.layered_at = c;
        }
      } else {
        // All cells of the row that follow in the same set.
        const std::int32_t set = label[c], piece = numberOf(static_cast<std::uint32_t>(set), c);
        cutting::DexelSegment run{field.floor[c], field.top[c]};
        double volume_mm3 = 0;
        std::size_t k = c;
        for (const std::size_t end = field.index(field.nx, y); k < end && label[k] == set; ++k) {
          run.low = std::min(run.low, field.floor[k]);
          run.high = std::max(run.high, field.top[k]);
          volume_mm3 += volumeOf(k);
          label[k] = piece;
        }
        last = x + static_cast<int>(k - c) - 1;
        addTo(piece, x, last, y, run, volume_mm3);
        pieces.shapes[static_cast<std::size_t>(piece - 1)].plan_area_mm2 += static_cast<double>(k - c) * area;
      }
      // Three cells wide and deep, seen from its last cell: the labels behind are final.
      for (const auto k = static_cast<std::size_t>(label[c] - 1); x <= last; ++x) {
        if (wide[k] || x < 2 || y < 2) continue;
        const std::size_t corner = field.index(x, y);
        bool all = true;
        for (std::size_t back_y = 0; back_y < 3 && all; ++back_y) {
          for (std::size_t back_x = 0; back_x < 3 && all; ++back_x)
            all = label[corner - back_y * stride - back_x] == label[c];
        }
        if (all) {
          wide[k] = true;
          pieces.shapes[k].seed = corner - stride - 1;
        }
      }
      x = last;
    }
  }
  for (std::size_t k = 0; k < pieces.shapes.size(); ++k) {
    pieces.shapes[k].crumb = !wide[k] || pieces.shapes[k].plan_area_mm2 < crumb_area_mm2;
  }
  return pieces;
}

std::vector<std::uint32_t> partingMotions(const cutting::DexelField& after, const Pieces& pieces,
                                          const cutting::CutStamps& stamps) {
  constexpr std::uint32_t none = std::numeric_limits<std::uint32_t>::max();
  std::vector<std::uint32_t> parted(pieces.shapes.size(), none);

  // Contacts that the cut took away, with the time of their loss: the sooner of the two dexels' going.
  struct Loss {
    std::uint32_t stamp;
    std::uint32_t a, b;
  };
  std::vector<Loss> losses;
  const auto held = [&](std::size_t c) {
    return after.thickness(c) > cutting::no_material_mm || stamps.through[c] != 0;
  };
  const auto goneAt = [&](std::size_t c, std::size_t n) {
    // A step between the two undersides: the contact ends when the lower one no longer reaches the higher floor.
    const bool step = after.floor[n] > after.floor[c] + cutting::no_material_mm;
    return step ? stamps.parted[c] : stamps.through[c];
  };
  const auto look = [&](std::size_t c, std::size_t n) {
    if (!held(c) || !held(n)) return;
    if (pieces.label[c] != 0 && pieces.label[c] == pieces.label[n]) return;
    const std::uint32_t c_gone = goneAt(c, n), n_gone = goneAt(n, c);
    if (c_gone == 0 && n_gone == 0) return;
    const std::uint32_t stamp = c_gone == 0 ? n_gone : n_gone == 0 ? c_gone : std::min(c_gone, n_gone);
    losses.push_back({stamp, static_cast<std::uint32_t>(c), static_cast<std::uint32_t>(n)});
  };
  for (int y = 0; y < after.ny; ++y) {
    for (int x = 0; x < after.nx; ++x) {
      const std::size_t c = after.index(x, y);
      if (x > 0) look(c, c - 1);
      if (y > 0) look(c, c - static_cast<std::size_t>(after.stride));
    }
  }
  std::stable_sort(losses.begin(), losses.end(), [](const Loss& p, const Loss& q) { return p.stamp > q.stamp; });

  // Dexels that are gone, of those that lost a contact: the sets are these and the pieces.
  std::vector<std::uint32_t> gone;
  for (const Loss& loss : losses) {
    for (const std::uint32_t c : {loss.a, loss.b}) {
      if (pieces.label[c] == 0) gone.push_back(c);
    }
  }
  std::sort(gone.begin(), gone.end());
  gone.erase(std::unique(gone.begin(), gone.end()), gone.end());

  // What a set of dexels that came back stands for: nothing yet (lost dexels and crumbs), one piece that has met no
  // other, or pieces whose parting is known.
  constexpr std::uint32_t nothing = 0, all_known = none;
  UnionFind sets(pieces.shapes.size() + 1 + gone.size());
  std::vector<std::uint32_t> stands_for(sets.size(), nothing);
  for (std::uint32_t l = 1; l <= pieces.shapes.size(); ++l) {
    if (!pieces.shape(static_cast<std::int32_t>(l)).crumb) stands_for[l] = l;
  }
  const auto node = [&](std::uint32_t c) {
    const std::int32_t l = pieces.label[c];
    if (l != 0) return static_cast<std::uint32_t>(l);
    const auto place = std::lower_bound(gone.begin(), gone.end(), c) - gone.begin();
    return static_cast<std::uint32_t>(pieces.shapes.size() + 1 + static_cast<std::size_t>(place));
  };
  for (const Loss& loss : losses) {
    const std::uint32_t a = sets.find(node(loss.a)), b = sets.find(node(loss.b));
    if (a == b) continue;
    const std::uint32_t of_a = stands_for[a], of_b = stands_for[b];
    std::uint32_t joined = of_a == nothing ? of_b : of_a;
    if (of_a != nothing && of_b != nothing) {
      for (const std::uint32_t l : {of_a, of_b}) {
        if (l != all_known) parted[l - 1] = loss.stamp - 1;
      }
      joined = all_known;
    }
    stands_for[sets.join(a, b)] = joined;
  }
  return parted;
}

}  // namespace provecut::pieces
