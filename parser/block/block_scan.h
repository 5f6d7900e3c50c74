// The primitives of the line grammar: numbers, names, comments, and how far unreadable text goes. Plain scanning, no
// grammar.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>

#include "parser/block/block.h"

namespace provecut {

inline bool isBlank(char c) {
  return c == ' ' || c == '\t';
}
inline bool isDigit(char c) {
  return c >= '0' && c <= '9';
}
inline bool isLetter(char c) {
  return (c >= 'A' && c <= 'Z') || (c >= 'a' && c <= 'z');
}
inline char upper(char c) {
  return c >= 'a' && c <= 'z' ? static_cast<char>(c - 'a' + 'A') : c;
}

// The letters of the language (NISTIR 6556 Table 3) that begin a word; N and O are read apart.
inline bool isWordLetter(char c) {
  constexpr std::uint32_t letters = 0x38f9fef;  // bit 0 is A: A-D F-M P-T X-Z
  const unsigned index = static_cast<unsigned>(upper(c)) - 'A';
  return index < 26 && (letters >> index & 1u) != 0;
}

inline const char* skipBlanks(const char* first, const char* last) {
  while (first < last && isBlank(*first)) ++first;
  return first;
}

struct ScannedNumber {
  double value = 0;
  const char* begin = nullptr;
  const char* end = nullptr;
  const char* last = nullptr;  // end of the line
  bool exponent = false;       // "4.6e-17": not in the standard, written by generators
  bool spaced = false;         // spaces between its digits
};

// Sign, digits, at most one point, digits; spaces are skipped before and within (NISTIR 6556 3.3.2.1). The nearest
// double. An exponent is taken only with its sign, as generators write it: in "X1E3" the E is a letter outside the
// language.
bool scanNumber(const char* first, const char* last, ScannedNumber& number);

// True if a number that stops at `first` is over there: "1.2.3", "5-3" and "1,5" are not numbers.
bool endsWord(const char* first, const char* last);

// Letters of `keyword` (upper case) in any case, spaces skipped. Moves `first` past them on success.
bool scanKeyword(const char*& first, const char* last, std::string_view keyword);

// Name of a function with one argument, when a bracket follows it. Moves `first` to the bracket.
bool scanFunction(const char*& first, const char* last, Op& op);

struct ScannedComment {
  std::string_view text;
  const char* end = nullptr;
  bool semicolon = false, unclosed = false, nested = false;
};
ScannedComment scanComment(const char* first, const char* last);

struct Unreadable {
  FaultKind kind = FaultKind::stray_character;
  const char* end = nullptr;  // beyond `first`
};
// `first` is not a blank and not the end.
Unreadable scanUnreadable(const char* first, const char* last);

struct ScannedLineNumber {
  const char* begin = nullptr;
  const char* end = nullptr;
  bool well_formed = false;  // 1 to 5 digits
  bool plain = false;        // digits alone, no more than any controller counts
  bool readable = false;     // digits, perhaps with a point
};
// At an N; false: no N here.
bool scanLineNumber(const char* first, const char* last, ScannedLineNumber& number);

// O word or ":1234" at the start of a line: its name, as Label::name, and what it does. False: none here.
bool scanLabel(const char*& first, const char* last, Flow& flow, std::string& name);

// "*71": the exclusive or of the bytes from `begin` to the star, and nothing after it. False: none here.
bool scanChecksum(const char*& first, const char* last, const char* begin, bool& right);

}  // namespace provecut
