#include "tests/report/facts/modal_reader.h"

#include <algorithm>
#include <cctype>
#include <cmath>
#include <cstdlib>
#include <sstream>

namespace provecut::testing {

namespace {

constexpr std::string_view axes = "XYZ";

std::string wordText(char letter, double value) {
  std::ostringstream out;
  out.precision(15);
  out << letter << value;
  return out.str();
}

bool isCycle(const std::string& motion) {
  return motion == "G73" || (motion >= "G81" && motion <= "G89" && motion.size() == 3);
}

bool inches(const std::string& units) {
  return units == "G20" || units == "G70";
}

ReadWord rounded(ReadWord word) {
  return {word.first, std::round(word.second * 1e6) / 1e6};
}

// Without its comments, blanks and "/", in capitals.
std::string bare(std::string_view text) {
  std::string out;
  int depth = 0;
  for (const char c : text) {
    if (c == ';' && depth == 0) break;
    if (c == '(') ++depth;
    if (depth == 0 && !std::isspace(static_cast<unsigned char>(c)) && static_cast<unsigned char>(c) < 128)
      out += static_cast<char>(std::toupper(static_cast<unsigned char>(c)));
    if (c == ')' && depth > 0) --depth;
  }
  if (out.starts_with('/')) out.erase(0, 1);
  return out;
}

// The end of a value at `at`: a number, #…, or a bracketed expression.
std::size_t valueEnd(const std::string& text, std::size_t at) {
  while (at < text.size() && (text[at] == '#' || text[at] == '-' || text[at] == '+')) ++at;
  if (at < text.size() && text[at] == '[') {
    int depth = 0;
    do {
      depth += text[at] == '[' ? 1 : text[at] == ']' ? -1 : 0;
    } while (++at < text.size() && depth > 0);
    return at;
  }
  while (at < text.size() && (std::isdigit(static_cast<unsigned char>(text[at])) || text[at] == '.')) ++at;
  const bool exponent = at + 1 < text.size() && text[at] == 'E' &&
                        (std::isdigit(static_cast<unsigned char>(text[at + 1])) || text[at + 1] == '-');
  return exponent ? valueEnd(text, at + 1) : at;
}

}  // namespace

ReadWord readWord(const std::string& word) {
  return rounded({word[0], std::strtod(word.c_str() + 1, nullptr)});
}

bool ModalReader::Line::has(double g) const {
  return std::find(words.begin(), words.end(), ReadWord{'G', g}) != words.end();
}
bool ModalReader::Line::hasM(double m) const {
  return std::find(words.begin(), words.end(), ReadWord{'M', m}) != words.end();
}
double ModalReader::Line::value(char letter) const {
  double value = 0;
  for (const auto& [l, v] : words) value = l == letter ? v : value;
  return value;
}

ModalReader::Line ModalReader::parse(std::string_view text, bool& branches) {
  Line line;
  const std::string s = bare(text);
  if (s.starts_with('O') && s.find_first_not_of("0123456789", 1) != std::string::npos) branches = true;
  for (std::size_t at = 0; at < s.size();) {
    const char letter = s[at];
    const std::size_t end = std::max(valueEnd(s, at + (letter == '#' ? 0 : 1)), at + 1);
    const std::string value = s.substr(at + 1, end - at - 1);
    if (letter == '#' && end < s.size() && s[end] == '=') {
      line.sets.push_back(std::atoi(value.c_str()));
      at = end + 1;
      const std::size_t last = valueEnd(s, at);
      line.words.emplace_back('#', line.sets.back());
      for (; at < last; ++at) {
        if (s[at] == '#') line.reads.push_back(std::atoi(s.c_str() + at + 1));
      }
      continue;
    }
    for (std::size_t p = 0; p < value.size(); ++p) {
      if (value[p] != '#') continue;
      line.reads.push_back(std::atoi(value.c_str() + p + 1));
      branches |= p + 1 < value.size() && !std::isdigit(static_cast<unsigned char>(value[p + 1]));
    }
    if (std::isalpha(static_cast<unsigned char>(letter)) && letter != 'N' && letter != 'O' && !value.empty()) {
      const double number = std::strtod(value.c_str(), nullptr);
      line.words.emplace_back(letter, number);
      line.letters.insert(letter);
    }
    at = end;
  }
  branches |= line.hasM(98) || line.hasM(99);
  return line;
}

// One line in the order of Table 8. `search`: where looking from a line on, else null.
struct ModalReader::Step {
  const ModalReader& program;
  const Line& line;
  State& state;
  Search* search;
  std::set<std::string>* groups;

