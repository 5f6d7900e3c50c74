// OpenVDB needs the real one.
#pragma once

#ifdef PROVECUT_REAL_TBB
#include_next <oneapi/tbb/parallel_for.h>
#else
#include <tbb/stand_in.h>
#endif
