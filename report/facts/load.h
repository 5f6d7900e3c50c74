// From files on disk to Facts: reads the job file and its programs, interprets them, cuts the job in memory.
#pragma once

#include <functional>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "parser/job/job.h"
#include "report/base/visible_text.h"
#include "report/facts/facts.h"
#include "sim/replay.h"
#include "sim/stage.h"
#include "sim/stock/dexel_field.h"

namespace provecut {

// Why the input cannot be used at all.
struct InputError {
  std::string file;
  ShownPlace place;  // line 0: the file as a whole
  Excerpt source;    // the line at fault; empty where there is none
  std::string message, help;
};

struct LoadOptions {
  bool strict = false;
  bool block_delete = false;                    // lines that begin with "/" are skipped
  std::uint32_t resume_line = 0;                // as InterpreterOptions::resume_line
  bool read_lock = false;                       // the job file's lock file, where there is one
  bool cut = true;                              // false: the programs are only read, Facts::run stays empty
  std::optional<bool> show_inches;              // absent: the job file's own unit
  double cell_mm = 0;                           // 0: from the job, else chosen
  std::optional<double> thickness;              // what the stock measures, in place of the job file's thickness
  std::optional<double> thickness_mm_per_unit;  // absent: the job file's unit
  int threads = 0;                              // 0: all
  std::function<void(const cutting::DexelField& stock)>
      finished_stock;        // gets the cut stock in the stock frame; may be empty
  bool outlines = false;     // of the pieces that come off the stock
  bool tabs = true;          // as RunOptions::tabs
  Replay* replay = nullptr;  // filled where there is one
  std::function<void(std::string_view doing, int done, int of)> progress;  // may be empty
  StageObserver stage;  // told of the stages "read" to "clock" as they end; may be empty
};

struct Loading {
  std::unique_ptr<Facts> facts;  // absent when there is any error
  std::vector<InputError> errors;
};

// Reads the job file and the programs beside it.
Loading loadJobFile(const std::string& path, const LoadOptions& options);

// For a job made from the command line: its programs' files are paths as the user gave them.
Loading loadJob(Job job, std::vector<std::string> assumed, const LoadOptions& options);

// What a program of another description is: one of the facts' own, or another text.
struct ProgramSource {
  std::size_t of = 0;  // index into Facts::programs, where `text` is empty
  std::string text;
  bool other_unit = false;  // read as InterpreterOptions says
  bool arc_centres_absolute = false;
  bool read_again = false;  // although it is read as before: a tool or the order has changed
};

// A job told otherwise.
struct OtherDescription {
  Job job;
  std::vector<ProgramSource> programs;  // in the order of the job's entries
};

// The facts under another description of the job, cut as the options say. Programs that read the same are not read
// again.
std::unique_ptr<Facts> factsUnder(const Facts& facts, const OtherDescription& other, const LoadOptions& options);

// One program with nothing around it, for what needs no job; its tools, where they are known. It starts with the only
// one.
struct ProgramLoading {
  ProgramFacts facts;  // without setup and entry
  std::vector<InputError> errors;
};
ProgramLoading loadProgram(const std::string& path, const LoadOptions& options, std::span<const Tool> tools = {});

}  // namespace provecut
