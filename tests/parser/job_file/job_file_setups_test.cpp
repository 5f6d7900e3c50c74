#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>

#include "parser/job/machine_profiles.h"
#include "parser/job_file/job_file.h"
#include "tests/parser/job_file/design_job.h"
#include "tests/parser/job_file/marked_text.h"

namespace provecut {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;

// Stock of 100 x 60 x 10 mm with the given hold-downs and the keys of one setup.
std::string jobWith(const std::string& hold_downs, const std::string& setup = "") {
  return "version = 1\n[stock]\nsize = [100, 60, 10]\n" + hold_downs + "\n[[setup]]\n" + setup +
         "\n[[setup.program]]\nfile = \"a.nc\"\n";
}

Job jobOf(const std::string& text) {
  const JobReading reading = readJob(text, "job.toml");
  EXPECT_THAT(messagesOf(reading.problems), IsEmpty());
  return reading.job.value_or(Job{});
}

Setup setupOf(const std::string& keys) {
  const Job job = jobOf(jobWith("", keys));
  return job.setups.empty() ? Setup{} : job.setups[0];
}

HoldDown holdDownOf(const std::string& keys) {
  const Job job = jobOf(jobWith("[[hold_down]]\nname = \"h\"\n" + keys));
  return job.hold_downs.empty() ? HoldDown{} : job.hold_downs[0];
}

std::vector<std::string> complaints(const std::string& hold_down) {
  return messagesOf(readJob(jobWith("[[hold_down]]\nname = \"h\"\n" + hold_down), "job.toml").problems);
}

TEST(HeldBy, what_is_under_the_stock_covers_all_of_it_for_every_program) {
  const Job job = jobOf(
      "version = 1\n[stock]\nsize = [100, 60, 10]\n[[hold_down]]\nname = \"s\"\nkind = \"screw\"\nat = "
      "[5, 5]\ndiameter = 8\ntop = 3\n[[setup]]\nheld_by = \"vacuum\"\nrotate = 90\n[[setup.program]]\nfile = "
      "\"a.nc\"\n[[setup.program]]\nfile = \"b.nc\"\nhold_downs = [\"s\"]\n");
  ASSERT_EQ(job.hold_downs.size(), 2u);
  const HoldDown& vacuum = job.hold_downs[1];
  EXPECT_EQ(vacuum.name, "vacuum");
  EXPECT_EQ(vacuum.kind, HoldDownKind::vacuum);
  EXPECT_EQ(vacuum.at_mm, (SetupPoint2{30, 50}));
  EXPECT_EQ(vacuum.size_mm, (Vec2{60, 100}));
  EXPECT_FALSE(isObstacle(vacuum));
  EXPECT_FALSE(vacuum.unplaced);
  EXPECT_THAT(job.setups[0].programs[0].hold_downs, ElementsAre(1));
  EXPECT_THAT(job.setups[0].programs[1].hold_downs, ElementsAre(0, 1));
}

TEST(HeldBy, a_vise_without_a_place_is_no_obstacle_and_its_name_is_free) {
  const Job job =
      jobOf(jobWith("[[hold_down]]\nname = \"vise\"\nkind = \"vise\"\nat = [50, -10]\nsize = [40, 20]\ntop = -4",
                    "name = \"back\"\nheld_by = \"vise\""));
  ASSERT_EQ(job.hold_downs.size(), 2u);
  EXPECT_TRUE(isObstacle(job.hold_downs[0]));
  EXPECT_EQ(job.hold_downs[1].name, "vise of setup back");
  EXPECT_TRUE(job.hold_downs[1].unplaced);
  EXPECT_FALSE(isObstacle(job.hold_downs[1]));
}

TEST(HeldBy, a_word_that_it_does_not_know_gets_those_it_does) {
  const auto problems = messagesOf(readJob(jobWith("", "held_by = \"screws\""), "job.toml").problems);
  ASSERT_EQ(problems.size(), 1u);
  EXPECT_THAT(problems[0], HasSubstr("screws"));
}

TEST(HoldDownKinds, vacuum_and_glue_have_no_top_and_jaws_need_one) {
  EXPECT_EQ(holdDownOf("kind = \"vacuum\"\nat = [20, 20]\ndiameter = 40").top_mm, -10);
  EXPECT_EQ(holdDownOf("kind = \"glue\"\nat = [20, 20]\nsize = [40, 10]").top_mm, -10);
  EXPECT_THAT(complaints("kind = \"vacuum\"\nat = [20, 20]\nsize = [40, 10]\ntop = 3"),
              ElementsAre(HasSubstr("vacuum is under the stock")));
  EXPECT_THAT(complaints("kind = \"side-clamp\"\nat = [20, -5]\nsize = [40, 10]"),
              ElementsAre(HasSubstr("has no `top`")));
}

TEST(FloorDefault, a_thin_sheet_is_meant_to_have_thin_floors) {
  const auto minFloor = [](const std::string& thickness, const std::string& limits) {
    return jobOf("version = 1\n[stock]\nsize = [100, 60, " + thickness + "]\n" + limits +
                 "[[setup]]\n[[setup.program]]\nfile = \"a.nc\"\n")
        .limits.min_floor_mm;
  };
  EXPECT_DOUBLE_EQ(minFloor("18", ""), 1.5);
  EXPECT_DOUBLE_EQ(minFloor("5", ""), 1.5);
  EXPECT_DOUBLE_EQ(minFloor("3", "[limits]\n"), 0.9);
  EXPECT_DOUBLE_EQ(minFloor("1.6", ""), 0.48);
  EXPECT_DOUBLE_EQ(minFloor("1.6", "[limits]\nmin_floor = 1.5\n"), 1.5) << "said is said";
}

TEST(WorkZero, words_mean_corners_and_middles_of_the_stock_as_it_lies) {
  EXPECT_EQ(setupOf("zero = [\"left\", \"front\", \"top\"]").zero_mm, (SetupPoint{0, 0, 10}));
  EXPECT_EQ(setupOf("zero = [\"right\", \"back\", \"bottom\"]").zero_mm, (SetupPoint{100, 60, 0}));
  EXPECT_EQ(setupOf("zero = [\"center\", \"center\", \"top\"]").zero_mm, (SetupPoint{50, 30, 10}));
}

TEST(WorkZero, of_a_stock_turned_a_quarter_has_width_and_depth_exchanged) {
  EXPECT_EQ(setupOf("rotate = 90\nzero = [\"right\", \"back\", \"top\"]").zero_mm, (SetupPoint{60, 100, 10}));
  EXPECT_EQ(setupOf("zero = [\"right\", \"back\", \"top\"]\nrotate = 270").zero_mm, (SetupPoint{60, 100, 10}));
  EXPECT_EQ(setupOf("rotate = 180\nzero = [\"right\", \"back\", \"top\"]").zero_mm, (SetupPoint{100, 60, 10}));
}

TEST(WorkZero, numbers_count_from_the_front_left_bottom_corner) {
  const auto setup = setupOf("zero = [-5, 12.5, 10]");
  EXPECT_EQ(setup.zero_mm, (SetupPoint{-5, 12.5, 10}));
  EXPECT_FALSE(setup.zero_z_on_top);  // a thicker stock moves the top, not this
}

TEST(WorkZero, is_the_front_left_top_corner_unless_said_otherwise) {
  const auto setup = setupOf("");
  EXPECT_EQ(setup.zero_mm, (SetupPoint{0, 0, 10}));
  EXPECT_TRUE(setup.zero_z_on_top);
}

TEST(SetupKeys, offsets_count_from_g55_to_g59_3) {
  const auto setup = setupOf(
      "lift = 4\nzero_in_machine = [-700, -500, -90]\n[setup.offsets]\nG55 = [10, 0, 0]\n\"G59.3\" = [0, 20, "
      "-1]\n");
  EXPECT_EQ(setup.lift_mm, 4);
  EXPECT_EQ(setup.zero_in_machine_mm, (MachinePoint{-700, -500, -90}));
  ASSERT_EQ(setup.work_offset_mm.size(), 2u);
  EXPECT_EQ(setup.work_offset_mm.at(2), (Vec3{10, 0, 0}));
  EXPECT_EQ(setup.work_offset_mm.at(9), (Vec3{0, 20, -1}));
}

TEST(SetupKeys, g54_is_the_zero_itself) {
  const JobReading reading = readJob(jobWith("", "[setup.offsets]\nG54 = [1, 0, 0]\nG60 = [0, 0, 0]\n"), "job.toml");
  EXPECT_THAT(messagesOf(reading.problems),
              ElementsAre(HasSubstr("\"G54\" cannot be given here"), HasSubstr("\"G60\" is not a work offset")));
}

TEST(SetupKeys, a_setup_without_a_name_has_its_number) {
  EXPECT_EQ(setupOf("").name, "1");
}

TEST(SetupKeys, a_setup_needs_a_program) {
  const JobReading reading =
      readJob("version = 1\n[stock]\nsize = [1, 1, 1]\n[[setup]]\nname = \"front\"\n", "job.toml");
  EXPECT_THAT(messagesOf(reading.problems), ElementsAre(HasSubstr("[[setup]] has no `program`")));
}

TEST(HoldDownKinds, a_pin_reaches_up_from_the_spoilboard) {
  const HoldDown pin = holdDownOf("kind = \"pin\"\nat = [5, 5]\ndiameter = 6\ndepth_in_stock = 4");
  EXPECT_EQ(pin.top_mm, -6);  // 10 mm stock
  const HoldDown through = holdDownOf("kind = \"pin\"\nat = [5, 5]\ndiameter = 6\ntop = 2");
  EXPECT_EQ(through.depth_in_stock_mm, 10);
  EXPECT_EQ(through.top_mm, 2);
}

TEST(HoldDownKinds, tape_lies_under_the_stock) {
  const HoldDown tape = holdDownOf("kind = \"tape\"\nat = [50, 30]\nsize = [80, 20]");
  EXPECT_EQ(tape.top_mm, -10);
  EXPECT_THAT(complaints("kind = \"tape\"\nat = [50, 30]\nsize = [80, 20]\ntop = 1"),
              ElementsAre(HasSubstr("tape is under the stock")));
  EXPECT_THAT(complaints("kind = \"tape\"\nat = [50, 30]\ndiameter = 20"), ElementsAre(HasSubstr("tape is a strip")));
}

TEST(HoldDownKinds, each_says_what_it_lacks_or_has_too_much) {
  EXPECT_THAT(complaints("kind = \"screw\"\nat = [5, 5]\ndiameter = 9"), ElementsAre(HasSubstr("has no `top`")));
  EXPECT_THAT(complaints("kind = \"pin\"\nat = [5, 5]\ndiameter = 9"),
              ElementsAre(HasSubstr("has no `depth_in_stock`")));
  EXPECT_THAT(complaints("kind = \"clamp\"\nat = [5, 5]\ntop = 9"), ElementsAre(HasSubstr("has no size")));
  EXPECT_THAT(complaints("kind = \"clamp\"\ndiameter = 5\ntop = 9"), ElementsAre(HasSubstr("has no `at`")));
  EXPECT_THAT(complaints("kind = \"clamp\"\nat = [5, 5]\ndiameter = 5\nsize = [5, 5]\ntop = 9"),
              ElementsAre(HasSubstr("both `diameter` and `size`")));
  EXPECT_THAT(
      complaints("kind = \"clamp\"\nat = [5, 5]\ndiameter = 5\ntop = 9\ndepth_in_stock = 2\nshaft_diameter = 3"),
      ElementsAre(HasSubstr("only a pin"), HasSubstr("only a screw")));
  EXPECT_THAT(complaints("kind = \"clamp\"\nat = [5, 5]\ndiameter = 5\ntop = 9\nlength = 30"),
              ElementsAre(HasSubstr("only a screw")));
  EXPECT_THAT(complaints("kind = \"screw\"\nat = [5, 5]\ndiameter = 5\ntop = 2\nlength = 0"),
              ElementsAre(HasSubstr("`length`")));
  EXPECT_THAT(complaints("kind = \"screw\"\nat = [5, 5]\ndiameter = 5\ntop = 2\nshaft_diameter = 6"),
              ElementsAre(HasSubstr("shaft thicker than its head")));
  EXPECT_THAT(complaints("kind = \"screw\"\nat = [5, 5]\ndiameter = 5\ntop = 2\nshaft_diameter = 5"), IsEmpty());
  EXPECT_THAT(complaints("kind = \"clamp\"\nat = [5, 5]\ndiameter = 5\ntop = -10"),
              ElementsAre(HasSubstr("not above the spoilboard")));
  EXPECT_THAT(complaints("kind = \"clamp\"\nat = [5, 5]\ndiameter = 5\ntop = -9.9"), IsEmpty());
}

TEST(HoldDownOutline, may_be_closed_by_hand_and_run_either_way) {
  const HoldDown open = holdDownOf("kind = \"clamp\"\ntop = 9\noutline = [[0, 0], [0, 30], [20, 30], [20, 0]]");
  const HoldDown closed =
      holdDownOf("kind = \"clamp\"\ntop = 9\noutline = [[0, 0], [20, 0], [20, 30], [0, 30], [0, 0]]");
  EXPECT_EQ(open.outline_mm.size(), 4u);
  EXPECT_EQ(closed.outline_mm.size(), 4u);
  EXPECT_EQ(open.at_mm, (SetupPoint2{10, 15}));
  EXPECT_EQ(footprint(open).size(), 4u);
}

TEST(HoldDownOutline, must_not_cross_touch_or_fold_back) {
  const auto outlineComplaints = [](const std::string& points) {
    return complaints("kind = \"clamp\"\ntop = 9\noutline = " + points);
  };
  EXPECT_THAT(outlineComplaints("[[0, 0], [10, 0]]"), ElementsAre(HasSubstr("fewer than 3 corners")));
  EXPECT_THAT(outlineComplaints("[[0, 0], [10, 10], [10, 0], [0, 10]]"),
              ElementsAre(HasSubstr("crosses or touches itself: edge 3–4 meets edge 1–2")));
  EXPECT_THAT(outlineComplaints("[[0, 0], [10, 0], [10, 10], [5, 0], [0, 10]]"),
              ElementsAre(HasSubstr("crosses or touches itself")));
  EXPECT_THAT(outlineComplaints("[[0, 0], [10, 0], [5, 0]]"), ElementsAre(HasSubstr("crosses or touches itself")));
  EXPECT_THAT(outlineComplaints("[[0, 0], [10, 0], [10, 0], [5, 5]]"),
              ElementsAre(HasSubstr("crosses or touches itself")));
  EXPECT_THAT(outlineComplaints("[[0, 0], [20, 0], [20, 20], [15, 20], [15, 5], [5, 5], [5, 20], [0, 20]]"),
              IsEmpty());                                                                      // a U
  EXPECT_THAT(outlineComplaints("[[8, 14], [0, 18], [0, 0], [20, 20], [5, 20]]"), IsEmpty());  // a notch
}

TEST(MachineProfile, is_overridden_key_by_key) {
  const Job job = jobOf(
      replaced(jobWith(""), "[stock]", "[machine]\nmax_rate = [7000, 7000, 1000]\nprofile = \"desk-belt\"\n[stock]"));
  EXPECT_EQ(job.machine.profile, "desk-belt");
  EXPECT_EQ(job.machine.max_rate_mm_min, (Vec3{7000, 7000, 1000}));
  EXPECT_EQ(job.machine.acceleration_mm_s2, (Vec3{400, 400, 150}));
}

TEST(MachineProfile, of_each_class_lies_within_what_owners_report) {
  // Ranges: common practice, no source.
  const auto between = [](double v, double low, double high) { return v >= low && v <= high; };
  for (const Machine& m : machineProfiles()) {
    const bool belt = m.profile == "desk-belt", rack = m.profile == "shop-rack";
    const double rate = m.max_rate_mm_min.x, acceleration = m.acceleration_mm_s2.x;
    EXPECT_TRUE(belt   ? between(rate, 5000, 10000)
                : rack ? between(rate, 12000, 25000)
                       : between(rate, 4000, 12000))
        << m.profile;
    EXPECT_TRUE(belt   ? between(acceleration, 200, 500)
                : rack ? between(acceleration, 500, 1500)
                       : between(acceleration, 300, 1000));
    EXPECT_LE(m.max_rate_mm_min.z, rate);
    EXPECT_LT(m.spindle_rpm_min, m.spindle_rpm_max);
  }
}

TEST(InchFile, converts_every_length_rate_and_area_and_nothing_else) {
  std::string text = replaced(cribbageJob(), "units = \"mm\"", "units = \"in\"");
  text = replaced(text, "[800, 800, 120]", "[40, 40, 4]\njerk = 100");
  text = replaced(text, "depth_in_stock = 10", "depth_in_stock = 0.5");
  const Job job = jobOf(replaced(text, "cell = 0.25", "cell = 0.05"));
  EXPECT_TRUE(job.inches);
  EXPECT_DOUBLE_EQ(job.machine.travel_mm.z, 101.6);
  EXPECT_DOUBLE_EQ(job.machine.max_rate_mm_min.x, 127000);
  EXPECT_DOUBLE_EQ(job.machine.acceleration_mm_s2.z, 270 * 25.4);
  EXPECT_DOUBLE_EQ(job.machine.jerk_mm_s3, 2540);
  EXPECT_DOUBLE_EQ(job.machine.junction_deviation_mm, 0.254);
  EXPECT_EQ(job.machine.spindle_rpm_max, 24000);
  EXPECT_EQ(job.machine.tool_change_s, 120);
  EXPECT_DOUBLE_EQ(job.stock.size_mm.x, 420 * 25.4);
  EXPECT_DOUBLE_EQ(job.limits.min_tab_area_mm2, 15 * 25.4 * 25.4);
  EXPECT_DOUBLE_EQ(job.hold_downs[3].size_mm.y, 508);
  EXPECT_EQ(job.hold_downs[3].angle_deg, 90);
  EXPECT_DOUBLE_EQ(job.hold_downs[2].top_mm, (0.5 - 19.05) * 25.4);
  EXPECT_DOUBLE_EQ(job.spindle_attachments[0].bottom_mm, -152.4);
  EXPECT_EQ(job.accepts[0].max_amount, 0.5);  // as written
  EXPECT_EQ(job.quote->material_cost, 18);
}

}  // namespace
}  // namespace provecut
