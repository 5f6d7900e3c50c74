#include "report/formats/base/table.h"

#include <algorithm>
#include <cmath>
#include <ostream>

#include "report/base/visible_text.h"
#include "report/formats/base/terminal.h"

namespace provecut {

namespace {

// Widest cell of each column; 0: the column holds nothing but its name.
std::vector<std::size_t> widthsOf(const Table& table) {
  std::vector<std::size_t> cells(table.to_the_right.size(), 0);
  std::vector<bool> filled(table.to_the_right.size(), false);
  for (std::size_t r = 0; r < table.rows.size(); ++r) {
    for (std::size_t c = 0; c < table.rows[r].size(); ++c) {
      cells[c] = std::max(cells[c], displayWidth(table.rows[r][c]));
      if (r > 0 && !table.rows[r][c].empty()) filled[c] = true;
    }
  }
  for (std::size_t c = 0; c < cells.size(); ++c) {
    if (!filled[c]) cells[c] = 0;
  }
  return cells;
}

std::size_t columnsOf(const std::vector<std::size_t>& cells) {
  std::size_t all = 0;
  for (const std::size_t c : cells) all += c > 0 ? c + 2 : 0;
  return all;
}

}  // namespace

void writeTable(const Table& table, bool colour, std::ostream& out) {
  constexpr std::size_t least_last = 16;
  std::vector<std::size_t> cells = widthsOf(table);
  if (const std::size_t all = columnsOf(cells); all > terminal_columns && !table.to_the_right.back()) {
    const std::size_t too_many = all - terminal_columns;
    cells.back() = cells.back() > too_many + least_last ? cells.back() - too_many : std::min(cells.back(), least_last);
  }
  for (std::size_t r = 0; r < table.rows.size(); ++r) {
    std::vector<std::string> row = table.rows[r];
    std::vector<std::string> last{row.back()};
    const bool goes_on = row.size() == cells.size() && cells.back() > 0 && displayWidth(row.back()) > cells.back();
    if (goes_on) last = wrapped(row.back(), cells.back(), cells.back());
    for (std::size_t l = 0; l < last.size(); ++l) {
      if (l > 0) row.assign(row.size(), "");
      row.back() = last[l];
      std::string line;
      for (std::size_t c = 0; c < row.size(); ++c) {
        if (cells[c] == 0) continue;
        line += "  " + (table.to_the_right[c] ? padLeft(row[c], cells[c]) : padRight(row[c], cells[c]));
      }
      line.erase(line.find_last_not_of(' ') + 1);
      out << painted(line, r == 0 ? Ink::faint : Ink::plain, colour) << '\n';
    }
  }
}

void fitToTerminal(Table& table, std::size_t names) {
  std::vector<std::size_t> cells = widthsOf(table);
  std::size_t all = columnsOf(cells);
  // Names are kept readable as long as a last column of words may go on in further lines.
  const std::size_t least = table.to_the_right.back() ? 4 : 10;
  while (all > terminal_columns) {
    const auto widest = std::max_element(cells.begin(), cells.begin() + names);
    if (*widest <= least) break;
    --*widest;
    --all;
  }
  for (auto& row : table.rows) {
    for (std::size_t c = 0; c < std::min(names, row.size()); ++c) {
      if (cells[c] > 0) row[c] = shortened(row[c], cells[c]);
    }
  }
}

void writeHeading(const std::string& text, bool colour, std::ostream& out) {
  for (const std::string& line : wrapped(text, terminal_columns, terminal_columns))
    out << painted(line, Ink::strong, colour) << '\n';
}

void writeWrapped(const std::string& text, std::size_t indent, std::ostream& out) {
  const std::size_t columns = terminal_columns - indent;
  for (const std::string& line : wrapped(text, columns, columns)) out << std::string(indent, ' ') << line << '\n';
}

std::string barText(double share, std::size_t cells) {
  if (!(share > 0)) return {};
  const double exact = std::min(share, 1.0) * static_cast<double>(cells);
  return std::string(std::max<std::size_t>(1, static_cast<std::size_t>(std::lround(exact))), '=');
}

}  // namespace provecut
