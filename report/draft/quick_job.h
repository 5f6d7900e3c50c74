// The few words on the command line that stand for a job file: the stock's size and the tools.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "parser/job/job.h"
#include "parser/job_file/job_file_problem.h"

namespace provecut::draft {

// Places of problems are line 1 and the byte columns of the text that was read.
struct StockSizeReading {
  std::optional<Vec3> size_mm;
  std::vector<JobFileProblem> problems;
};

// "420x130x19.05mm", "16x5x0.75in", "16x5x3/4in": X, Y, thickness and the unit of all three.
StockSizeReading parseStockSize(std::string_view text);

struct ToolReading {
  std::optional<Tool> tool;
  std::vector<JobFileProblem> problems;
};

// "1=flat,6mm", "2=vee,12mm,angle=60", "3=bull,1/4in,corner_radius=1mm,flutes=2": number, shape, diameter,
// then any key of a job file's [[tool]] (but name and profile). Lengths say mm or in; rates are per minute
// and say it too. Defaults and checks are those of the job file.
ToolReading parseTool(std::string_view text);

struct QuickTools {
  std::vector<Tool> tools;
  std::vector<std::string> errors;  // each with the text at fault in it
};

// What was given as --tool, each with a number of its own.
QuickTools quickTools(std::span<const std::string> tools);

struct QuickJob {
  std::optional<Job> job;            // absent when there is any problem
  std::vector<std::string> assumed;  // what the job file would have said
  std::vector<std::string> errors;   // each with the text at fault in it
};

// One setup, work zero at the top front left corner, no hold-downs. Programs start with the
// only tool, where there is one.
QuickJob quickJob(std::span<const std::string> programs, std::string_view stock, std::span<const std::string> tools);

}  // namespace provecut::draft
