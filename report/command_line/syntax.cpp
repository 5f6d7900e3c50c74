#include "report/command_line/syntax.h"

#include <CLI/Config.hpp>
#include <CLI/Formatter.hpp>
#include <charconv>
#include <limits>
#include <memory>
#include <string>
#include <system_error>

#include "report/command_line/option_values.h"

namespace provecut {

namespace {

constexpr const char* rule_argument = "RULE";

// The help in our own words: what goes with what is said in each option's text.
class HelpFormatter : public CLI::Formatter {
 public:
  HelpFormatter() {
    column_width(30);
    label("Positionals", "Arguments");
    label("SUBCOMMAND", "COMMAND");
  }
  std::string make_option_opts(const CLI::Option* option) const override {
    const bool shown = option->nonpositional() && option->get_type_size() != 0 && !option->get_type_name().empty();
    return shown ? " " + option->get_type_name() : std::string();
  }
  std::string make_option_usage(const CLI::Option* option) const override {
    const std::string name = make_option_name(option, true);
    // The library takes an argument that may be left out for one that takes no value, where it is a single one.
    const bool may_be_left_out = option->get_items_expected_min() == 0 || option->get_name() == rule_argument;
    return may_be_left_out ? "[" + name + "]" : name;
  }
};

using Formats = std::vector<std::pair<std::string, Format>>;

// What each command can write; the first is the default.
Formats formatsOf(Command command) {
  const Formats::value_type text{"text", Format::text}, json{"json", Format::json}, html{"html", Format::html};
  if (command == Command::check) return {text, json, {"sarif", Format::sarif}, html};
  if (command == Command::quote) return {text, json, html};
  if (command == Command::place) return {text, json, {"svg", Format::svg}};
  return {text, json};
}

// A size of cells, mm.
std::optional<double> cellOf(std::string_view text) {
  const auto length = readLength(text);
  const double mm = length ? length->mm(1) : 0;
  return mm >= 0.01 && mm <= 10 ? std::optional(mm) : std::nullopt;
}

std::optional<WrittenLength> lengthAboveZero(std::string_view text) {
  const auto length = readLength(text);
  return length && length->value > 0 && length->value < 1e5 ? length : std::nullopt;
}

std::optional<WrittenLength> anyLength(std::string_view text) {
  const auto length = readLength(text);
  return length && length->value > -1e5 && length->value < 1e5 ? length : std::nullopt;
}

std::optional<std::vector<WrittenLength>> boxOf(std::string_view text) {
  const auto lengths = lengthsOf(text);
  if (!lengths || lengths->size() != 2) return std::nullopt;
  for (const WrittenLength& length : *lengths) {
    if (!(length.value > 0 && length.value < 1e5)) return std::nullopt;
  }
  return lengths;
}

// "80" or "80%", as a share.
std::optional<double> shareOf(std::string_view text) {
  if (text.ends_with("%")) text.remove_suffix(1);
  const auto percent = readNumber(text);
  return percent && *percent >= 1 && *percent <= 1000 ? std::optional(*percent / 100) : std::nullopt;
}

// A whole number from `low` to `high`, written in digits.
std::optional<std::uint32_t> wholeOf(std::string_view text, std::uint32_t low, std::uint32_t high) {
  std::uint32_t number = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), number);
  const bool read = error == std::errc() && end == text.data() + text.size();
  return read && number >= low && number <= high ? std::optional(number) : std::nullopt;
}

std::optional<std::uint32_t> lineOf(std::string_view text) {
  return wholeOf(text, 1, std::numeric_limits<std::uint32_t>::max());
}

std::optional<int> threadsOf(std::string_view text) {
  const auto number = wholeOf(text, 0, 1024);
  return number ? std::optional(static_cast<int>(*number)) : std::nullopt;
}

std::optional<std::string> nameOf(std::string_view text) {
  return text.empty() ? std::nullopt : std::optional<std::string>(text);
}

CLI::Option* addFiles(CLI::App& app, const char* name, Options& options, const char* text) {
  return app.add_option(name, options.files, text)->type_name("");
}

void addOutput(CLI::App& app, Options& options) {
  app.add_option("-o,--output", options.output, "Write the result to FILE instead of standard output")
      ->type_name("FILE");
}