  void use(const std::string& what) const {
    if (search != nullptr && search->decided.insert(what).second) search->needed.insert(what);
  }
  void lose(const std::string& what) const {
    if (search != nullptr) search->decided.insert(what);
  }
  void set(const std::string& group, const std::string& words) const {
    lose(group);
    state.in_force[group] = words;
    if (groups != nullptr) groups->insert(group);
  }
  std::string now(const std::string& group, const std::string& otherwise = "") const {
    const auto found = state.in_force.find(group);
    return found == state.in_force.end() ? otherwise : found->second;
  }
  double unit_mm() const { return inches(now("units")) ? 25.4 : 1; }
  bool absolute() const { return now("distance") != "G91"; }
  // Sets the group to the one of these codes that the line has.
  void setCode(const std::string& group, std::initializer_list<double> codes) const {
    for (const double g : codes) {
      if (line.has(g)) set(group, wordText('G', g));
    }
  }

  void parameters() const {
    for (const int n : line.reads) use("#" + std::to_string(n));
    for (const int n : line.sets) {
      set("#" + std::to_string(n), "#" + std::to_string(n));
      if (n > 5000) state.zero_moved = true;
    }
  }

  void feedSpeedTool() const {
    for (const double g : {93.0, 94.0, 95.0}) {
      if (!line.has(g)) continue;
      if (now("feed mode", "G94") != wordText('G', g)) {
        lose("feed");
        state.in_force.erase("feed");
      }
      set("feed mode", wordText('G', g));
    }
    if (line.has('F')) set("feed", wordText('F', line.value('F')));
    if (line.has('S')) set("speed", wordText('S', line.value('S')));
    if (line.has('T') && program.changes_tools_) set("selected tool", wordText('T', line.value('T')));
    if (line.hasM(6)) {
      use("selected tool");
      lose("spindle");
      state.in_force["spindle"] = "M5";
    }
  }

  void switches() const {
    for (const double m : {3.0, 4.0, 5.0}) {
      if (!line.hasM(m)) continue;
      set("spindle", wordText('M', m));
      if (m != 5) use("speed");
    }
    const std::string before = now("coolant", "M9");
    const auto on = [&](double m) { return line.hasM(m); };
    const bool mist = before.find("M7") != std::string::npos, flood = before.find("M8") != std::string::npos;
    if (on(9)) {
      set("coolant", "M9");
    } else if (on(7) || on(8)) {
      if ((mist && !on(7)) || (flood && !on(8))) use("coolant");
      const bool m7 = mist || on(7), m8 = flood || on(8);
      set("coolant", m7 && m8 ? "M7 M8" : m7 ? "M7" : "M8");
    }
    if (on(48)) set("overrides", "M48");
    if (on(49)) set("overrides", "M49");
  }

  void modes() const {
    setCode("plane", {17, 18, 19});
    setCode("units", {20, 21, 70, 71});
    if (line.has(41.0) || line.has(42.0)) {
      use("compensation");
      use("plane");
    }
    setCode("compensation", {40, 41, 42});
    if (line.has(43.0)) set("length", line.has('H') ? "G43 " + wordText('H', line.value('H')) : "G43");
    setCode("length", {49});
    setCode("work offset", {54, 55, 56, 57, 58, 59, 59.1, 59.2, 59.3});
    setCode("path", {61, 61.1, 64});
    if (line.has(64.0) && line.has('P')) {
      use("units");
      // The length stays, whatever unit comes into force.
      set("path", "G64 " + wordText('P', line.value('P') * unit_mm()));
    }
    setCode("distance", {90, 91});
    setCode("arc centre", {90.1, 91.1});
    setCode("return", {98, 99});
  }

