#include "report/formats/page/finding_marks.h"

#include <algorithm>
#include <iterator>
#include <limits>
#include <vector>

#include "report/base/visible_text.h"
#include "report/base/wording.h"

namespace provecut {

namespace {

struct Phrase {
  std::string_view rule;
  std::string_view with_number;  // {} is the amount, {s} the finding's subject, {part} the part of the tool at fault
  std::string_view without;
};

// By rule. {what} is the piece that comes loose. Where the amount says nothing beside the place, there is no phrase
// with a number.
constexpr Phrase phrases[] = {
    {"chip-load", "chips {} thick", "chips too thick"},
    {"chip-thin", "rubs: {} per tooth", "rubs"},
    {"cut-at-plunge-feed", "cuts at only {}", "cuts at plunge feed"},
    {"cutter-deflection", "bit bends {}", "bit bends"},
    {"drill-sideways", "drill goes sideways, {} deep", "drill goes sideways"},
    {"dwell-in-cut", "dwells {} in the cut", "dwells in the cut"},
    {"feed-over", "feed {}: too fast", "feed too fast"},
    {"feed-slip", "feed {}: a slip?", "feed: a slip?"},
    {"first-pass-shallow", "first pass {} deep", "shallow first pass"},
    {"flute-too-short", "flutes {} too short", "flutes too short"},
    {"pass-too-deep", "{} in one pass", "pass too deep"},
    {"finish-first", "{} in one pass: not roughed yet", "not roughed yet"},
    {"shank-brushes", "shank brushes {} of wall", "shank brushes the wall"},
    {"deep-hole", "{} deep in one stroke", "deep in one stroke"},
    {"plunge-fast", "plunges at {}", "plunges too fast"},
    {"plunge-not-center", "plunges {}: not centre-cutting", "plunges: not centre-cutting"},
    {"power", "needs {}", "needs too much power"},
    {"shank-grip", "only {} of shank held", "too little shank held"},
    {"spindle-off", "cuts {} after spindle start", "cuts with the spindle off"},
    {"spindle-range", "{} out of range", "speed out of range"},
    {"spindle-sync", "", "needs more than a router spindle"},
    {"tool-overspeed", "{}: too fast for the bit", "too fast for the bit"},
    {"undercut-lift", "bit tears through {}", "bit tears out"},
    {"hold-down-close", "{part} only {} from {s}", "{part} too close to {s}"},
    {"hold-down-hit", "{part} {} into {s}", "{part} hits {s}"},
    {"hole-in-path", "", "cuts over the hole of {s}"},
    {"pin-blocked", "{s} blocked by {}", "{s} blocked"},
    {"pin-loose", "{s} has {} play", "{s} is loose"},
    {"pins-shifted", "", "stock off its place"},
    {"screw-in-pocket", "only {} under {s}", "too little under {s}"},
    {"screw-near-edge", "{s} {}", "{s} near the edge"},
    {"screw-too-long", "{s} {} into the bed", "{s} into the bed"},
    {"screw-too-short", "{s}: only {} of grip", "{s}: too little grip"},
    {"stock-unheld", "", "nothing holds the stock"},
    {"tape-edge-cut", "into the tape's edge", "into the tape's edge"},
    {"air-cut", "", "cuts air"},
    {"bed-hit", "{} into the bed", "into the bed"},
    {"cut-outside-stock", "{} beside the stock", "cuts beside the stock"},
    {"cuts-nothing", "", "cuts nothing"},
    {"end-state", "ends {} below the top", "ends low or with the spindle on"},
    {"first-move", "", "first move is sideways"},
    {"low-rapid", "rapid only {} clear", "rapid too low"},
    {"nut-hit", "{part} {} into the stock", "{part} into the stock"},
    {"rapid-dogleg", "rapid bends {} off the line", "rapid bends off the line"},
    {"rapid-grazes", "rapid {} into the stock", "rapid brushes the stock"},
    {"rapid-to-surface", "rapid ends {} above the stock", "rapid ends on the stock"},
    {"rapid-in-stock", "rapid {} into the stock", "rapid into the stock"},
    {"spoilboard-cut", "{} into the spoilboard", "into the spoilboard"},
    {"start-state", "", "moves before its modes are set"},
    {"tool-change-low", "change {} too low", "tool change too low"},
    {"bit-sizes", "one bit for {} sizes", "one bit for several sizes"},
    {"setup-change", "", "another setup from here"},
    {"tool-change-unstopped", "", "no stop for the tool change"},
    {"travel-exceeded", "{} beyond the travel", "beyond the travel"},
    {"cut-in-tabbed-part", "", "cuts in a tabbed part"},
    {"floor-thin", "floor {} thick", "thin floor"},
    {"holes-miss", "holes do not meet: {}", "holes do not meet"},
    {"sides-break-through", "{} hole where both sides meet", "hole where both sides meet"},
    {"not-through", "{} left uncut", "not cut through"},
    {"through-cut-short", "{} left uncut", "not cut through"},
    {"held-by-one", "only {s} holds it", "one screw alone holds it"},
    {"offcut-free", "", "{what} comes loose"},
    {"part-attached", "only {} cut through", "part still attached"},
    {"part-free", "", "part comes loose"},
    {"sliver-standing", "sliver {} thick", "sliver left standing"},
    {"tab-margin-low", "", "weak tab"},
    {"tabs-overloaded", "", "tabs may break"},
    {"tabs-weak", "smallest tab {}", "weak tabs"},
    {"thickness-as-sold", "", "sheet may be thicker"},
    {"thin-stock-lift", "nearest hold-down {} away", "stock may lift"},
    {"unwanted-through", "{} hole in the stock", "hole in the stock"},
    {"feed-before-unit", "", "feed read in the old unit"},
    {"feed-missing", "", "no feed rate set"},
    {"not-accepted", "", "{s} not accepted"},
    {"tool-differs", "", "comment names another tool"},
    {"tool-not-called", "", "tool change missing"},
    {"tool-unknown", "", "{s} not in the job file"},
    {"units-doubt", "", "wrong units?"},
};

std::string replaced(std::string text, std::string_view what, std::string_view by) {
  const std::size_t at = text.find(what);
  return at == std::string::npos ? text : text.replace(at, what.size(), by);
}

// The part of the worst of what is the finding's own, as its message tells it; the first of equals.
template <class Items, class IsOfFinding, class Severity>
FaultyPart worstPart(const Items& items, IsOfFinding isOfFinding, Severity severity) {
  FaultyPart part;
  double worst = -std::numeric_limits<double>::infinity();
  for (const auto& item : items) {
    if (!isOfFinding(item) || severity(item) <= worst) continue;
    worst = severity(item);
    part = {item.part, item.attachment};
  }
  return part;
}

// What came loose by the finding's move.
std::string_view looseWord(const Facts& facts, const Finding& finding) {
  const int i = finding.program_order;
  if (i < 0 || i >= std::min(std::ssize(facts.programs), std::ssize(facts.run.programs))) return "offcut";
  const std::vector<Motion>& motions = facts.programs[i].program.motions;
  const std::vector<Piece>& pieces = facts.run.programs[i].pieces;
  const bool frame = std::any_of(pieces.begin(), pieces.end(), [&](const Piece& p) {
    return p.frame && p.move < motions.size() && motions[p.move].line == finding.place.line;
  });
  return frame ? "frame of waste" : "offcut";
}

}  // namespace

std::string_view partWord(ToolPart part) {
  switch (part) {
    case ToolPart::cutter:
      return "cutter";
    case ToolPart::shank:
      return "shank";
    case ToolPart::collet_nut:
      return "nut";
    case ToolPart::spindle:
      return "spindle";
    case ToolPart::attachment:
      return "spindle_attachment";
  }
  return {};
}

FaultyPart partAtFault(const Facts& facts, const Finding& finding) {
  const int i = finding.program_order;
  if (i < 0 || i >= std::min(std::ssize(facts.programs), std::ssize(facts.run.programs))) return {};
  const ProgramRun& run = facts.run.programs[i];
  const std::vector<Motion>& motions = facts.programs[i].program.motions;
  const auto ofItsHoldDown = [&](const auto& c) { return facts.job.hold_downs[c.hold_down].name == finding.subject; };
  if (finding.rule == "hold-down-hit")
    return worstPart(run.contacts, ofItsHoldDown, [](const Contact& c) { return c.overlap_mm; });
  if (finding.rule == "hold-down-close")
    return worstPart(run.near_passes, ofItsHoldDown, [](const NearPass& n) { return -n.clearance_mm; });
  if (finding.rule == "flute-too-short") return {ToolPart::shank, -1};
  if (finding.rule == "nut-hit") {
    const auto ofItsTool = [&](const BodyInStock& b) {
      return b.part != ToolPart::shank && toolText(facts.job, motions[b.move].tool) == finding.subject;
    };
    return worstPart(run.bodies_in_stock, ofItsTool, [](const BodyInStock& b) { return b.depth_mm; });
  }
  return {};
}

std::string markLabel(const Facts& facts, const Finding& finding) {
  const auto phrase =
      std::find_if(std::begin(phrases), std::end(phrases), [&](const Phrase& p) { return p.rule == finding.rule; });
  // What the reader of the program did not understand is best seen in the line itself.
  if (phrase == std::end(phrases)) return "see line " + std::to_string(finding.place.line);
  const bool numbered = !finding.amount_text.empty() && !phrase->with_number.empty();
  std::string label(numbered ? phrase->with_number : phrase->without);
  if (numbered) label = replaced(label, "{}", finding.amount_text);
  label = replaced(label, "{what}", looseWord(facts, finding));
  const FaultyPart fault = partAtFault(facts, finding);
  label = replaced(
      label, "{part}",
      fault.part == ToolPart::collet_nut ? "nut" : visibleText(partText(facts.job, fault.part, fault.attachment)));
  return replaced(label, "{s}", finding.subject);
}

}  // namespace provecut
