// Lines that are no G-code but a controller's own: messages, logs, settings, branches and calls of other languages.
// Recognised by their shape.
#pragma once

#include <cstdint>
#include <string_view>

namespace provecut {

enum class StatementKind : std::uint8_t {
  none,
  text,    // a message, a log, a setting: moves nothing
  homing,  // "$H": all axes go home
  moves,   // may move the machine or change what runs: "$J=X10", "IF [#1 GT 5] GOTO 20", "CYCLE83(…)"
};

struct ScannedStatement {
  StatementKind kind = StatementKind::none;
  const char* begin = nullptr;  // what is before it on the line is G-code
  const char* end = nullptr;
};

ScannedStatement scanStatement(const char* first, const char* last);

}  // namespace provecut
