#include "sim/pieces/holding.h"

#include <algorithm>

namespace provecut::pieces {

std::vector<int> namesOf(const std::vector<Hold>& holds) {
  std::vector<int> list;
  for (const Hold& h : holds) list.push_back(h.hold_down);
  return list;
}

bool isEnough(const Job& job, const Hold& hold) {
  const HoldDownKind kind = job.hold_downs[hold.hold_down].kind;
  if (kind == HoldDownKind::pin) return false;
  return kind == HoldDownKind::tape ? hold.area_mm2 >= least_tape_mm2 : hold.area_mm2 > 0;
}

bool isOver(const Job& job, int hold_down, const clearance::Obstacle& body, const cutting::DexelField& field,
            cutting::Cell cell) {
  const bool tape = job.hold_downs[hold_down].kind == HoldDownKind::tape;
  if (tape && field.floor[cell] > cutting::no_material_mm) return false;
  const auto [x, y] = field.place(cell);
  const SetupPoint2 at = field.centre(x, y);
  if (at.x < body.low.x || at.x > body.high.x || at.y < body.low.y || at.y > body.high.y) return false;
  return clearance::covers(body, at);
}

std::vector<std::vector<Hold>> areasUnder(const cutting::DexelField& field, const std::vector<Label>& label,
                                          std::size_t count, const Job& job, std::span<const int> fitted) {
  std::vector<std::vector<Hold>> holds(count);
  for (const int index : fitted) {
    const HoldDown& h = job.hold_downs[index];
    if (h.kind == HoldDownKind::pin) continue;
    const clearance::Obstacle body = clearance::obstacle(h, field.thickness_mm);
    const int x0 = std::max(0, static_cast<int>(body.low.x / field.cell_x_mm));
    const int x1 = std::min(field.nx - 1, static_cast<int>(body.high.x / field.cell_x_mm));
    const int y0 = std::max(0, static_cast<int>(body.low.y / field.cell_y_mm));
    const int y1 = std::min(field.ny - 1, static_cast<int>(body.high.y / field.cell_y_mm));
    std::vector<double> area(count, 0);
    for (int y = y0; y <= y1; ++y) {
      for (int x = x0; x <= x1; ++x) {
        const cutting::Cell c = field.index(x, y);
        if (label[c] != 0 && isOver(job, index, body, field, c)) area[label[c] - 1] += field.cellArea_mm2();
      }
    }
    for (std::size_t k = 0; k < area.size(); ++k) {
      if (area[k] > 0) holds[k].push_back({index, area[k]});
    }
  }
  return holds;
}

std::vector<std::vector<Hold>> holdsOf(const cutting::DexelField& field, const std::vector<Label>& label,
                                       std::size_t count, const Job& job, std::span<const int> fitted) {
  auto holds = areasUnder(field, label, count, job, fitted);
  for (auto& of_one : holds) std::erase_if(of_one, [&](const Hold& h) { return !isEnough(job, h); });
  return holds;
}

std::vector<std::vector<int>> heldBy(const cutting::DexelField& field, const Pieces& pieces, const Job& job,
                                     std::span<const int> fitted) {
  std::vector<std::vector<int>> held;
  for (const auto& holds : holdsOf(field, pieces.label, pieces.shapes.size(), job, fitted)) {
    held.emplace_back();
    for (const Hold& h : holds) held.back().push_back(h.hold_down);
  }
  return held;
}

}  // namespace provecut::pieces
