// The skin of a part as a person sees it: every panel of the mesh with both faces, half its thickness off the
// mid-surface, and a wall along each free edge. Corners sharper than a crease keep their own normals; round panels
// are shaded smooth.
#pragma once

#include "app/scene/camera.h"
#include "part/mesh.h"

#include <cstdint>
#include <span>
#include <vector>

namespace holdtrue::app::scene {

struct Surface {
    std::vector<Eigen::Vector3f> position; // vertex_count
    std::vector<Eigen::Vector3f> normal;   // vertex_count, outwards
    std::vector<int> node;                 // vertex_count: the mesh node whose values the vertex shows
    std::vector<std::uint32_t> triangle;   // 3 vertices each
    std::vector<int> cell_of_triangle;     // triangle_count
    // Free edges and creases, each from point to point as far as it goes on: what a drawing of the part would show.
    std::vector<std::vector<Eigen::Vector3d>> outline;
};

// displacement_m: node_count values, or empty for the part as drawn; it is multiplied by `exaggeration`.
Surface build_surface(const part::Mesh& mesh, std::span<const Eigen::Vector3f> displacement_m = {},
                      double exaggeration = 1);

// Where the part's nodes are, with exaggeration; node_count.
std::vector<part::Point> displaced(const part::Mesh& mesh, std::span<const Eigen::Vector3f> displacement_m,
                                   double exaggeration);

Box bounds(const part::Mesh& mesh);

} // namespace holdtrue::app::scene
