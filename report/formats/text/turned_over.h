// How the stock is turned from one setup to the next.
#pragma once

#include <string_view>

#include "parser/job/job.h"

namespace provecut {

// "left to right" or "front to back", where one flip leads from `before` to `setup`; else empty.
inline std::string_view turnedOver(const Setup& before, const Setup& setup) {
  const bool from_face_up = before.flip == Flip::none && before.rotate_deg == 0;
  if (!from_face_up || setup.flip == Flip::none || setup.rotate_deg != 0) return {};
  return setup.flip == Flip::left_right ? "left to right" : "front to back";
}

}  // namespace provecut
