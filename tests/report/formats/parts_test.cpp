// The pieces of a job as other programs meet them: the tree as JSON, the outlines as SVG, and the same in the report.
#include <gmock/gmock.h>

#include <boost/property_tree/ptree.hpp>
#include <boost/property_tree/xml_parser.hpp>
#include <cmath>
#include <filesystem>
#include <nlohmann/json.hpp>
#include <sstream>
#include <string>
#include <vector>

#include "tests/report/running.h"

namespace provecut {
namespace {

using ::testing::AllOf;
using ::testing::ElementsAre;
using ::testing::HasSubstr;
using ::testing::IsEmpty;
using testing::Ran;
using testing::runProvecut;
using testing::smallJob;
using testing::TempFolder;
using Json = nlohmann::json;

// Lines 1 to 4.
constexpr std::string_view head = "G21 G90 G17 G94 G54\nT1 M6\nS12000 M3\nG4 P5\n";

// A square kerf right through about (60, 40) with the 6 mm bit, as wide inside as `side`: eight lines, the last but one
// closes it.
std::string kerf(double side) {
  const double h = (side + 6) / 2;
  const auto at = [&](double x, double y) {
    return "X" + std::to_string(60 + x * h) + " Y" + std::to_string(40 + y * h) + "\n";
  };
  return "G0 Z10\nG0 " + at(-1, -1) + "G1 Z-10.2 F300\nG1 " + at(1, -1) + "G1 " + at(1, 1) + "G1 " + at(-1, 1) + "G1 " +
         at(-1, -1) + "G0 Z10\n";
}

// The outline comes off at line 11, an inner loop splits it at line 19, and the inner piece is milled away.
std::string splitting() {
  std::string text = std::string(head) + kerf(37) + kerf(13);
  for (int k = 0; k < 5; ++k) {
    const std::string x = std::to_string(54 + 3 * k);
    text += "G0 Z10\nG0 X" + x + " Y32\nG1 Z-10.2\nG1 Y48\n";
  }
  return text + "G0 Z10\nM5\nM30\n";
}

struct Split {
  TempFolder folder;
  Split() {
    folder.write("a.nc", splitting());
    folder.write("job.toml", smallJob({"a.nc"}));
  }
  Ran run(const std::vector<std::string>& arguments) const { return runProvecut(folder, arguments); }
};

Json moment(int line) {
  return {{"program", "a.nc"}, {"line", line}};
}

// Area within the rings; holes run the other way.
double areaOf(const Json& rings) {
  double area = 0;
  for (const Json& ring : rings) {
    for (std::size_t k = 0; k < ring.size(); ++k) {
      const Json &a = ring[k], &b = ring[(k + 1) % ring.size()];
      area += (a[0].get<double>() * b[1].get<double>() - b[0].get<double>() * a[1].get<double>()) / 2;
    }
  }
  return area;
}

TEST(Parts, the_text_lists_them_in_order_of_time) {
  EXPECT_THAT(
      Split().run({"check", "job.toml"}).out,
      HasSubstr("  parts\n  line 11: part 37 × 37 mm comes loose; the bit cuts into it on lines 15-40\n"
                "  line 19: offcut 13 × 13 mm cut off the part that came loose on line 11; milled away by line 36\n"));
}

TEST(Parts, the_report_tells_what_came_off_what_and_what_became_of_it) {
  const Json parts = Json::parse(Split().run({"check", "job.toml", "--format", "json"}).out)["parts"];
  ASSERT_EQ(parts.size(), 2U);
  const Json &whole = parts[0], &slug = parts[1];
  EXPECT_EQ(whole["line"], 11);
  EXPECT_EQ(whole["parent"], nullptr);
  EXPECT_EQ(whole["loosened"], moment(11));
  EXPECT_EQ(whole["split"], Json({1}));
  EXPECT_EQ(whole["milled"], nullptr);
  EXPECT_NEAR(whole["plan_area_mm2"], 37 * 37, 37);
  EXPECT_NEAR(whole["volume_mm3"], 37 * 37 * 10, 370);
  EXPECT_EQ(whole["held_by"], Json::array());
  ASSERT_EQ(whole["cut_while_loose"].size(), 1U);
  const Json& into = whole["cut_while_loose"][0]["into"];
  ASSERT_FALSE(into.empty());
  EXPECT_EQ(into[0][0], 15) << "the plunge into the loose piece";
  EXPECT_EQ(slug["line"], 19);
  EXPECT_EQ(slug["parent"], 0);
  EXPECT_EQ(slug["free"], true);
  EXPECT_EQ(slug["milled"], moment(36));
}

TEST(Parts, export_writes_the_tree_with_outlines_and_the_same_every_time) {
  const Split job;
  const std::string once = job.run({"export", "--parts", "job.toml"}).out;
  EXPECT_EQ(once, job.run({"export", "--parts", "job.toml"}).out);
  const Json document = Json::parse(once);
  EXPECT_EQ(document["stock"]["size_mm"], Json({100, 80, 10}));
  Json parts = document["parts"];
  ASSERT_EQ(parts.size(), 2U);
  ASSERT_EQ(parts[0]["outline"].size(), 1U);
  EXPECT_NEAR(areaOf(parts[0]["outline"]), 37 * 37, 37);
  for (const Json& p : parts[0]["outline"][0])
    EXPECT_NEAR(std::max(std::abs(p[0].get<double>() - 60), std::abs(p[1].get<double>() - 40)), 18.5, 0.25);
  for (Json& p : parts) p.erase("outline");
  EXPECT_EQ(parts, Json::parse(job.run({"check", "job.toml", "--format", "json"}).out)["parts"]);
}

TEST(Parts, outlines_beside_it_are_closed_paths_in_millimetres_that_say_when_they_were_parted) {
  const Split job;
  ASSERT_THAT(job.run({"export", "job.toml", "--output", "parts.json"}).err, IsEmpty());
  std::istringstream file(job.folder.read("parts.svg"));
  boost::property_tree::ptree svg;
  read_xml(file, svg);
  const auto attribute = [](const boost::property_tree::ptree& of, const std::string& name) {
    return of.get<std::string>("<xmlattr>." + name);
  };
  const auto& root = svg.get_child("svg");
  EXPECT_EQ(attribute(root, "width"), "100mm");
  double box[4];
  std::istringstream numbers(attribute(root, "viewBox"));
  for (double& number : box) numbers >> number;
  EXPECT_EQ(box[0], 0);
  EXPECT_EQ(box[2], 100);
  EXPECT_LT(box[1], -2) << "the legend is above the stock";
  EXPECT_NEAR(box[1] + box[3], 80, 1e-3) << "the lower edge is the stock's front";
  EXPECT_NEAR(std::stod(attribute(root, "height")), box[3], 1e-3);
  std::vector<std::string> ids, titles;
  for (const auto& [name, element] : root) {
    if (name != "path") continue;
    ids.push_back(attribute(element, "id"));
    titles.push_back(element.get<std::string>("title"));
    EXPECT_TRUE(attribute(element, "d").ends_with("Z"));
  }
  EXPECT_THAT(ids, ElementsAre("part-0", "part-1"));
  EXPECT_THAT(
      titles,
      ElementsAre("line 11: part 37 × 37 mm comes loose; the bit cuts into it on lines 15-40",
                  "line 19: offcut 13 × 13 mm cut off the part that came loose on line 11; milled away by line 36"));
}

TEST(Parts, the_outlines_explain_those_of_their_colours_that_are_met) {
  const Split job;
  ASSERT_EQ(job.run({"export", "job.toml", "--output", "parts.json"}).status, 0);
  EXPECT_THAT(job.folder.read("parts.svg"), AllOf(HasSubstr("<g id=\"legend\""), HasSubstr(">loose at the end</text>"),
                                                  HasSubstr(">milled away</text>"), ::testing::Not(HasSubstr("tabs"))));
}

TEST(Parts, outlines_that_cannot_be_written_leave_the_tree_whole_and_say_so) {
  const Split job;
  std::filesystem::create_directory(job.folder.path() / "parts.svg");
  const Ran r = job.run({"export", "job.toml", "--output", "parts.json"});
  EXPECT_EQ(r.status, 2);
  EXPECT_THAT(r.err,
              AllOf(HasSubstr("cannot write parts.svg"),
                    HasSubstr("parts.json is written and complete; only the outlines in parts.svg are missing")));
  EXPECT_EQ(Json::parse(job.folder.read("parts.json"))["parts"].size(), 2U);
}

TEST(Parts, a_hole_in_a_part_is_a_hole_of_its_outline) {
  TempFolder folder;
  folder.write("a.nc", std::string(head) + kerf(13) + kerf(37) + "M5\nM30\n");
  folder.write("job.toml", smallJob({"a.nc"}));
  const Json parts = Json::parse(runProvecut(folder, {"export", "--parts", "job.toml"}).out)["parts"];
  ASSERT_EQ(parts.size(), 2U);
  EXPECT_EQ(parts[0]["outline"].size(), 1U) << "the slug";
  ASSERT_EQ(parts[1]["outline"].size(), 2U);
  // The corners of the inner kerf are as round as the bit.
  const double hole = 25 * 25 - (4 - M_PI) * 9;
  EXPECT_NEAR(areaOf(parts[1]["outline"]), 37 * 37 - hole, (4 * 37 + 4 * 25) * 0.125);
}

// A part of 37 mm with two tabs of 8 x 3 mm, in front and at the back.
std::string tabbedOutline() {
  return std::string(head) +
         "G0 Z10\nG0 X38.5 Y18.5\nG1 Z-10.2 F300\nG1 X53\nG1 Z-7\nG1 X67\nG1 Z-10.2\nG1 X81.5\n"
         "G1 Y61.5\nG1 X67\nG1 Z-7\nG1 X53\nG1 Z-10.2\nG1 X38.5\nG1 Y18.5\nG0 Z10\nM5\nM30\n";
}

// Two programs; a clamp on the part is off for the second.
std::string jobOnceClamped() {
  std::string job = smallJob({"a.nc", "b.nc"},
                             "[[hold_down]]\nname = \"N\"\nkind = \"clamp\"\nat = [60, 45]\nsize = [10, 10]\n"
                             "top = 15\n\n");
  job += "hold_downs = [\"SW\"]\n";
  return job.replace(job.find("hold_downs = [\"SW\"]\n[[setup"), 19, "hold_downs = [\"SW\", \"N\"]");
}

// Two tabs of 8 x 3 mm; a second program cuts the one in front on line 8 and the one at the back on line 12.
TEST(Parts, a_tabbed_part_and_the_line_of_a_later_program_that_cuts_its_last_tab) {
  TempFolder folder;
  folder.write("a.nc", tabbedOutline());
  folder.write("b.nc", std::string(head) +
                           "G0 Z10\nG0 X53 Y18.5\nG1 Z-10.2 F300\nG1 X67\nG0 Z10\nG0 X53 Y61.5\nG1 Z-10.2\nG1 X67\n"
                           "G0 Z10\nM5\nM30\n");
  folder.write("job.toml", smallJob({"a.nc", "b.nc"}));
  const Json parts = Json::parse(runProvecut(folder, {"export", "--parts", "job.toml"}).out)["parts"];
  ASSERT_EQ(parts.size(), 1U);
  const Json cut = {{"program", "b.nc"}, {"line", 12}};
  EXPECT_EQ(parts[0]["program"], "a.nc");
  EXPECT_EQ(parts[0]["line"], 19) << "the last of its kerf";
  EXPECT_EQ(parts[0]["tabs_cut"], cut);
  EXPECT_EQ(parts[0]["loosened"], cut);
  EXPECT_EQ(parts[0]["free"], false) << "at first its tabs held it";
  EXPECT_EQ(parts[0]["held_by"], Json({"tabs"}));
  const Json events =
      Json::array({{{"what", "left_on_tabs"}, {"program", "a.nc"}, {"line", 19}, {"held_by", {"tabs"}}},
                   {{"what", "tabs_cut"}, {"program", "b.nc"}, {"line", 12}, {"held_by", Json::array()}}});
  EXPECT_EQ(parts[0]["events"], events);
  ASSERT_EQ(parts[0]["tabs"].size(), 2U);
  for (const Json& tab : parts[0]["tabs"]) EXPECT_NEAR(tab["area_mm2"], 24, 1.2);
  EXPECT_NEAR(areaOf(parts[0]["outline"]), 37 * 37, 37) << "without its tabs";
  EXPECT_THAT(runProvecut(folder, {"check", "job.toml"}).out,
              HasSubstr("smallest 24 mm²); b.nc line 12 cuts\n  its last tab: now loose\n\n"));
}

// The second program cuts into the part.
TEST(Parts, a_part_whose_clamp_is_off_is_loose_from_no_line_but_from_the_programs_start) {
  TempFolder folder;
  folder.write("a.nc", std::string(head) + kerf(37) + "M5\nM30\n");
  folder.write("b.nc", std::string(head) + "G0 Z10\nG0 X60 Y32\nG1 Z-2 F300\nG1 Y30\nG0 Z10\nM5\nM30\n");
  folder.write("job.toml", jobOnceClamped());
  const Json clamped = Json::parse(runProvecut(folder, {"export", "--parts", "job.toml"}).out)["parts"].at(0);
  const Json start = {{"program", "b.nc"}, {"line", nullptr}};
  EXPECT_EQ(clamped["held_before"], Json({"N"}));
  EXPECT_EQ(clamped["loosened"], start);
  EXPECT_EQ(clamped["events"][1]["line"], nullptr);
}

// The same clamp on a part with two tabs; then one of these goes.
TEST(Parts, a_part_on_tabs_whose_clamp_is_off_is_on_its_tabs_alone_from_the_programs_start) {
  TempFolder folder;
  folder.write("a.nc", tabbedOutline());
  folder.write("b.nc", std::string(head) + "G0 Z10\nG0 X53 Y18.5\nG1 Z-10.2 F300\nG1 X67\nG0 Z10\nM5\nM30\n");
  folder.write("job.toml", jobOnceClamped());
  const Json parts = Json::parse(runProvecut(folder, {"export", "--parts", "job.toml"}).out)["parts"];
  ASSERT_EQ(parts.size(), 1U);
  const Json& on_tabs = parts[0];
  EXPECT_EQ(on_tabs["held_before"], Json({"N"}));
  EXPECT_EQ(on_tabs["loosened"], nullptr);
  ASSERT_EQ(on_tabs["events"].size(), 3U);
  EXPECT_EQ(on_tabs["events"][1],
            Json({{"what", "hold_downs_removed"}, {"program", "b.nc"}, {"line", nullptr}, {"held_by", {"tabs"}}}));
  EXPECT_EQ(on_tabs["events"][2],
            Json({{"what", "left_on_tabs"}, {"program", "b.nc"}, {"line", 8}, {"held_by", {"tabs"}}}));
  const std::string text = runProvecut(folder, {"check", "job.toml"}).out;
  EXPECT_THAT(text, HasSubstr("b.nc starts without N: now only on 2 tabs"));
  EXPECT_THAT(text, HasSubstr("b.nc line 8 leaves\n  one tab"));
}

TEST(Parts, another_name_than_json_is_refused) {
  const Ran r = Split().run({"export", "--parts", "job.toml", "--output", "parts.svg"});
  EXPECT_EQ(r.status, 2);
  EXPECT_THAT(r.err, AllOf(HasSubstr("--parts writes FILE.json"), HasSubstr("end --output in .json")));
}

TEST(Parts, a_job_that_parts_nothing_has_an_empty_list_and_the_stock_alone) {
  TempFolder folder;
  folder.write("a.nc", std::string(head) + "G0 Z10\nG0 X50 Y40\nG1 Z-2 F300\nG1 X70\nG0 Z10\nM5\nM30\n");
  folder.write("job.toml", smallJob({"a.nc"}));
  ASSERT_EQ(runProvecut(folder, {"export", "job.toml", "--output", "parts.json"}).status, 0);
  EXPECT_EQ(Json::parse(folder.read("parts.json"))["parts"], Json::array());
  EXPECT_THAT(folder.read("parts.svg"), AllOf(HasSubstr("id=\"stock\""), ::testing::Not(HasSubstr("<path"))));
}

}  // namespace
}  // namespace provecut
