// What a person does at the machine, worked out from the samples' own description (samples/cribbage-board/README.md).
#include "report/facts/setup_steps.h"

#include <gtest/gtest.h>

#include "report/facts/load.h"
#include "tests/paths.h"

namespace provecut {
namespace {

struct Sample {
  std::unique_ptr<Facts> facts;
  Sample() {
    LoadOptions options;
    options.cut = false;
    facts = std::move(loadJobFile(PROVECUT_SOURCE_DIR "/samples/cribbage-board/job.toml", options).facts);
  }
  std::vector<std::string> names(const std::vector<int>& hold_downs) const {
    std::vector<std::string> list;
    for (const int h : hold_downs) list.push_back(facts->job.hold_downs[static_cast<std::size_t>(h)].name);
    return list;
  }
};

using Names = std::vector<std::string>;

TEST(SetupSteps, name_what_to_move_before_which_program) {
  const Sample sample;
  const auto front = setupSteps(*sample.facts, 0), back = setupSteps(*sample.facts, 1);
  ASSERT_EQ(front.size(), 5u);
  ASSERT_EQ(back.size(), 4u);
  EXPECT_EQ(sample.names(front[0].fit), (Names{"clamp S", "clamp N"}));
  EXPECT_EQ(sample.names(front[1].fit), (Names{"screw SW", "screw NW", "screw NE", "screw SE"}));
  EXPECT_EQ(sample.names(front[1].remove), (Names{"clamp S", "clamp N"}));
  EXPECT_TRUE(front[2].fit.empty() && front[2].remove.empty());
  EXPECT_EQ(sample.names(back[0].fit), (Names{"pin W", "pin E", "clamp S", "clamp N"}));
  EXPECT_EQ(sample.names(back[2].remove), (Names{"clamp S", "clamp N"}));
}

TEST(SetupSteps, ask_for_a_tool_only_where_another_one_is_in_the_spindle) {
  const Sample sample;
  const auto front = setupSteps(*sample.facts, 0), back = setupSteps(*sample.facts, 1);
  // 10-frame-holes: the drill, then the flat after a change within the program; 20-tray goes on with the flat.
  ASSERT_EQ(front.at(0).tools.size(), 2u);
  EXPECT_EQ(front[0].tools[0].tool, 2);
  EXPECT_TRUE(front[0].tools[0].change_before);
  EXPECT_EQ(front.at(0).tools[1].tool, 1);
  EXPECT_TRUE(front.at(0).tools[1].change_before);
  ASSERT_EQ(front[1].tools.size(), 1u);
  EXPECT_FALSE(front[1].tools[0].change_before);
  EXPECT_TRUE(front[2].tools[0].change_before);
  // 80-disc after 70-finger-pockets: flat after ball; 90-outline: the flat still.
  EXPECT_TRUE(back[2].tools[0].change_before);
  EXPECT_FALSE(back[3].tools[0].change_before);
  // S and F words of 20-tray.nc: S18000, F800 and F2400.
  EXPECT_EQ(front[1].tools[0].rpm_high, 18000);
  EXPECT_EQ(front[1].tools[0].feed_low_mm_min, 800);
  EXPECT_EQ(front[1].tools[0].feed_high_mm_min, 2400);
}

}  // namespace
}  // namespace provecut
