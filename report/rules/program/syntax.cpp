#include "report/rules/list.h"

namespace provecut {

namespace syntax {

constexpr std::string_view page = R"(## What it finds

Text that is not G-code: a letter without a number, two points in a number, a stray character. The rest of the line
and of the file is still read; the message says what was skipped.

## Why it matters

A machine stops at such a line, or reads it its own way. Then it does something other than what was checked.

## Example

    G1 X12..5 F1200

X has two decimal points.

## What to do

Correct the marked text, or export the program again for your machine.

## What `amount` is

There is none. `moves` is how many times the program has it.

## Source

NISTIR 6556 3.3 and appendix E.
)";

}  // namespace syntax

// Found by the program's reader.
const Rule syntax_rule{"syntax", Level::stop, "Text that is not G-code.", syntax::page, nullptr};

}  // namespace provecut
