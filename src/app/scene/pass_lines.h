// Where passes and gauges are drawn: points that ride on the sheet, so that they follow its distorted shape.
#pragma once

#include "app/scene/camera.h"
#include "part/mesh.h"

#include <span>
#include <vector>

namespace holdtrue::app::scene {

// The points a pass is drawn through on the undistorted part, from `from_m` to `to_m`; a plug gives a ring.
std::vector<part::Point> pass_line(const part::Part& part, const part::Pass& pass);

// A point and the place of the sheet it rides on; found once for a mesh.
struct Anchor {
    part::Point drawn;
    part::Attachment on;
    // From there to the face of the bead, off the sheets it lies on; of a plug to the outer face of the sheet with the
    // hole. Zero where no side can be told: a butt is drawn in the middle of its sheets.
    part::Point to_face;
};
using Anchors = std::vector<std::vector<Anchor>>;
Anchors anchor_passes(const part::Part& part, const part::Mesh& mesh); // pass_count: the line, then its middle
Anchors anchor_gauges(const part::Part& part, const part::Mesh& mesh); // gauge_count: its points

struct PassLines {
    std::vector<std::vector<part::Point>> line;    // pass_count
    std::vector<part::Point> middle;               // pass_count; of a plug its centre
    std::vector<bool> ring;                        // pass_count
    std::vector<std::vector<part::Point>> to_face; // pass_count: of the points of its line, then of its middle
};
// `place`: node_count, where the nodes are drawn.
PassLines lay_passes(const part::Part& part, const part::Mesh& mesh, const Anchors& anchors,
                     const std::vector<part::Point>& place);
part::Point ride(const Anchor& anchor, const part::Mesh& mesh, const std::vector<part::Point>& place);

double length_m(std::span<const part::Point> line);
part::Point along_line(std::span<const part::Point> line, double share);
// The first `share` of a line by length, counted from its end when reversed.
std::vector<part::Point> first_part(std::span<const part::Point> line, double share, bool reversed);

} // namespace holdtrue::app::scene
