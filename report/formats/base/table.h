// Aligned rows and bars for a terminal. Knows nothing of jobs.
// A stream that fails is left failed: the caller looks at it afterwards.
#pragma once

#include <iosfwd>
#include <string>
#include <vector>

namespace provecut {

struct Table {
  std::vector<bool> to_the_right;              // per column
  std::vector<std::vector<std::string>> rows;  // the first holds the names of the columns
};

// Two blanks before each column; columns that are empty but for their name are left out. A last column of words goes on
// in lines of its own where it does not fit a terminal.
void writeTable(const Table& table, bool colour, std::ostream& out);

// Takes cells off the longest entries of the first `names` columns, from their middle, until the rows fit a terminal.
void fitToTerminal(Table& table, std::size_t names);

// The first line of an answer or a part of it.
void writeHeading(const std::string& text, bool colour, std::ostream& out);

// Words in lines of at most `terminal_columns`, all after `indent` blanks.
void writeWrapped(const std::string& text, std::size_t indent, std::ostream& out);

// `share` of `cells`, at least one cell for anything above nothing.
std::string barText(double share, std::size_t cells);

}  // namespace provecut
