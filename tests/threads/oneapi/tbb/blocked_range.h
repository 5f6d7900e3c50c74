// OpenVDB needs the real one.
#pragma once

#ifdef PROVECUT_REAL_TBB
#include_next <oneapi/tbb/blocked_range.h>
#else
#include <tbb/stand_in.h>
#endif
