#include "report/formats/text/place_text.h"

#include <algorithm>
#include <cmath>
#include <ostream>

#include "report/base/dimension_text.h"
#include "report/base/number_text.h"
#include "report/base/visible_text.h"
#include "report/base/wording.h"
#include "report/formats/base/table.h"
#include "sim/path/setup_frame.h"

namespace provecut {

namespace {

struct Writer {
  const Places& places;
  const Facts& facts;
  const Job& job;
  bool colour;
  std::ostream& out;

  std::string length_(double mm) const { return quantityText(job, Quantity::length, mm); }
  std::string bare(double mm) const { return dimensionText(job, mm); }
  template <class Frame>
  std::string at(Point2<Frame> p) const {
    return placeText(job, p);
  }
  std::string at(const Step& s) const { return s.as_listed ? placeText(job, s.at) : spotText(job, s.at); }
  std::string nameOf(int hold_down) const {
    return visibleText(job.hold_downs[static_cast<std::size_t>(hold_down)].name);
  }
  std::string fileOf(int program) const {
    return visibleText(facts.programs[static_cast<std::size_t>(program)].entry->file);
  }
  std::string setupName(int setup) const { return visibleText(job.setups[static_cast<std::size_t>(setup)].name); }
  const Setup* setupOf(std::size_t program) const { return facts.programs[program].setup; }

  void heading(const std::string& text) const {
    out << '\n';
    writeHeading(text, colour, out);
  }

  // Calls each(setup, first program, one past the last) for every setup that has programs.
  template <class Each>
  void forEachSetup(const Each& each) const {
    for (std::size_t p = 0; p < facts.programs.size();) {
      std::size_t end = p;
      while (end < facts.programs.size() && setupOf(end) == setupOf(p)) ++end;
      each(*setupOf(p), p, end);
      p = end;
    }
  }

  void top() const {
    writeHeading(
        job.name.empty() ? std::string("Where hold-downs can go") : visibleText(job.name) + ": where hold-downs can go",
        colour, out);
    writeWrapped("Clearance to every part of the tool: " + dimensionWithUnit(job, job.limits.clearance_mm) +
                     ". Positions are centres, measured from the stock's front left corner in this setup. Every spot "
                     "shown is clear; free space within " +
                     dimensionWithUnit(job, places.resolution_mm) + " of its edge may be missed.",
                 2, out);
  }

  void freeTable(std::size_t first_form, std::size_t end_form) const {
    Table table;
    table.to_the_right = {true, false};
    table.rows.push_back({"#", "program"});
    for (std::size_t f = first_form; f < end_form; ++f) {
      table.to_the_right.push_back(true);
      table.rows[0].push_back("form " + std::string(1, static_cast<char>('A' + static_cast<int>(f % 26))));
    }
    for (std::size_t p = 0; p < facts.programs.size(); ++p) {
      std::vector<std::string> row{std::to_string(p + 1),
                                   visibleText(setupOf(p)->name) + ": " + fileOf(static_cast<int>(p))};
      for (std::size_t f = first_form; f < end_form; ++f)
        row.push_back(shareText(places.free[p * places.forms.size() + f].stock_share));
      table.rows.push_back(std::move(row));
    }
    fitToTerminal(table, 2);
    writeTable(table, colour, out);
  }

  void free() const {
    heading("Free space, as a share of the stock");
    constexpr std::size_t forms_beside = 8;
    for (std::size_t f = 0; f < places.forms.size(); f += forms_beside)
      freeTable(f, std::min(places.forms.size(), f + forms_beside));
    for (std::size_t f = 0; f < places.forms.size(); ++f) {
      std::vector<std::string> names;
      for (const int h : places.forms[f].members) names.push_back(nameOf(h));
      writeWrapped("form " + std::string(1, static_cast<char>('A' + static_cast<int>(f % 26))) + ": " +
                       formText(job, places.forms[f].shape) + (names.empty() ? "" : " (" + listText(names) + ")"),
                   2, out);
    }
  }

  static std::string wordOf(const Standing& s) {
    if (s.hit) return s.stands ? "HIT" : "(hit)";
    if (!s.clear()) return s.stands ? "NEAR" : "(near)";
    return s.stands ? "clear" : "(clear)";
  }

  void standing() const {
    if (std::all_of(places.standing.begin(), places.standing.end(), [](const auto& s) { return s.empty(); })) return;
    heading("The job's hold-downs, by program number; in brackets: not fitted for that program");
    constexpr std::size_t max_columns = 9;
    forEachSetup([&](const Setup& setup, std::size_t begin, std::size_t end) {
      for (std::size_t first = begin; first < end; first += max_columns) {
        const std::size_t last = std::min(end, first + max_columns);
        Table table;
        table.to_the_right = {false};
        table.rows.push_back({visibleText(setup.name)});
        for (std::size_t p = first; p < last; ++p) {
          table.to_the_right.push_back(false);
          table.rows[0].push_back(std::to_string(p + 1));
        }
        for (std::size_t k = 0; k < places.standing[first].size(); ++k) {
          std::vector<std::string> row{nameOf(places.standing[first][k].hold_down)};
          for (std::size_t p = first; p < last; ++p) row.push_back(wordOf(places.standing[p][k]));
          table.rows.push_back(std::move(row));
        }
        if (table.rows.size() == 1) continue;
        fitToTerminal(table, 1);
        writeTable(table, colour, out);
      }
    });
  }

