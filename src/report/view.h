// Where a picture looks at a part from: parallel projection along `toward`, the direction to the eye.
#pragma once

#include "part/mesh.h"
#include "report/canvas.h"

#include <vector>

namespace holdtrue::report {

struct View {
    part::Point right, up, toward; // unit, square to each other
    std::string title;             // "from above, front left"
};
// Azimuth turns about z from the x axis towards y; elevation lifts towards +z [degrees].
View view_from(double azimuth_deg, double elevation_deg);

// Fits a view of some points into a box, keeping proportions.
class Projection {
public:
    Projection(const View& view, const std::vector<part::Point>& points, const Box& box);
    Place place(const part::Point& point) const;
    double depth_m(const part::Point& point) const { return view_.toward.dot(point); } // larger is nearer
    double scale() const { return scale_; }                                            // picture units per metre
    const View& view() const { return view_; }

private:
    View view_;
    double scale_ = 1;
    Place shift_ = Place::Zero();
};

// Edges that tell a part's shape: rims of panels and cut-outs, and folds sharper than 30 degrees. Pairs of nodes.
std::vector<std::array<int, 2>> shape_edges(const part::Mesh& mesh);
// Edges where a curved panel turns away from the eye.
std::vector<std::array<int, 2>> silhouette_edges(const part::Mesh& mesh, const std::vector<part::Point>& position_m,
                                                 const View& view);

} // namespace holdtrue::report
