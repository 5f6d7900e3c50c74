// The page without data: markup, style and script from report/page/, made one file when provecut is built.
#pragma once

#include <string_view>

namespace provecut {

// Up to and after the place where the data goes; both empty where the page was not built.
std::string_view pageHead();
std::string_view pageTail();

}  // namespace provecut
