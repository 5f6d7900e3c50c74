#include <fmt/core.h>

#include <algorithm>
#include <map>
#include <utility>
#include <vector>

#include "report/base/wording.h"
#include "report/rules/list.h"
#include "report/rules/shared/grouping.h"
#include "sim/path/setup_frame.h"
#include "sim/path/stock_plan.h"
#include "sim/placing/screw_edge.h"

namespace provecut {

namespace screw_near_edge {

constexpr std::string_view page = R"(## What it finds

A screw in solid wood or board is too near an edge. The limits from its axis, in shaft diameters d, are 5 d to an edge
along the grain and 7 d to an end across it; on round stock what lies between, by where its edge faces. In MDF and
particle board they are 3 d all round. A pilot hole through at least half the thickness halves them. This is checked
only for screws with a `shaft_diameter` in `material` softwood, hardwood, mdf or board. All screws of a setup are one
finding, with the worst of them.

## Why it matters

The wood splits, and board bursts along its edge. Then the screw holds nothing, and the split may run into the part.

## Example

A 4.2 mm screw without a pilot hole, 12 mm from the end of a board. It needs 29.4 mm.

## What to do

Move the screw in (`provecut place` shows where), bore a pilot hole, or use a clamp.

## What `amount` is

The distance from the worst screw's axis to the edge in mm.

## Source

Common practice, from memory: at least 5 d from an edge, 7 to 10 d from an end without a pilot hole, about half with
one; 3 d in the face of MDF and particle board.
)";

void check(const Facts& facts, std::vector<Finding>& findings) {
  const Stock& stock = facts.job.stock;
  const bool board = stock.material == Material::mdf || stock.material == Material::board;
  const bool solid = stock.material == Material::softwood || stock.material == Material::hardwood;
  if (!stock.material_given || !(board || solid)) return;
  struct Side {
    double distance = 0, wanted = 1;
    bool end = false, pilot = false;
    const Setup* setup = nullptr;
    double share() const { return distance / wanted; }
  };
  std::map<int, Side> worst;  // by hold-down
  for (const ScrewSeat& seat : facts.run.screw_seats) {
    const HoldDown& screw = facts.job.hold_downs[seat.hold_down];
    const Setup* setup = facts.programs[seat.program].setup;
    const double d = screw.shaft_diameter_mm;
    if (!(d > 0)) continue;
    const auto known = worst.find(seat.hold_down);
    if (known != worst.end() && known->second.setup == setup) continue;  // it is driven before the first of them
    const bool pilot = seat.pilot_mm >= stock.size_mm.z / 2;
    const StockPoint2 at = setupToStock(stock, *setup, screw.at_mm);
    const Vec2 edge = placing::screwEdge(stock, d, pilot);
    if (stock.shape == StockShape::round) {
      const StockPlan disc = stockPlan(stock, Setup{});
      const SetupPoint2 in_disc{at.x, at.y};
      worst.emplace(seat.hold_down, Side{-beyondEdge_mm(disc, in_disc),
                                         placing::roundEdge(edge, in_disc - disc.middle()), false, pilot, setup});
      continue;
    }
    for (const Side& s :
         {Side{std::min(at.x, stock.size_mm.x - at.x), edge.x, solid && stock.grain == Grain::x, pilot, setup},
          Side{std::min(at.y, stock.size_mm.y - at.y), edge.y, solid && stock.grain == Grain::y, pilot, setup}}) {
      const auto [entry, added] = worst.emplace(seat.hold_down, s);
      if (!added && s.share() < entry->second.share()) entry->second = s;
    }
  }
  std::map<const Setup*, std::vector<std::pair<int, Side>>> near;
  for (const auto& [index, side] : worst) {
    if (side.distance < side.wanted - 1e-9) near[side.setup].emplace_back(index, side);
  }
  for (const Setup& setup : facts.job.setups) {
    if (!near.contains(&setup)) continue;
    std::vector<std::pair<int, Side>>& all = near[&setup];
    std::stable_sort(all.begin(), all.end(),
                     [](const auto& a, const auto& b) { return a.second.share() < b.second.share(); });
    const auto& [index, side] = all.front();
    const HoldDown& screw = facts.job.hold_downs[index];
    Finding f = jobFinding(facts, screw_near_edge_rule, screw.place);
    f.setup = setup.name;
    f.subject = screw.name;
    f.amount = side.distance;
    f.unit = "mm";
    const Compared text = comparedText(facts.job, Quantity::length, side.distance, side.wanted);
    const std::string_view kind = side.end ? "end" : "edge";
    f.amount_text = fmt::format("{} from the {}", text.actual, kind);
    f.message = fmt::format("{} is only {} of the stock (minimum {} {} a pilot hole)", screw.name, f.amount_text,
                            text.limit, side.pilot ? "with" : "without");
    if (all.size() > 1) {
      std::vector<std::string> others;
      for (std::size_t k = 1; k < all.size(); ++k) others.push_back(facts.job.hold_downs[all[k].first].name);
      f.message += fmt::format("; {} {} too near as well", listText(others), others.size() > 1 ? "are" : "is");
    }
    f.message += board ? "; the board may split" : "; the wood may split";
    const bool pilots = std::any_of(all.begin(), all.end(), [](const auto& one) { return !one.second.pilot; });
    f.help = fmt::format("Move {} in{}, or use {}.", all.size() > 1 ? "them" : "it",
                         pilots ? ", bore a pilot hole through at least half the thickness" : "",
                         all.size() > 1 ? "clamps" : "a clamp");
    findings.push_back(std::move(f));
  }
}

}  // namespace screw_near_edge

const Rule screw_near_edge_rule{"screw-near-edge", Level::note, "A screw is so near an edge that the wood may split.",
                                screw_near_edge::page, screw_near_edge::check};

}  // namespace provecut
