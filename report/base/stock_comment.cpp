#include "report/base/stock_comment.h"

#include <algorithm>
#include <array>

#include "parser/base/units.h"
#include "report/base/comment_tokens.h"

namespace provecut {

namespace {

using Kind = CommentToken::Kind;
using Three = std::array<const CommentToken*, 3>;

bool isWord(const std::vector<CommentToken>& tokens, std::size_t i, std::string_view word) {
  return i < tokens.size() && tokens[i].kind == Kind::word && tokens[i].text == word;
}

bool isNumber(const std::vector<CommentToken>& tokens, std::size_t i) {
  return i < tokens.size() && tokens[i].kind == Kind::number && tokens[i].value > 0;
}

// "100 x 50 x 18"
std::optional<Three> threeByX(const std::vector<CommentToken>& tokens) {
  for (std::size_t i = 0; i + 4 < tokens.size(); ++i) {
    if (isNumber(tokens, i) && isWord(tokens, i + 1, "x") && isNumber(tokens, i + 2) && isWord(tokens, i + 3, "x") &&
        isNumber(tokens, i + 4))
      return Three{&tokens[i], &tokens[i + 2], &tokens[i + 4]};
  }
  return std::nullopt;
}

// "4X3 .063", "600 x 400, 18 mm": the thickness behind the two others.
std::optional<Three> twoByX(const std::vector<CommentToken>& tokens) {
  for (std::size_t i = 0; i + 3 < tokens.size(); ++i) {
    if (!isNumber(tokens, i) || !isWord(tokens, i + 1, "x") || !isNumber(tokens, i + 2)) continue;
    const std::size_t at = tokens[i + 3].text == "," ? i + 4 : i + 3;
    if (!isNumber(tokens, at)) continue;
    const CommentToken &x = tokens[i], &y = tokens[i + 2], &z = tokens[at];
    const bool a_length =
        z.unit_mm || z.fraction || z.text.find('.') != std::string_view::npos || isWord(tokens, at + 1, "thick");
    if (a_length && z.value < x.value && z.value < y.value) return Three{&x, &y, &z};
  }
  return std::nullopt;
}

// "DX 3.3 DY 1.8 DZ 0.6", "X=100 Y=50 Z=18"
std::optional<Three> threeByName(const std::vector<CommentToken>& tokens) {
  Three three{};
  constexpr std::array<std::array<std::string_view, 2>, 3> names{{{"dx", "x"}, {"dy", "y"}, {"dz", "z"}}};
  for (std::size_t i = 0; i < tokens.size(); ++i) {
    for (std::size_t axis = 0; axis < 3; ++axis) {
      if (!isWord(tokens, i, names[axis][0]) && !isWord(tokens, i, names[axis][1])) continue;
      std::size_t at = i + 1;
      while (at < tokens.size() && (tokens[at].text == "=" || tokens[at].text == ":")) ++at;
      if (!three[axis] && isNumber(tokens, at)) three[axis] = &tokens[at];
    }
  }
  return three[0] && three[1] && three[2] ? std::optional(three) : std::nullopt;
}

}  // namespace

std::optional<Vec3> readStockComment(std::string_view text, bool inches) {
  const std::string plain = plainComment(text);
  constexpr std::array stock_words{"stock", "workpiece", "rohteil", "panel",   "sheet", "plate",
                                   "blank", "billet",    "platte",  "panneau", "brut",  "tablero"};
  const auto names = [&](const char* word) { return plain.find(word) != std::string::npos; };
  if (std::none_of(stock_words.begin(), stock_words.end(), names)) return std::nullopt;
  const std::vector<CommentToken> tokens = commentTokens(plain);
  std::optional<Three> three = threeByX(tokens);
  if (!three) three = twoByX(tokens);
  if (!three) three = threeByName(tokens);
  if (!three) return std::nullopt;
  double unit = inches ? mm_per_inch : 1;
  for (const CommentToken* t : *three) unit = t->unit_mm.value_or(unit);
  const auto mm = [&](const CommentToken* t) { return t->value * t->unit_mm.value_or(unit); };
  // A program in mm under a header in inches gives a few mm: no stock.
  constexpr double least_mm = 10;
  if (mm((*three)[0]) < least_mm || mm((*three)[1]) < least_mm) return std::nullopt;
  return Vec3{mm((*three)[0]), mm((*three)[1]), mm((*three)[2])};
}

}  // namespace provecut
