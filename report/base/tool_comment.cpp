#include "report/base/tool_comment.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <string>

#include "parser/base/length_text.h"
#include "parser/base/units.h"

namespace provecut {

bool sameKind(ToolShape a, ToolShape b) {
  const auto kind = [](ToolShape s) {
    if (s == ToolShape::taper_ball) return ToolShape::ball;
    if (s == ToolShape::bull || s == ToolShape::surfacing) return ToolShape::flat;
    return s;
  };
  return kind(a) == kind(b);
}

namespace {

bool isDigit(char c) {
  return c >= '0' && c <= '9';
}
bool isLetter(char c) {
  return c >= 'a' && c <= 'z';
}

std::string lowerCase(std::string_view text) {
  std::string lower(text);
  for (char& c : lower) {
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  }
  return lower;
}

void skipBlanks(std::string_view text, std::size_t& at) {
  while (at < text.size() && text[at] == ' ') ++at;
}

// The number from `at` on, which moves behind it: "6", "6.", ".25", "5/16".
std::optional<double> takeNumberAt(std::string_view text, std::size_t& at) {
  std::string_view rest = text.substr(std::min(at, text.size()));
  const auto number = takeNumber(rest);
  at = text.size() - rest.size();
  return number;
}

// Millimetres to one of the unit at `at`; nothing where there is none.
std::optional<double> unitAt(std::string_view text, std::size_t at) {
  std::string_view rest = text.substr(at);
  return takeUnit(rest);
}

// The number behind a name that stands as a word of its own: "d=6", "diameter : 3.18", "size 1.016".
std::optional<std::size_t> behindName(std::string_view text, std::string_view name, bool sign_needed) {
  for (std::size_t at = text.find(name); at != std::string_view::npos; at = text.find(name, at + 1)) {
    if (at > 0 && isLetter(text[at - 1])) continue;
    std::size_t next = at + name.size();
    skipBlanks(text, next);
    const bool sign = next < text.size() && (text[next] == '=' || text[next] == ':');
    if (sign) skipBlanks(text, ++next);
    if (!sign && sign_needed) continue;
    if (next < text.size() && (isDigit(text[next]) || text[next] == '.')) return next;
  }
  return std::nullopt;
}

std::optional<double> lengthBehind(std::string_view text, std::string_view name, bool sign_needed, bool inches) {
  auto at = behindName(text, name, sign_needed);
  if (!at) return std::nullopt;
  const auto value = takeNumberAt(text, *at);
  if (!value) return std::nullopt;
  return *value * unitAt(text, *at).value_or(inches ? mm_per_inch : 1);
}

// The number with a unit that stands nearest to `place`: "6mm end mill", "5/16" drill", "8.1 mm holes, flat 6
// mm".
std::optional<double> lengthNearest(std::string_view text, std::size_t place) {
  std::optional<double> nearest;
  std::size_t least_distance = text.size() + 1;
  for (std::size_t at = 0; at < text.size();) {
    const bool starts = isDigit(text[at]) || (text[at] == '.' && at + 1 < text.size() && isDigit(text[at + 1]));
    if (!starts) {
      ++at;
      continue;
    }
    const std::size_t begin = at;
    const auto value = takeNumberAt(text, at);
    const std::size_t distance = begin < place ? place - std::min(place, at) : begin - place;
    if (const auto unit = unitAt(text, at); value && unit && distance < least_distance) {
      nearest = *value * *unit;
      least_distance = distance;
    }
    if (!value) ++at;
  }
  return nearest;
}

// The whole number at `at`, as long as it is not the beginning of something else.
std::optional<int> wholeNumberAt(std::string_view text, std::size_t at) {
  int number = 0;
  const auto r = std::from_chars(text.data() + at, text.data() + text.size(), number);
  if (r.ec != std::errc{} || number < 1) return std::nullopt;
  const bool ends = r.ptr == text.data() + text.size() ||
                    !(*r.ptr == '/' || *r.ptr == '"' || isLetter(*r.ptr) ||
                      (*r.ptr == '.' && r.ptr + 1 < text.data() + text.size() && isDigit(r.ptr[1])));
  if (!ends) return std::nullopt;
  return number;
}

// "T07 = ..." and "T1: ..." at the beginning, "tool 3" anywhere.
std::optional<int> toolNumber(std::string_view text) {
  std::size_t at = 0;
  skipBlanks(text, at);
  if (text.substr(at).starts_with("t")) {
    if (const auto number = wholeNumberAt(text, at + 1)) return number;
  }
  const auto behind = behindName(text, "tool", false);
  return behind ? wholeNumberAt(text, *behind) : std::nullopt;
}

struct ShapeWord {
  std::string_view word;
  ToolShape shape;
  bool job = false;  // may as well be what the bit is for
};

constexpr std::array<ShapeWord, 20> shape_words{{{"ball", ToolShape::ball},
                                                 {"bull", ToolShape::bull},
                                                 {"v-bit", ToolShape::vee},
                                                 {"vbit", ToolShape::vee},
                                                 {"v bit", ToolShape::vee},
                                                 {"vee", ToolShape::vee},
                                                 {"engrav", ToolShape::vee, true},
                                                 {"chamfer", ToolShape::vee, true},
                                                 {"drill", ToolShape::drill},
                                                 {"face mill", ToolShape::surfacing},
                                                 {"facemill", ToolShape::surfacing},
                                                 {"facing", ToolShape::surfacing, true},
                                                 {"surfac", ToolShape::surfacing, true},
                                                 {"fly cutter", ToolShape::surfacing},
                                                 {"end mill", ToolShape::flat},
                                                 {"endmill", ToolShape::flat},
                                                 {"flat", ToolShape::flat},
                                                 {"upcut", ToolShape::flat},
                                                 {"downcut", ToolShape::flat},
                                                 {"compression", ToolShape::flat}}};

// The first in the table that stands in the text counts: "ball end mill" is a ball.
const ShapeWord* shapeWordIn(std::string_view text) {
  for (const ShapeWord& w : shape_words) {
    const std::size_t at = text.find(w.word);
    if (at != std::string_view::npos && (at == 0 || !isLetter(text[at - 1]))) return &w;
  }
  return nullptr;
}

// The kind of the first shape's word, where no word in the text names a bit of another kind.
bool namesOneKind(std::string_view text, const ShapeWord& first) {
  if (first.job) return false;
  // "ball end mill" and "bull end mill" are named by their first word.
  const bool mill = first.shape == ToolShape::ball || first.shape == ToolShape::bull;
  return std::all_of(shape_words.begin(), shape_words.end(), [&](const ShapeWord& w) {
    const std::size_t at = text.find(w.word);
    const bool named = at != std::string_view::npos && (at == 0 || !isLetter(text[at - 1]));
    return !named || w.job || sameKind(w.shape, first.shape) || (mill && w.shape == ToolShape::flat);
  });
}

// "60 degrees", "90 deg".
std::optional<double> degrees(std::string_view text) {
  const std::size_t word = text.find("deg");
  if (word == std::string_view::npos) return std::nullopt;
  std::size_t begin = word;
  while (begin > 0 && (text[begin - 1] == ' ' || text[begin - 1] == '.' || isDigit(text[begin - 1]))) --begin;
  skipBlanks(text, begin);
  return takeNumberAt(text, begin);
}

std::optional<double> pointAngle(std::string_view text) {
  if (const std::size_t words = text.find("point angle"); words != std::string_view::npos) {
    std::size_t begin = words;
    while (begin > 0 && (text[begin - 1] == ' ' || text[begin - 1] == '.' || isDigit(text[begin - 1]))) --begin;
    skipBlanks(text, begin);
    return takeNumberAt(text, begin);
  }
  auto at = behindName(text, "taper", true);
  return at ? takeNumberAt(text, *at) : std::nullopt;
}

}  // namespace

ToolComment readToolComment(std::string_view text, bool inches) {
  const std::string lower = lowerCase(text);
  ToolComment comment;
  comment.number = toolNumber(lower);
  comment.corner_radius_mm = lengthBehind(lower, "cr", true, inches);
  for (const auto& [name, sign_needed] :
       {std::pair{"d", true}, std::pair{"dia", false}, std::pair{"diameter", false}, std::pair{"drill size", false}}) {
    if (!comment.diameter_mm) comment.diameter_mm = lengthBehind(lower, name, sign_needed, inches);
  }
  const ShapeWord* word = shapeWordIn(lower);
  if (!comment.diameter_mm && word) comment.diameter_mm = lengthNearest(lower, lower.find(word->word));
  if (comment.diameter_mm && *comment.diameter_mm <= 0) comment.diameter_mm.reset();
  if (word) comment.shape = word->shape;
  comment.shape_named = word && namesOneKind(lower, *word);
  if (comment.diameter_mm && comment.corner_radius_mm && *comment.corner_radius_mm > 0) {
    const bool whole_end = std::abs(2 * *comment.corner_radius_mm - *comment.diameter_mm) < 1e-6 * *comment.diameter_mm;
    comment.shape = whole_end ? ToolShape::ball : ToolShape::bull;
  }
  // A vee's "taper" may be half its angle: only an angle that is called nothing else is taken.
  if (comment.shape == ToolShape::drill) comment.angle_deg = pointAngle(lower);
  if (comment.shape == ToolShape::vee && lower.find("taper") == std::string::npos) comment.angle_deg = degrees(lower);
  return comment;
}

}  // namespace provecut
