#include "report/commands/console.h"

#include <spdlog/sinks/ostream_sink.h>
#include <spdlog/sinks/stdout_sinks.h>
#include <spdlog/spdlog.h>
#include <unistd.h>

#include <cerrno>
#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <cstring>
#include <filesystem>
#include <fstream>
#include <iostream>
#include <memory>
#include <system_error>

#include "report/base/visible_text.h"
#include "report/base/wording.h"
#include "report/commands/log_file.h"
#include "report/formats/base/terminal.h"

namespace provecut {

namespace {

// https://no-color.org: set and not empty, whatever its value.
bool colourWanted(int descriptor) {
  const char* no_color = std::getenv("NO_COLOR");
  if (no_color && *no_color) return false;
  const char* terminal = std::getenv("TERM");
  return isatty(descriptor) && !(terminal && std::strcmp(terminal, "dumb") == 0);
}

bool progressWanted(const Options& options) {
  return !options.quiet && !options.verbose && colourWanted(STDERR_FILENO);
}

void logged(const Stage& stage) {
  spdlog::info("{:<10} {:8.3f} s, {} {}", stage.name, stage.time_s, stage.size, stage.of);
}

std::string placeText(const InputError& e) {
  std::string text = e.file.empty() ? "provecut" : e.file;
  if (e.place.line == 0) return text;
  text.append(":").append(std::to_string(e.place.line));
  if (e.place.column != 0) text.append(":").append(std::to_string(e.place.column));
  return text;
}

}  // namespace

namespace {

// To standard output; false, after saying so, when it fails.
bool writeToOutput(const std::function<void(std::ostream&, bool colour)>& write) {
  write(std::cout, colourWanted(STDOUT_FILENO));
  return endOutput();
}

bool writeToFile(const std::string& name, const std::function<void(std::ostream&, bool colour)>& write) {
  std::ofstream file(name, std::ios::binary | std::ios::trunc);
  if (file) write(file, false);
  file.close();
  if (file) return true;
  printCannotWrite(name);
  return false;
}

}  // namespace

bool endOutput() {
  std::cout.flush();
  if (std::cout) return true;
  printError(std::string("cannot write to standard output: ") + std::strerror(errno));
  return false;
}

bool refusesToReplace(const std::string& output, const std::filesystem::path& input) {
  std::error_code none;
  if (output.empty() || !std::filesystem::is_regular_file(input, none) ||
      !std::filesystem::equivalent(output, input, none))
    return false;
  printError("this command reads " + visibleText(output) + " and will not overwrite it; give --output another name");
  return true;
}

bool writeResult(const Options& options, const std::function<void(std::ostream&, bool colour)>& write) {
  for (const std::string& file : options.files) {
    if (refusesToReplace(options.output, file)) return false;
  }
  errno = 0;
  bool written = false;
  std::size_t bytes = 0;
  const auto counted = [&](std::ostream& out, bool colour) {
    write(out, colour);
    out.flush();  // first: asking a full disk for its place drops what was not written yet, and says nothing
    const auto end = out.tellp();
    bytes = end > 0 ? static_cast<std::size_t>(end) : 0;  // a terminal or a pipe has no place to tell
  };
  Stopwatch watch;
  watch.time([&] { written = options.output.empty() ? writeToOutput(counted) : writeToFile(options.output, counted); });
  if (bytes > 0) logged({"write", watch.time_s(), bytes, "bytes"});
  return written;
}

void printErrors(std::span<const InputError> errors) {
  const bool colour = colourWanted(STDERR_FILENO);
  constexpr std::size_t indent = 9;
  for (const InputError& e : errors) {
    const std::string place = placeText(e);
    const std::size_t used = displayWidth(place) + 9;
    const auto lines =
        wrapped(e.message, used < terminal_columns ? terminal_columns - used : 1, terminal_columns - indent);
    std::cerr << painted(place, Ink::strong, colour) << ": " << painted("error", Ink::stop, colour) << ": "
              << lines.front() << '\n';
    for (std::size_t i = 1; i < lines.size(); ++i) std::cerr << std::string(indent, ' ') << lines[i] << '\n';
    if (!e.source.text.empty()) {
      std::cerr << padLeft(std::to_string(e.place.line), indent - 3) << " | " << e.source.text << '\n';
      if (e.source.mark_end > e.source.mark_begin) {
        std::cerr << std::string(indent - 3, ' ') << " | " << std::string(e.source.mark_begin, ' ')
                  << painted(std::string(e.source.mark_end - e.source.mark_begin, '^'), Ink::stop, colour) << '\n';
      }
    }
    if (!e.help.empty()) {
      const auto help = wrapped(sentence(e.help), terminal_columns - indent, terminal_columns - indent);
      std::cerr << "   do:   " << help.front() << '\n';
      for (std::size_t i = 1; i < help.size(); ++i) std::cerr << std::string(indent, ' ') << help[i] << '\n';
    }
  }
}

void printCannotWrite(const std::string& file) {
  const int reason = errno;
  const std::filesystem::path folder = std::filesystem::path(file).parent_path();
  std::error_code error;
  const bool no_folder = reason == ENOENT && !folder.empty() && !std::filesystem::exists(folder, error);
  printError("cannot write " + visibleText(file) + ": " +
             (no_folder ? "there is no folder " + visibleText(folder.string()) : std::string(std::strerror(reason))));
}

void printError(std::string_view message) {
  std::cerr << "provecut: " << message << '\n';
}

bool resultIsShown(const Options& options) {
  return options.output.empty() && options.format == Format::text;
}

LoadOptions loadOptions(const Options& options) {
  LoadOptions load;
  load.strict = options.strict;
  load.block_delete = options.block_delete;
  load.cell_mm = options.cell_mm;
  load.threads = options.threads;
  load.stage = logged;
  if (options.units != Units::as_job) load.show_inches = options.units == Units::in;
  if (progressWanted(options)) {
    // Nothing is shown for what is done within a second.
    load.progress = [begun = std::chrono::steady_clock::now()](std::string_view doing, int done, int of) {
      if (std::chrono::steady_clock::now() - begun < std::chrono::seconds(1)) return;
      std::cerr << "\r\x1b[K" << doing << " program " << done + 1 << " of " << of << std::flush;
    };
  }
  return load;
}

void endProgress(const Options& options) {
  if (progressWanted(options)) std::cerr << "\r\x1b[K" << std::flush;
}

bool startLog(const Options& options, std::ofstream& file) {
  std::vector<spdlog::sink_ptr> sinks;
  if (options.verbose) sinks.push_back(std::make_shared<spdlog::sinks::stderr_sink_mt>());
  if (options.log_file) {
    if (const std::string why = openLogFile(*options.log_file, options.output, file); !why.empty()) {
      printError(why);
      return false;
    }
    sinks.push_back(std::make_shared<spdlog::sinks::ostream_sink_mt>(file));
  }
  auto log = std::make_shared<spdlog::logger>("provecut", sinks.begin(), sinks.end());
  log->set_pattern(std::string(log_prefix) + "%v");
  log->set_level(spdlog::level::info);
  spdlog::set_default_logger(std::move(log));
  return true;
}

bool endLog(const Options& options, std::ofstream& file) {
  spdlog::shutdown();
  if (!options.log_file) return true;
  errno = 0;
  file.close();
  if (file) return true;
  printError("cannot write " + visibleText(*options.log_file) + ": " + std::strerror(errno));
  return false;
}

void logStage(std::string_view name, const std::function<void()>& work, const std::function<std::size_t()>& size,
              std::string_view of) {
  Stopwatch watch;
  watch.time(work);
  logged({name, watch.time_s(), size(), of});
}

}  // namespace provecut
