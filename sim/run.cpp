#include "sim/run.h"

#include <tbb/global_control.h>
#include <tbb/parallel_invoke.h>
#include <tbb/task_group.h>

#include <algorithm>
#include <cmath>
#include <optional>
#include <set>

#include "sim/clearance/clearance.h"
#include "sim/clock/job_clock.h"
#include "sim/clock/path_limits.h"
#include "sim/holes/hole_pairs.h"
#include "sim/holes/old_hole.h"
#include "sim/holes/pin_fit.h"
#include "sim/holes/screw_seat.h"
#include "sim/load/move_load.h"
#include "sim/path/motion_extent.h"
#include "sim/path/setup_frame.h"
#include "sim/pieces/held_pieces.h"
#include "sim/pieces/parts.h"
#include "sim/placing/hold_down_shift.h"
#include "sim/stock/cut.h"
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
    const Box3 box = motionExtent(m);
    run.bounds.add(box);
    lowest = std::min(lowest, workToSetup(setup, box.low).z);
  }
  run.deepest_below_top_mm = job.stock.size_mm.z - lowest;
}

void noteUnknownTools(const Cutters& cutters, const Program& program, const std::string& file,
                      std::vector<std::string>& not_checked) {
  std::set<int> unknown;
  for (const Motion& m : program.motions) {
    if (moves(m) && !cutters.contains(m.tool)) unknown.insert(m.tool);
  }
  for (const int tool : unknown) {
    not_checked.push_back(file + ": " + (tool == 0 ? std::string("an unnamed tool") : "tool " + std::to_string(tool)) +
                          " is not in the job file, so none of its moves were checked");
  }
}

struct StageTimes {
  Stopwatch clearances, cut, parts, clock;
};

void tellStages(const Job& job, std::span<const Program> programs, const Run& run, const StageTimes& spent,
                const StageObserver& tell) {
  std::size_t moves = 0, parts = 0;
  for (const Program& p : programs) moves += p.motions.size();
  for (const ProgramRun& p : run.programs) parts += p.pieces.size();
  tell({"cut", spent.cut.time_s(), moves, "moves"});
  tell({"clearances", spent.clearances.time_s(), job.hold_downs.size(), "hold-downs"});
  tell({"parts", spent.parts.time_s(), parts, "parts"});
  tell({"clock", spent.clock.time_s(), moves, "moves"});
}

}  // namespace

