#include "report/base/tool_comment.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <initializer_list>

#include "parser/base/units.h"
#include "report/base/comment_tokens.h"

namespace provecut {

bool sameDiameter(double said_mm, double known_mm) {
  constexpr double slack_mm = 0.05, slack_share = 0.02;
  return std::fabs(said_mm - known_mm) <= std::max(slack_mm, slack_share * known_mm);
}

std::optional<double> saidDiameter_mm(const ToolComment& said) {
  return said.diameter_mm ? said.diameter_mm : said.tip_diameter_mm;
}

bool sameKind(ToolShape a, ToolShape b) {
  const auto kind = [](ToolShape s) {
    if (s == ToolShape::taper_ball) return ToolShape::ball;
    if (s == ToolShape::bull || s == ToolShape::surfacing) return ToolShape::flat;
    return s;
  };
  return kind(a) == kind(b);
}

namespace {

using Kind = CommentToken::Kind;
using WordList = std::initializer_list<std::string_view>;

struct ShapeWord {
  std::string_view word;
  ToolShape shape;
  bool job = false;  // may as well be what the bit is for
};

constexpr std::array<ShapeWord, 51> shape_words{{{"mill head", ToolShape::flat},
                                                 {"tapered ball", ToolShape::taper_ball},
                                                 {"taper ball", ToolShape::taper_ball},
                                                 {"ball", ToolShape::ball},
                                                 {"kugelfr", ToolShape::ball},
                                                 {"radiusfr", ToolShape::ball},
                                                 {"punta de bola", ToolShape::ball},
                                                 {"punta esferica", ToolShape::ball},
                                                 {"hemispherique", ToolShape::ball},
                                                 {"bull", ToolShape::bull},
                                                 {"torusfr", ToolShape::bull},
                                                 {"v-bit", ToolShape::vee},
                                                 {"vbit", ToolShape::vee},
                                                 {"v bit", ToolShape::vee},
                                                 {"v-carve", ToolShape::vee},
                                                 {"v-nut", ToolShape::vee},
                                                 {"vee", ToolShape::vee},
                                                 {"engrav", ToolShape::vee, true},
                                                 {"gravier", ToolShape::vee, true},
                                                 {"gravur", ToolShape::vee, true},
                                                 {"stichel", ToolShape::vee},
                                                 {"chamfer", ToolShape::vee, true},
                                                 {"fasenfr", ToolShape::vee, true},
                                                 {"drill", ToolShape::drill},
                                                 {"bohrer", ToolShape::drill},
                                                 {"brad", ToolShape::drill},
                                                 {"broca", ToolShape::drill},
                                                 {"foret", ToolShape::drill},
                                                 {"reamer", ToolShape::drill, true},
                                                 {"face mill", ToolShape::surfacing},
                                                 {"facemill", ToolShape::surfacing},
                                                 {"planfr", ToolShape::surfacing},
                                                 {"facing", ToolShape::surfacing, true},
                                                 {"surfac", ToolShape::surfacing, true},
                                                 {"fly cutter", ToolShape::surfacing},
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
                                                 {"punta plana", ToolShape::flat},
                                                 {"fresa plana", ToolShape::flat},
                                                 {"fresa recta", ToolShape::flat},
                                                 {"fraise droite", ToolShape::flat}}};

// Where the word stands by itself or begins another one.
std::size_t findWord(std::string_view text, std::string_view word) {
  for (std::size_t at = text.find(word); at != std::string_view::npos; at = text.find(word, at + 1)) {
    if (at == 0 || text[at - 1] < 'a' || text[at - 1] > 'z') return at;
  }
  // German puts words together: Spiralbohrer, Hartmetallschaftfräser.
  return word.ends_with("fr") || word == "bohrer" || word == "stichel" ? text.find(word) : std::string_view::npos;
}

// The first in the table that stands in the text counts: "ball end mill" is a ball.
const ShapeWord* shapeWordIn(std::string_view text) {
  for (const ShapeWord& w : shape_words) {
    if (findWord(text, w.word) != std::string_view::npos) return &w;
  }
  return nullptr;
}

// The kind of the first shape's word, where no word in the text names a bit of another kind.
bool namesOneKind(std::string_view text, const ShapeWord& first) {
  if (first.job) return false;
  // "ball end mill" and "bull end mill" are named by their first word.
  const bool mill = sameKind(first.shape, ToolShape::ball) || first.shape == ToolShape::bull;
  return std::all_of(shape_words.begin(), shape_words.end(), [&](const ShapeWord& w) {
    const bool named = findWord(text, w.word) != std::string_view::npos;
    return !named || w.job || sameKind(w.shape, first.shape) || (mill && w.shape == ToolShape::flat);
  });
}

bool isOneOf(std::string_view word, WordList words) {
  return std::find(words.begin(), words.end(), word) != words.end();
}

// A comment and what its numbers mean by the words around them.
class Reading {
 public:
  Reading(std::string_view text, bool inches)
      : inches_(inches), plain_(plainComment(text)), tokens_(commentTokens(plain_)) {}

