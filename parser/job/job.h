// The job: machine, stock, tools, hold-downs, setups. All lengths in mm whatever unit the file used.
#pragma once

#include <algorithm>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "parser/base/geometry.h"
#include "parser/base/place.h"
#include "parser/job/wood_species.h"

namespace provecut {

enum class Cornering { junction_deviation, exact_stop };
enum class Rapids { straight, independent };
// How an arc's two accelerations, along the path and towards its centre, use what the axes give: each for itself, or
// the root of the sum of their squares.
enum class ArcAcceleration { apart, shared };

struct Measured {
  std::string program;
  double seconds = 0;
};

struct Machine {
  std::string profile;
  Vec3 travel_mm{800, 800, 120};
  Vec3 max_rate_mm_min{5000, 5000, 3000};
  Vec3 acceleration_mm_s2{500, 500, 270};
  double junction_deviation_mm = 0.01;
  Cornering cornering = Cornering::junction_deviation;
  double jerk_mm_s3 = 0;  // 0: not limited
  Rapids rapids = Rapids::straight;
  double blocks_per_second = 0;  // 0: not limited
  int look_ahead_blocks = 0;     // that it knows beyond the one it drives, and must be able to stop within; 0: all
  ArcAcceleration arc_acceleration = ArcAcceleration::shared;
  double spindle_rpm_min = 8000, spindle_rpm_max = 24000;
  bool spindle_rpm_given = false;  // by the job file or its profile
  double spindle_start_s = 4;
  bool spindle_start_given = false;  // by the job file itself, not by a profile
  bool spindle_by_hand = false;      // switched by hand: M3 and M5 do nothing
  bool speed_by_hand = false;        // set on a dial: S does nothing
  double spindle_stop_s = 0;         // that the axes wait at M5
  double spindle_power_w = 1500;
  double tool_change_s = 120;
  // Words beyond plain moves that it takes; all of them unless the job says otherwise.
  std::vector<std::string> accepts{"arcs",       "canned-cycles", "tool-change",        "cutter-compensation",
                                   "parameters", "subprograms",   "feed-per-revolution"};
  std::vector<Measured> measured;

