#include "report/draft/quick_job.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "tests/parser/job_file/marked_text.h"

namespace provecut {
namespace {

using testing::AllOf;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::SizeIs;

Vec3 sizeOf(const std::string& text) {
  const draft::StockSizeReading reading = draft::parseStockSize(text);
  EXPECT_THAT(messagesOf(reading.problems), IsEmpty()) << text;
  return reading.size_mm.value_or(Vec3{});
}

// The only complaint, and what it marks.
std::pair<std::string, std::string> complaintOf(const std::string& text, const std::vector<JobFileProblem>& problems) {
  EXPECT_THAT(problems, SizeIs(1)) << text;
  if (problems.empty()) return {};
  return {problems.at(0).message + "; " + problems.at(0).help, markedText(text, problems.at(0).place)};
}

auto stockComplaint(const std::string& text) {
  return complaintOf(text, draft::parseStockSize(text).problems);
}
auto toolComplaint(const std::string& text) {
  return complaintOf(text, draft::parseTool(text).problems);
}

Tool toolOf(const std::string& text) {
  const draft::ToolReading reading = draft::parseTool(text);
  EXPECT_THAT(messagesOf(reading.problems), IsEmpty()) << text;
  return reading.tool.value_or(Tool{});
}

TEST(StockOption, takes_millimetres_and_inches) {
  EXPECT_EQ(sizeOf("420x130x19.05mm"), (Vec3{420, 130, 19.05}));
  const Vec3 inches = sizeOf("16x5x0.75in"), fraction = sizeOf(" 16 X 5 x 3/4 in ");
  EXPECT_DOUBLE_EQ(inches.x, 406.4);
  EXPECT_DOUBLE_EQ(inches.y, 127);
  EXPECT_DOUBLE_EQ(inches.z, 19.05);
  EXPECT_EQ(fraction, inches);
  EXPECT_EQ(sizeOf("16x5x3/4\""), inches);
  EXPECT_EQ(sizeOf("16x5x3/4 inch"), inches);
}

TEST(StockOption, says_what_it_lacks_and_where) {
  EXPECT_THAT(stockComplaint("420x130x19.05").first, HasSubstr("no unit; end it in mm or in: 420x130x19.05mm"));
  EXPECT_THAT(stockComplaint("420x130mm").first, HasSubstr("2 numbers instead of 3"));
  EXPECT_THAT(stockComplaint("420x130x19x4mm").first, HasSubstr("4 numbers instead of 3"));
  EXPECT_EQ(stockComplaint("420xwidex19mm").second, "wide");
  EXPECT_EQ(stockComplaint("420x130x0mm").second, "0");
  EXPECT_EQ(stockComplaint("420x-130x5mm").second, "-130");
  EXPECT_THAT(stockComplaint("420x130x1/0mm").first, HasSubstr("\"1/0\" is not a number"));
  EXPECT_THAT(stockComplaint("420xnanx5mm").first, HasSubstr("not a number"));
  EXPECT_THAT(stockComplaint("420x1e9x5mm").first, HasSubstr("not a number"));
  EXPECT_THAT(stockComplaint("420x999999x5mm").first, HasSubstr("too large to be meant"));
  EXPECT_THAT(stockComplaint("").first, HasSubstr("no unit"));
  EXPECT_THAT(stockComplaint("axbxcmm").first, HasSubstr("\"a\" is not a number; write X, Y and thickness"));
  EXPECT_THAT(stockComplaint("mm").first, HasSubstr("1 number instead of 3"));
}

TEST(ToolOption, takes_number_shape_and_diameter) {
  const Tool tool = toolOf("1=flat,6mm");
  EXPECT_EQ(tool.number, 1);
  EXPECT_EQ(tool.shape, ToolShape::flat);
  EXPECT_EQ(tool.diameter_mm, 6);
  EXPECT_EQ(tool.name, "6 mm flat");
  EXPECT_EQ(tool.stickout_mm, 28);  // the job file's defaults: 3 diameters of flutes and 10 mm
  EXPECT_EQ(toolOf("12=ball,1/4in").diameter_mm, 6.35);
}

TEST(ToolOption, takes_further_keys_of_a_job_file) {
  const Tool bull = toolOf("3=bull,8mm,corner_radius=1mm,flutes=4,center_cutting=false,plunge_feed=500mm");
  EXPECT_EQ(bull.corner_radius_mm, 1);
  EXPECT_EQ(bull.flutes, 4);
  EXPECT_FALSE(bull.center_cutting);
  EXPECT_EQ(bull.plunge_feed_mm_min, 500);
  EXPECT_EQ(toolOf("4 = vee, 0.5in, angle = 60").angle_deg, 60);
  EXPECT_EQ(toolOf("5=drill,5mm").angle_deg, 118);
  EXPECT_EQ(toolOf("6=taper-ball,diameter=6mm,taper=5,tip_radius=0.5mm").tip_radius_mm, 0.5);
}

TEST(ToolOption, says_what_it_lacks_and_where) {
  EXPECT_THAT(toolComplaint("flat,6mm").first, AllOf(HasSubstr("has no number"), HasSubstr("1=flat,6mm")));
  EXPECT_THAT(toolComplaint("6mm,shape=flat").first, HasSubstr("has no number"));
  EXPECT_EQ(toolComplaint("x=flat,6mm").second, "x");
  EXPECT_EQ(toolComplaint("0=flat,6mm").second, "0");
  EXPECT_EQ(toolComplaint("1.5=flat,6mm").second, "1.5");
  EXPECT_THAT(toolComplaint("1=flatt,6mm").first, HasSubstr("Did you mean \"flat\"?"));
  EXPECT_THAT(toolComplaint("1=flat").first, HasSubstr("no diameter; write 1=flat,6mm"));
  EXPECT_THAT(toolComplaint("1=flat,6").first, HasSubstr("without a unit; write 6mm or 6in"));
  EXPECT_THAT(toolComplaint("1=flat,six mm").first, HasSubstr("not a number with a unit"));
  EXPECT_THAT(toolComplaint("1=flat,6mm,2").first, HasSubstr("\"2\" has no name"));
  EXPECT_THAT(toolComplaint("1=flat,6mm,flute=2").first, HasSubstr("Did you mean `flutes`?"));
  EXPECT_THAT(toolComplaint("1=flat,6mm,flutes=2mm").first, HasSubstr("takes no unit; write 2"));
  EXPECT_THAT(toolComplaint("1=flat,6mm,diameter=5mm").first, HasSubstr("given twice"));
  EXPECT_THAT(toolComplaint("1=vee,6mm").first, HasSubstr("tool 1 (vee) has no `angle`"));
  EXPECT_THAT(toolComplaint("1=flat,6mm,angle=60").first, HasSubstr("tool 1 (flat) has `angle`"));
  EXPECT_THAT(toolComplaint("1=form,profile=5").first, HasSubstr("cannot be given on the command line"));
  EXPECT_THAT(toolComplaint("1=flat,6mm,").first, HasSubstr("has no name"));
  EXPECT_THAT(toolComplaint("1=,6mm").first, HasSubstr("`shape` of --tool cannot be \"\""));
  EXPECT_THAT(toolComplaint("").first, HasSubstr("has no number"));
}

TEST(QuickJob, has_one_setup_with_zero_at_the_top_front_left_corner) {
  const std::vector<std::string> programs{"a.nc", "b.nc"}, tools{"7=flat,6mm"};
  const draft::QuickJob quick = draft::quickJob(programs, "100x50x10mm", tools);
  EXPECT_THAT(quick.errors, IsEmpty());
  ASSERT_TRUE(quick.job);
  ASSERT_THAT(quick.job->setups, SizeIs(1));
  EXPECT_EQ(quick.job->setups[0].zero_mm, (SetupPoint{0, 0, 10}));
  EXPECT_EQ(quick.job->setups[0].programs.at(1).file, "b.nc");
  EXPECT_EQ(quick.job->setups[0].programs.at(1).tool, 7);
  EXPECT_THAT(quick.assumed, testing::Contains("no hold-downs: screws, clamps, pins and tape were not checked"));
  EXPECT_THAT(quick.assumed, testing::IsSupersetOf({"18 mm spoilboard", "30 mm collet nut"}));
  const draft::QuickJob inches = draft::quickJob(programs, "4x2x0.75in", tools);
  ASSERT_TRUE(inches.job);
  EXPECT_TRUE(inches.job->inches);
  EXPECT_THAT(inches.assumed, testing::IsSupersetOf({"0.71 in spoilboard", "1.18 in collet nut"}));  // / 25.4
}

TEST(QuickJob, says_everything_that_is_wrong_at_once) {
  const std::vector<std::string> programs{"a.nc"}, tools{"1=flat,6mm", "1=ball,3mm", "2=vee,6mm"};
  EXPECT_THAT(draft::quickJob(programs, "100x50x10", tools).errors,
              ElementsAre("--stock 100x50x10: no unit. End it in mm or in: 420x130x19.05mm.",
                          HasSubstr("two tools have number 1"), HasSubstr("has no `angle`")));
  EXPECT_THAT(draft::quickJob(programs, "", {}).errors, ElementsAre(HasSubstr("Add --stock"), HasSubstr("Add --tool")));
}

}  // namespace
}  // namespace provecut
