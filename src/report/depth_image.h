// The surface of a mesh as pixels: nearest cell wins, a value per node shaded smoothly by a colour scale.
#pragma once

#include "report/view.h"

#include <cstdint>
#include <functional>
#include <vector>

namespace holdtrue::report {

class DepthImage {
public:
    // `box` is the part of the picture it covers, with pixels_per_unit pixels to a picture unit.
    DepthImage(const Box& box, double pixels_per_unit);

    // Draws all live cells. value_of_node may be empty: then every cell has the colour colour_of(0).
    void draw(const part::Mesh& mesh, const std::vector<part::Point>& position_m, const Projection& projection,
              const std::vector<float>& value_of_node, const std::function<Colour(double)>& colour_of);
    // Whether a place at a depth is in front of what was drawn, by at least -slack_m.
    bool visible(const Place& place, double depth_m, double slack_m) const;

    const Box& box() const { return box_; }
    const std::vector<std::uint32_t>& pixels() const { return pixel_; }
    int width() const { return width_; }
    int height() const { return height_; }

private:
    struct Corner {
        Place place; // in pixels
        double depth_m, value;
    };
    void triangle(const Corner& a, const Corner& b, const Corner& c, double shade,
                  const std::function<Colour(double)>& colour_of);

    Box box_;
    double pixels_per_unit_;
    int width_, height_;
    std::vector<float> depth_m_;
    std::vector<std::uint32_t> pixel_;
};

} // namespace holdtrue::report
