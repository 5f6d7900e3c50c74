// provecut itself, run on files in a folder that is gone afterwards.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "tests/process.h"

namespace provecut::testing {

// Runs provecut in the folder; `environment` holds NAME=VALUE to add.
Ran runProvecut(const TempFolder& folder, const std::vector<std::string>& arguments,
                const std::vector<std::string>& environment = {});

// Stock of 100 x 80 x 10 mm, a 6 mm flat cutter as tool 1, one setup with zero at the top front-left corner and a screw
// "SW" of 10 mm at (10, 10), and the programs named.
std::string smallJob(const std::vector<std::string>& programs, std::string_view more = {});

}  // namespace provecut::testing
