// A cause that a trial has proven, in words.
#pragma once

#include "report/causes/trial.h"
#include "report/facts/facts.h"
#include "report/findings/likely_cause.h"

namespace provecut::causes {

LikelyCause told(const Facts& facts, const Trial& trial);

}  // namespace provecut::causes
