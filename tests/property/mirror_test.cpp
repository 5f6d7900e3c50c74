// A job mirrored left to right gives the same findings, mirrored: nothing in us prefers a side.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "report/findings/report.h"
#include "sim/run.h"
#include "tests/sim/scene.h"

namespace provecut::testing {
namespace {

constexpr double width_mm = 160;
constexpr Vec3 size{width_mm, 90, 12};

double mirroredX(double x) {
  return width_mm - x;
}

Motion mirrored(Motion m) {
  m.start.x = mirroredX(m.start.x);
  m.end.x = mirroredX(m.end.x);
  m.centre.x = mirroredX(m.centre.x);
  if (m.kind == MotionKind::arc_cw || m.kind == MotionKind::arc_ccw)
    m.kind = m.kind == MotionKind::arc_cw ? MotionKind::arc_ccw : MotionKind::arc_cw;
  return m;
}

// Trouble of many kinds: a screw hit, another passed close, a disc cut free, a part left on two tabs, a keyhole bit
// lifted in its slot, a thin roof, a floor too thin, the spoilboard cut, a rapid through wood.
struct Trouble {
  Job job;
  std::vector<Program> programs;
};

Trouble trouble() {
  Trouble t;
  t.job = stockOf(size, {flatTool(1, 6), keyholeTool(2, 9.5, 3.5, 5, 20), ballTool(3, 6)});
  t.job.stock.grain = Grain::x;
  for (Tool& tool : t.job.tools) tool.name = "bit " + std::to_string(tool.number);
  const auto screw = [&](const char* name, SetupPoint2 at) {
    HoldDown h;
    h.name = name;
    h.at_mm = at;
    h.diameter_mm = 9;
    h.top_mm = 4;
    t.job.hold_downs.push_back(h);
  };
  screw("screw A", {12.3, 12.1});
  screw("screw B", {150, 80});
  const std::vector<int> all{0, 1};

  Moves profile(1);  // a disc right out, the spoilboard scratched by half a millimetre too much
  profile.rapid({30, 60.1, 5}).feed({30, 60.1, -6});
  for (const double z : {-6.0, -13.0}) {
    profile.feed({30, 60.1, z})
        .arc(MotionKind::arc_cw, {50, 60.1, z}, {40, 60.1})
        .arc(MotionKind::arc_cw, {30, 60.1, z}, {40, 60.1});
  }
  profile.rapid({30, 60.1, 5})
      .rapid({12.3, 14, 5})
      .feed({12.3, 14, -2})
      .feed({25, 20, -2})
      .rapid({60, 22.7, -1})
      .rapid({60, 22.7, 5});
  Moves keyhole(2);
  keyhole.rapid({90, 20.2, 5}).feed({90, 20.2, -4.3}).feed({110.1, 26.3, -4.3}).rapid({110.1, 26.3, 5});
  Moves floor(3);
  floor.rapid({80, 60, 5})
      .feed({80, 60, -11.2})
      .feed({110, 71, -11.2})
      .rapid({110, 71, 5})
      .rapid({147, 70.3, 5})
      .feed({147, 70.3, -1})
      .rapid({147, 70.3, 5});
  Moves tabs(1);
  tabs.rapid({120, 20, 5})
      .feed({120, 20, -12.2})
      .feed({130, 20, -12.2})
      .feed({130, 20, -9})
      .feed({136, 20, -9})
      .feed({136, 20, -12.2});
  tabs.feed({145, 20, -12.2})
      .feed({145, 50.3, -12.2})
      .feed({134, 50.3, -12.2})
      .feed({134, 50.3, -9})
      .feed({128, 50.3, -9})
      .feed({128, 50.3, -12.2});
  tabs.feed({120, 50.3, -12.2}).feed({120, 20, -12.2}).rapid({120, 20, 5});
  for (const Moves* m : {&profile, &keyhole, &floor, &tabs}) {
    addProgram(t.job, 0, m->program().motions.at(0).tool, all);
    t.job.setups[0].programs.back().file = "program-" + std::to_string(t.programs.size());
    t.programs.push_back(m->program());
  }
  t.job.setups[0].hold_downs = all;
  return t;
}

std::vector<Finding> findingsOf(const Trouble& t) {
  Facts facts;
  facts.job = t.job;
  facts.run = run(t.job, t.programs);
  for (std::size_t i = 0; i < t.programs.size(); ++i) {
    ProgramFacts p;
    p.setup = &facts.job.setups[0];
    p.entry = &facts.job.setups[0].programs[i];
    p.program = t.programs[i];
    facts.programs.push_back(std::move(p));
  }
  return makeReport(facts).findings;
}

TEST(Mirror, a_mirrored_job_gives_mirrored_findings) {
  Trouble there = trouble(), here = there;
  for (HoldDown& h : there.job.hold_downs) h.at_mm.x = mirroredX(h.at_mm.x);
  for (Program& p : there.programs) {
    for (Motion& m : p.motions) m = mirrored(m);
  }
  const auto ours = findingsOf(here), theirs = findingsOf(there);
  std::vector<std::string> rules;
  for (const Finding& f : ours) rules.push_back(f.rule);
  for (const char* rule : {"hold-down-hit", "hold-down-close", "offcut-free", "floor-thin", "spoilboard-cut",
                           "rapid-in-stock", "undercut-lift"}) {
    EXPECT_NE(std::find(rules.begin(), rules.end(), rule), rules.end()) << "the trouble shows no " << rule;
  }
  ASSERT_EQ(ours.size(), theirs.size());
  for (std::size_t k = 0; k < ours.size(); ++k) {
    const Finding &a = ours[k], &b = theirs[k];
    SCOPED_TRACE(a.rule + ": " + a.message + " | " + b.message);
    EXPECT_EQ(a.rule, b.rule);
    EXPECT_EQ(a.level, b.level);
    EXPECT_EQ(a.program, b.program);
    EXPECT_EQ(a.subject, b.subject);
    EXPECT_EQ(a.moves, b.moves);
    // Two moves that leave the same floor: the raster is read from the left, so that either may be named.
    if (a.rule != "floor-thin") {
      EXPECT_EQ(a.place.line, b.place.line);
    }
    ASSERT_EQ(a.amount.has_value(), b.amount.has_value());
    if (a.amount) {
      EXPECT_NEAR(*a.amount, *b.amount, 0.01 * std::abs(*a.amount) + 1e-4);
    }
    ASSERT_EQ(a.at.has_value(), b.at.has_value());
    // A place within a piece, floor or hole is one of many: another of them may have come first. A move's is its own.
    const bool of_a_move = a.rule == "hold-down-hit" || a.rule == "hold-down-close" || a.rule == "spoilboard-cut" ||
                           a.rule == "rapid-in-stock" || a.rule == "undercut-lift";
    if (a.at && of_a_move) {
      EXPECT_NEAR(a.at->x, mirroredX(b.at->x), 1e-3);
      EXPECT_NEAR(a.at->y, b.at->y, 1e-3);
      EXPECT_NEAR(a.at->z, b.at->z, 1e-3);
    }
  }
}

}  // namespace
}  // namespace provecut::testing
