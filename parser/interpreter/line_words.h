// The words of one line, sorted by letter and modal group, with their values worked out.
#pragma once

#include <array>
#include <cstdint>

#include "parser/block/block.h"
#include "parser/interpreter/words.h"

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
  bool unknown_code = false;  // its words are then not looked at for a user
  std::array<Code, g_group_count> g;
  std::array<Code, m_group_count> m;

  void clear() {
    present = used = g_present = m_present = 0;
    m_count = 0;
    unknown_code = false;
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

}  // namespace provecut::interpreter
