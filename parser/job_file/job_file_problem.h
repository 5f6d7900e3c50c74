// What is wrong with a job file, as it is told: the sentences name the file's own keys and sections, so the reader that
// knows these makes them.
#pragma once

#include <string>
#include <vector>

#include "parser/base/place.h"

namespace provecut {

struct JobFileProblem {
  struct Other {  // another place of the file that has to do with it
    Place place;
    std::string message;
  };

  Place place;
  std::string message;  // what is wrong
  std::string help;     // what to write
  std::vector<Other> others;
};

}  // namespace provecut
