// Text for HTML and SVG. Knows nothing of jobs.
#pragma once

#include <string>
#include <string_view>

namespace provecut {

// Text from outside as text between tags or in a quoted attribute: control and direction-changing characters made
// visible, markup characters escaped.
std::string escapeHtml(std::string_view text);

// How a page begins that is all text and style: nothing is fetched and nothing runs. A title and <style> follow.
inline constexpr std::string_view static_page_head = R"(<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'">
<meta name="viewport" content="width=device-width, initial-scale=1">
)";

}  // namespace provecut
