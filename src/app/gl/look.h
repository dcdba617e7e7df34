// How the picture is coloured. Plain values: no OpenGL.
#pragma once

#include <Eigen/Core>

#include <vector>

namespace holdtrue::app::gl {

// With smooth edges, or fast for a picture that the next frame replaces.
enum class Quality { still, moving };

struct Look {
    Eigen::Vector3f background{0.9f, 0.9f, 0.9f}; // sRGB, the window's own: a moving picture leaves it as it is
    Eigen::Vector3f metal{0.7f, 0.7f, 0.7f};      // of the part where no field is shown
    bool show_field = false;
    float low = 293, high = 1773; // values of the first and last entry of the scale
    std::vector<float> isolines;  // at most 8 values
    Eigen::Vector3f isoline_colour{1, 1, 1};

    bool operator==(const Look&) const = default;
};

} // namespace holdtrue::app::gl
