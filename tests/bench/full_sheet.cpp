// A full sheet of 2440 x 1220 x 18 mm plywood with the parts of a cabinet job nested on it, cut in memory at 0.4 mm:
// drilled shelf-pin rows, dado grooves, hinge cups, scooped finger pulls in fine moves, outlines in passes with tabs.
// Each file is checked by `provecut check` as a process of its own. Ends with 1 where a bar is missed.
//   full_sheet PROGRAM [table]: with "table" also the growth over moves and over 1/cell.
#include <cmath>
#include <fstream>
#include <numbers>
#include <utility>

#include "tests/bench/bare_height_kernel.h"
#include "tests/bench/measured_process.h"

namespace {

using namespace provecut;
using namespace provecut::bench;
namespace fs = std::filesystem;

constexpr double pi = std::numbers::pi;
constexpr double sheet_x = 2440, sheet_y = 1220, thickness = 18;
constexpr double part_x = 470, part_y = 280, gap = 12;
constexpr int columns = 5, rows = 4;

class Writer {
 public:
  explicit Writer(const fs::path& file) : out_(file) { out_ << "G21 G90 G17 G94\n"; }
  void tool(int number) { out_ << "G0 Z20\nM5\nT" << number << " M6\nS18000 M3\nG4 P5\n"; }
  void rapid(double x, double y, double z) { move("G0", x, y, z, ""); }
  void feed(double x, double y, double z, double f = 4000) {
    char text[24];
    std::snprintf(text, sizeof text, " F%.0f", f);
    move("G1", x, y, z, f == feed_ ? "" : text);
    feed_ = f;
  }
  void end() { out_ << "G0 Z20\nM5\nM30\n"; }
  std::size_t moves() const { return moves_; }

