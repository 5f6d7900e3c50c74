// [[tool]], [collet_nut] and [[spindle_attachment]]: keys, defaults, and what each shape needs.
//
// Defaults of a tool: flutes 2; angle 118 for a drill; center_cutting true, false for surfacing; flute_length
// 3 diameters (the tip's own height where that is more; a form's profile), but not above the stickout;
// stickout flute_length + 10 mm; shank_diameter = diameter, for a form twice the radius at the profile's
// upper end.
#include <cmath>
#include <numbers>

#include "parser/job/job_words.h"
#include "parser/job_file/job_file_keys.h"

namespace provecut::job_file {

namespace {

constexpr std::string_view tool_section = "[[tool]]";
constexpr double drill_angle_deg = 118;  // the usual jobber drill; common practice, no source
constexpr double stickout_beyond_flutes_mm = 10;

const std::vector<Key<Tool>>& toolKeys() {
  constexpr Range whole_angle{0, 180, true, true}, half_angle{0, 90, true, true};
  static const std::vector<Key<Tool>> keys{
      unconfirmedKey<Tool>("tool"),
      required(whole("number", &Tool::number, Range{1}), "`number = 1`: its T number"),
      text("name", &Tool::name),
      required(word("shape", &Tool::shape, shapeWords()), "`shape = \"flat\"`"),
      number("diameter", &Tool::diameter_mm, lengths, positive),
      number("corner_radius", &Tool::corner_radius_mm, lengths, positive),
      number("angle", &Tool::angle_deg, angles, whole_angle),
      number("taper", &Tool::taper_deg, angles, half_angle),
      number("tip_diameter", &Tool::tip_diameter_mm, lengths, not_negative),
      number("tip_radius", &Tool::tip_radius_mm, lengths, positive),
      points("profile", &Tool::profile_mm),
      whole("flutes", &Tool::flutes, Range{1, 100}),
      number("flute_length", &Tool::flute_length_mm, lengths, positive),
      number("shank_diameter", &Tool::shank_diameter_mm, lengths, positive),
      number("stickout", &Tool::stickout_mm, lengths, positive),
      number("overall_length", &Tool::overall_length_mm, lengths, positive),
      flag("center_cutting", &Tool::center_cutting),
      number("max_stepdown", &Tool::max_stepdown_mm, lengths, positive),
      number("up_cut_length", &Tool::up_cut_length_mm, lengths, positive),
      number("plunge_feed", &Tool::plunge_feed_mm_min, rates, positive),
      number("max_rpm", &Tool::max_rpm, rotations, positive),
      number("rpm", &Tool::rpm, rotations, positive),
      span<Tool>("chip_load", lengths, not_negative,
                 [](Tool& t, double low, double high) {
                   t.chip_load_mm = Vec2{low, high};
                 }),
  };
  return keys;
}

const std::vector<Key<ColletNut>>& nutKeys() {
  static const std::vector<Key<ColletNut>> keys{
      unconfirmedKey<ColletNut>("collet_nut"),
      number("diameter", &ColletNut::diameter_mm, lengths, positive),
      number("length", &ColletNut::length_mm, lengths, positive),
      number("spindle_diameter", &ColletNut::spindle_diameter_mm, lengths, positive),
  };
  return keys;
}

const std::vector<Key<SpindleAttachment>>& attachmentKeys() {
  static const std::vector<Key<SpindleAttachment>> keys{
      required(text("name", &SpindleAttachment::name), "`name = \"dust shoe\"`"),
      required(number("diameter", &SpindleAttachment::diameter_mm, lengths, positive), "`diameter = 100`"),
      required(number("bottom", &SpindleAttachment::bottom_mm, lengths, any),
               "`bottom = -6`: its lower end, from the collet nut's face; down is negative"),
      required(number("top", &SpindleAttachment::top_mm, lengths, any),
               "`top = 40`: its upper end, from the collet nut's face"),
      pair("offset", &SpindleAttachment::offset_mm, lengths, any),
  };
  return keys;
}

// A key that only some shapes have.
struct ShapeKey {
  std::string_view key;
  std::vector<ToolShape> shapes;
  bool needed = true;
};

const std::vector<ShapeKey>& shapeKeys() {
  using enum ToolShape;
  static const std::vector<ShapeKey> keys{
      {"corner_radius", {bull}},      {"angle", {vee, drill}, false}, {"taper", {taper_ball}},
      {"tip_diameter", {vee}, false}, {"tip_radius", {taper_ball}},   {"profile", {form}},
  };
  return keys;
}

std::string toolName(const Tool& tool) {
  return "tool " + std::to_string(tool.number) + " (" + std::string(wordOf(tool.shape)) + ")";
}

// "bull tool", "vee or drill"
std::string shapesText(const std::vector<ToolShape>& shapes) {
  std::string text(wordOf(shapes.front()));
  for (std::size_t i = 1; i < shapes.size(); ++i) text += " or " + std::string(wordOf(shapes[i]));
  return shapes.size() == 1 ? text + " tool" : text;
}

void checkShapeKeys(Reader& reader, const Node& table, std::string_view written_as, const Tool& tool) {
  for (const ShapeKey& rule : shapeKeys()) {
    const bool belongs = std::find(rule.shapes.begin(), rule.shapes.end(), tool.shape) != rule.shapes.end();
    const Entry* entry = findEntry(table, rule.key);
    const bool needed = belongs && (rule.needed || tool.shape == ToolShape::vee) && rule.key != "tip_diameter";
    const std::string key = std::string("`").append(rule.key) + "`";
    if (entry && !belongs) {
      reader.fail(entry->place, toolName(tool) + " has " + key + "; only a " + shapesText(rule.shapes) + " has one",
                  "Delete the line, or change `shape`.");
    } else if (!entry && needed) {
      reader.fail(table.place, toolName(tool) + " has no " + key,
                  "Add " + key + ": without it the tool's shape is unknown.");
    }
  }
  if (tool.shape != ToolShape::form && !findEntry(table, "diameter")) {
    const bool is_option = written_as.starts_with("--");
    reader.fail(table.place, std::string(written_as) + " has no `diameter`",
                is_option ? "Write it after the shape: 1=flat,6mm."
                          : "Add `diameter`, as measured; for example `diameter = 6`.");
  }
}

Place placeOf(const Node& table, std::string_view key) {
  const Entry* entry = findEntry(table, key);
  return entry ? entry->value.place : table.place;
}

void checkProfile(Reader& reader, const Node& table, Tool& tool) {
  const auto& points = tool.profile_mm;
  const Place place = placeOf(table, "profile");
  const std::string whose = "`profile` of " + toolName(tool);
  if (points.size() < 2) {
    reader.fail(place, whose + " has fewer than two points", "Give [radius, height] points from the tip up.");
    return;
  }
  double widest = 0;
  for (std::size_t i = 0; i < points.size(); ++i) {
    const Place point = findEntry(table, "profile")->value.items[i].place;
    if (points[i].x < 0)
      reader.fail(point, whose + " has a negative radius", "Give [radius, height] points, radius 0 or more.");
    if (i == 0 && points[i].y != 0)
      reader.fail(point, whose + " does not start at height 0", "Start at the tip: [radius, 0].");
    if (i > 0 && points[i].y < points[i - 1].y) {
      reader.fail(point, whose + " goes down again", "List the points from the tip up; equal heights are allowed.");
    }
    widest = std::max(widest, points[i].x);
  }
  if (points.back().y < lengths.min || 2 * widest < lengths.min) {
    reader.fail(place, whose + " has no height or no width", "Give [radius, height] points from the tip up.");
  }
  // A hundredth: a diameter written in rounded figures is the same diameter.
  if (tool.diameter_mm > 0 && std::abs(tool.diameter_mm - 2 * widest) > 0.01 * tool.diameter_mm) {
    const double factor = reader.factor(lengths);
    reader.fail(placeOf(table, "diameter"),
                toolName(tool) + " has diameter " + shown(tool.diameter_mm / factor, reader.unit(lengths)) +
                    " but its profile is " + shown(2 * widest / factor, reader.unit(lengths)) + " wide",
                "Delete `diameter`: a form tool takes it from its profile.");
  }
  tool.diameter_mm = 2 * widest;
}

void checkSizes(Reader& reader, const Node& table, const Tool& tool) {
  const auto checkAtMost = [&](std::string_view key, double value, double max, std::string_view max_name,
                               bool equal_is_fine) {
    if (equal_is_fine ? value <= max : value < max) return;
    const double factor = reader.factor(lengths);
    const std::string_view unit = reader.unit(lengths);
    reader.fail(
        placeOf(table, key),
        std::string("`").append(key) + "` of " + toolName(tool) + " is " + shown(value / factor, unit) +
            (equal_is_fine ? ", more than" : ", not less than") + " the tool's " + std::string(max_name) + " of " +
            shown(max / factor, unit),
        std::string("Make it ") + (equal_is_fine ? "at most " : "less than ") + shown(max / factor, unit) + ".");
  };
  checkAtMost("corner_radius", tool.corner_radius_mm, tool.diameter_mm / 2, "radius", true);
  checkAtMost("tip_radius", tool.tip_radius_mm, tool.diameter_mm / 2, "radius", true);
  if (tool.tip_diameter_mm > 0) checkAtMost("tip_diameter", tool.tip_diameter_mm, tool.diameter_mm, "diameter", false);
}

// Height at which the tool has reached its full diameter (geometry).
double tipHeight(const Tool& tool) {
  const auto radians = [](double degrees) { return degrees * std::numbers::pi / 180; };
  const double radius = tool.diameter_mm / 2;
  switch (tool.shape) {
    case ToolShape::ball:
      return radius;
    case ToolShape::bull:
      return tool.corner_radius_mm;
    case ToolShape::vee:
    case ToolShape::drill:
      return (radius - tool.tip_diameter_mm / 2) / std::tan(radians(tool.angle_deg) / 2);
    case ToolShape::taper_ball: {
      const double a = radians(tool.taper_deg), r = tool.tip_radius_mm;
      return r * (1 - std::sin(a)) + std::max(0.0, radius - r * std::cos(a)) / std::tan(a);
    }
    case ToolShape::form:
      return tool.profile_mm.back().y;
    case ToolShape::flat:
    case ToolShape::surfacing:
      return 0;
  }
  return 0;
}

void fillDefaults(const Reader& reader, const Node& table, Tool& tool) {
  if (tool.shape == ToolShape::drill && tool.angle_deg == 0) tool.angle_deg = drill_angle_deg;
  if (tool.shape == ToolShape::surfacing && !findEntry(table, "center_cutting")) tool.center_cutting = false;
  if (tool.flute_length_mm == 0) {
    const double tip = tipHeight(tool);
    tool.flute_length_mm = tool.shape == ToolShape::form ? tip : std::max(3 * tool.diameter_mm, tip);
    if (tool.stickout_mm > 0) tool.flute_length_mm = std::min(tool.flute_length_mm, tool.stickout_mm);
  }
  if (tool.stickout_mm == 0) tool.stickout_mm = tool.flute_length_mm + stickout_beyond_flutes_mm;
  if (tool.shank_diameter_mm == 0) {
    const bool has_neck = tool.shape == ToolShape::form && tool.profile_mm.back().x > 0;
    tool.shank_diameter_mm = has_neck ? 2 * tool.profile_mm.back().x : tool.diameter_mm;
  }
  if (tool.name.empty()) {
    tool.name =
        shown(tool.diameter_mm / reader.factor(lengths), reader.unit(lengths)) + " " + std::string(wordOf(tool.shape));
  }
}

}  // namespace

Tool readTool(Reader& reader, const Node& table, std::string_view written_as) {
  Tool tool;
  tool.place = table.place;
  const std::size_t before = reader.problems.size();
  const auto good = [&] { return reader.problems.size() == before; };
  readTable(reader, table, written_as, "tool", toolKeys(), tool);
  if (good()) checkShapeKeys(reader, table, written_as, tool);
  if (good() && tool.shape == ToolShape::form) checkProfile(reader, table, tool);
  if (good()) checkSizes(reader, table, tool);
  if (good()) fillDefaults(reader, table, tool);
  return tool;
}

void readTools(Reader& reader, const Spot& spot, Job& job) {
  for (const Node* table : tablesOf(reader, spot, tool_section)) {
    const std::size_t guesses = reader.unconfirmed.size();
    Tool tool = readTool(reader, *table, tool_section);
    nameUnconfirmed(reader, guesses, "tool " + std::to_string(tool.number));
    if (const Tool* first = tool.number > 0 ? findTool(job, tool.number) : nullptr) {
      reader.fail(placeOf(*table, "number"), "there are two tools with number " + std::to_string(tool.number),
                  "Give each [[tool]] its own number.", {{first->place, "the first one"}});
    }
    job.tools.push_back(std::move(tool));
  }
}

void readColletNut(Reader& reader, const Spot& spot, Job& job) {
  readTable(reader, spot.node, "[collet_nut]", "collet_nut", nutKeys(), job.collet_nut);
}

void readAttachments(Reader& reader, const Spot& spot, Job& job) {
  for (const Node* table : tablesOf(reader, spot, "[[spindle_attachment]]")) {
    SpindleAttachment body;
    if (readTable(reader, *table, "[[spindle_attachment]]", "spindle_attachment", attachmentKeys(), body)) {
      if (body.top_mm <= body.bottom_mm) {
        reader.fail(placeOf(*table, "top"), "`top` of " + quoted(body.name) + " is not above its `bottom`",
                    "Both are measured from the collet nut's face, up is positive. `top` is the higher one.");
      }
      const bool twice = std::any_of(job.spindle_attachments.begin(), job.spindle_attachments.end(),
                                     [&](const SpindleAttachment& c) { return c.name == body.name; });
      if (twice) {
        reader.fail(placeOf(*table, "name"), "there are two spindle attachments named " + quoted(body.name),
                    "Give each its own name.");
      }
    }
    job.spindle_attachments.push_back(std::move(body));
  }
}

void listToolKeys(std::vector<KnownKey>& known) {
  list(known, "tool", toolKeys());
  list(known, "collet_nut", nutKeys());
  list(known, "spindle_attachment", attachmentKeys());
}

}  // namespace provecut::job_file
