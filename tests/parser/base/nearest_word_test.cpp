// Guesses at misspelt words: good ones, or none.
#include "parser/base/nearest_word.h"

#include <gtest/gtest.h>

#include <vector>

namespace provecut {
namespace {

const std::vector<std::string> keys{"thickness", "max_rpm", "max_stepdown", "flat", "vee", "center"};

TEST(NearestWord, a_slip_of_the_finger_is_understood) {
  EXPECT_EQ(nearestWord("thicknes", keys), "thickness");
  EXPECT_EQ(nearestWord("htickness", keys), "thickness");
  EXPECT_EQ(nearestWord("Flat", keys), "flat");
  EXPECT_EQ(nearestWord("fla", keys), "flat");
  EXPECT_EQ(nearestWord("centre", keys), "center");
  EXPECT_EQ(nearestWord("max_stpdwn", keys), "max_stepdown");
}

TEST(NearestWord, a_word_more_than_a_third_off_gets_no_guess) {
  EXPECT_EQ(nearestWord("v-bit", keys), "");
  EXPECT_EQ(nearestWord("max_pass", keys), "");  // four letters from max_rpm
  EXPECT_EQ(nearestWord("fl", keys), "");        // two letters are too few to guess by
  EXPECT_EQ(nearestWord("", keys), "");
  EXPECT_EQ(nearestWord("thickness", {}), "");
}

TEST(NearestWord, the_first_of_two_that_are_as_near_is_taken) {
  EXPECT_EQ(nearestWord("bat", std::vector<std::string>{"cat", "bad"}), "cat");
}

}  // namespace
}  // namespace provecut
