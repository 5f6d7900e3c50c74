// A sheet of tests/reference as files that the program reads.
#pragma once

#include <filesystem>

#include "tests/reference/parting/sheet.h"

namespace provecut::testing {

// Writes job.toml and one .nc file a program into the folder, which is made where it is not there.
void writeJob(const reference::Sheet& sheet, const std::filesystem::path& folder);

}  // namespace provecut::testing
