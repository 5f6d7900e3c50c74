// What a terminal is sent stays within its 100 columns, whatever names and amounts a job has, and names stay apart.
#include <gmock/gmock.h>

#include <sstream>
#include <string>
#include <vector>

#include "report/base/visible_text.h"
#include "report/formats/base/table.h"
#include "report/formats/base/terminal.h"
#include "tests/report/running.h"

namespace provecut {
namespace {

using ::testing::ElementsAre;
using ::testing::HasSubstr;
using testing::Ran;
using testing::runProvecut;
using testing::TempFolder;

TEST(ShortenedName, keeps_its_beginning_and_its_end) {
  EXPECT_EQ(shortened("short.nc", 8), "short.nc");
  EXPECT_EQ(shortened("a-longer-name-01.nc", 12), "a-lon...1.nc");
  EXPECT_EQ(shortened("a-longer-name-02.nc", 12), "a-lon...2.nc");
  EXPECT_EQ(shortened("abcdef", 5), "a...f");
  EXPECT_EQ(shortened("abcdef", 4), "a...");
  EXPECT_EQ(shortened("abcdef", 2), "..");
}

TEST(Wrapped, a_number_stays_on_one_line_with_its_unit) {
  EXPECT_THAT(wrapped("the weakest holds 9.6 N, the push is 55 N", 21, 21),
              ElementsAre("the weakest holds", "9.6 N, the push is", "55 N"));
  EXPECT_THAT(wrapped("a tab of (24 mm²) on line 12 mended", 13, 13),
              ElementsAre("a tab of", "(24 mm²) on", "line 12", "mended"));
  EXPECT_THAT(wrapped("cuts a 60 × 40 mm part", 12, 12), ElementsAre("cuts a", "60 × 40 mm", "part"));
  EXPECT_THAT(wrapped("a mesh of 60 × 40 cells", 14, 14), ElementsAre("a mesh of 60 ×", "40 cells"));
  EXPECT_THAT(wrapped("12345 mm", 5, 5), ElementsAre("12345", "mm")) << "where there is no room for both";
}

TEST(ShortenedName, never_cuts_a_letter) {
  const std::string wide = "木目の板を切る.nc", marked =
                                                    "e\xCC\x81"
                                                    "e\xCC\x81"
                                                    "e\xCC\x81"
                                                    "e\xCC\x81"
                                                    "e\xCC\x81";  // é, of two code points each
  for (std::size_t columns = 1; columns < 20; ++columns) {
    for (const std::string& name : {wide, marked}) {
      const std::string text = shortened(name, columns);
      EXPECT_LE(displayWidth(text), columns);
      EXPECT_EQ(visibleText(text), text) << "whole code points";
    }
  }
  EXPECT_EQ(shortened(marked, 4), "e\xCC\x81...");
}

TEST(Table, goes_on_below_where_the_last_column_is_too_wide) {
  std::string words;
  for (int k = 0; k < 40; ++k) words += (k > 0 ? " word" : "word");
  Table table{{false, true, false}, {{"name", "number", "words"}, {"a", "1", words}, {"b", "2", "few"}}};
  std::ostringstream out;
  writeTable(table, false, out);
  std::istringstream lines(out.str());
  std::vector<std::string> all;
  for (std::string line; std::getline(lines, line);) all.push_back(line);
  ASSERT_EQ(all.size(), 5U);  // 199 cells of words in 84 columns
  for (const std::string& line : all) EXPECT_LE(line.size(), terminal_columns);
  EXPECT_EQ(all[2].find("word"), all[1].find("word"));
  EXPECT_EQ(all[2].find_first_not_of(' '), all[2].find("word"));
}

// Long names that differ in their end alone, amounts of many digits, every kind of finding, many forms of hold-downs.
class Width : public ::testing::TestWithParam<const char*> {
 protected:
  static std::string longName(const std::string& end) {
    std::string name;
    while (displayWidth(name) < 140) name += GetParam();
    return name + end;
  }

