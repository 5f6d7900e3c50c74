// The words that the job file has for what can be chosen: read, and written again, from one list each.
#pragma once

#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "parser/job/job.h"

namespace provecut {

template <class Value>
using Words = std::vector<std::pair<std::string, Value>>;

const Words<ToolShape>& shapeWords();
const Words<HoldDownKind>& holdDownWords();
const Words<Material>& materialWords();

std::string_view wordOf(ToolShape shape);
std::string_view wordOf(HoldDownKind kind);
std::string_view wordOf(Material material);

}  // namespace provecut
