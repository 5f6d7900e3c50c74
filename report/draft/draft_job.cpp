#include "report/draft/draft_job.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>
#include <map>
#include <set>
#include <vector>

#include "parser/base/units.h"
#include "parser/base/utf8.h"
#include "parser/job/job_words.h"
#include "parser/job/machine_profiles.h"
#include "parser/job_file/job_file.h"
#include "report/base/dimension_text.h"
#include "report/base/length_text.h"
#include "report/base/number_text.h"
#include "report/base/visible_text.h"
#include "report/draft/draft_spots.h"
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
  // Keys of the section above that are guesses: with any of them left no check is clear.
  void guesses(const std::vector<std::string>& keys) {
    if (keys.empty()) return;
    std::string list = "[";
    for (std::size_t i = 0; i < keys.size(); ++i) list += (i == 0 ? "\"" : ", \"") + keys[i] + "\"";
    key("unconfirmed", list + "]", "guesses: delete each once you have set it");
  }
  // The same, to be taken into use by taking the first # away.
  void suggestion(std::string_view key_name, std::string_view value, std::string_view remark = {}) {
    key("# " + std::string(key_name), value, remark);
  }
};

std::string between(const Writer& w, double low, double high) {
  return low == high ? w.number(low) : w.number(low) + " to " + w.number(high);
}

// Who starts the spindle and sets its speed: the programs, unless none of them does.
void writeByHand(Writer& w, const Survey& survey, std::vector<std::string>& guesses) {
  const auto any = [&](bool ProgramSurvey::*is) {
    return std::any_of(survey.programs.begin(), survey.programs.end(), [&](const ProgramSurvey& p) { return p.*is; });
  };
  if (any(&ProgramSurvey::cuts) && !any(&ProgramSurvey::starts_spindle)) {
    w.key("spindle", "\"by-hand\"", "FILL IN: no program has M3. Do you switch it on? Else add M3, write \"program\"");
    guesses.emplace_back("spindle");
  } else if (any(&ProgramSurvey::cuts) && !any(&ProgramSurvey::says_speed)) {
    w.key("speed", "\"by-hand\"", "FILL IN: no program has S. Do you set a dial? Else add S, write \"program\"");
    guesses.emplace_back("speed");
  } else {
    w.suggestion("spindle", "\"by-hand\"", "if you switch it on yourself; M3 does nothing then");
    w.suggestion("speed", "\"by-hand\"", "if you set it on a dial; S does nothing then. Give each tool its rpm");
  }
}

// The spindle turns as fast as the programs say, if that is beyond what is usual.
void writeSpindle(Writer& w, const Survey& survey, std::vector<std::string>& guesses) {
  constexpr double usual_low = 8000, usual_high = 24000;
  const bool known = survey.rpm_high > 0;
  const std::string range = "[" + shortNumber(known ? std::min(survey.rpm_low, usual_low) : usual_low, 0) + ", " +
                            shortNumber(known ? std::max(survey.rpm_high, usual_high) : usual_high, 0) + "]";
  const std::string used = known ? "the programs use " + rangeText(survey.rpm_low, survey.rpm_high) + " rpm" : "";
  if (known && (survey.rpm_low < usual_low || survey.rpm_high > usual_high)) {
    w.key("spindle_rpm", range, "FILL IN: slowest and fastest; " + used);
    guesses.emplace_back("spindle_rpm");
  } else {
    w.suggestion("spindle_rpm", range, "slowest and fastest" + (used.empty() ? "" : "; " + used));
  }
}

// The usual machine, or the first whose travel the cuts need.
std::string likelyProfile(const Survey& survey) {
  const auto& all = machineProfiles();
  const auto usual = std::find_if(all.begin(), all.end(), [](const Machine& m) { return m.profile == "bench-screw"; });
  const auto fits = [&](const Machine& m) {
    return std::all_of(survey.programs.begin(), survey.programs.end(), [&](const ProgramSurvey& p) {
      return p.cut.empty ||
             (p.cut.high.x - p.cut.low.x <= m.travel_mm.x && p.cut.high.y - p.cut.low.y <= m.travel_mm.y);
    });
  };
  const auto found = std::find_if(usual, all.end(), fits);
  return found == all.end() ? all.back().profile : found->profile;
}

