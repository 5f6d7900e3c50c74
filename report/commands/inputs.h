// What several commands ask of the files they were given and of what was read from them.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "report/command_line/options.h"
#include "report/facts/load.h"
#include "report/findings/report.h"

namespace provecut {

// Whether all files are job files, or none; false, after saying so on standard error, for a mixture.
bool jobFilesOrPrograms(const std::vector<std::string>& files);

// Whether the name is a job file's; false, after saying so on standard error.
bool isJobFile(const std::string& file);
// Whether it is not; false, after saying so on standard error and what is needed: "init needs programs".
bool isProgram(const std::string& file, std::string_view needs);

// The job file read and cut; its facts are absent, after its errors were printed, when it cannot be used.
Loading loadAndTell(const std::string& job_file, const Options& options, const LoadOptions& load);

// Runs the rules and logs them as a stage.
Report checkedReport(const Facts& facts);
// Looks for what would explain the findings, and logs that as a stage.
void lookForCauses(Report& report, const LoadOptions& load);

// exit_found where a program was not read completely, else exit_done.
int statusOfReading(const Facts& facts);
// The same; says so on standard error where one could not. `result`: "sheet".
int toldStatusOfReading(const Facts& facts, std::string_view result);

}  // namespace provecut
