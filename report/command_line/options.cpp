#include "report/command_line/options.h"

#include <CLI/App.hpp>
#include <CLI/Config.hpp>
#include <CLI/Formatter.hpp>
#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <map>
#include <span>
#include <stdexcept>
#include <string_view>
#include <utility>

#include "parser/base/length_text.h"
#include "parser/base/nearest_word.h"
#include "report/base/visible_text.h"

namespace provecut {

namespace {

constexpr std::string_view purpose =
    "Proves out the programs of a router job before anyone presses Start: which moves hit what holds the stock,\n"
    "which cut too deep, what comes loose.";

constexpr std::string_view statuses =
    "Exit status: 0 nothing found at or above --fail-on, 1 something was (or a program could not be read whole),\n"
    "2 the input or the command line could not be used, 3 a defect in provecut.";

constexpr std::array<std::string_view, 8> examples{
    "provecut check job.toml",
    "provecut check front-door.toml back-door.toml",
    "provecut check a.nc b.nc --stock 420x130x19.05mm --tool 1=flat,6mm",
    "provecut check job.toml --thickness 18.7",
    "provecut check job.toml --format json --output report.json --fail-on look",
    "provecut sheet job.toml --output sheet.html",
    "provecut export job.toml --output board.stl",
    "provecut explain hold-down-hit"};

std::string examplesText() {
  std::string text = "Examples:\n";
  for (const std::string_view e : examples) text += "  " + std::string(e) + "\n";
  return text;
}

// The command line cannot be used; what() says why.
struct Unusable : std::runtime_error {
  using std::runtime_error::runtime_error;
};

// Values as they were written, before they are understood.
struct Written {
  std::string format = "text", fail_on = "stop", shell;
  std::optional<std::string> units, cell, threads, feed, thickness, before;
};

std::string inQuotes(std::string_view text) {
  return "\"" + visibleText(text) + "\"";
}

// "text|json|html": "text, json or html"
std::string choiceText(std::string_view choices) {
  std::string text;
  while (!choices.empty()) {
    const std::string_view one = choices.substr(0, choices.find('|'));
    choices.remove_prefix(std::min(one.size() + 1, choices.size()));
    if (!text.empty()) text += choices.empty() ? " or " : ", ";
    text += one;
  }
  return text;
}

// What each command can write; the first is the default.
constexpr std::string_view check_formats = "text|json|sarif|html", time_formats = "text|json",
                           quote_formats = "text|json|html", place_formats = "text|json|svg";

std::string_view formatsOf(Command command) {
  if (command == Command::place) return place_formats;
  return command == Command::time || command == Command::resume ? time_formats
         : command == Command::quote                            ? quote_formats
                                                                : check_formats;
}

// "text|json|html" as the help shows it; the first is the default.
Format formatOf(const std::string& text, std::string_view made) {
  const bool is_made = ("|" + std::string(made) + "|").find("|" + text + "|") != std::string::npos;
  if (is_made && text == "text") return Format::text;
  if (is_made && text == "json") return Format::json;
  if (is_made && text == "sarif") return Format::sarif;
  if (is_made && text == "html") return Format::html;
  if (is_made && text == "svg") return Format::svg;
  throw Unusable("--format " + inQuotes(text) + ": give " + choiceText(made));
}

Units unitsOf(const std::string& text) {
  if (text == "mm") return Units::mm;
  if (text == "in") return Units::in;
  throw Unusable("--units " + inQuotes(text) + ": give mm or in");
}

std::optional<Level> failOnOf(const std::string& text) {
  if (text == "stop") return Level::stop;
  if (text == "look") return Level::look;
  if (text == "note") return Level::note;
  if (text == "never") return std::nullopt;
  throw Unusable("--fail-on " + inQuotes(text) + ": give stop, look, note or never");
}

double cellOf(const std::string& text) {
  const auto length = readLength(text);
  const double mm = length ? length->mm(1) : 0;
  if (!(mm >= 0.01 && mm <= 10)) {
    throw Unusable("--cell " + inQuotes(text) + ": give a size from 0.01 to 10 mm, such as 0.25 or 0.01in");
  }
  return mm;
}

GivenLength thicknessOf(const std::string& text) {
  const auto length = readLength(text);
  if (!length || !(length->value > 0 && length->value < 1e5)) {
    throw Unusable("--thickness " + inQuotes(text) + ": give what the stock measures, such as 18.7, 18.7mm or 0.736in");
  }
  return {length->value, length->mm_per_unit};
}

// "80" or "80%", as a share.
double feedOverrideOf(const std::string& text) {
  std::string_view number = text;
  if (number.ends_with("%")) number.remove_suffix(1);
  double value = 0;
  const auto [end, error] = std::from_chars(number.data(), number.data() + number.size(), value);
  if (error != std::errc() || end != number.data() + number.size() || !(value >= 1 && value <= 1000)) {
    throw Unusable("--feed " + inQuotes(text) + ": give a percentage from 1 to 1000, such as 80");
  }
  return value / 100;
}

std::uint32_t lineOf(const std::string& text) {
  std::uint32_t value = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (error != std::errc() || end != text.data() + text.size() || value == 0) {
    throw Unusable("--before " + inQuotes(text) + ": give the number of a line, from 1");
  }
  return value;
}

int threadsOf(const std::string& text) {
  int value = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (error != std::errc() || end != text.data() + text.size() || value < 0 || value > 1024) {
    throw Unusable("--threads " + inQuotes(text) + ": give a whole number from 1 to 1024, or 0 for all processors");
  }
  return value;
}

void addOutput(CLI::App& app, Options& options) {
  app.add_option("-o,--output", options.output, "Write the result to FILE instead of standard output")
      ->type_name("FILE");
  app.add_flag("-q,--quiet", options.quiet, "Findings only, one line each: no notes, no summary, no progress");
  app.add_flag("-v,--verbose", options.verbose,
               "Every move that hits, the lines of every other, and on standard error what is being done");
}

void addFormat(CLI::App& app, Written& written, std::string_view formats) {
  app.add_option("-f,--format", written.format, "How to write the result (default: text)")
      ->type_name(std::string(formats));
}

void addReading(CLI::App& app, Options& options) {
  app.add_flag("--strict", options.strict, "Read programs by the letter of the RS-274 standard");
  app.add_flag("--block-delete", options.block_delete,
               "Skip the lines that begin with /, as with the machine's switch on");
}

void addCutting(CLI::App& app, Written& written) {
  app.add_option("--cell", written.cell, "Size of the cells of the stock, mm (default: from the job, else chosen)")
      ->type_name("SIZE");
  app.add_option("--threads", written.threads, "Processors to use (default: all); results do not depend on it")
      ->type_name("N");
}

void addReport(CLI::App& app, Options& options, Written& written) {
  addFormat(app, written, check_formats);
  app.add_option("--units", written.units, "Show lengths in mm or in (default: as the job file)")->type_name("mm|in");
  app.add_option("--fail-on", written.fail_on, "Exit with 1 from this level on (default: stop)")
      ->type_name("stop|look|note|never");
  addCutting(app, written);
  addReading(app, options);
  addOutput(app, options);
}

void addTiming(CLI::App& app, Options& options, Written& written) {
  app.add_option("--feed", written.feed, "Feed override of the machine in percent (default: 100)")
      ->type_name("PERCENT");
  app.add_option("--units", written.units, "Show lengths and rates in mm or in (default: as the job file)")
      ->type_name("mm|in");
  addReading(app, options);
  addOutput(app, options);
}

void addTool(CLI::App& app, Options& options, const char* text) {
  app.add_option("--tool", options.tools, text)->type_name("TOOL")->allow_extra_args(false);
}

void addQuickJob(CLI::App& app, Options& options) {
  app.add_option("--stock", options.stock,
                 "Size of the stock when there is no job file: 420x130x19.05mm or 16x5x0.75in")
      ->type_name("XxYxZ");
  addTool(app, options, "A tool when there is no job file, NUMBER=SHAPE,DIAMETER: 1=flat,6mm; may repeat");
}

void addPlace(CLI::App& app, Options& options, Written& written) {
  app.add_option("FILE", options.files, "A job file (.toml)")->type_name("");
  app.add_option("--diameter", options.place.diameter,
                 "Look for places of a round hold-down of this size, in the job's unit: 9.5 or 9.5mm")
      ->type_name("SIZE");
  app.add_option("--size", options.place.size, "... or of a box: 60x20")->type_name("XxY");
  app.add_option("--angle", options.place.angle, "Flip of the box, degrees counter-clockwise")->type_name("DEGREES");
  app.add_option("--top", options.place.top, "Height of its top above the stock's top face")->type_name("HEIGHT");
  app.add_option("--resolution", options.place.resolution,
                 "How far outside what is given as free something may yet be free (default 1 mm)")
      ->type_name("SIZE");
  addFormat(app, written, place_formats);
  app.add_option("--units", written.units, "Show lengths in mm or in (default: as the job file)")->type_name("mm|in");
  app.add_option("--threads", written.threads, "Processors to use (default: all); results do not depend on it")
      ->type_name("N");
  addReading(app, options);
  addOutput(app, options);
  app.footer(
      "With --format svg, an --output that is a folder (or ends in /) gets a picture of every program; else all are in "
      "one.\n"
      "Without --diameter or --size: the forms of the job's own hold-downs.\n\n" +
      std::string(statuses));
}

// The word that was not expected, and what it may have meant.
std::string describeExtra(const CLI::App& app, std::string_view word) {
  std::vector<std::string> known;
  const CLI::App* command = app.get_subcommands().empty() ? &app : app.get_subcommands().front();
  if (word.starts_with("-")) {
    for (const CLI::Option* option : command->get_options()) {
      for (const std::string& name : option->get_lnames()) known.push_back("--" + name);
    }
    word = word.substr(0, word.find('='));
    const std::string nearest = nearestWord(word, known);
    const bool near = !nearest.empty() && editDistance(word, nearest) <= 3;
    return "no option " + inQuotes(word) + (near ? "; is " + nearest + " meant?" : "");
  }
  if (command == &app) {
    for (const CLI::App* c : app.get_subcommands([](const CLI::App*) { return true; })) known.push_back(c->get_name());
    const std::string nearest = nearestWord(word, known);
    if (!nearest.empty() && editDistance(word, nearest) <= 2)
      return "no command " + inQuotes(word) + "; is " + nearest + " meant?";
    return "no command " + inQuotes(word) + "; to check it: provecut check " + visibleText(word);
  }
  return inQuotes(word) + " is one word too many";
}

CommandLine unusable(const CLI::App& app, const std::string& why) {
  const auto chosen = app.get_subcommands();
  const std::string help = chosen.empty() ? "provecut --help" : "provecut " + chosen.front()->get_name() + " --help";
  return {std::nullopt, exit_unusable, "provecut: " + why + "\nSee " + help + ".\n"};
}

Shell shellOf(const std::string& text) {
  if (text == "bash") return Shell::bash;
  if (text == "zsh") return Shell::zsh;
  if (text == "fish") return Shell::fish;
  throw Unusable(text.empty() ? "completions needs a shell: bash, zsh or fish"
                              : "no completions for " + inQuotes(text) + ": give bash, zsh or fish");
}

// What to export: said by a switch, or by the ending of the output's name.
Export exportOf(const Options& o, const std::map<Export, bool>& asked) {
  const auto chosen = std::count_if(asked.begin(), asked.end(), [](const auto& a) { return a.second; }) +
                      (o.moves_of.empty() ? 0 : 1) + (o.engagement_of.empty() ? 0 : 1);
  if (chosen > 1) throw Unusable("export writes one thing at a time");
  if (!o.moves_of.empty()) return Export::moves;
  if (!o.engagement_of.empty()) return Export::engagement;
  for (const auto& [what, wanted] : asked) {
    if (wanted) return what;
  }
  std::string_view name = o.output;
  for (const auto& [ending, what] : {std::pair{".stl", Export::stl}, std::pair{".ply", Export::ply},
                                     std::pair{".vdb", Export::vdb}, std::pair{".csv", Export::hits}}) {
    if (name.ends_with(ending)) return what;
  }
  throw Unusable(
      "export needs to know what: --stl, --ply, --vdb, --hits, --pictures, --moves PROGRAM, --engagement JOB, or an "
      "--output that ends in .stl, .ply, .vdb or .csv");
}

void requireExportInput(const Options& o) {
  if (!o.tools.empty() && o.what != Export::moves)
    throw Unusable("export takes --tool with --moves only: a job file has its own tools");
  if (o.what == Export::moves || o.what == Export::engagement) {
    if (!o.files.empty())
      throw Unusable("export --moves and --engagement take their file themselves and no other job file");
    return;
  }
  if (o.files.size() != 1) throw Unusable("export needs one job file");
  if (o.what == Export::pictures && o.output.empty())
    throw Unusable("export --pictures needs a folder: --output FOLDER");
  if (o.what == Export::vdb && o.output.empty()) throw Unusable("export --vdb needs a file: --output FILE");
}

void requireInput(const Options& o) {
  if (o.command == Command::check && o.files.empty())
    throw Unusable("check needs a job file, or programs with --stock and --tool");
  if (o.command == Command::init && o.files.empty()) throw Unusable("init needs the programs of the job");
  if (o.command == Command::export_) requireExportInput(o);
  if (o.command == Command::sheet && o.files.size() != 1) throw Unusable("sheet needs one job file");
  if (o.command == Command::time && o.files.empty()) throw Unusable("time needs a job file, or programs");
  if (o.command == Command::resume && o.files.size() != 1) throw Unusable("resume needs a job file");
  if (o.command == Command::quote && o.files.empty()) throw Unusable("quote needs a job file");
  if (o.command == Command::place && o.files.size() != 1) throw Unusable("place needs one job file");
  for (const std::string& file : o.files) {
    if (file.empty()) throw Unusable("a file name is empty");
  }
}

// The command line with all its commands; what is written goes to `options` and `written`.
struct Syntax {
  Options options;
  Written written;
  std::map<Export, bool> exports{{Export::hits, false},
                                 {Export::pictures, false},
                                 {Export::stl, false},
                                 {Export::ply, false},
                                 {Export::vdb, false}};
  CLI::App app{std::string(purpose), "provecut"};
  std::vector<std::pair<CLI::App*, Command>> commands;

