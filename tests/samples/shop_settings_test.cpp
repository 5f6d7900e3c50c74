// Settings that a practising one-man shop runs in red oak without trouble (common practice, no source) come out without
// a warning: each as a whole program, through the whole of `provecut check`.
#include <gtest/gtest.h>
#include <unistd.h>

#include <cmath>
#include <cstdio>
#include <fstream>
#include <numbers>
#include <sstream>
#include <string>
#include <vector>

#include "tests/samples/sample_run.h"

namespace provecut::samples {

namespace {

// An exported inch program.
class Nc {
 public:
  Nc(int rpm, double feed, double plunge) : feed_(feed), plunge_(plunge) {
    text_ << "G20 G90 G17 G94\nG54 G40 G49 G80\nT1 M6\nS" << rpm << " M3\nG4 P7\nG0 Z1\n";
  }
  Nc& above(double x, double y) {
    text_ << "G0 Z1\nG0 X" << x << " Y" << y << "\nG0 Z0.2\n";
    return *this;
  }
  Nc& down(double z) {
    text_ << "G1 Z" << z << " F" << plunge_ << "\n";
    return *this;
  }
  Nc& to(double x, double y) {
    text_ << "G1 X" << x << " Y" << y << " F" << feed_ << "\n";
    return *this;
  }
  Nc& to(double x, double y, double z) {
    text_ << "G1 X" << x << " Y" << y << " Z" << z << " F" << feed_ << "\n";
    return *this;
  }
  Nc& arc(const char* word, double x, double y, double i, double j) {
    text_ << word << " X" << x << " Y" << y << " I" << i << " J" << j << " F" << feed_ << "\n";
    return *this;
  }
  std::string text() const { return text_.str() + "G0 Z1\nM5\nM30\n"; }

