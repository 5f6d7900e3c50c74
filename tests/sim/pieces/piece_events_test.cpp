// What later programs do to what earlier ones left: settle() alone, on runs made by hand.
#include "sim/pieces/piece_events.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <utility>

namespace provecut::pieces {
namespace {

// Two programs of three parts on tabs and three doubtful through-cuts each; every move's number is its own.
std::vector<ProgramRun> twoPrograms() {
  std::vector<ProgramRun> runs(2);
  for (std::uint32_t r = 0; r < 2; ++r) {
    runs[r].removed_mm3 = 100 + r;
    for (std::uint32_t i = 0; i < 3; ++i) {
      Piece p;
      p.move = 10 * r + i;
      p.tabs.resize(4);
      p.beside = {{static_cast<int>(r), 10 * r + i}};
      runs[r].pieces.push_back(p);
      runs[r].doubtful_throughs.push_back({50 + 10 * r + i, {}, 0.1, 0.3, 20});
      runs[r].thin_floors.emplace_back().move = 70 + 10 * r + i;
    }
  }
  return runs;
}

std::vector<bool> looseFlags(const ProgramRun& run) {
  std::vector<bool> loose;
  for (const Piece& p : run.pieces) loose.push_back(p.loosened_by.has_value());
  return loose;
}

std::vector<std::uint32_t> doubts(const ProgramRun& run) {
  std::vector<std::uint32_t> moves;
  for (const DoubtfulThrough& d : run.doubtful_throughs) moves.push_back(d.move);
  return moves;
}

std::vector<std::pair<int, std::uint32_t>> besideOf(const Piece& piece) {
  std::vector<std::pair<int, std::uint32_t>> moves;
  for (const MoveRef& m : piece.beside) moves.emplace_back(m.run, m.move);
  std::sort(moves.begin(), moves.end());
  return moves;
}

PieceEvents loosened(const std::vector<Told>& pieces) {
  PieceEvents e;
  for (const Told& t : pieces) e.loosened.push_back({t, {t.run + 1, 3}});
  return e;
}

PieceEvents besideCut(std::vector<DoneTo> cuts) {
  PieceEvents e;
  e.cut_beside = std::move(cuts);
  return e;
}

PieceEvents doubtsSettled(std::vector<Told> doubts) {
  PieceEvents e;
  e.doubts_settled = std::move(doubts);
  return e;
}

using Flags = std::vector<bool>;
using Moves = std::vector<std::uint32_t>;
using Beside = std::vector<std::pair<int, std::uint32_t>>;

std::vector<ProgramRun> settled(const std::vector<PieceEvents>& events) {
  std::vector<ProgramRun> runs = twoPrograms();
  settle(events, runs);
  return runs;
}

TEST(PieceEvents, a_part_that_a_later_program_loosens_is_marked_and_no_other) {
  const auto runs = settled({{}, loosened({{0, 1}})});
  EXPECT_EQ(looseFlags(runs[0]), (Flags{false, true, false}));
  EXPECT_EQ(looseFlags(runs[1]), (Flags{false, false, false}));
  EXPECT_EQ(runs[0].pieces[1].loosened_by->run, 1);
  EXPECT_EQ(runs[0].pieces[1].loosened_by->move, 3U);
}

TEST(PieceEvents, a_skin_that_a_later_program_opens_is_in_doubt_no_longer) {
  const auto runs = settled({{}, doubtsSettled({{0, 1}})});
  EXPECT_EQ(doubts(runs[0]), (Moves{50, 52}));
  EXPECT_EQ(doubts(runs[1]), (Moves{60, 61, 62}));
}

TEST(PieceEvents, a_cut_beside_a_tabbed_part_is_told_with_that_part) {
  const auto runs = settled({besideCut({{{0, 2}, {0, 7}}}), besideCut({{{0, 2}, {1, 3}}})});
  EXPECT_EQ(besideOf(runs[0].pieces[2]), (Beside{{0, 2}, {0, 7}, {1, 3}}));
  EXPECT_EQ(besideOf(runs[0].pieces[1]), (Beside{{0, 1}}));
  EXPECT_EQ(besideOf(runs[1].pieces[2]), (Beside{{1, 12}}));
}

TEST(PieceEvents, a_doubt_settled_twice_takes_no_other_with_it) {
  const auto runs = settled({{}, doubtsSettled({{0, 0}}), doubtsSettled({{0, 0}, {1, 2}})});
  EXPECT_EQ(doubts(runs[0]), (Moves{51, 52}));
  EXPECT_EQ(doubts(runs[1]), (Moves{60, 61}));
}

TEST(PieceEvents, the_order_of_the_events_does_not_matter) {
  const PieceEvents first{
      .cut_beside = {{{0, 1}, {0, 8}}}, .doubts_settled = {{0, 0}, {1, 1}, {0, 2}}, .loosened = {{{0, 0}, {1, 3}}}};
  const PieceEvents second{.cut_beside = {{{0, 1}, {1, 4}}, {{1, 0}, {1, 5}}},
                           .doubts_settled = {{1, 2}},
                           .loosened = {{{0, 2}, {1, 3}}, {{1, 0}, {1, 9}}}};
  PieceEvents turned = first;
  std::reverse(turned.doubts_settled.begin(), turned.doubts_settled.end());
  for (const auto& events : {std::vector{first, second}, std::vector{second, first}, std::vector{second, turned}}) {
    const auto runs = settled(events);
    EXPECT_EQ(looseFlags(runs[0]), (Flags{true, false, true}));
    EXPECT_EQ(looseFlags(runs[1]), (Flags{true, false, false}));
    EXPECT_EQ(doubts(runs[0]), (Moves{51}));
    EXPECT_EQ(doubts(runs[1]), (Moves{60}));
    EXPECT_EQ(besideOf(runs[0].pieces[1]), (Beside{{0, 1}, {0, 8}, {1, 4}}));
    EXPECT_EQ(besideOf(runs[1].pieces[0]), (Beside{{1, 5}, {1, 10}}));
  }
}

TEST(PieceEvents, an_event_changes_only_what_it_is_about) {
  const auto before = twoPrograms();
  const auto after =
      settled({{}, {.cut_beside = {{{1, 0}, {1, 4}}}, .doubts_settled = {{1, 0}}, .loosened = {{{0, 1}, {1, 3}}}}});
  ASSERT_EQ(after.size(), before.size());
  for (std::size_t r = 0; r < before.size(); ++r) {
    EXPECT_EQ(after[r].removed_mm3, before[r].removed_mm3);
    ASSERT_EQ(after[r].pieces.size(), before[r].pieces.size());
    for (std::size_t i = 0; i < before[r].pieces.size(); ++i) {
      EXPECT_EQ(after[r].pieces[i].move, before[r].pieces[i].move);
      EXPECT_EQ(after[r].pieces[i].tabs.size(), 4U);
      EXPECT_FALSE(after[r].pieces[i].free);
    }
    ASSERT_EQ(after[r].thin_floors.size(), 3U);
    for (std::size_t i = 0; i < 3; ++i) EXPECT_EQ(after[r].thin_floors[i].move, before[r].thin_floors[i].move);
  }
  EXPECT_EQ(besideOf(after[0].pieces[1]), besideOf(before[0].pieces[1]))
      << "it was loosened, nothing was cut beside it";
  EXPECT_FALSE(after[1].pieces[0].loosened_by) << "something was cut beside it, no more";
  EXPECT_EQ(doubts(after[0]), doubts(before[0]));
}

TEST(PieceEvents, without_events_everything_stays) {
  const auto runs = settled({{}, {}});
  for (const ProgramRun& run : runs) {
    EXPECT_EQ(looseFlags(run), (Flags{false, false, false}));
    EXPECT_EQ(run.doubtful_throughs.size(), 3U);
    for (const Piece& p : run.pieces) EXPECT_EQ(p.beside.size(), 1U);
  }
}

TEST(PieceEventsDeathTest, an_event_about_a_piece_that_is_not_there_stops_the_run) {
  GTEST_FLAG_SET(death_test_style, "threadsafe");
  const auto told = [](const PieceEvents& e) {
    EXPECT_EXIT(settled({e}), ::testing::ExitedWithCode(3), "piece_events.cpp");
  };
  told(loosened({{0, 3}}));
  told(loosened({{2, 0}}));
  told(loosened({{-1, 0}}));
  told(besideCut({{{1, 3}, {1, 0}}}));
  told(doubtsSettled({{1, 3}}));
  told(doubtsSettled({{2, 0}}));
}

}  // namespace
}  // namespace provecut::pieces
