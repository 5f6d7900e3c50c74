// Nothing ends with status 1 in silence.
#include <gmock/gmock.h>

#include "tests/report/running.h"

namespace provecut {
namespace {

using ::testing::HasSubstr;
using testing::Ran;
using testing::runProvecut;
using testing::smallJob;
using testing::TempFolder;

constexpr std::string_view sound =
    "G21 G90 G17 G94 G54\nT1 M6\nM3 S12000\nG4 P5\nG0 Z10\nG0 X50 Y40\nG1 Z-2 F300\nG1 X70 F900\nG0 Z10\nM5\nM30\n";

// A stop (the spindle never turns), a note (it never ends), or something that is not followed.
std::string without(std::string_view what) {
  std::string text(sound);
  text.erase(text.find(what), what.size());
  return text;
}

Ran run(const std::string& program, const std::vector<std::string>& words) {
  TempFolder folder;
  folder.write("a.nc", program);
  folder.write("job.toml", smallJob({"a.nc"}, "[machine]\nprofile = \"bench-screw\"\n"));
  return runProvecut(folder, words);
}

void expectTold(const std::string& program, const std::vector<std::string>& words) {
  const Ran r = run(program, words);
  std::string command;
  for (const std::string& w : words) command += " " + w;
  EXPECT_EQ(r.status, 1) << command << r.err;
  EXPECT_FALSE((r.out + r.err).empty()) << command;
}

TEST(StatusOne, check_says_why_wherever_its_result_goes) {
  for (const std::string format : {"text", "json", "sarif"}) {
    const Ran r = run(without("M3 S12000\n"), {"check", "job.toml", "--format", format, "--output", "result"});
    EXPECT_EQ(r.status, 1);
    EXPECT_THAT(r.err, HasSubstr("1 finding of level stop or above")) << format;
  }
  expectTold(without("M3 S12000\n"), {"check", "job.toml", "--quiet"});
}

TEST(StatusOne, quiet_leaves_notes_out_but_not_the_reason) {
  const Ran r = run(without("M30\n"), {"check", "job.toml", "--quiet", "--fail-on", "note"});
  EXPECT_EQ(r.status, 1);
  EXPECT_THAT(r.out + r.err, HasSubstr("of level note or above"));
  // Where nothing is wrong nothing is said.
  const Ran fine = run(std::string(sound), {"check", "job.toml", "--quiet"});
  EXPECT_EQ(fine.status, 0) << fine.out << fine.err;
  EXPECT_EQ(fine.out + fine.err, "");
}

TEST(StatusOne, what_could_not_be_followed_is_told_by_every_command) {
  const std::string program = std::string(sound).insert(sound.find("G1 X70"), "G68 R30\n");
  expectTold(program, {"check", "job.toml", "--quiet"});
  expectTold(program, {"check", "job.toml", "--quiet", "--fail-on", "never", "--output", "r.txt"});
  expectTold(program, {"sheet", "job.toml", "--output", "s.html", "--quiet"});
  expectTold(program, {"resume", "job.toml", "--format", "json"});
  expectTold(program, {"time", "job.toml", "--output", "t.txt"});
  expectTold(program, {"place", "job.toml", "--format", "json", "--output", "p.json", "--quiet"});
  expectTold(program, {"export", "--moves", "a.nc", "--output", "m.csv", "--quiet"});
  expectTold(program, {"export", "--engagement", "job.toml", "--output", "e.csv", "--quiet"});
  expectTold(program, {"export", "job.toml", "--output", "b.stl", "--quiet"});
  expectTold(program, {"init", "a.nc", "--output", "new.toml", "--quiet"});
}

TEST(StatusOne, several_jobs_each_say_why) {
  TempFolder folder;
  folder.write("a.nc", without("M3 S12000\n"));
  folder.write("one.toml", smallJob({"a.nc"}));
  folder.write("two.toml", smallJob({"a.nc"}));
  const Ran r = runProvecut(folder, {"check", "one.toml", "two.toml", "--format", "json", "--output", "all.json"});
  EXPECT_EQ(r.status, 1);
  EXPECT_THAT(r.err, HasSubstr("one.toml: 1 finding"));
  EXPECT_THAT(r.err, HasSubstr("two.toml: 1 finding"));
}

// Each: what is given, and a word that says what is wrong with it. None ends in silence.
TEST(StatusTwo, says_what_is_wrong_with_every_odd_input) {
  TempFolder folder;
  folder.write("a.nc", sound);
  folder.write("job.toml", smallJob({"a.nc"}));
  folder.write("empty.nc", "");
  folder.write("blank.nc", "\n\n");
  folder.write("text.nc", "hello world\nthis is no program\n");
  folder.write("binary.nc", std::string("G0\0\1\2\3 X1\0\0\0", 12));
  folder.write("wide.nc", std::string("\xFF\xFEG\0", 4));
  folder.write("empty.toml", "");
  folder.write("words.toml", "these are words\n");
  folder.write("unknown.toml", "version = 1\nbogus = 2\n");
  folder.write("nothing.toml", "version = 1\n");
  std::filesystem::create_directory(folder.path() / "folder.nc");
  std::filesystem::create_symlink("nowhere.nc", folder.path() / "dangling.nc");
  using Line = std::vector<std::string>;
  const std::vector<std::pair<Line, std::string>> odd{
      {{"init"}, "needs the programs"},
      {{"init", ""}, "empty"},
      {{"init", "empty.nc"}, "empty"},
      {{"init", "blank.nc"}, "no G-code"},
      {{"init", "text.nc"}, "no G-code"},
      {{"init", "binary.nc"}, "binary"},
      {{"init", "wide.nc"}, "UTF-16"},
      {{"init", "folder.nc"}, "folder"},
      {{"init", "dangling.nc"}, "no such file"},
      {{"init", "nowhere.nc"}, "no such file"},
      {{"init", "*.nc"}, "no such file"},
      {{"init", "job.toml"}, "is a job file"},
      {{"init", "a.nc", "a.nc"}, "given twice"},
      {{"init", "a.nc", "--output", "job.toml"}, "already exists"},
      {{"init", "a.nc", "--output", "nowhere/job.toml"}, "no folder nowhere"},
      {{"init", "a.nc", "--outptu", "x.toml"}, "did you mean --output"},
      {{"check"}, "needs a job file"},
      {{"check", "empty.toml"}, "empty"},
      {{"check", "words.toml"}, "key = value"},
      {{"check", "unknown.toml"}, "bogus"},
      {{"check", "nothing.toml"}, "stock"},
      {{"check", "nowhere.toml"}, "no such file"},
      {{"check", "folder.nc"}, "folder"},
      {{"check", "a.nc"}, "no stock size"},
      {{"check", "empty.nc", "--stock", "9x9x9mm", "--tool", "1=flat,6mm"}, "empty"},
      {{"check", "job.toml", "--format", "pdf"}, "pdf"},
      {{"check", "job.toml", "--thickness", "thick"}, "thick"},
      {{"chekc", "job.toml"}, "did you mean check"},
      {{"--bogus"}, "--bogus"},
      {{"explain", "bogus"}, "no rule"},
      {{"place", "a.nc"}, "provecut init"},
      {{"sheet", "words.toml"}, "key = value"},
      {{"quote", "job.toml"}, "[quote]"},
      {{"export", "job.toml"}, "what to export"},
      {{"time", "empty.nc"}, "empty"},
      {{"lock", "empty.toml"}, "empty"}};
  for (const auto& [line, words] : odd) {
    const Ran r = runProvecut(folder, line);
    EXPECT_EQ(r.status, 2) << words << ": " << r.err;
    EXPECT_THAT(r.err, HasSubstr(words));
  }
}

TEST(StatusTwo, a_report_never_replaces_the_job_its_programs_or_its_lock) {
  TempFolder folder;
  folder.write("a.nc", sound);
  folder.write("job.toml", smallJob({"a.nc"}));
  ASSERT_EQ(runProvecut(folder, {"lock", "job.toml"}).status, 0);
  const std::string lock = folder.read("job.lock");
  std::filesystem::create_hard_link(folder.path() / "a.nc", folder.path() / "same.txt");
  const std::string job = folder.read("job.toml");
  for (const char* output : {"a.nc", "./a.nc", "same.txt", "job.toml", "job.lock"}) {
    for (const char* command : {"check", "sheet", "quote"}) {
      const Ran r = runProvecut(folder, {command, "job.toml", "--output", output});
      EXPECT_EQ(r.status, 2) << command << " " << output;
    }
  }
  EXPECT_THAT(runProvecut(folder, {"check", "job.toml", "-o", "a.nc"}).err,
              HasSubstr("a.nc and will not overwrite it; give --output another name"));
  EXPECT_EQ(runProvecut(folder, {"check", "a.nc", "--output", "a.nc"}).status, 2);
  EXPECT_EQ(folder.read("a.nc"), sound);
  EXPECT_EQ(folder.read("job.toml"), job);
  EXPECT_EQ(folder.read("job.lock"), lock);
}

}  // namespace
}  // namespace provecut