 private:
  std::ostringstream text_;
  double feed_, plunge_;
};

struct Shop {
  std::string stock = "size = [16, 12, 0.75]\ngrain = \"x\"\nmaterial = \"hardwood\"";
  std::string tool;  // keys beside number and flutes
  int flutes = 2;
  std::string more;
};

std::filesystem::path writeJob(const std::string& name, const Shop& shop, const Nc& program) {
  const auto place =
      std::filesystem::temp_directory_path() / ("provecut-shop-" + std::to_string(getpid()) + "-" + name);
  std::filesystem::create_directories(place);
  std::ofstream(place / "cut.nc") << program.text();
  std::ofstream(place / "job.toml") << "version = 1\nname = \"" << name
                                    << "\"\nunits = \"in\"\n[machine]\nprofile = \"shop-rack\"\n"
                                    << "[stock]\n"
                                    << shop.stock << "\n[[tool]]\nnumber = 1\nflutes = " << shop.flutes << "\n"
                                    << shop.tool
                                    << "\n[[setup]]\nname = \"top\"\nzero = [\"left\", \"front\", \"top\"]\n"
                                    << "held_by = \"glue\"\n"
                                    << "[[setup.program]]\nfile = \"cut.nc\"\ntool = 1\n"
                                    << shop.more;
  return place;
}

// The report; anything at or above a look, and notes of chips, are faults of ours.
nlohmann::json checked(const std::string& name, const Shop& shop, const Nc& program) {
  const auto place = writeJob(name, shop, program);
  const testing::Ran answer =
      runCommand("'" PROVECUT_PROGRAM "' check '" + (place / "job.toml").string() + "' --format json");
  std::filesystem::remove_all(place);
  const auto report = nlohmann::json::parse(answer.out, nullptr, false);
  if (report.is_discarded()) {
    ADD_FAILURE() << answer.out;
    return {};
  }
  EXPECT_EQ(report["complete"], true);
  for (const auto& f : report["findings"]) {
    EXPECT_EQ(f["level"], "note") << f["line"] << " " << f["rule"] << ": " << f["message"];
  }
  return report;
}

bool has(const nlohmann::json& report, const std::string& rule) {
  for (const auto& f : report["findings"]) {
    if (f["rule"] == rule) return true;
  }
  return false;
}

const nlohmann::json& load(const nlohmann::json& report) {
  return report["programs"][0]["loads"][0];
}

}  // namespace

TEST(ShopSettings, surfacing_at_80_in_a_minute) {
  // 1 in bit, 40 % step-over, from outside the stock.
  Nc nc(18000, 80, 40);
  for (const double z : {-0.128, -0.256}) {
    bool right = true;
    nc.above(-0.7, 0.2).down(z);
    for (double y = 0.2; y < 12; y += 0.4, right = !right) nc.to(right ? -0.7 : 16.7, y).to(right ? 16.7 : -0.7, y);
  }
  Shop shop;
  shop.stock = "size = [16, 12, 2]\ngrain = \"x\"\nmaterial = \"hardwood\"";
  shop.tool =
      "shape = \"surfacing\"\ndiameter = 1\nflute_length = 0.5\nshank_diameter = 0.25\nstickout = 1.25\nmax_stepdown = "
      "0.13";
  const auto report = checked("surfacing", shop, nc);
  ASSERT_TRUE(report.is_object());
  EXPECT_FALSE(has(report, "chip-thin"));
  EXPECT_NEAR(load(report)["max_chip_thickness_mm"], 80 * 25.4 / 36000, 1e-4);
}

TEST(ShopSettings, a_pocket_at_120_in_a_minute_with_a_three_eighths_bit) {
  Nc nc(12000, 120, 40);
  nc.above(2, 2);
  for (const double z : {-0.25, -0.5}) {
    nc.to(4, 2, z).to(2, 2, z);  // ramp
    for (double inset = 0; inset < 1.4; inset += 0.18) {
      nc.to(2 + inset, 2 + inset)
          .to(8 - inset, 2 + inset)
          .to(8 - inset, 5 - inset)
          .to(2 + inset, 5 - inset)
          .to(2 + inset, 2 + inset);
    }
    nc.to(2, 2);
  }
  Shop shop;
  shop.tool =
      "shape = \"flat\"\ndiameter = 0.375\nflute_length = 1\nshank_diameter = 0.375\nstickout = 1.5\nmax_stepdown = "
      "0.26";
  const auto report = checked("pocket", shop, nc);
  ASSERT_TRUE(report.is_object());
  EXPECT_FALSE(has(report, "chip-thin"));
  EXPECT_NEAR(load(report)["max_chip_thickness_mm"], 0.127, 1e-3);
}

TEST(ShopSettings, a_ball_nose_at_192_in_a_minute) {
  Nc nc(16000, 192, 60);
  for (double y = 2; y < 6; y += 0.15)
    nc.above(2, y).down(-0.02).to(2.5, y, -0.169).to(9.5, y, -0.169).to(10, y, -0.02);
  Shop shop;
  shop.tool =
      "shape = \"ball\"\ndiameter = 0.375\nflute_length = 1\nshank_diameter = 0.375\nstickout = 1.5\nmax_stepdown = "
      "0.2";
  const auto report = checked("ball", shop, nc);
  ASSERT_TRUE(report.is_object());
  EXPECT_FALSE(has(report, "chip-thin"));
  EXPECT_NEAR(load(report)["max_chip_thickness_mm"], 192 * 25.4 / 32000, 2e-3);
}

TEST(ShopSettings, lettering_at_60_in_a_minute) {
  // Strokes that grow out of a point and end in one, and bowls.
  Nc nc(24000, 60, 30);
  for (int k = 0; k < 8; ++k) {
    const double x = 1 + 1.5 * k;
    nc.above(x, 2).down(0).to(x, 2.2, -0.047).to(x, 3.8, -0.047).to(x, 4, 0);
    nc.above(x, 4).down(0).to(x + 0.2, 3.9, -0.047).arc("G2", x + 0.2, 3.1, 0, -0.4).to(x, 3, 0);
  }
  for (const char* angle : {"60", "90"}) {
    Shop shop;
    shop.tool = std::string("shape = \"vee\"\ndiameter = 0.5\nangle = ") + angle +
                "\nflute_length = 0.5\nshank_diameter = 0.25\nstickout = 1.2\nmax_stepdown = 0.1";
    const auto report = checked("lettering", shop, nc);
    ASSERT_TRUE(report.is_object());
    EXPECT_FALSE(has(report, "chip-thin"));
  }
}

TEST(ShopSettings, a_compression_bit_at_130_in_a_minute_half_an_inch_deep) {
  Nc nc(18000, 130, 40);
  nc.above(2, 2).to(5, 2, -0.5).to(2, 2).to(12, 2).to(12, 8).to(2, 8).to(2, 2);
  Shop shop;
  shop.tool =
      "shape = \"flat\"\nname = \"1/2 in compression\"\ndiameter = 0.5\nflute_length = 1.25\nshank_diameter = "
      "0.5\nstickout = 1.75\nmax_stepdown = 0.51";
  const auto report = checked("compression", shop, nc);
  ASSERT_TRUE(report.is_object());
  EXPECT_FALSE(has(report, "chip-thin"));
  // At the end of the ramp, 1 in 6 but for its start in air: a slot's section, and the bit's own area going down.
  const double slope = 0.7 / 3, front = 12.7 * 12.7 + std::numbers::pi * 6.35 * 6.35 * slope;
  EXPECT_NEAR(load(report)["max_removal_mm3_min"].get<double>() / (front * 3302 / std::hypot(1, slope)), 1, 0.03);
}

TEST(ShopSettings, a_profile_in_three_passes_with_four_tabs) {
  // A part of 10 x 6 in, the bit's centre 1/8 in outside of it; tabs across the grain, 0.31 in long when the bit is
  // through.
  Nc nc(18000, 100, 40);
  const double l = 1.875, r = 12.125, f = 1.875, b = 8.125, tab = 0.28;
  nc.above(l, f);
  for (const double z : {-0.25, -0.5, -0.755}) {
    const bool tabs = z < -0.63;
    nc.to(l + 3, f, z).to(l, f, z).to(r, f);
    const auto side = [&](double x, double from, double to) {
      const double way = to > from ? 1 : -1;
      for (const double at : {from + way * 1.5, to - way * 1.5}) {
        if (tabs)
          nc.to(x, at - way * tab, z)
              .to(x, at - way * tab, -0.63)
              .to(x, at + way * tab, -0.63)
              .to(x, at + way * tab, z);
      }
      nc.to(x, to, z);
    };
    side(r, f, b);
    nc.to(l, b);
    side(l, b, f);
  }
  Shop shop;
  shop.tool =
      "shape = \"flat\"\ndiameter = 0.25\nflute_length = 1\nshank_diameter = 0.25\nstickout = 1.25\nmax_stepdown = "
      "0.26";
  const auto report = checked("profile", shop, nc);
  ASSERT_TRUE(report.is_object());
  EXPECT_FALSE(has(report, "chip-thin"));
  ASSERT_EQ(report["parts"].size(), 1U);
  EXPECT_EQ(report["parts"][0]["tabs"].size(), 4U);
}

// A pocket whose walls the rough pass left 0.010 in too far in; the last four moves are the finishing pass.
Nc finished() {
  Nc nc(18000, 100, 40);
  const double left = 0.010, r = 0.125, deep = -0.25;
  const double lx = 2 + r, hx = 6 - r, ly = 2 + r, hy = 5 - r;
  nc.above(3, 3).to(5, 3, deep).to(3, 3, deep);
  for (double inset = 1.3; inset > left; inset -= 0.1) {
    const double i = std::max(left, inset);
    nc.to(lx + i, ly + i).to(hx - i, ly + i).to(hx - i, hy - i).to(lx + i, hy - i).to(lx + i, ly + i);
  }
  const double i = left;
  nc.to(lx + i, ly + i).to(hx - i, ly + i).to(hx - i, hy - i).to(lx + i, hy - i).to(lx + i, ly + i);
  nc.to((lx + hx) / 2, ly + i).to((lx + hx) / 2, ly).to(hx, ly).to(hx, hy).to(lx, hy).to(lx, ly).to((lx + hx) / 2, ly);
  return nc;
}

TEST(ShopSettings, a_finishing_pass_of_ten_thousandths_shows_its_corners) {
  Shop shop;
  shop.tool =
      "shape = \"flat\"\ndiameter = 0.25\nflute_length = 0.75\nshank_diameter = 0.25\nstickout = 1.25\nmax_stepdown = "
      "0.26";
  const auto report = checked("finishing", shop, finished());
  ASSERT_TRUE(report.is_object());
  EXPECT_FALSE(has(report, "chip-thin"));

  // Into a corner that the same bit left round: r + sqrt(2 r a_e - a_e^2) = 4.42 mm, on the straights 0.254 mm.
  const auto place = writeJob("engagement", shop, finished());
  const testing::Ran answer =
      runCommand("'" PROVECUT_PROGRAM "' export --engagement '" + (place / "job.toml").string() + "' cut.nc");
  std::filesystem::remove_all(place);
  EXPECT_EQ(answer.status, 0);
  std::istringstream lines(answer.out);
  std::vector<std::vector<std::string>> rows;
  for (std::string line; std::getline(lines, line);) {
    rows.emplace_back();
    std::istringstream cells(line);
    for (std::string cell; std::getline(cells, cell, ',');) rows.back().push_back(cell);
  }
  ASSERT_GT(rows.size(), 10U);
  EXPECT_EQ(rows[0][7], "mean_radial_mm");
  EXPECT_EQ(rows[0][8], "max_radial_mm");
  const double corner = 3.175 + std::sqrt(2 * 3.175 * 0.254 - 0.254 * 0.254);
  for (std::size_t k = rows.size() - 6; k < rows.size() - 2;
       ++k) {  // the last is the rapid up, before it the way back to the start
    const double mean = std::stod(rows[k][7]), most = std::stod(rows[k][8]);
    EXPECT_NEAR(most, corner, 0.3) << "row " << k;
    EXPECT_NEAR(mean, 0.254, 0.06) << "row " << k;
    EXPECT_GT(most, 10 * mean) << "row " << k;
  }
}

TEST(ShopSettings, a_slow_single_flute_in_acrylic_is_at_most_a_note) {
  Nc nc(9600, 6, 3);
  nc.above(2, 2).to(3, 2, -0.122).to(2, 2).to(5, 2).to(5, 4).to(2, 4).to(2, 2);
  Shop shop;
  shop.stock = "size = [8, 6, 0.236]\nmaterial = \"acrylic\"";
  shop.flutes = 1;
  shop.tool =
      "shape = \"flat\"\ndiameter = 0.125\nflute_length = 0.5\nshank_diameter = 0.125\nstickout = 0.8\nmax_stepdown = "
      "0.125";
  const auto report = checked("acrylic", shop, nc);
  ASSERT_TRUE(report.is_object());
  EXPECT_TRUE(has(report, "chip-thin"));
}

}  // namespace provecut::samples
