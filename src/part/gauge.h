// Reads a gauge off the places where its points ended up.
//   distance    |p1 - p0|
//   bow         largest offset, along `direction`, of the inner points from the chord p0 - p_last
//   twist       angle about `direction` of line p2-p3 against line p0-p1
//   squareness  |p2 - p0| - |p3 - p1|, the two diagonals of corners taken in turn round the frame
//   flatness    highest minus lowest distance from the least-squares plane through all points
//   angle       between lines p1-p0 and p2-p0
//   tilt        angle of the axis p0-p1 away from where it was drawn
// Lengths in metres, angles in radians. A gauge's nominal is its reading on the undistorted part.
#pragma once

#include "part/mesh.h"

#include <span>

namespace holdtrue::part {

// `places`: where the points of the gauge are now, in its own order.
double read_gauge(const Gauge& gauge, std::span<const Point> places);
double nominal(const Gauge& gauge);

// Derivative of the reading with respect to each point, at the drawn places: one row per point, [reading unit / m].
// For flatness and bow, whose reading has a corner, it is the derivative of the signed form named in gauge.cpp.
std::vector<Point> gauge_gradient(const Gauge& gauge);

} // namespace holdtrue::part
