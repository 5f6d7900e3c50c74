// Programs as texts, surveyed as `init` does.
#pragma once

#include <gtest/gtest.h>

#include <string>
#include <utility>
#include <vector>

#include "parser/interpreter/interpreter.h"
#include "parser/job_file/job_file.h"
#include "report/draft/draft_survey.h"

namespace provecut {

inline draft::Survey surveyOf(const std::vector<std::pair<std::string, std::string>>& files) {
  std::vector<Program> programs;
  for (const auto& [file, text] : files) programs.push_back(interpret(text));
  std::vector<draft::DraftProgram> entries;
  for (std::size_t i = 0; i < files.size(); ++i) entries.push_back({files[i].first, &programs[i]});
  return draft::surveyPrograms(entries);
}

inline draft::Survey surveyOf(const std::string& program) {
  return surveyOf({{"a.nc", program}});
}

// The first job file of programs, which must be one that can be read.
inline std::string draftTextOf(const std::vector<std::pair<std::string, std::string>>& files) {
  std::vector<Program> programs;
  for (const auto& [file, text] : files) programs.push_back(interpret(text));
  std::vector<draft::DraftProgram> entries;
  for (std::size_t i = 0; i < files.size(); ++i) entries.push_back({files[i].first, &programs[i]});
  const std::string draft = draft::draftJob("a", entries);
  const JobReading reading = readJob(draft, "job.toml");
  for (const JobFileProblem& p : reading.problems) ADD_FAILURE() << p.place.line << ": " << p.message << "\n" << draft;
  return draft;
}

inline std::string draftTextOf(const std::string& program) {
  return draftTextOf({{"a.nc", program}});
}

}  // namespace provecut
