#include "report/formats/page/page_places.h"

#include <oneapi/tbb/parallel_for.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "report/base/visible_text.h"
#include "report/placing/free_places.h"
#include "sim/clearance/obstacle.h"
#include "sim/path/setup_frame.h"

namespace provecut {

namespace {

using Json = nlohmann::ordered_json;

// Fine enough to look at. Asked for by itself, `place` answers more finely.
constexpr double resolution_mm = 2;

struct Stay {
  const Setup* setup = nullptr;
  std::size_t first = 0, last = 0;  // programs
  const PlaceForm* form = nullptr;
  placing::FreeRegion region;
};

std::vector<Stay> staysOf(const Facts& facts, const std::vector<PlaceForm>& forms) {
  std::vector<Stay> stays;
  for (std::size_t first = 0; first < facts.programs.size();) {
    const ProgramFacts& begin = facts.programs[first];
    std::size_t last = first;
    while (last + 1 < facts.programs.size() && facts.programs[last + 1].setup == begin.setup &&
           facts.programs[last + 1].entry->hold_downs == begin.entry->hold_downs) {
      ++last;
    }
    const auto standsHere = [&](const PlaceForm& f) {
      return std::any_of(f.members.begin(), f.members.end(), [&](int m) {
        return std::find(begin.entry->hold_downs.begin(), begin.entry->hold_downs.end(), m) !=
               begin.entry->hold_downs.end();
      });
    };
    const bool any = std::any_of(forms.begin(), forms.end(), standsHere);
    for (const PlaceForm& form : forms) {
      if (!any || standsHere(form)) stays.push_back({begin.setup, first, last, &form, {}});
    }
    first = last + 1;
  }
  return stays;
}

// Places are looked for as far around the stock as the page draws.
double pageMargin(const Job& job, const std::vector<PlaceForm>& forms) {
  double margin = placeMargin(forms);
  for (const Setup& setup : job.setups) {
    const Vec3 stock = stockSizeInSetup(job.stock, setup);
    for (const HoldDown& h : job.hold_downs) {
      const clearance::Obstacle o = clearance::obstacle(h, 0);
      const double beyond = std::max({-o.low.x, -o.low.y, o.high.x - stock.x, o.high.y - stock.y});
      margin = std::max(margin, beyond + 0.15 * std::max(stock.x, stock.y));
    }
  }
  return margin;
}

Json ringsJson(const placing::FreeRegion& region) {
  Json rings = Json::array();
  const auto number = [](double v) { return std::round(v * 1e3) / 1e3; };
  for (const std::vector<SetupPoint2>& ring : region.rings) {
    Json points = Json::array();
    for (const SetupPoint2 p : ring) points.push_back(Json::array({number(p.x), number(p.y)}));
    rings.push_back(std::move(points));
  }
  return rings;
}

}  // namespace

Json pagePlaces(const Facts& facts) {
  const Job& job = facts.job;
  const std::vector<PlaceForm> forms = placeForms(job, std::nullopt);
  const double margin = pageMargin(job, forms), resolution = placeResolution(job, margin, resolution_mm);
  std::vector<Stay> stays = staysOf(facts, forms);
  tbb::parallel_for(std::size_t{0}, stays.size(), [&](std::size_t i) {
    Stay& s = stays[i];
    std::vector<const Program*> programs;
    for (std::size_t p = s.first; p <= s.last; ++p) programs.push_back(&facts.programs[p].program);
    s.region = freePlaces(job, *s.setup, programs, s.form->shape, margin, resolution, Pains::quick);
  });
  Json places = Json::array();
  for (const Stay& s : stays) {
    Json doubts = Json::array();
    for (std::size_t p = s.first; p <= s.last; ++p) {
      for (const std::string_view d : placeDoubts(job, facts.programs[p].program)) {
        doubts.push_back(visibleText(facts.programs[p].entry->file) + std::string(d));
      }
    }
    places.push_back({{"first", s.first},
                      {"form", formText(job, s.form->shape)},
                      {"listed", !s.form->members.empty()},
                      {"share", std::round(stockShare(s.region, stockPlan(job.stock, *s.setup)) * 1e4) / 1e4},
                      {"resolution", resolution},
                      {"doubts", std::move(doubts)},
                      {"rings", ringsJson(s.region)}});
  }
  return places;
}

}  // namespace provecut
