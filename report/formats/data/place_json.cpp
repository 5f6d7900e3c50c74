#include "report/formats/data/place_json.h"

#include <nlohmann/json.hpp>
#include <ostream>

#include "parser/job/job_words.h"
#include "report/base/visible_text.h"
#include "report/formats/data/json_number.h"
#include "sim/path/setup_frame.h"

namespace provecut {

namespace {

using Json = nlohmann::ordered_json;

// To a ten-thousandth of a millimetre: twenty times finer than what simplifying an outline leaves free.
constexpr int place_decimals = 4;
Json shown(double value) {
  return number(value, place_decimals);
}
Json pair(double x, double y) {
  return Json::array({shown(x), shown(y)});
}
template <class Frame>
Json point(Point2<Frame> p) {
  return pair(p.x, p.y);
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

struct Maker {
  const Places& places;
  const Facts& facts;
  const Job& job;

  std::string nameOf(int hold_down) const {
    return visibleText(job.hold_downs[static_cast<std::size_t>(hold_down)].name);
  }
  std::string fileOf(int program) const {
    return visibleText(facts.programs[static_cast<std::size_t>(program)].entry->file);
  }
  std::string setupName(int setup) const { return visibleText(job.setups[static_cast<std::size_t>(setup)].name); }

  Json forms() const {
    Json list = Json::array();
    for (const PlaceForm& f : places.forms) {
      Json j{{"kind", wordOf(f.shape.kind)}};
      if (f.shape.diameter_mm > 0) {
        j["diameter_mm"] = shown(f.shape.diameter_mm);
      } else if (f.shape.outline_mm.empty()) {
        j["size_mm"] = pair(f.shape.size_mm.x, f.shape.size_mm.y);
        j["angle_deg"] = shown(f.shape.angle_deg);
      } else {
        j["outline_mm"] = Json::array();
        for (const SetupPoint2 c : f.shape.outline_mm)
          j["outline_mm"].push_back(pair(c.x - f.shape.at_mm.x, c.y - f.shape.at_mm.y));
      }
      j["top_mm"] = shown(f.shape.top_mm);
      j["hold_downs"] = Json::array();
      for (const int h : f.members) j["hold_downs"].push_back(nameOf(h));
      list.push_back(std::move(j));
    }
    return list;
  }

  Json steps(std::size_t p) const {
    Json list = Json::array();
    for (const Step& s : places.steps[p]) {
      Json j{{"do", stepName(s.kind)}, {"hold_down", nameOf(s.hold_down)}};
      if (s.kind == Step::Kind::fit || s.kind == Step::Kind::move) j["at"] = point(s.at);
      j["as_listed"] = s.as_listed;
      list.push_back(std::move(j));
    }
    return list;
  }

  Json programs() const {
    Json list = Json::array();
    for (std::size_t p = 0; p < facts.programs.size(); ++p) {
      Json j{{"setup", visibleText(facts.programs[p].setup->name)}, {"file", fileOf(static_cast<int>(p))}};
      j["free"] = Json::array();
      for (std::size_t f = 0; f < places.forms.size(); ++f) {
        const FreePlaces& free = places.free[p * places.forms.size() + f];
        Json one{{"form", f},
                 {"looked_at", Json::array({point(free.region.low), point(free.region.high)})},
                 {"area_mm2", shown(free.region.area_mm2)},
                 {"share_of_stock", shown(free.stock_share)}};
        one["rings"] = Json::array();
        for (const std::vector<SetupPoint2>& ring : free.region.rings) {
          Json points = Json::array();
          for (const SetupPoint2 c : ring) points.push_back(point(c));
          one["rings"].push_back(std::move(points));
        }
        j["free"].push_back(std::move(one));
      }
      j["hold_downs"] = Json::array();
      for (const Standing& s : places.standing[p]) {
        j["hold_downs"].push_back({{"name", nameOf(s.hold_down)},
                                   {"stands", s.stands},
                                   {"state", s.hit       ? "hit"
                                             : s.clear() ? "clear"
                                                         : "close"},
                                   {"clearance_mm", s.hit || s.clear() ? Json(nullptr) : shown(s.clearance_mm)}});
      }
      j["before"] = steps(p);
      list.push_back(std::move(j));
    }
    return list;
  }

  Json holes() const {
    Json list = Json::array();
    for (std::size_t p = 0; p < facts.programs.size(); ++p) {
      const Setup& setup = *facts.programs[p].setup;
      if (p > 0 && facts.programs[p - 1].setup == &setup) continue;
      for (const holes::OldHole& hole : places.old_holes) {
        if (hole.left_by >= static_cast<int>(p)) continue;
        const SetupPoint2 at = holes::placeIn(job, hole, setup);
        Json j{{"setup", visibleText(setup.name)},
               {"hold_down", nameOf(hole.hold_down)},
               {"from_setup", setupName(hole.setup)},
               {"at", point(at)},
               {"work", point(setupToWork(setup, at))},
               {"diameter_mm", hole.diameter_mm > 0 ? shown(hole.diameter_mm) : Json(nullptr)}};
        j["cut_by"] = Json::array();
        for (const HoleInPath& h : facts.run.holes_in_path) {
          if (h.hold_down == hole.hold_down && h.left_by == hole.left_by) j["cut_by"].push_back(fileOf(h.program));
        }
        list.push_back(std::move(j));
      }
    }
    return list;
  }

  Json pins() const {
    Json list = Json::array();
    for (const PinFit& fit : facts.run.pin_fits) {
      const HoldDown& pin = job.hold_downs[static_cast<std::size_t>(fit.hold_down)];
      const Setup& setup = *facts.programs[static_cast<std::size_t>(fit.program)].setup;
      list.push_back({{"setup", visibleText(setup.name)},
                      {"name", nameOf(fit.hold_down)},
                      {"at", point(pin.at_mm)},
                      {"hole_in_stock", point(setupToStock(job.stock, setup, pin.at_mm))},
                      {"wall_mm", shown(fit.wall_mm)},
                      {"free_depth_mm", shown(fit.free_depth_mm)},
                      {"along_mm", shown(fit.along_mm)},
                      {"across_mm", shown(fit.across_mm)}});
    }
    return list;
  }
};

}  // namespace

void writePlaceJson(const Places& places, std::ostream& out) {
  const Maker m{places, *places.facts, places.facts->job};
  Json j{{"provecut", 1}, {"job", visibleText(m.job.name)}, {"complete", places.not_checked.empty()}};
  j["not_checked"] = Json::array();
  for (const std::string& n : places.not_checked) j["not_checked"].push_back(visibleText(n));
  j["clearance_mm"] = shown(m.job.limits.clearance_mm);
  j["resolution_mm"] = shown(places.resolution_mm);
  j["forms"] = m.forms();
  j["programs"] = m.programs();
  j["nearest"] = Json::array();
  for (const NearestPlace& n : places.nearest) {
    const SetupPoint2 from = m.job.hold_downs[static_cast<std::size_t>(n.hold_down)].at_mm;
    j["nearest"].push_back({{"setup", m.setupName(n.setup)},
                            {"hold_down", m.nameOf(n.hold_down)},
                            {"from", point(from)},
                            {"at", n.at ? point(*n.at) : Json(nullptr)},
                            {"distance_mm", n.at ? shown(length(*n.at - from)) : Json(nullptr)}});
  }
  j["plan"] = Json::array();
  for (const placing::PlannedStay& s : places.plan) {
    j["plan"].push_back({{"setup", m.setupName(s.setup)},
                         {"hold_down", m.nameOf(s.hold_down)},
                         {"first", m.fileOf(s.first)},
                         {"last", m.fileOf(s.last)},
                         {"moved", s.moved},
                         {"at", s.at ? point(*s.at) : Json(nullptr)}});
  }
  j["old_holes"] = m.holes();
  j["pins"] = m.pins();
  j["in_parts"] = Json::array();
  for (const InPart& i : places.in_parts) {
    j["in_parts"].push_back(
        {{"setup", m.setupName(i.setup)}, {"hold_down", m.nameOf(i.hold_down)}, {"program", m.fileOf(i.program)}});
  }
  j["findings"] = Json::array();
  for (const Finding& f : places.findings) {
    j["findings"].push_back({{"rule", f.rule},
                             {"level", levelName(f.level)},
                             {"setup", visibleText(f.setup)},
                             {"subject", visibleText(f.subject)},
                             {"amount", f.amount ? shown(*f.amount) : Json(nullptr)},
                             {"unit", f.unit},
                             {"message", visibleText(f.message)},
                             {"help", visibleText(f.help)}});
  }
  out << j.dump(-1, ' ', false, Json::error_handler_t::replace) << '\n';
}

}  // namespace provecut
