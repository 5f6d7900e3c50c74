// [[hold_down]]: one footprint each, and what each kind needs.
//
// Defaults: the top of tape, glue or a vacuum is the stock's underside; a pin has its top from depth_in_stock or its
// depth_in_stock from its top.
#include "parser/job/job_words.h"
#include "parser/job/outline_check.h"
#include "parser/job_file/job_file_keys.h"

namespace provecut::job_file {

namespace {

constexpr std::string_view hold_down_section = "[[hold_down]]";

const std::vector<Key<HoldDown>>& holdDownKeys() {
  static const std::vector<Key<HoldDown>> keys{
      required(text("name", &HoldDown::name), "`name = \"screw SW\"`"),
      required(word("kind", &HoldDown::kind, holdDownWords()), "`kind = \"screw\"`"),
      pair("at", &HoldDown::at_mm, lengths, any),
      number("diameter", &HoldDown::diameter_mm, lengths, positive),
      pair("size", &HoldDown::size_mm, lengths, positive),
      number("angle", &HoldDown::angle_deg, angles, any),
      points("outline", &HoldDown::outline_mm),
      number("top", &HoldDown::top_mm, lengths, any),
      number("shaft_diameter", &HoldDown::shaft_diameter_mm, lengths, positive),
      number("length", &HoldDown::length_mm, lengths, positive),
      number("depth_in_stock", &HoldDown::depth_in_stock_mm, lengths, positive),
  };
  return keys;
}

// One table of the job file and what messages call it. Each check looks only at keys that are there, and reads on where
// a mistake was made.
struct Given {
  Reader& reader;
  const Node& table;
  std::string whose;
};

void forbid(const Given& given, std::string_view key, const std::string& why, const std::string& help) {
  if (const Entry* e = findEntry(given.table, key))
    given.reader.fail(e->place, given.whose + " has `" + std::string(key) + "`: " + why, help);
}

void need(const Given& given, std::string_view key, const std::string& help) {
  if (!findEntry(given.table, key))
    given.reader.fail(given.table.place, given.whose + " has no `" + std::string(key) + "`", help);
}

// `value`: the outline as the file has it. Puts the hold-down in the middle of it.
void checkOutline(const Given& given, const Node& value, HoldDown& hold_down) {
  auto& points = hold_down.outline_mm;
  if (points.size() > 1 && points.front() == points.back()) points.pop_back();  // closed by hand
  if (points.size() < 3) {
    given.reader.fail(value.place, "`outline` of " + given.whose + " has fewer than 3 corners",
                      "Give at least 3 different points.");
    return;
  }
  if (const auto edges = crossingEdges(points)) {
    const auto corner = [&](std::size_t i) { return std::to_string(i % points.size() + 1); };
    given.reader.fail(
        value.items[edges->second].place,
        "`outline` of " + given.whose + " crosses or touches itself: edge " + corner(edges->second) + "–" +
            corner(edges->second + 1) + " meets edge " + corner(edges->first) + "–" + corner(edges->first + 1),
        "List the corners in order around it.", {{value.items[edges->first].place, "the other edge starts here"}});
    return;
  }
  SetupPoint2 low = points.front(), high = low;
  for (const SetupPoint2 p : points) {
    low = {std::min(low.x, p.x), std::min(low.y, p.y)};
    high = {std::max(high.x, p.x), std::max(high.y, p.y)};
  }
  hold_down.at_mm = middle(low, high);
}

void checkFootprint(const Given& given, HoldDown& hold_down) {
  std::vector<const Entry*> forms;
  for (const std::string_view key : {"diameter", "size", "outline"}) {
    if (const Entry* e = findEntry(given.table, key)) forms.push_back(e);
  }
  if (forms.empty()) {
    given.reader.fail(given.table.place, given.whose + " has no size",
                      "Add `diameter` for a round one, or `size` or `outline`.");
    return;
  }
  if (forms.size() > 1) {
    given.reader.fail(forms[1]->place, given.whose + " has both `" + forms[0]->key + "` and `" + forms[1]->key + "`",
                      "Keep one of `diameter`, `size` and `outline`.", {{forms[0]->place, "the other one"}});
    return;
  }
  if (forms[0]->key == "outline") {
    forbid(given, "at", "an outline already says where it is",
           "Delete `at`. An outline's points count from the stock's front left corner.");
    forbid(given, "angle", "an outline cannot be rotated", "Delete `angle`, or give a `size`.");
    checkOutline(given, forms[0]->value, hold_down);
  } else {
    need(given, "at", "Add `at = [20, 15]`: its centre, from the stock's front left corner.");
  }
}

void checkShaft(const Given& given, const HoldDown& screw) {
  if (screw.shaft_diameter_mm > 0 && screw.diameter_mm > 0 && screw.shaft_diameter_mm > screw.diameter_mm) {
    given.reader.fail(findEntry(given.table, "shaft_diameter")->value.place,
                      given.whose + " has a shaft thicker than its head",
                      "`diameter` is the head, `shaft_diameter` the hole that the screw leaves.");
  }
}

// What each kind needs, and what it cannot have.
void checkKind(const Given& given, const HoldDown& hold_down) {
  if (hold_down.kind != HoldDownKind::screw)
    forbid(given, "shaft_diameter", "only a screw has a shaft", "Delete the line.");
  if (hold_down.kind != HoldDownKind::screw) forbid(given, "length", "only a screw has one", "Delete the line.");
  if (hold_down.kind != HoldDownKind::pin) forbid(given, "depth_in_stock", "only a pin has one", "Delete the line.");
  switch (hold_down.kind) {
    case HoldDownKind::tape:
      forbid(given, "top", "tape is under the stock", "Delete the line.");
      forbid(given, "diameter", "tape is a strip", "Give `size`.");
      forbid(given, "outline", "tape is a strip", "Give `size` and `at`.");
      break;
    case HoldDownKind::glue:
    case HoldDownKind::vacuum:
      forbid(given, "top", std::string(wordOf(hold_down.kind)) + " is under the stock", "Delete the line.");
      break;
    case HoldDownKind::pin:
      if (!findEntry(given.table, "top"))
        need(given, "depth_in_stock", "Say how far it reaches up into the stock, or give its `top`.");
      break;
    case HoldDownKind::screw:
      need(given, "top", "Add `top`: its height above the stock's top face.");
      checkShaft(given, hold_down);
      break;
    case HoldDownKind::clamp:
    case HoldDownKind::vise:
    case HoldDownKind::side_clamp:
    case HoldDownKind::other:
      need(given, "top", "Add `top`: its height above the stock's top face.");
      break;
  }
}

}  // namespace

void readHoldDowns(Reader& reader, const Spot& spot, Job& job) {
  for (const Node* table : tablesOf(reader, spot, hold_down_section)) {
    HoldDown hold_down;
    hold_down.place = table->place;
    const bool good = readTable(reader, *table, hold_down_section, "hold_down", holdDownKeys(), hold_down);
    const auto first = std::find_if(job.hold_downs.begin(), job.hold_downs.end(),
                                    [&](const HoldDown& h) { return !h.name.empty() && h.name == hold_down.name; });
    if (first != job.hold_downs.end()) {
      reader.fail(findEntry(*table, "name")->value.place, "there are two hold-downs named " + quoted(hold_down.name),
                  "Give each [[hold_down]] its own name.", {{first->place, "the first one"}});
    }
    if (good) {
      const Given given{reader, *table, "hold-down " + quoted(hold_down.name)};
      checkFootprint(given, hold_down);
      checkKind(given, hold_down);
    }
    // What is missing is filled in from the stock once that is known: see checkHoldDowns().
    if (!findEntry(*table, "top")) hold_down.top_mm = -std::numeric_limits<double>::infinity();
    job.hold_downs.push_back(std::move(hold_down));
  }
}

void checkHoldDowns(Reader& reader, Job& job) {
  double highest_lift = 0;
  for (const Setup& s : job.setups) highest_lift = std::max(highest_lift, s.lift_mm);
  const double thickness = job.stock.size_mm.z, factor = reader.factor(lengths);
  for (HoldDown& h : job.hold_downs) {
    const bool top_given = h.top_mm != -std::numeric_limits<double>::infinity();
    if (!top_given) h.top_mm = (isObstacle(h) ? h.depth_in_stock_mm : 0) - thickness;
    if (h.kind == HoldDownKind::pin && h.depth_in_stock_mm == 0) {
      h.depth_in_stock_mm = std::clamp(thickness + h.top_mm, 0.0, thickness);
    }
    if (!isObstacle(h)) continue;
    if (h.top_mm <= -(thickness + highest_lift)) {
      reader.fail(h.place,
                  "hold-down " + quoted(h.name) + " has its top " + shown(-h.top_mm / factor, reader.unit(lengths)) +
                      " below the stock's top face: that is not above the spoilboard",
                  "`top` is measured from the stock's top face, up is positive.");
    }
  }
}

void listHoldDownKeys(std::vector<KnownKey>& known) {
  list(known, "hold_down", holdDownKeys());
}

}  // namespace provecut::job_file
