#include "report/formats/text/place_text.h"

#include <algorithm>
#include <cmath>
#include <ostream>

#include "report/base/dimension_text.h"
#include "report/base/number_text.h"
#include "report/base/visible_text.h"
#include "report/base/wording.h"
#include "report/facts/setup_words.h"
#include "report/facts/shown_names.h"
#include "report/formats/base/table.h"
#include "report/formats/text/turned_over.h"
#include "sim/path/setup_frame.h"

namespace provecut {

namespace {

constexpr int forms_beside = 8, programs_beside = 9;  // columns of a table

std::string lengthText(const Job& job, double mm) {
  return quantityText(job, Quantity::length, mm);
}

const Setup& setupOf(const Facts& facts, int program) {
  return *facts.programs[program].setup;
}

void writeSection(const std::string& heading, bool colour, std::ostream& out) {
  out << '\n';
  writeHeading(heading, colour, out);
}

// The programs of one setup: [begin, end).
struct SetupPrograms {
  const Setup* setup = nullptr;
  int begin = 0, end = 0;
};

std::vector<SetupPrograms> bySetup(const Facts& facts) {
  std::vector<SetupPrograms> all;
  for (int p = 0; p < std::ssize(facts.programs); ++p) {
    const Setup* setup = facts.programs[p].setup;
    if (all.empty() || all.back().setup != setup) all.push_back({setup, p, p});
    all.back().end = p + 1;
  }
  return all;
}

void writeTop(const Places& places, bool colour, std::ostream& out) {
  const Job& job = places.facts->job;
  writeHeading(
      job.name.empty() ? std::string("Where hold-downs can go") : visibleText(job.name) + ": where hold-downs can go",
      colour, out);
  writeWrapped("Kept clear of every part of the tool by " + dimensionWithUnit(job, job.limits.clearance_mm) +
                   ". Positions are centres, from the stock's front left corner in that setup. " +
                   (places.not_checked.empty() ? "Every spot shown is clear."
                                               : "Not everything could be checked: see the end.") +
                   " Some free space within " + dimensionWithUnit(job, places.resolution_mm) +
                   " of an edge may not be shown.",
               2, out);
}

std::string formName(std::size_t form) {
  return "type " + std::string(1, "ABCDEFGHIJKLMNOPQRSTUVWXYZ"[form % 26]);
}

// Forms [first, end), a column each.
Table freeTable(const Places& places, std::size_t first, std::size_t end) {
  const Facts& facts = *places.facts;
  Table table;
  table.to_the_right = {true, false};
  table.rows.push_back({"#", "program"});
  for (std::size_t f = first; f < end; ++f) {
    table.to_the_right.push_back(true);
    table.rows[0].push_back(formName(f));
  }
  for (int p = 0; p < std::ssize(facts.programs); ++p) {
    std::vector<std::string> row{std::to_string(p + 1),
                                 visibleText(setupOf(facts, p).name) + ": " + shownFile(facts, p)};
    for (std::size_t f = first; f < end; ++f)
      row.push_back(shareText(places.free[p * places.forms.size() + f].stock_share));
    table.rows.push_back(std::move(row));
  }
  return table;
}

void writeFree(const Places& places, bool colour, std::ostream& out) {
  const Job& job = places.facts->job;
  writeSection("Free space, as a share of the stock", colour, out);
  for (std::size_t f = 0; f < places.forms.size(); f += forms_beside) {
    Table table = freeTable(places, f, std::min(places.forms.size(), f + forms_beside));
    fitToTerminal(table, 2);
    writeTable(table, colour, out);
  }
  for (std::size_t f = 0; f < places.forms.size(); ++f) {
    std::vector<std::string> names;
    for (const int h : places.forms[f].members) names.push_back(shownHoldDown(job, h));
    writeWrapped(
        formName(f) + ": " + formText(job, places.forms[f].shape) + (names.empty() ? "" : " (" + listText(names) + ")"),
        2, out);
  }
}

std::string spotsText(const Job& job, const std::vector<SetupPoint2>& spots) {
  std::string text;
  for (const SetupPoint2 p : spots) text += (text.empty() ? "" : "; ") + spotText(job, p);
  return text.empty() ? "none" : text;
}

void writeSpots(const Places& places, bool colour, std::ostream& out) {
  if (places.spots.empty()) return;
  const Facts& facts = *places.facts;
  writeSection("Free spots to choose from", colour, out);
  for (const SpotsFor& s : places.spots) {
    const bool one = s.programs.size() == 1;
    const std::string programs = one ? shownFile(facts, s.programs[0]) : std::string("all its programs");
    writeWrapped(shownSetup(facts.job, s.setup) + ", " + formName(static_cast<std::size_t>(s.form)) + ", " + programs +
                     ": " + spotsText(facts.job, s.at),
                 2, out);
  }
}

std::string wordOf(const Standing& s) {
  if (s.hit) return s.fitted ? "HIT" : "(hit)";
  if (!s.clear()) return s.fitted ? "CLOSE" : "(close)";
  return s.fitted ? "clear" : "(clear)";
}

// Programs [first, end) of one setup, a column each.
Table standingTable(const Places& places, int first, int end) {
  const Facts& facts = *places.facts;
  Table table;
  table.to_the_right = {false};
  table.rows.push_back({visibleText(setupOf(facts, first).name)});
  for (int p = first; p < end; ++p) {
    table.to_the_right.push_back(false);
    table.rows[0].push_back(std::to_string(p + 1));
  }
  for (std::size_t k = 0; k < places.standing[first].size(); ++k) {
    std::vector<std::string> row{shownHoldDown(facts.job, places.standing[first][k].hold_down)};
    for (int p = first; p < end; ++p) row.push_back(wordOf(places.standing[p][k]));
    table.rows.push_back(std::move(row));
  }
  return table;
}

void writeStanding(const Places& places, bool colour, std::ostream& out) {
  if (std::all_of(places.standing.begin(), places.standing.end(), [](const auto& s) { return s.empty(); })) return;
  writeSection("The job's hold-downs, by program number; in brackets: not fitted for that program", colour, out);
  for (const SetupPrograms& s : bySetup(*places.facts)) {
    for (int first = s.begin; first < s.end; first += programs_beside) {
      Table table = standingTable(places, first, std::min(s.end, first + programs_beside));
      if (table.rows.size() == 1) continue;
      fitToTerminal(table, 1);
      writeTable(table, colour, out);
    }
  }
}

void writeNearest(const Places& places, bool colour, std::ostream& out) {
  if (places.nearest.empty()) return;
  const Job& job = places.facts->job;
  writeSection("Nearest free spots for hold-downs that are hit or too close, clear for all their programs", colour,
               out);
  writeWrapped(
      "A spot for a screw is outside all parts. It is as far from the stock's edges as the check asks for, or as far "
      "as the screw is now if that is less.",
      2, out);
  for (const NearestPlace& n : places.nearest) {
    const SetupPoint2 from = job.hold_downs[n.hold_down].at_mm;
    std::string text = shownHoldDown(job, n.hold_down) + " in " + shownSetup(job, n.setup) + ": ";
    text +=
        n.at ? "from " + placeText(job, from) + " to " + spotText(job, *n.at) + ", " +
                   lengthText(job, length(*n.at - from)) + " away"
             : "no spot within " + dimensionWithUnit(job, 150) + " is clear for all its programs; see the steps below";
    writeWrapped(text, 2, out);
  }
}

std::string stepText(const Job& job, const Step& s) {
  const std::string name = shownHoldDown(job, s.hold_down);
  switch (s.kind) {
    case Step::Kind::fit:
      return name + " at " + (s.as_listed ? placeText(job, s.at) : spotText(job, s.at)) +
             (s.as_listed ? "" : " (not where the job file has it)");
    case Step::Kind::move:
      return name + " to " + spotText(job, s.at);
    case Step::Kind::remove:
    case Step::Kind::leave_out:
      return name + (s.as_listed ? "" : " (no spot is free for this program)");
  }
  return {};
}

// Those of `steps` that `wanted` names, as one list; empty for none.
template <class Wanted>
std::string stepList(const Job& job, const std::vector<Step>& steps, Wanted wanted) {
  std::vector<std::string> of;
  for (const Step& s : steps) {
    if (wanted(s)) of.push_back(stepText(job, s));
  }
  return listText(of);
}

// "flip the stock left to right onto them", "place the stock face up": `before` is none for the job's first setup.
std::string placeStockText(const Setup& setup, const Setup* before, bool on_pins) {
  const std::string_view turned = before == nullptr ? std::string_view() : turnedOver(*before, setup);
  if (!turned.empty()) return "flip the stock " + std::string(turned) + (on_pins ? " onto them" : "");
  return "place the stock" + std::string(on_pins ? " on them, " : " ") + stockWords(setup);
}

// Before the first program of a setup, in the order in which it can be done: pins and tape are under the stock.
std::vector<std::string> placingText(const Facts& facts, int program, const std::vector<Step>& steps) {
  const Job& job = facts.job;
  const Setup& setup = setupOf(facts, program);
  const Setup* before = program > 0 ? &setupOf(facts, program - 1) : nullptr;
  const auto fitted = [&](HoldDownKind kind) {
    return stepList(job, steps, [&](const Step& s) {
      return s.kind == Step::Kind::fit && job.hold_downs[s.hold_down].kind == kind;
    });
  };
  const std::string pins = fitted(HoldDownKind::pin), tape = fitted(HoldDownKind::tape);
  std::vector<std::string> text;
  if (before != nullptr && !facts.programs[program - 1].entry->hold_downs.empty())
    text.emplace_back("remove all hold-downs");
  if (!pins.empty()) text.push_back("put " + pins + " into the spoilboard");
  if (!tape.empty()) text.push_back("stick down " + tape);
  if (before != nullptr || !pins.empty() || !tape.empty() || setup.flip != Flip::none || setup.rotate_deg != 0)
    text.push_back(placeStockText(setup, before, !pins.empty()));
  return text;
}

// All that is done before one program, in order.
std::string stepsText(const Facts& facts, int program, const std::vector<Step>& steps) {
  const Job& job = facts.job;
  const bool first_of_setup = program == 0 || &setupOf(facts, program) != &setupOf(facts, program - 1);
  std::vector<std::string> text;
  if (first_of_setup) text = placingText(facts, program, steps);
  for (const auto& [kind, verb] :
       {std::pair(Step::Kind::fit, "fit "), std::pair(Step::Kind::move, "move "),
        std::pair(Step::Kind::remove, "remove "), std::pair(Step::Kind::leave_out, "do not fit ")}) {
    const std::string list = stepList(job, steps, [&, kind = kind](const Step& s) {
      const HoldDownKind of = job.hold_downs[s.hold_down].kind;
      const bool placed = first_of_setup && (of == HoldDownKind::pin || of == HoldDownKind::tape);
      return s.kind == kind && !(kind == Step::Kind::fit && placed);
    });
    if (!list.empty()) text.push_back(verb + list);
  }
  std::string joined;
  for (const std::string& t : text) joined += (joined.empty() ? "" : "; ") + t;
  return joined.empty() ? "no change" : joined;
}

// Where the plan has nothing that holds the stock.
void writeHeldOtherwise(const Places& places, std::ostream& out) {
  const Facts& facts = *places.facts;
  for (const HeldOtherwise& h : places.held_otherwise) {
    writeWrapped(shownFile(facts, h.program) + ": " + heldOtherwiseText(facts.job, h), 2, out);
  }
}

void writeSteps(const Places& places, bool colour, std::ostream& out) {
  const Facts& facts = *places.facts;
  writeSection("Before each program, with the fewest moves", colour, out);
  std::size_t changes = 0;
  for (const SetupPrograms& setup : bySetup(facts)) {
    writeWrapped(visibleText(setup.setup->name), 2, out);
    for (int p = setup.begin; p < setup.end; ++p) {
      for (const Step& s : places.steps[p]) changes += !s.as_listed;
      writeWrapped(shownFile(facts, p) + ": " + stepsText(facts, p, places.steps[p]), 4, out);
    }
  }
  writeHeldOtherwise(places, out);
  writeWrapped(changes == 0 ? "This is what the job file says."
                            : plural(changes, "step differs", "steps differ") + " from the job file.",
               2, out);
}

std::string oldHoleText(const Job& job, const holes::OldHole& hole, const Setup& setup) {
  const SetupPoint2 here = holes::placeIn(job, hole, setup);
  return visibleText(setupText(setup)) + ": the hole that " + shownHoldDown(job, hole.hold_down) + " left in " +
         visibleText(setupText(job.setups[hole.setup])) + " is at " + placeText(job, here) + " (" +
         placeText(job, setupToWork(setup, here)) + " in work coordinates)" +
         (hole.diameter_mm > 0 ? ", " + dimensionWithUnit(job, hole.diameter_mm) + " wide"
                               : ", width unknown: no shaft_diameter");
}

void writeOldHoles(const Places& places, bool colour, std::ostream& out) {
  std::vector<std::string> lines;
  for (const SetupPrograms& s : bySetup(*places.facts)) {
    for (const holes::OldHole& hole : places.old_holes) {
      if (hole.left_by < s.begin) lines.push_back(oldHoleText(places.facts->job, hole, *s.setup));
    }
  }
  if (lines.empty()) return;
  writeSection("Old screw holes after the flip, as the job file has the screws", colour, out);
  for (const std::string& line : lines) writeWrapped(line, 2, out);
}

// The stock's own frame, by the name of a setup that has it.
std::string stockFrame(const Job& job) {
  for (const Setup& s : job.setups) {
    if (s.flip == Flip::none && s.rotate_deg == 0) return "in " + visibleText(setupText(s));
  }
  return "on the stock as the job file describes it";
}

std::string pinText(const Job& job, const PinFit& fit, const Setup& setup) {
  const HoldDown& pin = job.hold_downs[fit.hold_down];
  const std::string text = visibleText(setupText(setup)) + ": " + visibleText(pin.name) + " at " +
                           placeText(job, pin.at_mm) + " needs a hole at " +
                           placeText(job, setupToStock(job.stock, setup, pin.at_mm)) + " " + stockFrame(job) + ". ";
  if (!(fit.wall_mm > 0)) return text + "No program bores a hole there.";
  const double play = std::min(fit.along_mm, fit.across_mm) - pin.diameter_mm;
  return text + (play > 0 ? "That hole is " + lengthText(job, play) + " wider than the pin."
                          : std::string("That hole is too narrow for the pin."));
}

void writePins(const Facts& facts, bool colour, std::ostream& out) {
  if (facts.run.pin_fits.empty()) return;
  writeSection("Pins and their holes", colour, out);
  for (const PinFit& fit : facts.run.pin_fits)
    writeWrapped(pinText(facts.job, fit, setupOf(facts, fit.program)), 2, out);
}

void writeNotes(const Places& places, bool colour, std::ostream& out) {
  const Facts& facts = *places.facts;
  if (!places.in_parts.empty() || !places.findings.empty() || !places.not_checked.empty())
    writeSection("Also", colour, out);
  for (const InPart& i : places.in_parts) {
    writeWrapped("note: " + shownHoldDown(facts.job, i.hold_down) + " in " + shownSetup(facts.job, i.setup) +
                     " is inside an outline that " + shownFile(facts, i.program) +
                     " cuts, so its hole ends up in a part or an offcut",
                 2, out);
  }
  for (const Finding& f : places.findings) {
    writeWrapped(std::string(levelName(f.level)) + ": " + visibleText(f.message) + " [" + f.rule + "]", 2, out);
    writeWrapped("do: " + visibleText(f.help), 4, out);
  }
  for (const std::string& n : places.not_checked) writeWrapped("not checked: " + visibleText(n), 2, out);
}

}  // namespace

void writePlaceText(const Places& places, bool colour, std::ostream& out) {
  writeTop(places, colour, out);
  writeFree(places, colour, out);
  writeSpots(places, colour, out);
  writeStanding(places, colour, out);
  writeNearest(places, colour, out);
  writeSteps(places, colour, out);
  writeOldHoles(places, colour, out);
  writePins(*places.facts, colour, out);
  writeNotes(places, colour, out);
}

}  // namespace provecut
