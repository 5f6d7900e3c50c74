// Helpers for texts with mistakes in them.
#pragma once

#include <gtest/gtest.h>
#include <cstdint>
#include <string>
#include <vector>

#include "parser/job_file/job_file_problem.h"

namespace provecut {

// The first `from` replaced; the test fails when there is none.
inline std::string replaced(std::string text, const std::string& from, const std::string& to) {
  const std::size_t at = text.find(from);
  if (at == std::string::npos) {
    ADD_FAILURE() << "not in the text: " << from;
    return text;
  }
  return text.replace(at, from.size(), to);
}

// What a place with byte columns marks.
inline std::string markedText(const std::string& text, Place place) {
  std::size_t start = 0;
  for (std::uint32_t line = 1; line < place.line; ++line) start = text.find('\n', start) + 1;
  return text.substr(start + place.column - 1, place.end_column - place.column);
}

inline std::vector<std::string> messagesOf(const std::vector<JobFileProblem>& problems) {
  std::vector<std::string> messages;
  for (const JobFileProblem& p : problems) messages.push_back(p.message);
  return messages;
}

}  // namespace provecut
