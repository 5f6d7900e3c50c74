#include "report/rules/shared/commented_tools.h"

#include <algorithm>
#include <map>

#include "report/base/tool_comment.h"

namespace provecut {

std::optional<NumberMismatch> numberMismatch(const Program& program) {
  constexpr int first_with_offset = 100;
  std::map<int, Place> described, called;
  for (const Event& e : program.events) {
    if (e.kind == EventKind::tool_change && e.value > 0) called.try_emplace(static_cast<int>(e.value), e.place);
    if (e.kind != EventKind::comment_tool) continue;
    const ToolComment said = readToolComment(e.text, false);
    if (said.number && (said.shape || said.diameter_mm)) described.try_emplace(*said.number, e.place);
  }
  const auto without = [](const std::map<int, Place>& all, const std::map<int, Place>& others) {
    return std::find_if(all.begin(), all.end(), [&](const auto& one) { return !others.contains(one.first); });
  };
  const auto comment = without(described, called), call = without(called, described);
  if (comment == described.end() || call == called.end() || call->first >= first_with_offset) return std::nullopt;
  return NumberMismatch{call->first, comment->first, call->second, comment->second};
}

}  // namespace provecut