  ToolComment read() const;

 private:
  std::size_t size() const { return tokens_.size(); }
  std::string_view word(std::size_t i) const {
    return i < size() && tokens_[i].kind == Kind::word ? tokens_[i].text : std::string_view{};
  }
  bool isNumber(std::size_t i) const { return i < size() && tokens_[i].kind == Kind::number; }
  bool isSign(std::size_t i, char sign) const {
    return i < size() && tokens_[i].kind == Kind::sign && tokens_[i].text[0] == sign;
  }
  // The word behind number i, unless it names what follows it: "6 CR=0".
  std::string_view next(std::size_t i) const {
    return isSign(i + 2, '=') || isSign(i + 2, ':') ? std::string_view{} : word(i + 1);
  }
  // Which of the words before number i names it, through "=", ":", "of" or "is": its index, else size().
  std::size_t namePlace(std::size_t i) const {
    std::size_t p = i;
    while (p > 0 && (isSign(p - 1, '=') || isSign(p - 1, ':') || isOneOf(word(p - 1), {"of", "is"}))) --p;
    return p > 0 && !word(p - 1).empty() ? p - 1 : size();
  }
  std::string_view name(std::size_t i) const { return word(namePlace(i)); }
  std::string_view nameBefore(std::size_t i) const {
    const std::size_t at = namePlace(i);
    return at < size() && at > 0 ? word(at - 1) : std::string_view{};
  }
  bool signed_(std::size_t i) const { return i > 0 && (isSign(i - 1, '=') || isSign(i - 1, ':')); }
  bool negative(std::size_t i) const { return i > 1 && isSign(i - 1, '-') && isSign(i - 2, '='); }

  double mm(const CommentToken& t) const {
    const double usual = t.fraction || inches_ ? mm_per_inch : 1;
    return t.value * t.unit_mm.value_or(usual);
  }

  bool isToolNumber(std::size_t i) const;
  bool isAngle(std::size_t i) const;
  bool isFlutes(std::size_t i) const;
  bool isFluteLength(std::size_t i) const;
  bool isOverall(std::size_t i) const;
  bool isShank(std::size_t i) const;
  bool isCorner(std::size_t i) const;
  bool isToolRadius(std::size_t i) const;
  bool isNamedDiameter(std::size_t i, bool of_a_tool) const;
  bool isOther(std::size_t i) const;
  bool isLength(std::size_t i) const;  // with a unit or as a fraction, and not known for another

  std::optional<int> toolNumber() const;
  std::optional<double> diameter(const ShapeWord* shape) const;
  std::optional<double> diameterInARow() const;
  std::optional<double> diameterNear(const ShapeWord* shape) const;
  bool speaksOfATool() const;
  std::optional<double> angle(const ToolComment& so_far) const;
  std::optional<double> taper() const;
  void readSizes(ToolComment& comment) const;

