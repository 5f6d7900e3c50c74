// `provecut time` and `provecut quote` as a whole: job file and programs in, numbers out.
#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <sys/wait.h>

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>
#include <sstream>
#include <string>
#include <string_view>

#include "tests/paths.h"

namespace provecut {
namespace {

using nlohmann::json;
using testing::HasSubstr;

struct Answer {
  int status = -1;
  std::string out, err;
};

std::string fileText(const std::filesystem::path& path) {
  std::ostringstream text;
  text << std::ifstream(path, std::ios::binary).rdbuf();
  return text.str();
}

class Commands : public testing::Test {
 protected:
  void SetUp() override {
    folder = std::filesystem::path(testing::TempDir()) /
             (std::string("provecut-time-") + testing::UnitTest::GetInstance()->current_test_info()->name());
    std::filesystem::remove_all(folder);
    std::filesystem::create_directories(folder);
  }
  void TearDown() override { std::filesystem::remove_all(folder); }

  void write(const std::string& name, const std::string& text) { std::ofstream(folder / name, std::ios::binary) << text; }

  Answer run(const std::string& words) {
    const std::string line = "cd '" + folder.string() + "' && '" PROVECUT_PROGRAM "' " + words + " >out.txt 2>err.txt";
    const int status = std::system(line.c_str());
    return {WIFEXITED(status) ? WEXITSTATUS(status) : -1, fileText(folder / "out.txt"), fileText(folder / "err.txt")};
  }