 private:
  void move(const char* word, double x, double y, double z, const char* more) {
    char line[96];
    std::snprintf(line, sizeof line, "%s X%.3f Y%.3f Z%.3f%s\n", word, x, y, z, more);
    out_ << line;
    ++moves_;
  }
  std::ofstream out_;
  std::size_t moves_ = 0;
  double feed_ = 0;
};

// Rows of 5 mm shelf-pin holes, pecked.
void shelfPins(Writer& w, double x0, double y0) {
  for (const double y : {y0 + 37, y0 + part_y - 37}) {
    for (double x = x0 + 60; x < x0 + part_x - 60; x += 32) {
      w.rapid(x, y, 3);
      for (const double z : {-4.0, -8.0, -12.0}) {
        w.feed(x, y, z, 1000);
        w.rapid(x, y, 1);
      }
      w.rapid(x, y, 3);
    }
  }
}

void dadoGrooves(Writer& w, double x0, double y0) {
  for (const double x : {x0 + 25, x0 + part_x - 43}) {
    w.rapid(x, y0 - 8, 3);
    for (const double z : {-3.0, -6.0}) {
      for (int k = 0; k < 4; ++k) {
        const double at = x + 3 + 4 * k;
        w.feed(at, k % 2 ? y0 + part_y + 8 : y0 - 8, z);
        w.feed(at, k % 2 ? y0 - 8 : y0 + part_y + 8, z);
      }
      w.rapid(x + 15, y0 - 8, 3);
      w.rapid(x + 3, y0 - 8, 3);
    }
  }
}

// A 35 mm cup as a spiral of short moves.
void hingeCup(Writer& w, double x, double y) {
  for (const double z : {-4.0, -8.0, -12.0}) {
    w.rapid(x, y, 3);
    w.feed(x, y, z, 1000);
    for (double turn = 0; turn <= 6; turn += 1.0 / 40) {
      const double r = std::min(14.5, turn * 2.9), a = 2 * pi * turn;
      w.feed(x + r * std::cos(a), y + r * std::sin(a), z);
    }
    w.rapid(x, y, 3);
  }
}

// A shallow scoop by a ball nose, rows `apart` mm, points every millimetre.
void fingerPull(Writer& w, double x0, double y0, double apart) {
  constexpr double long_way = 110, wide = 30;
  bool forward = true;
  w.rapid(x0, y0, 3);
  for (double v = 0; v <= wide; v += apart, forward = !forward) {
    for (double u = 0; u <= long_way; u += 1) {
      const double at = forward ? u : long_way - u;
      w.feed(x0 + at, y0 + v, -0.2 - 5 * std::sin(pi * at / long_way) * std::sin(pi * v / wide));
    }
  }
  w.rapid(x0, y0, 3);
}

// Rounded corners in short moves, three passes, four tabs of 8 x 4 mm in the last.
void outline(Writer& w, double x0, double y0) {
  constexpr double r = 15;
  w.rapid(x0 + r, y0 - 3, 3);
  for (const double z : {-6.0, -12.0, -18.2}) {
    w.feed(x0 + r, y0 - 3, z, 1500);
    const auto side = [&](double ax, double ay, double bx, double by) {
      if (z < -thickness) {
        for (const auto& [share, height] :
             {std::pair{0.45, z}, std::pair{0.45, -14.0}, std::pair{0.55, -14.0}, std::pair{0.55, z}}) {
          w.feed(ax + (bx - ax) * share, ay + (by - ay) * share, height);
        }
      }
      w.feed(bx, by, z);
    };
    const auto corner = [&](double cx, double cy, double from) {
      for (int k = 1; k <= 24; ++k) {
        const double a = from + pi / 2 * k / 24;
        w.feed(cx + (r + 3) * std::cos(a), cy + (r + 3) * std::sin(a), z);
      }
    };
    side(x0 + r, y0 - 3, x0 + part_x - r, y0 - 3);
    corner(x0 + part_x - r, y0 + r, -pi / 2);
    side(x0 + part_x + 3, y0 + r, x0 + part_x + 3, y0 + part_y - r);
    corner(x0 + part_x - r, y0 + part_y - r, 0);
    side(x0 + part_x - r, y0 + part_y + 3, x0 + r, y0 + part_y + 3);
    corner(x0 + r, y0 + part_y - r, pi / 2);
    side(x0 - 3, y0 + part_y - r, x0 - 3, y0 + r);
    corner(x0 + r, y0 + r, pi);
  }
  w.rapid(x0 + r, y0 - 3, 3);
}

template <class Each>
void eachPart(const Each& each) {
  for (int i = 0; i < columns; ++i) {
    for (int k = 0; k < rows; ++k) each(20 + i * (part_x + gap), 20 + k * (part_y + gap));
  }
}

// The sheet's program, with about as many moves as asked for: the scoops' rows make up the number.
std::size_t writeProgram(const fs::path& file, std::size_t wanted) {
  const auto write = [&](double apart) {
    Writer w(file);
    w.tool(2);
    eachPart([&](double x, double y) { shelfPins(w, x, y); });
    w.tool(1);
    eachPart([&](double x, double y) {
      dadoGrooves(w, x, y);
      hingeCup(w, x + 120, y + 140);
      hingeCup(w, x + part_x - 120, y + 140);
    });
    w.tool(3);
    eachPart([&](double x, double y) { fingerPull(w, x + 180, y + 200, apart); });
    w.tool(1);
    eachPart([&](double x, double y) { outline(w, x, y); });
    w.end();
    return w.moves();
  };
  const std::size_t without = write(1e9);
  const double scoops = static_cast<double>(wanted - without) / (columns * rows * 111.0);  // rows per scoop
  return write(30 / std::max(1.0, scoops));
}

fs::path writeJob(const fs::path& folder, const std::string& name, double cell) {
  const fs::path job = folder / (name + "-" + std::to_string(static_cast<int>(cell * 1000)) + ".toml");
  std::ofstream(job) << "version = 1\nname = \"cabinet sheet\"\nunits = \"mm\"\n[machine]\nprofile = \"shop-rack\"\n"
                        "[stock]\nsize = [2440, 1220, 18]\nmaterial = \"plywood\"\ngrain = \"x\"\nthickness_tolerance "
                        "= 0.3\n[limits]\ncell = "
                     << cell
                     << "\n[[tool]]\nnumber = 1\nname = \"6 mm compression\"\nshape = \"flat\"\ndiameter = "
                        "6\nflute_length = 25\nstickout = 35\n"
                        "[[tool]]\nnumber = 2\nname = \"5 mm brad point\"\nshape = \"drill\"\ndiameter = 5\nangle = "
                        "150\nflute_length = 30\nstickout = 40\n"
                        "[[tool]]\nnumber = 3\nname = \"12 mm ball\"\nshape = \"ball\"\ndiameter = 12\nflute_length = "
                        "25\nstickout = 40\n";
  std::ofstream more(job, std::ios::app);
  int screws = 0;
  std::string names;
  for (const double x : {8.0, 820.0, 1620.0, 2432.0}) {
    for (const double y : {8.0, 1212.0}) {
      const std::string screw = "screw " + std::to_string(++screws);
      more << "[[hold_down]]\nname = \"" << screw << "\"\nkind = \"screw\"\nat = [" << x << ", " << y
           << "]\ndiameter = 8\ntop = 2\n";
      names += (names.empty() ? "\"" : ", \"") + screw + "\"";
    }
  }
  more << "[[setup]]\nname = \"sheet\"\nzero = [\"left\", \"front\", \"top\"]\nhold_downs = [" << names
       << "]\n[[setup.program]]\nfile = \"" << name << ".nc\"\ntool = 2\n";
  return job;
}

}  // namespace

