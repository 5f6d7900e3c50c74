#include "report/base/tool_comment.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <initializer_list>
#include <utility>
#include <vector>

#include "parser/base/units.h"
#include "report/base/bit_words.h"
#include "report/base/comment_tokens.h"
#include "report/base/drill_sizes.h"

namespace provecut {

bool sameDiameter(double said_mm, double known_mm) {
  constexpr double slack_mm = 0.05, slack_share = 0.02;
  return std::fabs(said_mm - known_mm) <= std::max(slack_mm, slack_share * known_mm);
}

std::optional<double> saidDiameter_mm(const ToolComment& said) {
  if (said.diameter_mm || !said.tapered) return said.diameter_mm;
  return said.cone_diameter_mm ? said.cone_diameter_mm : said.tip_diameter_mm;
}

namespace {

using Kind = CommentToken::Kind;
using WordList = std::initializer_list<std::string_view>;

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
  bool isVeeAngle(std::size_t i) const;
  bool isFlutes(std::size_t i) const;
  bool isFluteLength(std::size_t i) const;
  bool isOverall(std::size_t i) const;
  bool isShank(std::size_t i) const;
  bool isCorner(std::size_t i) const;
  bool isToolRadius(std::size_t i) const;
  bool isNamedDiameter(std::size_t i, bool of_a_tool) const;
  bool isTip(std::size_t i) const;
  bool isThread(std::size_t i) const;
  bool isOther(std::size_t i) const;
  bool isLength(std::size_t i) const;  // with a unit or as a fraction, and not known for another