void writeHead(Writer& w, const Survey& survey, std::string_view name, std::string_view job_file) {
  w.comment(
      "A first job file, made from the programs alone. Lines marked FILL IN are guesses: measure and correct them.");
  w.comment("`unconfirmed` lists them too. While it lists any, no check calls the job clear.");
  w.comment("Lengths are in the unit below. Any may have its own, in quotes: \"6 mm\", \"1/4 in\", \"5 1/2 in\".");
  w.comment("Then run: provecut check " + visibleText(job_file));
  w.line();
  w.key("version", "1");
  w.key("name", tomlText(name));
  w.key("units", w.inches ? "\"in\"" : "\"mm\"", "unit of this file; programs have their own");
  w.line();
  w.line("[machine]");
  w.key("profile", "\"" + likelyProfile(survey) + "\"",
        "FILL IN: \"desk-belt\", \"bench-screw\" or \"shop-rack\", choose the closest");
  w.suggestion("travel", "[" + w.guess(800, 32) + ", " + w.guess(800, 32) + ", " + w.guess(120, 5) + "]",
               "your machine's own figures");
  w.suggestion("max_rate", "[" + w.guess(5000, 200) + ", " + w.guess(5000, 200) + ", " + w.guess(3000, 120) + "]",
               std::string(w.name()) + "/min");
  std::vector<std::string> guesses{"profile"};
  writeSpindle(w, survey, guesses);
  writeByHand(w, survey, guesses);
  w.guesses(guesses);
}

std::string thicknessReason(const StockGuess& stock) {
  switch (stock.thickness_from) {
    case ThicknessFrom::deepest_cut:
      return "the deepest cut";
    case ThicknessFrom::highest_level:
      return "how high above zero the highest level cut is";
    case ThicknessFrom::no_through_bit:
      return "an example; such bits do not cut through";
    case ThicknessFrom::least:
    case ThicknessFrom::example:
      break;
  }
  return "an example; the cuts are too shallow to tell";
}

// What the size rests on, and how far it may be off.
void writeStockReasons(Writer& w, const Survey& survey) {
  if (survey.cut.empty) {
    w.comment("No cutting moves could be followed, so this size is only an example.");
    return;
  }
  const WorkPoint low = survey.cut.low, high = survey.cut.high;
  w.comment("The tip cuts X " + between(w, low.x, high.x) + ", Y " + between(w, low.y, high.y) + ", down to Z " +
            w.number(low.z) + " " + std::string(w.name()) + ", in the programs' own coordinates.");
  if (!survey.stock.told.empty()) {
    w.comment("A program gives this size: " + visibleText(survey.stock.told));
    return;
  }
  w.comment(
      "X and Y: the cuts without lead-ins and facing, and a margin around them. The real stock may be larger, or");
  w.comment("smaller where cuts run over its edges.");
  w.comment("The thickness: no program tells it. MEASURE THE STOCK.");
  w.comment("The number here is only " + thicknessReason(survey.stock) + ".");
}

void writeStock(Writer& w, const Survey& survey) {
  w.line();
  writeStockReasons(w, survey);
  const Vec3 size = survey.stock.size_mm;
  const bool told = !survey.stock.told.empty();
  w.line("[stock]");
  w.key("size",
        told ? "[" + w.number(size.x) + ", " + w.number(size.y) + ", " + w.number(size.z) + "]"
             : "[" + w.roundedUp(size.x) + ", " + w.roundedUp(size.y) + ", " + w.number(size.z) + "]",
        told ? "FILL IN: X, Y and thickness as you measure them" : "FILL IN: X, Y and the thickness that you measured");
  if (w.roundedUp(size.x) == w.roundedUp(size.y))
    w.suggestion("shape", "\"round\"", "if it is a disc: X and Y of its size are its diameter");
  w.key("grain", "\"none\"", "FILL IN: \"x\", \"y\" or \"none\"");
  w.guesses({"size", "grain"});
  // With a guessed thickness, every cut as deep as the stock would be one that may not go through.
  w.suggestion("thickness_tolerance", w.guess(0.3, 0.012), "once you have measured it: how far it may be off");
  if (survey.stock.material) {
    w.key("material", "\"" + std::string(wordOf(*survey.stock.material)) + "\"", "as a program's comment says");
  } else {
    w.comment("Remove the # and choose: without a material provecut judges no power, force or tab strength.");
  }
  std::string materials;
  for (const auto& [word, material] : materialWords()) materials += (materials.empty() ? "" : " ") + word;
  if (!survey.stock.material) w.suggestion("material", "\"hardwood\"", materials);
  w.line();
  w.line("[spoilboard]");
  w.key("thickness", w.guess(18, 0.75), "FILL IN; 0 if the stock is on the bed");
  w.key("allowed_cut", w.guess(0.3, 0.012), "deepest cut into the spoilboard that you allow");
  w.guesses({"thickness"});
}

