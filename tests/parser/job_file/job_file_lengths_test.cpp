// Lengths with a unit of their own: metric bits in an inch shop, inch stock in a metric one.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <fstream>
#include <nlohmann/json.hpp>
#include <regex>

#include "parser/base/length_text.h"
#include "parser/job_file/job_file.h"
#include "tests/parser/job_file/design_job.h"
#include "tests/parser/job_file/marked_text.h"
#include "tests/paths.h"

namespace provecut {
namespace job_file_lengths_test {

using testing::Contains;
using testing::HasSubstr;
using testing::IsEmpty;

Job jobOf(const std::string& text) {
  const JobReading reading = readJob(text, "job.toml");
  EXPECT_THAT(messagesOf(reading.problems), IsEmpty());
  return reading.job.value_or(Job{});
}

TEST(LengthWithAUnit, counts_in_any_key_that_takes_a_length) {
  std::string text = replaced(cribbageJob(), "size = [420, 130, 19.05]", "size = [\"16 1/2 in\", 130, \"3/4in\"]");
  text = replaced(text, "flute_length = 22", "flute_length = \"22mm\"");
  text = replaced(text, "stickout = 35", "stickout = \"1 3/8\\\"\"");
  text = replaced(text, "at = [12, 12]", "at = [\"0.5 inch\", '1/2\"']");
  text = replaced(text, "chip_load = [0.05, 0.15]", "chip_load = [\"0.002in\", 0.15]");
  const Job job = jobOf(text);
  EXPECT_DOUBLE_EQ(job.stock.size_mm.x, 16.5 * 25.4);
  EXPECT_EQ(job.stock.size_mm.y, 130);
  EXPECT_DOUBLE_EQ(job.stock.size_mm.z, 19.05);
  EXPECT_EQ(job.tools.at(0).flute_length_mm, 22);
  EXPECT_DOUBLE_EQ(job.tools.at(0).stickout_mm, 1.375 * 25.4);
  EXPECT_DOUBLE_EQ(job.hold_downs.at(0).at_mm.x, 12.7);
  EXPECT_DOUBLE_EQ(job.hold_downs.at(0).at_mm.y, 12.7);
  EXPECT_DOUBLE_EQ(job.tools.at(0).chip_load_mm->x, 0.0508);
}

TEST(LengthWithAUnit, is_exact_in_a_file_in_inches) {
  const Job job = jobOf(
      "version = 1\nunits = \"in\"\n[stock]\nsize = [5, \"130mm\", \"18 mm\"]\n[[tool]]\nnumber = 1\nshape = "
      "\"flat\"\ndiameter = \"6mm\"\n[[setup]]\nzero = [\"10mm\", \"front\", \"18 mm\"]\n[[setup.program]]\nfile = "
      "\"a.nc\"\n");
  EXPECT_EQ(job.stock.size_mm, (Vec3{127, 130, 18}));
  EXPECT_EQ(job.tools.at(0).diameter_mm, 6);
  EXPECT_EQ(job.setups.at(0).zero_mm, (SetupPoint{10, 0, 18}));
  EXPECT_TRUE(job.inches);
}

TEST(LengthWithAUnit, needs_the_unit_in_the_quotes) {
  const auto problems = readJob(replaced(cribbageJob(), "stickout = 35", "stickout = \"35\""), "job.toml").problems;
  ASSERT_EQ(problems.size(), 1U);
  EXPECT_THAT(problems[0].message, HasSubstr("`stickout` of [[tool]] is \"35\" in quotes"));
  EXPECT_THAT(problems[0].help, HasSubstr("\"35 mm\""));
}

TEST(LengthWithAUnit, is_held_to_the_same_limits) {
  for (const char* wrong :
       {"\"-3mm\"", "\"0in\"", "\"6 cm\"", "\"about 6mm\"", "\"6mm 7\"", "\"1/0in\"", "\"9e9mm\""}) {
    const std::string text = replaced(cribbageJob(), "flute_length = 22", std::string("flute_length = ") + wrong);
    EXPECT_FALSE(readJob(text, "job.toml").problems.empty()) << wrong;
  }
}

TEST(LengthWithAUnit, is_no_rate_and_no_angle) {
  EXPECT_FALSE(readJob(replaced(cribbageJob(), "plunge_feed = 800", "plunge_feed = \"800mm\""), "job.toml").job);
  EXPECT_FALSE(
      readJob(replaced(cribbageJob(), "spindle_power_w = 1500", "spindle_power_w = \"1500mm\""), "job.toml").job);
}

TEST(LengthWithAUnit, is_what_the_schema_says_it_is) {
  std::ifstream file(PROVECUT_SOURCE_DIR "/parser/schemas/job-1.schema.json");
  const std::regex pattern(nlohmann::json::parse(file)["$defs"]["length"]["pattern"].get<std::string>());
  for (const std::string text : {"6mm", "6 mm", " 6.35 mm ", ".25in", "1/4in", "5 1/2 in", "5-1/2in", "1/4\"", "-3mm",
                                 "6.mm", "3 inches", "35", "6 cm", "mm", "", "six mm", "1/4/5in", "6mm6", "6,35mm"}) {
    std::string_view inner = text;
    while (inner.starts_with(' ')) inner.remove_prefix(1);
    while (inner.ends_with(' ')) inner.remove_suffix(1);
    const auto length = readLength(inner);
    EXPECT_EQ(std::regex_match(text, pattern), length && length->mm_per_unit) << '"' << text << '"';
  }
}

TEST(Unconfirmed, names_keys_that_are_guesses) {
  std::string text = replaced(cribbageJob(), "grain = \"x\"", "grain = \"x\"\nunconfirmed = [\"size\", \"grain\"]");
  text = replaced(text, "name = \"6 mm flat\"", "name = \"6 mm flat\"\nunconfirmed = [\"flutes\"]");
  const Job job = jobOf(text);
  ASSERT_EQ(job.unconfirmed.size(), 2U);
  EXPECT_EQ(job.unconfirmed[0].whose, "[stock]");
  EXPECT_THAT(job.unconfirmed[0].keys, testing::ElementsAre("size", "grain"));
  EXPECT_EQ(job.unconfirmed[1].whose, "tool 1");
  EXPECT_GT(job.unconfirmed[1].place.line, job.unconfirmed[0].place.line);
}

TEST(Unconfirmed, is_nothing_when_the_list_is_empty) {
  EXPECT_THAT(jobOf(replaced(cribbageJob(), "grain = \"x\"", "grain = \"x\"\nunconfirmed = []")).unconfirmed,
              IsEmpty());
}

TEST(Unconfirmed, names_only_keys_of_its_section) {
  const auto problems =
      readJob(replaced(cribbageJob(), "grain = \"x\"", "grain = \"x\"\nunconfirmed = [\"sizes\"]"), "job.toml")
          .problems;
  ASSERT_EQ(problems.size(), 1U);
  EXPECT_THAT(problems[0].help, HasSubstr("Did you mean \"size\"?"));
}

std::string helpFor(const std::string& from, const std::string& to) {
  const auto problems = readJob(replaced(cribbageJob(), from, to), "job.toml").problems;
  return problems.empty() ? "" : problems.front().help;
}

TEST(OtherWord, of_the_shop_is_known) {
  const std::string shape = "name = \"6 mm flat\"\nshape = \"flat\"";
  for (const auto& [said, ours] : {std::pair{"endmill", "flat"},
                                   {"End Mill", "flat"},
                                   {"bullnose", "bull"},
                                   {"v-bit", "vee"},
                                   {"ball nose", "ball"},
                                   {"tapered ball nose", "taper-ball"},
                                   {"dovetail", "form"}}) {
    EXPECT_THAT(helpFor(shape, std::string("name = \"6 mm flat\"\nshape = \"") + said + "\""),
                HasSubstr(std::string("Did you mean \"") + ours + "\"?"))
        << said;
  }
  for (const auto& [said, ours] :
       {std::pair{"aluminum", "aluminium"}, {"OSB", "board"}, {"corian", "solid-surface"}, {"plexiglass", "acrylic"}}) {
    EXPECT_THAT(helpFor("material = \"hardwood\"", std::string("material = \"") + said + "\""),
                HasSubstr(std::string("Did you mean \"") + ours + "\"?"))
        << said;
  }
}

TEST(Material, may_be_a_board_brass_hdpe_or_solid_surface) {
  for (const char* word : {"board", "brass", "hdpe", "solid-surface"}) {
    const Job job =
        jobOf(replaced(cribbageJob(), "material = \"hardwood\"", std::string("material = \"") + word + "\""));
    EXPECT_TRUE(job.stock.material_given) << word;
  }
}

TEST(RoundStock, has_its_diameter_in_x_and_y) {
  const Job job =
      jobOf(replaced(cribbageJob(), "size = [420, 130, 19.05]", "shape = \"round\"\nsize = [420, 420, 19.05]"));
  EXPECT_EQ(job.stock.shape, StockShape::round);
  EXPECT_THAT(helpFor("size = [420, 130, 19.05]", "shape = \"round\"\nsize = [420, 130, 19.05]"),
              HasSubstr("Write its diameter for both"));
}

TEST(SpindleAttachment, beside_the_spindle_reaches_as_far_as_its_far_rim) {
  const Job job = jobOf(replaced(cribbageJob(), "diameter = 100\nbottom", "diameter = 100\noffset = [30, 40]\nbottom"));
  EXPECT_DOUBLE_EQ(reach_mm(job.spindle_attachments.at(0)), 100);  // 50 to its axis, 50 more to its rim
}

}  // namespace job_file_lengths_test
}  // namespace provecut
