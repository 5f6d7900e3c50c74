#pragma once

#include <vector>

// The description of a small sheet, its programs and what holds it down. All lengths are in mm.
//
// Coordinates of a program and of a hold-down are in the setup frame of its face: origin at the lower left corner of
// the underside of the stock as it lies on the bed in that setup, Z up. The top face is at z = thickness, the
// spoilboard at 0. The setup frame of the front is the stock frame.
namespace provecut::reference {

enum class Form { flat, ball, bull, vee, taper_ball, drill };

// The body goes straight up as a cylinder of its diameter from where its form reaches it, without end.
struct SheetTool {
  Form form = Form::flat;
  double diameter = 0;
  double corner_radius = 0;       // bull
  double included_angle_deg = 0;  // vee: between the flanks; drill: of the point
  double tip_diameter = 0;        // vee
  double tip_radius = 0;          // taper_ball
  double half_angle_deg = 0;      // taper_ball: the flank leaves the tip ball tangentially
};

// Both turns send z to thickness - z.
enum class Face {
  front,
  turned_front_back,  // about an axis along X: y -> size_y - y
  turned_left_right,  // about an axis along Y: x -> size_x - x
};

struct SheetPoint {
  double x = 0;
  double y = 0;
  double z = 0;
};

enum class MoveKind { rapid, feed, arc_cw, arc_ccw };

// An arc turns in the XY plane, seen from above in its setup frame; Z may change along it in proportion to the angle
// (a helix). Where from and to are one point in plan, it is a full circle.
struct SheetMove {
  MoveKind kind = MoveKind::feed;
  SheetPoint from;
  SheetPoint to;
  double centre_x = 0;  // arcs
  double centre_y = 0;
  int tool = 0;  // index into Sheet::tools
};

enum class HoldKind {
  screw,  // circle: the head
  clamp,  // axis-parallel box upon the stock
  tape,   // axis-parallel box under the stock
};

struct SheetHoldDown {
  HoldKind kind = HoldKind::screw;
  double centre_x = 0;
  double centre_y = 0;
  double diameter = 0;  // screw
  double size_x = 0;    // clamp, tape
  double size_y = 0;
  Face face = Face::front;
};

struct SheetProgram {
  Face face = Face::front;
  std::vector<SheetMove> moves;
  std::vector<int> fitted;  // indices into Sheet::hold_downs
};

// Programs of one face stand together, the front first.
struct Sheet {
  double size_x = 0;
  double size_y = 0;
  double thickness = 0;
  std::vector<SheetTool> tools;
  std::vector<SheetHoldDown> hold_downs;
  std::vector<SheetProgram> programs;
};

}  // namespace provecut::reference