  Syntax() {
    app.set_version_flag("--version", "provecut " PROVECUT_VERSION);
    app.footer(std::string(statuses));
    addCheck();
    addInit();
    addTime();
    addQuote();
    addPlaces();
    addResume();
    addSheet();
    addExplain();
    addExport();
    addShellHelp();
    app.get_formatter()->column_width(30);
    for (const auto& [command, id] : commands) command->get_formatter()->column_width(30);
  }
  Syntax(const Syntax&) = delete;
  Syntax& operator=(const Syntax&) = delete;

 private:
  CLI::App& command(Command id, const char* name, const char* text) {
    CLI::App* added = app.add_subcommand(name, text);
    commands.emplace_back(added, id);
    return *added;
  }

  void addFiles(CLI::App& to, const char* name, const char* text) {
    to.add_option(name, options.files, text)->type_name("");
  }

  void addCheck() {
    CLI::App& check = command(Command::check, "check", "Check job files, or programs alone");
    addFiles(check, "FILES", "Job files (.toml), or programs");
    addQuickJob(check, options);
    check
        .add_option("--thickness", written.thickness,
                    "What the stock really measures, in place of the job file's thickness")
        ->type_name("THICK");
    addReport(check, options, written);
    check.footer(examplesText() + "\n" + std::string(statuses));
  }

