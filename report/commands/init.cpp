#include "report/commands/init.h"

#include <algorithm>
#include <filesystem>
#include <iostream>
#include <system_error>

#include "report/base/visible_text.h"
#include "report/base/wording.h"
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

// The same program by whatever path.
bool sameFile(const std::string& a, const std::string& b) {
  std::error_code error;
  return a == b || fs::equivalent(a, b, error);
}

std::size_t countOf(std::string_view text, std::string_view words) {
  std::size_t count = 0;
  for (std::size_t at = text.find(words); at != std::string_view::npos; at = text.find(words, at + words.size()))
    ++count;
  return count;
}

// What to do with the file that was written.
void tellNext(const std::string& job_file, std::string_view draft, std::ostream& out) {
  const std::string name = visibleText(job_file);
  const std::size_t guesses = countOf(draft, "FILL IN") - countOf(draft, "Lines marked FILL IN");
  out << name << ": " << plural(guesses, "place", "places") << " to fill in, marked FILL IN. Then run: provecut check "
      << name << '\n';
  if (const std::size_t splits = countOf(draft, "# SPLIT IT"))
    out << plural(splits, "stop", "stops")
        << " where a program seems to go on with another zero or side: see SPLIT IT\n";
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
  for (std::size_t i = 0; i < options.files.size(); ++i) {
    for (std::size_t k = 0; k < i; ++k) {
      if (!sameFile(options.files[i], options.files[k])) continue;
      printError(visibleText(options.files[i]) +
                 " is given twice. Give it once; if it runs twice, list it twice in the job file");
      return exit_unusable;
    }
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
  if (!options.output.empty() && !options.quiet) {
    tellNext(options.output, draft, std::cout);
    if (!endOutput()) return exit_unusable;
  }
  return read_whole ? exit_done : exit_found;
}

}  // namespace provecut
