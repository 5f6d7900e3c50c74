#include "sim/placing/hold_down_shift.h"

#include <oneapi/tbb/parallel_for.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <map>
#include <optional>
#include <set>

#include "sim/clearance/clearance.h"
#include "sim/clearance/move_bounds.h"
#include "sim/clearance/on_stock.h"
#include "sim/clearance/tolerance.h"
#include "sim/path/cut_round.h"
#include "sim/path/setup_frame.h"

namespace provecut::placing {

namespace {

constexpr double longest_shift_mm = 150;
constexpr std::size_t batch_moves = 64;
constexpr double infinity = std::numeric_limits<double>::infinity();

// A few moves in a row with one tool.
struct Batch {
  std::size_t begin = 0, end = 0;
  const ToolBody* body = nullptr;
  SetupBox box;
};

struct MovesOfProgram {
  const Program* program = nullptr;
  const Setup* setup = nullptr;
  std::vector<clearance::Way> ways;
  std::vector<Batch> batches;
};

MovesOfProgram movesOf(const Program& program, const Setup& setup, const std::map<int, ToolBody>& bodies) {
  MovesOfProgram moves{&program, &setup, clearance::knownWays(program), {}};
  for (std::size_t i = 0; i < program.motions.size(); ++i) {
    const Motion& m = program.motions[i];
    const auto body = bodies.find(m.tool);
    if (moves.ways[i] == clearance::Way::none || body == bodies.end()) continue;
    const bool joins = !moves.batches.empty() && moves.batches.back().body == &body->second &&
                       i - moves.batches.back().begin < batch_moves;
    if (!joins) moves.batches.push_back({i, i, &body->second, {}});
    moves.batches.back().box.add(clearance::boxOf(m, setup.zero_mm));
    moves.batches.back().end = i + 1;
  }
  return moves;
}

// One hold-down with all that bears on where it may stand.
struct Search {
  const Job& job;
  const HoldDown& hold_down;
  clearance::Obstacle at_home;
  std::vector<const MovesOfProgram*> moves;  // of the programs in which it stands
  std::vector<Vec3> stocks;                  // sizes in their setups
  std::vector<clearance::Obstacle> others;   // that stand with it
  double wanted = 0;

  // A distance below the wanted one that some move comes to, if any does. `hint` is where to look first.
  struct Hint {
    std::size_t program = 0, batch = 0;
  };
  std::optional<double> tooNear(const clearance::Obstacle& o, Hint& hint) const {
    const double enough = wanted - clearance::contact_tolerance_mm;
    for (std::size_t i = 0; i < moves.size(); ++i) {
      const std::size_t program = (hint.program + i) % moves.size();
      const MovesOfProgram& m = *moves[program];
      const std::size_t first = i == 0 ? hint.batch : 0;
      for (std::size_t k = 0; k < m.batches.size(); ++k) {
        const std::size_t batch = (first + k) % m.batches.size();
        if (const auto gap = tooNear(o, m, m.batches[batch], enough)) {
          hint = {program, batch};
          return gap;
        }
      }
    }
    return std::nullopt;
  }

  std::optional<double> tooNear(const clearance::Obstacle& o, const MovesOfProgram& m, const Batch& batch,
                                double enough) const {
    const SetupPoint zero = m.setup->zero_mm;
    if (clearance::boxBound(batch.box, *batch.body, o) >= enough) return std::nullopt;
    double least = infinity;
    for (std::size_t i = batch.begin; i < batch.end; ++i) {
      const Motion& motion = m.program->motions[i];
      if (m.ways[i] == clearance::Way::none ||
          clearance::boxBound(clearance::boxOf(motion, zero), *batch.body, o) >= enough)
        continue;
      least = std::min(least, clearance::leastGap(clearance::knownPath(motion, m.ways[i], zero, job.machine),
                                                  *batch.body, o, enough));
      if (least <= clearance::contact_tolerance_mm) return least;
    }
    return least < enough ? std::optional(least) : std::nullopt;
  }
};

bool fitsThere(const Search& s, const clearance::Obstacle& there) {
  for (const Vec3 stock : s.stocks) {
    if (clearance::lieOn(stock, there) != clearance::lieOn(stock, s.at_home)) return false;
  }
  return std::none_of(s.others.begin(), s.others.end(),
                      [&](const clearance::Obstacle& o) { return clearance::footprintsOverlap(o, there); });
}

struct Everything {
  const Job& job;
  Programs programs;
  std::vector<MovesOfProgram> moves;  // in the order of the job
  std::vector<const ProgramEntry*> entries;
};

// Along one direction: whether a screw would come into what some cut goes round, so that its hole is in a
// part.
class PartsOnTheWay {
 public:
  PartsOnTheWay(const Everything& all, const Search& s, const Setup& setup, SetupDirection2 direction)
      : all_(all), setup_(setup), direction_(direction), home_(middle(s.at_home.low, s.at_home.high)) {}

  // The next shift at which it may be otherwise; nothing where the place is good.
  std::optional<double> until(double shift) {
    if (!looked_) look();
    const auto crossing = std::upper_bound(crossings_.begin(), crossings_.end(), shift);
    const std::ptrdiff_t stretch = crossing - crossings_.begin();
    if (!inside_.contains(stretch)) inside_[stretch] = inside(shift);
    if (!inside_[stretch]) return std::nullopt;
    return crossing == crossings_.end() ? infinity : *crossing;
  }