  void addInit() {
    CLI::App& init = command(Command::init, "init", "Write a first job file from programs");
    addFiles(init, "PROGRAMS", "Programs, in the order in which they are run");
    addReading(init, options);
    addOutput(init, options);
  }

  void addTime() {
    CLI::App& time = command(Command::time, "time", "Say how long the programs take, where the time goes and why");
    addFiles(time, "FILES", "Job files (.toml), or programs");
    time.add_flag("--fit", options.fit,
                  "Find the acceleration and junction deviation that explain the job's measured times");
    time.add_flag("--lines", options.lines, "Also the seconds of each line (with --format json)");
    addFormat(time, written, time_formats);
    addTiming(time, options, written);
  }

  void addQuote() {
    CLI::App& quote =
        command(Command::quote, "quote", "Work out what to charge, from the [quote] section and the planned time");
    addFiles(quote, "FILES", "Job files (.toml)");
    addFormat(quote, written, quote_formats);
    addTiming(quote, options, written);
  }

  void addPlaces() {
    addPlace(command(Command::place, "place", "Say where hold-downs may stand, program by program"), options, written);
  }

  void addResume() {
    CLI::App& resume = command(Command::resume, "resume",
                               "Say at which lines a stopped program may be taken up again, and in what state");
    addFiles(resume, "FILE", "A job file (.toml)");
    resume.add_option("--before", written.before, "Only the last such line at or before LINE of each program")
        ->type_name("LINE");
    addFormat(resume, written, time_formats);
    resume.add_option("--units", written.units, "Show lengths in mm or in (default: as the job file)")
        ->type_name("mm|in");
    addReading(resume, options);
    addOutput(resume, options);
  }