// The keys that only some shapes have.
void writeShapeKeys(Writer& w, const ToolGuess& tool, std::vector<std::string>& guesses) {
  if (tool.shape == ToolShape::bull) w.key("corner_radius", w.number(tool.corner_radius_mm));
  if (tool.shape == ToolShape::vee || tool.shape == ToolShape::drill) {
    const bool half_known = tool.shape == ToolShape::vee && tool.taper_deg > 0 && tool.taper_deg < 89;
    const double usual = half_known ? 2 * tool.taper_deg : tool.shape == ToolShape::vee ? 60 : 118;
    const bool known = tool.angle_deg > 0;
    w.key("angle", shortNumber(known ? tool.angle_deg : usual, 2),
          known ? "included, degrees" : "FILL IN: included, degrees");
    if (!known) guesses.emplace_back("angle");
    if (tool.shape == ToolShape::vee && tool.tip_diameter_mm > 0 && tool.tip_diameter_mm < tool.diameter_mm)
      w.key("tip_diameter", w.number(tool.tip_diameter_mm));
  }
  if (tool.shape == ToolShape::taper_ball) {
    const double tip = tool.corner_radius_mm > 0 ? tool.corner_radius_mm : tool.tip_diameter_mm / 2;
    const bool tip_known = tip > 0 && tip <= tool.diameter_mm / 2, taper_known = tool.taper_deg > 0;
    w.key("tip_radius", w.number(tip_known ? tip : tool.diameter_mm / 4), tip_known ? "" : "FILL IN");
    w.key("taper", shortNumber(taper_known ? tool.taper_deg : 5, 2),
          taper_known ? "half-angle, degrees" : "FILL IN: half-angle, degrees");
    if (!tip_known) guesses.emplace_back("tip_radius");
    if (!taper_known) guesses.emplace_back("taper");
  }
}

// The tool's size as far as the programs tell, else a usual one that is marked as a guess.
void writeToolKeys(Writer& w, const ToolGuess& tool) {
  std::vector<std::string> guesses;
  const auto key = [&](std::string_view name, double known_mm, double usual_mm, std::string_view remark) {
    w.key(name, w.number(known_mm > 0 ? known_mm : usual_mm), known_mm > 0 ? "" : remark);
    if (known_mm <= 0) guesses.emplace_back(name);
  };
  w.key("shape", "\"" + std::string(wordOf(tool.shape)) + "\"",
        tool.shape_known ? "" : "FILL IN: flat ball bull vee taper-ball drill surfacing form");
  if (!tool.shape_known) guesses.emplace_back("shape");
  w.key("diameter", w.number(tool.diameter_mm), tool.diameter_known ? "" : "FILL IN");
  if (!tool.diameter_known) guesses.emplace_back("diameter");
  writeShapeKeys(w, tool, guesses);
  w.key("flutes", std::to_string(tool.flutes > 0 ? tool.flutes : 2), tool.flutes > 0 ? "" : "FILL IN");
  if (tool.flutes == 0) guesses.emplace_back("flutes");
  key("flute_length", tool.flute_length_mm, tool.long_enough_mm, "FILL IN: length of the cutting edges");
  const double flutes = tool.flute_length_mm > 0 ? tool.flute_length_mm : tool.long_enough_mm;
  const double to_nut = w.inches ? mm_per_inch / 2 : 10;
  key("shank_diameter", tool.shank_diameter_mm, tool.diameter_mm, "FILL IN");
  key("stickout", 0, flutes + to_nut, "FILL IN: tip to the face of the collet nut");
  w.guesses(guesses);
  if (tool.overall_length_mm > flutes + to_nut) {
    w.key("overall_length", w.number(tool.overall_length_mm));
  } else {
    w.suggestion("overall_length", w.number(flutes + to_nut + 4 * tool.diameter_mm),
                 "length of the whole bit; needed to check the collet's grip");
  }
}

