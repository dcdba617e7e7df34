// A part in one view: its surface coloured by a value per node, its edges, and optionally the shape that it took.
#pragma once

#include "report/depth_image.h"
#include "weld/outcome.h"

namespace holdtrue::report {

// Displacements with the rigid motion taken out that fits them best (least squares over the nodes): what is left is
// the change of shape.
std::vector<part::Point> shape_change(const part::Mesh& mesh, const std::vector<Eigen::Vector3f>& displacement_m);

// A round factor (1, 2, 5, 10, ...) that makes the largest displacement at most 5 % of the part's length.
double exaggeration_for(const part::Mesh& mesh, const std::vector<part::Point>& change_m);

struct Surface {
    std::vector<float> value_of_node;
    std::function<Colour(double)> colour_of; // of a value
    bool hidden_edges = true;                // drawn faint through the surface
    double edge_width = 1.1;
    double pixels_per_unit = 2.5;
};
// Draws surface and edges within the box; returns what later marks need to know about depth.
DepthImage draw_part(Canvas& canvas, const Box& box, const part::Mesh& mesh, const std::vector<part::Point>& position_m,
                     const Projection& projection, const Surface& surface);
// All edges, hidden ones too, as a wire: for a nominal outline beside a deformed part.
void draw_outline(Canvas& canvas, const part::Mesh& mesh, const std::vector<part::Point>& position_m,
                  const Projection& projection, double width, const Ink& ink);

// Three short arrows x, y, z that say how a view looks.
void draw_axes(Canvas& canvas, const Place& origin, double length, const View& view);

} // namespace holdtrue::report