  void addSheet() {
    CLI::App& sheet = command(Command::sheet, "sheet", "Write the setup sheet to print and take to the machine (HTML)");
    addFiles(sheet, "JOB", "A job file (.toml)");
    addCutting(sheet, written);
    sheet.add_option("--units", written.units, "Show lengths in mm or in (default: as the job file)")
        ->type_name("mm|in");
    addReading(sheet, options);
    addOutput(sheet, options);
  }

  void addExplain() {
    CLI::App& explain = command(Command::explain, "explain", "Explain a rule; without a rule: list all of them");
    explain.add_option("RULE", options.rule, "A rule's id, such as hold-down-hit")->type_name("");
    addOutput(explain, options);
  }

  void addExport() {
    CLI::App& exporting = command(Command::export_, "export", "Write what was computed, for other programs");
    addFiles(exporting, "JOB", "A job file (.toml); none with --moves");
    exporting.add_flag("--stl", exports[Export::stl], "The cut stock as a closed surface, binary STL (mm)");
    exporting.add_flag("--ply", exports[Export::ply], "The same as binary PLY (mm)");
    exporting.add_flag("--vdb", exports[Export::vdb], "The cut stock as an OpenVDB level set (mm)");
    exporting.add_flag("--hits", exports[Export::hits], "Every move that hits a hold-down, as CSV (mm)");
    exporting.add_flag(
        "--pictures", exports[Export::pictures],
        "SVG pictures of each program from above and of each finding, into the folder given to --output");
    exporting.add_option("--moves", options.moves_of, "The interpreted moves of PROGRAM as CSV (mm, mm/min)")
        ->type_name("PROGRAM");
    addTool(exporting, options, "With --moves, a tool for G41 and G42, NUMBER=SHAPE,DIAMETER: 1=flat,6mm; may repeat");
    exporting
        .add_option("--engagement", options.engagement_of,
                    "How each move of JOB, or of one PROGRAM in it, cuts and loads its tool, as CSV (mm, W, N)")
        ->type_name("JOB [PROGRAM]")
        ->expected(1, 2);
    addCutting(exporting, written);
    addReading(exporting, options);
    addOutput(exporting, options);
    exporting.footer(
        "Without a switch the ending of --output says what is written: .stl, .ply, .vdb, or .csv for the hits.\n\n" +
        std::string(statuses));
  }

