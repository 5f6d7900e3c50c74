// Random tools, hold-downs and moves that come near each other.
#pragma once

#include <random>
#include <string>

#include "parser/job/job.h"
#include "parser/program/motion.h"
#include "tests/sim/clearance/scene.h"

namespace provecut::scene {

struct RandomScene {
  Tool tool;
  HoldDown hold_down;
  Motion motion;
  std::string text;  // what it is, to build it again
};

RandomScene randomScene(std::mt19937& random);

}  // namespace provecut::scene
