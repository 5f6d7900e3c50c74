#include "report/commands/place.h"

#include <oneapi/tbb/global_control.h>

#include <algorithm>
#include <filesystem>
#include <optional>
#include <ostream>

#include "parser/base/length_text.h"
#include "parser/base/units.h"
#include "report/base/visible_text.h"
#include "report/commands/console.h"
#include "report/commands/inputs.h"
#include "report/formats/data/place_json.h"
#include "report/formats/drawing/place_svg.h"
#include "report/formats/text/place_text.h"
#include "report/placing/hold_down_places.h"

namespace provecut {

namespace {

// The hold-down asked for; absent: the job's own.
std::optional<HoldDown> askedForm(const PlaceOptions& o, double unit_mm) {
  HoldDown h;
  if (o.diameter) {
    h.kind = HoldDownKind::screw;
    h.diameter_mm = o.diameter->mm(unit_mm);
  } else if (o.size) {
    h.kind = HoldDownKind::clamp;
    h.size_mm = {o.size->front().mm(unit_mm), o.size->back().mm(unit_mm)};
    h.angle_deg = o.angle_deg.value_or(0);
  } else {
    return std::nullopt;
  }
  h.top_mm = o.top->mm(unit_mm);
  return h;
}

// A picture for every program in a folder, which is made where it is not there yet.
bool writePictures(const Options& options, const Places& places) {
  std::error_code error;
  std::filesystem::create_directories(options.output, error);
  if (error) {
    printError("cannot create " + visibleText(options.output) + ": " + error.message());
    return false;
  }
  for (std::size_t p = 0; p < places.facts->programs.size(); ++p) {
    Options one = options;
    one.output = (std::filesystem::path(options.output) / placeSvgName(places, p)).string();
    if (!writeResult(one, [&](std::ostream& out, bool) { writePlaceSvg(places, p, out); })) return false;
  }
  return true;
}

bool namesFolder(const std::string& output) {
  std::error_code error;
  return !output.empty() && (output.back() == '/' || std::filesystem::is_directory(output, error));
}

int statusOf(const Places& places) {
  if (!places.not_checked.empty() || !places.held_otherwise.empty()) return exit_found;
  for (const auto& program : places.standing) {
    if (std::any_of(program.begin(), program.end(), [](const Standing& s) { return s.fitted && s.hit; }))
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
  if (options.threads > 0) limit.emplace(tbb::global_control::max_allowed_parallelism, options.threads);
  const Loading loading = loadAndTell(options.files.front(), options, load);
  if (!loading.facts) return exit_unusable;

  const double unit_mm = loading.facts->job.inches ? mm_per_inch : 1;
  const PlaceAsked asked{askedForm(options.place, unit_mm),
                         options.place.resolution ? options.place.resolution->mm(unit_mm) : 1};
  if (asked.resolution_mm < 0.05 || asked.resolution_mm > 20) {
    printError("--resolution: give a length from 0.05 to 20 mm");
    return exit_unusable;
  }
  const Places places = holdDownPlaces(*loading.facts, asked);
  bool written = false;
  if (options.format == Format::svg && namesFolder(options.output)) {
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
  if (!written) return exit_unusable;
  const int status = statusOf(places);
  if (status != exit_done && !resultIsShown(options))
    printError("a hold-down is hit, or something could not be checked. For details run provecut place as text.");
  return status;
}

}  // namespace provecut
