// Which programs cut which side of the stock, and where one program cuts several.
#include <algorithm>
#include <array>
#include <cmath>

#include "report/base/comment_tokens.h"
#include "report/base/zero_comment.h"
#include "report/draft/draft_survey.h"

namespace provecut::draft {

namespace {

enum class Side { unknown, front, back };

// The side that a file's name speaks of: "20-back.nc", "panel_side2.nc".
Side sideNamed(const std::string& file) {
  const std::size_t slash = file.find_last_of("/\\");
  const std::string name = plainComment(slash == std::string::npos ? file : file.substr(slash + 1));
  constexpr std::array<std::string_view, 6> front{"front", "top", "face", "vorne", "oben", "upper"};
  constexpr std::array<std::string_view, 8> back{"back",   "bottom", "rear",      "reverse",
                                                 "hinten", "unten",  "underside", "under"};
  const auto tokens = commentTokens(name);
  for (std::size_t i = 0; i < tokens.size(); ++i) {
    const std::string_view word = tokens[i].text;
    if (std::find(front.begin(), front.end(), word) != front.end()) return Side::front;
    if (std::find(back.begin(), back.end(), word) != back.end()) return Side::back;
    if ((word == "side" || word == "seite") && i + 1 < tokens.size()) {
      const CommentToken& which = tokens[i + 1];
      if (which.value == 1 || which.text == "a") return Side::front;
      if (which.value == 2 || which.text == "b") return Side::back;
    }
  }
  return Side::unknown;
}

WorkPoint2 middleOf(const std::vector<WorkPoint2>& points) {
  double x = 0, y = 0;
  for (const WorkPoint2 p : points) x += p.x, y += p.y;
  const double n = static_cast<double>(points.size());
  return {x / n, y / n};
}

// Are these the same holes about their middles, seen in a mirror or not?
bool sameHoles(const std::vector<WorkPoint2>& a, const std::vector<WorkPoint2>& b, double sign_x, double sign_y) {
  constexpr double tolerance_mm = 0.05;
  const WorkPoint2 ma = middleOf(a), mb = middleOf(b);
  return std::all_of(a.begin(), a.end(), [&](WorkPoint2 p) {
    const double x = sign_x * (p.x - ma.x), y = sign_y * (p.y - ma.y);
    return std::any_of(b.begin(), b.end(),
                       [&](WorkPoint2 q) { return std::hypot(q.x - mb.x - x, q.y - mb.y - y) < tolerance_mm; });
  });
}

// How the stock lies flipped when the second program's holes are the first one's, mirrored.
Flip mirrored(const std::vector<WorkPoint2>& a, const std::vector<WorkPoint2>& b) {
  constexpr std::size_t fewest = 3;
  if (a.size() < fewest || a.size() != b.size() || sameHoles(a, b, 1, 1)) return Flip::none;
  if (sameHoles(a, b, -1, 1)) return Flip::left_right;
  return sameHoles(a, b, 1, -1) ? Flip::front_back : Flip::none;
}

struct Split {
  std::vector<bool> back;  // by program
  Flip flip = Flip::left_right;
  std::string why;
};

std::optional<Split> byName(std::span<const DraftProgram> programs) {
  Split split{std::vector<bool>(programs.size()), Flip::left_right, "their names"};
  bool front = false, back = false;
  for (std::size_t i = 0; i < programs.size(); ++i) {
    const Side side = sideNamed(programs[i].file);
    split.back[i] = side == Side::back;
    front = front || side == Side::front;
    back = back || side == Side::back;
  }
  return front && back ? std::optional(split) : std::nullopt;
}

std::optional<Split> byHeight(const std::vector<ProgramSurvey>& surveys) {
  const auto first = std::find_if(surveys.begin(), surveys.end(), [](const auto& s) { return !s.cut.empty; });
  if (first == surveys.end()) return std::nullopt;
  Split split{std::vector<bool>(surveys.size()), Flip::left_right, "their Z: these cut on the other side of Z zero"};
  for (std::size_t i = 0; i < surveys.size(); ++i)
    split.back[i] = !surveys[i].cut.empty && surveys[i].cuts_above_zero != first->cuts_above_zero;
  return std::count(split.back.begin(), split.back.end(), true) > 0 ? std::optional(split) : std::nullopt;
}

std::optional<Split> byHoles(const std::vector<ProgramSurvey>& surveys) {
  for (std::size_t a = 0; a < surveys.size(); ++a) {
    for (std::size_t b = a + 1; b < surveys.size(); ++b) {
      const Flip flip = mirrored(surveys[a].holes, surveys[b].holes);
      if (flip == Flip::none) continue;
      Split split{std::vector<bool>(surveys.size()), flip, "their holes: the holes of the front, mirrored"};
      for (std::size_t i = b; i < surveys.size(); ++i) split.back[i] = true;
      return split;
    }
  }
  return std::nullopt;
}

// Holes tell about which axis the stock is flipped, however the sides were told apart.
void takeFlipFromHoles(Split& split, const std::vector<ProgramSurvey>& surveys) {
  for (std::size_t a = 0; a < surveys.size(); ++a) {
    for (std::size_t b = 0; b < surveys.size(); ++b) {
      if (split.back[a] || !split.back[b]) continue;
      const Flip flip = mirrored(surveys[a].holes, surveys[b].holes);
      if (flip != Flip::none) split.flip = flip;
    }
  }
}

// "OP 2", "FACE BOTTOM", "flip the part": not the first operation, or another side.
bool namesAnotherSetup(std::string_view comment) {
  const std::string plain = plainComment(comment);
  const auto tokens = commentTokens(plain);
  for (std::size_t i = 0; i < tokens.size(); ++i) {
    const std::string_view word = tokens[i].text;
    const bool numbered = word == "op" || word == "operation" || word == "side" || word == "setup";
    const std::size_t number = i + 1 < tokens.size() && tokens[i + 1].text == "#" ? i + 2 : i + 1;
    if (numbered && number < tokens.size() && tokens[number].value >= 2) return true;
    if (word == "flip" || word == "flipped" || word == "underside") return true;
    if (word == "bottom" && i > 0 && (tokens[i - 1].text == "face" || tokens[i - 1].text == "from")) return true;
    const std::string_view before = i > 0 ? tokens[i - 1].text : std::string_view{};
    if (word == "side" && (before == "other" || before == "second" || before == "back" || before == "bottom"))
      return true;
    if (word == "over" && plain.find("turn") < tokens[i].at) return true;
  }
  return false;
}

bool sameZero(const ZeroComment& a, const ZeroComment& b) {
  return a.x == b.x && a.y == b.y && (a.z == b.z || a.z.empty() || b.z.empty());
}

bool isStop(const Event& e) {
  return e.kind == EventKind::stop || e.kind == EventKind::optional_stop;
}

}  // namespace

std::vector<StockMoved> movedStock(const Program& program) {
  const auto first_cut = std::find_if(program.motions.begin(), program.motions.end(), cutsAtKnownPlace);
  std::vector<StockMoved> moved;
  std::optional<ZeroComment> zero;
  const Event* stop = nullptr;
  std::string said;
  bool anew = false;
  const auto finish = [&] {
    if (anew) moved.push_back({stop->place.line, said});
    stop = nullptr;
    said.clear();
    anew = false;
  };
  for (const Event& e : program.events) {
    if (stop && e.before_motion != stop->before_motion) finish();
    if (isStop(e) && !stop && first_cut != program.motions.end() &&
        e.before_motion > static_cast<std::uint32_t>(first_cut - program.motions.begin()))
      stop = &e;
    if (e.kind != EventKind::comment_tool) continue;
    const std::optional<ZeroComment> named = readZeroComment(e.text);
    const bool another = namesAnotherSetup(e.text);
    if (stop && (named || another)) {
      said += (said.empty() ? "" : "; ") + e.text;
      anew = anew || another || (zero && !sameZero(*zero, *named));
    }
    if (named) zero = named;
  }
  finish();
  return moved;
}

std::vector<SetupGuess> guessSetups(std::span<const DraftProgram> programs, const std::vector<ProgramSurvey>& surveys) {
  std::vector<SetupGuess> setups(1);
  setups[0].name = "front";
  std::optional<Split> split = byName(programs);
  if (!split) split = byHeight(surveys);
  if (!split) split = byHoles(surveys);
  if (split) {
    takeFlipFromHoles(*split, surveys);
    SetupGuess back;
    back.name = "back";
    back.flip = split->flip;
    back.why = split->why;
    setups.push_back(std::move(back));
  }
  for (std::size_t i = 0; i < programs.size(); ++i) {
    SetupGuess& setup = setups[split && split->back[i] ? 1 : 0];
    setup.programs.push_back(i);
    setup.cut.add(surveys[i].cut);
    setup.core.add(surveys[i].core);
  }
  // A setup needs a program: the names may speak of one side alone.
  std::erase_if(setups, [](const SetupGuess& s) { return s.programs.empty(); });
  for (SetupGuess& s : setups) {
    const auto first =
        std::find_if(s.programs.begin(), s.programs.end(), [&](std::size_t i) { return !surveys[i].cut.empty; });
    s.zero_on_bottom = first != s.programs.end() && surveys[*first].cuts_above_zero;
  }
  return setups;
}

}  // namespace provecut::draft
