// The triangles of a surface in runs that lie together and look much the same way, so that a picture deals with many of
// them at once: which turn their backs on the eye, which are near, which an isoline can touch.
#pragma once

#include "app/scene/surface.h"

#include <Eigen/Geometry>

#include <span>
#include <vector>

namespace holdtrue::app::scene {

struct TriangleRun {
    std::size_t start = 0, count = 0; // indices in Surface::triangle
    Eigen::Vector3f middle = Eigen::Vector3f::Zero(), facing = Eigen::Vector3f::Zero();
    float reach_m = 0, spread = 0; // of its points from the middle; of its normals from `facing` [rad]
    float low = 0, high = 0;       // an isoline of a value outside comes near none of its triangles
};

// All triangles, in their order.
std::vector<TriangleRun> triangle_runs(const Surface& surface);

// Sets low and high by one value per vertex. An isoline is some pixels wide, so it reaches into a triangle from beside
// it: no farther, in values, than the triangle's own span, as long as the triangle is a pixel wide.
void span_values(std::vector<TriangleRun>& runs, std::span<const std::uint32_t> triangle,
                 std::span<const float> value_of_vertex);

// Brings values shown (vertex_count) up to those wanted, run by run: where any differs by more than `unseen`, all of
// the run's do, so that what stands in one place is of one moment. Marks the vertices that show another value by that.
void follow_values(std::span<const TriangleRun> runs, std::span<const std::uint32_t> triangle,
                   std::span<const float> wanted, float unseen, std::span<float> shown, std::span<char> changed);

// The runs with any triangle that faces the eye, and perhaps some without; the nearest come first. `view_from_part`: a
// rotation and a shift, the eye looks along -z.
std::vector<const TriangleRun*> facing_the_eye(std::span<const TriangleRun> runs,
                                               const Eigen::Matrix4f& view_from_part);

} // namespace holdtrue::app::scene
