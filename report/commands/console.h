// Where a command's words go: results to standard output or a file; errors and progress to standard error; the log of
// stages there with --verbose, and to --log-file.
#pragma once

#include <filesystem>
#include <functional>
#include <iosfwd>
#include <span>
#include <string>
#include <string_view>

#include "report/command_line/options.h"
#include "report/facts/load.h"

namespace provecut {

// True, after saying so on standard error, where the output is one of the files that the command reads.
bool refusesToReplace(const std::string& output, const std::filesystem::path& input);

// Writes a command's result where the options say, and logs it as the stage "write". `write` gets the stream, and
// whether a terminal that takes colour is behind it. Where the stream fails (no such folder, no space left, a closed
// pipe), says why on standard error and returns false; what was written so far stays.
bool writeResult(const Options& options, const std::function<void(std::ostream&, bool colour)>& write);

// Hands over what was written to standard output: false, after saying so on standard error, when that fails.
bool endOutput();

// "job.toml:12:3: error: ..." with the line and its mark, on standard error. A standard error that cannot be written to
// is ignored: there is nowhere left to say so.
void printErrors(std::span<const InputError> errors);
// "provecut: cannot write FILE: ..." on standard error; errno says why.
void printCannotWrite(const std::string& file);
// "provecut: ..." on standard error. `message` is safe to show.
void printError(std::string_view message);
// True where the person at the terminal sees the result itself as text.
bool resultIsShown(const Options& options);

// What the options say about reading and cutting. Progress is drawn on standard error when that is a terminal; stages
// are logged.
LoadOptions loadOptions(const Options& options);

// Takes the last progress line off the terminal.
void endProgress(const Options& options);

// Sets the log up: false, after saying so on standard error, when --log-file cannot be written. `file` is that file,
// unopened; it must be there until endLog.
bool startLog(const Options& options, std::ofstream& file);
// Ends the log: false, after saying so on standard error, when some of it could not be written.
bool endLog(const Options& options, std::ofstream& file);

// Does `work` and logs it as a stage; `size` is asked afterwards for how much it was, `of` says of what.
void logStage(std::string_view name, const std::function<void()>& work, const std::function<std::size_t()>& size,
              std::string_view of);

}  // namespace provecut
