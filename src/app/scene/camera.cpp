#include "app/scene/camera.h"

#include <Eigen/Geometry>

#include <algorithm>
#include <cmath>
#include <numbers>

namespace holdtrue::app::scene {

namespace {

constexpr double pi = std::numbers::pi;
constexpr double steepest_rad = 0.5 * pi - 1e-4; // at the pole itself "up" would be undefined

Eigen::Vector3d towards_eye(const Camera& camera) {
    const double c = std::cos(camera.elevation_rad);
    return {c * std::cos(camera.azimuth_rad), c * std::sin(camera.azimuth_rad), std::sin(camera.elevation_rad)};
}

} // namespace

Eigen::Vector3d Camera::eye() const { return target + distance_m * towards_eye(*this); }
Eigen::Vector3d Camera::right() const { return {-std::sin(azimuth_rad), std::cos(azimuth_rad), 0}; }
Eigen::Vector3d Camera::up() const { return towards_eye(*this).cross(right()); }

void orbit(Camera& camera, double dx_px, double dy_px) {
    constexpr double rad_per_px = 0.006;
    camera.azimuth_rad = std::remainder(camera.azimuth_rad - dx_px * rad_per_px, 2 * pi);
    camera.elevation_rad = std::clamp(camera.elevation_rad + dy_px * rad_per_px, -steepest_rad, steepest_rad);
}

void pan(Camera& camera, double dx_px, double dy_px, double view_height_px) {
    const double metres_per_px = 2 * camera.distance_m * std::tan(camera.field_rad / 2) / std::max(view_height_px, 1.0);
    camera.target += (-dx_px * camera.right() + dy_px * camera.up()) * metres_per_px;
}

void zoom(Camera& camera, double factor, std::optional<Eigen::Vector3d> about) {
    const double distance_m = std::clamp(camera.distance_m * factor, nearest_m, farthest_m);
    const double applied = distance_m / camera.distance_m;
    if (about)
        camera.target = *about + (camera.target - *about) * applied;
    camera.distance_m = distance_m;
}

void look_from(Camera& camera, StandardView view) {
    switch (view) {
    case StandardView::front:
        camera.azimuth_rad = -pi / 2, camera.elevation_rad = 0;
        break;
    case StandardView::back:
        camera.azimuth_rad = pi / 2, camera.elevation_rad = 0;
        break;
    case StandardView::left:
        camera.azimuth_rad = pi, camera.elevation_rad = 0;
        break;
    case StandardView::right:
        camera.azimuth_rad = 0, camera.elevation_rad = 0;
        break;
    case StandardView::top:
        camera.azimuth_rad = -pi / 2, camera.elevation_rad = steepest_rad;
        break;
    case StandardView::bottom:
        camera.azimuth_rad = -pi / 2, camera.elevation_rad = -steepest_rad;
        break;
    case StandardView::corner:
        camera.azimuth_rad = -0.9, camera.elevation_rad = 0.5;
        break;
    }
}

Eigen::Matrix3d standing(const Eigen::Vector3d& up) {
    const Eigen::Vector3d z = Eigen::Vector3d::UnitZ(), direction = up.normalized();
    if (direction.dot(z) < -0.999999) // upside down: over the long axis, as a person would turn it
        return Eigen::AngleAxisd(pi, Eigen::Vector3d::UnitX()).toRotationMatrix();
    const Eigen::Vector3d axis = direction.cross(z); // Rodrigues' formula, the sine being the axis' length
    const Eigen::Matrix3d turned{{0, -axis.z(), axis.y()}, {axis.z(), 0, -axis.x()}, {-axis.y(), axis.x(), 0}};
    return Eigen::Matrix3d::Identity() + turned + turned * turned / (1 + direction.dot(z));
}

Projection::Projection(const Camera& camera, const Eigen::Matrix3d& part_to_room, double width_px, double height_px)
    : focal_px_(0.5 * std::max(height_px, 1.0) / std::tan(camera.field_rad / 2)),
      middle_px_(0.5 * width_px + camera.shift.x() * height_px, (0.5 - camera.shift.y()) * height_px) {
    width_px = std::max(width_px, 1.0);
    height_px = std::max(height_px, 1.0);
    Eigen::Matrix3d eye_axes; // rows
    eye_axes.row(0) = camera.right();
    eye_axes.row(1) = camera.up();
    eye_axes.row(2) = towards_eye(camera);
    rotation_ = eye_axes * part_to_room;
    eye_part_ = part_to_room.transpose() * camera.eye();

    view_from_part.topLeftCorner<3, 3>() = rotation_.cast<float>();
    view_from_part.topRightCorner<3, 1>() = (-(rotation_ * eye_part_)).cast<float>();

    const double near_m = std::max(camera.distance_m * 0.02, 0.002), far_m = camera.distance_m * 4 + 4;
    clip_from_view.setZero();
    clip_from_view(0, 0) = static_cast<float>(2 * focal_px_ / width_px);
    clip_from_view(1, 1) = static_cast<float>(2 * focal_px_ / height_px);
    clip_from_view(0, 2) = static_cast<float>(-2 * camera.shift.x() * height_px / width_px);
    clip_from_view(1, 2) = static_cast<float>(-2 * camera.shift.y());
    clip_from_view(2, 2) = static_cast<float>(-(far_m + near_m) / (far_m - near_m));
    clip_from_view(2, 3) = static_cast<float>(-2 * far_m * near_m / (far_m - near_m));
    clip_from_view(3, 2) = -1;
}

Projection::OnScreen Projection::to_screen(const Eigen::Vector3d& part_point) const {
    const Eigen::Vector3d seen = rotation_ * (part_point - eye_part_);
    const double depth_m = -seen.z();
    const double scale = focal_px_ / (std::abs(depth_m) < 1e-9 ? 1e-9 : depth_m);
    return {middle_px_.x() + seen.x() * scale, middle_px_.y() - seen.y() * scale, depth_m};
}

Projection::Ray Projection::ray(double x_px, double y_px) const {
    const Eigen::Vector3d seen{(x_px - middle_px_.x()) / focal_px_, (middle_px_.y() - y_px) / focal_px_, -1};
    return {eye_part_, (rotation_.transpose() * seen).normalized()};
}

double Projection::metres_per_pixel(double depth_m) const { return depth_m / focal_px_; }

} // namespace holdtrue::app::scene
