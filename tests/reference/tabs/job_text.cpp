#include "tests/reference/tabs/job_text.h"

#include <fstream>
#include <iomanip>
#include <optional>
#include <string>

namespace provecut::testing {
namespace {

using reference::Face;
using reference::Form;
using reference::MoveKind;
using reference::Sheet;

std::string fileOf(std::size_t program) {
  return std::to_string(10 * (program + 1)) + ".nc";
}

std::string shapeOf(Form form) {
  switch (form) {
    case Form::flat:
      return "flat";
    case Form::ball:
      return "ball";
    case Form::bull:
      return "bull";
    case Form::vee:
      return "vee";
    case Form::taper_ball:
      return "taper-ball";
    case Form::drill:
      return "drill";
  }
  return "";
}

void writeTool(std::ostream& out, const reference::SheetTool& tool, std::size_t number) {
  out << "\n[[tool]]\nnumber = " << number << "\nname = \"" << shapeOf(tool.form) << ' ' << tool.diameter << "\"\n"
      << "shape = \"" << shapeOf(tool.form) << "\"\ndiameter = " << tool.diameter << '\n';
  if (tool.form == Form::bull) out << "corner_radius = " << tool.corner_radius << '\n';
  if (tool.form == Form::vee || tool.form == Form::drill) out << "angle = " << tool.included_angle_deg << '\n';
  if (tool.form == Form::vee) out << "tip_diameter = " << tool.tip_diameter << '\n';
  if (tool.form == Form::taper_ball) {
    out << "tip_radius = " << tool.tip_radius << "\ntaper = " << tool.half_angle_deg << '\n';
  }
  out << "flutes = 2\nflute_length = 100\nshank_diameter = " << tool.diameter << "\nstickout = 150\n";
}

void writeHoldDown(std::ostream& out, const reference::SheetHoldDown& hold, std::size_t number) {
  out << "\n[[hold_down]]\nname = \"h" << number << "\"\nkind = \"";
  const bool round = hold.kind == reference::HoldKind::screw;
  out << (round                                    ? "screw"
          : hold.kind == reference::HoldKind::tape ? "tape"
                                                   : "clamp")
      << "\"\nat = [" << hold.centre_x << ", " << hold.centre_y << "]\n";
  if (round) out << "diameter = " << hold.diameter << '\n';
  if (!round) out << "size = [" << hold.size_x << ", " << hold.size_y << "]\n";
  if (hold.kind != reference::HoldKind::tape) out << "top = 3\n";
}

void writeSetup(std::ostream& out, Face face) {
  const char* flip = face == Face::front ? "none" : face == Face::turned_front_back ? "front-back" : "left-right";
  out << "\n[[setup]]\nname = \"" << (face == Face::front ? "front" : "back") << "\"\nflip = \"" << flip
      << "\"\nzero = [\"left\", \"front\", \"top\"]\n";
}

void writeProgramEntry(std::ostream& out, const Sheet& sheet, std::size_t number) {
  const reference::SheetProgram& program = sheet.programs[number];
  out << "\n[[setup.program]]\nfile = \"" << fileOf(number) << "\"\ntool = 1\nhold_downs = [";
  const char* comma = "";
  for (const int h : program.fitted) {
    if (sheet.hold_downs[static_cast<std::size_t>(h)].face != program.face) continue;
    out << comma << "\"h" << h << '"';
    comma = ", ";
  }
  out << "]\n";
}

void writeProgram(std::ostream& out, const Sheet& sheet, const reference::SheetProgram& program) {
  out << std::fixed << std::setprecision(3) << "G21 G90 G17 G94 G40\nT1 M6\nS18000 M3\nG4 P5\nG0 Z10\n";
  for (const reference::SheetMove& m : program.moves) {
    const bool arc = m.kind == MoveKind::arc_cw || m.kind == MoveKind::arc_ccw;
    const char* word = m.kind == MoveKind::rapid    ? "G0"
                       : m.kind == MoveKind::feed   ? "G1"
                       : m.kind == MoveKind::arc_cw ? "G2"
                                                    : "G3";
    out << word << " X" << m.to.x << " Y" << m.to.y << " Z" << m.to.z - sheet.thickness;
    if (arc) out << " I" << m.centre_x - m.from.x << " J" << m.centre_y - m.from.y;
    if (m.kind != MoveKind::rapid) out << " F1500";
    out << '\n';
  }
  out << "M5\nM30\n";
}

}  // namespace

void writeJob(const Sheet& sheet, const std::filesystem::path& folder) {
  std::filesystem::create_directories(folder);
  std::ofstream job(folder / "job.toml");
  job << "version = 1\nname = \"Parts on tabs\"\nunits = \"mm\"\n\n[stock]\nsize = [" << sheet.size_x << ", "
      << sheet.size_y << ", " << sheet.thickness << "]\nmaterial = \"plywood\"\n\n[spoilboard]\nthickness = 18\n"
      << "allowed_cut = 10\n";
  for (std::size_t k = 0; k < sheet.tools.size(); ++k) writeTool(job, sheet.tools[k], k + 1);
  for (std::size_t k = 0; k < sheet.hold_downs.size(); ++k) writeHoldDown(job, sheet.hold_downs[k], k);
  std::optional<Face> face;
  for (std::size_t k = 0; k < sheet.programs.size(); ++k) {
    if (face != sheet.programs[k].face) writeSetup(job, sheet.programs[k].face);
    face = sheet.programs[k].face;
    writeProgramEntry(job, sheet, k);
    std::ofstream program(folder / fileOf(k));
    writeProgram(program, sheet, sheet.programs[k]);
  }
}

}  // namespace provecut::testing