  static std::string job(const std::string& name) {
    std::string toml = "version = 1\nname = \"" + name +
                       "\"\n[machine]\nacceleration = [20, 20, 20]\nblocks_per_second = 5\ntravel = [800, 800, 120]\n";
    for (const char* program : {"1.nc", "2.nc", "gone.nc"})
      toml += "[[machine.measured]]\nprogram = \"" + longName(program) + "\"\nseconds = 9000\n";
    toml += "[stock]\nsize = [300, 200, 18]\nmaterial = \"hardwood\"\n[limits]\ncell = 1\n";
    for (int tool = 1; tool <= 2; ++tool)
      toml += "[[tool]]\nnumber = " + std::to_string(tool) + "\nname = \"" + longName(std::to_string(tool)) +
              "\"\nshape = \"flat\"\ndiameter = 6\nflutes = 2\nflute_length = 12\nstickout = 30\nmax_stepdown = 1\n";
    std::string all;
    for (int k = 0; k < 12; ++k) {
      const std::string screw = longName(std::to_string(k));
      toml += "[[hold_down]]\nname = \"" + screw + "\"\nkind = \"screw\"\nat = [" + std::to_string(20 + 20 * k) +
              ", 100]\ndiameter = " + std::to_string(6 + k) + "\ntop = 4\n";
      all += (k > 0 ? ", \"" : "\"") + screw + "\"";
    }
    toml += "[quote]\ncurrency = \"" + longName("") +
            "\"\nmaterial_cost = 1000000\nmachine_rate = 60\nmaterial_waste = 0.12345678\nmargin = 0.9999\n"
            "tax = 0.08875\nquantity = [1000, 10, 1]\nparts_per_stock = 3\n";
    for (const char* setup : {"front, clamped first", "back"}) {
      toml += "[[setup]]\nname = \"" + longName(setup) + "\"\nzero = [\"left\", \"front\", \"top\"]\nhold_downs = [" +
              all + "]\n";
      for (const char* program : {"1.nc", "2.nc"}) toml += "[[setup.program]]\nfile = \"" + longName(program) + "\"\n";
    }
    return toml;
  }

  // The place of a finding, file:line:column, is what editors jump to: it stays in one piece.
  static void expectWithin100(const std::string& text, const std::string& what) {
    std::istringstream lines(text);
    for (std::string line; std::getline(lines, line);) {
      if (line.starts_with(longName("1.nc") + ":") || line.starts_with(longName("2.nc") + ":")) continue;
      EXPECT_LE(displayWidth(line), terminal_columns) << what << ": " << line;
    }
  }
};

TEST_P(Width, is_100_columns_at_most) {
  TempFolder folder;
  std::string program =
      "G21 G90 G17 G94 G54\nT1 M6\nM3 S12000\nG4 P5\nG0 Z10\nG0 X10 Y100\nG1 Z-17 F300\nG1 X280 F9000\nG2 X280 Y150 "
      "R60\n";
  for (int k = 0; k < 3000; ++k) program += "G1 X" + std::to_string(100 + k % 3) + " Y150\n";
  program +=
      "G0 Z10\nG0 X-12345.678 Y-12345.678\nT2 M6\nM3 S12000\nG0 X30 Y30\nG1 Z-2 F0.5\nG1 X60 F900\nG0 "
      "Z10\nM9999\nM5\nM30\n";
  for (const char* name : {"1.nc", "2.nc"}) folder.write(longName(name), program);
  folder.write("a.toml", job(longName("A")));
  folder.write("b.toml", job(longName("B")));
  for (const std::vector<std::string>& words : {std::vector<std::string>{"check", "a.toml"},
                                                {"check", "a.toml", "b.toml"},
                                                {"time", "--fit", "a.toml"},
                                                {"time", "a.toml", "b.toml"},
                                                {"quote", "a.toml"},
                                                {"quote", "a.toml", "b.toml"},
                                                {"place", "a.toml"},
                                                {"resume", "a.toml"}}) {
    const Ran r = runProvecut(folder, words);
    const std::string what = words[0] + " " + words.back();
    EXPECT_LE(r.status, 1) << what << r.err;
    EXPECT_FALSE(r.out.empty()) << what;
    expectWithin100(r.out, what);
  }
}

INSTANTIATE_TEST_SUITE_P(Names, Width, ::testing::Values("a-longer-name-", "longer names with blanks ", "木目の板"));

TEST(ProgramTable, tells_programs_apart_whose_names_begin_alike) {
  TempFolder folder;
  std::vector<std::string> files;
  for (const char* end : {"one", "two", "six"})
    files.push_back("a-longer-name-of-a-program-that-begins-as-the-others-do-" + std::string(end) + ".nc");
  for (const std::string& file : files)
    folder.write(
        file,
        "G21 G90 G17 G94\nT1 M6\nM3 S12000\nG4 P5\nG0 Z10\nG0 X50 Y40\nG1 Z-2 F300\nG1 X70 F900\nG0 Z10\nM5\nM30\n");
  folder.write("job.toml", testing::smallJob(files));
  for (const char* command : {"check", "time"}) {
    const std::string text = runProvecut(folder, {command, "job.toml"}).out;
    for (const char* end : {"one.nc", "two.nc", "six.nc"}) EXPECT_THAT(text, HasSubstr(end)) << command;
  }
}

}  // namespace
}  // namespace provecut
