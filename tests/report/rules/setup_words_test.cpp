#include "report/facts/setup_words.h"

#include <gtest/gtest.h>

#include "parser/job/job.h"
#include "report/facts/facts.h"
#include "tests/report/rules/scene.h"

namespace provecut {
namespace {

TEST(SetupWords, a_name_that_says_setup_itself_is_not_called_so_twice) {
  Setup setup;
  setup.name = "front";
  EXPECT_EQ(setupText(setup), "setup front");
  setup.name = "setup 1";
  EXPECT_EQ(setupText(setup), "setup 1");
}

// Pin W, screw SW and clamp S; the front with the screw, the back with pin and clamp.
struct TwoSides {
  Facts facts;

  TwoSides() {
    Job& job = facts.job;
    HoldDown pin = screw("pin W", {14, 45}, 8, -6);
    pin.kind = HoldDownKind::pin;
    job.hold_downs = {pin, screw("screw SW", {12, 12}, 9, 4.5), clamp("clamp S", {100, 5}, {60, 20}, 35)};
    job.setups.resize(2);
    job.setups[1].flip = Flip::left_right;
    job.setups[0].programs.resize(2);
    job.setups[1].programs.resize(1);
    job.setups[0].programs[0].hold_downs = job.setups[0].programs[1].hold_downs = {1};
    job.setups[1].programs[0].hold_downs = {0, 2};
    facts.programs.resize(3);
    for (std::size_t i = 0; i < 3; ++i) {
      facts.programs[i].setup = &job.setups[i / 2];
      facts.programs[i].entry = &job.setups[i / 2].programs[i % 2];
    }
  }
};

TEST(SetupWords, the_first_program_of_a_setup_says_what_to_fit) {
  const TwoSides s;
  EXPECT_EQ(changeWords(s.facts, 0), "Fit screw SW.");
  EXPECT_EQ(changeWords(s.facts, 1), "");
}

TEST(SetupWords, pins_go_in_before_the_stock_is_flipped_onto_them_and_clamps_after_it) {
  const TwoSides s;
  EXPECT_EQ(changeWords(s.facts, 2),
            "Remove all hold-downs. Put pin W into the spoilboard. Flip the stock left to right and place it. "
            "Fit clamp S.");
}

TEST(SetupWords, stock_that_is_flipped_already_is_not_to_be_flipped_again) {
  TwoSides s;
  s.facts.job.setups[0].flip = Flip::left_right;
  EXPECT_EQ(changeWords(s.facts, 2),
            "Remove all hold-downs. Put pin W into the spoilboard. Place the stock flipped left to right. "
            "Fit clamp S.");
}

TEST(SetupWords, within_a_setup_the_new_goes_on_before_the_old_comes_off) {
  TwoSides s;
  s.facts.job.setups[0].programs[1].hold_downs = {2};
  EXPECT_EQ(changeWords(s.facts, 1), "Fit clamp S, then remove screw SW.");
}

}  // namespace
}  // namespace provecut
