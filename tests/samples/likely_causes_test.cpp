// One wrong word at a time in the clean sample: it is named first, with the line that puts it right.
#include <gmock/gmock.h>

#include <array>
#include <stdexcept>
#include <string>
#include <utility>
#include <vector>

#include "tests/samples/sample_run.h"

namespace provecut::samples {

namespace {

struct Edit {
  std::string file, from, to;  // `from` empty: the whole file
};

// The clean sample with some of its text changed.
testing::Ran ranWith(const std::vector<Edit>& edits, std::vector<std::string> how) {
  const testing::TempFolder job;
  for (const auto& file : std::filesystem::directory_iterator(folder / "cribbage-board"))
    job.write(file.path().filename().string(), readFile(file.path()));
  for (const Edit& edit : edits) {
    if (edit.from.empty()) {
      job.write(edit.file, edit.to);
      continue;
    }
    std::string text = job.read(edit.file);
    const std::size_t at = text.find(edit.from);
    if (at == std::string::npos) throw std::runtime_error(edit.file + " has no " + edit.from);
    job.write(edit.file, text.replace(at, edit.from.size(), edit.to));
  }
  how.insert(how.begin(), {PROVECUT_PROGRAM, "check", "job.toml"});
  return testing::runProcess(job.path(), how);
}

nlohmann::json checkedWith(const std::vector<Edit>& edits) {
  return nlohmann::json::parse(ranWith(edits, {"--format", "json"}).out);
}

// The causes told, as "kind: lines".
std::vector<std::string> causesIn(const nlohmann::json& report) {
  std::vector<std::string> causes;
  for (const auto& cause : report["likely_causes"]) {
    std::string text = cause["kind"].get<std::string>() + ":";
    for (const auto& line : cause["lines"]) text += " " + line.get<std::string>();
    causes.push_back(text);
  }
  return causes;
}

// Stops and looks that name this cause, or none (null), as "rule subject".
std::vector<std::string> rulesUnder(const nlohmann::json& report, const nlohmann::json& cause) {
  std::vector<std::string> rules;
  for (const auto& f : report["findings"]) {
    if (f["level"] == "note" || f["likely_cause"] != cause) continue;
    const std::string subject = f["subject"].is_null() ? std::string() : f["subject"].get<std::string>();
    rules.push_back(f["rule"].get<std::string>() + " " + subject);
  }
  return rules;
}

// The sample's compartment in two programs: all but its floor, and its floor and walls with nothing to rough them out.
std::pair<std::string, std::string> roughAndFloor() {
  const std::string whole = readFile(folder / "cribbage-board" / "60-compartment.nc");
  const std::size_t cuts = whole.find("N110 (rebate: rough"), floor = whole.find("N4370 (compartment: floor"),
                    park = whole.find("N5280 (park)");
  if (cuts > floor || floor > park || park == std::string::npos) throw std::runtime_error("another compartment");
  return {whole.substr(0, floor) + whole.substr(park), whole.substr(0, cuts) + "X270 Y62.9\n" + whole.substr(floor)};
}

std::string entryOf(const std::string& file) {
  return "[[setup.program]]\nfile = \"" + file + "\"\ntool = 1\nthrough = false\n";
}

// Four edge clamps, and a panel cut out whose own screw is listed or not.
nlohmann::json panelCheckedWith(const std::string& hold_downs, const std::string& last_z = "-12.2") {
  const testing::TempFolder job;
  job.write("job.toml", R"(version = 1
[stock]
size = [200, 200, 12]
material = "plywood"
[spoilboard]
thickness = 18
allowed_cut = 0.5
[[tool]]
number = 1
shape = "flat"
diameter = 6
flutes = 2
flute_length = 22
shank_diameter = 6
stickout = 35
[[hold_down]]
name = "screw W"
kind = "screw"
at = [12, 100]
diameter = 8
top = 3
shaft_diameter = 4
length = 28
[[hold_down]]
name = "screw E"
kind = "screw"
at = [188, 100]
diameter = 8
top = 3
shaft_diameter = 4
length = 28
[[hold_down]]
name = "screw A"
kind = "screw"
at = [80, 100]
diameter = 8
top = 3
shaft_diameter = 4
length = 28
[[hold_down]]
name = "screw B"
kind = "screw"
at = [120, 100]
diameter = 8
top = 3
shaft_diameter = 4
length = 28
[[setup]]
name = "top"
zero = ["left", "front", "top"]
hold_downs = [)" + hold_downs +
                            R"(]
[[setup.program]]
file = "panel.nc"
tool = 1
)");
  std::string program =
      "G21 G90 G17 G94\nG54 G40 G49 G80\nT1 M6\nS18000 M3\nG4 P5\nG0 Z40\nG0 X40 Y40\nG0 Z5\nG1 Z0 F800\n";
  for (const std::string& z : {std::string("-3"), std::string("-6"), std::string("-9"), last_z})
    program += "G1 X160 Z" + z + " F1200\nG1 Y160\nG1 X40\nG1 Y40\nG1 X160\nG1 X40\n";
  job.write("panel.nc", program + "G0 Z40\nM5\nM30\n");
  const testing::Ran ran = testing::runProcess(job.path(), {PROVECUT_PROGRAM, "check", "job.toml", "--format", "json"});
  return nlohmann::json::parse(ran.out);
}

const std::string back_zero = "flip = \"left-right\"\nzero = [\"left\", \"front\", \"bottom\"]";
const std::string front_zero = "zero = [\"left\", \"front\", \"top\"]";

}  // namespace

TEST(LikelyCauses, z_zero_of_the_front_on_the_wrong_face_is_named) {
  const nlohmann::json report = checkedWith({{"job.toml", front_zero, "zero = [\"left\", \"front\", \"bottom\"]"}});
  EXPECT_EQ(causesIn(report), std::vector<std::string>{"zero-face: zero = [\"left\", \"front\", \"top\"]"});
  const auto& cause = report["likely_causes"][0];
  EXPECT_EQ(cause["setup"], "front");
  EXPECT_EQ(cause["stops"]["gone"], cause["stops"]["of"]);
  EXPECT_GT(cause["stops"]["of"], 5);
}

TEST(LikelyCauses, z_zero_of_the_back_on_the_wrong_face_is_named) {
  const nlohmann::json report =
      checkedWith({{"job.toml", back_zero, "flip = \"left-right\"\nzero = [\"left\", \"front\", \"top\"]"}});
  EXPECT_EQ(causesIn(report), std::vector<std::string>{"zero-face: zero = [\"left\", \"front\", \"bottom\"]"});
}

TEST(LikelyCauses, zero_at_the_wrong_corner_is_named) {
  EXPECT_EQ(causesIn(checkedWith({{"job.toml", front_zero, "zero = [\"right\", \"front\", \"top\"]"}})),
            std::vector<std::string>{"zero-corner: zero = [\"left\", \"front\", \"top\"]"});
  EXPECT_EQ(causesIn(checkedWith({{"job.toml", front_zero, "zero = [\"center\", \"center\", \"top\"]"}})),
            std::vector<std::string>{"zero-corner: zero = [\"left\", \"front\", \"top\"]"});
  EXPECT_EQ(causesIn(checkedWith(
                {{"job.toml", back_zero, "flip = \"left-right\"\nzero = [\"left\", \"back\", \"bottom\"]"}})),
            std::vector<std::string>{"zero-corner: zero = [\"left\", \"front\", \"bottom\"]"});
}

TEST(LikelyCauses, a_flip_about_the_wrong_axis_is_named) {
  EXPECT_EQ(causesIn(checkedWith({{"job.toml", "flip = \"left-right\"", "flip = \"front-back\""}})),
            std::vector<std::string>{"flip: flip = \"left-right\""});
}

TEST(LikelyCauses, stock_told_with_its_sides_swapped_is_named) {
  EXPECT_EQ(causesIn(checkedWith({{"job.toml", "[480, 130, 19.05]", "[130, 480, 19.05]"}})),
            std::vector<std::string>{"stock-turned: size = [480, 130, 19.05]"});
}

TEST(LikelyCauses, a_stock_told_too_thin_or_too_thick_is_named) {
  const nlohmann::json thin = checkedWith({{"job.toml", "[480, 130, 19.05]", "[480, 130, 12.7]"}});
  ASSERT_EQ(thin["likely_causes"].size(), 1U);
  EXPECT_EQ(thin["likely_causes"][0]["kind"], "thickness");
  // The holes go 15 mm deep: no stock of 19.05 mm contradicts "15 mm or more".
  EXPECT_EQ(thin["likely_causes"][0]["question"], "Is the stock 15 mm thick or more?");
  const nlohmann::json thick = checkedWith({{"job.toml", "[480, 130, 19.05]", "[480, 130, 25.4]"}});
  ASSERT_EQ(thick["likely_causes"].size(), 1U);
  EXPECT_EQ(thick["likely_causes"][0]["question"], "Is the stock thinner, 21 mm or less?");
}

TEST(LikelyCauses, a_program_in_the_other_unit_is_named) {
  for (const auto& [file, is, planted] : {std::array{"20-tray.nc", "G21", "G20"}, {"30-peg-holes.nc", "G20", "G21"}}) {
    const nlohmann::json report = checkedWith({{file, is, planted}});
    ASSERT_EQ(report["likely_causes"].size(), 1U) << file;
    EXPECT_EQ(report["likely_causes"][0]["kind"], "unit");
    EXPECT_EQ(report["likely_causes"][0]["file"], file);
  }
}

TEST(LikelyCauses, a_program_left_out_of_the_job_is_named) {
  EXPECT_EQ(causesIn(checkedWith({{"job.toml",
                                   "[[setup.program]]\nfile = \"10-frame-holes.nc\"        # pilot holes for the "
                                   "screws, holes for the pins\ntool = 2\n",
                                   ""}})),
            std::vector<std::string>{"missing-program: [[setup.program]] file = \"10-frame-holes.nc\" tool = 2"});
}

// The tray's other depths are 0.4 mm to 5 mm.
TEST(LikelyCauses, a_lost_decimal_point_in_one_depth_is_named) {
  const nlohmann::json report = checkedWith({{"20-tray.nc", "Z-2.8", "Z-28"}});
  ASSERT_FALSE(report["likely_causes"].empty());
  EXPECT_EQ(report["likely_causes"][0]["kind"], "decimal-point");
  EXPECT_THAT(report["likely_causes"][0]["lines"][0].get<std::string>(), ::testing::HasSubstr("Z-2.8"));
}

TEST(LikelyCauses, a_depth_somewhat_too_deep_is_no_lost_decimal_point) {
  const nlohmann::json report = checkedWith({{"20-tray.nc", "Z-2.8", "Z-8"}});
  EXPECT_EQ(report["likely_causes"], nlohmann::json::array());
}

TEST(LikelyCauses, incremental_distances_left_on_behind_a_move_home_are_named) {
  EXPECT_EQ(causesIn(checkedWith({{"20-tray.nc", "T1 M6", "G28 G91 Z0\nT1 M6"}})),
            std::vector<std::string>{"distance-mode: G90"});
  EXPECT_EQ(causesIn(checkedWith({{"20-tray.nc", "T1 M6", "G28 G91 Z0\nG90\nT1 M6"}})), std::vector<std::string>{});
}

TEST(LikelyCauses, incremental_in_place_of_absolute_distances_is_named) {
  EXPECT_EQ(causesIn(checkedWith({{"20-tray.nc", "G21 G90", "G21 G91"}})),
            std::vector<std::string>{"distance-mode: G21 G90 G17 G94"});
}

// Passes of 3 mm to Z -9, and the last one through 12 mm.
TEST(LikelyCauses, a_through_cut_with_a_lost_decimal_point_is_named_at_its_depth) {
  const nlohmann::json report = panelCheckedWith("\"screw W\", \"screw E\", \"screw A\", \"screw B\"", "-122");
  ASSERT_FALSE(report["likely_causes"].empty());
  EXPECT_THAT(report["likely_causes"][0]["question"].get<std::string>(), ::testing::HasSubstr("to be Z-12.2?"));
}

TEST(LikelyCauses, hold_downs_that_the_job_file_does_not_list_are_named_where_they_would_hold_a_part) {
  EXPECT_EQ(causesIn(panelCheckedWith("\"screw W\", \"screw E\"")),
            std::vector<std::string>{"hold-downs: hold_downs = [\"screw W\", \"screw E\", \"screw A\", \"screw B\"]"});
  EXPECT_EQ(causesIn(panelCheckedWith("\"screw W\", \"screw E\", \"screw A\", \"screw B\"")),
            std::vector<std::string>{});
}

TEST(LikelyCauses, a_bit_told_with_another_diameter_than_all_programs_name_is_named_once) {
  for (const char* planted : {"3", "8"}) {
    const nlohmann::json report = checkedWith(
        {{"job.toml", "shape = \"flat\"\ndiameter = 6", std::string("shape = \"flat\"\ndiameter = ") + planted}});
    EXPECT_EQ(causesIn(report), std::vector<std::string>{"tool-diameter: diameter = 6"}) << planted;
    EXPECT_EQ(report["likely_causes"][0]["one_of_several"], false) << planted;
  }
}

TEST(LikelyCauses, the_wrong_bit_in_the_spindle_is_named) {
  for (const char* planted : {"2", "3"}) {
    const nlohmann::json report = checkedWith({{"90-outline.nc", "T1 M6\n", ""},
                                               {"job.toml", "file = \"90-outline.nc\"\ntool = 1",
                                                std::string("file = \"90-outline.nc\"\ntool = ") + planted}});
    EXPECT_EQ(causesIn(report), std::vector<std::string>{"tool-number: tool = 1"}) << planted;
    EXPECT_EQ(report["likely_causes"][0]["question"], "Is 6 mm flat in the spindle for 90-outline.nc?");
    EXPECT_EQ(rulesUnder(report, nullptr), std::vector<std::string>{}) << planted;
  }
}

TEST(LikelyCauses, a_tool_word_that_the_programs_comments_contradict_is_named) {
  const nlohmann::json report =
      checkedWith({{"50-thumb-groove.nc", "T4 M6", "T2 M6"},
                   {"job.toml", "file = \"50-thumb-groove.nc\"\ntool = 4", "file = \"50-thumb-groove.nc\""}});
  EXPECT_EQ(causesIn(report), std::vector<std::string>{"tool-number: T4 M6"});
  EXPECT_EQ(rulesUnder(report, nullptr), std::vector<std::string>{});
}

TEST(LikelyCauses, a_floor_cut_before_its_roughing_is_named_and_in_the_right_order_nothing_is) {
  const auto [rough, floor] = roughAndFloor();
  const std::string first = entryOf("60-compartment.nc"), second = entryOf("65-floor.nc");
  const auto in = [&](const std::string& order) {
    return checkedWith({{"60-compartment.nc", "", rough}, {"65-floor.nc", "", floor}, {"job.toml", first, order}});
  };
  const nlohmann::json planted = in(second + "\n" + first);
  EXPECT_EQ(causesIn(planted), std::vector<std::string>{"order:"});
  EXPECT_EQ(planted["likely_causes"][0]["question"], "Should 60-compartment.nc run before 65-floor.nc?");
  const nlohmann::json right = in(first + "\n" + second);
  EXPECT_EQ(right["likely_causes"], nlohmann::json::array());
  EXPECT_EQ(right["verdict"], "clear");
}

// The screw stands in the tray whatever the zero is.
TEST(LikelyCauses, a_real_fault_beside_the_cause_is_told_in_full) {
  const nlohmann::json report = checkedWith({{"job.toml", front_zero, "zero = [\"left\", \"front\", \"bottom\"]"},
                                             {"job.toml", "at = [15, 20]", "at = [60, 60]"}});
  ASSERT_EQ(causesIn(report), std::vector<std::string>{"zero-face: zero = [\"left\", \"front\", \"top\"]"});
  EXPECT_THAT(rulesUnder(report, nullptr), ::testing::Contains("hold-down-hit screw SW"));
  EXPECT_GT(rulesUnder(report, 0).size(), 5U);
}

TEST(LikelyCauses, the_clean_job_and_one_with_real_faults_have_none) {
  EXPECT_EQ(check("cribbage-board").report["likely_causes"], nlohmann::json::array());
  EXPECT_EQ(check("cribbage-board-trouble").report["likely_causes"], nlohmann::json::array());
}

// One real fault each: no other description explains it.
TEST(LikelyCauses, a_single_real_fault_has_none) {
  const std::vector<std::vector<Edit>> faults{
      {{"job.toml", "at = [15, 20]", "at = [60, 60]"}},                                      // a screw in the way
      {{"job.toml", "at = [240, -20]\nsize = [30, 60]", "at = [240, 0]\nsize = [30, 60]"}},  // a clamp in the way
      {{"job.toml", "travel = [800, 800, 120]", "travel = [300, 800, 120]"}},                // a machine too small
      {{"job.toml", "length = 32", "length = 50"}},                                          // a screw too long
      {{"job.toml", "allowed_cut = 0.3", "allowed_cut = 0.05"}},
      {{"job.toml", "at = [466, 45]", "at = [460, 45]"}},  // a pin beside its hole
      {{"job.toml", "stickout = 35", "stickout = 12"}},    // a bit gripped too short
      {{"job.toml", "max_stepdown = 6\nplunge_feed = 1000", "max_stepdown = 2\nplunge_feed = 1000"}},
  };
  for (const auto& fault : faults) {
    const nlohmann::json report = checkedWith(fault);
    EXPECT_NE(report["findings"], nlohmann::json::array()) << fault.front().to;
    EXPECT_EQ(report["likely_causes"], nlohmann::json::array()) << fault.front().to;
  }
}

// Three holes, then the slot of another bit: M0 to change it by hand, and no T.
TEST(LikelyCauses, a_bit_changed_by_hand_that_no_word_calls_is_named) {
  const testing::TempFolder job;
  job.write("job.toml", R"(version = 1
[stock]
size = [100, 80, 20]
material = "hardwood"
[spoilboard]
thickness = 18
[[tool]]
number = 1
name = "3 mm drill"
shape = "drill"
diameter = 3
angle = 118
flutes = 2
flute_length = 30
shank_diameter = 3
stickout = 40
[[tool]]
number = 2
name = "6 mm flat"
shape = "flat"
diameter = 6
flutes = 2
flute_length = 20
shank_diameter = 6
stickout = 30
[[setup]]
name = "top"
zero = ["left", "front", "top"]
held_by = "glue"
[[setup.program]]
file = "a.nc"
tool = 1
)");
  job.write("a.nc",
            "G21 G90 G17 G94\nM3 S12000\nG4 P5\nG0 Z20\nG0 X30 Y20\nG0 Z2\nG1 Z-12 F250\nG0 Z20\nM5\n"
            "(change to 6mm end mill)\nM0\nM3 S16000\nG4 P5\nG0 X20 Y40\nG0 Z2\nG1 Z-3 F300\nG1 X80 F1500\nG1 Y60\n"
            "G0 Z20\nM5\nM30\n");
  const auto report = nlohmann::json::parse(
      testing::runProcess(job.path(), {PROVECUT_PROGRAM, "check", "job.toml", "--format", "json"}).out);
  EXPECT_EQ(causesIn(report), std::vector<std::string>{"tool-number: T2 M6"});
  EXPECT_EQ(report["likely_causes"][0]["question"], "Is 6 mm flat in the spindle from line 11 of a.nc?");
  EXPECT_TRUE(rulesUnder(report, nullptr).empty());
  EXPECT_EQ(rulesUnder(report, 0).size(), 3U);
}

TEST(LikelyCauses, with_quiet_the_cause_is_one_line_above_the_findings) {
  const std::string told =
      ranWith({{"job.toml", front_zero, "zero = [\"left\", \"front\", \"bottom\"]"}}, {"--quiet"}).out;
  using namespace ::testing;
  EXPECT_THAT(told, StartsWith("Likely cause: Is Z zero on the top of the stock in setup front? "));
  EXPECT_THAT(told, HasSubstr("are gone.\n10-frame-holes.nc:13:9: stop: "));
}

TEST(LikelyCauses, nothing_is_applied) {
  const nlohmann::json report = checkedWith({{"job.toml", front_zero, "zero = [\"left\", \"front\", \"bottom\"]"}});
  EXPECT_EQ(report["verdict"], "stop");
  EXPECT_GT(report["findings"].size(), 20U);
}

}  // namespace provecut::samples
