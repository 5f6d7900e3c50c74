#include "report/commands/place.h"

#include <oneapi/tbb/global_control.h>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <optional>
#include <ostream>
#include <string_view>

#include "parser/base/length_text.h"
#include "parser/base/units.h"
#include "report/base/visible_text.h"
#include "report/commands/console.h"
#include "report/formats/data/place_json.h"
#include "report/formats/drawing/place_svg.h"
#include "report/formats/text/place_text.h"
#include "report/placing/hold_down_places.h"

namespace provecut {

namespace {

// "9.5", "9.5mm", "0.375in"; a bare number is in `unit_mm`. Nothing where it is no length.
std::optional<double> lengthOf(std::string_view text, double unit_mm) {
  const auto length = readLength(text);
  return length && std::fabs(length->mm(unit_mm)) <= 1e5 ? std::optional(length->mm(unit_mm)) : std::nullopt;
}

std::string notGood(std::string_view option, const std::string& text, std::string_view give) {
  return std::string(option) + " \"" + visibleText(text) + "\": give " + std::string(give);
}

// The form asked for on the command line; an error in words where it cannot be read.
std::optional<HoldDown> askedForm(const PlaceOptions& o, double unit_mm, std::string& error) {
  if (o.diameter.empty() && o.size.empty()) {
    if (!o.top.empty() || !o.angle.empty()) error = "--top and --angle go with --diameter or --size";
    return std::nullopt;
  }
  HoldDown h;
  if (!o.diameter.empty()) {
    h.kind = HoldDownKind::screw;
    const auto d = lengthOf(o.diameter, unit_mm);
    if (!o.size.empty() || !o.angle.empty()) error = "a round hold-down has no --size and no --angle";
    if (!d || *d <= 0) error = notGood("--diameter", o.diameter, "a length above 0, such as 9.5mm");
    h.diameter_mm = d.value_or(1);
  } else {
    h.kind = HoldDownKind::clamp;
    const auto cross = o.size.find('x');
    const std::string suffix = o.size.ends_with("mm") ? "mm" : o.size.ends_with("in") ? "in" : "";
    std::string first = o.size.substr(0, cross);
    if (!first.ends_with("mm") && !first.ends_with("in")) first += suffix;
    const auto x = lengthOf(first, unit_mm),
               y = cross == std::string::npos ? std::nullopt : lengthOf(o.size.substr(cross + 1), unit_mm);
    if (!x || !y || *x <= 0 || *y <= 0) error = notGood("--size", o.size, "two lengths above 0, such as 60x20mm");
    h.size_mm = {x.value_or(1), y.value_or(1)};
    if (!o.angle.empty()) {
      const auto angle = lengthOf(o.angle, 1);
      if (!angle || o.angle.ends_with("m") || o.angle.ends_with("n"))
        error = notGood("--angle", o.angle, "degrees, such as 30");
      h.angle_deg = angle.value_or(0);
    }
  }
  const auto top = lengthOf(o.top, unit_mm);
  if (o.top.empty())
    error = "--top is missing: the height of its top above the stock's top face";
  else if (!top)
    error = notGood("--top", o.top, "a length, such as 3.5mm");
  h.top_mm = top.value_or(0);
  return h;
}

// A picture for every program in a folder, which is made where it is not there yet.
bool writePictures(const Options& options, const Places& places) {
  std::error_code error;
  std::filesystem::create_directories(options.output, error);
  if (error) {
    printError(visibleText(options.output) + " cannot be made: " + error.message());
    return false;
  }
  for (std::size_t p = 0; p < places.facts->programs.size(); ++p) {
    Options one = options;
    one.output = (std::filesystem::path(options.output) / placeSvgName(places, p)).string();
    if (!writeResult(one, [&](std::ostream& out, bool) { writePlaceSvg(places, p, out); })) return false;
  }
  return true;
}

bool isFolder(const std::string& output) {
  std::error_code error;
  return !output.empty() && (output.back() == '/' || std::filesystem::is_directory(output, error));
}

int statusOf(const Places& places) {
  if (!places.not_checked.empty()) return exit_found;
  for (const auto& program : places.standing) {
    if (std::any_of(program.begin(), program.end(), [](const Standing& s) { return s.stands && s.hit; }))
      return exit_found;
  }
  const bool stop = std::any_of(places.findings.begin(), places.findings.end(),
                                [](const Finding& f) { return f.level == Level::stop; });
  return stop ? exit_found : exit_done;
}

}  // namespace

int runPlace(const Options& options) {
  LoadOptions load = loadOptions(options);
  load.cut = false;
  std::optional<tbb::global_control> limit;
  if (options.threads > 0)
    limit.emplace(tbb::global_control::max_allowed_parallelism, static_cast<std::size_t>(options.threads));
  Loading loading = loadJobFile(options.files.front(), load);
  endProgress(options);
  printErrors(loading.errors);
  if (!loading.facts) return exit_unusable;

  const double unit_mm = loading.facts->job.inches ? mm_per_inch : 1;
  std::string error;
  PlaceAsked asked;
  asked.form = askedForm(options.place, unit_mm, error);
  if (!options.place.resolution.empty()) {
    const auto resolution = lengthOf(options.place.resolution, unit_mm);
    if (!resolution || *resolution < 0.05 || *resolution > 20)
      error = notGood("--resolution", options.place.resolution, "a length from 0.05 to 20 mm");
    asked.resolution_mm = resolution.value_or(1);
  }
  if (!error.empty()) {
    printError(error);
    return exit_unusable;
  }
  const Places places = holdDownPlaces(*loading.facts, asked);
  bool written = false;
  if (options.format == Format::svg && isFolder(options.output)) {
    written = writePictures(options, places);
  } else {
    written = writeResult(options, [&](std::ostream& out, bool colour) {
      if (options.format == Format::svg)
        writePlaceSvg(places, out);
      else if (options.format == Format::json)
        writePlaceJson(places, out);
      else
        writePlaceText(places, colour, out);
    });
  }
  return written ? statusOf(places) : exit_unusable;
}

}  // namespace provecut
