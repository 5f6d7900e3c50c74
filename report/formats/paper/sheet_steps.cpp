#include <fmt/format.h>

#include <algorithm>
#include <iterator>
#include <ostream>

#include "report/base/dimension_text.h"
#include "report/base/number_text.h"
#include "report/base/visible_text.h"
#include "report/base/wording.h"
#include "report/facts/setup_words.h"
#include "report/formats/base/html_text.h"
#include "report/formats/paper/sheet_parts.h"
#include "report/formats/text/summary.h"
#include "report/formats/text/turned_over.h"

namespace provecut {

namespace {

// `what` is HTML.
void writeRow(std::string_view what, std::string_view time, std::ostream& out) {
  out << "<tr><td class=\"box\"><i></i></td><td>" << what << "</td><td class=\"n\">" << time
      << "</td><td class=\"n\"></td></tr>\n";
}

std::string names(const Job& job, const std::vector<int>& hold_downs) {
  if (hold_downs.empty()) return {};
  std::vector<std::string> list;
  for (const int h : hold_downs) list.push_back(visibleText(job.hold_downs[static_cast<std::size_t>(h)].name));
  return "<strong>" + escapeHtml(listText(list)) + "</strong>";
}

// "tool 2, 1/8 in drill, stickout <strong>26 mm</strong>"
std::string toolHtml(const Job& job, int number) {
  if (number == 0) return "the tool (no number given)";
  const Tool* tool = findTool(job, number);
  if (!tool) return fmt::format("tool {} (not in the job file)", number);
  std::string words = fmt::format("tool {}", number);
  if (!tool->name.empty()) words += ", " + escapeHtml(tool->name);
  if (tool->stickout_mm > 0)
    words += fmt::format(", stickout <strong>{}</strong>", dimensionWithUnit(job, tool->stickout_mm));
  return words;
}

// "18,000 rpm, 800 to 2,400 mm/min"; empty where neither is known.
std::string ratesText(const Job& job, const ToolStretch& stretch) {
  const double unit_mm = lengthUnit_mm(job);
  const std::string rpm = rangeText(stretch.rpm_low, stretch.rpm_high);
  const std::string feed =
      rangeText(stretch.feed_low_mm_min / unit_mm, stretch.feed_high_mm_min / unit_mm, job.inches ? 1 : 0);
  std::string words = rpm.empty() ? rpm : rpm + " rpm";
  if (!feed.empty()) words += fmt::format("{}{} {}/min", words.empty() ? "" : ", ", feed, lengthUnit(job));
  return words;
}

// "Dial <strong>16,000 rpm</strong>"; several speeds cannot be dialled at once.
std::string dialHtml(const ToolStretch& stretch) {
  if (!(stretch.rpm_high > 0)) return "Set the speed on the dial (neither the program nor the job file gives one)";
  const std::string rpm = rangeText(stretch.rpm_low, stretch.rpm_high);
  const bool one = stretch.rpm_low == stretch.rpm_high;
  return one ? fmt::format("Dial <strong>{} rpm</strong>", rpm)
             : fmt::format("Dial one speed; the program asks for <strong>{} rpm</strong>", rpm);
}

// What the operator does with the spindle before a program; empty where the program does it.
std::string spindleHtml(const Job& job, const SetupStep& step) {
  if (!job.machine.dialled() || step.tools.empty()) return {};
  const std::string dial = dialHtml(step.tools.front());
  return job.machine.spindle_by_hand ? dial + ", then <strong>switch the spindle on</strong>" : dial;
}

void writeRun(const SheetSetup& s, std::size_t k, std::ostream& out) {
  const SetupStep& step = s.steps[k];
  const ProgramRun& run = s.facts.run.programs[step.program];
  out << "<tr class=\"run\"><td class=\"box\"><i></i></td><td>Run " << k + 1 << ": "
      << escapeHtml(s.facts.programs[step.program].entry->file);
  for (std::size_t t = 0; t < step.tools.size(); ++t) {
    const ToolStretch& stretch = step.tools[t];
    if (t > 0 && stretch.change_before) {
      out << "<span class=\"small\">at line " << stretch.line << ": change to " << toolHtml(s.job, stretch.tool)
          << ", <strong>set Z zero again</strong></span>";
      if (s.job.machine.dialled()) out << "<span class=\"small\">" << dialHtml(stretch) << "</span>";
    }
    const std::string rates = ratesText(s.job, stretch);
    if (!rates.empty()) out << "<span class=\"small\">" << rates << "</span>";
  }
  const bool simulated = allToolsKnown(s.job, s.facts.programs[step.program].program);
  out << "</td><td class=\"n\">" << durationText(run.time.total_s() - run.change_before_s) << "</td><td class=\"n\">"
      << (simulated ? dimensionText(s.job, run.deepest_below_top_mm) : "not checked") << "</td></tr>\n";
}

std::vector<int> ofKinds(const Job& job, const std::vector<int>& hold_downs, bool (*wanted)(HoldDownKind)) {
  std::vector<int> list;
  std::copy_if(hold_downs.begin(), hold_downs.end(), std::back_inserter(list),
               [&](int h) { return wanted(job.hold_downs[static_cast<std::size_t>(h)].kind); });
  return list;
}

bool isStuckDown(HoldDownKind kind) {
  return kind == HoldDownKind::tape || kind == HoldDownKind::glue;
}

// The first hold-downs, in the order in which they can be fitted: pins and tape are under the stock.
void writePlacing(const SheetSetup& s, std::ostream& out) {
  const std::vector<int>& fit = s.steps.front().fit;
  const std::vector<int> pins = ofKinds(s.job, fit, [](HoldDownKind k) { return k == HoldDownKind::pin; });
  const std::vector<int> tape = ofKinds(s.job, fit, isStuckDown);
  const std::vector<int> vacuum = ofKinds(s.job, fit, [](HoldDownKind k) { return k == HoldDownKind::vacuum; });
  const std::vector<int> others =
      ofKinds(s.job, fit, [](HoldDownKind k) { return k != HoldDownKind::pin && !isUnderStock(k); });
  if (s.index > 0)
    writeRow("<strong>Spindle stopped.</strong> Remove all hold-downs and clean the spoilboard", {}, out);
  if (!pins.empty()) writeRow("Put " + names(s.job, pins) + " into the spoilboard", {}, out);
  if (!tape.empty()) writeRow("Stick down " + names(s.job, tape), {}, out);
  const Setup& setup = s.job.setups[s.index];
  const std::string_view turned = s.index > 0 ? turnedOver(s.job.setups[s.index - 1], setup) : std::string_view();
  const std::string on = pins.empty() ? "" : " on the pins";
  std::string place = turned.empty() ? "Place the stock" + on + ", <strong>" + stockWords(setup) + "</strong>"
                                     : fmt::format("Flip the stock <strong>{}</strong> and place it{}", turned, on);
  if (!others.empty()) place += "; fit " + names(s.job, others);
  if (!vacuum.empty()) place += "; switch on " + names(s.job, vacuum);
  writeRow(place, {}, out);
  if (tape.empty() && vacuum.empty() && others.empty()) writeRow("Hold the stock down", {}, out);
}

}  // namespace

void writeSheetSteps(const SheetSetup& s, std::ostream& out) {
  out << "<h2>In this order</h2>\n<table class=\"steps\">\n<thead><tr><th></th><th>Do</th><th class=\"n\">Time</th><th "
         "class=\"n\">Deepest cut ("
      << lengthUnit(s.job) << ")</th></tr></thead>\n";
  for (std::size_t k = 0; k < s.steps.size(); ++k) {
    const SetupStep& step = s.steps[k];
    out << "<tbody>\n";
    if (k == 0) {
      writePlacing(s, out);
    } else if (const std::string change = holdDownChange(names(s.job, step.fit), names(s.job, step.remove));
               !change.empty()) {
      writeRow("<strong>Spindle stopped.</strong> " + change, {}, out);
      if (!step.remove.empty() && s.facts.programs[step.program].entry->hold_downs.empty())
        writeRow(fmt::format("Hold the stock down: no hold-down is listed for run {}", k + 1), {}, out);
    }
    const bool new_tool = !step.tools.empty() && step.tools.front().change_before;
    if (new_tool) {
      const double change_s = s.facts.run.programs[step.program].change_before_s;
      writeRow("Put in " + toolHtml(s.job, step.tools.front().tool), change_s > 0 ? durationText(change_s) : "", out);
    }
    if (k == 0) {
      writeRow("<span class=\"again\">Set X, Y and Z zero</span>", {}, out);
    } else if (new_tool) {
      writeRow("<span class=\"again\">Set Z zero again</span>", {}, out);
    }
    if (const std::string spindle = spindleHtml(s.job, step); !spindle.empty()) writeRow(spindle, {}, out);
    writeRun(s, k, out);
    if (s.job.machine.spindle_by_hand) writeRow("<strong>Switch the spindle off</strong>", {}, out);
    out << "</tbody>\n";
  }
  out << "</table>\n";
}

}  // namespace provecut
