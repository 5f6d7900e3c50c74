#include "tests/report/facts/random_program.h"

#include <array>

namespace provecut::testing {

namespace {

struct Writer {
  std::mt19937& random;
  std::string text;
  bool parameters = false, compensation = false;

  int below(int n) { return static_cast<int>(random() % static_cast<unsigned>(n)); }
  bool chance(int n) { return below(n) == 0; }
  template <typename... Choices>
  std::string pick(Choices... choices) {
    const std::array<std::string, sizeof...(choices)> all{choices...};
    return all[static_cast<std::size_t>(below(sizeof...(choices)))];
  }
  std::string number(int most) {
    if (parameters && chance(4)) return pick("#2", "[#3+1]", "#4");
    return std::to_string(1 + below(most)) + pick("", ".5", ".25");
  }
  void say(const std::string& line) { text += line + "\n"; }
};

void header(Writer& w) {
  w.say(w.pick("G21", "G20", "G71", "") + w.pick(" G90", " G91", "") + w.pick(" G17", "") + w.pick(" G94", "") +
        w.pick(" G54", "") + w.pick(" G40 G49 G80", ""));
  if (w.parameters) w.say("#2=1.5 #3=[#2*2]\n#4=3");
}

// A word that changes a mode, alone or before a move.
std::string mode(Writer& w) {
  switch (w.below(16)) {
    case 0:
      return w.pick("G20", "G21");
    case 1:
      return w.pick("G90", "G91");
    case 2:
      return w.pick("G17", "G18", "G19");
    case 3:
      return w.pick("G94", "G95", "G94");
    case 4:
      return w.pick("G54", "G55", "G59.1");
    case 5:
      return w.pick("G61", "G61.1", "G64", "G64 P0.02");
    case 6:
      return w.pick("G98", "G99");
    case 7:
      return w.pick("M7", "M8", "M9");
    case 8:
      return w.pick("M48", "M49");
    case 9:
      return w.pick("G43 H1", "G43", "G49");
    case 10:
      return w.pick("G90.1", "G91.1");
    case 11:
      return "S" + std::to_string(1000 * (1 + w.below(20))) + w.pick("", " M3", " M4");
    case 12:
      return w.pick("M3", "M5");
    case 13:
      return "T" + std::to_string(1 + w.below(4));
    case 14:
      return w.parameters ? w.pick("#2=2.5", "#3=[#2+1]", "#4=#3") : "";
    default:
      return "F" + std::to_string(100 + w.below(900));
  }
}

void drill(Writer& w) {
  w.say(w.pick("G81", "G82 P0.5", "G83 Q2", "G85") + " X" + w.number(9) + " Y" + w.number(9) + " Z-3 R2" +
        w.pick("", " F120"));
  for (int i = w.below(3); i > 0; --i) w.say("X" + w.number(50) + w.pick("", " Y" + w.number(9), " R3", " Z-4"));
  if (w.chance(3)) w.say("G81 X" + w.number(9));
  if (w.chance(2)) w.say("G80");
  w.say("G0 X" + w.number(9));
}

void compensated(Writer& w) {
  w.say("G17 G90\nG0 Z9\nG41 D1\nG1 X30 Y30\nX60\nY60\nG40\nG0 Z9");
}

void part(Writer& w) {
  for (int i = 2 + w.below(5); i > 0; --i) {
    std::string line = w.chance(2) ? mode(w) + " " : "";
    if (w.chance(4)) {
      w.say(mode(w));
      continue;
    }
    switch (w.below(9)) {
      case 0:
      case 1:
        w.say(line + "G0 X" + w.number(50) + " Y" + w.number(50));
        break;
      case 2:
        w.say(line + "G1 Z-" + w.number(4));
        break;
      case 3:
        w.say(line + "G1 X" + w.number(50) + w.pick("", " F333"));
        break;
      case 4:
        w.say(line + "Y" + w.number(50));
        break;
      case 5:
        w.say(line + w.pick("G2 I5 J1 K1", "G3 I1 J4 K2"));
        break;
      case 6:
        drill(w);
        break;
      case 7:
        if (w.compensation) compensated(w);
        break;
      default:
        w.say("G0 Z" + std::to_string(20 + w.below(9)));
        w.say(line + "G0 X" + w.number(50));
        break;
    }
  }
  if (w.chance(3)) w.say("M5\n" + w.pick("T2 M6", "T3\nM6", "M6") + "\nS8000\nM3");
  if (w.chance(6)) w.say("G93\nG1 X" + w.number(20) + " F5\nG94" + w.pick("", " F200"));
  if (w.chance(8)) w.say(w.pick("G53 G0 Z0", "G28 Z30", "G91 G28 Z0\nG90"));
  w.say("G0 Z25");
  if (w.chance(2)) w.say("X" + w.number(30));
}

}  // namespace

std::string randomProgram(std::mt19937& random) {
  Writer w{random, {}, false, false};
  w.parameters = w.chance(3);
  const bool subs = w.chance(6), offsets = w.chance(4);
  w.compensation = w.chance(3);
  if (w.chance(2)) w.say("%");
  if (w.chance(4) == false) header(w);
  if (subs) w.say("O7 sub\nG91\nG1 X#1\nG90\nO7 endsub");
  w.say("T1 M6\nS9000 M3\nG0 X1 Y2 Z20");
  const int parts = 3 + w.below(6);
  for (int i = 0; i < parts; ++i) {
    part(w);
    if (subs && w.chance(2)) w.say("O7 call [2]");
    if (subs && w.chance(3)) w.say("O8 repeat [2]\nG0 X5\nG1 X6\nO8 endrepeat");
    if (offsets && w.chance(2))
      w.say(w.pick("G92 X3", "G92 X0 Y0 Z20", "G92.1", "G10 L2 P2 X5 Y5 Z0", "G10 L20 P1 X4"));
  }
  w.say("M5 M9\nG0 Z30\nM30");
  return w.text;
}

}  // namespace provecut::testing
