// `provecut time` and `provecut quote` as a whole: job file and programs in, numbers out.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>
#include <sstream>
#include <string>
#include <string_view>
#include <vector>

#include "tests/paths.h"
#include "tests/process.h"

namespace provecut {
namespace {

using nlohmann::json;
using ::testing::HasSubstr;

using Answer = testing::Ran;

class Commands : public ::testing::Test {
 protected:
  void SetUp() override {
    folder = std::filesystem::path(::testing::TempDir()) /
             (std::string("provecut-time-") + ::testing::UnitTest::GetInstance()->current_test_info()->name());
    std::filesystem::remove_all(folder);
    std::filesystem::create_directories(folder);
  }
  void TearDown() override { std::filesystem::remove_all(folder); }

  void write(const std::string& name, const std::string& text) {
    std::ofstream(folder / name, std::ios::binary) << text;
  }

  Answer run(const std::string& words) {
    return testing::runShell(folder, std::string("'" PROVECUT_PROGRAM "' ") + words);
  }

  std::filesystem::path folder;
};

std::string job(const std::string& machine, const std::string& programs, const std::string& rest = "") {
  return "version = 1\nname = \"Test <b>\"\n[machine]\n" + machine +
         "\n[stock]\nsize = [300, 200, 18]\n[[tool]]\nnumber = 1\nshape = \"flat\"\ndiameter = 6\nflute_length = "
         "20\nstickout = 35\n"
         "[[setup]]\nname = \"front\"\nzero = [\"left\", \"front\", \"top\"]\n" +
         programs + rest;
}

const char* const bench =
    "max_rate = [5000, 5000, 5000]\nacceleration = [500, 500, 500]\njunction_deviation = 0.01\nspindle_start_s = "
    "4\ntool_change_s = 120\n";

// It starts from a known position: otherwise the length of the first side is unknown.
const char* const square = "G21 G90 G17 G94\nG0 X0 Y0\nG1 X100 F3000\nY100\nX0\nY0\nM2\n";

const char* const quote =
    "[quote]\ncurrency = \"USD\"\nmachine_rate = 45\nlabour_rate = 30\nsetup_minutes = 20\nper_setup_minutes = 10\n"
    "material_cost = 18\nfinishing_minutes = 40\nmargin = 0.25\nquantity = [1, 10, 50]\n";

TEST_F(Commands, a_square_takes_the_worked_time) {
  write("job.toml", job(bench, "[[setup.program]]\nfile = \"square.nc\"\ntool = 1\n"));
  write("square.nc", square);
  const Answer a = run("time --format json job.toml");
  ASSERT_EQ(a.status, 0) << a.err;
  const json j = json::parse(a.out);
  // 400 mm at v = 50 mm/s, two ramps from rest of v / 2a each, six from the corners' speed u of (v - u)^2 / 2av each;
  // u^2 = a d s / (1 - s) with s = sin 45 degrees.
  EXPECT_NEAR(j["time"]["total_s"].get<double>(), 8.359756397406, 1e-8);
  EXPECT_NEAR(j["programs"][0]["tools"][0]["feed_mm"].get<double>(), 400, 1e-9);
  EXPECT_EQ(j["provecut"], 1);
  EXPECT_EQ(j["complete"], true);
  EXPECT_EQ(j["slowest"][0]["line"], 3);
  EXPECT_EQ(j["slowest"][0]["last_line"], 6);
}

TEST_F(Commands, the_design_pages_quote_comes_out_to_the_cent) {
  // 4100 s of dwells in two setups: 145.67, 1336.67, 6630.00.
  write("job.toml",
        job(bench, "[[setup.program]]\nfile = \"front.nc\"\ntool = 1\n",
            std::string("[[setup]]\nname = \"back\"\nflip = \"left-right\"\nzero = [\"left\", \"front\", \"top\"]\n"
                        "[[setup.program]]\nfile = \"back.nc\"\ntool = 1\n") +
                quote));
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
  for (const char* words : {"145.67", "1,336.67", "6,630.00", "1:08:20 at 45.00 an hour", "25 % of the price",
                            "rounded once, to the cent", "30 % lower"})
    EXPECT_THAT(text.out, HasSubstr(words));

  const Answer page = run("quote --format html job.toml");
  EXPECT_EQ(page.status, 0);
  EXPECT_THAT(page.out, HasSubstr("1336.67"));
  EXPECT_THAT(page.out, HasSubstr("Test &lt;b&gt;"));
  EXPECT_EQ(page.out.find("Test <b>"), std::string::npos);
  EXPECT_EQ(page.out.find("<script"), std::string::npos);
  // What the shop earns is not on the page that the customer gets.
  const std::size_t shop = page.out.find("Shop copy");
  ASSERT_NE(shop, std::string::npos);
  const std::string customer = page.out.substr(page.out.find("<section>"), shop - page.out.find("<section>"));
  EXPECT_THAT(customer, HasSubstr("1336.67"));
  for (const char* inner : {"margin", "an hour", "low time"})
    EXPECT_EQ(customer.find(inner), std::string::npos) << inner;
  EXPECT_THAT(page.out.substr(shop), HasSubstr("margin"));
  EXPECT_EQ(page.out.find("http:"), std::string::npos);
  EXPECT_EQ(page.out.find("https:"), std::string::npos);
}

// A sheet of eight, its time in dwells and one long cut that reaches its feed at once.
TEST_F(Commands, sign_stocks_come_out_to_the_cent) {
  // 14776 s of machine, of them 11520 s in the material: 300 mm at 1.5625 mm/min, less what speeding up adds (< 1 ms).
  write("job.toml",
        job("max_rate = [5000, 5000, 5000]\nacceleration = [5000, 5000, 5000]\nspindle_start_s = 0\n",
            "[[setup.program]]\nfile = \"signs.nc\"\ntool = 1\n",
            "[quote]\nmachine_rate = 48\nlabour_rate = 40\nsetup_minutes = 45\nprogramming_minutes = "
            "90\nprogramming_rate = 50\n"
            "load_minutes = 32\ntooling_per_hour = 1.54\nfinishing_minutes = 12\nconsumables_cost = "
            "0.35\nmaterial_cost = 96\n"
            "material_waste = 0.15\nparts_per_stock = 8\nmargin = 0.30\ntax = 0.0825\nquantity = [1, 12, 50]\n"));
  write("signs.nc", "G21 G90 G17 G94\nS18000 M3\nG0 X-3 Y50\nZ-1\nG4 P3253\nG1 X297 F1.5625\nM2\n");
  const Answer a = run("quote --format json job.toml");
  ASSERT_EQ(a.status, 0) << a.err;
  const json lines = json::parse(a.out)["quote"]["lines"];
  const double wear = lines[0]["costs"][4]["amount"].get<double>();
  EXPECT_EQ(lines[0]["costs"][4]["name"], "tool wear");
  EXPECT_EQ(wear, 0.62);  // 0.616
  // Rapids and ramps add some seconds to 14773 s; with them the machine's 24.63 a piece is right to a cent.
  EXPECT_NEAR(lines[0]["costs"][3]["amount"].get<double>(), 24.63, 0.011);
  EXPECT_NEAR(lines[0]["price"].get<double>(), 221.51, 0.03);
  EXPECT_NEAR(lines[1]["price"].get<double>(), 1008.16, 0.25);
}

TEST_F(Commands, time_tells_cutting_from_air_and_lists_lines_and_setups) {
  // 106 mm above the stock, then 106 mm in it: 3 mm before its edge to 3 mm behind.
  write("job.toml", job(bench, "[[setup.program]]\nfile = \"cut.nc\"\ntool = 1\n",
                        "[[setup]]\nname = \"back\"\nflip = \"left-right\"\nzero = [\"left\", \"front\", \"top\"]\n"
                        "[[setup.program]]\nfile = \"line.nc\"\ntool = 1\n"));
  write("cut.nc",
        "G21 G90 G17 G94\nS18000 M3\nG0 X100 Y-3 Z5\nG1 Y103 F3000\nG4 P1\nG1 Z-1 F3000\nG4 P1\nG1 Y-3\nM2\n");
  write("line.nc", "G21 G90 G17 G94\nG1 X100 F3000\nM2\n");
  const Answer a = run("time --lines --format json job.toml");
  ASSERT_EQ(a.status, 0) << a.err;
  const json j = json::parse(a.out);
  const double line_s = 106.0 / 50 + 50.0 / 500;  // s / v + v / a
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
  EXPECT_THAT(text.out, HasSubstr("cutting moves in air"));
  EXPECT_THAT(text.out, HasSubstr("setup back"));
  EXPECT_EQ(run("time --lines job.toml").status, 2);
  std::istringstream rows(text.out);
  for (std::string row; std::getline(rows, row);) EXPECT_LE(row.size(), 100U) << row;
}

TEST_F(Commands, several_jobs_are_checked_and_summed_up) {
  write("a.toml", job(bench, "[[setup.program]]\nfile = \"square.nc\"\ntool = 1\n"));
  write("b.toml", job(bench, "[[setup.program]]\nfile = \"deep.nc\"\ntool = 1\n"));
  write("square.nc", square);
  write("deep.nc",
        "G21 G90 G17 G94\nS18000 M3\nG4 P5\nG0 Z5\nX150 Y100\nG1 Z-40 F300\nG0 Z5\nM2\n");  // through stock and board
  const Answer alone = run("check --format json b.toml"), both = run("check --format json a.toml b.toml");
  EXPECT_EQ(alone.status, 1);
  EXPECT_EQ(both.status, 1) << both.err;
  const json j = json::parse(both.out);
  ASSERT_EQ(j["jobs"].size(), 2U);
  EXPECT_EQ(j["jobs"][1], json::parse(alone.out));
  EXPECT_EQ(j["verdict"], "stop");
  int stops = 0, looks = 0;
  for (const json& one : j["jobs"])
    for (const json& finding : one["findings"]) {
      stops += finding["level"] == "stop";
      looks += finding["level"] == "look";
    }
  EXPECT_GT(stops, 0);
  EXPECT_EQ(j["counts"]["stop"], stops);
  EXPECT_EQ(j["counts"]["look"], looks);
  EXPECT_NEAR(j["time"]["total_s"].get<double>(),
              j["jobs"][0]["time"]["total_s"].get<double>() + j["jobs"][1]["time"]["total_s"].get<double>(), 1e-6);
  const Answer text = run("check a.toml b.toml");
  EXPECT_EQ(text.status, 1);
  const std::size_t total = text.out.find("2 jobs, total");
  ASSERT_NE(total, std::string::npos);
  // name, three times, then the counts that are above none
  std::istringstream row(text.out.substr(total));
  std::vector<std::string> words;
  for (std::string word; row >> word;) words.push_back(word);
  ASSERT_GT(words.size(), 7U);
  EXPECT_EQ(words[6], std::to_string(stops));
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
  EXPECT_NEAR(two["totals"][0]["total"].get<double>(), 2 * one["quote"]["lines"][0]["total"].get<double>(), 1e-9);
  EXPECT_THAT(run("time a.toml b.toml").out, HasSubstr("2 jobs, total: 0:00:17"));
}

TEST_F(Commands, measured_times_lead_to_the_machine) {
  // Strokes to and fro on a machine of 250 mm/s², half of what is set. A stroke of 2 mm from rest to rest takes
  // 2 sqrt(s / a) = 2 sqrt(2 / 250) = 0.178885438199983 s; 200 of them 35.7770876399966 s.
  std::string strokes = "G21 G90 G17 G94 F3000\n";
  for (int i = 0; i < 100; ++i) strokes += "G1 X2\nX0\n";
  write("strokes.nc", strokes + "M2\n");
  write("job.toml",
        job(std::string(bench) + "[[machine.measured]]\nprogram = \"strokes.nc\"\nseconds = 35.7770876399966\n"
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
  EXPECT_THAT(text.out, HasSubstr("[[machine.measured]] gone.nc was left out: the job has no such program"));
}

// An hour for what takes a minute: no acceleration explains it. People copy what they read first.
TEST_F(Commands, a_fit_without_sense_says_so_before_its_numbers) {
  std::string strokes = "G21 G90 G17 G94 F3000\n";
  for (int i = 0; i < 100; ++i) strokes += "G1 X2\nX0\n";
  write("strokes.nc", strokes + "M2\n");
  write("job.toml", job(std::string(bench) + "[[machine.measured]]\nprogram = \"strokes.nc\"\nseconds = 3600\n",
                        "[[setup.program]]\nfile = \"strokes.nc\"\ntool = 1\n"));
  const std::string out = run("time --fit job.toml").out;
  const std::size_t warning = out.find("No sensible fit: do not use these values."),
                    value = out.find("best of what was tried: acceleration = [");
  ASSERT_NE(warning, std::string::npos) << out;
  ASSERT_NE(value, std::string::npos) << out;
  EXPECT_LT(warning, value);
}

TEST_F(Commands, two_timings_of_one_program_leave_the_junction_deviation_alone) {
  write("square.nc", square);
  const std::string measured = "[[machine.measured]]\nprogram = \"square.nc\"\nseconds = 9\n";
  write("job.toml",
        job(std::string(bench) + measured + measured, "[[setup.program]]\nfile = \"square.nc\"\ntool = 1\n"));
  const Answer a = run("time --fit job.toml");
  EXPECT_EQ(a.status, 0) << a.err;
  EXPECT_THAT(a.out, HasSubstr("two different measured programs"));
  EXPECT_THAT(a.out, ::testing::Not(HasSubstr("junction_deviation =")));
  EXPECT_TRUE(json::parse(run("time --fit --format json job.toml").out)["fit"]["junction_deviation_mm"].is_null());
}

TEST_F(Commands, programs_alone_run_on_a_machine_that_is_named) {
  write("square.nc", square);
  const Answer a = run("time square.nc");
  EXPECT_EQ(a.status, 0) << a.err;
  EXPECT_THAT(a.out, HasSubstr("no job file, so the machine is the built-in \"bench-screw\""));
}

TEST_F(Commands, a_feed_override_slows_the_feeds) {
  write("line.nc", "G21 G90 G17 G94\nG0 X0 Y0\nG1 X100 F3000\nM2\n");
  write("job.toml", job(bench, "[[setup.program]]\nfile = \"line.nc\"\ntool = 1\n"));
  // s / v + v / a: 100/25 + 25/500
  EXPECT_NEAR(json::parse(run("time --feed 50 --format json job.toml").out)["time"]["total_s"].get<double>(), 4.05,
              1e-8);
  for (const char* odd : {"0", "-5", "nan", "inf", "x", "1e9", "\"\""})
    EXPECT_EQ(run(std::string("time --feed ") + odd + " job.toml").status, 2) << odd;
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
  for (const char* odd :
       {"acceleration = [0, 500, 500]", "acceleration = [500, nan, 500]", "max_rate = [5000, -1, 5000]",
        "junction_deviation = -0.01", "blocks_per_second = -3", "tool_change_s = inf", "jerk = nan",
        "look_ahead_blocks = -1", "look_ahead_blocks = 2.5", "spindle_stop_s = -1", "arc_acceleration = \"half\"",
        "acceleration = [1e300, 1, 1]", "max_rate = [1e-30, 1, 1]"}) {
    write("odd.toml", job(odd, "[[setup.program]]\nfile = \"square.nc\"\ntool = 1\n"));
    const Answer a = run("time odd.toml");
    EXPECT_EQ(a.status, 2) << odd;
    EXPECT_THAT(a.err, HasSubstr("odd.toml:4")) << odd;
    const std::string key(odd, std::string_view(odd).find(' '));
    EXPECT_THAT(a.err, HasSubstr("`" + key + "`")) << odd;
  }
  for (const char* odd :
       {"machine_rate = -1", "labour_rate = nan", "material_cost = inf", "margin = 1", "margin = -0.1", "markup = -1",
        "tax = nan", "tax = 8.25", "material_waste = 15", "markup = 25", "quantity = [0]", "quantity = [1.5]",
        "quantity = [-3]", "parts_per_stock = 0", "tooling_per_hour = 1e300", "programming_minutes = -5",
        "programming_rate = nan", "change_over_minutes = -1", "consumables_cost = -0.01"}) {
    write("odd.toml",
          job(bench, "[[setup.program]]\nfile = \"square.nc\"\ntool = 1\n", std::string("[quote]\n") + odd + "\n"));
    const Answer a = run("quote odd.toml");
    EXPECT_EQ(a.status, 2) << odd;
    const std::string key(odd, std::string_view(odd).find(' '));
    EXPECT_THAT(a.err, HasSubstr("`" + key + "`")) << odd;
    EXPECT_THAT(a.err, HasSubstr("odd.toml:25")) << odd << a.err;
  }
}

TEST_F(Commands, percents_in_the_quote_are_what_is_charged) {
  write("square.nc", square);
  write("job.toml", job(bench, "[[setup.program]]\nfile = \"square.nc\"\ntool = 1\n",
                        "[quote]\nmaterial_cost = 100\nmargin = 0.999999\ntax = 0.08875\n"));
  for (const char* format : {"text", "html"}) {
    const Answer a = run(std::string("quote --format ") + format + " job.toml");
    EXPECT_EQ(a.status, 0) << a.err;
    EXPECT_THAT(a.out, HasSubstr("8.875 % of the price"));
    EXPECT_THAT(a.out, HasSubstr("99.9999 % of the price"));
    EXPECT_THAT(a.out,
                HasSubstr(format == std::string("text") ? "8,875,000.00" : "8875000.00"));  // 100 / 0.000001 * 0.08875
  }
}

TEST_F(Commands, a_quote_beyond_count_is_refused) {
  write("square.nc", square);
  const auto quoted = [&](const char* name, const char* lines) {
    write(name, job(bench, "[[setup.program]]\nfile = \"square.nc\"\ntool = 1\n", std::string("[quote]\n") + lines));
  };
  quoted("job.toml", "material_cost = 1e9\nquantity = [1, 1000000]\nmargin = 0.999999\n");
  for (const char* format : {"text", "json", "html"}) {
    const Answer a = run(std::string("quote --format ") + format + " job.toml");
    EXPECT_EQ(a.status, 2);
    EXPECT_EQ(a.out, "");
    EXPECT_THAT(a.err, HasSubstr("job.toml: the quote is over 9999999999999.99 USD"));
  }
  // Twenty moves at a feed of almost nothing: more than 10^12 s.
  std::string moves;
  for (int k = 0; k < 10; ++k) moves += "G1 X100\nX0\n";
  write("slow.nc", "G21 G90 G17 G94 F0.000000001\nG0 X0 Y0 Z0\n" + moves + "M2\n");
  write("slow.toml", job(bench, "[[setup.program]]\nfile = \"slow.nc\"\ntool = 1\n", "[quote]\nmachine_rate = 1e6\n"));
  const Answer slow = run("quote slow.toml");
  EXPECT_EQ(slow.status, 2);
  EXPECT_THAT(slow.err, HasSubstr("slow.toml: the quote is over"));
  EXPECT_TRUE(json::parse(run("check --format json slow.toml").out)["quote"].is_null());
  // Each can be counted, their sum cannot.
  quoted("half.toml", "material_cost = 1e9\nquantity = [6000]\n");
  EXPECT_EQ(run("quote half.toml").status, 0);
  const Answer both = run("quote half.toml half.toml");
  EXPECT_EQ(both.status, 2);
  EXPECT_THAT(both.err, HasSubstr("all jobs: the quote is over"));
}

TEST_F(Commands, a_program_that_is_not_read_whole_is_named_and_gives_1) {
  write("job.toml", job(bench, "[[setup.program]]\nfile = \"odd.nc\"\ntool = 1\n", quote));
  write("odd.nc", "G21 G90 G17 G94 F1000\nG1 X10\nM98 P100\nG1 X20\nM2\n");
  const Answer a = run("time job.toml");
  EXPECT_EQ(a.status, 1) << a.out;
  EXPECT_THAT(a.out, HasSubstr("odd.nc could not be read completely"));
  EXPECT_THAT(run("quote job.toml").out, HasSubstr("the time and the price are too low"));
}

TEST_F(Commands, a_program_without_a_feed_is_said_to_take_longer) {
  write("no-feed.nc", "G21 G90 G17 G94\nS18000 M3\nG0 X10 Y10 Z5\nG1 Z-1\nG1 X100\nG0 Z5\nM30\n");
  write("job.toml", job(bench, "[[setup.program]]\nfile = \"no-feed.nc\"\ntool = 1\n", quote));
  for (const char* command : {"time", "quote"}) {
    const Answer text = run(std::string(command) + " job.toml"),
                 numbers = run(std::string(command) + " --format json job.toml");
    EXPECT_EQ(text.status, 1);
    EXPECT_THAT(text.out, HasSubstr("no-feed.nc has cutting moves with no feed rate set"));
    EXPECT_THAT(text.out, HasSubstr(std::string(command) == "time" ? "so its time is too short"
                                                                   : "so the time and the price are too low"));
    EXPECT_EQ(numbers.status, 1);
    const json j = json::parse(numbers.out);
    EXPECT_EQ(j["complete"], false);
    ASSERT_EQ(j["not_checked"].size(), 1U);
    EXPECT_THAT(j["not_checked"][0].get<std::string>(),
                HasSubstr("no-feed.nc has cutting moves with no feed rate set"));
  }
  const Answer page = run("quote --format html job.toml");
  EXPECT_EQ(page.status, 1);
  EXPECT_THAT(page.out, HasSubstr("so the time and the price are too low"));
  const Answer checked = run("check --format json job.toml");
  EXPECT_THAT(json::parse(checked.out)["quote"]["assumed"].back().get<std::string>(),
              HasSubstr("no-feed.nc has cutting moves with no feed rate set"));
  // The first move with a feed is as late as it may be: one that is fed before is complete.
  write("no-feed.nc", "G21 G90 G17 G94\nS18000 M3\nG0 X10 Y10 Z5\nG1 Z-1 F300\nG1 X100\nG0 Z5\nM30\n");
  EXPECT_EQ(run("time job.toml").status, 0);
}

// How far a first move goes depends on where the tool was, which nobody knows: from work zero at the top of the
// travel, 120 mm above, a feed of 100 mm/min would take more than a minute.
TEST_F(Commands, a_feed_move_from_an_unknown_height_is_no_long_feed) {
  write("job.toml",
        job(std::string(bench) + "travel = [800, 800, 120]\n", "[[setup.program]]\nfile = \"in.nc\"\ntool = 1\n"));
  const char* const cut = "G1 X100 Y0 F3000\nM2\n";
  write("in.nc", std::string("G21 G90 G17 G94\nG0 X0 Y0\nG1 Z3 F100\n") + cut);
  const json j = json::parse(run("time --format json job.toml").out);
  const double line_s = 100.0 / 50 + 50.0 / 500;                // s / v + v / a
  EXPECT_LT(j["time"]["total_s"].get<double>(), line_s + 2.5);  // 120 mm at 5000 mm/min: 1.6 s
  EXPECT_LT(j["time"]["low_s"].get<double>(), line_s + 0.2);    // the first moves are left out
  EXPECT_GT(j["time"]["high_s"].get<double>(), line_s);
  const auto says = [](const json& list, const char* words) {
    return std::any_of(list.begin(), list.end(),
                       [&](const json& text) { return text.get<std::string>().find(words) != std::string::npos; });
  };
  EXPECT_TRUE(says(j["assumed"]["time"], "each program is assumed to start over X0 Y0 with Z fully up"))
      << j["assumed"];
  EXPECT_TRUE(says(j["assumed"]["low"], "the tool already stands where each program begins")) << j["assumed"];
  EXPECT_TRUE(says(j["assumed"]["high"], "to go from there at its programmed feeds")) << j["assumed"];
  EXPECT_THAT(run("time job.toml").out, HasSubstr("assumed to start over X0 Y0 with Z fully up"));
  // From a known height the same feed is charged: 17 mm at 100 mm/min, 10.2 s.
  write("in.nc", std::string("G21 G90 G17 G94\nG0 X0 Y0 Z20\nG1 Z3 F100\n") + cut);
  EXPECT_GT(json::parse(run("time --format json job.toml").out)["time"]["low_s"].get<double>(), line_s + 10.1);
}

// Under G91 from the start nothing says where the tool is, so no move's length is known.
TEST_F(Commands, a_program_that_never_sets_its_position_is_said_to_take_longer) {
  write("job.toml", job(bench, "[[setup.program]]\nfile = \"in.nc\"\ntool = 1\n", quote));
  const char* const moves = "G1 Z-6 F100\nX10\nY-20\nX-10\nY20\nZ6\nM30\n";
  write("in.nc", std::string("G21 G17 G94 G91\nG0 X20 Y35\n") + moves);
  for (const char* command : {"time", "quote"}) {
    const Answer a = run(std::string(command) + " job.toml");
    EXPECT_EQ(a.status, 1);
    EXPECT_THAT(a.out, HasSubstr("in.nc has cutting moves from a position it never sets"));
  }
  EXPECT_EQ(json::parse(run("time --format json job.toml").out)["complete"], false);
  // From a known position the same increments are known.
  write("in.nc", std::string("G21 G17 G94 G90\nG0 X0 Y0 Z10\nG91\n") + moves);
  EXPECT_EQ(run("time job.toml").status, 0);
  // A program without rapids sets each axis once.
  write("in.nc", "G21 G17 G94 G90\nG1 Z10 F1000\nX0\nY0\nX100\nM30\n");
  EXPECT_EQ(run("time job.toml").status, 0);
}

TEST_F(Commands, the_times_of_check_are_those_of_time_and_add_up) {
  write("job.toml", job(std::string(bench) + "spindle_stop_s = 3\n",
                        "[[setup.program]]\nfile = \"a.nc\"\ntool = 1\n[[setup.program]]\nfile = \"b.nc\"\ntool = 2\n",
                        std::string("[[tool]]\nnumber = 2\nshape = \"flat\"\ndiameter = 3\n") + quote));
  for (const char* name : {"a.nc", "b.nc"})
    write(name,
          "G21 G90 G17 G94\nS18000 M3\nG4 P2\nG0 X10 Y10 Z5\nG1 Z-1 F300\nX100 F3000\nM0\nG1 Y100\nG0 Z5\nM5\nM30\n");
  const json checked = json::parse(run("check --format json job.toml").out),
             timed = json::parse(run("time --format json job.toml").out);
  EXPECT_EQ(checked["time"], timed["time"]);
  const json quoted = json::parse(run("quote --format json job.toml").out)["quote"];
  for (const char* key : {"currency", "parts_per_stock", "lines", "assumed"})
    EXPECT_EQ(checked["quote"][key], quoted[key]);
  EXPECT_FALSE(checked["quote"]["time_assumed"]["low"].empty());
  const std::vector<const char*> parts{"cutting_s", "air_s",     "rapid_s",      "dwell_s",
                                       "stop_s",    "spindle_s", "tool_change_s"};
  double sum = 0;
  for (const char* part : parts) sum += checked["time"][part].get<double>();
  EXPECT_NEAR(sum, checked["time"]["total_s"].get<double>(), 1e-8);
  ASSERT_EQ(checked["programs"].size(), 2U);
  for (std::size_t i = 0; i < 2; ++i) {
    const json& program = checked["programs"][i];
    for (const char* part : parts) EXPECT_EQ(program[part], timed["programs"][i]["time"][part]) << part;
    EXPECT_EQ(program["time_s"], timed["programs"][i]["time"]["total_s"]);
  }
  EXPECT_EQ(checked["programs"][1]["tool_change_s"], 120);
  EXPECT_EQ(checked["programs"][0]["dwell_s"], 2);
  EXPECT_EQ(checked["programs"][0]["stop_s"], 0);  // a program stop is counted in the high time alone

  // What cannot be counted is no number.
  write("job.toml", job(bench, "[[setup.program]]\nfile = \"a.nc\"\ntool = 1\n",
                        "[quote]\nmaterial_cost = 1e9\nmargin = 0.999999\n"));
  EXPECT_TRUE(json::parse(run("check --format json job.toml").out)["quote"].is_null());
  write("job.toml", job(bench, "[[setup.program]]\nfile = \"a.nc\"\ntool = 1\n"));
  EXPECT_FALSE(json::parse(run("check --format json job.toml").out).contains("quote"));
}

}  // namespace
}  // namespace provecut
