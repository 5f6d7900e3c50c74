#include "report/rules/shared/piece_findings.h"
#include "parser/job/job_words.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <optional>

#include "report/base/wording.h"
#include "report/rules/shared/grouping.h"
#include "report/rules/shared/tab_margin.h"

namespace provecut {

namespace {

// The pieces that are told as one, in the order of the program.
using AlikePieces = std::vector<const Piece*>;

std::vector<AlikePieces> alikePieces(const std::vector<Piece>& all, const PieceRule& rule) {
  AlikePieces pieces;
  for (const Piece& p : all) {
    if (rule.concerns(p)) pieces.push_back(&p);
  }
  std::stable_sort(pieces.begin(), pieces.end(), [](const Piece* a, const Piece* b) { return a->move < b->move; });
  std::vector<AlikePieces> groups;
  for (const Piece* p : pieces) {
    const auto known = std::find_if(groups.begin(), groups.end(),
                                    [&](const AlikePieces& g) { return rule.alike && rule.alike(*g.front(), *p); });
    if (known == groups.end()) {
      groups.push_back({p});
    } else {
      known->push_back(p);
    }
  }
  return groups;
}

Place placeIn(const Facts& facts, std::size_t program, const Piece& piece) {
  const std::vector<Motion>& motions = facts.programs[program].program.motions;
  return piece.move < motions.size() ? placeOf(motions[piece.move]) : Place{};
}

// Where the others are.
void addRepeats(const Facts& facts, std::size_t program, const AlikePieces& alike, Finding& f) {
  f.moves = static_cast<std::uint32_t>(alike.size());
  for (const Piece* p : alike) {
    const ShownPlace place = shownPlace(facts.programs[program], placeIn(facts, program, *p));
    f.lines.push_back({place.line, place.line});
    f.last_line = std::max(f.last_line, place.line);
    if (p != alike.front() && f.lines.size() <= repeats_kept + 1)
      f.related.push_back({"", place, std::string(same_here)});
  }
}

}  // namespace

void addPieceFindings(const Facts& facts, const Rule& rule, const PieceRule& pieces, std::vector<Finding>& findings) {
  for (std::size_t i = 0; i < facts.run.programs.size(); ++i) {
    const std::vector<AlikePieces> groups = alikePieces(facts.run.programs[i].pieces, pieces);
    for (std::size_t n = 0; n < groups.size(); ++n) {
      const Piece& piece = *groups[n].front();
      Finding f = placeFinding(facts, i, rule, placeIn(facts, i, piece));
      f.moves = 1;
      f.at = piece.at;
      if (groups.size() > 1) f.subject = std::string(pieceWord(piece)) + " " + std::to_string(n + 1);
      pieces.word(groups[n], f);
      if (groups[n].size() > 1) addRepeats(facts, i, groups[n], f);
      findings.push_back(std::move(f));
    }
  }
}

std::string pieceSize(const Job& job, const Piece& piece) {
  return sizeText(job, piece.bounds.high - piece.bounds.low);
}

std::string tabsCounted(std::size_t tabs) {
  return tabs == 1 ? "one tab" : fmt::format("{} tabs", tabs);
}

std::string skinText(const Job& job, const Piece& piece) {
  for (const Tab& t : piece.tabs) {
    if (!t.onion_skin) continue;
    return fmt::format("an onion skin {} thick and {} long", quantityText(job, Quantity::length, t.thickness_mm),
                       longLengthText(job, t.length_mm));
  }
  return {};
}

std::string_view lastTabText(const Piece& was) {
  if (hasSkin(was)) return "onion skin";
  return was.tabs.size() > 1 || was.told_before ? "last tab" : "tab";
}

namespace {

// Of what is under the stock: what a cut through a piece's underside takes away.
std::string_view seatText(HoldDownKind kind) {
  if (kind == HoldDownKind::vacuum) return "the seal of the vacuum";
  return kind == HoldDownKind::glue ? "the glue" : "the tape";
}

bool heldByTapeAlone(const Job& job, const Piece& piece) {
  const std::vector<int>& by = piece.held_by_hold_downs;
  return piece.held_by_tape &&
         std::all_of(by.begin(), by.end(), [&](int h) { return isUnderStock(job.hold_downs[h].kind); });
}

}  // namespace

std::string lastHoldText(const Job& job, const Piece& piece) {
  const std::vector<int>& by = piece.held_by_hold_downs;
  if (heldByTapeAlone(job, piece))
    return std::string(seatText(by.empty() ? HoldDownKind::tape : job.hold_downs[by[0]].kind));
  if (piece.held_by_tape || by.size() != 1) return {};
  return fmt::format("the {} under {}", materialWord(job.stock), job.hold_downs[by.front()].name);
}

std::string_view materialWord(const Stock& stock) {
  if (!stock.material_given) return "material";
  const Material m = stock.material;
  const bool wood = m == Material::softwood || m == Material::hardwood || m == Material::plywood || m == Material::mdf;
  return wood ? "wood" : "material";
}

namespace {

// "on line 14", "on lines 14-44".
std::string onLines(const std::vector<Motion>& motions, std::uint32_t first, std::uint32_t last) {
  const std::uint32_t a = motions[first].line, b = motions[last].line;
  return a == b ? fmt::format("on line {}", a) : fmt::format("on lines {}-{}", a, b);
}

bool isLastCut(const ProgramRun& run, std::uint32_t move) {
  const auto cuts = [](const MoveCut& c) { return c.bite_mm > 0; };
  return move < run.cuts.size() && cuts(run.cuts[move]) &&
         std::none_of(run.cuts.begin() + move + 1, run.cuts.end(), cuts);
}

// The cuts at the piece while it is loose that count: into it, else beside it; of one program, the first that makes
// any.
struct CutsAt {
  int run = 0;
  bool into = false;
  std::uint32_t first = 0, last = 0;
  double force_n = 0;  // the maximum; 0: not known
};

std::optional<CutsAt> cutsAt(const Facts& facts, const Piece& piece) {
  std::optional<CutsAt> found;
  for (const CutAtLoose& c : piece.cut_loose) {
    if (c.by.move >= facts.programs[c.by.run].program.motions.size()) continue;
    const bool counts_more = !found || (c.into && !found->into) || (c.into == found->into && c.by.run < found->run);
    if (counts_more) found = CutsAt{c.by.run, c.into, c.by.move, c.by.move, 0};
    if (c.into != found->into || c.by.run != found->run) continue;
    found->first = std::min(found->first, c.by.move);
    found->last = std::max(found->last, c.by.move);
    const std::vector<MoveLoad>& loads = facts.run.programs[c.by.run].loads;
    if (c.by.move < loads.size()) found->force_n = std::max(found->force_n, double{loads[c.by.move].force_n});
  }
  return found;
}

// What the bit does to the loose piece next; `loosened_by`: the move that the finding is about, if any.
void addWhatFollows(const Facts& facts, const Piece& piece, std::optional<std::uint32_t> loosened_by, Finding& f) {
  const auto cuts = cutsAt(facts, piece);
  if (!cuts) {
    if (loosened_by && isLastCut(facts.run.programs[f.program_order], *loosened_by))
      f.message += "; this is the program's last cut";
    return;
  }
  const ProgramFacts& p = facts.programs[cuts->run];
  const std::vector<Motion>& motions = p.program.motions;
  f.message += fmt::format("; {} then cuts {} it {}", cuts->run == f.program_order ? "the bit" : p.entry->file,
                           cuts->into ? "into" : "beside", onLines(motions, cuts->first, cuts->last));
  if (cuts->into && cuts->force_n > 0)
    f.message += fmt::format(" and pushes it with up to {}", tabForceText(cuts->force_n));
  f.related.push_back(
      {p.entry->file, shownPlace(p, placeOf(motions[cuts->first])),
       fmt::format("the bit cuts {} the loose {} here", cuts->into ? "into" : "beside", pieceWord(piece))});
}

// The piece is loose as the program begins, because what held it is listed no longer.
void wordReleased(const Facts& facts, std::string_view what, const Piece& piece, Finding& f) {
  std::vector<std::string> names;
  for (const int h : piece.held_before) names.push_back(facts.job.hold_downs[h].name);
  const std::string held = listText(names);
  f.message = fmt::format("{} {} is loose when this program starts: {} held it before",
                          withArticle(pieceSize(facts.job, piece)), what, held);
  f.help = fmt::format("Keep {} in this program's `hold_downs`, or take the {} out before this program.", held, what);
  if (f.program_order >= 0) {
    relateToJob(facts, f, facts.programs[f.program_order].entry->place, "the program is listed here");
  }
  addWhatFollows(facts, piece, {}, f);
}

// A piece that was held when it was parted, at the move that took the last hold away.
void addLoosened(const Facts& facts, const Rule& rule, std::string_view what, const Piece& piece,
                 std::vector<Finding>& findings) {
  const MoveRef by = *piece.loosened_by;
  const std::vector<Motion>& motions = facts.programs[by.run].program.motions;
  if (by.move >= motions.size()) return;
  Finding f = placeFinding(facts, by.run, rule, placeOf(motions[by.move]));
  f.moves = 1;
  f.at = piece.at;
  f.amount = piece.plan_area_mm2;
  f.unit = unitOf(Quantity::area);
  const std::string size = withArticle(pieceSize(facts.job, piece));
  const std::string hold = lastHoldText(facts.job, piece);
  if (heldByTapeAlone(facts.job, piece)) {
    f.message = fmt::format("this move mills away {} under {} {}; nothing holds it now", hold, size, what);
    f.help = fmt::format("Stop above {} here{}", hold,
                         isOffcut(piece) ? "." : ", or fit a clamp or screw on the part as well.");
  } else {
    const std::string_view material = materialWord(facts.job.stock);
    f.message = hold.empty() ? fmt::format("this move mills away the last {} that held {} {}; nothing holds it now",
                                           material, size, what)
                             : fmt::format("this move mills away {} on {} {}; nothing holds it now", hold, size, what);
    f.help = fmt::format("Leave the {} under its hold-down, or hold the {} in a second place too.", material, what);
  }
  addWhatFollows(facts, piece, by.move, f);
  findings.push_back(std::move(f));
}

// "nothing holds it"
std::string holdText(const Job& job, const Piece& piece) {
  if (piece.little_tape_mm2 <= 0) return "nothing holds it";
  return fmt::format("only {} of {} holds it", quantityText(job, Quantity::area, piece.little_tape_mm2),
                     heldUnderBy(job));
}

// It was told on its tabs before: those may stay.
void wordTabsCut(const Facts& facts, std::string_view what, const Piece& piece, const Piece& was, Finding& f) {
  f.message = fmt::format("this move cuts the {} of {} {}; nothing holds it now", lastTabText(was),
                          withArticle(pieceSize(facts.job, piece)), what);
  f.help = fmt::format("{}. Or hold the {} with {} before this program.",
                       hasSkin(was)           ? "Leave the skin and cut it after the job"
                       : was.tabs.size() == 1 ? "Leave this tab and saw it after the job"
                                              : "Leave these tabs and saw them after the job",
                       what, isOffcut(piece) ? "tape" : "tape, a clamp or a screw");
}

// Two openings of one size, cut in one way, leave one waste twice.
bool sameLoose(const Facts& facts, const Piece& a, const Piece& b) {
  constexpr double same_mm = 0.3;  // our estimate: the raster's rounding
  const auto told = [](const Piece& p) { return !p.held_before.empty() || p.told_before; };
  if (told(a) || told(b) || a.milled != b.milled || a.frame != b.frame) return false;
  const auto follows_a = cutsAt(facts, a), follows_b = cutsAt(facts, b);
  if (follows_a.has_value() != follows_b.has_value() || (follows_a && follows_a->into != follows_b->into)) return false;
  const Vec3 size_a = a.bounds.high - a.bounds.low, size_b = b.bounds.high - b.bounds.low;
  const auto same = [](double x, double y) { return std::abs(x - y) <= same_mm; };
  const bool as_it_lies = same(size_a.x, size_b.x) && same(size_a.y, size_b.y),
             turned = same(size_a.x, size_b.y) && same(size_a.y, size_b.x);
  return (as_it_lies || turned) && same(size_a.z, size_b.z) &&
         std::abs(a.plan_area_mm2 - b.plan_area_mm2) <= same_mm * (size_a.x + size_a.y);
}

void wordLoose(const Facts& facts, std::string_view what, const std::function<std::string(const Piece&)>& help,
               const Piece& piece, Finding& f) {
  f.amount = piece.plan_area_mm2;
  f.unit = unitOf(Quantity::area);
  if (!piece.held_before.empty()) {
    wordReleased(facts, what, piece, f);
    return;
  }
  if (piece.frame) {
    f.message = fmt::format("the frame of waste round the part comes loose; {}", holdText(facts.job, piece));
    f.help = "Screw or tape the frame down before you start the program.";
  } else if (const auto was = piece.told_before) {
    wordTabsCut(facts, what, piece, facts.run.programs[was->run].pieces[was->piece], f);
  } else {
    f.message = fmt::format("this move cuts {} {} loose; {}", withArticle(pieceSize(facts.job, piece)), what,
                            holdText(facts.job, piece));
    f.help = help(piece);
  }
  addWhatFollows(facts, piece, piece.move, f);
}

}  // namespace

void addLoosePieces(const Facts& facts, const Rule& rule, std::string_view what,
                    const std::function<bool(const Piece&)>& concerns,
                    const std::function<std::string(const Piece&)>& help, std::vector<Finding>& findings) {
  const PieceRule pieces{
      [&](const Piece& p) { return p.free && !p.of_loose && concerns(p); },
      [&](const Piece& a, const Piece& b) { return sameLoose(facts, a, b); },
      [&](const std::vector<const Piece*>& alike, Finding& f) { wordLoose(facts, what, help, *alike.front(), f); }};
  addPieceFindings(facts, rule, pieces, findings);
  for (const ProgramRun& run : facts.run.programs) {
    for (const Piece& p : run.pieces) {
      if (p.loosened_by && !p.free && concerns(p)) addLoosened(facts, rule, what, p, findings);
    }
  }
}

std::string heldUnderBy(const Job& job) {
  for (const HoldDownKind kind : {HoldDownKind::tape, HoldDownKind::glue, HoldDownKind::vacuum}) {
    if (std::any_of(job.hold_downs.begin(), job.hold_downs.end(), [&](const HoldDown& h) { return h.kind == kind; }))
      return std::string(wordOf(kind));
  }
  return "tape";
}

}  // namespace provecut
