#include "report/base/visible_text.h"

#include <algorithm>
#include <array>

namespace provecut {

namespace {

struct Symbol {
  char32_t code = 0;
  std::size_t bytes = 1;
  bool valid = false;  // false: one byte that is not UTF-8
};

// The same reading as codePointColumn() for columns to agree, but what is well-formed yet no scalar value (overlong
// forms, surrogates) is shown as bytes.
Symbol symbolAt(std::string_view text, std::size_t i) {
  const auto byte = [&](std::size_t k) { return static_cast<unsigned char>(text[k]); };
  const unsigned char lead = byte(i);
  if (lead < 0x80) return {lead, 1, true};
  const std::size_t n = lead >= 0xF0 && lead < 0xF5   ? 4
                        : lead >= 0xE0 && lead < 0xF0 ? 3
                        : lead >= 0xC2 && lead < 0xE0 ? 2
                                                      : 1;
  if (n == 1 || i + n > text.size()) return {lead, 1, false};
  char32_t code = lead & (0x7Fu >> n);
  for (std::size_t k = 1; k < n; ++k) {
    if ((byte(i + k) & 0xC0) != 0x80) return {lead, 1, false};
    code = (code << 6) | (byte(i + k) & 0x3Fu);
  }
  const bool overlong = (n == 3 && code < 0x800) || (n == 4 && code < 0x10000);
  const bool scalar = code <= 0x10FFFF && !(code >= 0xD800 && code <= 0xDFFF);
  return {code, n, !overlong && scalar};
}

struct Range {
  char32_t first, last;
};

template <std::size_t n>
bool within(const std::array<Range, n>& ranges, char32_t code) {
  return std::any_of(ranges.begin(), ranges.end(), [&](const Range& r) { return code >= r.first && code <= r.last; });
}

// Controls, format characters and separators that show nothing or change the order of what is around them
// (Unicode general categories Cc, Cf, Zl, Zp, and the variation selectors).
constexpr std::array<Range, 16> invisible{{{0x80, 0x9F},
                                           {0xAD, 0xAD},
                                           {0x34F, 0x34F},
                                           {0x61C, 0x61C},
                                           {0x115F, 0x1160},
                                           {0x17B4, 0x17B5},
                                           {0x180B, 0x180F},
                                           {0x200B, 0x200F},
                                           {0x2028, 0x202E},
                                           {0x2060, 0x206F},
                                           {0x3164, 0x3164},
                                           {0xFE00, 0xFE0F},
                                           {0xFEFF, 0xFEFF},
                                           {0xFFF0, 0xFFFB},
                                           {0xE0000, 0xE0FFF},
                                           {0x1D173, 0x1D17A}}};

// Rough: the blocks of combining marks and of East Asian wide characters and emoji.
constexpr std::array<Range, 5> combining{
    {{0x300, 0x36F}, {0x1AB0, 0x1AFF}, {0x1DC0, 0x1DFF}, {0x20D0, 0x20FF}, {0xFE20, 0xFE2F}}};
constexpr std::array<Range, 9> wide{{{0x1100, 0x115F},
                                     {0x2E80, 0x303E},
                                     {0x3041, 0xA4CF},
                                     {0xAC00, 0xD7A3},
                                     {0xF900, 0xFAFF},
                                     {0xFE30, 0xFE6F},
                                     {0xFF00, 0xFF60},
                                     {0x1F300, 0x1FAFF},
                                     {0x20000, 0x3FFFD}}};

std::size_t displayWidthOfCode(char32_t code) {
  return code < 0x300 ? 1 : within(combining, code) ? 0 : within(wide, code) ? 2 : 1;
}

void appendHex(std::string& out, char32_t value, int least_digits) {
  std::string digits;
  for (; value != 0 || static_cast<int>(digits.size()) < least_digits; value >>= 4) {
    digits.push_back("0123456789ABCDEF"[value & 0xF]);
  }
  out.append(digits.rbegin(), digits.rend());
}

void appendVisible(std::string& out, std::string_view text, std::size_t i, const Symbol& s) {
  if (s.valid && s.code == '\t') {
    out += ' ';
  } else if (!s.valid || s.code < 0x20 || s.code == 0x7F) {
    for (std::size_t k = 0; k < s.bytes; ++k) {
      out += "\\x";
      appendHex(out, static_cast<unsigned char>(text[i + k]), 2);
    }
  } else if (within(invisible, s.code)) {
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
    cells += displayWidthOfCode(s.code);
    i += s.bytes;
  }
  return cells;
}

Excerpt excerptOf(std::string_view line, const Place& place, std::size_t width) {
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
