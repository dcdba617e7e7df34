// A bilinear quad in space, p(xi, eta) with xi and eta from 0 to 1:
//   p = (1-xi)(1-eta) p00 + xi (1-eta) p10 + xi eta p11 + (1-xi) eta p01
#pragma once

#include "part/part.h"

#include <array>

namespace holdtrue::part {

using Quad = std::array<Point, 4>; // p00, p10, p11, p01: round the quad, as in Mesh::cell_nodes

struct QuadPlace {
    double xi = 0, eta = 0;
    Point position{0, 0, 0};
    double distance_m = 0; // from the asked point
};

std::array<double, 4> quad_weights(double xi, double eta);
Point quad_point(const Quad& quad, double xi, double eta);

// The place of a convex, nearly flat quad nearest to a point.
QuadPlace nearest_on_quad(const Quad& quad, const Point& point);

} // namespace holdtrue::part
