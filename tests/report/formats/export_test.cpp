// `provecut export` as other programs meet it: STL read by admesh, VDB by OpenVDB, PLY and CSV by their own rules.
#include <gmock/gmock.h>
#include <openvdb/openvdb.h>
#include <openvdb/tools/LevelSetMeasure.h>

#include <array>
#include <cstdio>
#include <cstring>
#include <filesystem>
#include <nlohmann/json.hpp>
#include <sstream>
#include <string>

#include "tests/paths.h"
#include "tests/report/running.h"

namespace provecut {
namespace {

using ::testing::HasSubstr;
using testing::Ran;
using testing::runProvecut;
using testing::smallJob;
using ::testing::StartsWith;
using testing::TempFolder;

// A pocket, a ring right through (radii 5 to 11) and a slot out over the edge.
constexpr std::string_view part =
    "G21 G90 G17 G94\nT1 M6\nS12000 M3\nG4 P5\nG0 X50 Y40 Z10\nG1 Z-4 F300\nG1 X70\nG0 Z10\nG0 X38 Y60\nG1 Z-10.2\nG2 "
    "X38 Y60 I-8 J0\nG0 Z10\n"
    "G0 X110 Y20\nG1 Z-3\nG1 X80\nG0 Z10\nM30\n";

struct Bench {
  TempFolder folder;
  Bench() {
    folder.write("a.nc", part);
    folder.write("job.toml", smallJob({"a.nc"}));
  }
  double remaining_mm3() const {
    return nlohmann::json::parse(
        runProvecut(folder, {"check", "job.toml", "--format", "json"}).out)["stock"]["remaining_mm3"];
  }
  Ran write(const std::string& file) const { return runProvecut(folder, {"export", "job.toml", "--output", file}); }
};

std::string outputOf(const std::string& command) {
  return testing::runShell(std::filesystem::temp_directory_path(), command + " 2>&1").out;
}

// The number after the last "name ... :" of admesh's account.
double admeshValue(const std::string& account, const std::string& name) {
  const std::size_t at = account.find(name);
  return at == std::string::npos ? -1 : std::strtod(account.c_str() + account.find(':', at) + 1, nullptr);
}

void expectSound(const std::string& account, double volume) {
  EXPECT_THAT(account, HasSubstr("All facets connected"));
  for (const char* name : {"Total disconnected facets", "Edges fixed", "Facets removed", "Facets added",
                           "Facets reversed", "Backwards edges", "Degenerate facets"}) {
    EXPECT_EQ(admeshValue(account, name), 0) << name << "\n" << account;
  }
  EXPECT_NEAR(admeshValue(account, "Volume"), volume, 0.005 * volume) << account;
}

TEST(Export, admesh_finds_the_stl_closed_and_as_large_as_reported) {
  ASSERT_STRNE(ADMESH, "ADMESH-NOTFOUND");
  const Bench bench;
  ASSERT_EQ(bench.write("cut.stl").status, 0);
  expectSound(outputOf(std::string(ADMESH) + " " + (bench.folder.path() / "cut.stl").string()), bench.remaining_mm3());
}

TEST(Export, admesh_finds_the_samples_stl_closed_and_as_large_as_reported) {
  const TempFolder folder;
  const std::string job = PROVECUT_SOURCE_DIR "/samples/cribbage-board/job.toml";
  ASSERT_EQ(runProvecut(folder, {"export", job, "--stl", "--output", "cut.stl"}).status, 0);
  const double volume =
      nlohmann::json::parse(runProvecut(folder, {"check", job, "--format", "json"}).out)["stock"]["remaining_mm3"];
  expectSound(outputOf(std::string(ADMESH) + " " + (folder.path() / "cut.stl").string()), volume);
}

TEST(Export, openvdb_reads_the_level_set_back_with_the_volume_reported) {
  const Bench bench;
  ASSERT_EQ(bench.write("cut.vdb").status, 0);
  openvdb::initialize();
  openvdb::io::File file((bench.folder.path() / "cut.vdb").string());
  file.open();
  const auto grid = openvdb::gridPtrCast<openvdb::FloatGrid>(file.readGrid("stock"));
  ASSERT_TRUE(grid);
  EXPECT_EQ(grid->getGridClass(), openvdb::GRID_LEVEL_SET);
  const double volume = bench.remaining_mm3();
  EXPECT_NEAR(static_cast<double>(openvdb::tools::levelSetVolume(*grid)), volume, 0.005 * volume);
  // Inside the stock, in the pocket, in the ring (work zero is the top front left corner; the file is in the stock
  // frame).
  const auto at = [&](double x, double y, double z) {
    return grid->tree().getValue(openvdb::Coord::round(grid->worldToIndex({x, y, z})));
  };
  EXPECT_LT(at(90, 70, 9), 0);
  EXPECT_GT(at(60, 40, 8), 0);
  EXPECT_LT(at(60, 40, 4), 0);
  EXPECT_GT(at(38, 60, 5), 0);
}

struct Groove {
  TempFolder folder;
  Groove() {
    // A dovetail 12 mm wide at its foot and 8 mm at its neck, 5 mm deep along the whole stock: 50 mm² of section.
    folder.write("a.nc",
                 "G21 G90 G17 G94\nT2 M6\nS12000 M3\nG4 P5\nG0 X-20 Y40 Z5\nG1 Z-5 F600\nG1 X120\nG0 Z5\nM30\n");
    folder.write(
        "job.toml",
        smallJob({"a.nc"},
                 "[[tool]]\nnumber = 2\nname = \"dovetail\"\nshape = \"form\"\nflute_length = 5\nstickout = 40\n"
                 "profile = [[6, 0], [4, 5], [4, 15]]\n"));
  }
};

TEST(Export, admesh_finds_the_stl_closed_with_a_groove_under_its_overhang) {
  const Groove bench;
  ASSERT_EQ(runProvecut(bench.folder, {"export", "job.toml", "--cell", "0.25", "--output", "cut.stl"}).err, "");
  const double left = 100 * (80 * 10 - 50);
  expectSound(outputOf(std::string(ADMESH) + " " + (bench.folder.path() / "cut.stl").string()), left);
}

TEST(Export, openvdb_reads_level_set_and_solid_voxels_back_with_a_groove_under_its_overhang) {
  const Groove bench;
  ASSERT_EQ(runProvecut(bench.folder, {"export", "job.toml", "--cell", "0.25", "--output", "cut.vdb"}).err, "");
  openvdb::initialize();
  openvdb::io::File file((bench.folder.path() / "cut.vdb").string());
  file.open();
  const auto grid = openvdb::gridPtrCast<openvdb::MaskGrid>(file.readGrid("material"));
  ASSERT_TRUE(grid);
  const openvdb::Vec3d voxel = grid->voxelSize();
  // Voxels are cut whole: within one of every wall.
  EXPECT_NEAR(static_cast<double>(grid->activeVoxelCount()) * voxel.x() * voxel.y() * voxel.z(), 100 * (80 * 10 - 50),
              100 * 2 * 5 * 0.25);
  const auto level_set = openvdb::gridPtrCast<openvdb::FloatGrid>(file.readGrid("stock"));
  EXPECT_NEAR(static_cast<double>(openvdb::tools::levelSetVolume(*level_set)), 100 * (80 * 10 - 50),
              0.002 * 100 * (80 * 10 - 50));
  // Work zero is the top front left corner, the file in the stock frame: beside the neck material hangs over the
  // groove.
  const auto solid = [&](double x, double y, double z) {
    const openvdb::Vec3d at{x, y, z};
    const bool voxel_is = grid->tree().isValueOn(openvdb::Coord::round(grid->worldToIndex(at)));
    EXPECT_EQ(level_set->tree().getValue(openvdb::Coord::round(level_set->worldToIndex(at))) < 0, voxel_is);
    return voxel_is;
  };
  EXPECT_FALSE(solid(50, 40, 9.5));
  EXPECT_TRUE(solid(50, 45.5, 9.5));
  EXPECT_FALSE(solid(50, 45.3, 5.5));
  EXPECT_TRUE(solid(50, 45.5, 4.5));
}

TEST(Export, a_ply_holds_as_many_points_and_triangles_as_its_head_says) {
  const Bench bench;
  ASSERT_EQ(bench.write("cut.ply").status, 0);
  const std::string bytes = bench.folder.read("cut.ply");
  ASSERT_THAT(bytes, StartsWith("ply\nformat binary_little_endian 1.0\n"));
  const std::size_t end = bytes.find("end_header\n") + 11;
  const auto count = [&](const char* element) {
    return std::strtoul(bytes.c_str() + bytes.find(element) + std::strlen(element), nullptr, 10);
  };
  const std::size_t points = count("element vertex "), triangles = count("element face ");
  ASSERT_GT(triangles, 100u);
  ASSERT_EQ(bytes.size() - end, points * 12 + triangles * 13);
  double six = 0;  // enclosed volume by the divergence theorem
  const auto coordinate = [&](std::size_t point, std::size_t k) {
    float value = 0;
    std::memcpy(&value, bytes.data() + end + point * 12 + k * 4, 4);
    return static_cast<double>(value);
  };
  for (std::size_t t = 0; t < triangles; ++t) {
    const char* face = bytes.data() + end + points * 12 + t * 13;
    ASSERT_EQ(face[0], 3);
    std::uint32_t p[3];
    std::memcpy(p, face + 1, 12);
    double c[3][3];
    for (int i = 0; i < 3; ++i) {
      ASSERT_LT(p[i], points);
      for (std::size_t k = 0; k < 3; ++k) c[i][k] = coordinate(p[i], k);
    }
    six += c[0][0] * (c[1][1] * c[2][2] - c[1][2] * c[2][1]) + c[0][1] * (c[1][2] * c[2][0] - c[1][0] * c[2][2]) +
           c[0][2] * (c[1][0] * c[2][1] - c[1][1] * c[2][0]);
  }
  const double volume = bench.remaining_mm3();
  EXPECT_NEAR(six / 6, volume, 0.005 * volume);
}

TEST(Export, the_hits_are_those_of_the_json_report) {
  const TempFolder folder;
  const std::string job = PROVECUT_SOURCE_DIR "/samples/cribbage-board-trouble/job.toml";
  std::istringstream csv(runProvecut(folder, {"export", job, "--hits"}).out);
  const auto hits = nlohmann::json::parse(runProvecut(folder, {"check", job, "--format", "json"}).out)["hits"];
  std::string line;
  std::getline(csv, line);
  EXPECT_EQ(line, "setup,program,line,subject,tool,tool_part,motion,plunge,x,y,z,overlap_mm");
  ASSERT_GT(hits.size(), 1u);
  for (const auto& hit : hits) {
    ASSERT_TRUE(std::getline(csv, line));
    const std::string begin = "\"" + hit["setup"].get<std::string>() + "\",\"" + hit["program"].get<std::string>() +
                              "\"," + std::to_string(hit["line"].get<int>()) + ",\"" +
                              hit["subject"].get<std::string>() + "\",";
    EXPECT_THAT(line, StartsWith(begin));
    EXPECT_THAT(line, HasSubstr("\"" + hit["tool_part"].get<std::string>() + "\"," + hit["motion"].get<std::string>()));
  }
  EXPECT_FALSE(std::getline(csv, line));
}

TEST(Export, what_cannot_be_written_gives_2_and_says_so) {
  const Bench bench;
  EXPECT_EQ(runProvecut(bench.folder, {"export", "job.toml"}).status, 2);
  EXPECT_EQ(runProvecut(bench.folder, {"export", "job.toml", "--stl", "--ply"}).status, 2);
  EXPECT_THAT(bench.write("no/such/folder/cut.vdb").err, HasSubstr("cannot write no/such/folder/cut.vdb"));
  EXPECT_EQ(bench.write("no/such/folder/cut.stl").status, 2);
  if (!std::filesystem::exists("/dev/full")) return;
  for (const char* kind : {"--stl", "--ply", "--vdb", "--hits"}) {
    const Ran r = runProvecut(bench.folder, {"export", "job.toml", kind, "--output", "/dev/full"});
    EXPECT_EQ(r.status, 2) << kind;
    EXPECT_THAT(r.err, HasSubstr("cannot write /dev/full: No space left on device")) << kind;
  }
}

}  // namespace
}  // namespace provecut
