// The four frames, all right-handed and in mm, and what leads from one to another. Nothing else does: points carry
// their frame in their type (parser/base/geometry.h), and a sum or a difference of two frames does not compile.
//
//   work     What the program's words mean once its units, offsets and distance mode are worked out. Origin: the work
//            zero of the setup. Axes: the machine's.
//   setup    The stock in a setup. Origin: its left, front, bottom corner there. Axes: the machine's. So x and y run
//            from 0 to stockSizeInSetup(), and z from 0 on the underside up.
//   stock    The stock's own, the same for all setups: the setup frame of stock that is neither flipped nor rotated.
//   machine  Where the machine counts from. Axes: the machine's.
//
// Work, setup and machine frames run the same way and differ by a zero; from stock to setup the stock is flipped, then
// rotated counter-clockwise seen from above. A type does not say which setup: points of two setups must go by way of
// the stock frame.
#pragma once

#include "parser/base/parallel_frames.h"
#include "parser/job/job.h"

namespace provecut {

// Size of the stock in this setup (x and y change places for 90 and 270 degrees), mm.
Vec3 stockSizeInSetup(const Stock& stock, const Setup& setup);

// By the setup's work zero alone.
SetupPoint workToSetup(const Setup& setup, WorkPoint p);
WorkPoint setupToWork(const Setup& setup, SetupPoint p);
WorkBox setupToWork(const Setup& setup, const SetupBox& box);
SetupBox workToSetup(const Setup& setup, const WorkBox& box);
SetupPoint2 workToSetup(const Setup& setup, WorkPoint2 p);
WorkPoint2 setupToWork(const Setup& setup, SetupPoint2 p);

// By the setup's flip and rotation.
StockPoint setupToStock(const Stock& stock, const Setup& setup, SetupPoint p);
SetupPoint stockToSetup(const Stock& stock, const Setup& setup, StockPoint p);

// In plan: where a place lies does not depend on its height.
StockPoint2 setupToStock(const Stock& stock, const Setup& setup, SetupPoint2 p);
SetupPoint2 stockToSetup(const Stock& stock, const Setup& setup, StockPoint2 p);

// The same spot of the stock in another setup.
SetupPoint setupToSetup(const Stock& stock, const Setup& from, const Setup& to, SetupPoint p);
SetupPoint2 setupToSetup(const Stock& stock, const Setup& from, const Setup& to, SetupPoint2 p);

// A direction of the stock, in the setup.
SetupDirection2 stockToSetup(const Stock& stock, const Setup& setup, StockDirection2 d);

}  // namespace provecut
