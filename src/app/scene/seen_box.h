// Where points of the part lie in a picture of it.
#pragma once

#include "app/scene/pixel_box.h"

#include <Eigen/Geometry>

namespace holdtrue::app::scene {

struct View {
    Eigen::Matrix4f view_from_part = Eigen::Matrix4f::Zero(), clip_from_view = Eigen::Matrix4f::Zero();
    int width_px = 0, height_px = 0;

    PixelBox whole() const { return {0, 0, width_px, height_px}; }
    bool operator==(const View&) const = default;
};

// Grows by points to the box of a view that holds them; to the whole view where one of them is behind the eye.
class SeenBox {
public:
    explicit SeenBox(const View& view);
    void add(const Eigen::Vector3f& point);
    PixelBox box(float soft_px) const; // wider by so much on each side, then to whole pixels; empty without points

private:
    Eigen::Matrix4f clip_from_part_;
    Eigen::Array2f size_px_;
    Eigen::AlignedBox2f seen_px_;
    bool behind_ = false;
};

} // namespace holdtrue::app::scene