  bool hasAxis() const {
    return std::any_of(axes.begin(), axes.end(), [&](char a) { return line.has(a); });
  }
  void axisWords() const {
    if (!hasAxis()) return;
    use("units");
    use("distance");
    if (!absolute()) return;
    use("work offset");
    if (line.has('Z')) use("length");
    for (const char a : axes) {
      if (line.has(a)) state.known.insert(a);
    }
  }
  void travel() const {
    use("path");
    use("compensation");
  }
  void cutting() const {
    for (const char* what : {"feed", "feed mode", "spindle", "coolant", "overrides"}) use(what);
    if (now("spindle", "M5") != "M5" || now("feed mode") == "G95") use("speed");
  }

  // True where the axis words belong to one of them.
  bool offsets() const {
    if (line.has(28.0) || line.has(30.0)) {
      use("units");
      axisWords();
      travel();
      for (const char a : axes) {
        if ((line.has(a) || !hasAxis()) && a != 'Z') state.known.erase(a);
      }
      if (line.has('Z') || !hasAxis()) state.known.insert('Z');
      return true;
    }
    const bool shifts = line.has(92.0) || line.has(92.1) || line.has(92.2) || line.has(92.3);
    if (line.has(10.0) || shifts) {
      state.zero_moved = true;
      if (!shifts || line.has(92.0)) use("units");
      if (line.has(92.0)) use("work offset");
      for (const char a : axes) {
        if (line.has(92.0) && line.has(a)) state.known.insert(a);
      }
      return line.has(10.0) || line.has(92.0);
    }
    return false;
  }

  void cycle() const {
    for (const char* what : {"units", "plane", "distance", "return"}) use(what);
    axisWords();
    const std::string plane = now("plane", "G17"), code = now("motion");
    const char normal = plane == "G17" ? 'Z' : plane == "G18" ? 'Y' : 'X';
    if (absolute()) {
      use("work offset");
      if (normal == 'Z') use("length");
      state.known.insert(normal);
    }
    std::string keeps = std::string("R") + normal;
    if (code == "G82" || code == "G86" || code == "G88" || code == "G89") keeps += 'P';
    if (code == "G83" || code == "G73") keeps += 'Q';
    for (const char letter : keeps) {
      const std::string what = std::string("cycle ") + letter;
      if (line.has(letter)) {
        lose(what);
      } else {
        use(what);
      }
    }
    cutting();
    travel();
  }

  void move(const std::string& code) const {
    if (isCycle(code)) return cycle();
    axisWords();
    if (code == "G80") return;
    travel();
    if (code == "G0") return;
    cutting();
    if (code != "G2" && code != "G3") return;
    use("units");
    use("plane");
    const std::string plane = now("plane", "G17");
    const std::string centre = plane == "G17" ? "IJ" : plane == "G18" ? "IK" : "JK";
    if (line.has('R') || std::none_of(centre.begin(), centre.end(), [&](char c) { return line.has(c); })) return;
    use("arc centre");
    if (now("arc centre") == "G90.1") use("work offset");
  }

  void motion() const {
    const bool taken = offsets();
    std::string code;
    for (const auto& [letter, g] : line.words) {
      const bool is_motion =
          letter == 'G' && (g == 0 || g == 1 || g == 2 || g == 3 || g == 38.2 || g == 73 || (g >= 80 && g <= 89));
      // "G0 G40 G80": G80 ends a cycle, and the other code comes into force.
      if (is_motion && (code.empty() || g != 80)) code = wordText('G', g);
    }
    if (!code.empty()) {
      if (code != now("motion")) {
        for (const char letter : std::string("RXYZPQ")) lose(std::string("cycle ") + letter);
      }
      set("motion", code);
    }
    if (code == "G38.2") state.zero_moved = true;
    if (taken) return;
    const std::string in_force = now("motion", "G80");
    const bool arc = in_force == "G2" || in_force == "G3";
    const bool centre = line.has('I') || line.has('J') || line.has('K') || line.has('R');
    if (line.has(53.0)) {
      use("motion");
      if (!hasAxis()) return;
      use("units");
      travel();
      if (in_force == "G1") cutting();
      if (line.has('X')) state.known.erase('X');
      if (line.has('Y')) state.known.erase('Y');
      if (line.has('Z')) state.known.insert('Z');
    } else if (hasAxis() || (arc && centre)) {
      use("motion");
      move(in_force);
    }
  }

