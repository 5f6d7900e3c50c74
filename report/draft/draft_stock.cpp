// A likely stock and work zero, from what is cut.
#include <algorithm>
#include <cmath>

#include "report/base/stock_comment.h"
#include "report/base/zero_comment.h"
#include "report/draft/draft_survey.h"

namespace provecut::draft {

namespace {

struct AxisWords {
  const char *low, *high;
};

// As much beyond the cut on the far side as on the near one, and never less than the cut itself.
double sizeFromLow(double low, double high, double radius) {
  return std::max(high + low, high - radius);
}

bool isAboutZero(double low, double high) {
  return low < 0 && high > 0 && std::abs(low + high) < 0.03 * (high - low);
}

// From the tip's extent along one axis: work zero, if no comment gives it, and the stock's size.
double guessAxis(double low, double high, double radius, double margin, AxisWords words, ZeroGuess& zero) {
  const double width = high - low;
  if (zero.word == words.low) return sizeFromLow(low, high, radius);
  if (zero.word == words.high) return sizeFromLow(-high, -low, radius);
  if (zero.word == "center") return 2 * (std::max(std::abs(low), std::abs(high)) + radius + margin);
  const bool about_zero = isAboutZero(low, high);
  if (about_zero) {
    zero = {"center", 0};
    return width + 2 * (radius + margin);
  }
  // A cutter that would run over the edge goes round a part: zero is then inside the stock.
  if (low >= radius) {
    zero = {words.low, 0};
    return high + low;  // as much beyond the cut on the far side as on this one
  }
  if (high <= -radius) {
    zero = {words.high, 0};
    return -low - high;
  }
  zero = {"", radius + margin - low};
  return width + 2 * (radius + margin);
}

// Where on stock of a size that is known zero lies: where the cuts overrun it least.
ZeroGuess zeroOn(double size, double low, double high, AxisWords words) {
  const auto overrun = [&](double zero) { return std::max(0.0, -(low + zero)) + std::max(0.0, high + zero - size); };
  const ZeroGuess guesses[] = {{words.low, 0}, {words.high, size}, {"center", size / 2}};
  const ZeroGuess* best = &guesses[0];
  if (isAboutZero(low, high)) return {"center", 0};
  for (const ZeroGuess& g : guesses) {
    if (overrun(g.from_corner_mm) < overrun(best->from_corner_mm) - 1e-6) best = &g;
  }
  return {best->word, 0};
}

std::optional<Vec3> toldSize(std::span<const DraftProgram> programs, std::string& told) {
  for (const DraftProgram& p : programs) {
    for (const Event& e : p.program->events) {
      if (e.kind != EventKind::comment_tool) continue;
      if (const auto size = readStockComment(e.text, inInches(*p.program))) {
        told = e.text;
        return size;
      }
    }
  }
  return std::nullopt;
}

// What comments say of zero; it counts where they agree.
void readZeroComments(std::span<const DraftProgram> programs, SetupGuess& setup) {
  std::vector<ZeroComment> said;
  for (const std::size_t i : setup.programs) {
    for (const Event& e : programs[i].program->events) {
      const auto zero = e.kind == EventKind::comment_tool ? readZeroComment(e.text) : std::nullopt;
      const bool known = zero && std::any_of(said.begin(), said.end(), [&](const ZeroComment& z) {
                           return z.x == zero->x && z.y == zero->y && z.z == zero->z;
                         });
      if (!zero || known) continue;
      said.push_back(*zero);
      setup.zero_comments.push_back(e.text);
    }
  }
  if (said.size() != 1) return;
  setup.zero_x = {said[0].x, 0};
  setup.zero_y = {said[0].y, 0};
  if (!said[0].z.empty()) setup.zero_on_bottom = said[0].z == "bottom";
}

std::optional<Material> toldMaterial(std::span<const DraftProgram> programs) {
  for (const DraftProgram& p : programs) {
    for (const Event& e : p.program->events) {
      const auto material = e.kind == EventKind::comment_tool ? readMaterialComment(e.text) : std::nullopt;
      if (material) return material;
    }
  }
  return std::nullopt;
}

double widestRadius(const Survey& survey, const SetupGuess& setup) {
  double radius = 0;
  for (const std::size_t i : setup.programs) radius = std::max(radius, survey.programs[i].core_radius_mm);
  return radius;
}

// Vees and surfacing cutters do not part the stock: taken for its thickness, their depth would.
bool carvesOnly(const Survey& survey) {
  return std::all_of(survey.tools.begin(), survey.tools.end(), [](const auto& t) {
    const ToolGuess& tool = t.second;
    return tool.shape_known && (tool.shape == ToolShape::vee || tool.shape == ToolShape::surfacing);
  });
}

double highestLevel(const Survey& survey, const SetupGuess& setup) {
  double highest = 0;
  for (const std::size_t i : setup.programs) highest = std::max(highest, survey.programs[i].highest_level_mm);
  return highest > 0 ? highest : setup.cut.high.z;
}

}  // namespace

StockGuess guessStock(std::span<const DraftProgram> programs, const Survey& survey, std::vector<SetupGuess>& setups) {
  constexpr double least_mm = 1, max_mm = 50'000, max_thickness_mm = 2000, usual_floor_mm = 10;
  const double margin = survey.inches ? 12.7 : 10;
  constexpr AxisWords along_x{"left", "right"}, along_y{"front", "back"};
  StockGuess stock;
  const std::optional<Vec3> told = toldSize(programs, stock.told);
  for (SetupGuess& s : setups) {
    readZeroComments(programs, s);
    const bool said = !s.zero_x.word.empty();
    if (s.cut.empty) {
      if (!said) s.zero_x = {"left", 0}, s.zero_y = {"front", 0};
      continue;
    }
    const WorkBox box = s.core.empty ? s.cut : s.core;
    if (told) {
      if (!said) s.zero_x = zeroOn(told->x, box.low.x, box.high.x, along_x);
      if (!said) s.zero_y = zeroOn(told->y, box.low.y, box.high.y, along_y);
      continue;
    }
    const double radius = widestRadius(survey, s);
    const double x = guessAxis(box.low.x, box.high.x, radius, margin, along_x, s.zero_x);
    const double y = guessAxis(box.low.y, box.high.y, radius, margin, along_y, s.zero_y);
    const double z = s.zero_on_bottom ? highestLevel(survey, s) : -s.cut.low.z;
    if (z > stock.size_mm.z) {
      stock.thickness_from = z < least_mm       ? ThicknessFrom::least
                             : s.zero_on_bottom ? ThicknessFrom::highest_level
                                                : ThicknessFrom::deepest_cut;
    }
    stock.size_mm = {std::max(stock.size_mm.x, x), std::max(stock.size_mm.y, y), std::max(stock.size_mm.z, z)};
  }
  stock.material = toldMaterial(programs);
  if (!told && stock.thickness_from != ThicknessFrom::highest_level && carvesOnly(survey)) {
    stock.size_mm.z = std::ceil(stock.size_mm.z) + usual_floor_mm;
    stock.thickness_from = ThicknessFrom::no_through_bit;
  }
  if (told) stock.size_mm = *told;
  if (!told && survey.cut.empty) stock.size_mm = survey.inches ? Vec3{101.6, 101.6, 12.7} : Vec3{100, 100, 12};
  stock.size_mm = {std::clamp(stock.size_mm.x, least_mm, max_mm), std::clamp(stock.size_mm.y, least_mm, max_mm),
                   std::clamp(stock.size_mm.z, least_mm, max_thickness_mm)};
  for (SetupGuess& s : setups) {
    for (ZeroGuess* zero : {&s.zero_x, &s.zero_y})
      zero->from_corner_mm = std::clamp(zero->from_corner_mm, -max_mm, max_mm);
  }
  return stock;
}

}  // namespace provecut::draft