void addProgress(CLI::App& app, Options& options, const char* quiet_text = "No progress",
                 const char* verbose_text = "Log each stage with its time to standard error") {
  CLI::Option* quiet = app.add_flag("-q,--quiet", options.quiet, quiet_text);
  app.add_flag("-v,--verbose", options.verbose, verbose_text)->excludes(quiet);
  addValue<std::optional<std::string>, std::string>(app, "--log-file", options.log_file, nameOf, "the name of a file",
                                                    "Log each stage with its time to FILE")
      ->type_name("FILE");
}

void addFormat(CLI::App& app, Command command, Options& options) {
  addChoice(app, "-f,--format", options.format, formatsOf(command), "How to write the result (default: text)");
}

void addUnits(CLI::App& app, Options& options) {
  const std::vector<std::pair<std::string, Units>> units{{"mm", Units::mm}, {"in", Units::in}};
  addChoice(app, "--units", options.units, units, "Show lengths in mm or in (default: as the job file)");
}

void addReading(CLI::App& app, Options& options) {
  app.add_flag("--strict", options.strict, "Read programs by the letter of the RS-274 standard");
  app.add_flag("--block-delete", options.block_delete,
               "Skip lines that begin with /, as the machine does with its switch on");
}

void addThreads(CLI::App& app, Options& options) {
  addValue<int, int>(app, "--threads", options.threads, threadsOf, "a whole number from 0 to 1024 (0: all)",
                     "Processors to use (default: all). Does not change the result")
      ->type_name("N");
}

void addCutting(CLI::App& app, Options& options) {
  addValue<double, double>(app, "--cell", options.cell_mm, cellOf, "a size from 0.01 to 10 mm, such as 0.25 or 0.01in",
                           "Cell size of the simulated cut in mm (default: the job file's, else chosen for you)")
      ->type_name("SIZE");
  addThreads(app, options);
}

CLI::Option* addTool(CLI::App& app, Options& options, const char* text) {
  return app.add_option("--tool", options.tools, text)->type_name("TOOL")->allow_extra_args(false);
}

void addTiming(CLI::App& app, Options& options) {
  addValue<double, double>(app, "--feed", options.feed_override, shareOf, "a percentage from 1 to 1000, such as 80",
                           "Feed override of the machine in percent (default: 100)")
      ->type_name("PERCENT");
  addUnits(app, options);
  addReading(app, options);
  addOutput(app, options);
  addProgress(app, options);
}

void addCheck(CLI::App& app, Options& options) {
  addFiles(app, "FILES", options, "Job files (.toml), or programs");
  app.add_option("--stock", options.stock, "Without a job file: size of the stock, 420x130x19.05mm or 16x5x0.75in")
      ->type_name("XxYxZ");
  addTool(app, options,
          "Without a job file: a tool, NUMBER=SHAPE,DIAMETER such as 1=flat,6mm; repeat it for more tools");
  using Length = WrittenLength;
  addValue<std::optional<Length>, Length>(app, "--thickness", options.thickness, lengthAboveZero,
                                          "what the stock measures, such as 18.7, 18.7mm or 0.736in",
                                          "Measured thickness of the stock, in place of the job file's")
      ->type_name("THICK");
  addFormat(app, Command::check, options);
  addUnits(app, options);
  using Levels = std::optional<Level>;
  const std::vector<std::pair<std::string, Levels>> levels{
      {"stop", Level::stop}, {"look", Level::look}, {"note", Level::note}, {"never", std::nullopt}};
  addChoice(app, "--fail-on", options.fail_on, levels, "Exit with 1 at this level and above (default: stop)");
  addCutting(app, options);
  addReading(app, options);
  addOutput(app, options);
  addProgress(app, options, "Only likely causes and findings (stop and check first), one line each; no progress",
              "Also list every move that hits, and log each stage with its time to standard error");
  std::string examples = "Examples:\n";
  for (const std::string& line : exampleLines()) examples += "  " + line + "\n";
  app.footer(examples + "\n" + std::string(check_statuses));
}

void addInit(CLI::App& app, Options& options) {
  addFiles(app, "PROGRAMS", options, "Programs, in the order they run");
  addReading(app, options);
  addOutput(app, options);
  addProgress(app, options);
}

void addTime(CLI::App& app, Options& options) {
  addFiles(app, "FILES", options, "Job files (.toml), or programs");
  app.add_flag("--fit", options.fit, "Fit acceleration and junction deviation to the job's measured times");
  app.add_flag("--lines", options.lines, "Add the time of each line (JSON only)");
  addFormat(app, Command::time, options);
  addTiming(app, options);
}