  bool inches_;
  std::string plain_;
  std::vector<CommentToken> tokens_;
};

// "T07", "tool 3", "tool #3", "Werkzeug: 3"; a whole number.
bool Reading::isToolNumber(std::size_t i) const {
  const CommentToken& t = tokens_[i];
  if (t.unit_mm || t.fraction || t.text.find_first_not_of("0123456789") != std::string_view::npos) return false;
  if (t.value < 1 || t.value > 1e9 || isAngle(i)) return false;
  // "1.5" and "2x" belong to something else.
  if (i + 1 < size() && tokens_[i + 1].glued && (!word(i + 1).empty() || isSign(i + 1, '/'))) return false;
  if (t.glued && i > 0 && word(i - 1) == "t" && (i < 2 || !tokens_[i - 1].glued)) return true;
  std::size_t before = i;
  if (before > 0 && isSign(before - 1, '#')) --before;
  if (isOneOf(name(before), {"no", "nr", "number"}))
    return nameBefore(before) == "tool" || nameBefore(before) == "werkzeug";
  return isOneOf(name(before), {"tool", "werkzeug", "herramienta"});
}

bool Reading::isAngle(std::size_t i) const {
  if (tokens_[i].unit_mm || isOneOf(word(i + 2), {"helix", "spiral"})) return false;
  const std::string_view after = next(i);
  // "90 vee"
  if (isOneOf(after, {"vee", "v"}) && !tokens_[i].fraction && tokens_[i].value >= 10 && tokens_[i].value < 180)
    return true;
  return isOneOf(after, {"deg", "degs", "degree", "degrees", "grad"}) || (after == "point" && word(i + 2) == "angle") ||
         name(i) == "angle" || name(i) == "winkel";
}

bool Reading::isFlutes(std::size_t i) const {
  const CommentToken& t = tokens_[i];
  if (t.unit_mm || t.fraction || t.value < 1 || t.value > 12 || t.value != std::floor(t.value)) return false;
  if (isOneOf(next(i), {"fl", "flt", "flute", "flutes", "fluted", "teeth", "schneiden", "zaehne"}))
    return !isOneOf(word(i + 2), {"length", "len"});
  if (next(i) == "f" && tokens_[i + 1].glued) return !isNumber(i + 2);
  return isOneOf(name(i), {"flutes", "teeth"}) && signed_(i);
}

bool Reading::isFluteLength(std::size_t i) const {
  const std::string_view after = next(i);
  if (after == "loc") return true;
  if (isOneOf(after, {"flute", "cutting", "cut"}) && isOneOf(word(i + 2), {"length", "len"})) return true;
  return name(i) == "loc" ||
         (isOneOf(name(i), {"length", "len"}) && isOneOf(nameBefore(i), {"flute", "cutting", "cut"}));
}

bool Reading::isOverall(std::size_t i) const {
  return next(i) == "oal" || (next(i) == "overall") || name(i) == "oal" ||
         (name(i) == "length" && nameBefore(i) == "overall");
}

bool Reading::isShank(std::size_t i) const {
  return isOneOf(next(i), {"shank", "shk", "sh"}) || isOneOf(name(i), {"shank", "shk"}) ||
         (isOneOf(name(i), {"dia", "diameter"}) && nameBefore(i) == "shank");
}

bool Reading::isCorner(std::size_t i) const {
  if (isOneOf(next(i), {"cr", "rad", "radius", "corner"})) return true;
  if (name(i) == "cr" || (name(i) == "r" && tokens_[i].glued && !signed_(i))) return true;
  return isOneOf(name(i), {"radius", "rad"}) && isOneOf(nameBefore(i), {"corner", "tip", "nose", "ball"});
}

bool Reading::isToolRadius(std::size_t i) const {
  return isOneOf(name(i), {"radius", "rad"}) && isOneOf(nameBefore(i), {"tool", "cutter", "bit", "mill"});
}

// `of_a_tool`: the text speaks of one, so that "D6" is no offset.
bool Reading::isNamedDiameter(std::size_t i, bool of_a_tool) const {
  if (isShank(i) || negative(i)) return false;
  const std::string_view n = name(i);
  if (isOneOf(n, {"dia", "diam", "diameter", "durchmesser", "diametro", "diametre"})) return nameBefore(i) != "hole";
  if (n == "size" && isOneOf(nameBefore(i), {"drill", "tool", "bit", "cutter"})) return true;
  if (n == "d" && (signed_(i) || (of_a_tool && tokens_[i].glued))) return true;
  return isOneOf(next(i), {"dia", "diam", "diameter", "durchmesser"}) && !isNumber(i + 2) && !isSign(i + 2, '=') &&
         !isSign(i + 2, ':');
}

// Numbers that the words beside them give to something else.
bool Reading::isOther(std::size_t i) const {
  if (isOneOf(nameBefore(i), {"change", "switch"}) && name(i) == "to") return false;
  // "6 x 22": the second is a length; behind an angle it is the bit's own.
  if (i > 1 && word(i - 1) == "x" && word(i - 2).starts_with("deg")) return false;
  if (i > 1 && word(i - 1) == "x") return true;
  if (isOneOf(next(i), {"sfm",   "cpt",      "ipt",      "rpm",  "ipm",   "tpi",   "deep",   "depth",    "doc",
                        "woc",   "stepdown", "stepover", "hole", "holes", "thick", "long",   "wide",     "overlap",
                        "piece", "pitch",    "min",      "s",    "per",   "m",     "offset", "clearance"}))
    return true;
  if (isOneOf(name(i), {"vc",        "zmin",      "zmax",     "s",         "f",       "feed",   "speed",  "rpm",
                        "step",      "stepover",  "stepdown", "depth",     "doc",     "woc",    "z",      "x",
                        "y",         "h",         "at",       "to",        "retract", "plunge", "length", "len",
                        "clearance", "tolerance", "offset",   "thickness", "lift",    "rapid"}))
    return true;
  return negative(i) || (i > 0 && isSign(i - 1, '#'));
}

bool Reading::isLength(std::size_t i) const {
  if (!isNumber(i) || !(tokens_[i].value > 0)) return false;
  const CommentToken& t = tokens_[i];
  if (!t.unit_mm) {
    if (!t.fraction || t.value > 4) return false;
    const std::size_t slash = t.text.find('/');
    if (!isOneOf(t.text.substr(slash + 1), {"2", "4", "8", "16", "32", "64"})) return false;
  }
  return !isToolNumber(i) && !isAngle(i) && !isFlutes(i) && !isFluteLength(i) && !isOverall(i) && !isShank(i) &&
         !isCorner(i) && !isOther(i);
}

std::optional<int> Reading::toolNumber() const {
  for (std::size_t i = 0; i < size(); ++i) {
    if (isNumber(i) && isToolNumber(i)) return static_cast<int>(tokens_[i].value);
  }
  return std::nullopt;
}

bool Reading::speaksOfATool() const {
  for (std::size_t i = 0; i < size(); ++i) {
    if (isNumber(i) && (isFlutes(i) || isFluteLength(i))) return true;
    const std::string_view w = word(i);
    if (isOneOf(w, {"carbide", "crb", "hss", "cutter", "bit", "mill", "cobalt", "tap", "endmill", "fraise", "fresa",
                    "dovetail", "keyhole", "roundover", "ogee"}))
      return true;
    if (w.find("fraes") != std::string_view::npos || w.starts_with("fraser")) return true;
  }
  return false;
}

// A row of a list of tools: "T1 : 1.5", "T01 | 1.000mm 0.0394in | ...", "TOOL/MILL,3.175,0,1.0,0.0".
std::optional<double> Reading::diameterInARow() const {
  if (word(0) == "tool" && isSign(1, '/') && isOneOf(word(2), {"mill", "drill"}) && isSign(3, ',') && isNumber(4))
    return mm(tokens_[4]);
  if (word(0) != "t" || !isNumber(1) || !isToolNumber(1)) return std::nullopt;
  std::size_t i = 2;
  while (i < size() && (isSign(i, ':') || isSign(i, '|') || isSign(i, '=') || isSign(i, '-'))) ++i;
  if (i > 2 && isNumber(i) && i + 1 == size()) return mm(tokens_[i]);
  return isLength(i) ? std::optional(mm(tokens_[i])) : std::nullopt;
}

// The length that stands nearest to the shape's word: "6mm end mill", "8.1 mm holes, flat 6 mm"; without one the first.
std::optional<double> Reading::diameterNear(const ShapeWord* shape) const {
  const std::size_t place = shape ? findWord(plain_, shape->word) : 0;
  std::optional<double> nearest;
  std::size_t least_distance = plain_.size() + 1;
  for (std::size_t i = 0; i < size(); ++i) {
    if (!isLength(i)) continue;
    const std::size_t begin = tokens_[i].at, end = begin + tokens_[i].text.size();
    const std::size_t distance = begin < place ? place - std::min(place, end) : begin - place;
    if (distance >= least_distance) continue;
    nearest = mm(tokens_[i]);
    least_distance = distance;
  }
  return nearest;
}

std::optional<double> Reading::diameter(const ShapeWord* shape) const {
  const auto find = [&](auto is) -> std::optional<std::size_t> {
    for (std::size_t i = 0; i < size(); ++i) {
      if (isNumber(i) && (this->*is)(i)) return i;
    }
    return std::nullopt;
  };
  const bool offsets = std::any_of(tokens_.begin(), tokens_.end(), [](const CommentToken& t) { return t.text == "h"; });
  for (std::size_t i = 0; i < size(); ++i) {
    if (isNumber(i) && isNamedDiameter(i, !offsets && (shape || speaksOfATool()))) return mm(tokens_[i]);
  }
  if (const auto i = find(&Reading::isToolRadius)) return 2 * mm(tokens_[*i]);
  if (const auto row = diameterInARow()) return row;
  for (std::size_t i = 2; i < size(); ++i) {  // "mill head of 0.8"
    if (isNumber(i) && word(i - 1) == "of" && isOneOf(name(i), {"mill", "head", "bit", "drill", "cutter"}))
      return mm(tokens_[i]);
  }
  if (shape || speaksOfATool()) {
    if (const auto near = diameterNear(shape)) return near;
  }
  for (std::size_t i = 1; i < size(); ++i) {  // "tap M6x1"; "R3 ball"
    if (isNumber(i) && tokens_[i].glued && word(i - 1) == "m" && plain_.find("tap") != std::string::npos) {
      return tokens_[i].value;
    }
    if (isNumber(i) && shape && shape->shape == ToolShape::ball && isCorner(i)) return 2 * mm(tokens_[i]);
  }
  return std::nullopt;
}

// Half the angle of a cone, as "TAPER=5" gives it.
std::optional<double> Reading::taper() const {
  for (std::size_t i = 0; i < size(); ++i) {
    if (isNumber(i) && name(i) == "taper" && signed_(i)) return tokens_[i].value;
  }
  return std::nullopt;
}

std::optional<double> Reading::angle(const ToolComment& so_far) const {
  // A vee's "taper" may be half its angle: only an angle that is called nothing else is taken.
  if (so_far.shape == ToolShape::drill) {
    if (const auto point = taper()) return point;
  } else if (so_far.shape != ToolShape::vee || taper()) {
    return std::nullopt;
  }
  for (std::size_t i = 0; i < size(); ++i) {
    if (isNumber(i) && isAngle(i)) return tokens_[i].value;
  }
  return std::nullopt;
}

void Reading::readSizes(ToolComment& comment) const {
  for (std::size_t i = 0; i < size(); ++i) {
    if (!isNumber(i) || negative(i)) continue;
    const CommentToken& t = tokens_[i];
    if (isFlutes(i)) {
      if (!comment.flutes) comment.flutes = static_cast<int>(t.value);
    } else if (isFluteLength(i)) {
      if (!comment.flute_length_mm) comment.flute_length_mm = mm(t);
    } else if (isOverall(i)) {
      if (!comment.overall_length_mm) comment.overall_length_mm = mm(t);
    } else if (isShank(i)) {
      if (!comment.shank_diameter_mm) comment.shank_diameter_mm = mm(t);
    } else if (isCorner(i) && !isToolRadius(i)) {
      if (!comment.corner_radius_mm) comment.corner_radius_mm = mm(t);
    }
  }
}

void dropNonsense(std::optional<double>& length_mm) {
  if (length_mm && !(*length_mm > 0)) length_mm.reset();
}

// A cone above its tip: the size that is given is the tip's.
void takeAsTapered(ToolComment& comment) {
  comment.tapered = true;
  comment.tip_diameter_mm = comment.diameter_mm;
  comment.diameter_mm.reset();
  const bool ball =
      comment.corner_radius_mm.value_or(0) > 0 || (comment.shape && sameKind(*comment.shape, ToolShape::ball));
  comment.shape = ball ? ToolShape::taper_ball : ToolShape::vee;
}

ToolComment Reading::read() const {
  ToolComment comment;
  comment.number = toolNumber();
  readSizes(comment);
  const ShapeWord* shape = shapeWordIn(plain_);
  comment.names_tool = speaksOfATool() || std::any_of(tokens_.begin(), tokens_.end(), [](const CommentToken& t) {
                         return t.text == "tool" || t.text == "werkzeug";
                       });
  comment.diameter_mm = diameter(shape);
  dropNonsense(comment.diameter_mm);
  dropNonsense(comment.flute_length_mm);
  dropNonsense(comment.overall_length_mm);
  dropNonsense(comment.shank_diameter_mm);
  if (shape) comment.shape = shape->shape;
  // "60 degree V"
  const bool v = std::any_of(tokens_.begin(), tokens_.end(), [](const CommentToken& t) { return t.text == "v"; });
  for (std::size_t i = 0; v && !comment.shape && i < size(); ++i) {
    if (isNumber(i) && isAngle(i)) comment.shape = ToolShape::vee;
  }
  comment.shape_named = shape && namesOneKind(plain_, *shape);
  if (findWord(plain_, "tapered") != std::string_view::npos || comment.shape == ToolShape::taper_ball) {
    takeAsTapered(comment);
    comment.taper_deg = taper();
    return comment;
  }
  if (comment.diameter_mm && comment.corner_radius_mm && *comment.corner_radius_mm > 0) {
    const bool whole_end = std::abs(2 * *comment.corner_radius_mm - *comment.diameter_mm) < 1e-6 * *comment.diameter_mm;
    comment.shape = whole_end ? ToolShape::ball : ToolShape::bull;
  }
  comment.angle_deg = angle(comment);
  if (comment.shape == ToolShape::vee) comment.taper_deg = taper();
  return comment;
}

}  // namespace

ToolComment readToolComment(std::string_view text, bool inches) {
  return Reading(text, inches).read();
}

}  // namespace provecut
