#include "sim/parts/parts.h"

#include <algorithm>
#include <cstdio>
#include <iterator>
#include <limits>
#include <optional>

#include "sim/parts/broken_through.h"
#include "sim/parts/sliver.h"
#include "sim/parts/thin_floor.h"
#include "sim/parts/through_doubt.h"
#include "sim/path/setup_frame.h"
#include "sim/pieces/holding.h"
#include "sim/pieces/piece_outline.h"
#include "sim/pieces/piece_size.h"
#include "sim/stock/dexel_replay.h"
#include "sim/stock/dexel_walk.h"
#include "sim/stock/undercut.h"
#include "sim/tabs/on_tabs.h"
#include "sim/tabs/opened_by.h"
#include "sim/tabs/tabs.h"
#include "sim/tabs/tabs_between.h"

namespace provecut::pieces {

namespace {

using cutting::Cell;

constexpr std::size_t max_floors = 40;  // thin regions whose cause is looked for, the thinnest first
// A kerf is about as wide as the bit.
constexpr double kerf_share = 1.3;

// True if the program can have parted anything: it opened a dexel or left no more than a skin there, or the stock was
// cut from below already.
bool mayHaveParted(const cutting::DexelField& before, const cutting::DexelField& after) {
  for (int y = 0; y < after.ny; ++y) {
    for (Cell c = after.index(0, y), end = after.index(after.nx, y); c < end; ++c) {
      if (after.undercut.holds(c) && after.undercut.at(c, y).atCentre().size() > 1) return true;
      if (after.top[c] >= before.top[c]) continue;
      if (after.thickness(c) <= skin_mm || after.floor[c] > cutting::no_material_mm) return true;
    }
  }
  return false;
}

double longestRing_mm(const std::vector<StockRing>& rings) {
  double longest = 0;
  for (const StockRing& ring : rings) {
    double around = 0;
    for (std::size_t k = 0; k < ring.size(); ++k) around += length(ring[(k + 1) % ring.size()] - ring[k]);
    longest = std::max(longest, around);
  }
  return longest;
}

// Outlines of kerfs that hardly go through: what they surround does not come loose.
void observeStillAttached(const ProgramCut& cut, const std::vector<TabbedPart>& parts, const OpenedBy& opened_by,
                          ProgramRun& run) {
  if (parts.empty()) return;
  double widest = 0;
  for (const Motion& m : cut.program.motions) {
    if (const Tool* tool = findTool(cut.at.job, m.tool)) widest = std::max(widest, tool->diameter_mm);
  }
  for (const TabbedPart& part : parts) {
    const auto wide = [&](const FoundTab& t) { return t.kerf_mm > kerf_share * widest; };
    const std::vector<std::uint32_t> opened =
        openedRound(cut, part.cells, outlineOf(cut.after, cut.at.setup, part.cells), opened_by);
    if (opened.empty() || std::any_of(part.tabs.begin(), part.tabs.end(), wide)) continue;  // a pocket, not a kerf
    StillAttached a;
    a.move = opened.back();
    a.at = setupToWork(cut.at.setup, cellCentre(cut.after, part.shape.seed));
    double webs_mm = 0, area_mm2 = 0;
    for (const FoundTab& t : part.tabs) {
      webs_mm += t.length_mm;
      area_mm2 += t.area_mm2;
    }
    const double open_share = part.outline.open_mm / length_mm(part.outline);
    if (webs_mm <= 0 || open_share >= 1) continue;
    a.outline_mm = longestRing_mm(pieceOutline(cut.after, part.cells, cut.at.job.stock, cut.at.setup));
    a.open_mm = a.outline_mm * open_share;
    a.web_thickness_mm = area_mm2 / webs_mm;
    a.bounds = setupToWork(cut.at.setup, exactBox(cut.after, part.cells, part.shape.box));
    run.still_attached.push_back(a);
  }
}

// The first move of a program with through = false that cut through, and how much it opened in all.
void observeOpened(const ProgramCut& cut, const OpenedBy& opened_by, ProgramRun& run) {
  double area_mm2 = 0;
  std::optional<std::pair<std::uint32_t, Cell>> first;
  const auto look = [&](std::uint32_t by, Cell c) {
    if (!first || std::pair(by, c) < *first) first = {by, c};
  };
  cutting::eachCell(cut.after, [&](Cell c) {
    if (opened_by.dexel[c] == 0) return;
    area_mm2 += cut.after.cellArea_mm2();
    look(opened_by.dexel[c], c);
  });
  for (const auto& [contact, by] : opened_by.contact) look(by, firstOf(contact));
  if (!first) return;
  run.opened = OpenedHole{first->first - 1, setupToWork(cut.at.setup, cellCentre(cut.after, first->second)), area_mm2};
}

void notCheckedIn(const ProgramCut& cut, const std::string& what, PartTracker& tracker) {
  tracker.not_checked.push_back(cut.at.entry.file + ": " + what);
}

// Where pieces lie one over another, only the one with more material was followed.
void noteLayers(const ProgramCut& cut, const Pieces& now, PartTracker& tracker) {
  if (now.layered_mm2 > tracker.layered_mm2 + least_piece_mm2) {
    const WorkPoint spot = setupToWork(cut.at.setup, cellCentre(cut.after, now.layered_at));
    char place[64];
    std::snprintf(place, sizeof place, "X %.1f Y %.1f mm", spot.x, spot.y);
    notCheckedIn(cut,
                 "an undercut bit leaves one piece above another near " + std::string(place) +
                     ": what holds the one with less wood was not checked",
                 tracker);
  }
  tracker.layered_mm2 = now.layered_mm2;
}

// Pieces that came loose and parts on tabs; the latter are returned.
std::vector<TabbedPart> observePieces(const ProgramCut& cut, ProgramRun& run, PartTracker& tracker,
                                      PieceEvents& events) {
  if (cut.contacts.list.empty() && !mayHaveParted(cut.before, cut.after) && !cutsTabs(cut, tracker.tabbed)) {
    observeCutsAtLoose(cut, run, tracker.followed, events);
    return {};
  }
  const Pieces was = labelPieces(cut.before), now = labelPieces(cut.after);
  const Parting parting = partingOf(
      {cut.before, cut.after, was, now, cut.contacts, cut.at.job, cut.at.entry.hold_downs, lastCut(cut.program, run)});
  const auto told = observeParted(cut, was, now, parting, run, tracker.followed, events);
  const PartedCut parted{cut, now, parting, told};
  const OpenedBy opened_by = openedBy(cut);
  const std::vector<TabbedNow> kept = observeCutTabs(parted, run, tracker.tabbed, events);
  TabbedParts parts = cut.at.tabs ? partsOnTabs(cut, now) : TabbedParts{};
  leaveOutKnown(cut, tracker.tabbed, parts.tabbed);
  TabsBetween between = observeTabsBetween(parted, parts.tabbed, opened_by, run, events);
  std::vector<TabbedNow> were = kept;
  std::move(between.kept.begin(), between.kept.end(), std::back_inserter(were));
  noteLayers(cut, now, tracker);
  if (parting.in_undercuts) {
    notCheckedIn(cut, "an undercut bit cuts a piece off: by which line was not checked, the last cut is named instead",
                 tracker);
  }
  if (between.looked_at) {
    notCheckedIn(cut,
                 "cuts into parts on tabs, and then cuts these tabs, at more than " +
                     std::to_string(*between.looked_at) +
                     " places in the program: the tabs of the later ones were not measured",
                 tracker);
  }
  tracker.parted = tracker.parted || wholePieces(now) > 1;
  if (!cut.at.entry.through) observeOpened(cut, opened_by, run);
  observeTabbed(cut, parts.tabbed, were, opened_by, run, tracker.tabbed);
  observeAboutKept(cut, kept, tracker.tabbed, run, events);
  observeStillAttached(cut, parts.still_attached, opened_by, run);
  return std::move(parts.tabbed);
}

// A zero on the top face moves with the thickness; one on the underside does not. Seen from this side, what was cut
// from the other side with the zero on *its* top face keeps its distance from the underside.
struct SurfacesMove {
  int top = 0, floor = 0;
};

SurfacesMove surfacesMove(const ProgramCut& cut) {
  return {cut.at.setup.zero_z_on_top ? 1 : 0, cut.other_side_zero_on_top ? 0 : 1};
}

void observeThinFloors(const ProgramCut& cut, const std::vector<TabbedPart>& tabbed, cutting::DexelReplayer& replayer,
                       ProgramRun& run) {
  const Mask webs = tabbed.empty() ? Mask{} : webMask(cut.after, tabbed);
  const SurfacesMove move = surfacesMove(cut);
  std::vector<FoundFloor> floors = thinFloors({cut.before, cut.after, webs, cut.at.job.limits.min_floor_mm,
                                               cut.at.job.stock.thickness_tolerance_mm, move.top, move.floor});
  if (floors.size() > max_floors) floors.resize(max_floors);
  for (const FoundFloor& f : floors) {
    run.thin_floors.push_back({motionThatCut(cut, replayer, f.cell), setupToWork(cut.at.setup, f.at), f.thickness_mm,
                               f.worst_mm, f.area_mm2, f.moves_with_stock});
  }
}

// True if this program settles a doubt of an earlier one by cutting deeper.
bool settles(const ProgramCut& cut, cutting::DexelReplayer& replayer, const DoubtNow& d, Cell c) {
  // From the other side only what is left can be seen to go.
  if (d.setup->flip != cut.at.setup.flip) return !d.open_as_said && cut.after.thickness(c) <= cutting::no_material_mm;
  return replayer.replay(c, {d.floor, d.top}).top - d.floor <= cutting::no_material_mm;
}

// Places that this program leaves in doubt, and those of earlier programs that it settles.
void observeDoubtfulThroughs(const ProgramCut& cut, cutting::DexelReplayer& replayer, ProgramRun& run,
                             PartTracker& tracker, PieceEvents& events) {
  std::erase_if(tracker.doubts, [&](const DoubtNow& d) {
    const auto c = cellAt(cut.after, cut.at, flat(d.place));
    if (!c) return true;
    const bool settled = settles(cut, replayer, d, *c);
    if (settled) events.doubts_settled.push_back(d.told);
    return settled;
  });
  const SurfacesMove move = surfacesMove(cut);
  std::vector<FoundDoubt> found = doubtfulThroughs(
      {cut.at.job, cut.at.setup, cut.program, cut.cutters, cut.before, cut.after, move.top, move.floor});
  if (found.size() > max_floors) found.resize(max_floors);
  for (const FoundDoubt& d : found) {
    tracker.doubts.push_back({setupToStock(cut.at.job.stock, cut.at.setup, d.at),
                              &cut.at.setup,
                              d.floor,
                              d.thick_top,
                              d.as_said_mm <= 0,
                              {cut.at.run, run.doubtful_throughs.size()}});
    run.doubtful_throughs.push_back(
        {d.move, setupToWork(cut.at.setup, d.at), d.as_said_mm, d.thickest_mm, d.area_mm2, d.why, d.beyond_mm});
  }
}

void observeSlivers(const ProgramCut& cut, cutting::DexelReplayer& replayer, ProgramRun& run) {
  for (const FoundSliver& f : slivers(cut)) {
    if (f.beside.empty()) continue;  // an earlier program left it
    std::uint32_t last = 0;
    for (const Cell c : f.beside) last = std::max(last, motionThatCut(cut, replayer, c));
    run.slivers.push_back({last, setupToWork(cut.at.setup, f.at), f.width_mm, f.height_mm});
  }
}

void observeBrokenThrough(const ProgramCut& cut, cutting::DexelReplayer& replayer, ProgramRun& run) {
  for (const FoundBreak& b : brokenThrough(cut, replayer)) {
    run.broken_through.push_back(
        {b.move, setupToWork(cut.at.setup, b.at), b.size_mm, b.area_mm2, b.depth_mm, b.other_depth_mm});
  }
}

}  // namespace

PieceEvents observeParts(const ProgramCut& cut, ProgramRun& run, PartTracker& tracker) {
  PieceEvents events;
  const std::vector<TabbedPart> tabbed = observePieces(cut, run, tracker, events);
  observeAboutTabbed(cut, run, tracker.tabbed, events);
  cutting::DexelReplayer replayer(cut.after, cut.cutters, cut.at.job, cut.at.setup, cut.program.motions);
  observeThinFloors(cut, tabbed, replayer, run);
  observeDoubtfulThroughs(cut, replayer, run, tracker, events);
  observeSlivers(cut, replayer, run);
  observeBrokenThrough(cut, replayer, run);
  return events;
}

void observeBegin(const ProgramAt& at, const cutting::DexelField& field, ProgramRun& run, PartTracker& tracker) {
  const bool any_held = std::any_of(tracker.followed.begin(), tracker.followed.end(),
                                    [](const FollowedPiece& f) { return f.told && !f.held_by.empty(); });
  if (any_held) observeReleased(at, field, labelPieces(field), run, tracker.followed);
  observeReleasedTabbed(at, field, run, tracker.tabbed);
}

}  // namespace provecut::pieces