  void run() const {
    parameters();
    feedSpeedTool();
    switches();
    modes();
    motion();
  }
};

ModalReader::ModalReader(std::string_view text) {
  std::string lines(text);
  // CR LF, CR and LF end a line alike.
  for (std::size_t at = 0; (at = lines.find('\r', at)) != std::string::npos;) {
    if (at + 1 < lines.size() && lines[at + 1] == '\n') {
      lines.erase(at, 1);
    } else {
      lines[at] = '\n';
    }
  }
  std::istringstream in(lines);
  bool ended = false, words = false;
  for (std::string row; std::getline(in, row);) {
    lines_.push_back(parse(row, branches_));
    const Line& line = lines_.back();
    if (ended) continue;
    end_ = lines_.size();
    changes_tools_ |= line.hasM(6);
    ended = line.hasM(2) || line.hasM(30) || (bare(row).starts_with('%') && words);
    words |= !line.words.empty();
  }
  State state;
  for (std::size_t i = 0; i < end_; ++i) Step{*this, lines_[i], state, nullptr, &groups_}.run();
}

ModalReading ModalReader::before(std::size_t number) const {
  State state;
  for (std::size_t i = 0; i + 1 < number; ++i) Step{*this, lines_[i], state, nullptr, nullptr}.run();
  ModalReading reading;
  reading.zero_moved = state.zero_moved;
  State later = state;
  Search search;
  for (std::size_t i = number - 1; i < end_; ++i) Step{*this, lines_[i], later, &search, nullptr}.run();
  const auto needs = [&](const std::string& what) { return search.needed.contains(what); };
  // What the standard has at the start (NISTIR 6556 2.2, Table 10); the rest is not known before it is set.
  const std::map<std::string, std::string> at_start{{"units", "G21"},  {"distance", "G90"},     {"arc centre", "G91.1"},
                                                    {"plane", "G17"},  {"feed mode", "G94"},    {"spindle", "M5"},
                                                    {"coolant", "M9"}, {"work offset", "G54"},  {"length", "G49"},
                                                    {"return", "G98"}, {"compensation", "G40"}, {"motion", "G80"}};
  const auto words = [&](const std::string& group) {
    if (const auto set = state.in_force.find(group); set != state.in_force.end()) return set->second;
    const auto start = at_start.find(group);
    return start == at_start.end() ? std::string() : start->second;
  };
  const std::string motion = words("motion"), compensation = words("compensation");
  if (needs("compensation") && compensation != "G40") reading.bar = "compensation";
  for (const char letter : std::string("RXYZPQ")) {
    if (needs(std::string("cycle ") + letter)) reading.bar = "cycle";
  }
  if (needs("motion") && isCycle(motion)) reading.bar = "cycle";
  if (needs("motion") && motion == "G80") reading.bar = "mode";
  if (state.known.size() < 3) reading.bar = "position";
  // F is nothing without its unit and its mode, a tolerance nothing without its unit.
  if (needs("feed") && !words("feed").empty()) search.needed.insert({"units", "feed mode"});
  if (needs("path") && words("path").find('P') != std::string::npos) search.needed.insert("units");
  for (const std::string& what : search.needed) {
    if (!groups_.contains(what) || (what == "feed" && words("feed mode") == "G93")) continue;
    std::istringstream cut(words(what));
    for (std::string word; cut >> word;) {
      ReadWord read{word[0], std::strtod(word.c_str() + 1, nullptr)};
      if (read.first == 'P' && inches(words("units"))) read.second /= 25.4;
      reading.words.insert(rounded(read));
    }
  }
  return reading;
}

}  // namespace provecut::testing