void writeTool(Writer& w, int number, const ToolGuess& tool) {
  w.line();
  if (!tool.comment.empty()) w.comment("The program says: " + visibleText(tool.comment));
  if (tool.use.feed_low_mm_min > 0) {
    w.comment("Feeds " + between(w, tool.use.feed_low_mm_min, tool.use.feed_high_mm_min) + " " + std::string(w.name()) +
              "/min" +
              (tool.use.rpm_high > 0 ? ", speed " + rangeText(tool.use.rpm_low, tool.use.rpm_high) + " rpm" : "") +
              (tool.use.deepest_mm < 0 ? ", down to Z " + w.number(tool.use.deepest_mm) : "") + ".");
  }
  if (!tool.numbered) w.comment("No program names this tool; its number is made up.");
  if (number >= 100 && number / 100 == number % 100) {
    w.comment("If the program calls it T" + fmt::format("{:04}", number) + ", it means tool " +
              std::to_string(number % 100) + " with offset " + std::to_string(number % 100) +
              ". The number here stays as the program says it.");
  }
  w.line("[[tool]]");
  w.key("number", std::to_string(number));
  writeToolKeys(w, tool);
  w.suggestion("rpm", shortNumber(tool.use.rpm_high > 0 ? tool.use.rpm_high : 16000, 0), "if you set it on a dial");
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
  w.guesses({"diameter", "length", "spindle_diameter"});
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
  if (program.looks_like_inches) {
    w.comment("It does not say whether it is in mm or inches and was read in mm, but its tool only fits inches.");
    w.comment("FILL IN: put G20 on its first line, then make this file anew.");
  } else if (!program.states_unit) {
    w.comment("FILL IN: the program sets no unit (G20 or G21); it was read in mm.");
  }
  if (program.starts_anywhere) {
    w.comment("FILL IN: its moves count from wherever the tool stands (G91), so where it cuts cannot be checked.");
    w.comment("Begin it with a rapid to a known X, Y and Z in absolute coordinates (G90), then make this file anew.");
  }
  for (const StockMoved& moved : program.stock_moved) {
    w.comment("SPLIT IT at line " + std::to_string(moved.line) +
              ", where it stops. The comment there says: " + visibleText(moved.said));
    w.comment(
        "If the stock lies anew from there on, make what follows a program of its own, in a [[setup]] of its own.");
  }
  w.line("[[setup.program]]");
  w.key("file", tomlText(file));
  if (program.first_tool > 0) {
    w.key("tool", std::to_string(program.first_tool),
          program.names_tool ? "in the spindle at the start" : "FILL IN: the program does not say");
  }
  if (program.first_tool > 0 && !program.names_tool) w.guesses({"tool"});
  if (program.later_tools > 0) w.comment("Tool changes in this program: " + std::to_string(program.later_tools) + ".");
  if (!program.cut.empty && program.cuts_above_zero != zero_on_bottom) {
    w.comment(
        program.cuts_above_zero
            ? "Its level cuts are above Z zero. Is zero on the stock's underside? Then move it to a setup of its own."
            : "Its level cuts are below Z zero. Is zero on top of the stock? Then move it to a setup of its own.");
  }
}

// Zeros other than G54 that the programs of a setup count from.
void writeOffsets(Writer& w, const Survey& survey, const SetupGuess& setup, std::vector<std::string>& guesses) {
  std::set<std::string> names;
  for (const std::size_t i : setup.programs)
    names.insert(survey.programs[i].offsets.begin(), survey.programs[i].offsets.end());
  if (names.empty()) return;
  std::string list;
  for (const std::string& name : names) {
    const bool plain = name.find('.') == std::string::npos;
    list += (list.empty() ? "" : ", ") + (plain ? name : "\"" + name + "\"") + " = [0, 0, 0]";
  }
  w.key("offsets", "{ " + list + " }", "FILL IN: how far its zero is from `zero`, X, Y, Z; 0, 0, 0: the same place");
  guesses.emplace_back("offsets");
}

