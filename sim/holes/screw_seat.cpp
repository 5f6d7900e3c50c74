#include "sim/holes/screw_seat.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "sim/clearance/obstacle.h"
#include "sim/path/stock_plan.h"
#include "sim/stock/cut.h"

namespace provecut::holes {

void observeSeats(const Job& job, const ProgramEntry& entry, const cutting::DexelField& field, int program,
                  std::vector<ScrewSeat>& seats) {
  const StockPlan stock{{field.nx * field.cell_x_mm, field.ny * field.cell_y_mm}, job.stock.shape == StockShape::round};
  for (const int index : entry.hold_downs) {
    const HoldDown& h = job.hold_downs[index];
    if (h.kind != HoldDownKind::screw) continue;
    const clearance::Obstacle head = clearance::obstacle(h, field.thickness_mm);
    const SetupPoint2 axis = h.at_mm;
    if (beyondEdge_mm(stock, axis) > 0) continue;  // beside the stock
    // Half a head is about a screw's shank (old shop rule, see the job file's `shaft_diameter`).
    const double shaft = h.shaft_diameter_mm > 0 ? h.shaft_diameter_mm / 2 : (head.high.x - head.low.x) / 4;
    const double cell = std::hypot(field.cell_x_mm, field.cell_y_mm);
    ScrewSeat seat{program, index, field.thickness_mm, 0, 0};
    bool head_seen = false;
    const int x0 = static_cast<int>(std::max(0.0, head.low.x) / field.cell_x_mm),
              x1 = std::min(field.nx - 1, static_cast<int>(head.high.x / field.cell_x_mm));
    const int y0 = static_cast<int>(std::max(0.0, head.low.y) / field.cell_y_mm),
              y1 = std::min(field.ny - 1, static_cast<int>(head.high.y / field.cell_y_mm));
    for (int y = y0; y <= y1; ++y) {
      for (int x = x0; x <= x1; ++x) {
        const SetupPoint2 at = field.centre(x, y);
        const cutting::Cell at_cell = field.index(x, y);
        const double thickness = std::max(0.0F, field.thickness(at_cell));
        const double away = length(at - axis);
        if (away <= cell / 2) seat.pilot_mm = std::max(seat.pilot_mm, field.thickness_mm - thickness);
        if (away <= shaft || !clearance::covers(head, at)) continue;
        head_seen = true;
        seat.thickness_mm = std::min(seat.thickness_mm, thickness);
        if (thickness > 0) seat.rests_at_mm = std::max(seat.rests_at_mm, double{field.top[at_cell]});
      }
    }
    // A head between the centres of coarse cells.
    if (!head_seen) seat.rests_at_mm = field.thickness_mm;
    seats.push_back(seat);
  }
}

std::vector<ScrewSeat> screwSeats(const Job& job, const Programs& programs, double cell_mm) {
  std::vector<ScrewSeat> seats;
  if (std::none_of(job.hold_downs.begin(), job.hold_downs.end(),
                   [](const HoldDown& h) { return h.kind == HoldDownKind::screw; }))
    return seats;
  cutting::DexelField field = cutting::uncutStock(job.stock, cutting::cellSize(job, cell_mm));
  const Cutters cutters = makeCutters(job);
  const Setup as_stock;
  const Setup* setup_now = &as_stock;
  int next = 0;
  for (const Setup& setup : job.setups) {
    field = cutting::movedTo(std::move(field), *setup_now, setup);
    setup_now = &setup;
    for (const ProgramEntry& entry : setup.programs) {
      if (next >= std::ssize(programs)) return seats;
      observeSeats(job, entry, field, next, seats);
      cutting::cutProgram(field, cutters, job, setup, programs[next++].motions);
    }
  }
  return seats;
}

}  // namespace provecut::holes