Run run(const Job& job, std::span<const Program> programs, const RunOptions& options) {
  std::optional<tbb::global_control> limit;
  if (options.threads > 0)
    limit.emplace(tbb::global_control::max_allowed_parallelism, static_cast<std::size_t>(options.threads));

  Run result;
  const Vec2 cell = cutting::cellSize(job, options.cell_mm);
  cutting::DexelField field = cutting::uncutStock(job.stock, cell);
  result.stock.cell_mm = surface::cellSize(job.stock, cell);
  const double whole = cutting::volume_mm3(field);
  const Cutters cutters = makeCutters(job);
  // The clock needs the moves alone: it runs beside the cut.
  std::vector<clock::ProgramTimes> times;
  tbb::task_group clock;
  StageTimes spent;
  clock.run([&] { spent.clock.time([&] { times = clock::jobTimes(job, programs, {.keep_peaks = true}); }); });
  pieces::PartTracker tracker;

  const Setup uncut_lies;
  const Setup* lies = &uncut_lies;
  std::size_t next = 0;
  for (std::size_t s = 0; s < job.setups.size(); ++s) {
    const Setup& setup = job.setups[s];
    field = cutting::turned(std::move(field), *lies, setup);
    lies = &setup;
    bool other_side_zero_on_top = true;
    for (std::size_t earlier = 0; earlier < s; ++earlier) {
      const Setup& other = job.setups[earlier];
      if ((other.flip == Flip::none) != (setup.flip == Flip::none)) other_side_zero_on_top = other.zero_z_on_top;
    }
    for (std::size_t e = 0; e < setup.programs.size(); ++e, ++next) {
      if (next >= programs.size()) break;
      const ProgramEntry& entry = setup.programs[e];
      const Program& program = programs[next];
      if (options.progress) options.progress(static_cast<int>(next), static_cast<int>(programs.size()));
      result.programs.emplace_back();
      ProgramRun& pr = result.programs.back();
      pr.setup = static_cast<int>(s);
      pr.entry = static_cast<int>(e);
      noteUnknownTools(cutters, program, entry.file, result.not_checked);
      spent.clearances.time(
          [&] { clearance::checkHoldDowns(job, setup, entry, program, pr.contacts, pr.near_passes); });
      spent.parts.time([&] {
        pieces::observeReleased(job, setup, entry, field, result.programs, static_cast<int>(next), tracker);
        holes::observeSeats(job, entry, field, static_cast<int>(next), result.screw_seats);
      });
      if (options.replay)
        options.replay->programs.emplace_back().before = cutting::heightMap(field, options.replay->max_cells);
      const cutting::DexelField before = cutting::heightsOf(field);
      cutting::CutResult cut;
      spent.cut.time([&] {
        tbb::parallel_invoke([&] { cut = cutting::cutProgram(field, cutters, job, setup, program.motions); },
                             [&] { measureMoves(job, setup, program, pr); });
      });
      pr.cuts = std::move(cut.cuts);
      pr.bodies_in_stock = std::move(cut.bodies_in_stock);
      for (const MoveCut& c : pr.cuts) pr.removed_mm3 += static_cast<double>(c.removed_mm3);
      spent.parts.time([&] {
        pieces::observeParts({job, setup, entry, program, cutters, before, field}, other_side_zero_on_top,
                             result.programs, static_cast<int>(next), tracker);
        pr.holding = pieces::heldPieces(job, setup, entry, field, result.programs, tracker);
      });
    }
    if (options.replay && !setup.programs.empty() && !options.replay->programs.empty()) {
      options.replay->programs.back().after = cutting::heightMap(field, options.replay->max_cells);
    }
  }
  result.not_checked.insert(result.not_checked.end(), tracker.not_checked.begin(), tracker.not_checked.end());
  clock.wait();
  for (std::size_t i = 0; i < result.programs.size(); ++i) {
    clock::shareOutAir(job, programs[i], result.programs[i].cuts, times[i]);
    result.programs[i].time = times[i].time;
    result.programs[i].change_before_s = times[i].change_before_s;
    result.programs[i].time_low = times[i].low;
    result.programs[i].time_high = times[i].high;
    result.programs[i].loads = moveLoads(job, cutters, programs[i].motions, result.programs[i].cuts, times[i].plan);
    if (!options.replay) continue;
    ProgramReplay& replay = options.replay->programs[i];
    replay.move_s = std::move(times[i].plan.move_s);
    replay.event_s = std::move(times[i].plan.event_s);
    replay.change_before_s = times[i].change_before_s;
  }
  for (ProgramRun& pr : result.programs) {
    // Settled by a later program.
    std::erase_if(pr.doubtful_throughs, [](const DoubtfulThrough& d) { return d.thickest_mm <= 0; });
  }
  result.hole_pairs = holes::holePairs(job, programs.first(result.programs.size()), result.programs);
  result.escapes = placing::holdDownShifts(job, programs, result.programs);
  holes::observePins(job, programs, result);
  result.holes_in_path = holes::holesInPath(job, programs);
  result.stock.remaining_mm3 = cutting::volume_mm3(field);
  result.stock.removed_mm3 = whole - result.stock.remaining_mm3;
  if (options.stage) tellStages(job, programs, result, spent, options.stage);
  if (options.finished_stock) options.finished_stock(cutting::turned(std::move(field), *lies, uncut_lies));
  return result;
}

}  // namespace provecut
