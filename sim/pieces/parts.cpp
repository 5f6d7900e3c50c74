#include "sim/pieces/parts.h"

#include <algorithm>
#include <cstdio>
#include <limits>
#include <optional>

#include "sim/path/setup_frame.h"
#include "sim/pieces/holding.h"
#include "sim/pieces/piece_outline.h"
#include "sim/pieces/sliver.h"
#include "sim/pieces/tabs.h"
#include "sim/pieces/thin_floor.h"
#include "sim/pieces/through_doubt.h"
#include "sim/stock/dexel_replay.h"
#include "sim/stock/dexel_walk.h"
#include "sim/stock/undercut.h"

namespace provecut::pieces {

namespace {

using cutting::Cell;

constexpr double least_layer_mm2 = 4;   // as small a piece is a crumb
constexpr std::size_t max_floors = 40;  // thin regions whose cause is looked for, the thinnest first
// A kerf is about as wide as the bit.
constexpr double kerf_share = 1.3;
constexpr std::size_t max_web_cells = 60;  // whose last cut is looked for, about

// Of length 1 along the grain; (0, 0): none.
SetupDirection2 grainInSetup(const ProgramAt& at) {
  if (at.job.stock.grain == Grain::none) return {};
  const StockDirection2 along = at.job.stock.grain == Grain::x ? StockDirection2{1, 0} : StockDirection2{0, 1};
  return stockToSetup(at.job.stock, at.setup, along);
}

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

// The motion that made dexel `cell` as low as it is: the program is cut once more in that dexel alone.
std::uint32_t motionThatCut(const ProgramCut& cut, cutting::DexelReplayer& replayer, Cell cell) {
  const auto* hollows = cut.before.undercut.holds(cell) ? &cut.before.undercut.at(cell, cut.before.row(cell)) : nullptr;
  return replayer.replay(cell, {cut.after.floor[cell], cut.before.top[cell], hollows}).last.value_or(0);
}

// What was found, in the setup frame, as it is told: in work coordinates.
Piece tell(const ProgramCut& cut, const PieceShape& shape, const std::vector<int>& held, std::uint32_t move) {
  Piece p;
  p.move = move;
  p.volume_mm3 = shape.volume_mm3;
  p.plan_area_mm2 = shape.plan_area_mm2;
  p.bounds = setupToWork(cut.at.setup, shape.box);
  p.at = setupToWork(cut.at.setup, cellCentre(cut.after, shape.seed));
  p.held_by_hold_downs = held;
  p.held_by_tape =
      std::any_of(held.begin(), held.end(), [&](int h) { return cut.at.job.hold_downs[h].kind == HoldDownKind::tape; });
  return p;
}

Tab tell(const Setup& setup, const FoundTab& f) {
  Tab t;
  t.at = setupToWork(setup, f.at);
  t.length_mm = f.length_mm;
  t.thickness_mm = f.thickness_mm;
  t.area_mm2 = f.area_mm2;
  t.kerf_mm = f.kerf_mm;
  t.grain_deg = f.grain_deg;
  t.along_grain = f.along_grain;
  t.onion_skin = f.onion_skin;
  return t;
}

// For each dexel the motion (index + 1) that left nothing of it, and the last that took a contact with another away; 0:
// none did.
struct OpenedBy {
  std::vector<std::uint32_t> dexel, contact;
};

OpenedBy openedBy(const ProgramCut& cut) {
  OpenedBy by{std::vector<std::uint32_t>(cut.after.top.size(), 0), std::vector<std::uint32_t>(cut.after.top.size(), 0)};
  for (const cutting::ContactLoss& loss : cut.contacts.list) {
    if (loss.lost & cutting::lost_all) by.dexel[loss.cell] = loss.motion + 1;
    cutting::eachNeighbour(cut.after, loss.cell, [&](const cutting::Neighbour& n) {
      if (loss.lost & n.mine) by.contact[loss.cell] = by.contact[n.cell] = loss.motion + 1;
    });
  }
  return by;
}

// The motions that cut through round the part, in order: after the last one only tabs hold it. Holes in it do not
// count.
std::vector<std::uint32_t> openedRound(const ProgramCut& cut, const TabbedPart& part, const PlanOutline& outline,
                                       const OpenedBy& opened_by) {
  std::vector<std::uint32_t> opened;
  for (const Cell c : part.cells) {
    cutting::beside(cut.after, c, [&](Cell n) {
      const std::uint32_t by = std::max(opened_by.dexel[n], opened_by.contact[c]);
      if (by > 0 && !contains(outline, flat(cellCentre(cut.after, n)))) opened.push_back(by - 1);
    });
  }
  std::sort(opened.begin(), opened.end());
  opened.erase(std::unique(opened.begin(), opened.end()), opened.end());
  return opened;
}

TabTotals totals(const std::vector<Tab>& tabs) {
  TabTotals all;
  for (const Tab& t : tabs) {
    if (t.onion_skin) {
      all.skin_mm = t.thickness_mm;
    } else {
      ++all.tabs;
    }
    all.area_mm2 += t.area_mm2;
  }
  return all;
}

// What holds the parts themselves, apart from their tabs.
std::vector<std::vector<int>> heldAlone(const ProgramCut& cut, const std::vector<TabbedPart>& parts) {
  Pieces alone;
  alone.label.assign(cut.after.top.size(), 0);
  for (const TabbedPart& part : parts) {
    alone.shapes.push_back(part.shape);
    for (const Cell c : part.cells) alone.label[c] = static_cast<Label>(alone.shapes.size());
  }
  return heldBy(cut.after, alone, cut.at.job, cut.at.entry.hold_downs);
}

// The pieces of the program as if the tabs had never been there: what parts then is left on them.
struct WithoutTabs {
  Pieces was, now;
  Parting parting;
};

WithoutTabs withoutTabs(const ProgramCut& cut, const std::vector<TabbedPart>& parts, const ProgramRun& run) {
  const Mask webs = webMask(cut.after, parts);
  WithoutTabs w{labelPieces(cut.before, &webs), labelPieces(cut.after, &webs), {}};
  w.parting = partingOf({cut.before, cut.after, w.was, w.now, cut.contacts, cut.at.job, {}, lastCut(run)});
  return w;
}

// The move that left the part on its tabs: the one that parts it from what it is held by, but for them; none where that
// was before the program.
std::optional<std::uint32_t> leftOnTabsBy(const WithoutTabs& w, const TabbedPart& part) {
  const std::vector<PartedPiece>& pieces = w.parting.pieces;
  const auto at = [&](Cell c) {
    const Label l = w.now.label[c];
    return std::find_if(pieces.begin(), pieces.end(), [&](const PartedPiece& p) { return l != 0 && p.now == l; });
  };
  const auto own_cell =
      std::find_if(part.cells.begin(), part.cells.end(), [&](Cell c) { return at(c) != pieces.end(); });
  if (own_cell == part.cells.end() || at(part.held_at) == pieces.end()) return {};
  std::vector<bool> above(pieces.size(), false);  // pieces that held what holds it
  for (std::optional<std::size_t> k = at(part.held_at) - pieces.begin(); k; k = pieces[*k].parent) above[*k] = true;
  std::size_t k = at(*own_cell) - pieces.begin();
  while (pieces[k].parent && !above[*pieces[k].parent]) k = *pieces[k].parent;
  return pieces[k].parted_by;
}

// The motions that cut some dexels last, by some of them; at least one.
std::vector<std::uint32_t> motionsThatCut(const ProgramCut& cut, const std::vector<Cell>& cells) {
  if (cells.empty()) return {0};
  cutting::DexelReplayer replayer(cut.after, cut.cutters, cut.at.job, cut.at.setup, cut.program.motions);
  std::vector<std::uint32_t> motions;
  for (std::size_t k = 0; k < cells.size(); k += cells.size() / max_web_cells + 1)
    motions.push_back(motionThatCut(cut, replayer, cells[k]));
  return motions;
}

void observeTabbed(const ProgramCut& cut, const std::vector<TabbedPart>& parts, const OpenedBy& opened_by,
                   ProgramRun& run, PartTracker& tracker) {
  if (parts.empty()) return;
  const auto held = heldAlone(cut, parts);
  const WithoutTabs without = withoutTabs(cut, parts, run);
  for (std::size_t k = 0; k < parts.size(); ++k) {
    const TabbedPart& part = parts[k];
    PlanOutline outline = outlineOf(cut.after, cut.at.setup, part.cells);
    const std::vector<std::uint32_t> opened = openedRound(cut, part, outline, opened_by);
    const auto left_by = leftOnTabsBy(without, part);
    Piece p =
        tell(cut, part.shape, held[k], left_by ? *left_by : std::ranges::max(motionsThatCut(cut, part.web_cells)));
    for (const std::uint32_t m : opened) p.beside.push_back({cut.at.run, m});
    for (const FoundTab& tab : part.tabs) p.tabs.push_back(tell(cut.at.setup, tab));
    if (cut.at.outlines) p.outline = pieceOutline(cut.after, part.cells, cut.at.job.stock, cut.at.setup);
    TabbedNow now;
    now.told = {cut.at.run, run.pieces.size()};
    now.move = p.move;
    now.tabs = totals(p.tabs);
    now.cells = part.cells;
    now.web_cells = part.web_cells;
    now.stride = cut.after.stride;
    now.outline = std::move(outline);
    tracker.tabbed.push_back(std::move(now));
    run.pieces.push_back(std::move(p));
  }
}

// Which of the parts that are tabbed since earlier programs each dexel of this setup belongs to: their index + 1.
std::vector<Label> labelsOfTabbed(const ProgramCut& cut, const std::vector<TabbedNow>& tabbed) {
  std::vector<Label> label(cut.after.top.size(), 0);
  for (std::size_t k = 0; k < tabbed.size(); ++k) {
    for (const Cell cell : tabbed[k].cells) {
      if (const auto c = cellAt(cut.after, cut.at, stockPoint(tabbed[k], cut.at.job.stock, cell)))
        label[*c] = static_cast<Label>(k + 1);
    }
  }
  return label;
}

// What is told already: parts that an earlier program left on tabs that nothing has cut since.
void leaveOutKnown(const ProgramCut& cut, const PartTracker& tracker, std::vector<TabbedPart>& parts) {
  if (parts.empty() || tracker.tabbed.empty()) return;
  const std::vector<Label> known = labelsOfTabbed(cut, tracker.tabbed);
  std::erase_if(parts, [&](const TabbedPart& p) {
    const auto cells = std::count_if(p.cells.begin(), p.cells.end(), [&](Cell c) { return known[c] != 0; });
    return 2 * cells > std::ssize(p.cells);
  });
}

// Tabs that this program cuts are told of with the program that left them, unless something else holds the part by now.
void observeCutTabs(const ProgramCut& cut, PartTracker& tracker, PieceEvents& events) {
  if (tracker.tabbed.empty()) return;
  const auto holds = holdsOf(cut.after, labelsOfTabbed(cut, tracker.tabbed), tracker.tabbed.size(), cut.at.job,
                             cut.at.entry.hold_downs);
  std::size_t next = 0;
  std::erase_if(tracker.tabbed, [&](const TabbedNow& t) {
    const std::size_t k = next++;
    std::vector<Cell> hit;
    for (const Cell cell : t.web_cells) {
      const auto c = cellAt(cut.after, cut.at, stockPoint(t, cut.at.job.stock, cell));
      if (c && cutting::taken_mm(cut.before, cut.after, *c) > cutting::no_material_mm) hit.push_back(*c);
    }
    if (!hit.empty() && holds[k].empty())
      events.tabs_cut.push_back({t.told, {cut.at.run, std::ranges::min(motionsThatCut(cut, hit))}});
    return !hit.empty();
  });
}

// Moves that cut in the parts that are on tabs by now, and beside them.
void observeAboutTabbed(const ProgramCut& cut, ProgramRun& run, const PartTracker& tracker, PieceEvents& events) {
  for (const TabbedNow& now : tracker.tabbed) {
    const std::uint32_t first = now.told.run == cut.at.run ? now.move + 1 : 0;
    const CutsAbout about = cutsAbout(now.outline, cut.at.job, cut.at.setup, cut.program, run.cuts,
                                      {first, std::numeric_limits<std::uint32_t>::max()});
    for (const std::uint32_t m : about.beside) events.cut_beside.push_back({now.told, {cut.at.run, m}});
    if (about.within.empty()) continue;
    const Motion& motion = cut.program.motions[about.within.front()];
    run.cuts_in_tabbed.push_back({about.within.front(), about.within.back(),
                                  static_cast<std::uint32_t>(about.within.size()), motion.end, now.told.run,
                                  now.told.place});
  }
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
  double widest = 0;
  for (const Motion& m : cut.program.motions) {
    if (const Tool* tool = findTool(cut.at.job, m.tool)) widest = std::max(widest, tool->diameter_mm);
  }
  for (const TabbedPart& part : parts) {
    const auto wide = [&](const FoundTab& t) { return t.kerf_mm > kerf_share * widest; };
    const std::vector<std::uint32_t> opened =
        openedRound(cut, part, outlineOf(cut.after, cut.at.setup, part.cells), opened_by);
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
    a.bounds = setupToWork(cut.at.setup, part.shape.box);
    run.still_attached.push_back(a);
  }
}

// The first move of a program with through = false that cut through, and how much it opened in all.
void observeOpened(const ProgramCut& cut, const OpenedBy& opened_by, ProgramRun& run) {
  double area_mm2 = 0;
  std::uint32_t first = 0;
  Cell first_cell = 0;
  cutting::eachCell(cut.after, [&](Cell c) {
    if (opened_by.dexel[c] != 0) area_mm2 += cut.after.cellArea_mm2();
    for (const std::uint32_t by : {opened_by.dexel[c], opened_by.contact[c]}) {
      if (by == 0 || (first != 0 && by >= first)) continue;
      first = by;
      first_cell = c;
    }
  });
  if (first == 0) return;
  run.opened = OpenedHole{first - 1, setupToWork(cut.at.setup, cellCentre(cut.after, first_cell)), area_mm2};
}

// Where pieces lie one over another, only the one with more material was followed.
void noteLayers(const ProgramCut& cut, const Pieces& now, PartTracker& tracker) {
  if (now.layered_mm2 > tracker.layered_mm2 + least_layer_mm2) {
    const WorkPoint spot = setupToWork(cut.at.setup, cellCentre(cut.after, now.layered_at));
    char place[64];
    std::snprintf(place, sizeof place, "X%.1f Y%.1f", spot.x, spot.y);
    tracker.not_checked.push_back(cut.at.entry.file +
                                  ": an undercut parts the stock into pieces that lie one over another, near " + place +
                                  ": what holds the one with less material there was not checked");
  }
  tracker.layered_mm2 = now.layered_mm2;
}

// Pieces that came loose and parts on tabs; the latter are returned.
std::vector<TabbedPart> observePieces(const ProgramCut& cut, ProgramRun& run, PartTracker& tracker,
                                      PieceEvents& events) {
  if (cut.contacts.list.empty()) observeCutsAtLoose(cut, run, tracker.followed, events);
  if (cut.contacts.list.empty() && !mayHaveParted(cut.before, cut.after)) return {};
  const Pieces was = labelPieces(cut.before), now = labelPieces(cut.after);
  if (!cut.contacts.list.empty()) {
    const Parting parting =
        partingOf({cut.before, cut.after, was, now, cut.contacts, cut.at.job, cut.at.entry.hold_downs, lastCut(run)});
    observeParted(cut, was, now, parting, run, tracker.followed, events);
  }
  double kerf_mm = 0;
  for (const Tool& t : cut.at.job.tools) kerf_mm = std::max(kerf_mm, t.diameter_mm);
  TabbedParts parts =
      tabbedParts({cut.before, cut.after, now, grainInSetup(cut.at), kerf_mm, cut.past}, [&](const Pieces& apart) {
        std::vector<bool> held;
        for (const auto& by : heldBy(cut.after, apart, cut.at.job, cut.at.entry.hold_downs))
          held.push_back(!by.empty());
        return held;
      });
  leaveOutKnown(cut, tracker, parts.tabbed);
  noteLayers(cut, now, tracker);
  tracker.parted = tracker.parted || wholePieces(now) > 1;
  if (!parts.tabbed.empty() || !parts.still_attached.empty() || !cut.at.entry.through) {
    const OpenedBy opened_by = openedBy(cut);
    if (!cut.at.entry.through) observeOpened(cut, opened_by, run);
    observeTabbed(cut, parts.tabbed, opened_by, run, tracker);
    observeStillAttached(cut, parts.still_attached, opened_by, run);
  }
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
    run.doubtful_throughs.push_back({d.move, setupToWork(cut.at.setup, d.at), d.as_said_mm, d.thickest_mm, d.area_mm2});
  }
}

void observeSlivers(const ProgramCut& cut, cutting::DexelReplayer& replayer, ProgramRun& run) {
  for (const FoundSliver& f : slivers(cut)) {
    std::uint32_t last = 0;
    for (const Cell c : f.beside) last = std::max(last, motionThatCut(cut, replayer, c));
    run.slivers.push_back({last, setupToWork(cut.at.setup, f.at), f.width_mm, f.height_mm});
  }
}

}  // namespace

PieceEvents observeParts(const ProgramCut& cut, ProgramRun& run, PartTracker& tracker) {
  PieceEvents events;
  observeCutTabs(cut, tracker, events);
  const std::vector<TabbedPart> tabbed = observePieces(cut, run, tracker, events);
  observeAboutTabbed(cut, run, tracker, events);
  cutting::DexelReplayer replayer(cut.after, cut.cutters, cut.at.job, cut.at.setup, cut.program.motions);
  observeThinFloors(cut, tabbed, replayer, run);
  observeDoubtfulThroughs(cut, replayer, run, tracker, events);
  observeSlivers(cut, replayer, run);
  return events;
}

void observeBegin(const ProgramAt& at, const cutting::DexelField& field, ProgramRun& run, PartTracker& tracker) {
  const bool any_held = std::any_of(tracker.followed.begin(), tracker.followed.end(),
                                    [](const FollowedPiece& f) { return f.told && !f.held_by.empty(); });
  if (any_held) observeReleased(at, field, labelPieces(field), run, tracker.followed);
}

}  // namespace provecut::pieces