  std::filesystem::path folder;
};

std::string job(const std::string& machine, const std::string& programs, const std::string& rest = "") {
  return "version = 1\nname = \"Test <b>\"\n[machine]\n" + machine +
         "\n[stock]\nsize = [300, 200, 18]\n[[tool]]\nnumber = 1\nshape = \"flat\"\ndiameter = 6\nflute_length = 20\nstickout = 35\n"
         "[[setup]]\nname = \"front\"\nzero = [\"left\", \"front\", \"top\"]\n" +
         programs + rest;
}

const char* const bench = "max_rate = [5000, 5000, 5000]\nacceleration = [500, 500, 500]\njunction_deviation = 0.01\nspindle_start_s = 4\ntool_change_s = 120\n";

const char* const square = "G21 G90 G17 G94\nG1 X100 F3000\nY100\nX0\nY0\nM2\n";

const char* const quote =
    "[quote]\ncurrency = \"USD\"\nmachine_rate = 45\nlabour_rate = 30\nsetup_minutes = 20\nper_setup_minutes = 10\n"
    "material_cost = 18\nfinishing_minutes = 40\nmargin = 0.25\nquantity = [1, 10, 50]\n";

TEST_F(Commands, a_square_takes_the_worked_time) {
  write("job.toml", job(bench, "[[setup.program]]\nfile = \"square.nc\"\ntool = 1\n"));
  write("square.nc", square);
  const Answer a = run("time --format json job.toml");
  ASSERT_EQ(a.status, 0) << a.err;
  const json j = json::parse(a.out);
  EXPECT_NEAR(j["time"]["total_s"].get<double>(), 8.359756397406, 1e-8);  // trade formula F17 (geometry)
  EXPECT_NEAR(j["programs"][0]["tools"][0]["feed_mm"].get<double>(), 400, 1e-9);
  EXPECT_EQ(j["provecut"], 1);
  EXPECT_EQ(j["complete"], true);
  EXPECT_EQ(j["slowest"][0]["line"], 2);
  EXPECT_EQ(j["slowest"][0]["last_line"], 5);
}

TEST_F(Commands, the_design_pages_quote_comes_out_to_the_cent) {
  // 4100 s of dwells in two setups; trade formula F26: 145.67, 1336.67, 6630.00.
  write("job.toml", job(bench, "[[setup.program]]\nfile = \"front.nc\"\ntool = 1\n",
                        std::string("[[setup]]\nname = \"back\"\nturn = \"over-y\"\nzero = [\"left\", \"front\", \"top\"]\n"
                                    "[[setup.program]]\nfile = \"back.nc\"\ntool = 1\n") + quote));
  write("front.nc", "G21 G90 G17 G94\nG4 P2000\nM2\n");
  write("back.nc", "G21 G90 G17 G94\nG4 P2100\nM2\n");
  const Answer a = run("quote --format json job.toml");
  ASSERT_EQ(a.status, 0) << a.err;
  const json lines = json::parse(a.out)["quote"]["lines"];
  ASSERT_EQ(lines.size(), 3U);
  EXPECT_EQ(lines[0]["total"].dump(), "145.67");
  EXPECT_EQ(lines[1]["total"].dump(), "1336.67");
  EXPECT_EQ(lines[1]["each"].dump(), "133.67");
  EXPECT_EQ(lines[2]["total"].dump(), "6630.0");
  EXPECT_EQ(lines[2]["each"].dump(), "132.6");

  const Answer text = run("quote job.toml");
  EXPECT_EQ(text.status, 0);
  for (const char* words : {"145.67", "1336.67", "6630.00", "4100 s at 45.00 an hour", "25 % of the price", "rounded to the cent once", "30 % lower"})
    EXPECT_THAT(text.out, HasSubstr(words));

  const Answer page = run("quote --format html job.toml");
  EXPECT_EQ(page.status, 0);
  EXPECT_THAT(page.out, HasSubstr("1336.67"));
  EXPECT_THAT(page.out, HasSubstr("Test &lt;b&gt;"));
  EXPECT_EQ(page.out.find("Test <b>"), std::string::npos);
  EXPECT_EQ(page.out.find("<script"), std::string::npos);
  EXPECT_EQ(page.out.find("http:"), std::string::npos);
  EXPECT_EQ(page.out.find("https:"), std::string::npos);
}

// F38 from files: a sheet of eight, its time in dwells and one long cut that reaches its feed at once.
TEST_F(Commands, sign_blanks_come_out_to_the_cent) {
  // 14776 s of machine, of them 11520 s in the material: 300 mm at 1.5625 mm/min, less what speeding up adds (< 1 ms).
  write("job.toml", job("max_rate = [5000, 5000, 5000]\nacceleration = [5000, 5000, 5000]\nspindle_start_s = 0\n",
                        "[[setup.program]]\nfile = \"signs.nc\"\ntool = 1\n",
                        "[quote]\nmachine_rate = 48\nlabour_rate = 40\nsetup_minutes = 45\nprogramming_minutes = 90\nprogramming_rate = 50\n"
                        "load_minutes = 32\ntooling_per_hour = 1.54\nfinishing_minutes = 12\nconsumables_cost = 0.35\nmaterial_cost = 96\n"
                        "material_waste = 0.15\npieces = 8\nmargin = 0.30\ntax = 0.0825\nquantity = [1, 12, 50]\n"));
  write("signs.nc", "G21 G90 G17 G94\nS18000 M3\nG0 X-3 Y50\nZ-1\nG4 P3253\nG1 X297 F1.5625\nM2\n");
  const Answer a = run("quote --format json job.toml");
  ASSERT_EQ(a.status, 0) << a.err;
  const json lines = json::parse(a.out)["quote"]["lines"];
  const double wear = lines[0]["costs"][4]["amount"].get<double>();
  EXPECT_EQ(lines[0]["costs"][4]["name"], "tool wear");
  EXPECT_EQ(wear, 0.62);  // F38: 0.616
  // Rapids and ramps add some seconds to 14773 s; with them the machine's 24.63 a piece is right to a cent.
  EXPECT_NEAR(lines[0]["costs"][3]["amount"].get<double>(), 24.63, 0.011);
  EXPECT_NEAR(lines[0]["price"].get<double>(), 221.51, 0.03);     // F38
  EXPECT_NEAR(lines[1]["price"].get<double>(), 1008.16, 0.25);    // F38
}

TEST_F(Commands, time_tells_cutting_from_air_and_lists_lines_and_setups) {
  // 106 mm above the blank, then 106 mm in it: 3 mm before its edge to 3 mm behind.
  write("job.toml", job(bench, "[[setup.program]]\nfile = \"cut.nc\"\ntool = 1\n",
                        "[[setup]]\nname = \"back\"\nturn = \"over-y\"\nzero = [\"left\", \"front\", \"top\"]\n"
                        "[[setup.program]]\nfile = \"line.nc\"\ntool = 1\n"));
  write("cut.nc", "G21 G90 G17 G94\nS18000 M3\nG0 X100 Y-3 Z5\nG1 Y103 F3000\nG4 P1\nG1 Z-1 F3000\nG4 P1\nG1 Y-3\nM2\n");
  write("line.nc", "G21 G90 G17 G94\nG1 X100 F3000\nM2\n");
  const Answer a = run("time --lines --format json job.toml");
  ASSERT_EQ(a.status, 0) << a.err;
  const json j = json::parse(a.out);
  const double line_s = 106.0 / 50 + 50.0 / 500;  // F16
  EXPECT_EQ(j["air_known"], true);
  const json cut = j["programs"][0];
  double of_line_4 = 0, of_lines = 0;
  for (const json& line : cut["lines"]) {
    if (line[0] == 4) of_line_4 = line[1];
    of_lines += line[1].get<double>();
  }
  EXPECT_NEAR(of_lines, cut["time"]["total_s"].get<double>(), 1e-4);
  EXPECT_GT(of_line_4, line_s - 0.2);  // it comes in from the rapid without a halt
  EXPECT_NEAR(cut["time"]["air_s"].get<double>(), of_line_4, 1e-4);
  EXPECT_GT(cut["time"]["cutting_s"].get<double>(), line_s);
  ASSERT_EQ(j["setups"].size(), 2U);
  EXPECT_EQ(j["setups"][1]["setup"], "back");
  EXPECT_NEAR(j["setups"][0]["time"]["total_s"].get<double>() + j["setups"][1]["time"]["total_s"].get<double>(),
              j["time"]["total_s"].get<double>(), 1e-6);
  const Answer text = run("time job.toml");
  EXPECT_THAT(text.out, HasSubstr("in the air at the feed"));
  EXPECT_THAT(text.out, HasSubstr("setup back"));
  EXPECT_EQ(run("time --lines job.toml").status, 2);
  std::istringstream rows(text.out);
  for (std::string row; std::getline(rows, row);) EXPECT_LE(row.size(), 100U) << row;
}

TEST_F(Commands, several_jobs_are_checked_and_summed_up) {
  write("a.toml", job(bench, "[[setup.program]]\nfile = \"square.nc\"\ntool = 1\n"));
  write("b.toml", job(bench, "[[setup.program]]\nfile = \"deep.nc\"\ntool = 1\n"));
  write("square.nc", square);
  write("deep.nc", "G21 G90 G17 G94\nS18000 M3\nG4 P5\nG0 Z5\nX150 Y100\nG1 Z-40 F300\nG0 Z5\nM2\n");  // through blank and board
  const Answer alone = run("check --format json b.toml"), both = run("check --format json a.toml b.toml");
  EXPECT_EQ(alone.status, 1);
  EXPECT_EQ(both.status, 1) << both.err;
  const json j = json::parse(both.out);
  ASSERT_EQ(j["jobs"].size(), 2U);
  EXPECT_EQ(j["jobs"][1], json::parse(alone.out));
  EXPECT_EQ(j["verdict"], "stop");
  EXPECT_NEAR(j["time"]["total_s"].get<double>(),
              j["jobs"][0]["time"]["total_s"].get<double>() + j["jobs"][1]["time"]["total_s"].get<double>(), 1e-6);
  const Answer text = run("check a.toml b.toml");
  EXPECT_EQ(text.status, 1);
  EXPECT_THAT(text.out, HasSubstr("2 jobs together"));
  EXPECT_EQ(run("check a.toml square.nc").status, 2);
  EXPECT_EQ(run("check a.toml nowhere.toml").status, 2);
}

TEST_F(Commands, several_jobs_are_summed_up) {
  write("a.toml", job(bench, "[[setup.program]]\nfile = \"square.nc\"\ntool = 1\n", quote));
  write("square.nc", square);
  write("b.toml", job(bench, "[[setup.program]]\nfile = \"square.nc\"\ntool = 1\n", quote));
  const Answer a = run("time --format json a.toml b.toml");
  ASSERT_EQ(a.status, 0) << a.err;
  EXPECT_NEAR(json::parse(a.out)["time"]["total_s"].get<double>(), 2 * 8.359756397406, 1e-8);
  const json one = json::parse(run("quote --format json a.toml").out);
  const json two = json::parse(run("quote --format json a.toml b.toml").out);
  EXPECT_NEAR(two["together"][0]["total"].get<double>(), 2 * one["quote"]["lines"][0]["total"].get<double>(), 1e-9);
  EXPECT_THAT(run("time a.toml b.toml").out, HasSubstr("2 jobs together: 0:00:17"));
}

TEST_F(Commands, measured_times_lead_to_the_machine) {
  // Strokes to and fro on a machine of 250 mm/s², half of what is set;
  // F16 for a stroke of 2 mm from rest to rest: 2 sqrt(2 / 250) = 0.178885438199983 s; 200 of them 35.7770876399966 s.
  std::string strokes = "G21 G90 G17 G94 F3000\n";
  for (int i = 0; i < 100; ++i) strokes += "G1 X2\nX0\n";
  write("strokes.nc", strokes + "M2\n");
  write("job.toml", job(std::string(bench) + "[[machine.measured]]\nprogram = \"strokes.nc\"\nseconds = 35.7770876399966\n"
                                             "[[machine.measured]]\nprogram = \"gone.nc\"\nseconds = 10\n",
                        "[[setup.program]]\nfile = \"strokes.nc\"\ntool = 1\n"));
  const Answer a = run("time --fit --format json job.toml");
  ASSERT_EQ(a.status, 0) << a.err;
  const json fit = json::parse(a.out)["fit"];
  EXPECT_NEAR(fit["acceleration_factor"].get<double>(), 0.5, 1e-6);
  EXPECT_TRUE(fit["junction_deviation_mm"].is_null());
  EXPECT_EQ(fit["left_out"][0], "gone.nc");
  const Answer text = run("time --fit job.toml");
  EXPECT_THAT(text.out, HasSubstr("acceleration = [250, 250, 250]"));
  EXPECT_THAT(text.out, HasSubstr("gone.nc is no program of this job"));
}

TEST_F(Commands, programs_alone_run_on_a_machine_that_is_named) {
  write("square.nc", square);
  const Answer a = run("time square.nc");
  EXPECT_EQ(a.status, 0) << a.err;
  EXPECT_THAT(a.out, HasSubstr("no job file: the machine is the built-in \"bench-screw\""));
}

TEST_F(Commands, a_feed_override_slows_the_feeds) {
  write("line.nc", "G21 G90 G17 G94\nG1 X100 F3000\nM2\n");
  write("job.toml", job(bench, "[[setup.program]]\nfile = \"line.nc\"\ntool = 1\n"));
  // F16: 100/25 + 25/500
  EXPECT_NEAR(json::parse(run("time --feed 50 --format json job.toml").out)["time"]["total_s"].get<double>(), 4.05, 1e-8);
  for (const char* odd : {"0", "-5", "nan", "inf", "x", "1e9", "\"\""}) EXPECT_EQ(run(std::string("time --feed ") + odd + " job.toml").status, 2) << odd;
}

TEST_F(Commands, what_cannot_be_used_is_refused_with_the_reason) {
  write("square.nc", square);
  write("job.toml", job(bench, "[[setup.program]]\nfile = \"square.nc\"\ntool = 1\n"));
  EXPECT_EQ(run("time").status, 2);
  EXPECT_EQ(run("time nowhere.toml").status, 2);
  EXPECT_EQ(run("time job.toml square.nc").status, 2);
  EXPECT_EQ(run("time --format html job.toml").status, 2);
  EXPECT_EQ(run("quote square.nc").status, 2);
  const Answer none = run("quote job.toml");
  EXPECT_EQ(none.status, 2);
  EXPECT_THAT(none.err, HasSubstr("no [quote] section"));
  for (const char* odd : {"acceleration = [0, 500, 500]", "acceleration = [500, nan, 500]", "max_rate = [5000, -1, 5000]",
                          "junction_deviation = -0.01", "blocks_per_second = -3", "tool_change_s = inf", "jerk = nan", "look_ahead_blocks = -1",
                          "look_ahead_blocks = 2.5", "spindle_stop_s = -1", "arc_acceleration = \"half\"", "acceleration = [1e300, 1, 1]",
                          "max_rate = [1e-30, 1, 1]"}) {
    write("odd.toml", job(odd, "[[setup.program]]\nfile = \"square.nc\"\ntool = 1\n"));
    const Answer a = run("time odd.toml");
    EXPECT_EQ(a.status, 2) << odd;
    EXPECT_THAT(a.err, HasSubstr("odd.toml:4")) << odd;
    const std::string key(odd, std::string_view(odd).find(' '));
    EXPECT_THAT(a.err, HasSubstr("`" + key + "`")) << odd;
  }
  for (const char* odd : {"machine_rate = -1", "labour_rate = nan", "material_cost = inf", "margin = 1", "margin = -0.1", "markup = -1",
                          "tax = nan", "quantity = [0]", "quantity = [1.5]", "quantity = [-3]", "pieces = 0", "tooling_per_hour = 1e300",
                          "programming_minutes = -5", "programming_rate = nan", "change_over_minutes = -1", "consumables_cost = -0.01"}) {
    write("odd.toml", job(bench, "[[setup.program]]\nfile = \"square.nc\"\ntool = 1\n", std::string("[quote]\n") + odd + "\n"));
    const Answer a = run("quote odd.toml");
    EXPECT_EQ(a.status, 2) << odd;
    const std::string key(odd, std::string_view(odd).find(' '));
    EXPECT_THAT(a.err, HasSubstr("`" + key + "`")) << odd;
    EXPECT_THAT(a.err, HasSubstr("odd.toml:25")) << odd << a.err;
  }
}

TEST_F(Commands, a_program_that_is_not_read_whole_is_named_and_gives_1) {
  write("job.toml", job(bench, "[[setup.program]]\nfile = \"odd.nc\"\ntool = 1\n", quote));
  write("odd.nc", "G21 G90 G17 G94 F1000\nG1 X10\nM98 P100\nG1 X20\nM2\n");
  const Answer a = run("time job.toml");
  EXPECT_EQ(a.status, 1) << a.out;
  EXPECT_THAT(a.out, HasSubstr("odd.nc could not be read whole"));
  EXPECT_THAT(run("quote job.toml").out, HasSubstr("its time is too short"));
}

}  // namespace
}  // namespace provecut
