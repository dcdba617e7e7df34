// The eye of the 3D view: it orbits a target on a sphere, z up. Everything in metres and radians; screen places in
// pixels of the view, from its upper left corner.
#pragma once

#include <Eigen/Core>

#include <optional>

namespace holdtrue::app::scene {

enum class StandardView { front, back, left, right, top, bottom, corner };

struct Box {
    Eigen::Vector3d low = Eigen::Vector3d::Constant(1e30), high = Eigen::Vector3d::Constant(-1e30);
    void add(const Eigen::Vector3d& point) {
        low = low.cwiseMin(point);
        high = high.cwiseMax(point);
    }
    bool empty() const { return low.x() > high.x(); }
};

constexpr double nearest_m = 0.02, farthest_m = 60.0; // the eye from its target

struct Camera {
    Eigen::Vector3d target = Eigen::Vector3d::Zero();
    double distance_m = 1.5;
    double azimuth_rad = -0.9;  // of the eye about z, from x
    double elevation_rad = 0.5; // of the eye above the horizontal
    double field_rad = 0.45;    // vertical opening
    // Where the target stands in the picture: right of and above its middle, in heights of the view. It shifts the
    // picture as a whole, so that the eye still orbits the target.
    Eigen::Vector2d shift = Eigen::Vector2d::Zero();

    Eigen::Vector3d eye() const;
    Eigen::Vector3d right() const;
    Eigen::Vector3d up() const; // of the picture

    bool operator==(const Camera&) const = default;
};

void orbit(Camera& camera, double dx_px, double dy_px);
void pan(Camera& camera, double dx_px, double dy_px, double view_height_px);
// factor < 1 comes nearer; `about` is the place that stays under the pointer, if there is one.
void zoom(Camera& camera, double factor, std::optional<Eigen::Vector3d> about = {});
void look_from(Camera& camera, StandardView view);
// The part stands in the room with `up` of its pose to the ceiling: rotation part -> room.
Eigen::Matrix3d standing(const Eigen::Vector3d& up);

// What the picture shows: camera, how the part stands, and the size of the view.
struct Projection {
    Projection(const Camera& camera, const Eigen::Matrix3d& part_to_room, double width_px, double height_px);

    struct OnScreen {
        double x_px = 0, y_px = 0;
        double depth_m = 0; // from the eye along the view; negative: behind it
    };
    OnScreen to_screen(const Eigen::Vector3d& part_point) const;
    struct Ray {
        Eigen::Vector3d origin, direction; // part coordinates, unit direction
    };
    Ray ray(double x_px, double y_px) const;
    Eigen::Vector3d eye() const { return eye_part_; } // part coordinates
    double metres_per_pixel(double depth_m) const;

    Eigen::Matrix4f view_from_part = Eigen::Matrix4f::Identity();
    Eigen::Matrix4f clip_from_view = Eigen::Matrix4f::Identity();

private:
    double focal_px_;
    Eigen::Vector2d middle_px_; // where the target stands
    Eigen::Matrix3d rotation_; // part -> eye axes (x right, y up, z towards the eye)
    Eigen::Vector3d eye_part_;
};

} // namespace holdtrue::app::scene
