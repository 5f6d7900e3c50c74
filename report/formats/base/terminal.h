// What a terminal needs: colour that can be left out, and lines that do not run over.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include "report/facts/finding.h"

namespace provecut {

inline constexpr std::size_t terminal_columns = 100;

enum class Ink { plain, strong, faint, stop, look, note, good };

Ink inkOf(Level level);

// `text` with the escape sequences around it, or as it is without colour.
std::string painted(std::string_view text, Ink ink, bool colour);

// Words of `text` in lines of at most `columns` cells, the first line of at most `first_columns`. A word that is longer
// than a line is cut. At least one line.
std::vector<std::string> wrapped(std::string_view text, std::size_t first_columns, std::size_t columns);

// A name of visibleText() in at most `columns` cells: its beginning and its end, "..." where the middle was. Names of
// one job often begin alike.
std::string shortened(std::string_view name, std::size_t columns);

// Padded with blanks on the left or right to `columns` cells; text that is longer stays whole.
std::string padLeft(std::string text, std::size_t columns);
std::string padRight(std::string text, std::size_t columns);

}  // namespace provecut
