#include "parser/block/statement.h"

#include <algorithm>
#include <array>
#include <string>

#include "parser/block/block_scan.h"

namespace provecut {

namespace {

// Words that begin a statement of a controller's own (common practice, no source).
constexpr std::array<std::string_view, 20> text_words{
    "PRINT", "DPRNT",   "BPRNT",    "POPEN",     "PCLOS", "MSG",       "MESSAGE", "ECHO",   "DISPLAY", "DEBUG",
    "LOG",   "LOGOPEN", "LOGCLOSE", "LOGAPPEND", "SAY",   "PROBEOPEN", "NOTIFY",  "STOPRE", "TITLE",   "WORKPIECE"};
constexpr std::array<std::string_view, 4> branch_words{"IF", "WHILE", "GOTO", "CALL"};
// Stops and changes that may have a text for the operator behind them, and displays that have nothing else.
constexpr std::array<std::string_view, 5> stop_codes{"0", "1", "6", "60", "00"};
constexpr std::array<std::string_view, 3> display_codes{"116", "117", "118"};

template <std::size_t count>
bool isOneOf(const std::array<std::string_view, count>& words, std::string_view word) {
  return std::find(words.begin(), words.end(), word) != words.end();
}

bool isNameCharacter(char c) {
  return isLetter(c) || isDigit(c) || c == '_';
}

const char* nameEnd(const char* first, const char* last) {
  while (first < last && isNameCharacter(*first)) ++first;
  return first;
}

std::string upperText(const char* first, const char* last) {
  std::string text(first, last);
  for (char& c : text) c = upper(c);
  return text;
}

bool allDigits(std::string_view text) {
  return !text.empty() && std::all_of(text.begin(), text.end(), isDigit);
}

StatementKind dollarKind(std::string_view line) {
  const char next = line.size() > 1 ? upper(line[1]) : ' ';
  const bool alone = line.size() < 3 || !isNameCharacter(line[2]);
  if (next == 'J') return StatementKind::moves;
  // "$H", and "$HX" for one axis.
  if (next == 'H' && (alone || line.size() == 3)) return StatementKind::homing;
  return StatementKind::text;
}

// A name at the start of a line: two letters side by side are no word of the language.
StatementKind nameKind(const char* first, const char* end, const char* last) {
  if (end - first < 2 || !isLetter(first[1])) return StatementKind::none;
  const std::string name = upperText(first, end);
  const char* const after = skipBlanks(end, last);
  const char next = after == last ? '\0' : *after;
  if (isOneOf(text_words, name)) return StatementKind::text;
  const auto numbered = [&](std::string_view word) {
    return name.starts_with(word) && allDigits(std::string_view(name).substr(word.size()));
  };
  if (numbered("END") || numbered("DO") || numbered("GOTO")) return StatementKind::moves;
  if (isOneOf(branch_words, name) && next != '\0') return StatementKind::moves;
  // "CYCLE83(…)": a call. Where a blank is between, the bracket begins a comment.
  const bool call = end - first >= 3 && end < last && *end == '(';
  return call ? StatementKind::moves : StatementKind::none;
}

// "M0 insert the 6 mm tool", "M117 half done": where the text begins; null: there is none.
const char* operatorText(const char* first, const char* last) {
  if (first == last || upper(*first) != 'M') return nullptr;
  const char* end = first + 1;
  while (end < last && isDigit(*end)) ++end;
  const std::string_view code(first + 1, end);
  if (isOneOf(display_codes, code)) return first;
  if (!isOneOf(stop_codes, code)) return nullptr;
  const char* const text = skipBlanks(end, last);
  if (text == end || text == last) return nullptr;
  const bool words = last - text >= 3 && isLetter(text[0]) && isLetter(text[1]) && isLetter(text[2]);
  return words || *text == '"' ? text : nullptr;
}

}  // namespace

ScannedStatement scanStatement(const char* first, const char* last) {
  const char* begin = skipBlanks(first, last);
  if (last - begin > 1 && *begin == '/' && begin[1] != '/') begin = skipBlanks(begin + 1, last);
  ScannedLineNumber number;
  if (scanLineNumber(begin, last, number) && number.readable) begin = skipBlanks(number.end, last);
  if (begin == last) return {};
  const auto whole = [&](StatementKind kind) { return ScannedStatement{kind, begin, last}; };
  if (*begin == '$') return whole(dollarKind({begin, last}));
  if (*begin == '{' || (*begin == '/' && begin + 1 < last && begin[1] == '/')) return whole(StatementKind::text);
  if (!isLetter(*begin)) return {};
  if (const char* const text = operatorText(begin, last)) return {StatementKind::text, text, last};
  const StatementKind kind = nameKind(begin, nameEnd(begin, last), last);
  return kind == StatementKind::none ? ScannedStatement{} : whole(kind);
}

}  // namespace provecut
