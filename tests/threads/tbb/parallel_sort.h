// OpenVDB needs the real one.
#pragma once

#ifdef PROVECUT_REAL_TBB
#include_next <tbb/parallel_sort.h>
#else
#include <tbb/stand_in.h>
#endif
