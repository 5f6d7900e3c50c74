#include "report/facts/load.h"

#include <ctime>
#include <filesystem>
#include <iterator>
#include <system_error>
#include <utility>

#include "parser/base/units.h"
#include "parser/interpreter/interpreter.h"
#include "parser/job/real_thickness.h"
#include "parser/job_file/job_file.h"
#include "parser/job_file/lock_file.h"
#include "report/base/dimension_text.h"
#include "report/base/text_file.h"
#include "report/facts/job_programs.h"
#include "report/facts/spindle_by_hand.h"
#include "sim/run.h"

namespace provecut {

namespace {

constexpr std::size_t source_line_cells = 88;

InputError errorAt(const std::string& file, std::string_view text, Place place, std::string message, std::string help) {
  const std::string_view line = lineOfText(text, place.line);
  const ShownPlace shown = shownPlace(line, place);
  return {visibleText(file), shown, excerptOf(line, shown, source_line_cells), visibleText(message), visibleText(help)};
}

// True if any line holds a word, a letter with a number behind it, outside comments.
bool hasBlock(std::string_view text) {
  bool in_comment = false, to_line_end = false, after_letter = false;
  for (const char c : text) {
    if (c == '\n' || c == '\r') {
      in_comment = to_line_end = after_letter = false;
    } else if (to_line_end || c == ' ' || c == '\t') {
      continue;
    } else if (in_comment) {
      in_comment = c != ')';
    } else if (c == ';') {
      to_line_end = true;
    } else if (c == '(') {
      in_comment = true;
    } else if (after_letter &&
               (std::string_view("+-.[#<").find(c) != std::string_view::npos || (c >= '0' && c <= '9'))) {
      return true;
    } else {
      after_letter = (c >= 'A' && c <= 'Z') || (c >= 'a' && c <= 'z');
    }
  }
  return false;
}

struct ProgramText {
  std::string bytes, error, help;
};

ProgramText readProgramText(const std::string& path) {
  TextFile file = readTextFile(path);
  if (!file.error.empty()) return {{}, std::move(file.error), std::move(file.help)};
  if (!hasBlock(file.bytes))
    return {{}, "no G-code in it (no letter followed by a number)", "Check that this is a G-code program."};
  return {std::move(file.bytes), {}, {}};
}

InterpreterOptions interpreterOptions(const Job& job, const Setup& setup, int tool_in_spindle,
                                      const LoadOptions& options) {
  InterpreterOptions o;
  o.tool_in_spindle = tool_in_spindle;
  o.strict = options.strict;
  o.block_delete = options.block_delete;
  o.resume_line = options.resume_line;
  o.zero_in_machine = setup.zero_in_machine_mm;
  o.top_of_travel_mm = job.machine.travel_mm.z;
  for (const Tool& tool : job.tools) o.tool_diameter_mm[tool.number] = tool.diameter_mm;
  o.work_offset_mm = setup.work_offset_mm;
  return o;
}

// Where a program's file is, and how a message names it.
std::string pathOf(const Job& job, const ProgramEntry& entry) {
  const std::filesystem::path file(entry.file);
  return (std::filesystem::path(job.file).parent_path() / file).string();
}

void say(const LoadOptions& options, std::string_view doing, std::size_t done, std::size_t of) {
  if (options.progress) options.progress(doing, static_cast<int>(done), static_cast<int>(of));
}

std::vector<InputError> readPrograms(Facts& facts) {
  std::vector<InputError> errors;
  for (const Setup& setup : facts.job.setups) {
    for (const ProgramEntry& entry : setup.programs) {
      ProgramText text = readProgramText(pathOf(facts.job, entry));
      if (!text.error.empty()) {
        const std::string message = "cannot read program " + entry.file + ": " + text.error;
        std::error_code code;
        const bool missing = !std::filesystem::exists(pathOf(facts.job, entry), code);
        const bool backslash = entry.file.find('\\') != std::string::npos;
        const std::string help = missing && backslash ? "Write / in place of \\, and a path from the job file's folder."
                                 : missing            ? "Correct the name. It counts from the job file's folder."
                                                      : text.help;
        errors.push_back(facts.job.file.empty()
                             ? errorAt(entry.file, {}, {}, "cannot read this program: " + text.error, text.help)
                             : errorAt(facts.job.file, facts.job_text, entry.place, message, help));
        continue;
      }
      ProgramFacts& program = facts.programs.emplace_back();
      program.setup = &setup;
      program.entry = &entry;
      program.line_starts = lineStarts(text.bytes);
      program.text = std::move(text.bytes);
    }
  }
  if (errors.empty() && facts.programs.empty()) {
    errors.push_back(errorAt(facts.job.file, {}, {}, "the job has no program",
                             "Add a [[setup.program]] with file = \"...\" to the setup."));
  }
  return errors;
}

void interpretAll(Facts& facts, const LoadOptions& options) {
  int in_spindle = 0;
  for (std::size_t i = 0; i < facts.programs.size(); ++i) {
    ProgramFacts& p = facts.programs[i];
    say(options, "reading", i, facts.programs.size());
    // What the program before left in the spindle, where the job does not say.
    if (p.entry->tool != 0) in_spindle = p.entry->tool;
    p.program = interpret(p.text, interpreterOptions(facts.job, *p.setup, in_spindle, options));
    setSpindleByHand(facts.job, *p.entry, p.program);
    if (!p.program.motions.empty()) in_spindle = p.program.motions.back().tool;
  }
}

void simulate(Facts& facts, const LoadOptions& options) {
  RunOptions run_options;
  run_options.cell_mm = options.cell_mm;
  run_options.threads = options.threads;
  run_options.finished_stock = options.finished_stock;
  run_options.outlines = options.outlines;
  run_options.tabs = options.tabs;
  run_options.replay = options.replay;
  run_options.stage = options.stage;
  run_options.progress = [&](int program, int of) { say(options, "cutting", program, of); };
  const std::clock_t begun = std::clock();
  facts.run = run(facts.job, programsOf(facts), run_options);
  facts.run_s = static_cast<double>(std::clock() - begun) / CLOCKS_PER_SEC;
}

// The lock beside the job file, if there is one. One that cannot be read must not pass for none.
std::vector<InputError> readLockBeside(Facts& facts) {
  const std::string path = lockFileOf(facts.job.file);
  std::error_code code;
  if (!std::filesystem::exists(path, code) && !code) return {};
  const std::string help = "Check the job, then replace the lock: provecut lock --update " + facts.job.file;
  TextFile file = readTextFile(path);
  if (!file.error.empty()) return {errorAt(path, {}, {}, "cannot read the lock file: " + file.error, help)};
  LockReading reading = readLock(file.bytes);
  if (!reading.lock) {  // the first complaint says enough: nobody mends such a file by hand
    const JobFileProblem& p = reading.problems.front();
    return {errorAt(path, file.bytes, p.place, p.message, help)};
  }
  facts.lock = std::move(reading.lock);
  facts.lock_file = path;
  return {};
}

Loading finish(std::unique_ptr<Facts> facts, const LoadOptions& options) {
  facts->strict = options.strict;
  facts->job_file_in_inches = facts->job.inches;
  if (options.show_inches) facts->job.inches = *options.show_inches;
  Stopwatch reading;
  std::vector<InputError> errors;
  reading.time([&] {
    errors = readPrograms(*facts);
    if (options.read_lock) {
      std::vector<InputError> lock_errors = readLockBeside(*facts);
      std::move(lock_errors.begin(), lock_errors.end(), std::back_inserter(errors));
    }
    if (errors.empty()) interpretAll(*facts, options);
  });
  if (!errors.empty()) return {nullptr, std::move(errors)};
  if (options.stage) {
    std::size_t lines = 0;
    for (const ProgramFacts& p : facts->programs) lines += p.line_starts.size();
    options.stage({"read", reading.time_s(), lines, "lines"});
  }
  if (options.cut) simulate(*facts, options);
  return {std::move(facts), {}};
}

}  // namespace

Loading loadJobFile(const std::string& path, const LoadOptions& options) {
  TextFile file = readTextFile(path);
  if (!file.error.empty()) {
    return {nullptr, {errorAt(path, {}, {}, "cannot read the job file: " + file.error, file.help)}};
  }
  JobReading reading = readJob(file.bytes, path);
  Loading loading;
  for (const JobFileProblem& p : reading.problems) {
    loading.errors.push_back(errorAt(path, file.bytes, p.place, p.message, p.help));
  }
  if (!reading.job) return loading;
  auto facts = std::make_unique<Facts>();
  facts->job = std::move(*reading.job);
  facts->job.file = path;
  facts->job_text = std::move(file.bytes);
  if (options.thickness) {
    const double said_mm = facts->job.stock.size_mm.z;
    const double real_mm =
        *options.thickness * options.thickness_mm_per_unit.value_or(facts->job.inches ? mm_per_inch : 1);
    // A slip of the unit or of the point is no stock's tolerance.
    if (real_mm < said_mm / 2 || real_mm > said_mm * 2) {
      return {nullptr,
              {errorAt(path, {}, {},
                       "--thickness " + dimensionWithUnit(facts->job, real_mm) + " is far from the job file's " +
                           dimensionWithUnit(facts->job, said_mm),
                       "Check the number. Without a unit it counts in the job file's unit.")}};
    }
    facts->said_thickness_mm = said_mm;
    setRealThickness(facts->job, real_mm);
  }
  return finish(std::move(facts), options);
}

Loading loadJob(Job job, std::vector<std::string> assumed, const LoadOptions& options) {
  auto facts = std::make_unique<Facts>();
  facts->job = std::move(job);
  facts->assumed = std::move(assumed);
  return finish(std::move(facts), options);
}

std::unique_ptr<Facts> factsUnder(const Facts& facts, const OtherDescription& other, const LoadOptions& options) {
  auto made = std::make_unique<Facts>();
  made->job = other.job;
  made->job_text = facts.job_text;
  made->job_file_in_inches = facts.job_file_in_inches;
  made->assumed = facts.assumed;
  made->strict = facts.strict;
  made->said_thickness_mm = facts.said_thickness_mm;
  made->lock = facts.lock;
  made->lock_file = facts.lock_file;
  auto source = other.programs.begin();
  int in_spindle = 0;
  for (const Setup& setup : made->job.setups) {
    for (const ProgramEntry& entry : setup.programs) {
      const bool own = source->text.empty();
      const bool as_before = own && !source->other_unit && !source->arc_centres_absolute && !source->read_again;
      ProgramFacts& p = made->programs.emplace_back();
      p.setup = &setup;
      p.entry = &entry;
      p.text = own ? facts.programs[source->of].text : source->text;
      p.line_starts = lineStarts(p.text);
      if (entry.tool != 0) in_spindle = entry.tool;
      if (as_before) {
        p.program = facts.programs[source->of].program;
      } else {
        InterpreterOptions reading = interpreterOptions(made->job, setup, in_spindle, options);
        reading.other_unit = source->other_unit;
        reading.arc_centres_absolute = source->arc_centres_absolute;
        p.program = interpret(p.text, reading);
        setSpindleByHand(made->job, entry, p.program);
      }
      if (!p.program.motions.empty()) in_spindle = p.program.motions.back().tool;
      ++source;
    }
  }
  simulate(*made, options);
  return made;
}

ProgramLoading loadProgram(const std::string& path, const LoadOptions& options, std::span<const Tool> tools) {
  ProgramLoading loading;
  ProgramText text = readProgramText(path);
  if (!text.error.empty()) {
    loading.errors.push_back(errorAt(path, {}, {}, "cannot read this program: " + text.error, text.help));
    return loading;
  }
  InterpreterOptions interpreter_options;
  interpreter_options.strict = options.strict;
  interpreter_options.block_delete = options.block_delete;
  for (const Tool& tool : tools) interpreter_options.tool_diameter_mm[tool.number] = tool.diameter_mm;
  if (tools.size() == 1) interpreter_options.tool_in_spindle = tools.front().number;
  loading.facts.line_starts = lineStarts(text.bytes);
  loading.facts.text = std::move(text.bytes);
  loading.facts.program = interpret(loading.facts.text, interpreter_options);
  return loading;
}

}  // namespace provecut