  void addShellHelp() {
    CLI::App& completions = command(Command::completions, "completions", "Write completions for a shell");
    completions.add_option("SHELL", written.shell, "bash, zsh or fish")->type_name("bash|zsh|fish");
    addOutput(completions, options);
    addOutput(command(Command::manual, "manual", "Write the manual page (roff, for man)"), options);
  }
};

OptionHelp describe(const CLI::Option& option) {
  OptionHelp help;
  help.named = option.nonpositional();
  if (help.named) {
    for (const std::string& name : option.get_snames()) help.names.push_back("-" + name);
    for (const std::string& name : option.get_lnames()) help.names.push_back("--" + name);
  } else {
    help.names.push_back(option.get_name(true));
  }
  if (option.get_items_expected_max() > 0) help.value = option.get_type_name();
  help.text = option.get_description();
  return help;
}

CommandHelp describe(const CLI::App& app, std::string name) {
  CommandHelp help{std::move(name), app.get_description(), {}};
  for (const CLI::Option* option : app.get_options()) help.options.push_back(describe(*option));
  return help;
}

}  // namespace

CommandLine readCommandLine(int argc, const char* const* argv) {
  Syntax syntax;
  CLI::App& app = syntax.app;
  Options& options = syntax.options;
  const Written& written = syntax.written;
  try {
    app.parse(argc, argv);
    if (app.get_subcommands().empty()) return {std::nullopt, exit_unusable, app.help()};
    for (const auto& [command, id] : syntax.commands) {
      if (command->parsed()) options.command = id;
    }
    options.format = formatOf(written.format, formatsOf(options.command));
    if (written.feed) options.feed_override = feedOverrideOf(*written.feed);
    if (written.units) options.units = unitsOf(*written.units);
    options.fail_on = failOnOf(written.fail_on);
    if (written.cell) options.cell_mm = cellOf(*written.cell);
    if (written.thickness) options.thickness = thicknessOf(*written.thickness);
    if (written.before) options.before_line = lineOf(*written.before);
    if (written.threads) options.threads = threadsOf(*written.threads);
    if (options.command == Command::export_) options.what = exportOf(options, syntax.exports);
    if (options.command == Command::completions) options.shell = shellOf(written.shell);
    requireInput(options);
    return {options, exit_done, {}};
  } catch (const CLI::CallForHelp&) {
    const auto chosen = app.get_subcommands();
    return {std::nullopt, exit_done, chosen.empty() ? app.help() : chosen.front()->help()};
  } catch (const CLI::CallForAllHelp&) {
    return {std::nullopt, exit_done, app.help("", CLI::AppFormatMode::All)};
  } catch (const CLI::CallForVersion& version) {
    return {std::nullopt, exit_done, std::string(version.what()) + "\n"};
  } catch (const CLI::ExtrasError&) {
    const auto words = app.remaining(true);
    return unusable(app, describeExtra(app, words.empty() ? std::string() : words.front()));
  } catch (const CLI::ParseError& error) {
    return unusable(app, visibleText(error.what()));
  } catch (const Unusable& error) {
    return unusable(app, error.what());
  }
}

ProgramHelp describeCommandLine() {
  const Syntax syntax;
  ProgramHelp help{std::string(purpose), std::string(statuses), {examples.begin(), examples.end()}, {}};
  help.commands.push_back(describe(syntax.app, {}));
  for (const auto& [command, id] : syntax.commands) help.commands.push_back(describe(*command, command->get_name()));
  return help;
}

}  // namespace provecut
