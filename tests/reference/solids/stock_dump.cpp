// Cuts one program of cuts.json and writes the stock in the stock frame, for comparison with other software:
//   stock_dump cuts.json NAME
// First line: dexels along x and y, cell size along x and y in mm, removed volume in mm3. Then one line per dexel, x
// fastest: the runs of material at the cell's centre, "low high low high …" from below in mm above the stock's
// underside; an empty line where nothing is left.
#include <cstdio>
#include <fstream>
#include <iostream>
#include <map>
#include <stdexcept>

#include <nlohmann/json.hpp>

#include "sim/stock/cut.h"

namespace {

using namespace provecut;
using nlohmann::json;

Tool readTool(const json& t) {
  const std::map<std::string, ToolShape> shapes{{"flat", ToolShape::flat},
                                                {"surfacing", ToolShape::surfacing},
                                                {"ball", ToolShape::ball},
                                                {"bull", ToolShape::bull},
                                                {"vee", ToolShape::vee},
                                                {"drill", ToolShape::drill},
                                                {"taper-ball", ToolShape::taper_ball},
                                                {"form", ToolShape::form}};
  Tool tool;
  tool.number = 1;
  tool.shape = shapes.at(t.at("shape"));
  tool.diameter_mm = t.value("diameter", 0.0);
  tool.corner_radius_mm = t.value("corner_radius", 0.0);
  tool.angle_deg = t.value("angle", 0.0);
  tool.taper_deg = t.value("taper", 0.0);
  tool.tip_diameter_mm = t.value("tip_diameter", 0.0);
  tool.tip_radius_mm = t.value("tip_radius", 0.0);
  for (const json& p : t.value("profile", json::array())) {
    tool.profile_mm.push_back({p[0], p[1]});
    tool.diameter_mm = std::max(tool.diameter_mm, 2 * p[0].get<double>());
  }
  tool.flute_length_mm = tool.profile_mm.empty() ? t.at("flute_length").get<double>() : tool.profile_mm.back().y;
  return tool;
}

std::vector<Motion> readMoves(const json& moves) {
  const auto point = [](const json& p) { return WorkPoint{p[0], p[1], p[2]}; };
  std::vector<Motion> motions;
  WorkPoint at = point(moves[0]);
  for (std::size_t i = 1; i < moves.size(); ++i) {
    const json& m = moves[i];
    Motion motion;
    motion.start = at;
    motion.tool = 1;
    motion.kind = MotionKind::feed;
    if (m.is_object()) {
      motion.kind = m.at("arc") == "ccw" ? MotionKind::arc_ccw : MotionKind::arc_cw;
      motion.centre = {m.at("centre")[0], m.at("centre")[1]};
    }
    motion.end = at = point(m.is_object() ? m.at("to") : m);
    motions.push_back(motion);
  }
  return motions;
}

void dump(const json& cut) {
  Job job;
  const json& size = cut.at("size");
  job.stock.size_mm = {size[0], size[1], size[2]};
  job.tools = {readTool(cut.at("tool"))};
  Setup setup;
  setup.zero_mm = {0, 0, size[2]};
  const std::string flip = cut.value("flip", "none");
  setup.flip = flip == "left-right" ? Flip::left_right : flip == "front-back" ? Flip::front_back : Flip::none;
  job.setups = {setup};
  const Setup as_stock;
  cutting::DexelField field =
      cutting::movedTo(cutting::uncutStock(job.stock, cutting::cellSize(job, cut.at("cell"))), as_stock, setup);
  const double whole = cutting::volume_mm3(field);
  cutting::cutProgram(field, makeCutters(job), job, setup, readMoves(cut.at("moves")));
  field = cutting::movedTo(field, setup, as_stock);
  std::printf("%d %d %.17g %.17g %.17g\n", field.nx, field.ny, field.cell_x_mm, field.cell_y_mm,
              whole - cutting::volume_mm3(field));
  cutting::DexelSegment plain;
  for (int y = 0; y < field.ny; ++y) {
    for (int x = 0; x < field.nx; ++x) {
      const char* between = "";
      for (const cutting::DexelSegment& r : cutting::centreSegments(field, field.index(x, y), plain)) {
        std::printf("%s%.6f %.6f", between, static_cast<double>(r.low), static_cast<double>(r.high));
        between = " ";
      }
      std::printf("\n");
    }
  }
}

}  // namespace

int main(int count, char** arguments) {
  try {
    if (count != 3) throw std::runtime_error("usage: stock_dump cuts.json NAME");
    std::ifstream file(arguments[1]);
    const json all = json::parse(file);
    for (const json& cut : all.at("cuts")) {
      if (cut.at("name") != arguments[2]) continue;
      dump(cut);
      return 0;
    }
    throw std::runtime_error("no such cut");
  } catch (const std::exception& e) {
    std::cerr << e.what() << '\n';
    return 2;
  }
}
