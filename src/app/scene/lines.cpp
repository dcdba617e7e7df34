#include "app/scene/lines.h"

namespace holdtrue::app::scene {

void add_polyline(std::vector<Segment>& lines, std::span<const Eigen::Vector3d> points, Colour colour, float width_px,
                  float lift) {
    for (std::size_t k = 0; k + 1 < points.size(); ++k)
        lines.push_back({points[k].cast<float>(), points[k + 1].cast<float>(), colour, width_px, lift});
}

void add_outline(std::vector<Segment>& lines, std::span<const Eigen::Vector3f> pairs, Colour colour, float width_px) {
    for (std::size_t k = 0; k + 1 < pairs.size(); k += 2)
        lines.push_back({pairs[k], pairs[k + 1], colour, width_px, 0.0008f});
}

} // namespace holdtrue::app::scene