  std::optional<int> toolNumber() const;
  std::optional<double> diameter(const ShapeWord* shape) const;
  std::optional<double> diameterInARow() const;
  std::optional<double> diameterNear(const ShapeWord* shape) const;
  bool isOfBit(std::size_t i, const ShapeWord* shape) const;
  std::optional<double> plainDiameter(const ShapeWord* shape) const;
  bool namesDrill(std::size_t i) const;
  std::optional<int> drillNumber() const;
  std::optional<char> drillLetter() const;
  bool hasWord(std::string_view w) const;
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
  return isOneOf(name(before), {"tool", "werkzeug", "wz", "herramienta", "outil"});
}

// "V60", "V 90": one of the angles that vees are sold with.
bool Reading::isVeeAngle(std::size_t i) const {
  const CommentToken& t = tokens_[i];
  if (t.unit_mm || i == 0 || !isOneOf(word(i - 1), {"v", "vee"}) || (i > 1 && tokens_[i - 1].glued)) return false;
  return isOneOf(t.text, {"10", "15", "20", "30", "45", "60", "82", "90", "100", "120"}) && !isSign(i + 1, '/') &&
         !isOneOf(word(i + 1), {"deep", "mm", "m"});
}

bool Reading::isAngle(std::size_t i) const {
  if (tokens_[i].unit_mm || isOneOf(word(i + 2), {"helix", "spiral"})) return false;
  const std::string_view after = next(i);
  // "90 vee"
  if (isOneOf(after, {"vee", "v"}) && !tokens_[i].fraction && tokens_[i].value >= 10 && tokens_[i].value < 180)
    return true;
  return isOneOf(after, {"deg", "degs", "degree", "degrees", "grad", "grados", "degres"}) ||
         (after == "point" && word(i + 2) == "angle") || name(i) == "angle" || name(i) == "winkel" || isVeeAngle(i);
}

bool Reading::isFlutes(std::size_t i) const {
  const CommentToken& t = tokens_[i];
  if (t.unit_mm || t.fraction || t.value < 1 || t.value > 12 || t.value != std::floor(t.value)) return false;
  if (isSign(i + 1, '-') && isOneOf(word(i + 2), {"flute", "flutes", "fluted", "fl"})) return true;  // "2-flute"
  // "Schaftfraeser D6 Z2"
  if (t.glued && t.value <= 6 && i > 0 && word(i - 1) == "z" && !isNumber(i + 1) &&
      plain_.find("fraes") != std::string::npos)
    return true;
  if (isOneOf(next(i), {"fl", "flt", "flute", "flutes", "fluted", "teeth", "schneiden", "schneide", "zaehne",
                        "schneider", "dents", "levres", "filos"}))
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
  // "1/4 shank 1/8 bit": the shank is the number's before it.
  const std::size_t at = namePlace(i);
  const bool taken = !signed_(i) && at > 0 && at < size() && isNumber(at - 1);
  return isOneOf(next(i), {"shank", "shk", "sh", "schaft"}) ||
         (!taken && isOneOf(name(i), {"shank", "shk", "schaft"})) ||
         (isOneOf(name(i), {"dia", "diameter"}) && nameBefore(i) == "shank");
}

bool Reading::isCorner(std::size_t i) const {
  if (isOneOf(next(i), {"cr", "rad", "radius", "corner"})) return true;
  if (next(i) == "r" && !(isNumber(i + 2) && tokens_[i + 2].glued)) return true;
  if (isOneOf(next(i), {"tip", "nose", "ball"}) && isOneOf(word(i + 2), {"rad", "radius"})) return true;
  if (name(i) == "cr" || (name(i) == "r" && tokens_[i].glued && !signed_(i))) return true;
  return isOneOf(name(i), {"radius", "rad"}) && isOneOf(nameBefore(i), {"corner", "tip", "nose", "ball"});
}

bool Reading::isToolRadius(std::size_t i) const {
  return isOneOf(name(i), {"radius", "rad"}) && isOneOf(nameBefore(i), {"tool", "cutter", "bit", "mill"});
}

// `of_a_tool`: the text speaks of one, so that "D6" is no offset.
bool Reading::isNamedDiameter(std::size_t i, bool of_a_tool) const {
  if (isShank(i) || isFluteLength(i) || isOverall(i) || negative(i)) return false;
  const std::string_view n = name(i);
  if (isOneOf(n, {"dia", "diam", "diameter", "durchmesser", "diametro", "diametre"})) return nameBefore(i) != "hole";
  if (n == "size" && isOneOf(nameBefore(i), {"drill", "tool", "bit", "cutter"})) return true;
  if (n == "d" && (signed_(i) || (of_a_tool && tokens_[i].glued))) return true;
  const bool names_next = isNumber(i + 2) && !isFluteLength(i + 2) && !isOverall(i + 2);  // "2 dia 6"
  return isOneOf(next(i), {"dia", "diam", "diameter", "durchmesser"}) && !names_next && !isSign(i + 2, '=') &&
         !isSign(i + 2, ':');
}

// Of a pointed bit: "0.2 tip", "tip 0,1 mm".
bool Reading::isTip(std::size_t i) const {
  if (isCorner(i) || isAngle(i)) return false;
  if (isOneOf(next(i), {"tip", "spitze", "pointe", "punta"})) return !isOneOf(word(i + 2), {"angle", "deg"});
  const bool dia = isOneOf(name(i), {"dia", "diameter", "d"}) && isOneOf(nameBefore(i), {"tip", "spitze"});
  const std::size_t at = namePlace(i);
  const bool taken = !signed_(i) && at > 0 && at < size() && isNumber(at - 1);  // "0.2 tip 6 mm"
  return dia || (!taken && isOneOf(name(i), {"tip", "spitze", "pointe"}));
}

// The first number of "1/4-20" and "10-32".
bool Reading::isThread(std::size_t i) const {
  return isSign(i + 1, '-') && tokens_[i + 1].glued && isNumber(i + 2) && tokens_[i + 2].glued;
}

// Numbers that the words beside them give to something else.
bool Reading::isOther(std::size_t i) const {
  if (isOneOf(nameBefore(i), {"change", "switch"}) && name(i) == "to") return false;
  // "6 x 22": the second is a length; behind an angle it is the bit's own.
  if (i > 1 && word(i - 1) == "x" && (word(i - 2).starts_with("deg") || (isNumber(i - 2) && isAngle(i - 2))))
    return false;
  if (i > 1 && word(i - 1) == "x") return true;
  // "6 mm pocket with 3 mm bit"; but "1/4 plywood bit" is a bit.
  const bool of_a_bit = (isOneOf(next(i), {"dowel", "pin"}) && isOneOf(word(i + 2), {"hole", "holes"})) ||
                        isOneOf(word(i + 2), {"bit", "cutter", "mill", "drill", "router"});
  if (!of_a_bit &&
      isOneOf(next(i),
              {"pocket", "pockets", "slot",   "slots", "groove",  "grooves",   "dado",     "dados",      "rabbet",
               "ply",    "plywood", "mdf",    "board", "sheet",   "plate",     "stock",    "material",   "birch",
               "oak",    "maple",   "walnut", "pine",  "acrylic", "alu",       "aluminum", "aluminium",  "collet",
               "dowel",  "dowels",  "pin",    "pins",  "bolt",    "bolts",     "screw",    "screws",     "inserts",
               "thread", "tief",    "breit",  "lang",  "dick",    "multiplex", "profond",  "profondeur", "tab",
               "tabs",   "spacing", "apart",  "left",  "skin"}))
    return true;
  if (isOneOf(name(i), {"leave", "leaves", "leaving", "collet", "tabs", "material", "rev", "part", "job", "op", "setup",
                        "side", "version", "ver", "program", "page", "file", "teil", "piece"}))
    return true;
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
    // "1 1/4": one number, or a number and a fraction.
    const bool counted = i > 0 && isNumber(i - 1) && tokens_[i - 1].text.size() == 1 && !tokens_[i - 1].unit_mm;
    if (counted && !isToolNumber(i - 1) && !isFlutes(i - 1)) return false;
  }
  return !isToolNumber(i) && !isAngle(i) && !isFlutes(i) && !isFluteLength(i) && !isOverall(i) && !isShank(i) &&
         !isCorner(i) && !isTip(i) && !isOther(i);
}

