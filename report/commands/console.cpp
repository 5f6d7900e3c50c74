#include "report/commands/console.h"

#include <spdlog/sinks/stdout_sinks.h>
#include <spdlog/spdlog.h>
#include <unistd.h>

#include <cerrno>
#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <cstring>
#include <fstream>
#include <iostream>
#include <memory>
#include <sstream>

#include "report/base/visible_text.h"
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

std::string placeText(const InputError& e) {
  std::string text = e.file.empty() ? "provecut" : e.file;
  if (e.place.line == 0) return text;
  text.append(":").append(std::to_string(e.place.line));
  if (e.place.column != 0) text.append(":").append(std::to_string(e.place.column));
  return text;
}

}  // namespace

bool writeResult(const Options& options, const std::function<void(std::ostream&, bool colour)>& write) {
  errno = 0;
  if (options.output.empty()) {
    write(std::cout, colourWanted(STDOUT_FILENO));
    std::cout.flush();
    if (std::cout) return true;
    printError(std::string("standard output cannot be written: ") + std::strerror(errno));
    return false;
  }
  std::ofstream file(options.output, std::ios::binary | std::ios::trunc);
  if (file) write(file, false);
  file.close();
  if (file) return true;
  printError(visibleText(options.output) + " cannot be written: " + std::strerror(errno));
  return false;
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
      const auto help = wrapped(e.help, terminal_columns - indent, terminal_columns - indent);
      std::cerr << "   do:   " << help.front() << '\n';
      for (std::size_t i = 1; i < help.size(); ++i) std::cerr << std::string(indent, ' ') << help[i] << '\n';
    }
  }
}

void printError(std::string_view message) {
  std::cerr << "provecut: " << message << '\n';
}

LoadOptions loadOptions(const Options& options) {
  LoadOptions load;
  load.strict = options.strict;
  load.block_delete = options.block_delete;
  load.cell_mm = options.cell_mm;
  load.threads = options.threads;
  if (options.units != Units::as_job) load.show_inches = options.units == Units::in;
  if (progressWanted(options)) {
    // Nothing is shown for what is done within a second.
    load.progress = [begun = std::chrono::steady_clock::now()](std::string_view doing, int done, int of) {
      if (std::chrono::steady_clock::now() - begun < std::chrono::seconds(1)) return;
      std::cerr << "\r\x1b[K" << doing << " program " << done + 1 << " of " << of << std::flush;
    };
  } else if (options.verbose) {
    load.progress = [](std::string_view doing, int done, int of) {
      spdlog::info("{} program {} of {}", doing, done + 1, of);
    };
  }
  return load;
}

void endProgress(const Options& options) {
  if (progressWanted(options)) std::cerr << "\r\x1b[K" << std::flush;
}

void startLog(const Options& options) {
  auto log = std::make_shared<spdlog::logger>("provecut", std::make_shared<spdlog::sinks::stderr_sink_mt>());
  log->set_pattern("provecut %E.%e: %v");
  log->set_level(options.verbose ? spdlog::level::info : spdlog::level::warn);
  spdlog::set_default_logger(std::move(log));
}

}  // namespace provecut
