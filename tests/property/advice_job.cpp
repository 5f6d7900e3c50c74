#include "tests/property/advice_job.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

namespace provecut::testing::advice {

namespace {

struct Dice {
  std::mt19937 random;
  double from(double low, double high) {
    return std::round(std::uniform_real_distribution<double>(low, high)(random) * 100) / 100;
  }
  bool one_in(int n) { return std::uniform_int_distribution<int>(1, n)(random) == 1; }
  int of(int n) { return std::uniform_int_distribution<int>(0, n - 1)(random); }
};

Line other(std::string text) {
  Line l;
  l.text = std::move(text);
  return l;
}

Line up(double z) {
  return {"G0", {}, {}, z, {}, {}, {}, {}, 0};
}

Line plunge(double z, double f) {
  return {"G1", {}, {}, z, {}, f, {}, {}, 0};
}

constexpr double thin_spoilboard_mm = 4;

SceneTool randomTool(Dice& dice, int number) {
  SceneTool t;
  t.number = number;
  t.shape = dice.one_in(6) ? "drill" : dice.one_in(3) ? "ball" : "flat";
  t.diameter = dice.one_in(2) ? 6 : 3.175;
  if (t.shape == "ball" && dice.one_in(3)) t.diameter = 0.8;
  if (t.shape == "drill" && dice.one_in(2)) t.diameter = 2;
  t.stickout = dice.one_in(5) ? dice.from(12, 20) : dice.from(22, 40);
  t.flutes_mm = dice.one_in(3) ? dice.from(4, 12) : std::min(20.0, t.stickout);
  t.shank = dice.one_in(4) ? 6 : dice.one_in(4) ? t.diameter * 0.8 : t.diameter;
  if (dice.one_in(2)) t.max_stepdown = dice.from(2, 6);
  if (dice.one_in(2)) t.plunge_feed = dice.from(200, 900);
  if (dice.one_in(3)) t.max_rpm = dice.from(10000, 20000);
  if (dice.one_in(2)) {
    t.chip_low = dice.from(0.01, 0.03);
    t.chip_high = t.chip_low + dice.from(0.02, 0.1);
  }
  return t;
}

SceneHoldDown randomHoldDown(Dice& dice) {
  SceneHoldDown h;
  if (dice.one_in(2)) {
    h.kind = "screw";
    h.x = dice.from(8, 112);
    h.y = dice.one_in(2) ? 8 : 72;
    h.diameter = 9;
    h.top = dice.from(2, 6);
  } else {
    h.kind = "clamp";
    h.x = dice.from(20, 100);
    h.y = dice.one_in(2) ? -5 : 85;
    h.size_x = 20;
    h.size_y = 30;
    h.top = dice.from(8, 25);
  }
  return h;
}

struct Writer {
  Dice& dice;
  AdviceJob& job;

  double x() { return dice.from(2, 118); }
  double y() { return dice.from(2, 78); }
  double feed() {
    return dice.one_in(25) ? dice.from(5, 30) : dice.one_in(5) ? dice.from(3000, 9000) : dice.from(200, 2500);
  }
  double depth() { return dice.one_in(8) ? -job.thickness - dice.from(0, 3) : -dice.from(0.5, job.thickness - 1); }
  double safe() { return dice.from(26, 35); }
  void add(const Line& l) { job.lines.push_back(l); }