  void nearest() const {
    if (places.nearest.empty()) return;
    heading("Nearest free spots for what is hit or too near, clear for all programs it is fitted for");
    for (const NearestPlace& n : places.nearest) {
      const HoldDown& h = job.hold_downs[static_cast<std::size_t>(n.hold_down)];
      std::string text = nameOf(n.hold_down) + " in " + setupName(n.setup) + ": ";
      text += n.at ? "from " + at(h.at_mm) + " to " + spotText(job, *n.at) + ", " + length_(length(*n.at - h.at_mm)) +
                         " away"
                   : "no spot within " + dimensionWithUnit(job, 150) + " is clear for all of them; see the plan";
      writeWrapped(text, 2, out);
    }
  }

  std::string stepText(const Step& s) const {
    switch (s.kind) {
      case Step::Kind::fit:
        return nameOf(s.hold_down) + " at " + at(s) + (s.as_listed ? "" : " (not where the job file has it)");
      case Step::Kind::move:
        return nameOf(s.hold_down) + " to " + at(s);
      case Step::Kind::remove:
        return nameOf(s.hold_down);
      case Step::Kind::leave_out:
        return nameOf(s.hold_down) + " (no spot is free for this program)";
    }
    return {};
  }

  void steps() const {
    heading("Before each program, with the fewest moves");
    int changes = 0;
    forEachSetup([&](const Setup& setup, std::size_t begin, std::size_t end) {
      writeWrapped(visibleText(setup.name), 2, out);
      for (std::size_t p = begin; p < end; ++p) {
        std::string text;
        for (const auto& [kind, verb] :
             {std::pair(Step::Kind::fit, "fit "), std::pair(Step::Kind::move, "move "),
              std::pair(Step::Kind::remove, "remove "), std::pair(Step::Kind::leave_out, "leave out ")}) {
          std::vector<std::string> of;
          for (const Step& s : places.steps[p]) {
            if (s.kind != kind) continue;
            of.push_back(stepText(s));
            changes += !s.as_listed;
          }
          if (!of.empty()) text += (text.empty() ? "" : "; then ") + std::string(verb) + listText(of);
        }
        writeWrapped(fileOf(static_cast<int>(p)) + ": " + (text.empty() ? "no change" : text), 4, out);
      }
    });
    writeWrapped(changes == 0 ? "This is what the job file says."
                              : plural(static_cast<std::size_t>(changes), "step differs", "steps differ") +
                                    " from the job file.",
                 2, out);
  }

  void holes() const {
    std::vector<std::string> lines;
    for (std::size_t p = 0; p < facts.programs.size(); ++p) {
      if (p > 0 && setupOf(p) == setupOf(p - 1)) continue;
      for (const holes::OldHole& hole : places.old_holes) {
        if (hole.left_by >= static_cast<int>(p)) continue;
        const SetupPoint2 here = holes::placeIn(job, hole, *setupOf(p));
        const WorkPoint2 work = setupToWork(*setupOf(p), here);
        lines.push_back(visibleText(setupOf(p)->name) + ": the hole of " + nameOf(hole.hold_down) + " from " +
                        setupName(hole.setup) + " is at " + at(here) + " (work X " + bare(work.x) + " Y " +
                        bare(work.y) + ")" +
                        (hole.diameter_mm > 0 ? ", " + dimensionWithUnit(job, hole.diameter_mm) + " wide"
                                              : ", width unknown: no shaft_diameter"));
      }
    }
    if (lines.empty()) return;
    heading("Old screw holes after flipping");
    for (const std::string& line : lines) writeWrapped(line, 2, out);
  }

  void pins() const {
    if (facts.run.pin_fits.empty()) return;
    heading("Pins and their holes");
    for (const PinFit& fit : facts.run.pin_fits) {
      const HoldDown& pin = job.hold_downs[static_cast<std::size_t>(fit.hold_down)];
      const Setup& setup = *setupOf(static_cast<std::size_t>(fit.program));
      const StockPoint2 stock = setupToStock(job.stock, setup, pin.at_mm);
      std::string text = visibleText(setup.name) + ": " + nameOf(fit.hold_down) + " at " + at(pin.at_mm) +
                         " needs its hole at " + at(stock) + " of the stock in the first setup";
      text += fit.wall_mm > 0
                  ? "; play " + length_(std::max(0.0, std::min(fit.along_mm, fit.across_mm) - pin.diameter_mm)) +
                        ", nearest wall " + length_(fit.wall_mm) + " from its centre"
                  : "; no hole there";
      writeWrapped(text, 2, out);
    }
  }

  void notes() const {
    for (const InPart& i : places.in_parts) {
      writeWrapped("note: " + nameOf(i.hold_down) + " in " + setupName(i.setup) + " is inside the outline that " +
                       fileOf(i.program) + " cuts: it leaves a hole in a part or an offcut",
                   2, out);
    }
    for (const Finding& f : places.findings) {
      writeWrapped(std::string(levelName(f.level)) + ": " + visibleText(f.message) + " [" + f.rule + "]", 2, out);
      writeWrapped("do: " + visibleText(f.help), 4, out);
    }
    for (const std::string& n : places.not_checked) writeWrapped("not checked: " + visibleText(n), 2, out);
  }
};

}  // namespace

void writePlaceText(const Places& places, bool colour, std::ostream& out) {
  const Writer w{places, *places.facts, places.facts->job, colour, out};
  w.top();
  w.free();
  w.standing();
  w.nearest();
  w.steps();
  w.holes();
  w.pins();
  if (!places.in_parts.empty() || !places.findings.empty() || !places.not_checked.empty()) w.heading("Check first");
  w.notes();
}

}  // namespace provecut
