// A job on stock that was measured and is not as thick as the job file says.
#pragma once

#include "parser/job/job.h"

namespace provecut {

// The stock is `thickness_mm` thick and known to be: no tolerance is left. Zeros that are set on the stock's top face
// move with it, those measured from the underside stay where they are; so do the heights of hold-downs over the top
// face.
void setRealThickness(Job& job, double thickness_mm);

}  // namespace provecut
