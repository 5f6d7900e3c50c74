#include "sim/placing/free_spot.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <queue>

#include "sim/clearance/clearance.h"
#include "sim/clearance/on_stock.h"
#include "sim/path/cut_round.h"
#include "sim/path/path.h"
#include "sim/path/setup_frame.h"
#include "sim/placing/keep_out.h"

namespace provecut::placing {

namespace {

constexpr double longest_way_mm = 150, tolerance_mm = 0.01;
constexpr double edge_in_shafts = 5;  // trade page §3.2: split risk; from memory

struct ProgramAt {
  const Setup* setup = nullptr;
  const ProgramEntry* entry = nullptr;
};

std::vector<ProgramAt> inOrder(const Job& job) {
  std::vector<ProgramAt> all;
  for (const Setup& setup : job.setups) {
    for (const ProgramEntry& entry : setup.programs) all.push_back({&setup, &entry});
  }
  return all;
}

// Cuts below the top of the stock seen from above, in setup `lies`: what may go round a place.
std::vector<Stretch> cutsOf(const Job& job, const Programs& programs, const Setup& lies) {
  std::vector<Stretch> cuts;
  const std::vector<ProgramAt> all = inOrder(job);
  for (std::size_t i = 0; i < programs.size(); ++i) {
    const Setup& setup = *all[i].setup;
    const double top = stockSizeInSetup(job.stock, setup).z;
    const auto there = [&](SetupPoint p) { return setupToSetup(job.stock, setup, lies, flat(p)); };
    for (const Motion& m : programs[i].motions) {
      if (!moves(m) || m.kind == MotionKind::rapid || std::min(m.start.z, m.end.z) + setup.zero_mm.z >= top) continue;
      const PathPiece piece = pathOf(m, setup.zero_mm, job.machine).pieces[0];
      // Chords leave the arc by so much that a place between the two counts as near the cut.
      const int chords = piece.arc ? 8 + static_cast<int>(std::fabs(piece.sweep) * 4) : 1;
      const double error = chordError(piece, std::fabs(piece.sweep) / chords);
      for (int k = 0; k < chords; ++k) {
        cuts.push_back({there(pointAt(piece, static_cast<double>(k) / chords)),
                        there(pointAt(piece, (k + 1.0) / chords)), error, error, 0});
      }
    }
  }
  return cuts;
}

struct Square {
  double key = 0;               // no place in it is nearer to home
  long x = 0, y = 0, side = 0;  // first place and their number along a side, in steps from home
  std::vector<const Stretch*> near, cuts;
  bool no_part = false;  // known to lie in no part
};

struct Later {
  bool operator()(const Square& a, const Square& b) const {
    // Of two that are as near, the one that comes first in reading order: results do not depend on the heap.
    if (a.key != b.key) return a.key > b.key;
    return a.y != b.y ? a.y > b.y : a.x > b.x;
  }
};

struct Finder {
  const Job& job;
  Programs programs;
  const SpotSearch& search;
  const Setup& setup;
  const HoldDown& hold_down;
  SetupPoint2 home;
  clearance::Obstacle form, at_home;
  Footprint footprint;
  std::vector<ProgramAt> order;
  std::vector<Vec3> stocks;
  std::vector<clearance::Obstacle> others;
  std::vector<bool> round_home;  // per program of the job

  SetupPoint2 place(double x, double y) const { return home + Vec2{x * search.step_mm, y * search.step_mm}; }

  bool fits(const clearance::Obstacle& there) const {
    for (const Vec3 stock : stocks) {
      if (clearance::lieOn(stock, there) != clearance::lieOn(stock, at_home)) return false;
      if (hold_down.kind == HoldDownKind::screw && edgeOf(stock, middle(there.low, there.high)) < edgeWanted(stock))
        return false;
    }
    return std::none_of(others.begin(), others.end(),
                        [&](const clearance::Obstacle& o) { return clearance::footprintsOverlap(o, there); });
  }
  static double edgeOf(Vec3 stock, SetupPoint2 p) { return std::min({p.x, p.y, stock.x - p.x, stock.y - p.y}); }
  double edgeWanted(Vec3 stock) const {
    return std::min(edge_in_shafts * hold_down.shaft_diameter_mm, edgeOf(stock, home)) - 1e-9;
  }

  // Whether no place of the square, at most `half` from its middle, can fit.
  bool never(SetupPoint2 middle, double half) const {
    const clearance::Obstacle there = clearance::shifted(form, middle - SetupPoint2{});
    for (const Vec3 stock : stocks) {
      const clearance::OnStock wanted = clearance::lieOn(stock, at_home);
      const bool off =
          there.high.x < -half || there.high.y < -half || there.low.x > stock.x + half || there.low.y > stock.y + half;
      const bool out =
          there.low.x < -half || there.low.y < -half || there.high.x > stock.x + half || there.high.y > stock.y + half;
      const bool in = there.low.x >= half && there.low.y >= half && there.high.x <= stock.x - half &&
                      there.high.y <= stock.y - half;
      if ((wanted == clearance::OnStock::on && out) || (wanted == clearance::OnStock::across && (in || off)) ||
          (wanted == clearance::OnStock::beside && in))
        return true;
    }
    return std::any_of(others.begin(), others.end(),
                       [&](const clearance::Obstacle& o) { return clearance::signedDistance(o, middle) < -half; });
  }

  bool inPart(SetupPoint2 p) const {
    const StockPoint2 stock = setupToStock(job.stock, setup, p);
    for (std::size_t i = 0; i < programs.size(); ++i) {
      if (!round_home[i] && cutGoesRound(job, *order[i].setup, programs[i], stock)) return true;
    }
    return false;
  }

