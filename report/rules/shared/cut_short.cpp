#include "report/rules/shared/cut_short.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <utility>

#include "report/facts/measures.h"
#include "sim/clearance/tolerance.h"
#include "sim/parts/through_doubt.h"
#include "sim/path/motion_extent.h"
#include "sim/path/setup_frame.h"

namespace provecut {

namespace {

bool measuredThicker(const Facts& facts) {
  return facts.said_thickness_mm && facts.job.stock.size_mm.z > *facts.said_thickness_mm;
}

// Whether the program left something that thin: the underside may be cut away where a move ends just above it.
bool leftSkin(const ProgramRun& run, double limit_mm) {
  const bool floor = std::any_of(run.thin_floors.begin(), run.thin_floors.end(),
                                 [&](const ThinFloor& t) { return t.thickness_mm <= limit_mm; });
  return floor || std::any_of(run.pieces.begin(), run.pieces.end(), [](const Piece& p) {
           return std::any_of(p.tabs.begin(), p.tabs.end(), [](const Tab& t) { return t.onion_skin; });
         });
}

// A skin about tabs makes them useless: whoever leaves tabs wants to go through between them. 0: there is none.
double skinBesideTabs_mm(const ProgramRun& run) {
  double skin_mm = 0;
  for (const Piece& p : run.pieces) {
    for (const Tab& t : p.tabs) skin_mm = t.tabs_in_skin ? std::max(skin_mm, t.thickness_mm) : skin_mm;
  }
  return skin_mm;
}

constexpr double as_measured_mm = 0.01;  // heights in the stock are floats

double fromSegment(WorkPoint2 a, WorkPoint2 b, WorkPoint2 q) {
  const Vec2 along = b - a, to = q - a;
  const double square = dot(along, along);
  const double t = square > 0 ? std::clamp(dot(along, to) / square, 0.0, 1.0) : 0;
  return length(to - along * t);
}

// In plan; of an arc in plan from its whole circle.
double distance(const Motion& m, WorkPoint2 q) {
  if (isArc(m) && m.plane == Plane::xy) return std::abs(length(q - m.centre) - length(flat(m.end) - m.centre));
  return fromSegment(flat(m.start), flat(m.end), q);
}

struct ThroughMove {
  std::size_t program = 0;
  std::uint32_t move = 0;
  double reach_mm = 0;
};

// The moves of a setup's programs that go through, from one of them on; those near a place are found quickly.
class ThroughMoves {
 public:
  ThroughMoves(const Facts& facts, std::size_t program)
      : facts_(facts), origin_(setupToWork(*facts.programs[program].setup, SetupPoint{})) {
    const Setup* setup = facts.programs[program].setup;
    const Vec3 size = stockSizeInSetup(facts.job.stock, *setup);
    square_mm_ = std::max(20.0, std::max(size.x, size.y) / (squares - 2));
    for (std::size_t i = program; i < facts.programs.size() && facts.programs[i].setup == setup; ++i) {
      const std::vector<Motion>& motions = facts.programs[i].program.motions;
      for (std::uint32_t m = 0; m < motions.size(); ++m) {
        const Tool* tool = findTool(facts.job, motions[m].tool);
        if (!tool || !moves(motions[m]) || motions[m].kind == MotionKind::rapid) continue;
        if (workToSetup(*setup, lowestTip(motions[m])).z > clearance::contact_tolerance_mm) continue;
        add({i, m, tool->diameter_mm / 2}, motionExtent(motions[m]));
      }
    }
  }

  // Whether one after this move covers the place.
  bool open(std::size_t program, std::uint32_t move, WorkPoint2 place) const {
    const auto near = by_square_.find({squareOf(place.x - origin_.x), squareOf(place.y - origin_.y)});
    if (near == by_square_.end()) return false;
    return std::any_of(near->second.begin(), near->second.end(), [&](const ThroughMove& t) {
      const bool later = t.program > program || t.move > move;
      return later && distance(facts_.programs[t.program].program.motions[t.move], place) <= t.reach_mm;
    });
  }

 private:
  static constexpr int squares = 200;

  // What lies beside the stock counts to its edge.
  int squareOf(double from_edge_mm) const {
    return static_cast<int>(std::floor(std::clamp(from_edge_mm / square_mm_, -1.0, squares - 1.0)));
  }
  void add(const ThroughMove& t, const WorkBox& box) {
    const int left = squareOf(box.low.x - t.reach_mm - origin_.x),
              right = squareOf(box.high.x + t.reach_mm - origin_.x);
    const int front = squareOf(box.low.y - t.reach_mm - origin_.y),
              back = squareOf(box.high.y + t.reach_mm - origin_.y);
    for (int x = left; x <= right; ++x) {
      for (int y = front; y <= back; ++y) by_square_[{x, y}].push_back(t);
    }
  }

  const Facts& facts_;
  WorkPoint origin_;  // the stock's left front corner
  double square_mm_ = 20;
  std::map<std::pair<int, int>, std::vector<ThroughMove>> by_square_;
};

}  // namespace

double shortCutLimit_mm(const Facts& facts, std::size_t program) {
  const ProgramFacts& p = facts.programs[program];
  const std::vector<DoubtfulThrough>& doubts = facts.run.programs[program].doubtful_throughs;
  const bool in_doubt = std::any_of(doubts.begin(), doubts.end(),
                                    [](const DoubtfulThrough& d) { return d.why == ThroughDoubt::tolerance; });
  if (!p.entry->through || in_doubt) return 0;
  if (measuredThicker(facts) && p.setup->zero_z_on_top)
    return facts.job.stock.size_mm.z - *facts.said_thickness_mm + clearance::contact_tolerance_mm;
  const double beside_tabs_mm = skinBesideTabs_mm(facts.run.programs[program]);
  if (beside_tabs_mm > 0) return std::max(beside_tabs_mm + as_measured_mm, least_meant_skin_mm);
  return leftSkin(facts.run.programs[program], least_meant_skin_mm)
             ? least_meant_skin_mm - clearance::contact_tolerance_mm
             : 0;
}

std::vector<Occurrence> cutsThatFallShort(const Facts& facts, std::size_t program) {
  const double limit_mm = shortCutLimit_mm(facts, program);
  const ProgramFacts& p = facts.programs[program];
  if (limit_mm <= 0) return {};
  const ThroughMoves through(facts, program);
  std::vector<Occurrence> cuts;
  for (std::uint32_t m = 0; m < p.program.motions.size(); ++m) {
    if (!cutsMaterial(cutOf(facts, program, m))) continue;
    const WorkPoint tip = lowestTip(p.program.motions[m]);
    const double skin_mm = workToSetup(*p.setup, tip).z;
    if (skin_mm <= clearance::contact_tolerance_mm || skin_mm > limit_mm) continue;
    if (!through.open(program, m, flat(tip))) cuts.push_back({m, skin_mm, tip});
  }
  return cuts;
}

bool mayLeaveFoil(const DoubtfulThrough& doubt) {
  return doubt.as_said_mm <= clearance::contact_tolerance_mm && doubt.beyond_mm < pieces::foil_mm;
}

bool endsAtGuessedThickness(const Facts& facts, const DoubtfulThrough& doubt) {
  constexpr double same_mm = 1e-3;
  if (facts.said_thickness_mm || doubt.as_said_mm > same_mm || doubt.beyond_mm > same_mm) return false;
  const auto& all = facts.job.unconfirmed;
  return std::any_of(all.begin(), all.end(), [](const Unconfirmed& u) {
    return u.whose == "[stock]" && std::find(u.keys.begin(), u.keys.end(), "size") != u.keys.end();
  });
}

}  // namespace provecut