  // A spindle that is switched by hand has a dial, if it has more than one speed.
  bool dialled() const { return spindle_by_hand || speed_by_hand; }
};

enum class Grain { none, x, y };
// board: particle board, OSB, hardboard and other boards of chips or fibres that are not MDF.
enum class Material {
  softwood,
  hardwood,
  plywood,
  mdf,
  board,
  acrylic,
  polycarbonate,
  hdpe,
  solid_surface,
  aluminium,
  brass,
  foam
};

enum class StockShape { rectangle, round };

struct Stock {
  Vec3 size_mm;  // x, y, thickness; of round stock x and y are its diameter
  StockShape shape = StockShape::rectangle;
  Grain grain = Grain::none;
  double thickness_tolerance_mm = 0;
  Material material = Material::softwood;
  bool material_given = false;
  const WoodSpecies* species = nullptr;  // of wood; null: not given
};

struct Spoilboard {
  double thickness_mm = 18;
  double allowed_cut_mm = 0.3;
};

enum class ToolShape { flat, ball, bull, vee, taper_ball, drill, surfacing, form };

struct Tool {
  int number = 0;
  std::string name;
  ToolShape shape = ToolShape::flat;
  double diameter_mm = 0;
  double corner_radius_mm = 0;   // bull
  double angle_deg = 0;          // vee, drill: included angle
  double taper_deg = 0;          // taper-ball: half-angle
  double tip_diameter_mm = 0;    // vee
  double tip_radius_mm = 0;      // taper-ball
  std::vector<Vec2> profile_mm;  // form: (r, z) from the tip up
  int flutes = 2;
  double flute_length_mm = 0;
  double shank_diameter_mm = 0;
  double stickout_mm = 0;        // tip to collet-nut face
  double overall_length_mm = 0;  // 0: not known
  bool center_cutting = true;
  std::optional<double> max_stepdown_mm;
  std::optional<double> up_cut_length_mm;  // compression bit: from its tip to where it begins to cut downwards
  std::optional<double> plunge_feed_mm_min;
  std::optional<double> max_rpm;
  std::optional<double> rpm;         // to dial, where the speed is set by hand
  std::optional<Vec2> chip_load_mm;  // lowest and highest per tooth
  Place place;                       // of the [[tool]] table in the job file
};

struct ColletNut {
  double diameter_mm = 30;
  double length_mm = 20;
  double spindle_diameter_mm = 65;
};

struct SpindleAttachment {
  std::string name;
  double diameter_mm = 0;
  double bottom_mm = 0;  // from the nut face, down is negative
  double top_mm = 0;
  Vec2 offset_mm{};  // of its axis from the spindle's, along X and Y
};

// Tape, glue and vacuum are under the stock; vises and side clamps (wedges, toe clamps, side grips, fixed stops) press
// on its edges.
enum class HoldDownKind { screw, clamp, pin, tape, glue, vacuum, vise, side_clamp, other };

inline bool isUnderStock(HoldDownKind kind) {
  return kind == HoldDownKind::tape || kind == HoldDownKind::glue || kind == HoldDownKind::vacuum;
}
inline bool gripsEdges(HoldDownKind kind) {
  return kind == HoldDownKind::vise || kind == HoldDownKind::side_clamp;
}
// It can be fitted wherever there is room.
inline bool isMovable(HoldDownKind kind) {
  return kind == HoldDownKind::screw || kind == HoldDownKind::clamp || kind == HoldDownKind::other;
}

struct HoldDown {
  std::string name;
  HoldDownKind kind = HoldDownKind::screw;
  SetupPoint2 at_mm;       // centre, in the setup that lists it
  double diameter_mm = 0;  // round when > 0
  Vec2 size_mm;            // box when > 0, turned by angle_deg counter-clockwise
  double angle_deg = 0;
  std::vector<SetupPoint2> outline_mm;  // else an outline, in that setup too
  double top_mm = 0;                    // above the stock's top face
  double shaft_diameter_mm = 0;         // screw
  double length_mm = 0;                 // screw, under its head; 0: not known
  double depth_in_stock_mm = 0;         // pin
  bool unplaced = false;                // it grips the stock's edges, but nobody said where: a setup's held_by
  Place place;                          // of the [[hold_down]] table, or of the setup whose held_by it is
};

// What the tool can run into.
inline bool isObstacle(const HoldDown& h) {
  return !isUnderStock(h.kind) && !h.unplaced;
}

enum class Flip { none, front_back, left_right };

struct ProgramEntry {
  std::string file;               // as written, relative to the job file
  int tool = 0;                   // 0: not given
  std::vector<int> hold_downs;    // indices into Job::hold_downs fitted while it runs
  bool hold_downs_given = false;  // its own list, in place of the setup's
  bool through = true;
  std::optional<double> rpm;  // to dial, where the speed is set by hand; else the tool's
  Place place;
};

struct Setup {
  std::string name;
  Flip flip = Flip::none;
  int rotate_deg = 0;
  // The work zero, already worked out from "left", "front", "top" or numbers.
  SetupPoint zero_mm;
  bool zero_z_on_top = true;  // false: measured from the underside, so that the thickness matters otherwise
  double lift_mm = 0;         // how far above the spoilboard the stock lies
  std::optional<MachinePoint> zero_in_machine_mm;
  std::map<int, Vec3> work_offset_mm;  // G54 = 1 …, relative to the zero above
  std::vector<int> hold_downs;
  std::vector<ProgramEntry> programs;
  Place place;
};

// The thinnest floor that is left on purpose, where the job does not say: three tenths of a sheet thinner than 5 mm
// (our own estimate, no source).
inline double usualMinFloor_mm(double stock_thickness_mm) {
  return std::min(1.5, 0.3 * stock_thickness_mm);
}

struct Limits {
  double clearance_mm = 3;
  double min_floor_mm = 1.5;
  double min_tab_area_mm2 = 15;
  bool min_tab_area_given = false;
  double max_deflection_mm = 0.1;
  double cell_mm = 0;  // 0: chosen
};

struct Accept {
  std::string rule, program, subject, reason;  // empty program or subject: any
  std::optional<double> max_amount;
  Place place;
};

// Keys of one section whose values a first job file guessed, until somebody has confirmed them.
struct Unconfirmed {
  std::string whose;  // "[stock]", "tool 3", "setup front", a program's file
  std::vector<std::string> keys;
  Place place;  // of the list in the job file
};

struct Quote {
  std::string currency = "USD";
  double machine_rate = 0, labour_rate = 0;  // per hour
  double setup_minutes = 0, per_setup_minutes = 0, change_over_minutes = 0, finishing_minutes = 0, load_minutes = 0;
  double programming_minutes = 0;
  std::optional<double> programming_rate;  // per hour; absent: labour_rate
  double material_cost = 0, material_waste = 0, tooling_per_hour = 0, consumables_cost = 0;
  std::optional<double> margin, markup, tax;
  std::vector<int> quantity{1};
  int parts_per_stock = 1;
  Place place;
};

struct Job {
  std::string name;
  std::string file;     // as the user gave it; empty when made from the command line
  bool inches = false;  // units of the job file, for showing only
  Machine machine;
  Stock stock;
  Spoilboard spoilboard;
  std::vector<Tool> tools;
  ColletNut collet_nut;
  std::vector<SpindleAttachment> spindle_attachments;
  std::vector<HoldDown> hold_downs;
  std::vector<Setup> setups;
  Limits limits;
  std::vector<Accept> accepts;
  std::vector<Unconfirmed> unconfirmed;
  std::optional<Quote> quote;
};

const Tool* findTool(const Job& job, int number);

// How far it reaches from the spindle's axis: the round body that is checked in its place is as wide to every side.
double reach_mm(const SpindleAttachment& attachment);

// Outline of a hold-down in its setup when it is not round: corners counter-clockwise, mm.
std::vector<SetupPoint2> footprint(const HoldDown& h);

// The same hold-down with its centre there.
HoldDown movedTo(HoldDown h, SetupPoint2 at);

}  // namespace provecut
