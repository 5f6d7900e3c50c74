#include <gtest/gtest.h>

#include <concepts>
#include <type_traits>

#include "parser/base/parallel_frames.h"
#include "parser/program/motion.h"

namespace provecut {
namespace {

template <class A, class B>
concept Adds = requires(A a, B b) {
  a + b;
};
template <class A, class B>
concept Subtracts = requires(A a, B b) {
  a - b;
};
template <class A, class B>
concept Compares = requires(A a, B b) {
  a == b;
};
template <class Box, class P>
concept Takes = requires(Box box, P p) {
  box.add(p);
};

// True if points or boxes of the one frame can come among those of the other in any way but a conversion.
template <class A, class B>
constexpr bool kept_apart =
    !Adds<Point3<A>, Point3<B>> && !Subtracts<Point3<A>, Point3<B>> && !Compares<Point3<A>, Point3<B>> &&
    !std::is_convertible_v<Point3<A>, Point3<B>> && !std::is_constructible_v<Point3<A>, Point3<B>> &&
    !std::is_assignable_v<Point3<A>&, Point3<B>> && !Adds<Point2<A>, Point2<B>> && !Subtracts<Point2<A>, Point2<B>> &&
    !Compares<Point2<A>, Point2<B>> && !std::is_constructible_v<Point2<A>, Point2<B>> && !Takes<Box3<A>, Point3<B>> &&
    !Takes<Box3<A>, Box3<B>> && !std::is_constructible_v<Direction2<A>, Direction2<B>> &&
    !Adds<Point2<A>, Direction2<B>>;

static_assert(kept_apart<WorkFrame, SetupFrame> && kept_apart<SetupFrame, WorkFrame>);
static_assert(kept_apart<WorkFrame, StockFrame> && kept_apart<StockFrame, WorkFrame>);
static_assert(kept_apart<WorkFrame, MachineFrame> && kept_apart<MachineFrame, WorkFrame>);
static_assert(kept_apart<SetupFrame, StockFrame> && kept_apart<StockFrame, SetupFrame>);
static_assert(kept_apart<SetupFrame, MachineFrame> && kept_apart<MachineFrame, SetupFrame>);
static_assert(kept_apart<StockFrame, MachineFrame> && kept_apart<MachineFrame, StockFrame>);

// A point is no vector, and a vector no point.
static_assert(!std::is_constructible_v<Vec3, WorkPoint> && !std::is_constructible_v<WorkPoint, Vec3>);
static_assert(!std::is_constructible_v<Vec2, WorkPoint2> && !std::is_constructible_v<WorkPoint2, Vec2>);
static_assert(!Adds<WorkPoint, WorkPoint> && !Adds<WorkPoint2, WorkPoint2>);
static_assert(!Adds<Vec3, WorkPoint> && !Subtracts<Vec3, WorkPoint>);

// What does compile, so that the above is not true of everything.
static_assert(Adds<WorkPoint, Vec3> && Subtracts<WorkPoint, Vec3> && Subtracts<WorkPoint, WorkPoint>);
static_assert(Compares<WorkPoint, WorkPoint> && Takes<WorkBox, WorkPoint> && Takes<WorkBox, WorkBox>);
static_assert(std::same_as<decltype(WorkPoint{} - WorkPoint{}), Vec3>);
static_assert(std::same_as<decltype(WorkPoint{} + Vec3{}), WorkPoint>);

// A frame costs nothing: a program may have a million moves.
static_assert(sizeof(WorkPoint) == sizeof(Vec3) && std::is_trivially_copyable_v<WorkPoint>);
static_assert(sizeof(Motion) == 96 && std::is_trivially_copyable_v<Motion>);

TEST(Frames, the_work_zero_lies_where_the_setup_and_the_machine_have_it) {
  const SetupPoint in_setup{10, 5, 19};
  const MachinePoint in_machine{-700, -500, -90};
  EXPECT_EQ(workToSetup(in_setup, WorkPoint{}), in_setup);
  EXPECT_EQ(workToMachine(in_machine, WorkPoint{}), in_machine);
  EXPECT_EQ(workToSetup(in_setup, WorkPoint{1, 2, -3}), (SetupPoint{11, 7, 16}));
  EXPECT_EQ(workToMachine(in_machine, WorkPoint{1, 2, -3}), (MachinePoint{-699, -498, -93}));
}

TEST(Frames, there_and_back_is_the_same_point) {
  const SetupPoint in_setup{10, 5, 19};
  const MachinePoint in_machine{-700, -500, -90};
  const WorkPoint p{1, 2, -3};
  EXPECT_EQ(setupToWork(in_setup, workToSetup(in_setup, p)), p);
  EXPECT_EQ(setupToWork(flat(in_setup), workToSetup(flat(in_setup), flat(p))), flat(p));
  EXPECT_EQ(machineToWork(in_machine, workToMachine(in_machine, p)), p);
}

TEST(Frames, a_box_holds_its_points_and_no_more) {
  WorkBox box;
  EXPECT_TRUE(box.empty);
  box.add(WorkPoint{3, -1, 2});
  box.add(WorkPoint{-2, 4, 0});
  WorkBox all;
  all.add(WorkBox{});
  EXPECT_TRUE(all.empty);
  all.add(box);
  EXPECT_EQ(all.low, (WorkPoint{-2, -1, 0}));
  EXPECT_EQ(all.high, (WorkPoint{3, 4, 2}));
}

}  // namespace
}  // namespace provecut
