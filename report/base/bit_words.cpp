#include "report/base/bit_words.h"

#include <algorithm>
#include <array>

namespace provecut {

namespace {

constexpr auto shape_words = std::to_array<ShapeWord>({{"mill head", ToolShape::flat},
                                                       {"tapered ball", ToolShape::taper_ball},
                                                       {"taper ball", ToolShape::taper_ball},
                                                       {"ball", ToolShape::ball},
                                                       {"kugelfr", ToolShape::ball},
                                                       {"radiusfr", ToolShape::ball},
                                                       {"core box", ToolShape::ball},
                                                       {"corebox", ToolShape::ball},
                                                       {"fresa bola", ToolShape::ball},
                                                       {"fresa de bola", ToolShape::ball},
                                                       {"fraise boule", ToolShape::ball},
                                                       {"bn", ToolShape::ball},
                                                       {"punta de bola", ToolShape::ball},
                                                       {"punta esferica", ToolShape::ball},
                                                       {"hemispherique", ToolShape::ball},
                                                       {"bull", ToolShape::bull},
                                                       {"torusfr", ToolShape::bull},
                                                       {"v-bit", ToolShape::vee},
                                                       {"vbit", ToolShape::vee},
                                                       {"v bit", ToolShape::vee},
                                                       {"v-carve", ToolShape::vee},

                                                       {"vee", ToolShape::vee},
                                                       {"engrav", ToolShape::vee, true},
                                                       {"gravier", ToolShape::vee, true},
                                                       {"gravur", ToolShape::vee, true},
                                                       {"stichel", ToolShape::vee},
                                                       {"chamfer", ToolShape::vee, true},
                                                       {"fasenfr", ToolShape::vee, true},
                                                       {"countersink", ToolShape::vee, true},
                                                       {"kegelsenk", ToolShape::vee},
                                                       {"senker", ToolShape::vee},
                                                       {"v-nut", ToolShape::vee},
                                                       {"fresa en v", ToolShape::vee},
                                                       {"fraise en v", ToolShape::vee},
                                                       {"drill", ToolShape::drill},
                                                       {"bohrer", ToolShape::drill},
                                                       {"brad", ToolShape::drill},
                                                       {"broca", ToolShape::drill},
                                                       {"foret", ToolShape::drill},
                                                       {"meche", ToolShape::drill},
                                                       {"reamer", ToolShape::drill, true},
                                                       {"face mill", ToolShape::surfacing},
                                                       {"facemill", ToolShape::surfacing},
                                                       {"planfr", ToolShape::surfacing},
                                                       {"facing", ToolShape::surfacing, true},
                                                       {"surfac", ToolShape::surfacing, true},
                                                       {"fly cutter", ToolShape::surfacing},
                                                       {"flycutter", ToolShape::surfacing},
                                                       {"fly-cutter", ToolShape::surfacing},
                                                       {"spoilboard cutter", ToolShape::surfacing},
                                                       {"spoilboard bit", ToolShape::surfacing},
                                                       {"end mill", ToolShape::flat},
                                                       {"endmill", ToolShape::flat},
                                                       {"end-mill", ToolShape::flat},
                                                       {"flat", ToolShape::flat},
                                                       {"upcut", ToolShape::flat},
                                                       {"downcut", ToolShape::flat},
                                                       {"compression", ToolShape::flat},
                                                       {"spiral", ToolShape::flat},
                                                       {"straight", ToolShape::flat},
                                                       {"o flute", ToolShape::flat},
                                                       {"o-flute", ToolShape::flat},
                                                       {"schaftfr", ToolShape::flat},
                                                       {"fingerfr", ToolShape::flat},
                                                       {"nutfr", ToolShape::flat},
                                                       {"helicoidal", ToolShape::flat},
                                                       {"punta plana", ToolShape::flat},
                                                       {"fresa plana", ToolShape::flat},
                                                       {"fresa recta", ToolShape::flat},
                                                       {"fraise droite", ToolShape::flat},
                                                       {"up-cut", ToolShape::flat},
                                                       {"down-cut", ToolShape::flat},
                                                       {"rougher", ToolShape::flat},
                                                       {"corn cob", ToolShape::flat},
                                                       {"corncob", ToolShape::flat},
                                                       {"em", ToolShape::flat},
                                                       {"single flute", ToolShape::flat},
                                                       {"single-flute", ToolShape::flat},
                                                       {"einschneider", ToolShape::flat},
                                                       {"zweischneider", ToolShape::flat},
                                                       {"2 tailles", ToolShape::flat},
                                                       {"une dent", ToolShape::flat},
                                                       {"deux dents", ToolShape::flat}});

bool isLetter(char c) {
  return c >= 'a' && c <= 'z';
}

}  // namespace

std::size_t findWord(std::string_view text, std::string_view word) {
  for (std::size_t at = text.find(word); at != std::string_view::npos; at = text.find(word, at + 1)) {
    if (at > 0 && isLetter(text[at - 1])) continue;
    // Two letters are a word only where they stand by themselves.
    if (word.size() > 2 || at + word.size() >= text.size() || !isLetter(text[at + word.size()])) return at;
  }
  // German puts words together: Spiralbohrer, Hartmetallschaftfräser.
  return word.ends_with("fr") || word.ends_with("senk") || word == "bohrer" || word == "stichel"
             ? text.find(word)
             : std::string_view::npos;
}

const ShapeWord* shapeWordIn(std::string_view text) {
  for (const ShapeWord& w : shape_words) {
    if (findWord(text, w.word) != std::string_view::npos) return &w;
  }
  return nullptr;
}

bool namesOneKind(std::string_view text, const ShapeWord& first) {
  if (first.job) return false;
  // "ball end mill" and "bull end mill" are named by their first word.
  const bool mill = sameKind(first.shape, ToolShape::ball) || first.shape == ToolShape::bull;
  return std::all_of(shape_words.begin(), shape_words.end(), [&](const ShapeWord& w) {
    const bool named = findWord(text, w.word) != std::string_view::npos;
    return !named || w.job || sameKind(w.shape, first.shape) || (mill && w.shape == ToolShape::flat);
  });
}

bool sameKind(ToolShape a, ToolShape b) {
  const auto kind = [](ToolShape s) {
    if (s == ToolShape::taper_ball) return ToolShape::ball;
    if (s == ToolShape::bull || s == ToolShape::surfacing) return ToolShape::flat;
    return s;
  };
  return kind(a) == kind(b);
}

}  // namespace provecut
