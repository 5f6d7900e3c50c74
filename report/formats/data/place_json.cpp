#include "report/formats/data/place_json.h"

#include <cmath>
#include <nlohmann/json.hpp>
#include <ostream>

#include "parser/job/job_words.h"
#include "report/base/visible_text.h"
#include "report/facts/shown_names.h"
#include "report/formats/data/json_number.h"
#include "sim/path/setup_frame.h"

namespace provecut {

namespace {

using Json = nlohmann::ordered_json;

// To a ten-thousandth of a millimetre: twenty times finer than what simplifying an outline leaves free.
constexpr int place_decimals = 4;
Json rounded(double value) {
  return number(value, place_decimals);
}
Json pair(double x, double y) {
  return Json::array({rounded(x), rounded(y)});
}
template <class Frame>
Json point(Point2<Frame> p) {
  return pair(p.x, p.y);
}

// Never more than it is: what is too close must not read as enough.
Json roundedDown(double value) {
  const double unit = std::pow(10, place_decimals);
  return rounded(std::floor(value * unit) / unit);
}

std::string_view stepName(Step::Kind kind) {
  switch (kind) {
    case Step::Kind::fit:
      return "fit";
    case Step::Kind::remove:
      return "remove";
    case Step::Kind::move:
      return "move";
    case Step::Kind::leave_out:
      return "leave-out";
  }
  return "move";
}

Json formsOf(const Places& places) {
  const Job& job = places.facts->job;
  Json list = Json::array();
  for (const PlaceForm& f : places.forms) {
    Json j{{"kind", wordOf(f.shape.kind)}};
    if (f.shape.diameter_mm > 0) {
      j["diameter_mm"] = rounded(f.shape.diameter_mm);
    } else if (f.shape.outline_mm.empty()) {
      j["size_mm"] = pair(f.shape.size_mm.x, f.shape.size_mm.y);
      j["angle_deg"] = rounded(f.shape.angle_deg);
    } else {
      j["outline_mm"] = Json::array();
      for (const SetupPoint2 c : f.shape.outline_mm)
        j["outline_mm"].push_back(pair(c.x - f.shape.at_mm.x, c.y - f.shape.at_mm.y));
    }
    j["top_mm"] = rounded(f.shape.top_mm);
    j["hold_downs"] = Json::array();
    for (const int h : f.members) j["hold_downs"].push_back(shownHoldDown(job, h));
    list.push_back(std::move(j));
  }
  return list;
}

Json freeOf(const FreePlaces& free) {
  Json j{{"form", free.form},
         {"looked_at", Json::array({point(free.region.low), point(free.region.high)})},
         {"area_mm2", rounded(free.region.area_mm2)},
         {"share_of_stock", rounded(free.stock_share)}};
  j["rings"] = Json::array();
  for (const std::vector<SetupPoint2>& ring : free.region.rings) {
    Json points = Json::array();
    for (const SetupPoint2 c : ring) points.push_back(point(c));
    j["rings"].push_back(std::move(points));
  }
  return j;
}

Json standingOf(const Job& job, const std::vector<Standing>& standing) {
  Json list = Json::array();
  for (const Standing& s : standing) {
    list.push_back({{"name", shownHoldDown(job, s.hold_down)},
                    {"fitted", s.fitted},
                    {"state", s.hit       ? "hit"
                              : s.clear() ? "clear"
                                          : "close"},
                    {"clearance_mm", s.hit || s.clear() ? Json(nullptr) : roundedDown(s.clearance_mm)}});
  }
  return list;
}

Json stepsOf(const Job& job, const std::vector<Step>& steps) {
  Json list = Json::array();
  for (const Step& s : steps) {
    Json j{{"do", stepName(s.kind)}, {"hold_down", shownHoldDown(job, s.hold_down)}};
    if (s.kind == Step::Kind::fit || s.kind == Step::Kind::move) j["at"] = point(s.at);
    j["as_listed"] = s.as_listed;
    list.push_back(std::move(j));
  }
  return list;
}

// Why nothing holds the stock for a program, and what could; null where something does.
Json heldOtherwiseOf(const Places& places, int program) {
  for (const HeldOtherwise& h : places.held_otherwise) {
    if (h.program != program) continue;
    Json j{{"message", heldOtherwiseText(places.facts->job, h)}};
    j["spots"] = Json::array();
    for (const SetupPoint2 p : h.at) j["spots"].push_back(point(p));
    return j;
  }
  return nullptr;
}

Json programsOf(const Places& places) {
  const Facts& facts = *places.facts;
  Json list = Json::array();
  for (int p = 0; p < std::ssize(facts.programs); ++p) {
    Json j{{"setup", visibleText(facts.programs[p].setup->name)}, {"file", shownFile(facts, p)}};
    j["free"] = Json::array();
    for (const FreePlaces& free : places.free) {
      if (free.program == p) j["free"].push_back(freeOf(free));
    }
    j["hold_downs"] = standingOf(facts.job, places.standing[p]);
    j["before"] = stepsOf(facts.job, places.steps[p]);
    j["hold_otherwise"] = heldOtherwiseOf(places, p);
    list.push_back(std::move(j));
  }
  return list;
}

Json spotsOf(const Places& places) {
  const Facts& facts = *places.facts;
  Json list = Json::array();
  for (const SpotsFor& s : places.spots) {
    Json j{{"setup", shownSetup(facts.job, s.setup)}, {"form", s.form}};
    j["programs"] = Json::array();
    for (const int p : s.programs) j["programs"].push_back(shownFile(facts, p));
    j["at"] = Json::array();
    for (const SetupPoint2 p : s.at) j["at"].push_back(point(p));
    list.push_back(std::move(j));
  }
  return list;
}

Json nearestOf(const Places& places) {
  const Job& job = places.facts->job;
  Json list = Json::array();
  for (const NearestPlace& n : places.nearest) {
    const SetupPoint2 from = job.hold_downs[n.hold_down].at_mm;
    list.push_back({{"setup", shownSetup(job, n.setup)},
                    {"hold_down", shownHoldDown(job, n.hold_down)},
                    {"from", point(from)},
                    {"at", n.at ? point(*n.at) : Json(nullptr)},
                    {"distance_mm", n.at ? rounded(length(*n.at - from)) : Json(nullptr)}});
  }
  return list;
}

Json planOf(const Places& places) {
  const Facts& facts = *places.facts;
  Json list = Json::array();
  for (const placing::PlannedStay& s : places.plan) {
    list.push_back({{"setup", shownSetup(facts.job, s.setup)},
                    {"hold_down", shownHoldDown(facts.job, s.hold_down)},
                    {"first", shownFile(facts, s.first)},
                    {"last", shownFile(facts, s.last)},
                    {"moved", s.moved},
                    {"at", s.at ? point(*s.at) : Json(nullptr)}});
  }
  return list;
}

Json oldHolesOf(const Places& places) {
  const Facts& facts = *places.facts;
  const Job& job = facts.job;
  Json list = Json::array();
  for (int p = 0; p < std::ssize(facts.programs); ++p) {
    const Setup& setup = *facts.programs[p].setup;
    if (p > 0 && facts.programs[p - 1].setup == &setup) continue;
    for (const holes::OldHole& hole : places.old_holes) {
      if (hole.left_by >= p) continue;
      const SetupPoint2 at = holes::placeIn(job, hole, setup);
      Json j{{"setup", visibleText(setup.name)},
             {"hold_down", shownHoldDown(job, hole.hold_down)},
             {"from_setup", shownSetup(job, hole.setup)},
             {"at", point(at)},
             {"work", point(setupToWork(setup, at))},
             {"diameter_mm", hole.diameter_mm > 0 ? rounded(hole.diameter_mm) : Json(nullptr)}};
      j["cut_by"] = Json::array();
      for (const HoleInPath& h : facts.run.holes_in_path) {
        if (h.hold_down == hole.hold_down && h.left_by == hole.left_by)
          j["cut_by"].push_back(shownFile(facts, h.program));
      }
      list.push_back(std::move(j));
    }
  }
  return list;
}

Json pinsOf(const Facts& facts) {
  Json list = Json::array();
  for (const PinFit& fit : facts.run.pin_fits) {
    const SetupPoint2 at = facts.job.hold_downs[fit.hold_down].at_mm;
    const Setup& setup = *facts.programs[fit.program].setup;
    list.push_back({{"setup", visibleText(setup.name)},
                    {"name", shownHoldDown(facts.job, fit.hold_down)},
                    {"at", point(at)},
                    {"hole_in_stock", point(setupToStock(facts.job.stock, setup, at))},
                    {"wall_mm", rounded(fit.wall_mm)},
                    {"free_depth_mm", rounded(fit.free_depth_mm)},
                    {"along_mm", rounded(fit.along_mm)},
                    {"across_mm", rounded(fit.across_mm)}});
  }
  return list;
}

Json inPartsOf(const Places& places) {
  const Facts& facts = *places.facts;
  Json list = Json::array();
  for (const InPart& i : places.in_parts) {
    list.push_back({{"setup", shownSetup(facts.job, i.setup)},
                    {"hold_down", shownHoldDown(facts.job, i.hold_down)},
                    {"program", shownFile(facts, i.program)}});
  }
  return list;
}

Json findingsOf(const Places& places) {
  Json list = Json::array();
  for (const Finding& f : places.findings) {
    list.push_back({{"rule", f.rule},
                    {"level", levelName(f.level)},
                    {"setup", visibleText(f.setup)},
                    {"subject", visibleText(f.subject)},
                    {"amount", f.amount ? rounded(*f.amount) : Json(nullptr)},
                    {"unit", f.unit},
                    {"message", visibleText(f.message)},
                    {"help", visibleText(f.help)}});
  }
  return list;
}

}  // namespace

void writePlaceJson(const Places& places, std::ostream& out) {
  const Job& job = places.facts->job;
  Json j{{"provecut", 1}, {"job", visibleText(job.name)}, {"complete", places.not_checked.empty()}};
  j["not_checked"] = Json::array();
  for (const std::string& n : places.not_checked) j["not_checked"].push_back(visibleText(n));
  j["clearance_mm"] = rounded(job.limits.clearance_mm);
  j["resolution_mm"] = rounded(places.resolution_mm);
  j["forms"] = formsOf(places);
  j["programs"] = programsOf(places);
  j["spots"] = spotsOf(places);
  j["nearest"] = nearestOf(places);
  j["plan"] = planOf(places);
  j["old_holes"] = oldHolesOf(places);
  j["pins"] = pinsOf(*places.facts);
  j["in_parts"] = inPartsOf(places);
  j["findings"] = findingsOf(places);
  out << j.dump(-1, ' ', false, Json::error_handler_t::replace) << '\n';
}

}  // namespace provecut
