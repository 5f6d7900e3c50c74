#include "report/rules/list.h"

namespace provecut {

namespace {

constexpr std::string_view page = R"(## What it finds

Text in a program that cannot be read as words, settings or comments: a letter without a number, two points in a number, a stray
character. The rest of the line and of the file is still read; the message says what was left out.

## Why it matters

A machine refuses such a line, or reads it in a way of its own. What it does then is not what was checked.

## Example

    G1 X12..5 F1200

The value of X has two points.

## What to do

Correct the marked text, or export the program again with settings that fit the machine.

## What `amount` is

There is none. `moves` is how many times the same thing stands in the program.

## Source

NISTIR 6556 3.3 and appendix E.
)";

}  // namespace

// Found by the program's reader.
const Rule syntax_rule{"syntax", Level::stop, "Text that cannot be read as words, settings or comments.", page,
                       nullptr};

}  // namespace provecut
