// The command line: what was asked for, as plain data. Knows nothing of jobs.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "report/base/length_text.h"
#include "report/facts/finding.h"

namespace provecut {

enum class Command { check, init, time, quote, place, resume, sheet, lock, explain, export_, completions, manual };
enum class Format { text, json, sarif, html, svg };
enum class Units { as_job, mm, in };
enum class Export { by_ending, moves, engagement, hits, parts, pictures, stl, ply, vdb };
enum class Shell { bash, zsh, fish };

// Exit statuses of the program.
inline constexpr int exit_done = 0;      // nothing at or above --fail-on
inline constexpr int exit_found = 1;     // something was, or a program was not read completely
inline constexpr int exit_unusable = 2;  // the input or the command line could not be used
inline constexpr int exit_defect = 3;    // our own failure

// The hold-down to find a place for. Lengths without a unit are in the job file's.
struct PlaceOptions {
  std::optional<WrittenLength> diameter;           // round, else
  std::optional<std::vector<WrittenLength>> size;  // a box: X and Y
  std::optional<double> angle_deg;                 // of the box, counter-clockwise
  std::optional<WrittenLength> top;                // above the stock's top face
  std::optional<WrittenLength> resolution;
};

struct Options {
  Command command = Command::check;
  std::vector<std::string> files;   // check: a job file or programs; time: job files or programs; quote: job files;
                                    // place: a job file; init: programs
  std::string stock;                // as written: "420x130x19.05mm"
  std::vector<std::string> tools;   // check, export --moves: as written: "1=flat,6mm"
  std::string rule;                 // explain; empty: all
  Export what = Export::by_ending;  // export
  std::string moves_of;             // export --moves: the program
  std::vector<std::string> engagement_of;  // export --engagement: the job file and, if given, one of its programs
  std::optional<Shell> shell;              // completions
  bool fit = false;                        // time: compare with the measured times
  PlaceOptions place;
  bool update = false;                       // lock: replace a lock file that differs
  bool lines = false;                        // time: the seconds of each line
  std::optional<std::uint32_t> before_line;  // resume
  double feed_override = 1;                  // time, quote: share of the programmed feeds
  Format format = Format::text;
  std::string output;                   // empty: standard output
  std::optional<std::string> log_file;  // a log of the stages
  Units units = Units::as_job;
  double cell_mm = 0;                          // 0: not given
  std::optional<WrittenLength> thickness;      // check: what the stock measures
  std::optional<Level> fail_on = Level::stop;  // nothing: never
  int threads = 0;                             // 0: all
  bool quiet = false, verbose = false, strict = false, block_delete = false;
};

}  // namespace provecut
