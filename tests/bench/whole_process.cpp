// The whole program against the bare height kernel, in one run: a 3D finishing program of ball-nose moves on a
// 300 x 300 x 20 mm stock, written to a file, checked by `provecut check` as a process of its own; and `provecut place`
// on the sample job.
// All times are processor seconds, so that a busy machine does not show. Ends with 1 where a bar is missed: time over
// the bare kernel's, memory, growth with moves and with the raster.
#include <fstream>
#include <vector>

#include "tests/bench/bare_height_kernel.h"
#include "tests/bench/measured_process.h"

namespace {

using namespace provecut;
using namespace provecut::bench;
namespace fs = std::filesystem;

constexpr double size_mm = 300, thickness_mm = 20, ball_mm = 3;

fs::path writeJob(const fs::path& folder, const std::string& name, const std::vector<WorkPoint>& points, double cell) {
  std::ofstream nc(folder / (name + ".nc"));
  char line[96];
  nc << "G21 G90 G17 G94\nT1 M6\nS18000 M3\nG4 P5\nG0 Z10\n";
  std::snprintf(line, sizeof line, "G0 X%.3f Y%.3f\n", points[0].x, points[0].y);
  nc << line << "G1 F2000\n";
  for (const WorkPoint& p : points) {
    std::snprintf(line, sizeof line, "G1 X%.3f Y%.3f Z%.3f\n", p.x, p.y, p.z - thickness_mm);
    nc << line;
  }
  nc << "G0 Z10\nM5\nM30\n";
  const fs::path job = folder / (name + ".toml");
  std::ofstream(job)
      << "version = 1\nname = \"finishing\"\nunits = \"mm\"\n[stock]\nsize = [300, 300, 20]\n[limits]\ncell = " << cell
      << "\n[[tool]]\nnumber = 1\nname = \"3 mm ball\"\nshape = \"ball\"\ndiameter = 3\nflute_length = 20\nstickout = "
         "30\n"
         "[[setup]]\nname = \"top\"\nzero = [\"left\", \"front\", \"top\"]\n[[setup.program]]\nfile = \""
      << name << ".nc\"\n";
  return job;
}

}  // namespace

int main(int count, char** arguments) {
  if (count != 3) return 2;
  const std::string program = arguments[1];
  const testing::TempFolder temporary;
  const fs::path folder = temporary.path();
  const auto points = finishingPoints(size_mm, thickness_mm, 0.5, 0.3, 560000);
  const auto twice = finishingPoints(size_mm, thickness_mm, 0.5, 0.15, 1120000);

  const fs::path once_job = writeJob(folder, "once", points, 0.2), twice_job = writeJob(folder, "twice", twice, 0.2);
  const fs::path fine_job = writeJob(folder, "fine", points, 0.1);
  double bare = 1e9;
  Measured once, more, fine, place;
  // In turns, so that a busy moment of the machine does not fall on one of them alone.
  for (int k = 0; k < 4; ++k) {
    bare = std::min(bare, bareSeconds(points, size_mm, thickness_mm, ball_mm, 0.2));
    measure(program, "check", once_job, once);
    measure(program, "check", twice_job, more);
    measure(program, "check", fine_job, fine);
    measure(program, "place", arguments[2], place);
    bare = std::min(bare, bareSeconds(points, size_mm, thickness_mm, ball_mm, 0.2));
  }

  std::printf(
      "processor seconds: bare height kernel %.3f; %zu moves at 0.2 mm %.3f, %.0f MB; %zu moves %.3f; at 0.1 mm %.3f, "
      "%.0f MB; places for hold-downs in the sample %.3f\n",
      bare, points.size(), once.processor_s, once.megabytes, twice.size(), more.processor_s, fine.processor_s,
      fine.megabytes, place.processor_s);
  bar("whole process over the bare kernel", once.processor_s / bare, 15);  // seen 9.8 to 11.6
  bar("memory, MB", once.megabytes, 400);
  // 4 where the cost grew with the square.
  bar("twice the moves over once", more.processor_s / once.processor_s, 2.4);
  bar("0.1 mm over 0.2 mm", fine.processor_s / once.processor_s, 4.5);
  bar("places for hold-downs in the sample over the kernel", place.processor_s / bare, 5.5);  // seen 3.7 to 4.0
  return missed_bars == 0 ? 0 : 1;
}
