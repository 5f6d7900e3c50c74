#include "report/command_line/syntax.h"

#include <CLI/Config.hpp>
#include <CLI/Formatter.hpp>
#include <limits>
#include <string>

#include "report/command_line/option_values.h"

namespace provecut {

namespace {

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

std::optional<std::uint32_t> lineOf(std::string_view text) {
  const auto number = text.find('/') == std::string_view::npos ? readNumber(text) : std::nullopt;
  const bool whole = number && *number >= 1 && *number <= std::numeric_limits<std::uint32_t>::max() &&
                     *number == static_cast<double>(static_cast<std::uint32_t>(*number));
  return whole ? std::optional(static_cast<std::uint32_t>(*number)) : std::nullopt;
}

std::optional<std::string> nameOf(std::string_view text) {
  return text.empty() ? std::nullopt : std::optional<std::string>(text);
}

void addFiles(CLI::App& app, const char* name, Options& options, const char* text) {
  app.add_option(name, options.files, text)->type_name("");
}

void addOutput(CLI::App& app, Options& options) {
  app.add_option("-o,--output", options.output, "Write the result to FILE instead of standard output")
      ->type_name("FILE");
  CLI::Option* quiet =
      app.add_flag("-q,--quiet", options.quiet, "Findings only, one line each: no notes, no summary, no progress");
  app.add_flag("-v,--verbose", options.verbose,
               "Also list every move that hits, and log each stage with its time to standard error")
      ->excludes(quiet);
  addValue<std::optional<std::string>, std::string>(app, "--log-file", options.log_file, nameOf, "the name of a file",
                                                    "Write that log to FILE")
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
  app.add_option("--threads", options.threads, "Processors to use (default: all); the result is the same")
      ->check(CLI::Range(0, 1024).description(""))
      ->type_name("N");
}

void addCutting(CLI::App& app, Options& options) {
  addValue<double, double>(app, "--cell", options.cell_mm, cellOf, "a size from 0.01 to 10 mm, such as 0.25 or 0.01in",
                           "Cell size of the cut, mm (default: from the job, else chosen)")
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
}

void addCheck(CLI::App& app, Options& options) {
  addFiles(app, "FILES", options, "Job files (.toml), or programs");
  app.add_option("--stock", options.stock, "Without a job file: size of the stock, 420x130x19.05mm or 16x5x0.75in")
      ->type_name("XxYxZ");
  addTool(app, options, "Without a job file: a tool, NUMBER=SHAPE,DIAMETER such as 1=flat,6mm; may repeat");
  using Length = WrittenLength;
  addValue<std::optional<Length>, Length>(app, "--thickness", options.thickness, lengthAboveZero,
                                          "what the stock measures, such as 18.7, 18.7mm or 0.736in",
                                          "What the stock really measures, instead of the job file's thickness")
      ->type_name("THICK");
  addFormat(app, Command::check, options);
  addUnits(app, options);
  using Levels = std::optional<Level>;
  const std::vector<std::pair<std::string, Levels>> levels{
      {"stop", Level::stop}, {"look", Level::look}, {"note", Level::note}, {"never", std::nullopt}};
  addChoice(app, "--fail-on", options.fail_on, levels, "Exit with 1 from this level on (default: stop)");
  addCutting(app, options);
  addReading(app, options);
  addOutput(app, options);
  std::string examples = "Examples:\n";
  for (const std::string& line : exampleLines()) examples += "  " + line + "\n";
  app.footer(examples + "\n" + std::string(statuses));
}

void addInit(CLI::App& app, Options& options) {
  addFiles(app, "PROGRAMS", options, "Programs, in the order they run");
  addReading(app, options);
  addOutput(app, options);
}

void addTime(CLI::App& app, Options& options) {
  addFiles(app, "FILES", options, "Job files (.toml), or programs");
  app.add_flag("--fit", options.fit, "Fit acceleration and junction deviation to the job's measured times");
  app.add_flag("--lines", options.lines, "Also the seconds of each line (with --format json)");
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
  CLI::Option* diameter = addValue<std::optional<Length>, Length>(
                              app, "--diameter", place.diameter, lengthAboveZero, "a length above 0, such as 9.5mm",
                              "Find places for a round hold-down of this diameter: 9.5 or 9.5mm")
                              ->type_name("SIZE");
  CLI::Option* size = addValue<std::optional<std::vector<Length>>, std::vector<Length>>(
                          app, "--size", place.size, boxOf, "two lengths above 0, such as 60x20mm",
                          "... or for a box of this size: 60x20")
                          ->type_name("XxY")
                          ->excludes(diameter);
  addValue<std::optional<double>, double>(app, "--angle", place.angle_deg, readNumber, "degrees, such as 30",
                                          "Angle of the box, degrees counter-clockwise")
      ->type_name("DEGREES")
      ->needs(size);
  CLI::Option* top =
      addValue<std::optional<Length>, Length>(app, "--top", place.top, anyLength, "a length, such as 3.5mm",
                                              "Height of its top above the stock's top face")
          ->type_name("HEIGHT");
  diameter->needs(top);
  size->needs(top);
  addValue<std::optional<Length>, Length>(app, "--resolution", place.resolution, lengthAboveZero,
                                          "a length from 0.05 to 20 mm",
                                          "Free space within this distance of its edge may be missed (default 1 mm)")
      ->type_name("SIZE");
  addFormat(app, Command::place, options);
  addUnits(app, options);
  addThreads(app, options);
  addReading(app, options);
  addOutput(app, options);
  app.footer(
      "With --format svg: an --output that is a folder (or ends in /) gets one picture per program; otherwise all go "
      "into one.\n"
      "Without --diameter or --size: places for the job's own hold-downs.\n\n" +
      std::string(statuses));
}

void addResume(CLI::App& app, Options& options) {
  addFiles(app, "FILE", options, "A job file (.toml)");
  addValue<std::optional<std::uint32_t>, std::uint32_t>(app, "--before", options.before_line, lineOf,
                                                        "a line number, from 1",
                                                        "Only the last such line at or before LINE of each program")
      ->type_name("LINE");
  addFormat(app, Command::resume, options);
  addUnits(app, options);
  addReading(app, options);
  addOutput(app, options);
}

void addSheet(CLI::App& app, Options& options) {
  addFiles(app, "JOB", options, "A job file (.toml)");
  addCutting(app, options);
  addUnits(app, options);
  addReading(app, options);
  addOutput(app, options);
}

void addExplain(CLI::App& app, Options& options) {
  app.add_option("RULE", options.rule, "A rule's id, such as hold-down-hit")->type_name("");
  addOutput(app, options);
}

void addExport(CLI::App& app, Options& options, std::vector<Export>& exports) {
  addFiles(app, "JOB", options, "A job file (.toml); none with --moves");
  const auto kind = [&](const char* name, Export what, const char* text) {
    app.add_flag_callback(
        name, [&exports, what] { exports.push_back(what); }, text);
  };
  kind("--stl", Export::stl, "The cut stock as a closed surface, binary STL (mm)");
  kind("--ply", Export::ply, "The same as binary PLY (mm)");
  kind("--vdb", Export::vdb, "The cut stock as an OpenVDB level set (mm)");
  kind("--hits", Export::hits, "Every move that hits a hold-down, as CSV (mm)");
  kind("--pictures", Export::pictures,
       "SVG pictures of each program from above and of each finding, into the folder given to --output");
  CLI::Option* moves =
      app.add_option("--moves", options.moves_of, "The moves of PROGRAM as they were read, as CSV (mm, mm/min)")
          ->type_name("PROGRAM");
  addTool(app, options, "With --moves: a tool for G41 and G42, NUMBER=SHAPE,DIAMETER such as 1=flat,6mm; may repeat")
      ->needs(moves);
  app.add_option("--engagement", options.engagement_of,
                 "How each move of JOB, or of one PROGRAM in it, cuts and loads its tool, as CSV (mm, W, N)")
      ->type_name("JOB [PROGRAM]")
      ->expected(1, 2)
      ->excludes(moves);
  addCutting(app, options);
  addReading(app, options);
  addOutput(app, options);
  app.footer("Without a switch the ending of --output decides: .stl, .ply, .vdb, or .csv for the hits.\n\n" +
             std::string(statuses));
}

void addCompletions(CLI::App& app, Options& options) {
  const std::vector<std::pair<std::string, Shell>> shells{
      {"bash", Shell::bash}, {"zsh", Shell::zsh}, {"fish", Shell::fish}};
  addChoice(app, "SHELL", options.shell, shells, "bash, zsh or fish")->required();
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
          "provecut export job.toml --output board.stl",
          "provecut explain hold-down-hit"};
}

Syntax::Syntax() : app(std::string(purpose), "provecut") {
  app.set_version_flag("--version", "provecut " PROVECUT_VERSION);
  app.footer(std::string(statuses));
  const auto command = [&](Command id, const char* name, const char* text) -> CLI::App& {
    return *commands.emplace_back(app.add_subcommand(name, text), id).first;
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
  addExplain(command(Command::explain, "explain", "Explain a rule; without a rule, list all of them"), options);
  addExport(command(Command::export_, "export", "Write the cut stock, hits, moves or pictures for other programs"),
            options, exports);
  addCompletions(command(Command::completions, "completions", "Write completions for a shell"), options);
  addOutput(command(Command::manual, "manual", "Write the manual page (roff, for man)"), options);
  app.get_formatter()->column_width(30);
  for (const auto& [added, id] : commands) added->get_formatter()->column_width(30);
}

}  // namespace provecut