void addQuote(CLI::App& app, Options& options) {
  addFiles(app, "FILES", options, "Job files (.toml)");
  addFormat(app, Command::quote, options);
  addTiming(app, options);
}

void addPlace(CLI::App& app, Options& options) {
  using Length = WrittenLength;
  PlaceOptions& place = options.place;
  addFiles(app, "FILE", options, "A job file (.toml)");
  CLI::Option* diameter =
      addValue<std::optional<Length>, Length>(
          app, "--diameter", place.diameter, lengthAboveZero, "a length above 0, such as 9.5mm",
          "Find spots for a round hold-down of this diameter, such as 9.5mm (with --top, not with --size)")
          ->type_name("SIZE");
  CLI::Option* size =
      addValue<std::optional<std::vector<Length>>, std::vector<Length>>(
          app, "--size", place.size, boxOf, "two lengths above 0, such as 60x20mm",
          "Find spots for a rectangular one of this size, such as 60x20mm (with --top, not with --diameter)")
          ->type_name("XxY")
          ->excludes(diameter);
  addValue<std::optional<double>, double>(app, "--angle", place.angle_deg, readNumber, "degrees, such as 30",
                                          "Angle of a rectangular one in degrees, counter-clockwise (with --size)")
      ->type_name("DEGREES")
      ->needs(size);
  CLI::Option* top =
      addValue<std::optional<Length>, Length>(app, "--top", place.top, anyLength, "a length, such as 3.5mm",
                                              "Height of its top above the stock's top face")
          ->type_name("HEIGHT");
  diameter->needs(top);
  size->needs(top);
  addValue<std::optional<Length>, Length>(
      app, "--resolution", place.resolution, lengthAboveZero, "a length from 0.05 to 20 mm",
      "Some free space within this distance of an edge may not be shown (default: 1 mm)")
      ->type_name("SIZE");
  addFormat(app, Command::place, options);
  addUnits(app, options);
  addThreads(app, options);
  addReading(app, options);
  addOutput(app, options);
  addProgress(app, options);
  app.footer(
      "With --format svg: if --output is a folder (or ends in /), one picture per program; else one picture with all.\n"
      "Without --diameter or --size: spots for the job's own hold-downs.\n\n" +
      std::string(other_statuses));
}

void addResume(CLI::App& app, Options& options) {
  addFiles(app, "FILE", options, "A job file (.toml)");
  addValue<std::optional<std::uint32_t>, std::uint32_t>(
      app, "--before", options.before_line, lineOf, "a line number, from 1",
      "Show only the last line to resume from, at or before LINE of each program")
      ->type_name("LINE");
  addFormat(app, Command::resume, options);
  addUnits(app, options);
  addReading(app, options);
  addOutput(app, options);
  addProgress(app, options);
}

void addSheet(CLI::App& app, Options& options) {
  addFiles(app, "JOB", options, "A job file (.toml)");
  addCutting(app, options);
  addUnits(app, options);
  addReading(app, options);
  addOutput(app, options);
  addProgress(app, options);
}

void addLock(CLI::App& app, Options& options) {
  addFiles(app, "JOB", options, "A job file (.toml)");
  app.add_flag("--update", options.update, "Replace a lock file that has other programs");
  addCutting(app, options);
  addUnits(app, options);
  addReading(app, options);
  addProgress(app, options);
  app.footer(
      "JOB.lock keeps each program's SHA-256, size, first comments, moves, depth, tools and extents. From then on "
      "check\n"
      "and sheet say which program is not the one that was locked, and what differs.\n\n" +
      std::string(other_statuses));
}

void addExplain(CLI::App& app, Options& options) {
  app.add_option(rule_argument, options.rule, "A rule's id, such as hold-down-hit; without one, all rules are listed")
      ->type_name("");
  addOutput(app, options);
}

