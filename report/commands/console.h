// Where a command's words go: results to standard output or a file, errors, progress and logs to standard error.
#pragma once

#include <functional>
#include <iosfwd>
#include <span>
#include <string>
#include <string_view>

#include "report/command_line/options.h"
#include "report/facts/load.h"

namespace provecut {

// Writes a command's result where the options say. False, after saying so on standard error, when it cannot be written.
// `write` gets the stream, and whether a terminal that takes colour is behind it.
bool writeResult(const Options& options, const std::function<void(std::ostream&, bool colour)>& write);

// "job.toml:12:3: error: ..." with the line and its mark, on standard error.
void printErrors(std::span<const InputError> errors);
void printError(std::string_view message);

// What the options say about reading and cutting; progress is drawn on standard error when it is a terminal.
LoadOptions loadOptions(const Options& options);

// Takes the last progress line off the terminal.
void endProgress(const Options& options);

void startLog(const Options& options);

}  // namespace provecut
