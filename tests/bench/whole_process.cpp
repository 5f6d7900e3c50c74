// The whole program against the bare height kernel, in one run: a 3D finishing program of ball-nose moves on a
// 300 x 300 x 20 mm stock, written to a file, checked by `provecut check` as a process of its own; and `provecut place`
// on the sample job.
// Ends with 1 where a bar is missed: time over the bare kernel's, memory, growth with moves and with the raster.
#include <fstream>
#include <vector>

#include "tests/bench/bare_height_kernel.h"
#include "tests/bench/measured_process.h"

namespace {

using namespace provecut;
using namespace provecut::bench;
namespace fs = std::filesystem;

constexpr double size_mm = 300, thickness_mm = 20, ball_mm = 3;

double bareSeconds(const std::vector<WorkPoint>& points, double cell) {
  const int n = static_cast<int>(size_mm / cell + 0.5);
  BareField f{
      n, n, static_cast<float>(cell),
      std::vector<float>(static_cast<std::size_t>(n) * static_cast<std::size_t>(n), static_cast<float>(thickness_mm))};
  const auto start = std::chrono::steady_clock::now();
  bareBallKernel(f, points, static_cast<float>(ball_mm / 2));
  const double s = secondsSince(start);
  if (f.height[0] > static_cast<float>(thickness_mm)) std::abort();  // keeps the work
  return s;
}

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
      << "version = 1\nname = \"finishing\"\nunits = \"mm\"\n[stock]\nsize = [300, 300, 20]\n[limits]\nvoxel = " << cell
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
  const fs::path folder = fs::temp_directory_path() / ("provecut-bench-" + std::to_string(getpid()));
  fs::create_directories(folder);
  const auto points = finishingPoints(size_mm, thickness_mm, 0.5, 0.3, 560000);
  const auto twice = finishingPoints(size_mm, thickness_mm, 0.5, 0.15, 1120000);

  const fs::path once_job = writeJob(folder, "once", points, 0.2), twice_job = writeJob(folder, "twice", twice, 0.2);
  const fs::path fine_job = writeJob(folder, "fine", points, 0.1);
  double bare = 1e9;
  Measured once, more, fine, place;
  // In turns, so that a busy moment of the machine does not fall on one of them alone.
  for (int k = 0; k < 4; ++k) {
    bare = std::min(bare, bareSeconds(points, 0.2));
    measure(program, "check", once_job, once);
    measure(program, "check", twice_job, more);
    measure(program, "check", fine_job, fine);
    measure(program, "place", arguments[2], place);
    bare = std::min(bare, bareSeconds(points, 0.2));
  }
  fs::remove_all(folder);

  std::printf(
      "bare height kernel %.3f s; %zu moves at 0.2 mm %.3f s, %.0f MB; %zu moves %.3f s; at 0.1 mm %.3f s, %.0f MB\n",
      bare, points.size(), once.seconds, once.megabytes, twice.size(), more.seconds, fine.seconds, fine.megabytes);
  bar("whole process over the bare kernel", once.seconds / bare, 8);
  bar("memory, MB", once.megabytes, 400);
  bar("twice the moves over once", more.seconds / once.seconds,
      2.4);  // seen 1.8 to 2.1; 4 where the cost grew with the square
  bar("0.1 mm over 0.2 mm", fine.seconds / once.seconds, 4.5);
  bar("places for hold-downs in the sample, s", place.seconds, 1);
  return missed_bars == 0 ? 0 : 1;
}
