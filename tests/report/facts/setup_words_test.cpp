// What the operator is told to do with stock and hold-downs (texts written by hand).
#include "report/facts/setup_words.h"

#include <gtest/gtest.h>

namespace provecut {
namespace {

Setup setupOf(Flip flip, int rotate_deg = 0) {
  ::provecut::Setup setup;
  setup.flip = flip;
  setup.rotate_deg = rotate_deg;
  return setup;
}

TEST(SetupWords, stock_is_face_up_or_flipped_and_then_rotated) {
  EXPECT_EQ(stockWords(setupOf(Flip::none)), "face up");
  EXPECT_EQ(stockWords(setupOf(Flip::left_right)), "flipped left to right");
  EXPECT_EQ(stockWords(setupOf(Flip::front_back)), "flipped front to back");
  EXPECT_EQ(stockWords(setupOf(Flip::front_back, 90)), "flipped front to back, then rotated 90° counter-clockwise");
  EXPECT_EQ(stockWords(setupOf(Flip::none, 180)), "face up, then rotated 180° counter-clockwise");
}

TEST(SetupWords, a_name_that_says_setup_itself_is_not_called_so_twice) {
  ::provecut::Setup setup;
  setup.name = "front";
  EXPECT_EQ(setupText(setup), "setup front");
  setup.name = "setup 1";
  EXPECT_EQ(setupText(setup), "setup 1");
}

TEST(SetupWords, the_new_hold_down_is_fitted_before_the_old_one_is_removed) {
  EXPECT_EQ(holdDownChange("screw SW", "clamp S"), "Fit screw SW, then remove clamp S");
  EXPECT_EQ(holdDownChange("screw SW", ""), "Fit screw SW");
  EXPECT_EQ(holdDownChange("", "clamp S"), "Remove clamp S");
  EXPECT_EQ(holdDownChange("", ""), "");
}

// Clamps S and N and screw SW; programs are added with what is fitted for them.
struct Bench {
  Facts facts;
  explicit Bench(Flip first = Flip::none) {
    for (const char* name : {"clamp S", "clamp N", "screw SW"}) facts.job.hold_downs.emplace_back().name = name;
    facts.job.setups.reserve(2);
    addSetup(first);
  }
  void addSetup(Flip flip) {
    Setup& setup = facts.job.setups.emplace_back();
    setup.flip = flip;
    setup.programs.reserve(4);
  }
  void program(std::vector<int> hold_downs) {
    Setup& setup = facts.job.setups.back();
    ProgramEntry& entry = setup.programs.emplace_back();
    entry.hold_downs = std::move(hold_downs);
    ProgramFacts& p = facts.programs.emplace_back();
    p.setup = &setup;
    p.entry = &entry;
  }
};

TEST(SetupWords, before_a_program_only_what_changes_is_told) {
  Bench b;
  b.program({0, 1});
  b.program({2});
  b.program({2});
  b.program({});
  EXPECT_EQ(changeWords(b.facts, 0), "Fit clamp S and clamp N.");  // the stock is as the job file describes it
  EXPECT_EQ(changeWords(b.facts, 1), "Fit screw SW, then remove clamp S and clamp N.");
  EXPECT_EQ(changeWords(b.facts, 2), "");
  EXPECT_EQ(changeWords(b.facts, 3), "Remove screw SW.");
}

TEST(SetupWords, a_new_setup_begins_with_placing_the_stock) {
  Bench b;
  b.program({0});
  b.addSetup(Flip::left_right);
  b.program({0});
  EXPECT_EQ(changeWords(b.facts, 1), "Remove all hold-downs. Flip the stock left to right and place it. Fit clamp S.");
}

TEST(SetupWords, pins_go_in_before_the_stock_is_flipped_onto_them) {
  Bench b;
  b.facts.job.hold_downs[1].name = "pin W";
  b.facts.job.hold_downs[1].kind = HoldDownKind::pin;
  b.program({});
  b.addSetup(Flip::left_right);
  b.program({0, 1});
  EXPECT_EQ(changeWords(b.facts, 1),
            "Put pin W into the spoilboard. Flip the stock left to right and place it. Fit clamp S.");
}

TEST(SetupWords, stock_that_is_flipped_already_is_not_to_be_flipped_again) {
  Bench b(Flip::left_right);
  b.program({0});
  b.addSetup(Flip::left_right);
  b.program({0});
  EXPECT_EQ(changeWords(b.facts, 1), "Remove all hold-downs. Place the stock flipped left to right. Fit clamp S.");
}

TEST(SetupWords, a_job_that_begins_on_the_back_says_so) {
  Bench b(Flip::front_back);
  b.program({0});
  EXPECT_EQ(changeWords(b.facts, 0), "Flip the stock front to back and place it. Fit clamp S.");
}

TEST(SetupWords, a_name_cannot_hide_control_characters) {
  Bench b;
  b.facts.job.hold_downs[2].name = "screw\x1b[2J";
  b.program({0});
  b.program({0, 2});
  EXPECT_EQ(changeWords(b.facts, 1), "Fit screw\\x1B[2J.");
}

}  // namespace
}  // namespace provecut
