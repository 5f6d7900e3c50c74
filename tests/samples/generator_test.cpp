#include <gtest/gtest.h>

#include <set>

#include "tests/samples/sample_run.h"

namespace provecut::samples {

TEST(Generator, writes_the_samples_byte_for_byte) {
  const auto out = std::filesystem::path(::testing::TempDir()) / "provecut-samples";
  std::filesystem::remove_all(out);
  const std::string script = (folder / "cribbage-board" / "generate.py").string();
  const testing::Ran answer = runCommand("python3 '" + script + "' '" + out.string() + "' 2>&1");
  ASSERT_EQ(answer.status, 0) << answer.out << "(this test needs python3)";

  std::set<std::string> written;
  for (const auto& file : std::filesystem::recursive_directory_iterator(out)) {
    if (!file.is_regular_file()) continue;
    const auto name = std::filesystem::relative(file.path(), out);
    written.insert(name.string());
    EXPECT_TRUE(readFile(file.path()) == readFile(folder / name)) << name << " differs from the committed one";
  }
  EXPECT_EQ(written.size(), 19U);  // nine programs each, and the trouble job's job file
  for (const std::string sample : {"cribbage-board", "cribbage-board-trouble"}) {
    for (const auto& file : std::filesystem::directory_iterator(folder / sample)) {
      if (file.path().extension() == ".nc") {
        EXPECT_TRUE(written.contains(sample + "/" + file.path().filename().string()))
            << file.path() << " is not written";
      }
    }
  }
  std::filesystem::remove_all(out);
}

}  // namespace provecut::samples