 private:
  StockPoint2 stockPlace(double shift) const {
    return setupToStock(all_.job.stock, setup_, home_ + direction_.vec() * shift);
  }
  void look() {
    looked_ = true;
    for (const MovesOfProgram& m : all_.moves) {
      addCrossings(all_.job, *m.setup, *m.program, stockPlace(0), stockPlace(longest_shift_mm), crossings_);
      round_home_.push_back(cutGoesRound(all_.job, *m.setup, *m.program, stockPlace(0)));
    }
    std::sort(crossings_.begin(), crossings_.end());
  }
  bool inside(double shift) const {
    for (std::size_t i = 0; i < all_.moves.size(); ++i) {
      const MovesOfProgram& m = all_.moves[i];
      if (!round_home_[i] && cutGoesRound(all_.job, *m.setup, *m.program, stockPlace(shift))) return true;
    }
    return false;
  }

  const Everything& all_;
  const Setup& setup_;
  SetupDirection2 direction_;
  SetupPoint2 home_;
  bool looked_ = false;
  std::vector<double> crossings_;
  std::vector<bool> round_home_;           // per program
  std::map<std::ptrdiff_t, bool> inside_;  // per stretch between crossings
};

std::optional<double> shortestShift(const Everything& all, const Search& s, const Setup& setup,
                                    SetupDirection2 direction) {
  const double step = all.job.inches ? 0.0254 : 0.1;
  const auto last = static_cast<int>(longest_shift_mm / step);
  const auto steps = [&](double mm) {  // so many that nothing is jumped over, at least one
    return mm > longest_shift_mm ? last : std::max(1, static_cast<int>(std::ceil(mm / step - 1e-6)));
  };
  PartsOnTheWay parts(all, s, setup, direction);
  Search::Hint hint;
  for (int i = 1; i <= last;) {
    const double shift = i * step;
    const clearance::Obstacle there = clearance::shifted(s.at_home, direction.vec() * shift);
    if (!fitsThere(s, there)) {
      ++i;
    } else if (const auto gap = s.tooNear(there, hint)) {
      // The distance changes by no more than the shift, so nothing is clear before it could have grown
      // enough.
      i += steps(s.wanted - clearance::contact_tolerance_mm - *gap);
    } else if (s.hold_down.kind != HoldDownKind::screw) {
      return shift;
    } else if (const auto until = parts.until(shift)) {
      i += steps(*until - shift);
    } else {
      return shift;
    }
  }
  return std::nullopt;
}

Search searchFor(const Everything& all, int hold_down, double stock_top) {
  const HoldDown& h = all.job.hold_downs[hold_down];
  Search s{all.job, h, clearance::obstacle(h, stock_top), {}, {}, {}, 0};
  s.wanted = std::max(all.job.limits.clearance_mm, 2 * clearance::contact_tolerance_mm);
  std::set<int> others;
  for (std::size_t i = 0; i < all.entries.size(); ++i) {
    const std::vector<int>& stands = all.entries[i]->hold_downs;
    if (std::find(stands.begin(), stands.end(), hold_down) == stands.end()) continue;
    s.moves.push_back(&all.moves[i]);
    s.stocks.push_back(stockSizeInSetup(all.job.stock, *all.moves[i].setup));
    others.insert(stands.begin(), stands.end());
  }
  others.erase(hold_down);
  for (const int other : others) {
    const HoldDown& o = all.job.hold_downs[other];
    if (o.kind != HoldDownKind::tape) s.others.push_back(clearance::obstacle(o, stock_top));
  }
  return s;
}

}  // namespace

std::vector<Escape> holdDownShifts(const Job& job, const Programs& programs, std::span<const ProgramRun> runs) {
  std::set<std::pair<int, int>> wanted;  // setup, hold-down
  for (const ProgramRun& run : runs) {
    for (const Contact& c : run.contacts) wanted.insert({run.setup, c.hold_down});
    for (const NearPass& n : run.near_passes) wanted.insert({run.setup, n.hold_down});
  }
  std::erase_if(wanted, [&](const auto& w) {
    const HoldDownKind kind = job.hold_downs[w.second].kind;
    return kind == HoldDownKind::pin || kind == HoldDownKind::tape;
  });
  if (wanted.empty()) return {};

  std::map<int, ToolBody> bodies;
  for (const Tool& t : job.tools) bodies.emplace(t.number, toolBody(t, job.collet_nut, job.spindle_attachments));
  Everything all{job, programs, {}, {}};
  std::size_t next = 0;
  for (const Setup& setup : job.setups) {
    for (const ProgramEntry& entry : setup.programs) {
      if (next >= programs.size()) break;
      all.entries.push_back(&entry);
      all.moves.push_back(movesOf(programs[next++], setup, bodies));
    }
  }

  struct Task {
    int setup, hold_down;
    SetupDirection2 direction;
    std::optional<double> shift;
  };
  constexpr std::array<SetupDirection2, 4> directions{{{-1, 0}, {1, 0}, {0, -1}, {0, 1}}};
  std::vector<Task> tasks;
  for (const auto& [setup, hold_down] : wanted) {
    for (const SetupDirection2 d : directions) tasks.push_back({setup, hold_down, d, std::nullopt});
  }
  tbb::parallel_for(std::size_t{0}, tasks.size(), [&](std::size_t i) {
    Task& t = tasks[i];
    const Setup& setup = job.setups[t.setup];
    const Search s = searchFor(all, t.hold_down, stockSizeInSetup(job.stock, setup).z);
    t.shift = shortestShift(all, s, setup, t.direction);
  });
  std::stable_sort(tasks.begin(), tasks.end(), [](const Task& a, const Task& b) {
    const auto key = [](const Task& t) { return std::tuple(t.setup, t.hold_down, t.shift.value_or(infinity)); };
    return key(a) < key(b);
  });
  std::vector<Escape> escapes;
  for (const Task& t : tasks) {
    if (t.shift) escapes.push_back({t.hold_down, t.setup, t.direction, *t.shift});
  }
  return escapes;
}

}  // namespace provecut::placing