  void groove() {
    const double z = depth(), f = feed();
    add({"G0", x(), y(), {}, {}, {}, {}, {}, 0});
    add(dice.one_in(8) ? up(-dice.from(0.5, 3)) : up(dice.one_in(8) ? dice.from(0, 0.05) : dice.from(1, 4)));
    add(plunge(z, dice.one_in(2) ? f : dice.from(100, 500)));
    // A link between two cuts that was to be one, too.
    if (dice.one_in(10)) {
      add({"G1", x(), y(), {}, {}, f, {}, {}, 0});
      add({"G0", x(), y(), {}, {}, {}, {}, {}, 0});
    }
    for (int i = dice.of(3); i >= 0; --i) add({"G1", x(), y(), {}, {}, f, {}, {}, 0});
    if (!dice.one_in(6)) add(up(safe()));
  }
  // Back along its own groove by a rapid that brushes the bottom.
  void graze() {
    const double from = x(), to = x(), level = y(), z = -dice.from(1, 4), f = feed();
    add(up(safe()));
    add({"G0", from, level, {}, {}, {}, {}, {}, 0});
    add(up(dice.from(1, 4)));
    add(plunge(z, f));
    add({"G1", to, {}, {}, {}, f, {}, {}, 0});
    add({"G0", from, {}, z - dice.from(0.02, 0.1), {}, {}, {}, {}, 0});
    add(up(safe()));
  }
  void cutAt(double z, double plunge_feed, const Line& across) {
    add(up(safe()));
    add({"G0", x(), y(), {}, {}, {}, {}, {}, 0});
    add(up(dice.from(1, 4)));
    add(plunge(z, plunge_feed));
    add(across);
    add(up(safe()));
  }
  // A groove a little deeper than the flutes of the bit are long.
  void brush(double flutes_mm) {
    const double z = -std::min(flutes_mm + dice.from(0.05, 0.45), job.thickness - 2);
    cutAt(z, dice.from(100, 500), {"G1", x(), y(), {}, {}, feed(), {}, {}, 0});
  }
  // Through the spoilboard.
  void intoBed() {
    const double z = -job.thickness - job.spoilboard - dice.from(0.1, 2);
    cutAt(z, dice.from(100, 500), {"G1", x(), y(), {}, {}, feed(), {}, {}, 0});
  }
  // A slit that was to go through.
  void slit() {
    const double f = feed();
    cutAt(-job.thickness + dice.from(0.05, 0.15), f, {"G1", x(), {}, {}, {}, f, {}, {}, 0});
  }
  // Rapids that come down on their way, or cross low.
  void lowRapids() {
    if (dice.one_in(2)) add(up(dice.one_in(2) ? dice.from(-2, 4) : safe()));
    for (int i = dice.of(2); i >= 0; --i) {
      Line l{"G0", x(), y(), {}, {}, {}, {}, {}, 0};
      if (dice.one_in(2)) l.z = dice.from(-4, 8);
      add(l);
    }
    add(up(safe()));
  }
  void cycle() {
    add(up(dice.one_in(3) ? dice.from(1, 8) : safe()));
    add(other(dice.one_in(2) ? "G98" : "G99"));
    add({"G81", x(), y(), -dice.from(1, job.thickness - 1), dice.from(-1, 4), dice.from(100, 600), {}, {}, 0});
    for (int i = dice.of(3); i >= 0; --i) add({"", x(), y(), {}, {}, {}, {}, {}, 0});
    add(other("G80"));
    add(up(safe()));
  }
};

std::string written(double v) {
  return fmt::format("{}", std::round(v * 1000) / 1000);
}

void put(std::string& text, char letter, const std::optional<double>& v) {
  if (v) text += (text.empty() ? "" : " ") + std::string(1, letter) + written(*v);
}

// Heights are told rounded up.
double typed(double z) {
  return std::ceil(z * 1000 - 1e-6) / 1000;
}

double zBefore(const std::vector<Line>& lines, std::size_t at) {
  for (std::size_t i = at; i-- > 0;) {
    if (lines[i].z && (lines[i].code == "G0" || lines[i].code == "G1")) return *lines[i].z;
  }
  return -1e9;
}

bool wanted(const std::set<std::uint32_t>& numbers, const Line& line) {
  return numbers.contains(line.number);
}

void followTool(const Line& line, int& tool) {
  int number = 0;
  if (std::sscanf(line.text.c_str(), "T%d M6", &number) == 1) tool = number;
}

constexpr double highest_plunge_mm_per_min = 500;  // nobody would take a faster one for the plunge feed

// "The plunge feed": the job's for the tool, else the fastest that the program plunges with.
struct PlungeFeeds {
  explicit PlungeFeeds(const AdviceJob& job) {
    int tool = 0;
    for (const Line& l : job.lines) {
      followTool(l, tool);
      if (!l.f || !(l.r || (l.code == "G1" && l.z && !l.names_sideways()))) continue;
      const auto [at, first] = by_tool.emplace(tool, *l.f);
      at->second = std::min(at->second, *l.f);
    }
    for (const SceneTool& t : job.tools) {
      if (t.plunge_feed > 0) by_tool[t.number] = t.plunge_feed;
    }
  }
  double of(int tool) const {
    const auto at = by_tool.find(tool);
    return at == by_tool.end() ? 150 : std::min(at->second, highest_plunge_mm_per_min);
  }
  std::map<int, double> by_tool;
};

// Up before, across at that height, and down after: by a rapid, or feeding where the rapid would cut.
void crossAt(AdviceJob& job, const std::set<std::uint32_t>& numbers, double z, bool feed_down) {
  const PlungeFeeds feeds(job);
  int tool = 0;
  const std::vector<Line> lines = job.lines;
  job.lines.clear();
  double now = -1e9;
  for (std::size_t i = 0; i < lines.size(); ++i) {
    Line l = lines[i];
    followTool(l, tool);
    const bool rapid = l.code == "G0" && l.names_sideways();
    if (!rapid && l.code != "" && wanted(numbers, l) && now < z) job.lines.push_back(up(now = z));
    if (!wanted(numbers, l) || !rapid) {
      if (l.z && (l.code == "G0" || l.code == "G1")) now = *l.z;
      job.lines.push_back(l);
      continue;
    }
    const double end = l.z ? *l.z : zBefore(lines, i);
    if (now < z) job.lines.push_back(up(now = z));
    if (end >= z) {
      now = end;
      job.lines.push_back(l);
      continue;
    }
    l.z.reset();
    job.lines.push_back(l);
    const bool next_lifted = i + 1 < lines.size() && wanted(numbers, lines[i + 1]) && lines[i + 1].names_sideways();
    const bool next_names = i + 1 < lines.size() && lines[i + 1].z && !lines[i + 1].names_sideways();
    if (next_lifted || end < -1e8 || (next_names && (!lines[i].z || *lines[i + 1].z > end))) continue;
    job.lines.push_back(feed_down ? plunge(end, feeds.of(tool)) : up(end));
    now = end;
  }
}

// Where a feed straight down follows, it does the rest of the way.
void endRapidAt(AdviceJob& job, const std::set<std::uint32_t>& numbers, double z, const PlungeFeeds& feeds) {
  std::vector<Line> lines;
  int tool = 0;
  for (std::size_t i = 0; i < job.lines.size(); ++i) {
    const Line& l = job.lines[i];
    followTool(l, tool);
    if (!wanted(numbers, l) || l.code != "G0" || !l.z || l.names_sideways()) {
      lines.push_back(l);
      continue;
    }
    lines.push_back(up(z));
    const Line& next = job.lines[i + 1];
    const bool feeds_on = next.code == "G1" && next.z && !next.names_sideways() && *next.z <= *l.z;
    if (!feeds_on) lines.push_back(plunge(*l.z, feeds.of(tool)));
  }
  job.lines = lines;
}

void raiseR(AdviceJob& job, const std::set<std::uint32_t>& numbers, double z) {
  Line* cycle = nullptr;
  for (std::size_t i = 0; i < job.lines.size(); ++i) {
    if (job.lines[i].code == "G81") cycle = &job.lines[i];
    if (job.lines[i].text == "G80") cycle = nullptr;
    if (cycle != nullptr && wanted(numbers, job.lines[i])) cycle->r = std::max(*cycle->r, z);
  }
}

void retractBefore(AdviceJob& job, const std::set<std::uint32_t>& numbers, double z) {
  std::vector<Line> lines;
  for (std::size_t i = 0; i < job.lines.size(); ++i) {
    if (wanted(numbers, job.lines[i])) lines.push_back(up(z));
    lines.push_back(job.lines[i]);
  }
  job.lines = lines;
}

// Every run of feed moves after a plunge in as many passes as it takes.
void inPasses(AdviceJob& job, int of_tool, double max_step) {
  std::vector<Line> lines;
  int tool = 0;
  double x = 0, y = 0, highest = 0;
  for (const Line& l : job.lines) highest = std::max(highest, l.z.value_or(0));
  for (std::size_t i = 0; i < job.lines.size(); ++i) {
    Line l = job.lines[i];
    followTool(l, tool);
    const bool meant = tool == of_tool;
    if (meant && l.code == "G81") {
      l.code = "G83";
      l.q = max_step;
    }
    const bool down = meant && l.code == "G1" && l.z && !l.names_sideways();
    if (!down) {
      if (l.x) x = *l.x;
      if (l.y) y = *l.y;
      lines.push_back(l);
      continue;
    }
    std::size_t end = i + 1;
    while (end < job.lines.size() && job.lines[end].names_sideways() && !job.lines[end].z &&
           (job.lines[end].code == "G1" || job.lines[end].code == "G0"))
      ++end;
    while (job.lines[end - 1].code == "G0") --end;
    const double depth = -*l.z;
    const int passes = std::max(1, static_cast<int>(std::ceil(depth / max_step - 1e-9)));
    for (int pass = 1; pass <= passes; ++pass) {
      lines.push_back(plunge(-depth * pass / passes, *l.f));
      lines.insert(lines.end(), job.lines.begin() + static_cast<std::ptrdiff_t>(i) + 1,
                   job.lines.begin() + static_cast<std::ptrdiff_t>(end));
      if (pass == passes) break;
      lines.push_back(up(highest));
      lines.push_back({"G0", x, y, {}, {}, {}, {}, {}, 0});
      lines.push_back(up(1 - depth * (pass - 1) / passes));
    }
    if (lines.back().x) {
      x = *lines.back().x;
      y = *lines.back().y;
    }
    i = end - 1;
  }
  job.lines = lines;
}

void setSpeed(AdviceJob& job, int tool, double rpm) {
  int now = 0;
  for (Line& l : job.lines) {
    double s = 0;
    followTool(l, now);
    if (std::sscanf(l.text.c_str(), "M3 S%lf", &s) == 1 && now == tool) l.text = "M3 S" + written(rpm);
  }
}

void scaleFeeds(AdviceJob& job, int tool, double share) {
  int now = 0;
  for (Line& l : job.lines) {
    followTool(l, now);
    if (now == tool && l.f) *l.f *= share;
  }
}

void noDeeper(AdviceJob& job, int tool, double z) {
  int now = 0;
  for (Line& l : job.lines) {
    followTool(l, now);
    if (tool != 0 && now != tool) continue;
    if (l.z) l.z = std::max(*l.z, z);
    if (l.r) l.r = std::max(*l.r, z);
  }
}

// The height of a level move stands on the line that went down to it.
void deeperTo(AdviceJob& job, const std::set<std::uint32_t>& numbers, double z) {
  Line* down = nullptr;
  for (Line& l : job.lines) {
    if (l.z) down = &l;
    if (wanted(numbers, l) && down != nullptr) down->z = z;
  }
}

void feedThere(AdviceJob& job, const std::set<std::uint32_t>& numbers, double feed) {
  for (Line& l : job.lines) {
    if (!wanted(numbers, l)) continue;
    l.code = "G1";
    l.f = feed;
  }
}

void peck(AdviceJob& job, int tool, double q) {
  int now = 0;
  for (Line& l : job.lines) {
    followTool(l, now);
    if (l.code != "G81" || now != tool) continue;
    l.code = "G83";
    l.q = q;
  }
}

// Of these lines, on the first of each run of them at the latest; that of a cycle stands on its first.
void setFeed(AdviceJob& job, const std::set<std::uint32_t>& numbers, double feed) {
  Line* cycle = nullptr;
  bool in_run = false;
  for (Line& l : job.lines) {
    if (l.r) cycle = &l;
    const bool begins = !in_run;
    in_run = wanted(numbers, l);
    if (!in_run) continue;
    if (l.f || (begins && l.code == "G1")) l.f = feed;
    if (l.code.empty() && l.text.empty() && cycle != nullptr) cycle->f = feed;
  }
}

SceneTool& tool(AdviceJob& job, int number) {
  return *std::find_if(job.tools.begin(), job.tools.end(), [&](const SceneTool& t) { return t.number == number; });
}

void apply(AdviceJob& job, const Finding& finding, const AdvisedChange& c) {
  std::set<std::uint32_t> numbers(c.lines.begin(), c.lines.end());
  if (c.lines.empty()) {
    for (const LineSpan& s : finding.lines) {
      for (std::uint32_t n = s.first; n <= s.last; ++n) numbers.insert(n);
    }
  }
  switch (c.kind) {
    case ChangeKind::cross_at:
      return crossAt(job, numbers, typed(c.value), finding.help.find("plunge feed") != std::string::npos);
    case ChangeKind::end_rapid_at:
      return endRapidAt(job, numbers, typed(c.value), PlungeFeeds(job));
    case ChangeKind::cycle_r:
      return raiseR(job, numbers, typed(c.value));
    case ChangeKind::retract_before:
      return retractBefore(job, numbers, typed(c.value));
    case ChangeKind::lowest_z:
      return noDeeper(job, c.tool, typed(c.value));
    case ChangeKind::down_to:
      return deeperTo(job, numbers, c.value);
    case ChangeKind::feed_there:
      return feedThere(job, numbers, c.value);
    case ChangeKind::peck:
      return peck(job, c.tool, c.value);
    case ChangeKind::feeds_share:
      return scaleFeeds(job, c.tool, c.value);
    case ChangeKind::stickout:
      tool(job, c.tool).stickout = c.value;
      return;
    case ChangeKind::flute_length:
      tool(job, c.tool).flutes_mm = typed(c.value);
      return;
    case ChangeKind::zero_x:
      job.zero_in_machine->x = c.value;
      return;
    case ChangeKind::zero_y:
      job.zero_in_machine->y = c.value;
      return;
    case ChangeKind::zero_z:
      job.zero_in_machine->z = c.value;
      return;
    case ChangeKind::stepdown:
      return inPasses(job, c.tool, std::floor(c.value * 1000) / 1000);
    case ChangeKind::speed:
      return setSpeed(job, c.tool, c.value);
    case ChangeKind::feed:
    case ChangeKind::plunge_feed:
      return setFeed(job, numbers, std::floor(c.value * 1000) / 1000);
    case ChangeKind::hold_down_at:
      job.hold_downs[static_cast<std::size_t>(c.hold_down)].x = c.at.x;
      job.hold_downs[static_cast<std::size_t>(c.hold_down)].y = c.at.y;
      return;
    case ChangeKind::hold_down_off:
      job.hold_downs[static_cast<std::size_t>(c.hold_down)].fitted = false;
      return;
    case ChangeKind::allowed_cut:
      job.allowed_cut = typed(c.value);
      return;
  }
}

}  // namespace

AdviceJob randomJob(unsigned seed) {
  Dice dice{std::mt19937(seed)};
  AdviceJob job;
  job.thickness = dice.from(6, 20);
  job.clearance = dice.from(0, 5);
  job.allowed_cut = dice.from(0, 1);
  if (dice.one_in(5)) {
    job.spoilboard = dice.from(1, thin_spoilboard_mm);
    job.allowed_cut = std::min(job.allowed_cut, job.spoilboard);
  }
  if (dice.one_in(3)) job.spindle_power_w = dice.from(30, 300);
  if (dice.one_in(4)) job.zero_in_machine = Vec3{-dice.from(60, 700), -dice.from(60, 700), -dice.from(30, 110)};
  if (dice.one_in(4)) job.attachment_bottom = -dice.from(20, 45);
  for (int n = 1; n <= 2; ++n) job.tools.push_back(randomTool(dice, n));
  for (int i = dice.of(4); i >= 0; --i) job.hold_downs.push_back(randomHoldDown(dice));
  Writer w{dice, job};
  w.add(other("G21 G90 G17 G94 G54"));
  for (int n = 1; n <= 2; ++n) {
    w.add(other(fmt::format("T{} M6", n)));
    w.add(other(fmt::format("M3 S{}", 1000 * (4 + dice.of(24)))));
    w.add(other("G4 P5"));
    if (!dice.one_in(6)) w.add(up(w.safe()));
    if (!dice.one_in(6)) w.add({"G0", w.x(), w.y(), {}, {}, {}, {}, {}, 0});
    const bool drill = job.tools[static_cast<std::size_t>(n) - 1].shape == "drill";
    for (int i = dice.of(3); i >= 0; --i) {
      const int what = dice.of(24);
      const double flutes_mm = job.tools[static_cast<std::size_t>(n) - 1].flutes_mm;
      if (what < 4) {
        w.lowRapids();
      } else if (drill || what < 8) {
        w.cycle();
      } else if (what == 8 && job.spoilboard <= thin_spoilboard_mm) {
        w.intoBed();
      } else {
        what < 11 ? w.graze() : what < 13 ? w.slit() : what == 13 ? w.brush(flutes_mm) : w.groove();
      }
    }
    w.add(up(w.safe()));
    drill ? w.cycle() : w.groove();
  }
  w.add(up(35));
  w.add(other("M5"));
  w.add(other("M30"));
  return job;
}

std::string programText(const AdviceJob& job) {
  std::string text;
  for (const Line& l : job.lines) {
    std::string line = l.text.empty() ? l.code : l.text;
    put(line, 'X', l.x);
    put(line, 'Y', l.y);
    put(line, 'Z', l.z);
    put(line, 'R', l.r);
    put(line, 'Q', l.q);
    put(line, 'F', l.f);
    text += line + "\n";
  }
  return text;
}

std::string jobText(const AdviceJob& job) {
  std::string text = fmt::format(
      "version = 1\n[stock]\nsize = [120, 80, {}]\nmaterial = \"hardwood\"\n[spoilboard]\nthickness = {}\n"
      "allowed_cut = {}\n[limits]\nclearance = {}\n[machine]\nspindle_rpm = [{}, {}]\nmax_rate = [{}, {}, {}]\n"
      "travel = [800, 800, 200]\n",
      job.thickness, job.spoilboard, job.allowed_cut, job.clearance, job.rpm_min, job.rpm_max, job.rate, job.rate,
      job.rate_z);
  if (job.spindle_power_w > 0) text += fmt::format("spindle_power_w = {}\n", job.spindle_power_w);
  if (job.attachment_bottom < 0) {
    text += fmt::format("[[spindle_attachment]]\nname = \"dust shoe\"\ndiameter = 40\nbottom = {}\ntop = 10\n",
                        job.attachment_bottom);
  }
  for (const SceneTool& t : job.tools) {
    text += fmt::format(
        "[[tool]]\nnumber = {}\nname = \"bit {}\"\nshape = \"{}\"\ndiameter = {}\nflutes = 2\nflute_length = {}\n"
        "shank_diameter = {}\nstickout = {}\n",
        t.number, t.number, t.shape, t.diameter, t.flutes_mm, t.shank, t.stickout);
    if (t.shape == "drill") text += "angle = 118\n";
    if (t.max_stepdown > 0) text += fmt::format("max_stepdown = {}\n", t.max_stepdown);
    if (t.plunge_feed > 0) text += fmt::format("plunge_feed = {}\n", t.plunge_feed);
    if (t.max_rpm > 0) text += fmt::format("max_rpm = {}\n", t.max_rpm);
    if (t.chip_high > 0) text += fmt::format("chip_load = [{}, {}]\n", t.chip_low, t.chip_high);
  }
  std::string fitted;
  for (std::size_t i = 0; i < job.hold_downs.size(); ++i) {
    const SceneHoldDown& h = job.hold_downs[i];
    if (!h.fitted) continue;
    text += fmt::format("[[hold_down]]\nname = \"H{}\"\nkind = \"{}\"\nat = [{}, {}]\ntop = {}\n", i, h.kind, h.x, h.y,
                        h.top);
    text += h.diameter > 0 ? fmt::format("diameter = {}\n", h.diameter)
                           : fmt::format("size = [{}, {}]\n", h.size_x, h.size_y);
    fitted += fmt::format("{}\"H{}\"", fitted.empty() ? "" : ", ", i);
  }
  return text + "[[setup]]\nname = \"front\"\nzero = [\"left\", \"front\", \"top\"]\n" +
         fmt::format("hold_downs = [{}]\n{}[[setup.program]]\nfile = \"a.nc\"\n", fitted,
                     job.zero_in_machine ? fmt::format("zero_in_machine = [{}, {}, {}]\n", job.zero_in_machine->x,
                                                       job.zero_in_machine->y, job.zero_in_machine->z)
                                         : "");
}

AdviceJob followed(const AdviceJob& job, const Finding& finding, const std::vector<AdvisedChange>& way) {
  AdviceJob after = job;
  for (std::size_t i = 0; i < after.lines.size(); ++i) after.lines[i].number = static_cast<std::uint32_t>(i + 1);
  for (const AdvisedChange& c : way) apply(after, finding, c);
  return after;
}

}  // namespace provecut::testing::advice
