#include "report/base/comment_tokens.h"

#include <algorithm>
#include <array>
#include <utility>

#include "parser/base/length_text.h"
#include "parser/base/units.h"
#include "parser/base/utf8.h"

namespace provecut {

namespace {

using Kind = CommentToken::Kind;

constexpr bool isDigitOf(std::string_view text, std::size_t at) {
  return at < text.size() && text[at] >= '0' && text[at] <= '9';
}
constexpr bool isLetterOf(std::string_view text, std::size_t at) {
  return at < text.size() && text[at] >= 'a' && text[at] <= 'z';
}

// What is written in their place; for capital letters too.
constexpr std::array<std::pair<std::string_view, std::string_view>, 26> plain_forms{{
    {"ä", "ae"},  {"ö", "oe"},  {"ü", "ue"},  {"Ä", "ae"}, {"Ö", "oe"}, {"Ü", "ue"},   {"ß", "ss"},
    {"é", "e"},   {"è", "e"},   {"ê", "e"},   {"É", "e"},  {"á", "a"},  {"à", "a"},    {"ã", "a"},
    {"ç", "c"},   {"í", "i"},   {"ó", "o"},   {"ú", "u"},  {"ñ", "n"},  {"°", " deg"}, {"º", " deg"},
    {"ø", "dia"}, {"Ø", "dia"}, {"⌀", "dia"}, {"×", "x"},  {"”", "\""},
}};

// "6,35": a comma between digits, where no other comma or point makes it a list.
bool isDecimalComma(std::string_view text, std::size_t begin, std::size_t comma) {
  if (!isDigitOf(text, comma + 1) || text.substr(begin, comma - begin).find('.') != std::string_view::npos)
    return false;
  if (begin > 0 && text[begin - 1] == ',') return false;
  std::size_t end = comma + 1;
  while (isDigitOf(text, end)) ++end;
  const bool goes_on = end < text.size() && (text[end] == '.' || text[end] == ',') && isDigitOf(text, end + 1);
  return !goes_on;
}

// Without a blank before it "in" is a unit; with one it may be the preposition: "4 in corner".
bool isPreposition(std::string_view text, std::size_t at) {
  if (text.substr(at, 3) != " in" || isLetterOf(text, at + 3)) return false;
  const std::size_t next = text.find_first_not_of(' ', at + 3);
  if (next == std::string_view::npos || !isLetterOf(text, next)) return false;
  constexpr std::array<std::string_view, 25> of_bits{
      "surf", "spoil", "fly", "round", "cove", "dove", "vee", "ball",  "bull",   "end",  "flat",   "v",   "drill",
      "face", "carb",  "up",  "down",  "comp", "dia",  "bit", "route", "cutter", "stra", "spiral", "mill"};
  return std::none_of(of_bits.begin(), of_bits.end(),
                      [&](std::string_view word) { return text.substr(next).starts_with(word); });
}

std::optional<double> takeUnitOf(std::string_view text, std::size_t& at) {
  if (text.substr(at).starts_with("''")) {
    at += 2;
    return mm_per_inch;
  }
  if (isPreposition(text, at)) return std::nullopt;
  std::string_view rest = text.substr(at);
  const auto unit = takeUnit(rest);
  at = text.size() - rest.size();
  return unit;
}

// The number that begins at `at`, with its unit; `at` moves behind it.
CommentToken takeNumberToken(std::string_view text, std::size_t& at) {
  CommentToken token{Kind::number, {}, at, false, 0, {}, false};
  const std::size_t begin = at;
  std::size_t end = at;
  while (isDigitOf(text, end)) ++end;
  std::string_view rest = text.substr(at);
  if (end < text.size() && text[end] == ',' && isDecimalComma(text, begin, end)) {
    std::string with_point(text.substr(begin));
    with_point[end - begin] = '.';
    std::string_view pointed = with_point;
    token.value = takeNumber(pointed).value_or(0);
    at = text.size() - pointed.size();
  } else {
    token.value = takeNumber(rest).value_or(0);
    at = std::max(text.size() - rest.size(), begin + 1);
  }
  token.fraction = text.substr(begin, at - begin).find('/') != std::string_view::npos;
  token.unit_mm = takeUnitOf(text, at);
  token.text = text.substr(begin, at - begin);
  return token;
}

bool names(const CommentToken& t) {
  return (t.kind == Kind::sign && t.text == "#") || t.text == "tool" || t.text == "op" || t.text == "t";
}

// "1-1/4": one number, where the first is no tool's.
void joinHyphened(std::vector<CommentToken>& tokens) {
  for (std::size_t i = 0; i + 2 < tokens.size(); ++i) {
    CommentToken& whole = tokens[i];
    const CommentToken &hyphen = tokens[i + 1], &part = tokens[i + 2];
    const bool mixed = whole.kind == Kind::number && !whole.unit_mm && !whole.fraction && whole.text.size() == 1 &&
                       hyphen.text == "-" && hyphen.glued && part.kind == Kind::number && part.fraction && part.glued &&
                       part.value < 1 && (i == 0 || (!names(tokens[i - 1]) && !whole.glued));
    if (!mixed) continue;
    whole.value += part.value;
    whole.unit_mm = part.unit_mm;
    whole.fraction = true;
    whole.text = {whole.text.data(), part.at + part.text.size() - whole.at};
    tokens.erase(tokens.begin() + static_cast<std::ptrdiff_t>(i) + 1,
                 tokens.begin() + static_cast<std::ptrdiff_t>(i) + 3);
  }
}

// "1 1/2" with an inch mark is one number; "2 1/4 flute" is not.
void joinMixedNumbers(std::vector<CommentToken>& tokens) {
  for (std::size_t i = 0; i + 1 < tokens.size(); ++i) {
    CommentToken& whole = tokens[i];
    const CommentToken& part = tokens[i + 1];
    const bool mixed = whole.kind == Kind::number && part.kind == Kind::number && part.fraction && part.unit_mm &&
                       !whole.unit_mm && !whole.fraction && part.value < 1 && whole.text.size() == 1 &&
                       (i == 0 || ((tokens[i - 1].kind != Kind::word || !whole.glued) && !names(tokens[i - 1])));
    if (!mixed) continue;
    whole.value += part.value;
    whole.unit_mm = part.unit_mm;
    whole.fraction = true;
    tokens.erase(tokens.begin() + static_cast<std::ptrdiff_t>(i) + 1);
  }
}

}  // namespace

std::string plainComment(std::string_view text) {
  std::string plain;
  for (std::size_t i = 0; i < text.size();) {
    const std::string_view symbol = text.substr(i, symbolAt(text, i).bytes);
    i += symbol.size();
    const auto form = std::find_if(plain_forms.begin(), plain_forms.end(), [&](auto& f) { return f.first == symbol; });
    if (form != plain_forms.end()) {
      plain += form->second;
    } else if (symbol == "_" || symbol == "\t") {
      plain += ' ';
    } else if (symbol.size() == 1 && symbol[0] >= 'A' && symbol[0] <= 'Z') {
      plain += static_cast<char>(symbol[0] - 'A' + 'a');
    } else {
      plain += symbol;
    }
  }
  return plain;
}

std::vector<CommentToken> commentTokens(std::string_view plain) {
  std::vector<CommentToken> tokens;
  for (std::size_t at = 0; at < plain.size();) {
    if (plain[at] == ' ') {
      ++at;
      continue;
    }
    const std::size_t begin = at;
    CommentToken token{Kind::sign, {}, at, false, 0, {}, false};
    if (isDigitOf(plain, at) || (plain[at] == '.' && isDigitOf(plain, at + 1))) {
      token = takeNumberToken(plain, at);
    } else if (isLetterOf(plain, at)) {
      while (isLetterOf(plain, at)) ++at;
      token.kind = Kind::word;
    } else {
      ++at;
    }
    token.text = plain.substr(begin, at - begin);
    token.glued = begin > 0 && plain[begin - 1] != ' ';
    tokens.push_back(token);
  }
  joinMixedNumbers(tokens);
  joinHyphened(tokens);
  return tokens;
}

}  // namespace provecut
