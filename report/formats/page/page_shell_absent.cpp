// For builds without the page (PROVECUT_BUILD_PAGE=OFF).
#include "report/formats/page/page_shell.h"

namespace provecut {

std::string_view pageHead() {
  return {};
}
std::string_view pageTail() {
  return {};
}

}  // namespace provecut
