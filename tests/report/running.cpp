#include "tests/report/running.h"

#include "tests/paths.h"

namespace provecut::testing {

Ran runProvecut(const TempFolder& folder, const std::vector<std::string>& arguments,
                const std::vector<std::string>& environment) {
  std::vector<std::string> words{PROVECUT_PROGRAM};
  words.insert(words.end(), arguments.begin(), arguments.end());
  return runProcess(folder.path(), words, environment);
}

std::string smallJob(const std::vector<std::string>& programs, std::string_view more) {
  std::string toml = R"(version = 1
name = "small job"

[stock]
size = [100, 80, 10]

[[tool]]
number = 1
name = "6 mm flat"
shape = "flat"
diameter = 6
flute_length = 22
shank_diameter = 6
stickout = 35

[[hold_down]]
name = "SW"
kind = "screw"
at = [10, 10]
diameter = 10
top = 4

)";
  toml += more;
  toml += R"(
[[setup]]
name = "front"
zero = ["left", "front", "top"]
hold_downs = ["SW"]
)";
  for (const std::string& program : programs) toml += "[[setup.program]]\nfile = \"" + program + "\"\ntool = 1\n";
  return toml;
}

}  // namespace provecut::testing
