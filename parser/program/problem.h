// What is wrong with an input text, as a value. The parser never decides how bad it is: report/ maps ids to levels.
#pragma once

#include <string>
#include <vector>

#include "parser/base/place.h"

namespace provecut {

struct Related {     // another place that has to do with the cause
  std::string file;  // empty: the same file
  Place place;
  std::string message;
};

struct Problem {
  std::string id;       // "syntax", "arc-radius" ...: a rule id of report/rules
  Place place;          // columns in bytes
  std::string message;  // what happens, in plain words, with the offending text and numbers with units
  std::string assumed;  // what the reader did to go on ("the word is left out"); may be empty
  std::string help;     // what to do; may be empty
  std::vector<Related> related;
};

}  // namespace provecut
