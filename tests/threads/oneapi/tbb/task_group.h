// OpenVDB needs the real one.
#pragma once

#ifdef PROVECUT_REAL_TBB
#include_next <oneapi/tbb/task_group.h>
#else
#include <tbb/stand_in.h>
#endif
