#include <fmt/core.h>

#include <algorithm>
#include <optional>
#include <string>
#include <vector>

#include "report/base/wording.h"
#include "report/facts/measures.h"
#include "report/rules/list.h"
#include "report/rules/shared/grouping.h"
#include "report/rules/shared/piece_findings.h"
#include "sim/path/motion_extent.h"

namespace provecut {

namespace held_by_one {

constexpr std::string_view page = R"(## What it finds

A move cuts the stock apart. From then on one screw or one round clamp alone holds a piece, and the program goes on
cutting into it or beside it. The piece may be a part, or the rest of the stock. Offcuts, under 625 mm² in plan, are
left out.
Several such pieces of one program are one finding.

## Why it matters

On one screw a piece turns as soon as the cutter pushes it off-centre. The screws that were to hold it are in the other
piece now.

## Example

Stock with a screw at each end, and a through-cut across its middle before the pockets of either half are cut.

## What to do

Cut the stock apart last. Or put a second screw or clamp on the piece, or leave tabs.

## What `amount` is

The area of the piece in plan in mm², of the first.

## Source

Common practice; no published source.
)";

// A piece that one round hold-down holds alone.
struct OnOne {
  WorkBox bounds;
  double plan_area_mm2 = 0;
  int hold_down = 0;
  bool part = false;
};

bool isRound(const Job& job, int hold_down) {
  const HoldDown& h = job.hold_downs[hold_down];
  return h.diameter_mm > 0 && h.kind != HoldDownKind::pin && h.kind != HoldDownKind::tape;
}

std::optional<OnOne> onOne(const Job& job, const Piece& p) {
  const bool alone = !p.free && !p.held_by_tape && p.tabs.empty() && p.held_by_hold_downs.size() == 1;
  if (!alone || isOffcut(p) || !isRound(job, p.held_by_hold_downs.front())) return std::nullopt;
  return OnOne{p.bounds, p.plan_area_mm2, p.held_by_hold_downs.front(), true};
}

std::optional<OnOne> onOne(const Job& job, const std::vector<PieceHeld>& holding) {
  if (holding.empty() || holding.front().part) return std::nullopt;
  const PieceHeld& rest = holding.front();
  const bool alone = rest.tape_mm2 <= 0 && rest.tabs == 0 && rest.by.size() == 1;
  if (!alone || rest.plan_area_mm2 < least_part_area_mm2 || !isRound(job, rest.by.front())) return std::nullopt;
  return OnOne{rest.bounds, rest.plan_area_mm2, rest.by.front(), false};
}

// The first move after `parted` that cuts within the piece's bounds, or right beside them.
std::optional<std::uint32_t> nextCut(const Facts& facts, std::size_t program, std::uint32_t parted,
                                     const WorkBox& bounds) {
  const std::vector<Motion>& motions = facts.programs[program].program.motions;
  for (std::uint32_t m = parted + 1; m < motions.size(); ++m) {
    if (!cutsMaterial(cutOf(facts, program, m))) continue;
    const Tool* tool = findTool(facts.job, motions[m].tool);
    const double reach = tool ? tool->diameter_mm / 2 : 0;
    const WorkBox way = motionExtent(motions[m]);
    if (way.low.x < bounds.high.x + reach && way.high.x > bounds.low.x - reach && way.low.y < bounds.high.y + reach &&
        way.high.y > bounds.low.y - reach)
      return m;
  }
  return std::nullopt;
}

// Another piece on a screw of its own, parted in this program too: one accident, told once.
void addTo(const Facts& facts, const HoldDown& h, std::uint32_t parted, std::vector<std::string>& names, Finding& f) {
  names.push_back(h.name);
  ++f.moves;
  f.subject = listText(names);
  const ProgramFacts& p = facts.programs[f.program_order];
  const Place place = placeOf(p.program.motions[parted]);
  f.last_line = std::max(f.last_line, place.line);
  f.message = fmt::format("the stock is parted; {} each hold a piece alone from then on, and the bit then cuts it",
                          listText(names));
  f.help = "Part the stock last. Or put a second screw or clamp on each piece before this program, or leave tabs.";
  if (place.line != f.place.line) f.related.push_back({"", shownPlace(p, place), "parted here too"});
  relateToJob(facts, f, h.place, h.name + " is defined here");
}

// One finding a program; `names`: of the hold-downs that it tells so far.
void add(const Facts& facts, std::size_t i, std::uint32_t parted, const OnOne& piece, std::vector<std::string>& names,
         std::vector<Finding>& findings) {
  const ProgramFacts& p = facts.programs[i];
  const auto next = nextCut(facts, i, parted, piece.bounds);
  if (!next || parted >= p.program.motions.size()) return;
  const HoldDown& h = facts.job.hold_downs[piece.hold_down];
  if (!names.empty()) {
    addTo(facts, h, parted, names, findings.back());
    return;
  }
  names.push_back(h.name);
  Finding f = placeFinding(facts, i, held_by_one_rule, placeOf(p.program.motions[parted]));
  f.moves = 1;
  f.at = p.program.motions[parted].end;
  f.subject = h.name;
  f.amount = piece.plan_area_mm2;
  f.unit = unitOf(Quantity::area);
  const std::string size = sizeText(facts.job, piece.bounds.high - piece.bounds.low);
  f.message =
      fmt::format("this move cuts the stock apart; only {} holds the {} {} from here on, and the bit then cuts it",
                  h.name, size, piece.part ? "piece" : "rest of the stock");
  f.help = "Cut the stock apart last. Or put a second screw or clamp on this piece before this program, or leave tabs.";
  f.related.push_back({{}, shownPlace(p, placeOf(p.program.motions[*next])), "the next cut at this piece"});
  relateToJob(facts, f, h.place, h.name + " is defined here");
  findings.push_back(std::move(f));
}

void check(const Facts& facts, std::vector<Finding>& findings) {
  for (std::size_t i = 0; i < facts.run.programs.size(); ++i) {
    const ProgramRun& run = facts.run.programs[i];
    std::vector<std::string> names;
    std::optional<std::uint32_t> first;  // that parts what hold-downs hold
    for (const Piece& p : run.pieces) {
      if (p.free || p.held_by_hold_downs.empty() || p.told_before || isOffcut(p)) continue;
      first = std::min(first.value_or(p.move), p.move);
      if (const auto piece = onOne(facts.job, p)) add(facts, i, p.move, *piece, names, findings);
    }
    // The rest of the stock has lost a hold-down to the piece.
    if (const auto rest = onOne(facts.job, run.holding); rest && first) add(facts, i, *first, *rest, names, findings);
  }
}

}  // namespace held_by_one

const Rule held_by_one_rule{"held-by-one", Level::look,
                            "A move cuts the stock apart, and one screw alone holds a piece.", held_by_one::page,
                            held_by_one::check};

}  // namespace provecut