std::optional<int> Reading::toolNumber() const {
  for (std::size_t i = 0; i < size(); ++i) {
    if (isNumber(i) && isToolNumber(i)) return static_cast<int>(tokens_[i].value);
  }
  return std::nullopt;
}

bool Reading::hasWord(std::string_view w) const {
  return std::any_of(tokens_.begin(), tokens_.end(), [&](const CommentToken& t) { return t.text == w; });
}

bool Reading::speaksOfATool() const {
  for (std::size_t i = 0; i < size(); ++i) {
    if (isNumber(i) && (isFlutes(i) || isFluteLength(i) || isVeeAngle(i))) return true;
    const std::string_view w = word(i);
    if (isOneOf(w, {"carbide",   "crb",     "hss",    "cutter",  "bit",      "mill",     "cobalt",
                    "tap",       "endmill", "fraise", "fresa",   "dovetail", "keyhole",  "tslot",
                    "roundover", "ogee",    "cove",   "rougher", "forstner", "flycutter"}))
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

// Is token i a part of the bit's name: of the shape's word, "bit", "Fraeser"?
bool Reading::isOfBit(std::size_t i, const ShapeWord* shape) const {
  const std::string_view w = word(i);
  if (w.empty()) return false;
  if (isOneOf(w, {"bit", "cutter", "mill", "endmill", "fraise", "fresa", "tap"})) return true;
  if (w.find("fraes") != std::string_view::npos || w.starts_with("fraser")) return true;
  const std::size_t place = shape ? findWord(plain_, shape->word) : std::string_view::npos;
  return place != std::string_view::npos && tokens_[i].at < place + shape->word.size() &&
         tokens_[i].at + w.size() > place;
}

// The one length in it, or the one of several that stands right beside the bit's name: "8 mm pocket, flat 6 mm".
// Where two may be meant, none.
std::optional<double> Reading::diameterNear(const ShapeWord* shape) const {
  const bool drills = shape && shape->shape == ToolShape::drill;
  // "Chamfer 1 mm", "surface 0.5 mm" say how much; no pointed bit is as thin as "0.2 mm engraver".
  const bool much = shape && (shape->shape == ToolShape::surfacing || (shape->job && !speaksOfATool()));
  const double least_mm = much ? 3 : shape && shape->shape == ToolShape::vee ? 1 : 0;
  std::vector<double> all, beside;
  const auto add = [](std::vector<double>& to, double value_mm) {
    const bool known = std::any_of(to.begin(), to.end(), [&](double v) { return std::abs(v - value_mm) < 1e-9; });
    if (!known) to.push_back(value_mm);
  };
  for (std::size_t i = 0; i < size(); ++i) {
    if (!isLength(i) || (drills && isThread(i)) || mm(tokens_[i]) < least_mm) continue;
    add(all, mm(tokens_[i]));
    if ((i + 1 < size() && isOfBit(i + 1, shape)) || (i > 0 && isOfBit(i - 1, shape))) add(beside, mm(tokens_[i]));
  }
  if (beside.size() == 1) return beside.front();
  if (all.size() != 1) return std::nullopt;
  // "Plexi 5 mm; 3.175 single flute"
  const auto plain = plainDiameter(shape);
  return plain ? plain : all.front();
}

// A decimal number beside the bit's name that has no unit: "6.35 spiral", ".25 EM", "Bohrer 5,5". It is in the
// program's unit, where that gives a usual bit of that unit; whole numbers count other things as well.
std::optional<double> Reading::plainDiameter(const ShapeWord* shape) const {
  if (!shape || shape->job) return std::nullopt;
  constexpr double least_in = 0.01, max_in = 2, least_mm = 0.2, max_mm = 60;
  const std::size_t place = findWord(plain_, shape->word), place_end = place + shape->word.size();
  // "drill 12.5" may be how deep.
  const bool may_be_verb = shape->word == "drill" && plain_.find("tap drill") == std::string::npos;
  for (std::size_t i = 0; i < size(); ++i) {
    const CommentToken& t = tokens_[i];
    if (!isNumber(i) || t.unit_mm || t.fraction || t.text.find_first_of(".,") == std::string_view::npos) continue;
    const bool usual = inches_ ? t.value >= least_in && t.value <= max_in : t.value >= least_mm && t.value <= max_mm;
    // ".25" in a program in mm may well be a quarter of an inch.
    const double eighths = t.value * 32;
    if (!usual || (!inches_ && t.value < 1 && std::abs(eighths - std::round(eighths)) < 1e-9)) continue;
    if (isAngle(i) || isFlutes(i) || isFluteLength(i) || isOverall(i) || isShank(i) || isCorner(i) || isTip(i) ||
        isOther(i))
      continue;
    const std::size_t after = static_cast<std::size_t>(
        std::find_if(tokens_.begin(), tokens_.end(), [&](const CommentToken& o) { return o.at >= place_end; }) -
        tokens_.begin());
    const bool before = i + 1 < size() && tokens_[i + 1].at == place && !isOneOf(word(after), {"depth", "deep"});
    const bool ends = i + 1 == size() || isSign(i + 1, ',') || isSign(i + 1, ';') || word(i + 1) == "d";
    const bool behind = !may_be_verb && ends && i > 0 && place < t.at && tokens_[i - 1].kind == Kind::word &&
                        tokens_[i - 1].at + tokens_[i - 1].text.size() >= place_end && tokens_[i - 1].at <= place_end;
    if (before || behind) return t.value * (inches_ ? mm_per_inch : 1);
  }
  return std::nullopt;
}

// Is number or letter i the name of a drill's size: "#7 drill"?
bool Reading::namesDrill(std::size_t i) const {
  for (const std::string_view other : {"center", "centre", "spot", "step"}) {
    if (findWord(plain_, other) != std::string_view::npos) return false;  // their numbers have other tables
  }
  return next(i) == "drill" || (next(i) == "tap" && word(i + 2) == "drill");
}

// "#7 drill", "no. 36 drill", "drill #21"; not "tool #7 drill".
std::optional<int> Reading::drillNumber() const {
  if (findWord(plain_, "center") != std::string_view::npos) return std::nullopt;
  for (std::size_t i = 1; i < size(); ++i) {
    const CommentToken& t = tokens_[i];
    if (!isNumber(i) || t.text.size() > 2 || t.text.find_first_not_of("0123456789") != std::string_view::npos) continue;
    const bool hash = isSign(i - 1, '#');
    const bool no = isOneOf(word(i - 1), {"no", "number"}) || (isSign(i - 1, '.') && i > 1 && word(i - 2) == "no");
    const std::string_view before = hash && i > 1 ? word(i - 2) : std::string_view{};
    const bool named = (hash && (namesDrill(i) || before == "drill")) || (no && namesDrill(i));
    const int number = static_cast<int>(t.value);
    if (named && !isOneOf(before, {"tool", "t"}) && toolNumber() != number) return number;
  }
  return std::nullopt;
}

// "letter F drill", "T6 F drill"
std::optional<char> Reading::drillLetter() const {
  for (std::size_t i = 0; i < size(); ++i) {
    if (word(i).size() != 1 || !namesDrill(i)) continue;
    const bool said = i > 0 && word(i - 1) == "letter";
    // "C drill", "S drill", "T drill", "P drill" are short for other drills.
    const bool alone = (i == 0 || (i == 2 && word(0) == "t" && isNumber(1))) &&
                       std::string_view("bdefgjklmnqruvw").find(word(i)) != std::string_view::npos;
    if (said || alone) return word(i)[0];
  }
  return std::nullopt;
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
    if (!isNumber(i)) continue;
    const bool row = word(0) == "t" && isNumber(1) && isToolNumber(1) && tokens_[i].value != tokens_[1].value;
    if (isNamedDiameter(i, !offsets && (shape || row || speaksOfATool()))) return mm(tokens_[i]);
  }
  if (const auto i = find(&Reading::isToolRadius)) return 2 * mm(tokens_[*i]);
  if (const auto row = diameterInARow()) return row;
  for (std::size_t i = 2; i < size(); ++i) {  // "mill head of 0.8"
    if (isNumber(i) && word(i - 1) == "of" && isOneOf(name(i), {"mill", "head", "bit", "drill", "cutter"}))
      return mm(tokens_[i]);
  }
  // Their sizes are radii.
  const bool by_radius =
      hasWord("roundover") || hasWord("cove") || hasWord("ogee") || plain_.find("round over") != std::string::npos;
  if (by_radius) return std::nullopt;
  if (shape || speaksOfATool()) {
    if (const auto near = diameterNear(shape)) return near;
  }
  if (const auto plain = plainDiameter(shape)) return plain;
  const bool drills = shape && shape->shape == ToolShape::drill;
  if (drills) {
    if (const auto number = drillNumber()) return numberDrill_mm(*number);
    if (const auto letter = drillLetter()) return letterDrill_mm(*letter);
  }
  for (std::size_t i = 1; i < size(); ++i) {  // "tap M6x1"; "R3 ball"
    if (isNumber(i) && tokens_[i].glued && word(i - 1) == "m" && !drills && plain_.find("tap") != std::string::npos) {
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
    } else if (isTip(i) && !comment.tip_diameter_mm) {
      // A tip of 5 mm is one whose unit was left out.
      constexpr double widest_mm = 3;
      if (mm(t) <= widest_mm) comment.tip_diameter_mm = mm(t);
    }
  }
  constexpr std::array<std::pair<std::string_view, int>, 10> counted{{{"single flute", 1},
                                                                      {"single-flute", 1},
                                                                      {"einschneider", 1},
                                                                      {"einzahn", 1},
                                                                      {"une dent", 1},
                                                                      {"una flauta", 1},
                                                                      {"un filo", 1},
                                                                      {"zweischneider", 2},
                                                                      {"two flute", 2},
                                                                      {"deux dents", 2}}};
  for (const auto& [said, flutes] : counted) {
    if (!comment.flutes && findWord(plain_, said) != std::string_view::npos) comment.flutes = flutes;
  }
}

void dropNonsense(std::optional<double>& length_mm) {
  if (length_mm && !(*length_mm > 0)) length_mm.reset();
}

// A cone above its tip: the size that is given is the tip's.
void takeAsTapered(ToolComment& comment) {
  comment.tapered = true;
  comment.cone_diameter_mm = comment.diameter_mm;
  const double corner_mm = comment.corner_radius_mm.value_or(0);
  if (!comment.tip_diameter_mm)
    comment.tip_diameter_mm = corner_mm > 0 ? std::optional(2 * corner_mm) : comment.diameter_mm;
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
  const auto drill = shape && shape->shape == ToolShape::drill ? drillNumber() : std::nullopt;
  if (drill && comment.diameter_mm && comment.diameter_mm == numberDrill_mm(*drill)) comment.drill_number = drill;
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
  const bool taper_word = comment.shape == ToolShape::ball && hasWord("taper");
  if (taper_word || findWord(plain_, "tapered") != std::string_view::npos || comment.shape == ToolShape::taper_ball) {
    takeAsTapered(comment);
    comment.taper_deg = taper();
    if (taper_word && !comment.corner_radius_mm) comment.tip_diameter_mm.reset();  // "1/8 ball, taper": tip or shank
    return comment;
  }
  if (comment.shape != ToolShape::vee) comment.tip_diameter_mm.reset();
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
