#include "report/formats/paper/sheet_page.h"

#include <algorithm>
#include <chrono>
#include <cmath>
#include <ctime>
#include <filesystem>
#include <ostream>
#include <set>
#include <string_view>
#include <system_error>

#include "parser/job/job_words.h"
#include "report/base/visible_text.h"
#include "report/base/wording.h"
#include "report/facts/setup_steps.h"
#include "report/formats/base/digest.h"
#include "report/formats/base/html_text.h"
#include "report/formats/base/table.h"
#include "report/formats/drawing/sheet_drawing.h"
#include "sim/path/setup_frame.h"

namespace provecut {

namespace {

constexpr std::size_t max_findings =
    5;  // stops are all told; with more to look at, the sheet of a setup no longer fits on two pages

constexpr std::string_view style = R"(<style>
@page { margin: 9mm 12mm; }
* { box-sizing: border-box; }
html { color-scheme: light; }
body { font: 10.5pt/1.3 "DejaVu Sans", Verdana, system-ui, sans-serif; color: #111; background: #fff; margin: 0 auto; max-width: 186mm; padding: 8px; }
section { break-before: page; }
section:first-of-type { break-before: auto; }
header { display: flex; justify-content: space-between; align-items: flex-end; gap: 6mm; border-bottom: 2.5px solid #111; padding-bottom: 1.5mm; margin-bottom: 2.5mm; }
h1 { font-size: 17pt; line-height: 1.15; margin: 0; overflow-wrap: anywhere; }
h2 { font-size: 11.5pt; margin: 2.5mm 0 0.5mm; }
header p { margin: 0; text-align: right; }
p { margin: 1mm 0; }
.verdict { border: 2px solid #111; border-left-width: 8px; padding: 0.8mm 3mm; margin: 2mm 0; font-weight: bold; break-inside: avoid; }
.verdict.stop { border-color: #d55e00; background: #fdf0e6; }
.verdict.look { border-color: #e69f00; background: #fdf6e6; }
svg { display: block; max-width: 100%; height: auto; margin: 1mm 0; break-inside: avoid; }
table { border-collapse: collapse; width: 100%; font-variant-numeric: tabular-nums; }
th, td { text-align: left; vertical-align: top; padding: 0.35mm 1.6mm; border-bottom: 0.6px solid #999; font-size: 10pt; overflow-wrap: anywhere; }
thead th { border-bottom: 1.5px solid #111; font-size: 10pt; overflow-wrap: normal; }
tr { break-inside: avoid; }
caption { text-align: left; font-size: 10pt; padding: 0 1.6mm; }
thead { display: table-header-group; }
td.n, th.n { text-align: right; white-space: nowrap; }
td.k { white-space: nowrap; overflow-wrap: normal; }
.steps td { font-size: 10.5pt; }
.steps td.box { width: 8mm; }
.box i, .todo i { display: inline-block; width: 3.8mm; height: 3.8mm; border: 1.4px solid #111; border-radius: 0.6mm; vertical-align: -0.7mm; }
.steps tr.run td { background: #eef1f3; font-weight: bold; border-bottom: 1.5px solid #111; print-color-adjust: exact; -webkit-print-color-adjust: exact; }
.steps .small { font-weight: normal; font-size: 10pt; display: block; }
.again { font-weight: bold; }
.mono { font-family: "DejaVu Sans Mono", monospace; font-size: 10pt; }
ul { margin: 1mm 0; padding-left: 0; list-style: none; }
li { margin: 0.4mm 0; padding-left: 7mm; text-indent: -7mm; break-inside: avoid; font-size: 10pt; line-height: 1.22; }
li.todo i { text-indent: 0; margin-right: 2.4mm; }
.sign { display: flex; gap: 8mm; margin-top: 3mm; break-inside: avoid; }
.sign span { flex: 1; border-bottom: 1px solid #111; padding-bottom: 5mm; font-size: 10pt; }
.cautions { border-top: 2.5px solid #111; margin-top: 3mm; padding-top: 1mm; font-size: 10pt; break-inside: avoid; }
h2 { break-after: avoid; }
@media screen { section { margin-bottom: 12mm; } }
</style>
</head>
<body>
)";

std::string text(std::string_view t) {
  return escapeHtml(t);
}

std::string lengthOnly(const Job& job, double mm) {
  return shortNumber(job.inches ? mm / 25.4 : mm, job.inches ? 4 : 3);
}
std::string lengthUnit(const Job& job, double mm) {
  return lengthOnly(job, mm) + (job.inches ? " in" : " mm");
}

std::string range(double low, double high, int decimals = 0) {
  if (!(high > 0)) return {};
  const std::string a = shortNumber(low, decimals), b = shortNumber(high, decimals);
  return a == b ? a : a + " to " + b;
}

// "left edge", "middle", "12 mm from the left edge"
std::string zeroText(const Job& job, double at, double size, std::string_view low, std::string_view high) {
  if (std::fabs(at) < 1e-6) return std::string(low) + " edge";
  if (std::fabs(at - size) < 1e-6) return std::string(high) + " edge";
  if (std::fabs(at - size / 2) < 1e-6) return "the middle";
  return lengthUnit(job, at) + " from the " + std::string(low) + " edge";
}

std::string zeroHeightText(const Job& job, const Setup& setup, double thickness) {
  const double z = setup.zero_mm.z;
  if (std::fabs(z - thickness) < 1e-6) return "top of the stock";
  if (std::fabs(z) < 1e-6) return setup.lift_mm > 0 ? "underside of the stock" : "spoilboard (underside of the stock)";
  return lengthUnit(job, z) + " above the stock's underside";
}

std::string turnText(const Setup& setup) {
  std::string t;
  switch (setup.flip) {
    case Flip::none:
      t = "face up, as in the job file";
      break;
    case Flip::left_right:
      t = "turned over sideways, left to right";
      break;
    case Flip::front_back:
      t = "turned over front to back";
      break;
  }
  if (setup.rotate_deg != 0)
    t += ", then " + std::to_string(setup.rotate_deg) + " degrees counter-clockwise seen from above";
  return t;
}

class Sheet {
 public:
  Sheet(const Report& report, std::span<const ProgramFile> files, std::ostream& out)
      : report_(report), facts_(*report.facts), job_(facts_.job), files_(files), out_(out) {}

  void write() {
    const std::string name = job_.name.empty() ? job_.file : job_.name;
    out_ << static_page_head << "<title>" << text(name) << ": setup sheet</title>\n" << style << "<main>\n";
    for (std::size_t s = 0; s < job_.setups.size(); ++s) writeSetup(name, s);
    out_ << "</main>\n</body>\n</html>\n";
  }

 private:
  void writeSetup(const std::string& name, std::size_t s) {
    const Setup& setup = job_.setups[s];
    const std::vector<SetupStep> steps = setupSteps(facts_, s);
    out_ << "<section>\n<header><h1>" << text(name) << "<br>Setup " << s + 1 << " of " << job_.setups.size() << ": "
         << text(setup.name) << "</h1><p>" << timeOf(steps) << "<br>planned here</p></header>\n";
    writeVerdict();
    writeLie(setup);
    out_ << setupDrawing(facts_, s);
    writeHoldDowns(steps);
    writeSteps(steps, s > 0);
    writeTools(steps);
    writeFiles(steps);
    writeWatch(steps, s);
    out_ << "<div class=\"sign\"><span>Set up by</span><span>Date</span><span>Programs as above</span></div>\n";
    writeCautions();
    out_ << "</section>\n";
  }

  std::string timeOf(const std::vector<SetupStep>& steps) const {
    double seconds = 0;
    for (const SetupStep& step : steps) seconds += facts_.run.programs[step.program].time.total_s();
    return durationText(seconds);
  }

  void writeVerdict() {
    std::string words;
    switch (report_.verdict) {
      case Verdict::stop:
        words = "STOP: do not run this job as it is. What was found stands below.";
        break;
      case Verdict::look:
        words = "LOOK: read what was found below before running.";
        break;
      case Verdict::note:
      case Verdict::clear:
        words = "Checked: nothing was found that speaks against running this job.";
        break;
    }
    out_ << "<p class=\"verdict " << verdictName(report_.verdict) << "\">" << words << "</p>\n";
    for (const std::string& what : report_.not_checked)
      out_ << "<p><strong>Not checked:</strong> " << text(what) << "</p>\n";
  }

  void writeLie(const Setup& setup) {
    const Vec3 size = stockSizeInSetup(job_.stock, setup);
    out_ << "<table>\n<tr><th scope=\"row\">Stock</th><td>"
         << (job_.stock.material_given
                 ? std::string(job_.stock.material == Material::mdf ? "MDF" : wordOf(job_.stock.material)) + ", "
                 : "")
         << text(lengthOnly(job_, size.x) + " x " + lengthOnly(job_, size.y) + " x " + lengthUnit(job_, size.z))
         << (job_.stock.thickness_tolerance_mm > 0
                 ? " thick within " + lengthUnit(job_, job_.stock.thickness_tolerance_mm)
                 : "")
         << "</td></tr>\n"
         << "<tr><th scope=\"row\">Lies</th><td>" << turnText(setup)
         << (setup.lift_mm > 0 ? ", " + lengthUnit(job_, setup.lift_mm) + " above the spoilboard"
                               : ", on the spoilboard")
         << " (" << lengthUnit(job_, job_.spoilboard.thickness_mm) << " thick)</td></tr>\n"
         << "<tr><th scope=\"row\">Zero</th><td>X: " << zeroText(job_, setup.zero_mm.x, size.x, "left", "right")
         << "; Y: " << zeroText(job_, setup.zero_mm.y, size.y, "front", "back") << "; Z: <strong>"
         << zeroHeightText(job_, setup, size.z) << "</strong></td></tr>\n</table>\n";
  }

  void writeHoldDowns(const std::vector<SetupStep>& steps) {
    std::set<int> all;
    for (const SetupStep& step : steps) all.insert(step.fit.begin(), step.fit.end());
    if (all.empty()) {
      out_ << "<p><strong>No hold-down is listed for this setup.</strong></p>\n";
      return;
    }
    out_ << "<table>\n<caption>Centres from the front left corner of the stock as it lies, "
         << (job_.inches ? "in" : "mm")
         << "</caption>\n<thead><tr><th>Hold-down</th><th>Kind</th><th class=\"n\">X</th><th "
            "class=\"n\">Y</th><th>Size</th><th>Height</th><th>Stands for</th></tr></thead>\n<tbody>\n";
    for (const int h : all) {
      const HoldDown& d = job_.hold_downs[static_cast<std::size_t>(h)];
      out_ << "<tr><td>" << text(d.name) << "</td><td class=\"k\">" << wordOf(d.kind) << "</td><td class=\"n\">"
           << lengthOnly(job_, d.at_mm.x) << "</td><td class=\"n\">" << lengthOnly(job_, d.at_mm.y) << "</td><td>"
           << sizeOf(d) << "</td><td>" << heightOf(d) << "</td><td>" << programsWith(steps, h) << "</td></tr>\n";
    }
    out_ << "</tbody>\n</table>\n";
  }

  std::string sizeOf(const HoldDown& d) const {
    if (d.diameter_mm > 0) return lengthOnly(job_, d.diameter_mm) + " across";
    if (!d.outline_mm.empty()) return "as drawn";
    return lengthOnly(job_, d.size_mm.x) + " x " + lengthOnly(job_, d.size_mm.y) +
           (d.angle_deg != 0 ? ", " + shortNumber(d.angle_deg, 1) + " deg" : "");
  }

  std::string heightOf(const HoldDown& d) const {
    if (d.kind == HoldDownKind::pin) return lengthOnly(job_, d.depth_in_stock_mm) + " into the stock";
    if (d.kind == HoldDownKind::tape) return "under the stock";
    return lengthOnly(job_, d.top_mm) + " above the stock";
  }

  std::string programsWith(const std::vector<SetupStep>& steps, int h) const {
    std::size_t count = 0;
    std::string list;
    for (std::size_t k = 0; k < steps.size(); ++k) {
      const auto& standing = facts_.programs[steps[k].program].entry->hold_downs;
      if (std::find(standing.begin(), standing.end(), h) == standing.end()) continue;
      ++count;
      list += (list.empty() ? "" : ", ") + std::to_string(k + 1);
    }
    return count == steps.size() ? "all programs" : "run " + list;
  }

  void row(std::string_view what, const std::string& time = {}) {
    out_ << "<tr><td class=\"box\"><i></i></td><td>" << what << "</td><td class=\"n\">" << time
         << "</td><td class=\"n\"></td></tr>\n";
  }

  std::string names(const std::vector<int>& hold_downs) const {
    std::vector<std::string> list;
    for (const int h : hold_downs) list.push_back(visibleText(job_.hold_downs[static_cast<std::size_t>(h)].name));
    return "<strong>" + text(listText(list)) + "</strong>";
  }

  std::string toolWords(int number) const {
    if (number == 0) return "the tool (no number is given)";
    const Tool* tool = findTool(job_, number);
    std::string words = "tool " + std::to_string(number);
    if (!tool) return words + " (not in the job file)";
    if (!tool->name.empty()) words += ", " + visibleText(tool->name);
    return words;
  }

  std::string stickout(int number) const {
    const Tool* tool = findTool(job_, number);
    return tool && tool->stickout_mm > 0 ? ", stick-out <strong>" + lengthUnit(job_, tool->stickout_mm) + "</strong>"
                                         : "";
  }

  void writeSteps(const std::vector<SetupStep>& steps, bool turned) {
    out_ << "<h2>In this order</h2>\n<table class=\"steps\">\n<thead><tr><th></th><th>Do</th><th "
            "class=\"n\">Time</th><th class=\"n\">Deepest</th></tr></thead>\n";
    bool zeroed = false;
    for (std::size_t k = 0; k < steps.size(); ++k) {
      const SetupStep& step = steps[k];
      out_ << "<tbody>\n";
      if (k == 0)
        row(turned ? "Spindle stopped: take all hold-downs off, clean the spoilboard, lay the stock as above"
                   : "Lay the stock as above");
      if (!step.remove.empty() && !step.fit.empty()) {
        row("Put on " + names(step.fit) + ", <em>then</em> take off " + names(step.remove));
      } else if (!step.remove.empty()) {
        row("Take off " + names(step.remove));
      } else if (!step.fit.empty()) {
        row("Put on " + names(step.fit));
      }
      if (!step.tools.empty() && step.tools.front().change_before) {
        const double change_s = facts_.run.programs[step.program].change_before_s;
        row("Put in " + text(toolWords(step.tools.front().tool)) + stickout(step.tools.front().tool),
            change_s > 0 ? durationText(change_s) : "");
      }
      if (!zeroed) {
        row("<span class=\"again\">Set X, Y and Z zero</span>");
      } else if (!step.tools.empty() && step.tools.front().change_before) {
        row("<span class=\"again\">Set Z zero again here</span>");
      }
      zeroed = true;
      writeRun(k, step);
      out_ << "</tbody>\n";
    }
    out_ << "</table>\n";
  }

  void writeRun(std::size_t k, const SetupStep& step) {
    const ProgramFacts& p = facts_.programs[step.program];
    const ProgramRun& run = facts_.run.programs[step.program];
    out_ << "<tr class=\"run\"><td class=\"box\"><i></i></td><td>Run " << k + 1 << ": " << text(p.entry->file);
    for (std::size_t t = 0; t < step.tools.size(); ++t) {
      const ToolStretch& stretch = step.tools[t];
      if (t > 0 && stretch.change_before) {
        out_ << "<span class=\"small\">at line " << stretch.line << ": change to " << text(toolWords(stretch.tool))
             << stickout(stretch.tool) << ", <strong>set Z zero again here</strong></span>";
      }
      const std::string rpm = range(stretch.rpm_low, stretch.rpm_high);
      const double factor = job_.inches ? 1 / 25.4 : 1;
      const std::string feed = range(stretch.feed_low_mm_min * factor, stretch.feed_high_mm_min * factor);
      if (!rpm.empty() || !feed.empty()) {
        out_ << "<span class=\"small\">" << (rpm.empty() ? "" : rpm + " rpm")
             << (rpm.empty() || feed.empty() ? "" : ", ")
             << (feed.empty() ? "" : feed + (job_.inches ? " in/min" : " mm/min")) << "</span>";
      }
    }
    out_ << "</td><td class=\"n\">" << durationText(run.time.total_s() - run.change_before_s) << "</td><td class=\"n\">"
         << lengthOnly(job_, run.deepest_below_top_mm) << "</td></tr>\n";
  }

  void writeTools(const std::vector<SetupStep>& steps) {
    std::vector<int> order;
    for (const SetupStep& step : steps) {
      for (const ToolStretch& t : step.tools) {
        if (std::find(order.begin(), order.end(), t.tool) == order.end()) order.push_back(t.tool);
      }
    }
    out_ << "<h2>Tools</h2>\n<table>\n<thead><tr><th class=\"n\">No.</th><th>Tool</th><th class=\"n\">Across</th><th "
            "class=\"n\">Flutes</th>"
            "<th class=\"n\">Flute length</th><th class=\"n\">Stick-out</th></tr></thead>\n<tbody>\n";
    for (const int number : order) {
      const Tool* tool = findTool(job_, number);
      out_ << "<tr><td class=\"n\">" << number << "</td><td>" << (tool ? text(tool->name) : "not in the job file")
           << "</td>";
      const auto cell = [&](double mm) {
        out_ << "<td class=\"n\">" << (mm > 0 ? lengthOnly(job_, mm) : std::string("?")) << "</td>";
      };
      cell(tool ? tool->diameter_mm : 0);
      out_ << "<td class=\"n\">" << (tool ? std::to_string(tool->flutes) : "?") << "</td>";
      cell(tool ? tool->flute_length_mm : 0);
      cell(tool ? tool->stickout_mm : 0);
      out_ << "</tr>\n";
    }
    out_ << "</tbody>\n</table>\n";
  }

  void writeFiles(const std::vector<SetupStep>& steps) {
    out_ << "<h2>Programs: are these the ones on the machine?</h2>\n<table>\n<thead><tr><th>Run</th><th>File</th><th "
            "class=\"n\">Bytes</th><th class=\"n\">Lines</th>"
            "<th>Changed</th><th>SHA-256 begins</th></tr></thead>\n<tbody>\n";
    for (std::size_t k = 0; k < steps.size(); ++k) {
      const ProgramFacts& p = facts_.programs[steps[k].program];
      const ProgramFile& file = files_[steps[k].program];
      out_ << "<tr><td class=\"k\">" << k + 1 << "</td><td>" << text(p.entry->file) << "</td><td class=\"n\">"
           << file.bytes << "</td><td class=\"n\">" << p.program.lines << "</td><td class=\"k\">" << text(file.changed)
           << "</td><td class=\"mono k\">" << text(file.digest) << "</td></tr>\n";
    }
    out_ << "</tbody>\n</table>\n";
  }

  void writeWatch(const std::vector<SetupStep>& steps, std::size_t s) {
    std::vector<const Finding*> list;
    for (const Finding& f : report_.findings) {
      const bool here = std::any_of(steps.begin(), steps.end(), [&](const SetupStep& step) {
        return static_cast<int>(step.program) == f.program_order;
      });
      if ((here || (f.program_order < 0 && s == 0)) && f.level != Level::note) list.push_back(&f);
    }
    if (list.empty()) return;
    out_ << "<h2>What to watch</h2>\n<ul>\n";
    // The worst come first in a report.
    const auto stops = static_cast<std::size_t>(
        std::count_if(list.begin(), list.end(), [](const Finding* f) { return f->level == Level::stop; }));
    const std::size_t told = std::min(list.size(), std::max(stops, max_findings));
    for (std::size_t i = 0; i < told; ++i) {
      const Finding& f = *list[i];
      out_ << "<li class=\"todo\"><i></i><strong>" << levelName(f.level) << (f.accepted ? " (accepted)" : "") << ", "
           << text(f.program);
      if (f.place.line > 0) out_ << " line " << f.place.line;
      out_ << ":</strong> " << text(f.message) << (f.accepted ? ". Accepted: " + text(*f.accepted) : "") << "</li>\n";
    }
    if (list.size() > told) {
      out_ << "<li><strong>and " << list.size() - told << " more to look at</strong>: provecut check "
           << text(job_.file) << "</li>\n";
    }
    out_ << "</ul>\n";
  }

  void writeCautions() {
    out_ << "<p class=\"cautions\"><strong>A check is no guarantee.</strong> It knows only what the job file says. "
            "First run above the work, a hand at the "
            "emergency stop. Eye and hearing protection on; hands and sleeves away until the spindle stands still; "
            "take dust at the bit, wear a mask; "
            "never leave a running machine; look into the dust collector afterwards. Makers' manuals and local rules "
            "come first.</p>\n";
  }

  const Report& report_;
  const Facts& facts_;
  const Job& job_;
  std::span<const ProgramFile> files_;
  std::ostream& out_;
};

std::string localTime(std::filesystem::file_time_type changed) {
  const auto system = std::chrono::file_clock::to_sys(changed);
  const std::time_t seconds =
      std::chrono::system_clock::to_time_t(std::chrono::time_point_cast<std::chrono::system_clock::duration>(system));
  std::tm parts{};
  if (!localtime_r(&seconds, &parts)) return {};
  char buffer[32];
  return {buffer, std::strftime(buffer, sizeof buffer, "%Y-%m-%d %H:%M", &parts)};
}

}  // namespace

std::vector<ProgramFile> programFiles(const Facts& facts) {
  std::vector<ProgramFile> files;
  for (const ProgramFacts& p : facts.programs) {
    std::error_code error;
    const auto changed =
        std::filesystem::last_write_time(std::filesystem::path(facts.job.file).parent_path() / p.entry->file, error);
    files.push_back({p.text.size(), error ? std::string() : localTime(changed), sha256(p.text).substr(0, 12)});
  }
  return files;
}

void writeSheet(const Report& report, std::span<const ProgramFile> files, std::ostream& out) {
  Sheet(report, files, out).write();
}

}  // namespace provecut
