// The maxOf value of a concave function by golden section.
#pragma once

namespace provecut {

struct Max {
  double value = 0, at = 0;
};

// On [a, b], which is narrowed until it is no wider than `width`.
template <class Function>
Max maxOfConcave(const Function& g, double a, double b, double width) {
  constexpr double golden = 0.61803398874989485;
  double c = b - golden * (b - a), d = a + golden * (b - a);
  double ga = g(a), gb = g(b), gc = g(c), gd = g(d);
  Max best = ga >= gb ? Max{ga, a} : Max{gb, b};
  for (int i = 0; i < 80 && b - a > width; ++i) {
    if (gc >= gd) {
      b = d;
      d = c;
      gd = gc;
      c = b - golden * (b - a);
      gc = g(c);
    } else {
      a = c;
      c = d;
      gc = gd;
      d = a + golden * (b - a);
      gd = g(d);
    }
  }
  if (gc > best.value) best = {gc, c};
  if (gd > best.value) best = {gd, d};
  return best;
}

}  // namespace provecut
