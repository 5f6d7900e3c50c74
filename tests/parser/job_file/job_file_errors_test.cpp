#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "parser/job_file/job_file.h"
#include "tests/parser/job_file/design_job.h"
#include "tests/parser/job_file/marked_text.h"

namespace provecut {
namespace {

using testing::AnyOf;
using testing::ElementsAre;
using testing::EndsWith;
using testing::HasSubstr;
using testing::SizeIs;

// One mistake in a good file: what is written in place of what, the text that is marked, words of message and
// help.
struct Mistake {
  std::string name;
  std::string from, to;
  std::string marked;
  std::string message, help;
};

void PrintTo(const Mistake& m, std::ostream* out) {
  *out << m.name;
}

class JobFileMistake : public testing::TestWithParam<Mistake> {};

TEST_P(JobFileMistake, is_said_once_at_its_place_with_what_to_do) {
  const Mistake& m = GetParam();
  const std::string text = replaced(cribbageJob(), m.from, m.to);
  const JobReading reading = readJob(text, "job.toml");
  EXPECT_FALSE(reading.job);
  ASSERT_THAT(reading.problems, SizeIs(1)) << testing::PrintToString(messagesOf(reading.problems));
  const JobFileProblem& p = reading.problems[0];
  EXPECT_EQ(markedText(text, p.place), m.marked);
  EXPECT_THAT(p.message, HasSubstr(m.message));
  EXPECT_THAT(p.help, HasSubstr(m.help));
  // A help is a sentence: it starts with a capital, or the key that it is about.
  EXPECT_TRUE(std::string("[`\"").find(p.help.front()) != std::string::npos || std::isupper(p.help.front())) << p.help;
  EXPECT_THAT(p.help, AnyOf(EndsWith("."), EndsWith("?")));
}

const std::vector<Mistake> mistakes{
    // keys
    {"misspelt_key", "flute_length = 22", "flute_lenght = 22", "flute_lenght",
     "unknown key \"flute_lenght\" in [[tool]]", "Did you mean `flute_length`?"},
    {"misspelt_section", "[collet_nut]", "[colet_nut]", "colet_nut", "unknown key \"colet_nut\"", "`collet_nut`"},
    {"key_of_another_section", "allowed_cut = 0.3", "allowed_cut = 0.3\nmin_floor = 2", "min_floor",
     "unknown key \"min_floor\" in [spoilboard]", "`min_floor` belongs to [limits]"},
    {"key_below_the_wrong_header", "file = \"10-pocket.nc\"", "file = \"10-pocket.nc\"\nlift = 3", "lift",
     "unknown key \"lift\" in [[setup.program]]", "`lift` belongs to [[setup]]"},
    {"key_that_is_like_no_other", "allowed_cut = 0.3", "depth = 0.3", "depth", "unknown key \"depth\" in [spoilboard]",
     "[spoilboard] takes `thickness` and `allowed_cut`."},
    {"section_that_is_like_no_other", "[limits]", "[coolant]\n[limits]", "coolant",
     "unknown key \"coolant\" in the job file", "The job file takes `version`, `name`"},
    {"max_pass_for_max_stepdown", "max_stepdown = 6", "max_pass = 6", "max_pass",
     "unknown key \"max_pass\" in [[tool]]", "Did you mean `max_stepdown`?"},
    {"blank_for_stock", "[limits]", "[blank]\n[limits]", "blank", "unknown key \"blank\"", "Did you mean `stock`?"},
    {"blank_instead_of_stock", "[stock]", "[blank]", "blank", "unknown key \"blank\"", "Did you mean `stock`?"},
    {"program_outside_a_setup", "[limits]", "[[program]]\nfile = \"x.nc\"\n\n[limits]", "program",
     "unknown key \"program\" in the job file", "Write [[setup.program]]."},
    {"one_bracket_for_a_repeated_section", "[[spindle_attachment]]", "[spindle_attachment]", "[spindle_attachment]",
     "not a list of sections", "[[spindle_attachment]] with two brackets"},
    {"two_brackets_for_a_single_section", "[limits]", "[[limits]]", "[[limits]]", "[limits] is not a section",
     "[limits]"},
    {"no_version", "version = 1\n", "", "n", "has no `version`", "Add `version = 1`."},
    {"another_version", "version = 1", "version = 2", "2", "version 2", "version = 1"},
    {"version_as_text", "version = 1", "version = \"1\"", "\"1\"", "`version` of the job file is \"1\" in quotes",
     "Write `version = 1`."},
    {"no_stock_size", "size = [420, 130, 19.05]\n", "", "[stock]", "[stock] has no `size`",
     "Add `size`, for example `size = [480, 130, 19.05]`: X, Y and thickness."},
    {"no_tool_diameter", "shape = \"flat\"\ndiameter = 6\n\n[collet", "shape = \"flat\"\n\n[collet", "[[tool]]",
     "has no `diameter`", "Add `diameter`, as measured; for example `diameter = 6`."},
    {"no_tool_number", "[[tool]]\nnumber = 2\n", "[[tool]]\n", "[[tool]]", "has no `number`",
     "Add `number`, for example `number = 1`: its T number."},
    {"no_lower_end_of_an_attachment", "bottom = -6\n", "", "[[spindle_attachment]]", "has no `bottom`",
     "Add `bottom`, for example `bottom = -6`: its lower end"},
    {"no_program_file", "file = \"10-pocket.nc\"\n", "", "[[setup.program]]", "has no `file`",
     "Add `file = \"10-pocket.nc\"`."},
    {"no_reason_to_accept", "reason = \"board is skimmed after this job\"", "", "[[accept]]", "has no `reason`",
     "Add `reason = \"...\"`: why you accept it."},
    // types
    {"number_in_quotes", "max_stepdown = 6", "max_stepdown = \"six\"", "\"six\"",
     "`max_stepdown` of [[tool]] is \"six\" in quotes",
     "Write a number in mm, above 0; or a number and its unit in quotes: \"6 mm\", \"1/4 in\"."},
    {"text_without_quotes_is_a_flag", "through = true", "through = 1", "1", "`through` of [[setup.program]]",
     "true or false"},
    {"a_fraction_of_a_flute", "flutes = 2", "flutes = 2.5", "2.5", "`flutes` of [[tool]] is 2.5",
     "Write a whole number from 1 to 100."},
    {"date_for_a_number", "clearance = 3", "clearance = 2024-01-01", "2024-01-01", "a date or time", "number"},
    {"two_sizes", "size = [420, 130, 19.05]", "size = [420, 130]", "[420, 130]", "has 2 values",
     "Write three numbers, as in [480, 130, 19.05]: X, Y and thickness."},
    {"a_decimal_comma_in_a_list", "size = [420, 130, 19.05]", "size = [420, 130, 19,5]", "[420, 130, 19,5]",
     "has 4 values", "Numbers have a decimal point, not a comma."},
    {"size_in_quotes", "size = [420, 130, 19.05]", "size = \"420x130x19\"", "\"420x130x19\"",
     "`size` of [stock] is \"420x130x19\" in quotes",
     "Write three numbers, as in [480, 130, 19.05]: X, Y and thickness, without quotes."},
    {"two_rates", "max_rate = [5000, 5000, 3000]", "max_rate = [5000, 3000]", "[5000, 3000]",
     "`max_rate` of [machine] has 2 values", "Write 3 numbers in square brackets, [1, 2, 3]."},
    {"a_word_among_sizes", "size = [420, 130, 19.05]", "size = [420, 130, \"thick\"]", "\"thick\"", "`size` of [stock]",
     "number"},
    // numbers
    {"zero_diameter", "diameter = 100", "diameter = 0", "0", "`diameter` of [[spindle_attachment]] is 0 mm",
     "Write a number in mm, above 0."},
    {"negative_thickness", "size = [420, 130, 19.05]", "size = [420, 130, -19.05]", "-19.05", "is -19.05 mm",
     "above 0"},
    {"not_a_number", "clearance = 3", "clearance = nan", "nan", "is nan mm", "Write a number in mm, 0 or more."},
    {"infinite", "max_rate = [5000, 5000, 3000]", "max_rate = [5000, inf, 3000]", "inf", "is inf mm/min", "above 0"},
    {"zero_rate", "max_rate = [5000, 5000, 3000]", "max_rate = [5000, 5000, 0]", "0", "is 0 mm/min", "above 0"},
    {"zero_acceleration", "acceleration = [500, 500, 270]", "acceleration = [0, 500, 270]", "0",
     "is 0 mm per second squared", "above 0"},
    {"absurdly_large", "travel = [800, 800, 120]", "travel = [800, 1e300, 120]", "1e300", "too large to be meant",
     "at most"},
    {"next_to_nothing_where_0_may_stand", "junction_deviation = 0.01", "junction_deviation = 1e-300", "1e-300",
     "too small to be meant", "Write 0, or at least"},
    {"absurdly_small", "max_stepdown = 6", "max_stepdown = 1e-9", "1e-9", "too small to be meant", "at least 0.001 mm"},
    {"speeds_the_wrong_way_round", "spindle_rpm = [8000, 24000]", "spindle_rpm = [24000, 8000]", "[24000, 8000]",
     "higher number first", "[minimum, maximum]"},
    {"whole_margin", "margin = 0.25", "margin = 1", "1", "`margin` of [quote] is 1",
     "Write a number from 0 to less than 1."},
    {"margin_in_percent", "margin = 0.25", "margin = 25", "25", "`margin` of [quote] is 25", "a share: 25 % is 0.25"},
    {"tax_in_percent", "margin = 0.25", "tax = 8.25", "8.25", "`tax` of [quote] is 8.25", "a share: 8.25 % is 0.0825"},
    {"waste_in_percent", "margin = 0.25", "material_waste = 15", "15", "`material_waste` of [quote] is 15",
     "a share: 15 % is 0.15"},
    {"markup_in_percent", "margin = 0.25", "markup = 25", "25", "`markup` of [quote] is 25", "a share: 25 % is 0.25"},
    {"margin_and_markup", "margin = 0.25", "margin = 0.25\nmarkup = 0.3", "markup", "both `margin` and `markup`",
     "Keep one"},
    {"look_ahead_below_zero", "junction_deviation = 0.01", "look_ahead_blocks = -1", "-1",
     "`look_ahead_blocks` of [machine] is -1", "Write a whole number from 0 to 1,000,000."},
    {"consumables_below_zero", "material_cost = 18", "consumables_cost = -1", "-1",
     "`consumables_cost` of [quote] is -1", "Write a number, 0 or more."},
    {"no_quantity", "quantity = [1, 10, 50]", "quantity = []", "[]", "`quantity`", "[1, 10, 50]"},
    {"no_pieces_at_all", "quantity = [1, 10, 50]", "quantity = [1, 0]", "0", "`quantity` of [quote] is 0",
     "from 1 to 1,000,000"},
    {"old_name_of_parts_per_stock", "margin = 0.25", "pieces = 2", "pieces", "unknown key \"pieces\" in [quote]",
     "Did you mean `parts_per_stock`?"},
    {"tolerance_above_thickness", "thickness_tolerance = 0.3", "thickness_tolerance = 20", "20",
     "the thickness tolerance of 20 mm is not less than the stock's thickness of 19.05 mm", "either way"},
    {"species_of_another_material", "material = \"hardwood\"", "material = \"softwood\"\nspecies = \"red oak\"",
     "\"softwood\"", "red oak is hardwood, not softwood", "Write `material = \"hardwood\"`"},
    {"allowed_cut_through_the_board", "allowed_cut = 0.3", "allowed_cut = 18.5", "18.5",
     "`allowed_cut` is 18.5 mm, but the spoilboard is only 18 mm thick",
     "Write a number up to 18: `allowed_cut` is the deepest cut"},
    {"cell_too_fine", "cell = 0.25", "cell = 0.01", "0.01", "too fine", "at least 0.012 mm"},
    // words
    {"unknown_shape", "shape = \"flat\"\ndiameter = 6\nflutes", "shape = \"flatt\"\ndiameter = 6\nflutes", "\"flatt\"",
     "`shape` of [[tool]] cannot be \"flatt\"", "Did you mean \"flat\"?"},
    {"v_bit", "shape = \"flat\"\ndiameter = 6\nflutes", "shape = \"v-bit\"\ndiameter = 6\nflutes", "\"v-bit\"",
     "`shape` of [[tool]] cannot be \"v-bit\"", "Did you mean \"vee\"?"},
    {"shape_that_is_like_no_other", "shape = \"flat\"\ndiameter = 6\nflutes",
     "shape = \"slitting saw\"\ndiameter = 6\nflutes", "\"slitting saw\"", "cannot be \"slitting saw\"",
     "It takes \"flat\", \"ball\""},
    {"unknown_profile", "profile = \"bench-screw\"", "profile = \"bench-belt\"", "\"bench-belt\"", "`profile`",
     "\"desk-belt\""},
    {"unknown_units", "units = \"mm\"", "units = \"inch\"", "\"inch\"", "`units`", "Did you mean \"in\"?"},
    {"units_in_cm", "units = \"mm\"", "units = \"cm\"", "\"cm\"", "`units`", "It takes \"mm\" or \"in\"."},
    {"american_aluminium", "material = \"hardwood\"", "material = \"aluminum\"", "\"aluminum\"", "`material`",
     "\"aluminium\""},
    {"unknown_species", "material = \"hardwood\"", "species = \"red oka\"", "\"red oka\"", "`species`",
     "Did you mean \"red oak\"?"},
    {"british_centre", "zero = [\"left\", \"front\", \"top\"]\nhold_downs = [\"screw",
     "zero = [\"centre\", \"front\", \"top\"]\nhold_downs = [\"screw", "\"centre\"", "`zero` of [[setup]]",
     "Did you mean \"center\"?"},
    {"unknown_acceptance", "\"subprograms\"]", "\"subprogram\"]", "\"subprogram\"", "`accepts`", "\"subprograms\""},
    {"turned_by_45", "rotate = 0", "rotate = 45", "45", "`rotate` of [[setup]] is 45 degrees", "0, 90, 180 or 270"},
    {"zero_of_two", "flip = \"left-right\"\nzero = [\"left\", \"front\", \"top\"]",
     "flip = \"left-right\"\nzero = [\"left\", \"front\"]", "[\"left\", \"front\"]", "not a list of three", "\"top\""},
    {"empty_name", "name = \"dust shoe\"", "name = \"\"", "\"\"", "is empty", "quotes"},
    {"line_end_in_a_name", "name = \"dust shoe\"", "name = \"dust\\nshoe\"", "\"dust\\nshoe\"", "control character",
     "one line"},
    // names and numbers that must be there, once
    {"unknown_hold_down", "hold_downs = [\"screw SW\", \"screw NE\"]", "hold_downs = [\"screw SW\", \"screw NW\"]",
     "\"screw NW\"", "no hold-down named \"screw NW\"", "Did you mean \"screw SW\"?"},
    {"hold_down_listed_twice", "hold_downs = [\"screw SW\", \"screw NE\"]", "hold_downs = [\"screw SW\", \"screw SW\"]",
     "\"screw SW\"", "listed twice", "once"},
    {"setup_named_twice", "name = \"back\"", "name = \"front\"", "\"front\"", "two setups named \"front\"",
     "its own name"},
    {"tool_numbered_twice", "number = 2", "number = 1", "1", "two tools with number 1", "its own number"},
    {"tool_number_zero", "number = 2", "number = 0", "0", "`number` of [[tool]] is 0",
     "Write a whole number, 1 or more."},
};

INSTANTIATE_TEST_SUITE_P(Each, JobFileMistake, testing::ValuesIn(mistakes),
                         [](const auto& mistake) { return mistake.param.name; });

TEST(JobFileErrors, all_mistakes_are_found_in_one_reading_in_order_of_place) {
  std::string text = replaced(cribbageJob(), "travel = [800, 800, 120]", "travel = [800, -1, 0]");
  text = replaced(text, "grain = \"x\"", "grian = \"x\"");
  text = replaced(text, "flutes = 2", "flutes = 0");
  text = replaced(text, "clearance = 3", "clearance = true");
  const JobReading reading = readJob(text, "job.toml");
  EXPECT_THAT(messagesOf(reading.problems),
              ElementsAre(HasSubstr("`travel` of [machine] is -1 mm"), HasSubstr("`travel` of [machine] is 0 mm"),
                          HasSubstr("unknown key \"grian\""), HasSubstr("`flutes`"), HasSubstr("`clearance`")));
}

TEST(JobFileErrors, the_first_of_two_equal_names_is_pointed_at) {
  const std::string text = replaced(cribbageJob(), "name = \"screw NE\"", "name = \"screw SW\"");
  const JobReading reading = readJob(text, "job.toml");
  // The list that names "screw NE" cannot find it now.
  ASSERT_THAT(messagesOf(reading.problems), ElementsAre(HasSubstr("two hold-downs named \"screw SW\""),
                                                        HasSubstr("no hold-down named \"screw NE\"")));
  ASSERT_THAT(reading.problems[0].others, SizeIs(1));
  EXPECT_EQ(reading.problems[0].others[0].place, (Place{59, 1, 14}));
}

TEST(JobFileErrors, columns_are_bytes) {
  // Each ö is two bytes and one column on the screen.
  const std::string text = replaced(cribbageJob(), "[[spindle_attachment]]\nname = \"dust shoe\"\ndiameter = 100",
                                    "[[spindle_attachment]]\nname = \"x\"\n\"höhö\" = 1\ndiameter = 100");
  const JobReading reading = readJob(text, "job.toml");
  ASSERT_THAT(reading.problems, SizeIs(1));
  EXPECT_EQ(markedText(text, reading.problems[0].place), "\"höhö\"");
  EXPECT_EQ(reading.problems[0].place.end_column, 9u);
}

TEST(JobFileErrors, an_unterminated_text_is_said_with_its_line) {
  const std::string text = replaced(cribbageJob(), "grain = \"x\"", "grain = \"x");
  const JobReading reading = readJob(text, "job.toml");
  ASSERT_THAT(reading.problems, SizeIs(1));
  EXPECT_EQ(reading.problems[0].place.line, 21u);
  EXPECT_EQ(reading.problems[0].message, "the text on this line has no closing quote");
}

TEST(JobFileErrors, a_key_written_twice_is_said_with_its_line) {
  const std::string text = replaced(cribbageJob(), "grain = \"x\"", "grain = \"x\"\ngrain = \"y\"");
  const JobReading reading = readJob(text, "job.toml");
  ASSERT_THAT(reading.problems, SizeIs(1));
  EXPECT_EQ(reading.problems[0].place.line, 22u);
  EXPECT_EQ(reading.problems[0].message, "`grain` is in its section twice");
  EXPECT_EQ(reading.problems[0].help, "Keep one.");
}

}  // namespace
}  // namespace provecut