  std::optional<SetupPoint2> find(const std::vector<Stretch>& keep_out, const std::vector<Stretch>& cuts) const {
    std::priority_queue<Square, std::vector<Square>, Later> open;
    const long reach = static_cast<long>(longest_way_mm / search.step_mm);
    long side = 1;
    while (side < 2 * reach + 1) side *= 2;
    Square all{0, -reach, -reach, side, {}, {}, hold_down.kind != HoldDownKind::screw};
    for (const Stretch& s : keep_out) all.near.push_back(&s);
    for (const Stretch& s : cuts) all.cuts.push_back(&s);
    open.push(std::move(all));
    while (!open.empty()) {
      Square s = open.top();
      open.pop();
      if (s.key > longest_way_mm) break;
      const double n = static_cast<double>(s.side - 1);
      const SetupPoint2 middle = place(static_cast<double>(s.x) + n / 2, static_cast<double>(s.y) + n / 2);
      const double half = n * search.step_mm * std::numbers::sqrt2 / 2;
      if (never(middle, half) || !narrow(s, middle, half)) continue;
      if (s.side == 1) {
        if (!fits(clearance::shifted(form, middle - SetupPoint2{})) || (!s.no_part && inPart(middle))) continue;
        if (isClearAt(job, programs, search, middle)) return middle;
        continue;
      }
      const long h = s.side / 2;
      for (const long y : {s.y, s.y + h}) {
        for (const long x : {s.x, s.x + h}) {
          const auto off = [](long first, long count) {  // of the nearest place from home
            return static_cast<double>(first > 0 ? first : first + count - 1 < 0 ? -(first + count - 1) : 0);
          };
          const double dx = off(x, h), dy = off(y, h);
          open.push({search.step_mm * std::sqrt(dx * dx + dy * dy), x, y, h, s.near, s.cuts, s.no_part});
        }
      }
    }
    return std::nullopt;
  }

  // Leaves only the stretches that decide within the square; false where it holds no place.
  bool narrow(Square& s, SetupPoint2 middle, double half) const {
    std::vector<const Stretch*> near;
    for (const Stretch* stretch : s.near) {
      const double v = keptOut(*stretch, footprint, middle, half);
      if (v < -half - tolerance_mm) return false;
      if (v < half) near.push_back(stretch);
    }
    s.near = std::move(near);
    if (s.no_part) return true;
    std::vector<const Stretch*> cuts;
    for (const Stretch* cut : s.cuts) {
      if (clearance::fromEdge({cut->a, cut->b}, middle).distance <= half + cut->reach0) cuts.push_back(cut);
    }
    s.cuts = std::move(cuts);
    // No cut runs through it: what goes round its middle goes round all of it.
    if (!s.cuts.empty()) return true;
    s.no_part = !inPart(middle);
    return s.no_part;
  }
};

}  // namespace

bool isClearAt(const Job& job, const Programs& programs, const SpotSearch& search, SetupPoint2 at) {
  const std::vector<ProgramAt> order = inOrder(job);
  const double wanted = job.limits.clearance_mm;
  Job alone;
  alone.machine = job.machine;
  alone.stock = job.stock;
  alone.tools = job.tools;
  alone.collet_nut = job.collet_nut;
  alone.spindle_attachments = job.spindle_attachments;
  alone.limits.clearance_mm = wanted;
  alone.hold_downs = {job.hold_downs[static_cast<std::size_t>(search.hold_down)]};
  HoldDown& h = alone.hold_downs[0];
  for (SetupPoint2& corner : h.outline_mm) corner = corner + (at - h.at_mm);
  h.at_mm = at;
  ProgramEntry entry;
  entry.hold_downs = {0};
  std::vector<Contact> contacts;
  std::vector<NearPass> near;
  for (const int p : search.programs) {
    const auto i = static_cast<std::size_t>(p);
    clearance::checkHoldDowns(alone, *order[i].setup, entry, programs[i], contacts, near);
    if (!contacts.empty() || !near.empty()) return false;
  }
  return true;
}

std::optional<SetupPoint2> nearestFreeSpot(const Job& job, const Programs& programs, const SpotSearch& search) {
  const Setup& setup = job.setups[static_cast<std::size_t>(search.setup)];
  const HoldDown& h = job.hold_downs[static_cast<std::size_t>(search.hold_down)];
  const double top = stockSizeInSetup(job.stock, setup).z;
  Finder finder{job, programs,     search, setup, h, h.at_mm, {}, clearance::obstacle(h, top),
                {},  inOrder(job), {},     {},    {}};
  finder.form = clearance::shifted(finder.at_home, SetupPoint2{} - h.at_mm);
  finder.footprint = footprintOf(finder.form);
  std::vector<Stretch> keep_out;
  for (const int p : search.programs) {
    const Setup& s = *finder.order[static_cast<std::size_t>(p)].setup;
    finder.stocks.push_back(stockSizeInSetup(job.stock, s));
    const auto of = keepOut(job, s, programs[static_cast<std::size_t>(p)], finder.at_home.top_mm, tolerance_mm,
                            finder.form.radius_mm > 0);
    keep_out.insert(keep_out.end(), of.begin(), of.end());
  }
  for (const HoldDown& o : search.others) {
    if (o.kind != HoldDownKind::tape) finder.others.push_back(clearance::obstacle(o, top));
  }
  std::vector<Stretch> cuts;
  if (h.kind == HoldDownKind::screw) {
    cuts = cutsOf(job, programs, setup);
    const StockPoint2 stock = setupToStock(job.stock, setup, h.at_mm);
    for (std::size_t i = 0; i < programs.size(); ++i) {
      finder.round_home.push_back(cutGoesRound(job, *finder.order[i].setup, programs[i], stock));
    }
  }
  return finder.find(keep_out, cuts);
}

}  // namespace provecut::placing
