#include "tests/sim/placing/scene.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "sim/clearance/clearance.h"

namespace provecut::place_scene {

Job plainJob() {
  Job job;
  job.stock.size_mm = {300, 200, 20};
  for (int number = 1; number <= 4; ++number) {
    Tool t;
    t.number = number;
    t.diameter_mm = number == 3 ? 20 : 6;
    t.flute_length_mm = 20;
    t.shank_diameter_mm = 8;
    t.stickout_mm = 32;
    t.shape = number == 1   ? ToolShape::flat
              : number == 2 ? ToolShape::ball
              : number == 3 ? ToolShape::vee
                            : ToolShape::taper_ball;
    t.angle_deg = 60;
    t.tip_radius_mm = 0.5;
    t.taper_deg = 6;
    job.tools.push_back(t);
  }
  Setup setup;
  setup.zero_mm = {0, 0, 20};
  setup.programs.emplace_back();
  job.setups.push_back(setup);
  return job;
}

Motion feed(WorkPoint from, WorkPoint to) {
  Motion m;
  m.kind = MotionKind::feed;
  m.tool = 1;
  m.start = from;
  m.end = to;
  return m;
}

Program programOf(std::vector<Motion> motions) {
  Program program;
  program.motions = std::move(motions);
  return program;
}

HoldDown roundForm(double diameter, double top) {
  HoldDown h;
  h.kind = HoldDownKind::screw;
  h.diameter_mm = diameter;
  h.top_mm = top;
  return h;
}

HoldDown boxForm(Vec2 size, double angle_deg, double top) {
  HoldDown h;
  h.kind = HoldDownKind::clamp;
  h.size_mm = size;
  h.angle_deg = angle_deg;
  h.top_mm = top;
  return h;
}

clearance::Obstacle aboutOrigin(const HoldDown& form, const Job& job) {
  HoldDown h = form;
  h.at_mm = {};
  return clearance::obstacle(h, job.stock.size_mm.z);
}

placing::FreeRegion regionOf(const Job& job, const Program& program, const HoldDown& form, double resolution_mm) {
  const clearance::Obstacle o = aboutOrigin(form, job);
  const auto stretches = placing::keepOut(job, job.setups[0], program, o.top_mm, 0.005, o.radius_mm > 0);
  return placing::freeRegion(stretches, o, {-40, -40}, {job.stock.size_mm.x + 40, job.stock.size_mm.y + 40},
                             resolution_mm);
}

bool clearAt(const Job& job, const Program& program, const HoldDown& form, SetupPoint2 p) {
  Job with;
  with.machine = job.machine;
  with.stock = job.stock;
  with.tools = job.tools;
  with.collet_nut = job.collet_nut;
  with.spindle_attachments = job.spindle_attachments;
  with.limits = job.limits;
  with.hold_downs = {form};
  with.hold_downs[0].at_mm = p;
  ProgramEntry entry;
  entry.hold_downs = {0};
  std::vector<Contact> contacts;
  std::vector<NearPass> near;
  clearance::checkHoldDowns(with, job.setups[0], entry, program, contacts, near);
  return contacts.empty() && near.empty();
}

double fromRegion(const placing::FreeRegion& region, SetupPoint2 p) {
  if (region.contains(p)) return 0;
  double d = std::numeric_limits<double>::infinity();
  for (const std::vector<SetupPoint2>& ring : region.rings) {
    for (std::size_t i = 0; i < ring.size(); ++i)
      d = std::min(d, clearance::fromEdge({ring[i], ring[(i + 1) % ring.size()]}, p).distance);
  }
  return d;
}

Program randomProgram(std::mt19937& random, int moves) {
  std::uniform_real_distribution<double> x(-20, 320), y(-20, 220), z(-12, 12), unit(0, 1);
  Program program;
  WorkPoint at{x(random), y(random), 12};
  for (int i = 0; i < moves; ++i) {
    Motion m;
    m.tool = 1 + static_cast<int>(4 * unit(random));
    m.start = at;
    const double kind = unit(random);
    if (kind < 0.25) {
      m.kind = MotionKind::feed;
      m.end = {x(random), y(random), at.z};
    } else if (kind < 0.45) {
      m.kind = MotionKind::rapid;
      m.end = {x(random), y(random), z(random)};
    } else if (kind < 0.6) {
      m.kind = MotionKind::feed;
      m.end = {at.x, at.y, z(random)};
    } else {
      // A full or part turn about a centre 5 to 25 away in one of the planes; helices too.
      m.kind = unit(random) < 0.5 ? MotionKind::arc_cw : MotionKind::arc_ccw;
      const double r = 5 + 20 * unit(random), from = 6.28 * unit(random),
                   turn = unit(random) < 0.2 ? 0 : 6.2 * unit(random);
      m.plane = kind < 0.8 ? Plane::xy : kind < 0.9 ? Plane::zx : Plane::yz;
      const double u = -r * std::cos(from), v = -r * std::sin(from);
      const double du = u + r * std::cos(from + turn), dv = v + r * std::sin(from + turn);
      const double rise = unit(random) < 0.5 ? 0 : 6 * (unit(random) - 0.5);
      switch (m.plane) {
        case Plane::xy:
          m.centre = {at.x + u, at.y + v};
          m.end = {at.x + du, at.y + dv, at.z + rise};
          break;
        case Plane::zx:
          m.centre = {at.z + u, at.x + v};
          m.end = {at.x + dv, at.y + rise, at.z + du};
          break;
        case Plane::yz:
          m.centre = {at.y + u, at.z + v};
          m.end = {at.x + rise, at.y + du, at.z + dv};
          break;
      }
    }
    program.motions.push_back(m);
    at = m.end;
    // Now and then it goes on from elsewhere, so that it stays about the stock.
    if (unit(random) < 0.3) at = {x(random), y(random), z(random)};
  }
  return program;
}

}  // namespace provecut::place_scene
