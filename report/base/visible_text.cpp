#include "report/base/visible_text.h"

#include <algorithm>

#include "parser/base/utf8.h"

namespace provecut {

namespace {

void appendHex(std::string& out, char32_t value, int least_digits) {
  std::string digits;
  for (; value != 0 || static_cast<int>(digits.size()) < least_digits; value >>= 4) {
    digits.push_back("0123456789ABCDEF"[value & 0xF]);
  }
  out.append(digits.rbegin(), digits.rend());
}

void appendVisible(std::string& out, std::string_view text, std::size_t i, const Symbol& s) {
  if (s.is_utf8 && s.code == '\t') {
    out += ' ';
  } else if (!s.is_utf8 || s.code < 0x20 || s.code == 0x7F) {
    for (std::size_t k = 0; k < s.bytes; ++k) {
      out += "\\x";
      appendHex(out, static_cast<unsigned char>(text[i + k]), 2);
    }
  } else if (isInvisible(s.code)) {
    out += "\\u{";
    appendHex(out, s.code, 4);
    out += '}';
  } else {
    out.append(text.substr(i, s.bytes));
  }
}

}  // namespace

std::string visibleText(std::string_view bytes) {
  std::string out;
  out.reserve(bytes.size());
  for (std::size_t i = 0; i < bytes.size();) {
    const Symbol s = symbolAt(bytes, i);
    appendVisible(out, bytes, i, s);
    i += s.bytes;
  }
  return out;
}

std::size_t displayWidth(std::string_view visible) {
  std::size_t cells = 0;
  for (std::size_t i = 0; i < visible.size();) {
    const Symbol s = symbolAt(visible, i);
    cells += s.is_utf8 ? displayWidth(s.code) : 1;
    i += s.bytes;
  }
  return cells;
}

Excerpt excerptOf(std::string_view line, const ShownPlace& place, std::size_t width) {
  constexpr std::string_view gap = "...";
  // Show some of what stands before the marked words, and all of the line's start when there is room.
  const std::uint32_t column = std::max(place.column, 1u);
  const std::uint32_t lead = static_cast<std::uint32_t>(width / 3);
  std::uint32_t first = 1;
  std::size_t begin = 0;
  if (place.end_column > width || column > width - lead) {
    first = column > lead ? column - lead : 1;
    for (std::uint32_t c = 1; c < first && begin < line.size(); ++c) begin += symbolAt(line, begin).bytes;
  }

  Excerpt e;
  std::size_t cells = 0;
  if (first > 1) {
    e.text = gap;
    cells = gap.size();
  }
  std::uint32_t c = first;
  std::size_t i = begin;
  for (; i < line.size(); ++c) {
    const Symbol s = symbolAt(line, i);
    std::string shown;
    appendVisible(shown, line, i, s);
    const std::size_t shown_cells = displayWidth(shown);
    const bool last = i + s.bytes >= line.size();
    if (cells + shown_cells + (last ? 0 : gap.size()) > width) {
      e.text += gap;
      break;
    }
    if (place.column != 0 && c == place.column) e.mark_begin = static_cast<std::uint32_t>(cells);
    e.text += shown;
    cells += shown_cells;
    if (place.column != 0 && c >= place.column && (c == place.column || c < place.end_column)) {
      e.mark_end = static_cast<std::uint32_t>(cells);
    }
    i += s.bytes;
  }
  // A place just behind the line's last word: something is missing there.
  if (place.column != 0 && e.mark_end == 0 && i >= line.size() && cells < width) {
    e.mark_begin = static_cast<std::uint32_t>(cells);
    e.mark_end = e.mark_begin + 1;
  }
  return e;
}

}  // namespace provecut
