#include "report/facts/spindle_by_hand.h"

namespace provecut {

void setSpindleByHand(const Job& job, const ProgramEntry& entry, Program& program) {
  if (!job.machine.dialled()) return;
  const Tool* tool = nullptr;
  for (Motion& m : program.motions) {
    if (!tool || tool->number != m.tool) tool = findTool(job, m.tool);
    const auto dialled = entry.rpm ? entry.rpm : tool ? tool->rpm : std::nullopt;
    if (dialled) m.rpm = static_cast<float>(*dialled);
    if (job.machine.spindle_by_hand) m.spindle = Spindle::cw;
  }
  if (!job.machine.spindle_by_hand) return;
  std::erase_if(program.events,
                [](const Event& e) { return e.kind == EventKind::spindle_start || e.kind == EventKind::spindle_stop; });
}

}  // namespace provecut
