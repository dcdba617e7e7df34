#include "report/depth_image.h"

#include <Eigen/Geometry>

#include <algorithm>
#include <cmath>
#include <limits>

namespace holdtrue::report {

DepthImage::DepthImage(const Box& box, double pixels_per_unit)
    : box_(box), pixels_per_unit_(pixels_per_unit),
      width_(std::max(1, static_cast<int>(std::ceil(box.width * pixels_per_unit)))),
      height_(std::max(1, static_cast<int>(std::ceil(box.height * pixels_per_unit)))),
      depth_m_(static_cast<std::size_t>(width_) * static_cast<std::size_t>(height_),
               std::numeric_limits<float>::lowest()),
      pixel_(depth_m_.size(), 0) {
    box_.width = width_ / pixels_per_unit;
    box_.height = height_ / pixels_per_unit;
}

void DepthImage::draw(const part::Mesh& mesh, const std::vector<part::Point>& position_m, const Projection& projection,
                      const std::vector<float>& value_of_node, const std::function<Colour(double)>& colour_of) {
    // Light from over the viewer's left shoulder; faint, so that colours keep their meaning.
    const View& view = projection.view();
    const part::Point light = (view.toward + 0.55 * view.up - 0.45 * view.right).normalized();
    for (std::size_t cell = 0; cell < mesh.cell_nodes.size(); ++cell) {
        if (!mesh.cell_alive[cell])
            continue;
        std::array<Corner, 4> corner;
        std::array<part::Point, 4> point;
        for (std::size_t k = 0; k < 4; ++k) {
            const auto node = static_cast<std::size_t>(mesh.cell_nodes[cell][k]);
            point[k] = position_m[node];
            const Place place = projection.place(point[k]);
            corner[k] = {{(place.x() - box_.x) * pixels_per_unit_, (place.y() - box_.y) * pixels_per_unit_},
                         projection.depth_m(point[k]),
                         value_of_node.empty() ? 0.0 : static_cast<double>(value_of_node[node])};
        }
        const part::Point normal = (point[2] - point[0]).cross(point[3] - point[1]).normalized();
        const double shade = 0.80 + 0.20 * std::abs(normal.dot(light));
        triangle(corner[0], corner[1], corner[2], shade, colour_of);
        triangle(corner[0], corner[2], corner[3], shade, colour_of);
    }
}

void DepthImage::triangle(const Corner& a, const Corner& b, const Corner& c, double shade,
                          const std::function<Colour(double)>& colour_of) {
    const auto cross = [](const Place& p, const Place& q) { return p.x() * q.y() - p.y() * q.x(); };
    const double area = cross(b.place - a.place, c.place - a.place);
    if (std::abs(area) < 1e-9)
        return;
    const auto limit = [](double v, int most) { return std::clamp(static_cast<int>(v), 0, most); };
    const int x0 = limit(std::floor(std::min({a.place.x(), b.place.x(), c.place.x()}) - 0.5), width_ - 1);
    const int x1 = limit(std::ceil(std::max({a.place.x(), b.place.x(), c.place.x()}) + 0.5), width_ - 1);
    const int y0 = limit(std::floor(std::min({a.place.y(), b.place.y(), c.place.y()}) - 0.5), height_ - 1);
    const int y1 = limit(std::ceil(std::max({a.place.y(), b.place.y(), c.place.y()}) + 0.5), height_ - 1);
    for (int y = y0; y <= y1; ++y)
        for (int x = x0; x <= x1; ++x) {
            const Place p{x + 0.5, y + 0.5};
            const double u = cross(b.place - p, c.place - p) / area, v = cross(c.place - p, a.place - p) / area;
            const double w = 1 - u - v;
            if (std::min({u, v, w}) < -1e-9)
                continue;
            const auto at =
                static_cast<std::size_t>(y) * static_cast<std::size_t>(width_) + static_cast<std::size_t>(x);
            const auto depth = static_cast<float>(u * a.depth_m + v * b.depth_m + w * c.depth_m);
            if (depth <= depth_m_[at])
                continue;
            depth_m_[at] = depth;
            const Colour colour = colour_of(u * a.value + v * b.value + w * c.value);
            const auto byte = [shade](double channel) {
                return static_cast<std::uint32_t>(std::lround(255 * std::clamp(shade * channel, 0.0, 1.0)));
            };
            pixel_[at] = 0xFF000000u | byte(colour.red) << 16 | byte(colour.green) << 8 | byte(colour.blue);
        }
}

bool DepthImage::visible(const Place& place, double depth_m, double slack_m) const {
    const int x = static_cast<int>(std::floor((place.x() - box_.x) * pixels_per_unit_));
    const int y = static_cast<int>(std::floor((place.y() - box_.y) * pixels_per_unit_));
    if (x < 0 || y < 0 || x >= width_ || y >= height_)
        return true;
    const auto at = static_cast<std::size_t>(y) * static_cast<std::size_t>(width_) + static_cast<std::size_t>(x);
    return depth_m + slack_m >= static_cast<double>(depth_m_[at]);
}

} // namespace holdtrue::report
