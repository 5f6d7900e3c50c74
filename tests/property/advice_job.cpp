#include "tests/property/advice_job.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
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

SceneTool randomTool(Dice& dice, int number) {
  SceneTool t;
  t.number = number;
  t.shape = dice.one_in(3) ? "ball" : "flat";
  t.diameter = dice.one_in(2) ? 6 : 3.175;
  t.stickout = dice.from(22, 40);
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
  double feed() { return dice.one_in(5) ? dice.from(3000, 9000) : dice.from(200, 2500); }
  double depth() { return dice.one_in(8) ? -job.thickness - dice.from(0, 3) : -dice.from(0.5, job.thickness - 1); }
  double safe() { return dice.from(26, 35); }
  void add(const Line& l) { job.lines.push_back(l); }

  void groove() {
    const double z = depth(), f = feed();
    add({"G0", x(), y(), {}, {}, {}, {}, {}, 0});
    add(dice.one_in(8) ? up(-dice.from(0.5, 3)) : up(dice.from(1, 4)));
    add(plunge(z, dice.one_in(2) ? f : dice.from(100, 500)));
    for (int i = dice.of(3); i >= 0; --i) add({"G1", x(), y(), {}, {}, f, {}, {}, 0});
    if (!dice.one_in(6)) add(up(safe()));
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

// Up before, across at that height, and down after: by a rapid, or feeding where the rapid would cut.
void crossAt(AdviceJob& job, const std::set<std::uint32_t>& numbers, double z, bool feed_down) {
  const std::vector<Line> lines = job.lines;
  job.lines.clear();
  double now = -1e9;
  for (std::size_t i = 0; i < lines.size(); ++i) {
    Line l = lines[i];
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
    job.lines.push_back(feed_down ? plunge(end, 150) : up(end));
    now = end;
  }
}

void endRapidAt(AdviceJob& job, const std::set<std::uint32_t>& numbers, double z) {
  std::vector<Line> lines;
  for (std::size_t i = 0; i < job.lines.size(); ++i) {
    const Line& l = job.lines[i];
    if (wanted(numbers, l) && l.code == "G0" && l.z && !l.names_sideways()) {
      lines.push_back(up(z));
      lines.push_back(plunge(*l.z, 150));
    } else {
      lines.push_back(l);
    }
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
void inPasses(AdviceJob& job, double max_step) {
  std::vector<Line> lines;
  double x = 0, y = 0;
  for (std::size_t i = 0; i < job.lines.size(); ++i) {
    Line l = job.lines[i];
    if (l.code == "G81") {
      l.code = "G83";
      l.q = max_step;
    }
    const bool down = l.code == "G1" && l.z && !l.names_sideways();
    if (!down) {
      if (l.x) x = *l.x;
      if (l.y) y = *l.y;
      lines.push_back(l);
      continue;
    }
    std::size_t end = i + 1;
    while (end < job.lines.size() && job.lines[end].code == "G1" && job.lines[end].names_sideways()) ++end;
    const double depth = -*l.z;
    const int passes = std::max(1, static_cast<int>(std::ceil(depth / max_step - 1e-9)));
    for (int pass = 1; pass <= passes; ++pass) {
      lines.push_back(plunge(-depth * pass / passes, *l.f));
      lines.insert(lines.end(), job.lines.begin() + static_cast<std::ptrdiff_t>(i) + 1,
                   job.lines.begin() + static_cast<std::ptrdiff_t>(end));
      if (pass == passes) break;
      lines.push_back(up(80));
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

// S of the tool, and where `feeds` its F in proportion.
void setSpeed(AdviceJob& job, int tool, double rpm, bool feeds) {
  int now = 0;
  double share = 1;
  for (Line& l : job.lines) {
    int number = 0;
    double s = 0;
    if (std::sscanf(l.text.c_str(), "T%d M6", &number) == 1) now = number;
    if (std::sscanf(l.text.c_str(), "M3 S%lf", &s) == 1 && now == tool) {
      share = rpm / s;
      l.text = "M3 S" + written(rpm);
    }
    // To match, as far as the machine goes.
    if (feeds && now == tool && l.f) *l.f = std::min(*l.f * share, std::max(*l.f, job.rate_z));
  }
}

// Of these lines; that of a cycle stands on its first.
void setFeed(AdviceJob& job, const std::set<std::uint32_t>& numbers, double feed) {
  Line* cycle = nullptr;
  for (Line& l : job.lines) {
    if (l.r) cycle = &l;
    if (!wanted(numbers, l)) continue;
    if (l.f) l.f = feed;
    if (l.code.empty() && l.text.empty() && cycle != nullptr) cycle->f = feed;
  }
}

void apply(AdviceJob& job, const Finding& finding, const AdvisedChange& c) {
  std::set<std::uint32_t> numbers(c.lines.begin(), c.lines.end());
  if (c.lines.empty()) {
    for (const LineSpan& s : finding.lines) {
      for (std::uint32_t n = s.first; n <= s.last; ++n) numbers.insert(n);
    }
  }
  const bool to_match = finding.help.find("to match") != std::string::npos;
  switch (c.kind) {
    case ChangeKind::cross_at:
      return crossAt(job, numbers, typed(c.value), finding.rule == "rapid-in-stock");
    case ChangeKind::end_rapid_at:
      return endRapidAt(job, numbers, typed(c.value));
    case ChangeKind::cycle_r:
      return raiseR(job, numbers, typed(c.value));
    case ChangeKind::retract_before:
      return retractBefore(job, numbers, typed(c.value));
    case ChangeKind::lowest_z:
      for (Line& l : job.lines) {
        if (l.z) l.z = std::max(*l.z, typed(c.value));
      }
      return;
    case ChangeKind::stepdown:
      return inPasses(job, c.value);
    case ChangeKind::speed:
      return setSpeed(job, c.tool, c.value, to_match);
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
    for (int i = dice.of(3); i >= 0; --i) {
      const int what = dice.of(4);
      what == 0 ? w.lowRapids() : what == 1 ? w.cycle() : w.groove();
    }
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
      "version = 1\n[stock]\nsize = [120, 80, {}]\nmaterial = \"plywood\"\n[spoilboard]\nthickness = 18\n"
      "allowed_cut = {}\n[limits]\nclearance = {}\n[machine]\nspindle_rpm = [{}, {}]\nmax_rate = [{}, {}, {}]\n"
      "travel = [800, 800, 200]\n",
      job.thickness, job.allowed_cut, job.clearance, job.rpm_min, job.rpm_max, job.rate, job.rate, job.rate_z);
  if (job.attachment_bottom < 0) {
    text += fmt::format("[[spindle_attachment]]\nname = \"dust shoe\"\ndiameter = 40\nbottom = {}\ntop = 10\n",
                        job.attachment_bottom);
  }
  for (const SceneTool& t : job.tools) {
    text += fmt::format(
        "[[tool]]\nnumber = {}\nname = \"bit {}\"\nshape = \"{}\"\ndiameter = {}\nflutes = 2\nflute_length = "
        "20\nshank_diameter = {}\n"
        "stickout = {}\n",
        t.number, t.number, t.shape, t.diameter, t.diameter, t.stickout);
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
         fmt::format("hold_downs = [{}]\n[[setup.program]]\nfile = \"a.nc\"\n", fitted);
}

AdviceJob followed(const AdviceJob& job, const Finding& finding, const std::vector<AdvisedChange>& way) {
  AdviceJob after = job;
  for (std::size_t i = 0; i < after.lines.size(); ++i) after.lines[i].number = static_cast<std::uint32_t>(i + 1);
  for (const AdvisedChange& c : way) apply(after, finding, c);
  return after;
}

}  // namespace provecut::testing::advice
