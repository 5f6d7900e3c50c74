// The line being run: its text, what stands on it, and its words, sorted by letter and modal group, with their values
// worked out.
#pragma once

#include <array>
#include <cstdint>
#include <string_view>

#include "parser/base/place.h"
#include "parser/base/quoted_text.h"
#include "parser/block/block.h"
#include "parser/interpreter/words.h"
#include "parser/program/problem.h"

namespace provecut::interpreter {

struct LineWords {
  struct Code {
    int code = -1;  // G: ten times; -1: none
    const Word* word = nullptr;
  };
  std::uint32_t present = 0;        // bit 0: A
  std::uint32_t used = 0;           // words that some code has taken
  std::array<double, 26> values{};  // valid where present
  std::array<const Word*, 26> words{};
  std::uint32_t g_present = 0, m_present = 0;  // bit per group
  int m_count = 0;
  bool unknown_code = false;           // its words are then not looked at for a user
  const Word* decimal_code = nullptr;  // a G code written with ".0", as axis words are
  Code not_followed;                   // a G code that is not followed and may take the axis words
  bool mist = false, flood = false;    // on by M7, M8; valid where there is a coolant word
  std::array<Code, g_group_count> g;
  std::array<Code, m_group_count> m;

  void clear() {
    present = used = g_present = m_present = 0;
    m_count = 0;
    unknown_code = false;
    not_followed = {};
    decimal_code = nullptr;
  }
  void set(const Word& w, double value) {
    present |= bit(w.letter);
    values[indexOf(w.letter)] = value;
    words[indexOf(w.letter)] = &w;
  }

  static constexpr std::size_t indexOf(char letter) { return static_cast<std::size_t>(letter - 'A'); }
  static constexpr std::uint32_t bit(char letter) { return 1u << (letter - 'A'); }
  template <typename... Letters>
  static constexpr std::uint32_t bits(Letters... letters) {
    return (bit(letters) | ...);
  }
  bool has(char letter) const { return (present & bit(letter)) != 0; }
  bool hasAny(std::uint32_t letters) const { return (present & letters) != 0; }
  double value(char letter) const { return values[indexOf(letter)]; }
  const Word& word(char letter) const { return *words[indexOf(letter)]; }
  bool has(GGroup group) const { return (g_present >> static_cast<unsigned>(group) & 1u) != 0; }
  bool has(MGroup group) const { return (m_present >> static_cast<unsigned>(group) & 1u) != 0; }
  const Code& code(GGroup group) const { return g[static_cast<std::size_t>(group)]; }
  const Code& code(MGroup group) const { return m[static_cast<std::size_t>(group)]; }
};

constexpr std::uint32_t axis_letters = LineWords::bits('X', 'Y', 'Z');
constexpr std::uint32_t rotary_letters = LineWords::bits('A', 'B', 'C');
constexpr std::uint32_t centre_letters = LineWords::bits('I', 'J', 'K');

struct Line {
  std::string_view text;
  std::uint32_t number = 0;
  Block block;
  LineWords words;
  std::array<bool, 3> homed{};  // "G28 X": axes named without a place
  Place homed_place;            // of their letters
};

// Of a word, comment, setting … of the line's block.
template <class Part>
Place placeOf(const Line& line, const Part& part) {
  return {line.number, part.column, part.end_column};
}
inline Place placeOf(const Line& line, const LineWords::Code& code) {
  return placeOf(line, *code.word);
}
inline Place wholeLine(const Line& line) {
  return {line.number, 1, static_cast<std::uint32_t>(line.text.size()) + 1};
}

// The program's own text there, safe to show.
template <class Part>
fact::Text textOf(const Line& line, const Part& part) {
  return {shownText(line.text.substr(part.column - 1, part.end_column - part.column))};
}
inline fact::Code codeOf(const Line& line, const Word& word) {
  return {textOf(line, word).text};
}
inline fact::Code codeOf(const Line& line, const LineWords::Code& code) {
  return codeOf(line, *code.word);
}

}  // namespace provecut::interpreter
