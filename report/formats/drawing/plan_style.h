// How the stock and words look in every plan.
#pragma once

#include <string_view>

namespace provecut::plan_style {

inline constexpr std::string_view wood = "#f3e8d5", wood_edge = "#5c4a32";

inline constexpr double text_size = 12;          // units of a drawing for the screen
inline constexpr double paper_text_size = 13.4;  // units of a drawing for the sheet, where it is printed smaller

}  // namespace provecut::plan_style
