#include "report/commands/init.h"

#include <algorithm>
#include <filesystem>
#include <ostream>
#include <system_error>

#include "report/commands/console.h"
#include "report/commands/inputs.h"
#include "report/draft/draft_job.h"

namespace provecut {

namespace {

namespace fs = std::filesystem;

// A program's path as seen from the job file's folder, with forward slashes.
std::string fileInJob(const std::string& program, const std::string& job_file) {
  const fs::path path(program);
  if (path.is_absolute() || job_file.empty()) return path.generic_string();
  std::error_code error;
  const fs::path folder = fs::path(job_file).parent_path();
  const fs::path relative = fs::proximate(path, folder.empty() ? fs::path(".") : folder, error);
  return error ? path.generic_string() : relative.generic_string();
}

std::string nameOfJob(const Options& options) {
  const fs::path named(options.output.empty() ? options.files.front() : options.output);
  return named.stem().string();
}

// Arcs whose radii agree only if their centres are taken as positions: read otherwise they go anywhere.
bool hasAbsoluteCentres(const Program& program) {
  constexpr std::ptrdiff_t enough = 3;
  const auto misread = std::count_if(program.problems.begin(), program.problems.end(), [](const Problem& p) {
    return p.kind == ProblemKind::arc_radii_differ_unless_absolute;
  });
  const auto arcs = std::count_if(program.motions.begin(), program.motions.end(), isArc);
  return misread >= enough || (misread > 0 && 2 * misread >= arcs);
}

}  // namespace

int runInit(const Options& options) {
  std::error_code error;
  if (!options.output.empty() && fs::exists(options.output, error)) {
    printError(visibleText(options.output) + " already exists; give --output another name, or move the file");
    return exit_unusable;
  }
  for (const std::string& file : options.files) {
    if (!isProgram(file, "init needs programs")) return exit_unusable;
  }
  std::vector<ProgramLoading> loadings;
  bool unusable = false;
  for (const std::string& file : options.files) {
    loadings.push_back(loadProgram(file, loadOptions(options)));
    printErrors(loadings.back().errors);
    unusable = unusable || !loadings.back().errors.empty();
  }
  endProgress(options);
  if (unusable) return exit_unusable;

  std::vector<draft::DraftProgram> programs;
  bool read_whole = true;
  for (std::size_t i = 0; i < loadings.size(); ++i) {
    const Program& program = loadings[i].facts.program;
    if (hasAbsoluteCentres(program)) {
      printError(visibleText(options.files[i]) +
                 ": its arcs only fit if I, J and K are positions, not distances from the arc's start. Export it with "
                 "incremental arc centres, or put G90.1 on its first lines if your machine reads them so");
      return exit_unusable;
    }
    programs.push_back({fileInJob(options.files[i], options.output), &program});
    if (program.read_whole) continue;
    read_whole = false;
    printError(visibleText(options.files[i]) + " could not be read completely, so the job file may lack some of it. " +
               "Run provecut check with the job file.");
  }
  const std::string draft =
      draft::draftJob(nameOfJob(options), programs, options.output.empty() ? "FILE" : options.output);
  if (!writeResult(options, [&](std::ostream& out, bool) { out << draft; })) return exit_unusable;
  return read_whole ? exit_done : exit_found;
}

}  // namespace provecut
