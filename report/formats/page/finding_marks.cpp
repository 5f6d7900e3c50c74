#include "report/formats/page/finding_marks.h"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <optional>

#include "report/base/visible_text.h"
#include "report/base/wording.h"

namespace provecut {

namespace {

struct Phrase {
  std::string_view rule;
  std::string_view with_number;  // {} is the number, {s} the finding's subject, {part} the part of the tool at fault
  std::string_view without;
};

// By rule. Where the amount says nothing beside the place, there is no phrase with a number.
constexpr Phrase phrases[] = {
    {"chip-load", "chips {} thick", "chips too thick"},
    {"chip-thin", "rubs: {} per tooth", "rubs"},
    {"cut-at-plunge-feed", "cuts at only {}", "cuts at plunge feed"},
    {"cutter-deflection", "bit bends {}", "bit bends"},
    {"drill-sideways", "drill goes sideways, {} deep", "drill goes sideways"},
    {"dwell-in-cut", "dwells {} in the cut", "dwells in the cut"},
    {"feed-over", "feed {}", "feed too high"},
    {"first-pass-shallow", "first pass {} deep", "shallow first pass"},
    {"flute-too-short", "shank {} into the stock", "shank into the stock"},
    {"pass-too-deep", "{} in one pass", "pass too deep"},
    {"plunge-fast", "plunges at {}", "plunges too fast"},
    {"plunge-not-center", "plunges {}: not centre-cutting", "plunges: not centre-cutting"},
    {"power", "needs {}", "needs too much power"},
    {"shank-grip", "only {} of shank held", "too little shank held"},
    {"spindle-off", "cuts {} after spindle start", "cuts with the spindle off"},
    {"spindle-range", "{} out of range", "speed out of range"},
    {"tool-overspeed", "{} too fast for the bit", "too fast for the bit"},
    {"undercut-lift", "bit tears through {}", "bit tears out"},
    {"hold-down-close", "{part} only {} from {s}", "{part} too close to {s}"},
    {"hold-down-hit", "{part} {} into {s}", "{part} hits {s}"},
    {"hole-in-path", "", "cuts over the hole of {s}"},
    {"pin-blocked", "{s} blocked by {}", "{s} blocked"},
    {"pin-loose", "{s} has {} play", "{s} is loose"},
    {"pins-shifted", "stock {} off", "stock off its place"},
    {"screw-in-pocket", "only {} under {s}", "too little under {s}"},
    {"screw-near-edge", "{s} {} from the edge", "{s} near the edge"},
    {"screw-too-long", "{s} {} into the bed", "{s} into the bed"},
    {"screw-too-short", "{s} grips only {}", "{s} grips too little"},
    {"stock-unheld", "", "nothing holds the stock"},
    {"air-cut", "", "cuts air"},
    {"bed-hit", "{} into the bed", "into the bed"},
    {"cut-outside-stock", "{} beside the stock", "cuts beside the stock"},
    {"cuts-nothing", "", "cuts nothing"},
    {"end-state", "ends {} below the top", "ends in a risky state"},
    {"first-move", "", "first move is sideways"},
    {"low-rapid", "rapid only {} clear", "rapid too low"},
    {"nut-hit", "{part} {} into the stock", "{part} into the stock"},
    {"rapid-dogleg", "rapid bends {} off the line", "rapid bends off the line"},
    {"rapid-in-stock", "rapid {} into the stock", "rapid into the stock"},
    {"spoilboard-cut", "{} into the spoilboard", "into the spoilboard"},
    {"start-state", "", "relies on the state it finds"},
    {"tool-change-low", "change {} too low", "tool change too low"},
    {"tool-change-unstopped", "", "no stop for the tool change"},
    {"travel-exceeded", "{} beyond the travel", "beyond the travel"},
    {"cut-in-tabbed-part", "", "cuts in a tabbed part"},
    {"floor-thin", "floor {} thick", "thin floor"},
    {"holes-miss", "holes miss by {}", "holes miss"},
    {"not-through", "{} left uncut", "not cut through"},
    {"offcut-free", "", "offcut comes loose"},
    {"part-attached", "only {} cut through", "part still attached"},
    {"part-free", "", "part comes loose"},
    {"sliver-standing", "sliver {} thick", "sliver left standing"},
    {"tab-margin-low", "", "weak tab"},
    {"tabs-overloaded", "", "tabs may break"},
    {"tabs-weak", "weakest tab {}", "weak tabs"},
    {"thickness-as-sold", "", "sheet may be thicker"},
    {"thin-stock-lift", "held only {} away", "stock may lift"},
    {"unwanted-through", "{} hole in the stock", "hole in the stock"},
    {"feed-before-unit", "", "feed read in the old unit"},
    {"feed-missing", "", "no feed rate set"},
    {"not-accepted", "", "{s} not accepted"},
    {"tool-differs", "", "comment names another tool"},
    {"tool-unknown", "", "{s} not in the job file"},
    {"units-doubt", "", "wrong units?"},
};

std::string replaced(std::string text, std::string_view what, std::string_view by) {
  const std::size_t at = text.find(what);
  return at == std::string::npos ? text : text.replace(at, what.size(), by);
}

// Whether `number` stands in `text` as a number of its own, not as the end or the beginning of a longer one.
bool standsIn(const std::string& text, const std::string& number) {
  const auto goesOn = [&](std::size_t at) {
    return at < text.size() && ((text[at] >= '0' && text[at] <= '9') || text[at] == '.');
  };
  for (std::size_t at = text.find(number); at != std::string::npos; at = text.find(number, at + 1)) {
    if ((at == 0 || !goesOn(at - 1)) && !goesOn(at + number.size())) return true;
  }
  return false;
}

// What the amount's unit is shown as, and how it comes from the amount itself.
struct ShownUnit {
  std::string_view unit, shown;
  double factor;
};

std::optional<ShownUnit> shownUnit(const Job& job, std::string_view unit) {
  constexpr double in_per_mm = 1 / 25.4;
  constexpr ShownUnit metric[] = {{"mm", "mm", 1},   {"mm2", "mm²", 1}, {"mm/min", "mm/min", 1},
                                  {"rpm", "rpm", 1}, {"W", "W", 1},     {"s", "s", 1}};
  constexpr ShownUnit inch[] = {{"mm", "in", in_per_mm},
                                {"mm2", "in²", in_per_mm * in_per_mm},
                                {"mm/min", "in/min", in_per_mm},
                                {"rpm", "rpm", 1},
                                {"W", "W", 1},
                                {"s", "s", 1}};
  for (const ShownUnit& u : job.inches ? inch : metric) {
    if (u.unit == unit) return u;
  }
  return std::nullopt;
}

// The amount as the message writes it, with as many decimals as stand there.
std::optional<std::string> amountAsTold(const Job& job, const Finding& f) {
  const std::optional<ShownUnit> unit = f.amount ? shownUnit(job, f.unit) : std::nullopt;
  if (!unit) return std::nullopt;
  for (int decimals = 4; decimals >= 0; --decimals) {
    const std::string number = fixedText(*f.amount * unit->factor, decimals);
    if (standsIn(f.message, number)) return number + " " + std::string(unit->shown);
  }
  return std::nullopt;
}

template <class Items, class IsOfFinding>
std::optional<FaultyPart> partOf(const Items& items, IsOfFinding ofFinding) {
  const auto found = std::find_if(items.begin(), items.end(), ofFinding);
  if (found == items.end()) return std::nullopt;
  return FaultyPart{found->part, found->attachment};
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
  const auto onItsLine = [&](std::uint32_t move) {
    return facts.programs[i].program.motions[move].line == finding.place.line;
  };
  const auto ofItsHoldDown = [&](const auto& c) {
    return onItsLine(c.move) && facts.job.hold_downs[c.hold_down].name == finding.subject;
  };
  if (finding.rule == "hold-down-hit") return partOf(run.contacts, ofItsHoldDown).value_or(FaultyPart{});
  if (finding.rule == "hold-down-close") return partOf(run.near_passes, ofItsHoldDown).value_or(FaultyPart{});
  if (finding.rule == "flute-too-short") return {ToolPart::shank, -1};
  if (finding.rule == "nut-hit") {
    return partOf(run.bodies_in_stock,
                  [&](const BodyInStock& b) { return b.part != ToolPart::shank && onItsLine(b.move); })
        .value_or(FaultyPart{ToolPart::collet_nut, -1});
  }
  return {};
}

std::string markLabel(const Facts& facts, const Finding& finding) {
  const auto phrase =
      std::find_if(std::begin(phrases), std::end(phrases), [&](const Phrase& p) { return p.rule == finding.rule; });
  // What the reader of the program did not understand is best seen in the line itself.
  if (phrase == std::end(phrases)) return "see line " + std::to_string(finding.place.line);
  const std::optional<std::string> amount = amountAsTold(facts.job, finding);
  // Less than nothing is no distance any more: a rapid below the top, a hole past the edge.
  const bool numbered = amount && *finding.amount >= 0 && !phrase->with_number.empty();
  std::string label(numbered ? phrase->with_number : phrase->without);
  if (numbered) label = replaced(label, "{}", *amount);
  const FaultyPart fault = partAtFault(facts, finding);
  label = replaced(
      label, "{part}",
      fault.part == ToolPart::collet_nut ? "nut" : visibleText(partText(facts.job, fault.part, fault.attachment)));
  return replaced(label, "{s}", finding.subject);
}

}  // namespace provecut
