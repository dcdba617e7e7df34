#include "app/scene/seen_box.h"

namespace holdtrue::app::scene {

SeenBox::SeenBox(const View& view)
    : clip_from_part_(view.clip_from_view * view.view_from_part),
      size_px_(static_cast<float>(view.width_px), static_cast<float>(view.height_px)) {}

void SeenBox::add(const Eigen::Vector3f& point) {
    const Eigen::Vector4f clip = clip_from_part_ * point.homogeneous();
    if (clip.w() <= 1e-6f) {
        behind_ = true;
        return;
    }
    seen_px_.extend(Eigen::Vector2f((0.5f + 0.5f * clip.x() / clip.w()) * size_px_.x(),
                                    (0.5f - 0.5f * clip.y() / clip.w()) * size_px_.y()));
}

PixelBox SeenBox::box(float soft_px) const {
    if (behind_)
        return {0, 0, static_cast<int>(size_px_.x()), static_cast<int>(size_px_.y())};
    if (seen_px_.isEmpty())
        return {};
    const Eigen::Array2i low = (seen_px_.min().array() - soft_px).floor().max(0).min(size_px_).cast<int>();
    const Eigen::Array2i high = (seen_px_.max().array() + soft_px).ceil().max(0).min(size_px_).cast<int>();
    return {low.x(), low.y(), high.x(), high.y()};
}

} // namespace holdtrue::app::scene
