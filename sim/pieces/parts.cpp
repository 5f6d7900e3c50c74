#include "sim/pieces/parts.h"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <limits>
#include <map>
#include <optional>

#include "sim/path/setup_frame.h"
#include "sim/pieces/holding.h"
#include "sim/pieces/sliver.h"
#include "sim/pieces/thin_floor.h"
#include "sim/pieces/through_doubt.h"
#include "sim/stock/dexel_replay.h"
#include "sim/stock/undercut.h"

namespace provecut::pieces {

namespace {

constexpr double least_layer_mm2 = 4;   // as small a piece is a crumb
constexpr std::size_t max_floors = 40;  // thin regions whose cause is looked for, the thinnest first
// A kerf is about as wide as the bit.
constexpr double kerf_share = 1.3;

SetupPoint cellCentre(const cutting::DexelField& f, std::size_t c) {
  const auto stride = static_cast<std::size_t>(f.stride);
  return atHeight(f.centre(static_cast<int>(c % stride), static_cast<int>(c / stride)),
                  cutting::shownHeight_mm(f.top[c]));
}

// The cell under a point of the stock, or none.
std::optional<std::size_t> cellAt(const cutting::DexelField& f, const Job& job, const Setup& setup, StockPoint2 point) {
  const SetupPoint2 p = stockToSetup(job.stock, setup, point);
  const int x = static_cast<int>(std::floor(p.x / f.cell_x_mm)), y = static_cast<int>(std::floor(p.y / f.cell_y_mm));
  if (!f.inside(x, y)) return std::nullopt;
  return f.index(x, y);
}

SetupDirection2 grainInSetup(const Job& job, const Setup& setup) {
  if (job.stock.grain == Grain::none) return {};
  const StockDirection2 along = job.stock.grain == Grain::x ? StockDirection2{1, 0} : StockDirection2{0, 1};
  return stockToSetup(job.stock, setup, along);
}

// Whether the program can have parted anything: it opened a dexel or left no more than a skin there, or the stock was
// cut from below already.
bool mayHaveParted(const cutting::DexelField& before, const cutting::DexelField& after) {
  for (int y = 0; y < after.ny; ++y) {
    for (std::size_t c = after.index(0, y), end = after.index(after.nx, y); c < end; ++c) {
      if (after.undercut.holds(c) && after.undercut.at(c, y).atCentre().size() > 1) return true;
      if (after.top[c] >= before.top[c]) continue;
      if (after.thickness(c) <= skin_mm || after.floor[c] > cutting::no_material_mm) return true;
    }
  }
  return false;
}

cutting::CutStamps replay(const ProgramCut& cut) {
  cutting::CutStamps stamps = cutting::makeStamps(cut.before);
  cutting::DexelField again = cutting::toCutAgain(cut.before);
  cutting::cutProgram(again, cut.cutters, cut.job, cut.setup, cut.program.motions,
                      {.stamps = &stamps, .measured = false});
  return stamps;
}

Piece describe(const ProgramCut& cut, const PieceShape& shape, const std::vector<int>& held) {
  Piece p;
  p.volume_mm3 = shape.volume_mm3;
  p.plan_area_mm2 = shape.plan_area_mm2;
  p.bounds = setupToWork(cut.setup, shape.box);
  p.at = setupToWork(cut.setup, cellCentre(cut.after, shape.seed));
  for (const int h : held) {
    if (cut.job.hold_downs[static_cast<std::size_t>(h)].kind == HoldDownKind::tape) p.held_by_tape = true;
    p.held_by_hold_downs.push_back(h);
  }
  return p;
}

std::uint32_t lastCut(const ProgramRun& run) {
  for (std::size_t m = run.cuts.size(); m-- > 0;) {
    if (run.cuts[m].bite_mm > 0) return static_cast<std::uint32_t>(m);
  }
  return 0;
}

// The motion that made dexel `cell` as low as it is: the program is cut once more in that dexel alone.
std::uint32_t motionThatCut(const ProgramCut& cut, cutting::DexelReplayer& replayer, std::size_t cell) {
  const auto* hollows = cut.before.undercut.holds(cell) ? &cut.before.undercut.at(cell, cut.before.row(cell)) : nullptr;
  return replayer.replay(cell, {cut.after.floor[cell], cut.before.top[cell], hollows}).last.value_or(0);
}

// New pieces of the program, the rest of the stock left out.
void observeFreed(const ProgramCut& cut, const Pieces& was, const Pieces& now, std::vector<ProgramRun>& runs, int at,
                  const cutting::CutStamps& stamps, PartTracker& tracker) {
  ProgramRun& run = runs[static_cast<std::size_t>(at)];
  const auto held = heldBy(cut.after, now, cut.job, cut.entry.hold_downs);
  std::map<std::int32_t, std::vector<std::int32_t>> children;  // by the label that they had before
  for (std::size_t k = 0; k < now.shapes.size(); ++k) {
    if (!now.shapes[k].crumb) children[was.label[now.shapes[k].seed]].push_back(static_cast<std::int32_t>(k + 1));
  }
  const std::vector<std::uint32_t> parted = partingMotions(cut.after, now, stamps);
  for (const auto& [parent, labels] : children) {
    if (labels.size() < 2) continue;
    const auto rest = *std::max_element(labels.begin(), labels.end(), [&](std::int32_t a, std::int32_t b) {
      const bool held_a = !held[static_cast<std::size_t>(a - 1)].empty(),
                 held_b = !held[static_cast<std::size_t>(b - 1)].empty();
      if (held_a != held_b) return held_b;
      const bool spans_a = spansStock(now.shape(a), cut.after), spans_b = spansStock(now.shape(b), cut.after);
      if (spans_a != spans_b) return spans_b;
      return now.shape(a).volume_mm3 < now.shape(b).volume_mm3;
    });
    for (const std::int32_t label : labels) {
      if (label == rest) continue;
      const auto k = static_cast<std::size_t>(label - 1);
      Piece p = describe(cut, now.shape(label), held[k]);
      p.move = parted[k] == std::numeric_limits<std::uint32_t>::max() ? lastCut(run) : parted[k];
      p.free = held[k].empty();
      run.pieces.push_back(std::move(p));
      if (!held[k].empty()) {
        tracker.held.push_back({setupToStock(cut.job.stock, cut.setup, cellCentre(cut.after, now.shape(label).seed)),
                                at, run.pieces.size() - 1});
      }
    }
  }
}

// The motions that opened dexels beside the part, in order: after the last one it hangs.
std::vector<std::uint32_t> openedBeside(const ProgramCut& cut, const TabbedPart& part,
                                        const cutting::CutStamps& stamps) {
  std::vector<std::uint32_t> opened;
  const auto stride = static_cast<std::size_t>(cut.after.stride);
  const auto add = [&](std::size_t c) {
    if (stamps.through[c] > 0) opened.push_back(stamps.through[c] - 1);
  };
  for (const std::uint32_t c : part.cells) {
    const SetupPoint p = cellCentre(cut.after, c);
    const int x = static_cast<int>(p.x / cut.after.cell_x_mm), y = static_cast<int>(p.y / cut.after.cell_y_mm);
    if (x > 0) add(c - 1);
    if (x + 1 < cut.after.nx) add(c + 1);
    if (y > 0) add(c - stride);
    if (y + 1 < cut.after.ny) add(c + stride);
  }
  std::sort(opened.begin(), opened.end());
  opened.erase(std::unique(opened.begin(), opened.end()), opened.end());
  return opened;
}

void observeTabbed(const ProgramCut& cut, const std::vector<TabbedPart>& parts, std::vector<ProgramRun>& runs, int at,
                   const cutting::CutStamps& stamps, PartTracker& tracker) {
  if (parts.empty()) return;
  ProgramRun& run = runs[static_cast<std::size_t>(at)];
  // What holds the parts themselves, apart from their tabs.
  Pieces alone;
  alone.label.assign(cut.after.top.size(), 0);
  for (const TabbedPart& part : parts) {
    alone.shapes.push_back(part.shape);
    for (const std::uint32_t c : part.cells) alone.label[c] = static_cast<std::int32_t>(alone.shapes.size());
  }
  const auto held = heldBy(cut.after, alone, cut.job, cut.entry.hold_downs);
  for (std::size_t k = 0; k < parts.size(); ++k) {
    const TabbedPart& part = parts[k];
    Piece p = describe(cut, part.shape, held[k]);
    const std::vector<std::uint32_t> opened = openedBeside(cut, part, stamps);
    p.move = opened.empty() ? lastCut(run) : opened.back();
    for (const std::uint32_t m : opened) p.beside.push_back({at, m});
    for (const FoundTab& found : part.tabs) {
      p.tabs.push_back(found.tab);
      p.tabs.back().at = setupToWork(cut.setup, found.at);
    }
    run.pieces.push_back(std::move(p));
    TabbedNow now;
    now.run = at;
    now.piece = run.pieces.size() - 1;
    now.cells = part.cells;
    now.web_cells = part.web_cells;
    now.stride = static_cast<std::uint32_t>(cut.after.stride);
    now.outline = outlineOf(cut.after, cut.setup, part.cells);
    tracker.hanging.push_back(std::move(now));
  }
}

// Which of the parts that hang since earlier programs each dexel belongs to, as the stock lies now: their index + 1.
std::vector<std::int32_t> labelsOfTabbed(const ProgramCut& cut, const std::vector<TabbedNow>& hanging) {
  std::vector<std::int32_t> label(cut.after.top.size(), 0);
  for (std::size_t k = 0; k < hanging.size(); ++k) {
    for (const std::uint32_t cell : hanging[k].cells) {
      if (const auto c = cellAt(cut.after, cut.job, cut.setup, stockPoint(hanging[k], cut.job.stock, cell)))
        label[*c] = static_cast<std::int32_t>(k + 1);
    }
  }
  return label;
}

// What is told already: parts that an earlier program left hanging, on tabs that nothing has cut since.
void leaveOutKnown(const ProgramCut& cut, const PartTracker& tracker, std::vector<TabbedPart>& parts) {
  if (parts.empty() || tracker.hanging.empty()) return;
  const std::vector<std::int32_t> known = labelsOfTabbed(cut, tracker.hanging);
  std::erase_if(parts, [&](const TabbedPart& p) { return known[p.shape.seed] != 0; });
}

// Tabs that this program cuts are told of with the program that left them, unless something else holds the part by now.
void markCutTabs(const ProgramCut& cut, std::vector<ProgramRun>& runs, int at, PartTracker& tracker) {
  std::vector<std::vector<Hold>> holds;
  if (!tracker.hanging.empty()) {
    holds =
        holdsOf(cut.after, labelsOfTabbed(cut, tracker.hanging), tracker.hanging.size(), cut.job, cut.entry.hold_downs);
  }
  std::size_t next = 0;
  std::erase_if(tracker.hanging, [&](const TabbedNow& t) {
    const std::size_t k = next++;
    if (t.run == at) return false;
    const bool hit = std::any_of(t.web_cells.begin(), t.web_cells.end(), [&](std::uint32_t cell) {
      const auto c = cellAt(cut.after, cut.job, cut.setup, stockPoint(t, cut.job.stock, cell));
      return c && cutting::taken_mm(cut.before, cut.after, *c) > cutting::no_material_mm;
    });
    if (!hit) return false;
    if (holds[k].empty()) runs[static_cast<std::size_t>(t.run)].pieces[t.piece].tabs_cut_later = true;
    return true;
  });
}

// Moves that cut in the parts that hang already, and beside them.
void observeAboutTabbed(const ProgramCut& cut, std::vector<ProgramRun>& runs, int at, const PartTracker& tracker) {
  ProgramRun& run = runs[static_cast<std::size_t>(at)];
  for (const TabbedNow& now : tracker.hanging) {
    Piece& piece = runs[static_cast<std::size_t>(now.run)].pieces[now.piece];
    const std::uint32_t first = now.run == at ? piece.move + 1 : 0;
    const CutsAbout about = cutsAbout(now.outline, cut.job, cut.setup, cut.program, run.cuts, first);
    for (const std::uint32_t m : about.beside) piece.beside.push_back({at, m});
    if (about.within.empty()) continue;
    const Motion& motion = cut.program.motions[about.within.front()];
    run.cuts_in_tabbed.push_back({about.within.front(), about.within.back(),
                                  static_cast<std::uint32_t>(about.within.size()), motion.end, now.run, now.piece});
  }
}

// Outlines of kerfs that hardly go through: what they surround does not come loose.
void observeStillAttached(const ProgramCut& cut, const std::vector<TabbedPart>& parts, const cutting::CutStamps& stamps,
                          ProgramRun& run) {
  double widest = 0;
  for (const Motion& m : cut.program.motions) {
    if (const Tool* tool = findTool(cut.job, m.tool)) widest = std::max(widest, tool->diameter_mm);
  }
  for (const TabbedPart& part : parts) {
    const auto wide = [&](const FoundTab& t) { return t.tab.kerf_mm > kerf_share * widest; };
    const std::vector<std::uint32_t> opened = openedBeside(cut, part, stamps);
    if (opened.empty() || std::any_of(part.tabs.begin(), part.tabs.end(), wide)) continue;  // a pocket, not a kerf
    StillAttached a;
    a.move = opened.back();
    a.at = setupToWork(cut.setup, cellCentre(cut.after, part.shape.seed));
    double webs_mm = 0, area_mm2 = 0;
    for (const FoundTab& t : part.tabs) {
      webs_mm += t.tab.length_mm;
      area_mm2 += t.tab.area_mm2;
    }
    if (webs_mm <= 0 || part.open_share >= 1) continue;
    a.outline_mm = webs_mm / (1 - part.open_share);
    a.open_mm = a.outline_mm * part.open_share;
    a.web_thickness_mm = area_mm2 / webs_mm;
    a.bounds = setupToWork(cut.setup, part.shape.box);
    run.still_attached.push_back(a);
  }
}

// The first move of a program with through = false that opened a dexel, and how much it opened in all.
void observeOpened(const ProgramCut& cut, const cutting::CutStamps& stamps, ProgramRun& run) {
  OpenedHole hole;
  std::uint32_t first = 0;
  for (int y = 0; y < cut.after.ny; ++y) {
    for (std::size_t c = cut.after.index(0, y), end = cut.after.index(cut.after.nx, y); c < end; ++c) {
      if (stamps.through[c] == 0 || cut.before.thickness(c) <= cutting::no_material_mm) continue;
      hole.area_mm2 += cut.after.cellArea_mm2();
      if (first != 0 && stamps.through[c] >= first) continue;
      first = stamps.through[c];
      hole.at = setupToWork(cut.setup, cellCentre(cut.after, c));
    }
  }
  if (first == 0) return;
  hole.move = first - 1;
  run.opened = hole;
}

// Places that this program leaves in doubt, and those of earlier programs that it settles by cutting deeper.
void observeDoubtfulThroughs(const ProgramCut& cut, cutting::DexelReplayer& replayer, int top_moves, int floor_moves,
                             std::vector<ProgramRun>& runs, int at, PartTracker& tracker) {
  std::erase_if(tracker.doubts, [&](const DoubtNow& d) {
    const auto c = cellAt(cut.after, cut.job, cut.setup, flat(d.place));
    if (!c) return true;
    DoubtfulThrough& doubt = runs[static_cast<std::size_t>(d.run)].doubtful_throughs[d.index];
    if (d.setup->flip != cut.setup.flip) {
      // From the other side only what is left can be seen to go.
      if (doubt.as_said_mm <= 0 || cut.after.thickness(*c) > cutting::no_material_mm) return false;
      doubt.thickest_mm = 0;
      return true;
    }
    const cutting::DexelReplay deeper = replayer.replay(*c, {d.floor, d.top});
    if (deeper.top - d.floor > cutting::no_material_mm) return false;
    doubt.thickest_mm = 0;
    return true;
  });
  const ThroughSearch search{cut.job,    cut.setup, cut.program, cut.cutters,
                             cut.before, cut.after, top_moves,   floor_moves};
  std::vector<FoundDoubt> found = doubtfulThroughs(search);
  if (found.size() > max_floors) found.resize(max_floors);
  ProgramRun& run = runs[static_cast<std::size_t>(at)];
  for (FoundDoubt& d : found) {
    tracker.doubts.push_back({setupToStock(cut.job.stock, cut.setup, d.at), &cut.setup, d.floor, d.thick_top, at,
                              run.doubtful_throughs.size()});
    d.doubt.at = setupToWork(cut.setup, d.at);
    run.doubtful_throughs.push_back(d.doubt);
  }
}

}  // namespace

void observeParts(const ProgramCut& cut, bool other_side_zero_on_top, std::vector<ProgramRun>& runs, int at,
                  PartTracker& tracker) {
  markCutTabs(cut, runs, at, tracker);
  std::vector<TabbedPart> hanging, still_attached;
  ProgramRun& run = runs[static_cast<std::size_t>(at)];
  if (mayHaveParted(cut.before, cut.after)) {
    const Pieces was = labelPieces(cut.before), now = labelPieces(cut.after);
    double kerf_mm = 0;
    for (const Tool& t : cut.job.tools) kerf_mm = std::max(kerf_mm, t.diameter_mm);
    hanging = tabbedParts({cut.before, cut.after, now, grainInSetup(cut.job, cut.setup), kerf_mm, &still_attached},
                          [&](const Pieces& apart) {
                            std::vector<bool> held;
                            for (const auto& by : heldBy(cut.after, apart, cut.job, cut.entry.hold_downs))
                              held.push_back(!by.empty());
                            return held;
                          });
    leaveOutKnown(cut, tracker, hanging);
    if (now.layered_mm2 > tracker.layered_mm2 + least_layer_mm2) {
      const WorkPoint spot = setupToWork(cut.setup, cellCentre(cut.after, now.layered_at));
      char place[64];
      std::snprintf(place, sizeof place, "X%.1f Y%.1f", spot.x, spot.y);
      tracker.not_checked.push_back(cut.entry.file +
                                    ": an undercut parts the stock into pieces that lie one over another, near " +
                                    place + ": what holds the one with less material there was not checked");
    }
    tracker.layered_mm2 = now.layered_mm2;
    const auto whole = [](const Pieces& p) {
      return std::count_if(p.shapes.begin(), p.shapes.end(), [](const PieceShape& s) { return !s.crumb; });
    };
    tracker.parted = tracker.parted || whole(now) > 1;
    if (whole(now) > 1 || whole(was) > 1 || !hanging.empty() || !still_attached.empty() || !cut.entry.through) {
      const cutting::CutStamps stamps = replay(cut);
      if (!cut.entry.through) observeOpened(cut, stamps, run);
      observeFreed(cut, was, now, runs, at, stamps, tracker);
      observeTabbed(cut, hanging, runs, at, stamps, tracker);
      observeStillAttached(cut, still_attached, stamps, run);
    }
  }
  observeAboutTabbed(cut, runs, at, tracker);
  const std::vector<std::uint8_t> webs = hanging.empty() ? std::vector<std::uint8_t>{} : webMask(cut.after, hanging);
  // A zero on the top face moves with the thickness; one on the underside does not. Seen from this side, what was cut
  // from the other side with the zero on *its* top face keeps its distance from the underside.
  const int top_moves = cut.setup.zero_z_on_top ? 1 : 0, floor_moves = other_side_zero_on_top ? 0 : 1;
  cutting::DexelReplayer replayer(cut.after, cut.cutters, cut.job, cut.setup, cut.program.motions);
  std::vector<FoundFloor> floors = thinFloors({cut.before, cut.after, webs, cut.job.limits.min_floor_mm,
                                               cut.job.stock.thickness_tolerance_mm, top_moves, floor_moves});
  if (floors.size() > max_floors) floors.resize(max_floors);
  for (FoundFloor& f : floors) {
    f.floor.move = motionThatCut(cut, replayer, f.cell);
    f.floor.at = setupToWork(cut.setup, f.at);
    run.thin_floors.push_back(f.floor);
  }
  observeDoubtfulThroughs(cut, replayer, top_moves, floor_moves, runs, at, tracker);
  for (FoundSliver& f : slivers(cut.before, cut.after)) {
    f.sliver.at = setupToWork(cut.setup, f.at);
    const std::size_t step = f.beside.size() / 8 + 1;
    for (std::size_t k = 0; k < f.beside.size(); k += step)
      f.sliver.move = std::max(f.sliver.move, motionThatCut(cut, replayer, f.beside[k]));
    run.slivers.push_back(f.sliver);
  }
}

void observeReleased(const Job& job, const Setup& setup, const ProgramEntry& entry, const cutting::DexelField& field,
                     std::vector<ProgramRun>& runs, int at, PartTracker& tracker) {
  if (tracker.held.empty()) return;
  const Pieces pieces = labelPieces(field);
  const auto held = heldBy(field, pieces, job, entry.hold_downs);
  std::erase_if(tracker.held, [&](const HeldPiece& h) {
    const auto c = cellAt(field, job, setup, flat(h.seed));
    if (!c || pieces.label[*c] == 0) return true;
    const auto label = pieces.label[*c];
    if (!held[static_cast<std::size_t>(label - 1)].empty()) return false;
    Piece p = runs[static_cast<std::size_t>(h.run)].pieces[h.piece];
    p.move = 0;
    p.held_before = std::move(p.held_by_hold_downs);
    p.held_by_hold_downs.clear();
    p.held_by_tape = false;
    p.free = true;
    p.volume_mm3 = pieces.shape(label).volume_mm3;
    p.bounds = setupToWork(setup, pieces.shape(label).box);
    p.at = setupToWork(setup, cellCentre(field, *c));
    runs[static_cast<std::size_t>(at)].pieces.push_back(std::move(p));
    return true;
  });
}

}  // namespace provecut::pieces
