#include "report/formats/base/terminal.h"

#include <algorithm>
#include <cctype>
#include <iterator>

#include "report/base/visible_text.h"

namespace provecut {

namespace {

std::string_view sequence(Ink ink) {
  switch (ink) {
    case Ink::plain:
      return "";
    case Ink::strong:
      return "\x1b[1m";
    case Ink::faint:
      return "\x1b[2m";
    case Ink::stop:
      return "\x1b[1;31m";
    case Ink::look:
      return "\x1b[1;33m";
    case Ink::note:
      return "\x1b[1;36m";
    case Ink::good:
      return "\x1b[1;32m";
  }
  return "";
}

// Bytes of the longest beginning of `text` that takes at most `columns` cells; at least one code point.
std::size_t fitting(std::string_view text, std::size_t columns) {
  std::size_t bytes = 0;
  while (bytes < text.size()) {
    std::size_t next = bytes + 1;
    while (next < text.size() && (static_cast<unsigned char>(text[next]) & 0xC0) == 0x80) ++next;
    if (bytes > 0 && displayWidth(text.substr(0, next)) > columns) break;
    bytes = next;
  }
  return bytes;
}

// Where the longest end of `text` begins that takes at most `columns` cells, marks that belong to a letter before it
// left out.
std::size_t beginOfEnd(std::string_view text, std::size_t columns) {
  std::size_t begin = text.size();
  for (std::size_t at = text.size(); at-- > 0;) {
    if ((static_cast<unsigned char>(text[at]) & 0xC0) == 0x80) continue;
    const std::string_view end = text.substr(at);
    if (displayWidth(end) > columns) break;
    if (displayWidth(end) > displayWidth(text.substr(begin))) begin = at;
  }
  return begin;
}

}  // namespace

Ink inkOf(Level level) {
  switch (level) {
    case Level::stop:
      return Ink::stop;
    case Level::look:
      return Ink::look;
    case Level::note:
      return Ink::note;
  }
  return Ink::plain;
}

std::string painted(std::string_view text, Ink ink, bool colour) {
  if (!colour || ink == Ink::plain || text.empty()) return std::string(text);
  return std::string(sequence(ink)) + std::string(text) + "\x1b[0m";
}

namespace {

bool isUnit(std::string_view word) {
  constexpr std::string_view units[] = {"mm", "mm²", "mm³", "cm³", "in",     "in²",    "N",      "W",
                                        "s",  "min", "rpm", "%",   "mm/min", "in/min", "cm³/min"};
  const std::string_view bare = word.substr(0, word.find_last_not_of(".,:;)]") + 1);
  return std::find(std::begin(units), std::end(units), bare) != std::end(units);
}

// The first word; a number, or a size, is one with its unit where that fits `columns`: "9.6 N,", "60 × 40 mm".
std::string_view nextWord(std::string_view text, std::size_t columns) {
  const auto endAfter = [&](std::size_t blank) { return std::min(text.find(' ', blank + 1), text.size()); };
  const std::string_view first = text.substr(0, text.find(' '));
  std::size_t end = first.size();
  while (end > 0 && end < text.size() && std::isdigit(static_cast<unsigned char>(text[end - 1])) != 0) {
    const std::size_t next = endAfter(end);
    const std::string_view word = text.substr(end + 1, next - end - 1);
    if (word == "×" && next < text.size()) {
      end = endAfter(next);
      continue;
    }
    if (isUnit(word) && displayWidth(text.substr(0, next)) <= columns) return text.substr(0, next);
    break;
  }
  return first;
}

}  // namespace

std::vector<std::string> wrapped(std::string_view text, std::size_t first_columns, std::size_t columns) {
  std::vector<std::string> lines(1);
  std::size_t used = 0, room = std::max<std::size_t>(first_columns, 1);
  columns = std::max<std::size_t>(columns, 1);
  const auto startLine = [&] {
    lines.emplace_back();
    used = 0;
    room = columns;
  };
  while (!text.empty()) {
    const std::size_t spaces = std::min(text.find_first_not_of(' '), text.size());
    text.remove_prefix(spaces);
    std::string_view word = nextWord(text, columns);
    text.remove_prefix(word.size());
    if (word.empty()) break;
    std::size_t cells = displayWidth(word);
    const bool fits = used + (used > 0 ? 1 : 0) + cells <= room;
    if (!fits && (used > 0 || (lines.size() == 1 && room < columns))) startLine();
    while (cells > room) {
      const std::size_t bytes = fitting(word, room);
      lines.back() += word.substr(0, bytes);
      word.remove_prefix(bytes);
      cells = displayWidth(word);
      startLine();
    }
    if (used > 0) {
      lines.back() += ' ';
      ++used;
    }
    lines.back() += word;
    used += cells;
  }
  return lines;
}

std::string shortened(std::string_view name, std::size_t columns) {
  constexpr std::string_view gap = "...";
  if (displayWidth(name) <= columns) return std::string(name);
  if (columns <= gap.size()) return std::string(columns, '.');
  const std::size_t room = columns - gap.size();
  const std::size_t begin = fitting(name, room - room / 2), end = beginOfEnd(name, room / 2);
  // A first letter may be wider than its half.
  const std::string_view head =
      displayWidth(name.substr(0, begin)) <= room - room / 2 ? name.substr(0, begin) : std::string_view();
  return std::string(head).append(gap).append(name.substr(end));
}

std::string padLeft(std::string text, std::size_t columns) {
  const std::size_t cells = displayWidth(text);
  return cells < columns ? std::string(columns - cells, ' ') + text : text;
}

std::string padRight(std::string text, std::size_t columns) {
  const std::size_t cells = displayWidth(text);
  if (cells < columns) text.append(columns - cells, ' ');
  return text;
}

}  // namespace provecut