void addExport(CLI::App& app, Options& options, std::vector<Export>& exports) {
  addFiles(app, "JOB", options, "A job file (.toml); none with --moves or --engagement")
      ->expected(0, CLI::detail::expected_max_vector_size);
  const auto kind = [&](const char* name, Export what, const char* text) {
    app.add_flag_callback(
        name, [&exports, what] { exports.push_back(what); }, text);
  };
  kind("--stl", Export::stl, "The cut stock as a closed surface, binary STL (mm)");
  kind("--ply", Export::ply, "The same as binary PLY (mm)");
  kind("--vdb", Export::vdb, "The cut stock as an OpenVDB level set (mm)");
  kind("--hits", Export::hits, "Every move that hits a hold-down, as CSV (mm)");
  kind("--parts", Export::parts,
       "Every part and offcut: which line cuts it out, what holds it and what becomes of it, as JSON (mm); with "
       "--output FILE.json also the outlines, into FILE.svg");
  kind("--pictures", Export::pictures,
       "SVG pictures of each program from above and of each finding, into the folder given to --output");
  CLI::Option* moves =
      app.add_option("--moves", options.moves_of, "The moves of PROGRAM as provecut read them, as CSV (mm, mm/min)")
          ->type_name("PROGRAM");
  addTool(app, options,
          "With --moves: a tool for G41 and G42, NUMBER=SHAPE,DIAMETER such as 1=flat,6mm; repeat it for more tools")
      ->needs(moves);
  app.add_option(
         "--engagement", options.engagement_of,
         "How each move of JOB, or of one PROGRAM in it, cuts and loads its tool, as CSV (mm, W, N; not with --moves)")
      ->type_name("JOB [PROGRAM]")
      ->expected(1, 2)
      ->excludes(moves);
  addCutting(app, options);
  addReading(app, options);
  addOutput(app, options);
  addProgress(app, options, "No progress; with --moves no findings");
  app.footer(
      "Without a switch the ending of --output decides: .stl, .ply, .vdb, .csv for the hits, or .json for the "
      "parts.\n\n" +
      std::string(other_statuses));
}

void addCompletions(CLI::App& app, Options& options) {
  const std::vector<std::pair<std::string, Shell>> shells{
      {"bash", Shell::bash}, {"zsh", Shell::zsh}, {"fish", Shell::fish}};
  addChoice(app, "SHELL", options.shell, shells, "bash, zsh or fish");
  addOutput(app, options);
}

}  // namespace

std::vector<std::string> exampleLines() {
  return {"provecut check job.toml",
          "provecut check front-door.toml back-door.toml",
          "provecut check a.nc b.nc --stock 420x130x19.05mm --tool 1=flat,6mm",
          "provecut check job.toml --thickness 18.7",
          "provecut check job.toml --format json --output report.json --fail-on look",
          "provecut sheet job.toml --output sheet.html",
          "provecut lock job.toml",
          "provecut export job.toml --output board.stl",
          "provecut explain hold-down-hit"};
}

Syntax::Syntax() : app(std::string(purpose), "provecut") {
  app.formatter(std::make_shared<HelpFormatter>());  // the commands inherit it
  app.set_version_flag("--version", "provecut " PROVECUT_VERSION);
  app.footer(std::string(other_statuses));  // the commands inherit it
  const auto command = [&](Command id, const char* name, const char* text) -> CLI::App& {
    return *commands.emplace_back(app.add_subcommand(name, text)->group("Commands"), id).first;
  };
  addCheck(command(Command::check, "check", "Check job files, or programs alone"), options);
  addInit(command(Command::init, "init", "Write a first job file from programs"), options);
  addTime(command(Command::time, "time", "Show how long programs take, where the time goes and what is slow"), options);
  addQuote(
      command(Command::quote, "quote", "Work out what to charge, from [quote] in the job file and the planned time"),
      options);
  addPlace(command(Command::place, "place", "Show where hold-downs can go, program by program"), options);
  addResume(command(Command::resume, "resume",
                    "Show the lines at which a stopped program can be resumed, and what to set first"),
            options);
  addSheet(command(Command::sheet, "sheet", "Write the setup sheet to print and take to the machine (HTML)"), options);
  addLock(command(Command::lock, "lock", "Check a job, and record which exports of its programs were checked"),
          options);
  addExplain(command(Command::explain, "explain", "Explain a rule; without a rule, list all of them"), options);
  addExport(
      command(Command::export_, "export", "Write the cut stock, parts, hits, moves or pictures for other programs"),
      options, exports);
  addCompletions(command(Command::completions, "completions", "Write completions for a shell"), options);
  addOutput(command(Command::manual, "manual", "Write the manual page (roff, for man)"), options);
  app.footer(std::string(statuses));
}

}  // namespace provecut
