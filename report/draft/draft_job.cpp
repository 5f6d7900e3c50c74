#include "report/draft/draft_job.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>
#include <map>

#include "parser/base/units.h"
#include "parser/base/utf8.h"
#include "parser/job/job_words.h"
#include "report/base/dimension_text.h"
#include "report/base/length_text.h"
#include "report/base/number_text.h"
#include "report/base/visible_text.h"
#include "report/draft/draft_survey.h"

namespace provecut::draft {

namespace {

// Writes numbers in the file's unit, short enough to be read.
struct Writer {
  bool inches = false;
  std::string text;

  double unit() const { return inches ? mm_per_inch : 1; }
  std::string_view name() const { return inches ? "in" : "mm"; }

  std::string number(double mm) const { return shortNumber(mm / unit(), dimension_decimals); }
  // A guess, as a usual size of the file's unit.
  std::string guess(double mm, double in) const { return shortNumber(inches ? in : mm, dimension_decimals); }
  // Up to the next whole millimetre or eighth of an inch.
  std::string roundedUp(double mm) const { return shortNumber(std::ceil(mm / step() - 1e-6) * step() / unit(), 4); }
  double step() const { return inches ? mm_per_inch / 8 : 1; }

  void line(std::string_view words = {}) { text.append(words) += '\n'; }
  void comment(std::string_view words) { line(words.empty() ? "#" : "# " + std::string(words)); }
  // `key = value   # remark`, the remarks below each other.
  void key(std::string_view key_name, std::string_view value, std::string_view remark = {}) {
    std::string written = std::string(key_name) + " = " + std::string(value);
    constexpr std::size_t remark_column = 34;
    if (!remark.empty()) {
      written.append(written.size() < remark_column ? remark_column - written.size() : 1, ' ')
          .append("# ")
          .append(remark);
    }
    line(written);
  }
  // The same, to be taken into use by taking the first # away.
  void suggestion(std::string_view key_name, std::string_view value, std::string_view remark = {}) {
    key("# " + std::string(key_name), value, remark);
  }
};

std::string between(const Writer& w, double low, double high) {
  return low == high ? w.number(low) : w.number(low) + " to " + w.number(high);
}

void writeHead(Writer& w, std::string_view name, std::string_view job_file) {
  w.comment(
      "A first job file, made from the programs alone. Lines marked FILL IN are guesses: measure and correct them.");
  w.comment("Then run: provecut check " + visibleText(job_file));
  w.line();
  w.key("version", "1");
  w.key("name", tomlText(name));
  w.key("units", w.inches ? "\"in\"" : "\"mm\"", "unit of this file; programs have their own");
  w.line();
  w.line("[machine]");
  w.key("profile", "\"bench-screw\"", "FILL IN: \"desk-belt\", \"bench-screw\" or \"shop-rack\", choose the closest");
  w.suggestion("travel", "[" + w.guess(800, 32) + ", " + w.guess(800, 32) + ", " + w.guess(120, 5) + "]",
               "your machine's own figures");
  w.suggestion("max_rate", "[" + w.guess(5000, 200) + ", " + w.guess(5000, 200) + ", " + w.guess(3000, 120) + "]",
               "per minute");
  w.suggestion("spindle_rpm", "[8000, 24000]");
}

void writeStock(Writer& w, const Survey& survey) {
  w.line();
  if (survey.cut.empty) {
    w.comment("No cutting moves could be followed, so this size is only an example.");
  } else {
    const WorkPoint low = survey.cut.low, high = survey.cut.high;
    w.comment("The tip cuts X " + between(w, low.x, high.x) + ", Y " + between(w, low.y, high.y) + ", down to Z " +
              w.number(low.z) + " " + std::string(w.name()) + ", in the programs' own coordinates.");
  }
  const StockGuess& guess = survey.stock;
  w.line("[stock]");
  w.key(
      "size",
      "[" + w.roundedUp(guess.size_mm.x) + ", " + w.roundedUp(guess.size_mm.y) + ", " + w.number(guess.size_mm.z) + "]",
      survey.cut.empty        ? "FILL IN: X, Y and thickness"
      : survey.zero_on_bottom ? "FILL IN: X, Y and thickness. The thickness here is only the highest cut."
                              : "FILL IN: X, Y and thickness. The thickness here is only the deepest cut.");
  w.key("grain", "\"none\"", "FILL IN: \"x\", \"y\" or \"none\"");
  // With a guessed thickness, every cut as deep as the stock would be one that may not go through.
  w.suggestion("thickness_tolerance", w.guess(0.3, 0.012), "once you have measured it: how far it may be off");
  w.comment("Remove the # and choose: without a material no power, force or tab strength is judged.");
  w.suggestion("material", "\"hardwood\"", "softwood hardwood plywood mdf acrylic polycarbonate aluminium foam");
  w.line();
  w.line("[spoilboard]");
  w.key("thickness", w.guess(18, 0.75), "FILL IN; 0 if the stock is on the bed");
  w.key("allowed_cut", w.guess(0.3, 0.012), "deepest cut into it that you allow");
}

void writeTool(Writer& w, int number, const ToolGuess& tool) {
  w.line();
  if (!tool.comment.empty()) w.comment("The program says: " + visibleText(tool.comment));
  if (tool.use.feed_low_mm_min > 0) {
    w.comment("Feeds " + between(w, tool.use.feed_low_mm_min, tool.use.feed_high_mm_min) + " " + std::string(w.name()) +
              " per minute" +
              (tool.use.rpm_high > 0 ? ", speed " + rangeText(tool.use.rpm_low, tool.use.rpm_high) + " rpm" : "") +
              (tool.use.deepest_mm < 0 ? ", down to Z " + w.number(tool.use.deepest_mm) : "") + ".");
  }
  if (!tool.numbered) w.comment("No program names this tool; its number is made up.");
  w.line("[[tool]]");
  w.key("number", std::to_string(number));
  w.key("shape", "\"" + std::string(wordOf(tool.shape)) + "\"",
        tool.shape_known ? "" : "FILL IN: flat ball bull vee taper-ball drill surfacing form");
  w.key("diameter", w.number(tool.diameter_mm), tool.diameter_known ? "" : "FILL IN");
  if (tool.shape == ToolShape::bull) w.key("corner_radius", w.number(tool.corner_radius_mm));
  if (tool.shape == ToolShape::vee || tool.shape == ToolShape::drill) {
    const double usual = tool.shape == ToolShape::vee ? 60 : 118;
    w.key("angle", shortNumber(tool.angle_deg > 0 ? tool.angle_deg : usual, 2),
          tool.angle_deg > 0 ? "included, degrees" : "FILL IN: included, degrees");
  }
  w.key("flutes", "2", "FILL IN");
  w.key("flute_length", w.number(tool.flute_length_mm), "FILL IN: length of the cutting edges");
  w.key("shank_diameter", w.number(tool.diameter_mm), "FILL IN");
  w.key("stickout", w.number(tool.flute_length_mm + 10), "FILL IN: tip to the face of the collet nut");
  w.suggestion("overall_length", w.number(tool.flute_length_mm + 10 + 4 * tool.diameter_mm),
               "length of the whole bit; needed to check the collet's grip");
  w.suggestion("max_stepdown", w.number(tool.diameter_mm), "deepest pass allowed");
  const bool plunges = tool.use.plunge_mm_min > 0;
  w.suggestion("plunge_feed",
               w.number(plunges    ? tool.use.plunge_mm_min
                        : w.inches ? 20 * mm_per_inch
                                   : 500),
               plunges ? "maximum plunge feed; this is the programs' highest" : "maximum plunge feed");
}

void writeHoldDowns(Writer& w) {
  w.line();
  w.line("[collet_nut]");
  w.key("diameter", w.guess(30, 1.2), "FILL IN");
  w.key("length", w.guess(20, 0.8), "FILL IN: the spindle begins above it");
  w.key("spindle_diameter", w.guess(65, 2.6), "FILL IN");
  w.line();
  // Up to #10 and ST4.8, the highest of each kind: a pan head (ASME B18.6.3: 3.48 mm; DIN 7981: 3.55 mm), on a wide
  // type B washer (ANSI B18.22.1: 1.80 mm more). Diameters: common practice, no source.
  w.comment("FILL IN what holds the stock. provecut sees only the hold-downs listed here.");
  w.comment("Remove the #, set the numbers, and list each name in `hold_downs` of the setup below.");
  w.comment("`at` is its centre from the stock's front left corner, `top` its height above the top of the stock.");
  w.comment("[[hold_down]]");
  w.suggestion("name", "\"screw SW\"");
  w.suggestion("kind", "\"screw\"", "screw clamp pin tape other");
  w.suggestion("at", "[" + w.guess(12, 0.5) + ", " + w.guess(12, 0.5) + "]");
  w.suggestion("diameter", w.guess(9.5, 0.375),
               "pan head about " + w.guess(9.5, 0.375) + ", washer " + w.guess(12, 0.5));
  w.suggestion(
      "top", w.guess(3.6, 0.15),
      "pan head " + w.guess(3.6, 0.15) + ", on a wide washer " + w.guess(5.4, 0.22) + ", flush " + w.guess(0.5, 0.02));
  w.suggestion("length", w.guess(30, 1.25), "from under its head to its tip");
  w.comment("");
  w.comment("[[hold_down]]");
  w.suggestion("name", "\"clamp N\"");
  w.suggestion("kind", "\"clamp\"");
  w.suggestion("at", "[" + w.guess(100, 4) + ", " + w.guess(140, 5.5) + "]");
  w.suggestion("size", "[" + w.guess(30, 1.25) + ", " + w.guess(80, 3) + "]", "X and Y; angle = degrees rotates it");
  w.suggestion("top", w.guess(35, 1.5), "with its bolt or knob");
}

std::string zeroWord(const Writer& w, const ZeroGuess& zero) {
  return zero.word.empty() ? w.number(zero.from_corner_mm) : "\"" + zero.word + "\"";
}

void writeProgram(Writer& w, const ProgramSurvey& program, std::string_view file, bool zero_on_bottom) {
  w.line();
  std::string what = std::to_string(program.lines) + " lines";
  if (program.inches) what += *program.inches ? ", in inches" : ", in mm";
  if (!program.cut.empty) {
    what += ", cuts X " + between(w, program.cut.low.x, program.cut.high.x) + ", Y " +
            between(w, program.cut.low.y, program.cut.high.y) + ", down to Z " + w.number(program.cut.low.z);
  }
  w.comment(what);
  w.line("[[setup.program]]");
  w.key("file", tomlText(file));
  if (program.first_tool > 0) {
    w.key("tool", std::to_string(program.first_tool),
          program.names_tool ? "in the spindle at the start" : "FILL IN: the program does not say");
  }
  if (program.later_tools > 0) w.comment("Tool changes in this program: " + std::to_string(program.later_tools) + ".");
  if (!program.cut.empty && program.cuts_above_zero != zero_on_bottom) {
    w.comment(
        program.cuts_above_zero
            ? "Its level cuts are above Z zero. Is zero on the stock's underside? Then move it to a setup of its own."
            : "Its level cuts are below Z zero. Is zero on top of the stock? Then move it to a setup of its own.");
  }
}

void writeSetup(Writer& w, const Survey& survey, std::span<const DraftProgram> programs) {
  const StockGuess& guess = survey.stock;
  w.line();
  w.comment("One setup for all programs. If you flip the stock, start another [[setup]] with flip = \"left-right\" or");
  w.comment("\"front-back\" and move the programs of that side below it.");
  w.line("[[setup]]");
  w.key("name", "\"front\"");
  w.key("zero",
        "[" + zeroWord(w, guess.zero_x) + ", " + zeroWord(w, guess.zero_y) + ", " + zeroWord(w, guess.zero_z) + "]",
        "FILL IN: left center right, front center back, top bottom, or numbers");
  w.key("hold_downs", "[]", "FILL IN: [\"screw SW\", \"clamp N\"]");
  w.comment(
      "held_by = \"vacuum\"            # or \"glue\", \"tape\", \"vise\", \"side-clamp\": what has no place of its "
      "own");
  for (std::size_t i = 0; i < programs.size(); ++i)
    writeProgram(w, survey.programs[i], programs[i].file, survey.zero_on_bottom);
}

void writeLimits(Writer& w) {
  w.line();
  w.line("[limits]");
  w.key("clearance", w.guess(3, 0.125), "minimum between the tool and any hold-down");
  w.key("min_floor", w.guess(1.5, 0.06), "thinnest floor or web you allow");
  w.key("min_tab_area", w.guess(15, 0.025), std::string("smallest tab you allow, square ") + std::string(w.name()));
}

}  // namespace

std::string tomlText(std::string_view text) {
  std::string written = "\"";
  const auto append = [&](std::string_view plain) {
    for (const char c : plain) {
      if (c == '"' || c == '\\') written += '\\';
      written += c;
    }
  };
  for (std::size_t i = 0; i < text.size();) {
    const Symbol symbol = symbolAt(text, i);
    const std::string_view point = text.substr(i, symbol.bytes);
    i += point.size();
    const std::string shown = visibleText(point);
    if (symbol.bytes < 2 || shown == point) {
      // No reader takes a control character or a byte that is not UTF-8 in a name: they are shown instead.
      append(shown);
      continue;
    }
    written += fmt::format("\\U{:08X}", static_cast<std::uint32_t>(symbol.code));
  }
  return written + "\"";
}

std::string draftJob(std::string_view name, std::span<const DraftProgram> programs, std::string_view job_file) {
  const Survey survey = surveyPrograms(programs);
  Writer w;
  w.inches = survey.inches;
  writeHead(w, name, job_file);
  writeStock(w, survey);
  for (const auto& [number, tool] : survey.tools) writeTool(w, number, tool);
  writeHoldDowns(w);
  writeSetup(w, survey, programs);
  writeLimits(w);
  return std::move(w.text);
}

}  // namespace provecut::draft