int main(int count, char** arguments) {
  if (count < 2) return 2;
  const std::string program = arguments[1];
  const testing::TempFolder temporary;
  const fs::path folder = temporary.path();

  const std::size_t moves = writeProgram(folder / "sheet.nc", 200000);
  const auto yardstick = finishingPoints(300, 20, 0.5, 0.3, 560000);
  Measured sheet;
  double bare = 1e9;
  const fs::path job = writeJob(folder, "sheet", 0.4);
  for (int k = 0; k < 2; ++k) {
    bare = std::min(bare, bareSeconds(yardstick, 300, 20, 3, 0.2));
    measure(program, "check", job, sheet);
    bare = std::min(bare, bareSeconds(yardstick, 300, 20, 3, 0.2));
  }
  std::printf("full sheet 2440 x 1220 x 18 mm at 0.4 mm, %zu moves: %.2f processor seconds, %.0f MB\n", moves,
              sheet.processor_s, sheet.megabytes);
  bar("processor time over the bare kernel's", sheet.processor_s / bare, 60);
  bar("memory, MB", sheet.megabytes, 1536);

  if (count > 2 && std::string(arguments[2]) == "table") {
    std::printf("| moves | cell mm | processor seconds | MB |\n| --- | --- | --- | --- |\n");
    for (const std::size_t wanted : {50000u, 100000u, 200000u, 400000u}) {
      const std::string name = "moves" + std::to_string(wanted);
      const std::size_t written = writeProgram(folder / (name + ".nc"), wanted);
      Measured m;
      for (int k = 0; k < 2; ++k) measure(program, "check", writeJob(folder, name, 0.4), m);
      std::printf("| %zu | 0.4 | %.2f | %.0f |\n", written, m.processor_s, m.megabytes);
    }
    for (const double cell : {0.8, 0.6, 0.4, 0.3}) {
      Measured m;
      for (int k = 0; k < 2; ++k) measure(program, "check", writeJob(folder, "sheet", cell), m);
      std::printf("| %zu | %.1f | %.2f | %.0f |\n", moves, cell, m.processor_s, m.megabytes);
    }
  }
  return missed_bars == 0 ? 0 : 1;
}