void writeSetup(Writer& w, const Survey& survey, const SetupGuess& setup, std::span<const DraftProgram> programs) {
  w.line();
  std::vector<std::string> guesses{"zero", "hold_downs"};
  if (!setup.why.empty()) {
    w.comment("The programs below have a setup of their own because of " + visibleText(setup.why) + ".");
    w.comment("If they cut the same side, move them to the setup above and delete this one.");
  } else if (survey.setups.size() == 1) {
    w.comment(
        "One setup for all programs. If you flip the stock, start another [[setup]] with flip = \"left-right\" or");
    w.comment("\"front-back\" and move the programs of that side below it.");
  }
  if (setup.zero_comments.size() > 1)
    w.comment("The programs speak of more than one zero; each may need a setup of its own:");
  for (const std::string& said : setup.zero_comments) w.comment("The program says: " + visibleText(said));
  w.line("[[setup]]");
  w.key("name", tomlText(setup.name));
  if (setup.flip != Flip::none) {
    w.key("flip", setup.flip == Flip::left_right ? "\"left-right\"" : "\"front-back\"",
          "FILL IN: over its left or right edge, or \"front-back\"");
    guesses.emplace_back("flip");
  }
  w.key("zero",
        "[" + zeroWord(w, setup.zero_x) + ", " + zeroWord(w, setup.zero_y) + ", " +
            (setup.zero_on_bottom ? "\"bottom\"" : "\"top\"") + "]",
        "FILL IN: left center right, front center back, top bottom, or numbers");
  writeOffsets(w, survey, setup, guesses);
  w.key("hold_downs", "[]", "FILL IN: [\"screw SW\", \"clamp N\"]");
  w.suggestion("held_by", "\"vacuum\"",
               "or \"glue\", \"tape\", \"vise\", \"side-clamp\": what has no place of its own");
  w.guesses(guesses);
  for (const std::size_t i : setup.programs)
    writeProgram(w, survey.programs[i], programs[i].file, setup.zero_on_bottom);
}

void writeLimits(Writer& w) {
  w.line();
  w.line("[limits]");
  w.key("clearance", w.guess(3, 0.125), "minimum between the tool and any hold-down");
  w.key("min_floor", w.guess(1.5, 0.06), "thinnest floor or web you allow");
  w.key("min_tab_area", w.guess(15, 0.025), std::string("smallest tab you allow, square ") + std::string(w.name()));
}

// The programs as the job has them: in its order, each with the tool that is in the spindle at its start.
std::vector<Program> programsInJob(const Survey& survey, std::span<const DraftProgram> programs) {
  std::vector<Program> all;
  for (const SetupGuess& setup : survey.setups) {
    for (const std::size_t i : setup.programs) {
      Program& p = all.emplace_back(*programs[i].program);
      for (Motion& m : p.motions) {
        if (m.tool < 1) m.tool = survey.programs[i].first_tool;
      }
    }
  }
  return all;
}

// A table of places for screws, for the job that is written so far.
std::string spotComments(const Writer& so_far, const Survey& survey, std::span<const DraftProgram> programs) {
  const JobReading reading = readJob(so_far.text, "job.toml");
  if (!reading.job || survey.cut.empty) return {};
  Writer w;
  w.inches = so_far.inches;
  w.comment("");
  w.comment("Spots for a screw, clear of every move of the setup if the guesses in this file are right:");
  for (const SpotList& list : freeSpots(*reading.job, programsInJob(survey, programs))) {
    std::string places;
    for (const SetupPoint2 p : list.free) places += "  [" + w.number(p.x) + ", " + w.number(p.y) + "]";
    w.comment("  " + list.setup + ":" +
              (places.empty() ? "  none of the corners and edges; use clamps, or larger stock" : places));
  }
  w.comment("provecut place shows all of them, and for clamps of any size.");
  return std::move(w.text);
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
  writeHead(w, survey, name, job_file);
  writeStock(w, survey);
  for (const auto& [number, tool] : survey.tools) writeTool(w, number, tool);
  writeHoldDowns(w);
  const std::size_t spots_at = w.text.size();
  for (const SetupGuess& setup : survey.setups) writeSetup(w, survey, setup, programs);
  writeLimits(w);
  w.text.insert(spots_at, spotComments(w, survey, programs));
  return std::move(w.text);
}

}  // namespace provecut::draft
