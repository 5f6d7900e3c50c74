#include "sim/run.h"

#include <tbb/global_control.h>
#include <tbb/parallel_invoke.h>
#include <tbb/task_group.h>

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <optional>
#include <set>

#include "parser/job/job_words.h"
#include "sim/clearance/clearance.h"
#include "sim/clock/job_clock.h"
#include "sim/clock/path_limits.h"
#include "sim/holes/hole_pairs.h"
#include "sim/holes/old_hole.h"
#include "sim/holes/pin_fit.h"
#include "sim/holes/screw_seat.h"
#include "sim/load/move_load.h"
#include "sim/parts/held_pieces.h"
#include "sim/parts/parts.h"
#include "sim/path/motion_extent.h"
#include "sim/path/setup_frame.h"
#include "sim/pieces/piece_events.h"
#include "sim/placing/hold_down_spots.h"
#include "sim/stock/cut.h"
#include "sim/stock/cut_gaps.h"
#include "sim/stock/low_rapids.h"
#include "sim/surface/stock_grid.h"

namespace provecut {

namespace {

void measureMoves(const Job& job, const Setup& setup, const Program& program, ProgramRun& run) {
  double lowest = job.stock.size_mm.z;
  const clock::AxisLimits axes = clock::axisLimits(job.machine);
  for (const Motion& m : program.motions) {
    if (!moves(m)) continue;
    if (m.kind != MotionKind::rapid) {
      run.feed_mm += clock::movePath(m, axes, 0).length_mm;
    } else if (!(m.flags & motion_start_unknown)) {
      run.rapid_mm += clock::movePath(m, axes, 0).length_mm;
    }
    if (m.flags & (motion_height_unknown | motion_start_unknown)) {
      if (!(m.flags & motion_height_unknown)) lowest = std::min(lowest, workToSetup(setup, m.end).z);
      continue;
    }
    const WorkBox box = motionExtent(m);
    run.bounds.add(box);
    lowest = std::min(lowest, workToSetup(setup, box.low).z);
  }
  run.deepest_below_top_mm = job.stock.size_mm.z - lowest;
}

// The zero of the setups before that had the other face up; the last of them counts.
bool otherSideZeroOnTop(const Job& job, int setup) {
  bool on_top = true;
  for (int earlier = 0; earlier < setup; ++earlier) {
    const Setup& other = job.setups[earlier];
    if ((other.flip == Flip::none) != (job.setups[setup].flip == Flip::none)) on_top = other.zero_z_on_top;
  }
  return on_top;
}

struct StageTimes {
  Stopwatch clearances, cut, parts, clock, spots;
};

// The cells that would be chosen if nobody asked for any.
double ownCell_mm(Job job) {
  job.limits.cell_mm = 0;
  const Vec2 cell = cutting::cellSize(job, 0);
  return std::max(cell.x, cell.y);
}

// A job as far as it is cut.
struct JobRun {
  const Job& job;
  const Programs& programs;
  const RunOptions& options;
  Cutters cutters;
  cutting::DexelField field;  // in the setup at work
  pieces::PartTracker tracker;
  std::vector<pieces::PieceEvents> events;  // one per program
  std::vector<cutting::PastCut> past;       // one per program
  double own_cell_mm = 0;                   // that is chosen where nobody asks for one
  Run result;
  StageTimes spent;
};

// Above the stock's underside: what no bit can touch whose tip stays there.
double clearHeight_mm(const Job& job, const ProgramEntry& entry) {
  double highest = job.stock.size_mm.z;
  for (const int h : entry.hold_downs) {
    if (isObstacle(job.hold_downs[h])) highest = std::max(highest, job.stock.size_mm.z + job.hold_downs[h].top_mm);
  }
  return highest + job.limits.clearance_mm;
}

// Rapids that clear the way for the first tool change: up in the machine's own frame, or wholly above everything at a
// height that the program set. What hangs on the spindle reaches an unknown length below the tip of an unknown tool.
bool clearsTheWay(const Job& job, const Setup& setup, const ProgramEntry& entry, const Motion& m, bool height_set) {
  if (m.kind != MotionKind::rapid) return false;
  if (m.flags & motion_machine_frame) return true;
  const double clear_z = clearHeight_mm(job, entry) - setup.zero_mm.z;
  const bool from_above = (m.flags & motion_start_unknown) || m.start.z >= clear_z;
  return height_set && from_above && m.end.z >= clear_z && job.spindle_attachments.empty();
}

void noteUnknownTools(const JobRun& r, const Setup& setup, const ProgramEntry& entry, const Program& program,
                      std::vector<std::string>& not_checked) {
  const std::string where = r.job.file.empty() ? "among the tools given" : "in the job file";
  std::set<int> unknown;
  bool height_set = false;
  for (const Motion& m : program.motions) {
    if (!moves(m)) continue;
    height_set |= m.start.z != m.end.z || (m.flags & motion_height_unknown);
    if (r.cutters.contains(m.tool)) continue;
    if (m.tool != 0 || !clearsTheWay(r.job, setup, entry, m, height_set)) unknown.insert(m.tool);
  }
  for (const int tool : unknown) {
    not_checked.push_back(
        entry.file + ": " +
        (tool == 0 ? std::string("no tool is known to be in the spindle at first, so those moves were not checked")
                   : "tool " + std::to_string(tool) + " is not " + where + ", so none of its moves were checked"));
  }
}

// Of the cutters that a program feeds; 0: none.
double narrowestCutter_mm(const Job& job, const Program& program) {
  double narrowest = 0;
  for (const Motion& m : program.motions) {
    const Tool* tool = moves(m) && m.kind != MotionKind::rapid ? findTool(job, m.tool) : nullptr;
    if (tool && (narrowest == 0 || tool->diameter_mm < narrowest)) narrowest = tool->diameter_mm;
  }
  return narrowest;
}

// Cells that someone asked for may be too coarse to tell what a program that cuts through leaves standing.
void noteCoarseCell(JobRun& r, const Program& program, const ProgramEntry& entry, const ProgramRun& run) {
  const double cell_mm = std::max(r.field.cell_x_mm, r.field.cell_y_mm);
  const double cutter_mm = narrowestCutter_mm(r.job, program);
  if (cell_mm <= r.own_cell_mm || 3 * cell_mm <= cutter_mm || cutter_mm == 0) return;
  if (run.deepest_below_top_mm < r.job.stock.size_mm.z) return;
  char text[200];
  std::snprintf(
      text, sizeof text,
      ": cells of %.3g mm are too coarse for its %.4g mm cutter, so tabs and walls thinner than a cell may be "
      "missed; leave %s out",
      cell_mm, cutter_mm, r.options.cell_mm > 0 ? "--cell" : "`limits.cell`");
  r.result.not_checked.push_back(entry.file + text);
}

// A program that cuts from a place it never sets: in increments, or with an axis left out.
void noteUnknownStart(const Program& program, const std::string& file, std::vector<std::string>& not_checked) {
  bool feeds = false;
  for (const Motion& m : program.motions) {
    if (m.kind != MotionKind::feed && !isArc(m)) continue;
    if (!(m.flags & motion_start_unknown)) return;
    feeds = true;
  }
  if (feeds) not_checked.push_back(file + ": it never says where its cuts start, so none of them were checked");
}

// A vise or side clamps that the job does not place.
void noteUnplaced(const Job& job, std::vector<std::string>& not_checked) {
  for (const Setup& setup : job.setups) {
    for (const int h : setup.hold_downs) {
      if (!job.hold_downs[h].unplaced) continue;
      not_checked.push_back("setup " + setup.name + ": the job file does not say where the " + job.hold_downs[h].name +
                            " stands, so the tool was not checked against it. Describe each " +
                            (job.hold_downs[h].kind == HoldDownKind::vise ? "jaw" : "clamp") +
                            " in a [[hold_down]] with kind = \"" + std::string(wordOf(job.hold_downs[h].kind)) + "\"");
    }
  }
}

void runProgram(JobRun& r, int s, int e) {
  const Setup& setup = r.job.setups[s];
  const ProgramEntry& entry = setup.programs[e];
  const int index = static_cast<int>(r.result.programs.size());
  const Program& program = r.programs[index];
  if (r.options.progress) r.options.progress(index, static_cast<int>(r.programs.size()));
  ProgramRun& pr = r.result.programs.emplace_back();
  pr.setup = s;
  pr.entry = e;
  noteUnknownTools(r, setup, entry, program, r.result.not_checked);
  noteUnknownStart(program, entry.file, r.result.not_checked);
  r.spent.clearances.time([&] {
    clearance::checkHoldDowns(r.job, setup, entry, program, pr.contacts, pr.near_passes);
    clearance::checkTape(r.job, setup, entry, program, pr.tape_contacts);
  });
  const pieces::ProgramAt at{r.job, setup, entry, index, r.options.outlines, r.options.tabs};
  r.spent.parts.time([&] {
    pieces::observeBegin(at, r.field, pr, r.tracker);
    holes::observeSeats(r.job, entry, r.field, index, r.result.screw_seats);
  });
  if (Replay* replay = r.options.replay)
    replay->programs.emplace_back().before = cutting::heightMap(r.field, replay->max_cells);

  const cutting::DexelField before = cutting::heightsOf(r.field);
  cutting::ContactLog contacts = cutting::makeContactLog(r.field);
  cutting::CutResult cut;
  r.spent.cut.time([&] {
    tbb::parallel_invoke(
        [&] { cut = cutting::cutProgram(r.field, r.cutters, r.job, setup, program.motions, {.contacts = &contacts}); },
        [&] { measureMoves(r.job, setup, program, pr); });
  });
  r.spent.cut.time([&] { cutting::cutGaps(r.field, r.cutters, r.job, setup, program.motions, &contacts); });
  r.past.push_back(cutting::pastCut(r.cutters, setup, program));
  r.spent.cut.time([&] {
    cutting::lookCloserAtRapids({r.job, r.cutters, r.past}, {r.field.cell_x_mm, r.field.cell_y_mm}, cut.cuts);
  });
  pr.cuts = std::move(cut.cuts);
  pr.bodies_in_stock = std::move(cut.bodies_in_stock);
  for (const MoveCut& c : pr.cuts) pr.removed_mm3 += double{c.removed_mm3};
  noteCoarseCell(r, program, entry, pr);
  r.spent.parts.time([&] {
    r.events.push_back(pieces::observeParts({at, program, r.cutters, before, r.field, contacts,
                                             cutting::PastCuts{r.job, r.cutters, r.past}, otherSideZeroOnTop(r.job, s)},
                                            pr, r.tracker));
    pr.holding = pieces::heldPieces(at, r.field, r.tracker);
  });
}

// All programs, setup by setup; gives the setup that the stock is left in.
const Setup* cutJob(JobRun& r, const Setup* setup_now) {
  for (int s = 0; s < std::ssize(r.job.setups); ++s) {
    const Setup& setup = r.job.setups[s];
    r.field = cutting::movedTo(std::move(r.field), *setup_now, setup);
    setup_now = &setup;
    for (int e = 0; e < std::ssize(setup.programs) && r.result.programs.size() < r.programs.size(); ++e)
      runProgram(r, s, e);
    if (Replay* replay = r.options.replay; replay && !setup.programs.empty() && !replay->programs.empty())
      replay->programs.back().after = cutting::heightMap(r.field, replay->max_cells);
  }
  return setup_now;
}

void tellStages(const JobRun& r, const StageObserver& tell) {
  std::size_t moves = 0, parts = 0;
  for (const Program* p : r.programs) moves += p->motions.size();
  for (const ProgramRun& p : r.result.programs) parts += p.pieces.size();
  tell({"cut", r.spent.cut.time_s(), moves, "moves"});
  tell({"clearances", r.spent.clearances.time_s(), r.job.hold_downs.size(), "hold-downs"});
  tell({"parts", r.spent.parts.time_s(), parts, "parts"});
  tell({"clock", r.spent.clock.time_s(), moves, "moves"});
  tell({"spots", r.spent.spots.time_s(), r.result.clear_spots.size(), "found"});
}

// What the clock says, and the loads that follow from it.
void addTimes(JobRun& r, std::vector<clock::ProgramTimes>& times) {
  for (std::size_t i = 0; i < r.result.programs.size(); ++i) {
    ProgramRun& pr = r.result.programs[i];
    clock::ProgramTimes& t = times[i];
    clock::shareOutAir(r.job, r.programs[i], pr.cuts, t);
    pr.time = t.time;
    pr.change_before_s = t.change_before_s;
    pr.time_low = t.low;
    pr.time_high = t.high;
    pr.loads = moveLoads(r.job, r.cutters, r.programs[i].motions, pr.cuts, t.plan);
    if (!r.options.replay) continue;
    ProgramReplay& replay = r.options.replay->programs[i];
    replay.move_s = std::move(t.plan.move_s);
    replay.event_s = std::move(t.plan.event_s);
    replay.change_before_s = t.change_before_s;
  }
}

}  // namespace

Run run(const Job& job, const Programs& programs, const RunOptions& options) {
  std::optional<tbb::global_control> limit;
  if (options.threads > 0) limit.emplace(tbb::global_control::max_allowed_parallelism, options.threads);

  const Vec2 cell = cutting::cellSize(job, options.cell_mm);
  JobRun r{job, programs, options, makeCutters(job), cutting::uncutStock(job.stock, cell), {}, {}, {}, 0, {}, {}};
  r.own_cell_mm = ownCell_mm(job);
  r.result.stock.cell_mm = surface::cellSize(job.stock, cell);
  const double whole = cutting::volume_mm3(r.field);
  // The clock needs the moves alone: it runs beside the cut.
  std::vector<clock::ProgramTimes> times;
  tbb::task_group clock;
  clock.run([&] { r.spent.clock.time([&] { times = clock::jobTimes(job, programs, {.keep_peaks = true}); }); });

  const Setup as_stock;
  const Setup* setup_now = cutJob(r, &as_stock);
  Run& result = r.result;
  result.not_checked.insert(result.not_checked.end(), r.tracker.not_checked.begin(), r.tracker.not_checked.end());
  noteUnplaced(job, result.not_checked);
  pieces::settle(r.events, result.programs);
  clock.wait();
  addTimes(r, times);
  result.hole_pairs = holes::holePairs(job, programs.first(result.programs.size()), result.programs);
  r.spent.spots.time([&] { result.clear_spots = placing::clearSpots(job, programs, result.programs); });
  holes::observePins(job, programs, result);
  result.holes_in_path = holes::holesInPath(job, programs);
  result.stock.remaining_mm3 = cutting::volume_mm3(r.field);
  result.stock.removed_mm3 = whole - result.stock.remaining_mm3;
  if (options.finished_stock) {
    cutting::DexelField finished = cutting::movedTo(std::move(r.field), *setup_now, as_stock);
    cutting::shareRim(job.stock, finished);
    options.finished_stock(std::move(finished));
  }
  if (options.stage) tellStages(r, options.stage);
  return std::move(r.result);
}

}  // namespace provecut
