// The part seen as one straight beam: its main axis, cut into stations, with the section of any set of panels at each.
#pragma once

#include "part/mesh.h"

#include <Eigen/Core>

#include <vector>

namespace holdtrue::distortion {

// Coordinates along the beam and across it, about `origin`: x along axis, y = (along side_1, along side_2).
struct BeamAxis {
    part::Point origin, axis, side_1, side_2;
    double start_m = 0, station_m = 0; // station k covers start_m + [k, k + 1] station_m
    int station_count = 0;

    double along(const part::Point& point) const { return axis.dot(point - origin); }
    Eigen::Vector2d across(const part::Point& point) const {
        return {side_1.dot(point - origin), side_2.dot(point - origin)};
    }
    int station(double along_m) const;
};

// The axis is the direction of largest spread of the metal.
BeamAxis find_beam_axis(const part::Mesh& mesh, int station_count = 60);

struct BeamSection {
    double area_m2 = 0;
    Eigen::Vector2d centroid_m = Eigen::Vector2d::Zero();
    Eigen::Matrix2d second_moment_m4 = Eigen::Matrix2d::Zero(); // integral of (y - c)(y - c)^T
};

// Volume, first and second moments of each panel in each station, from which the section of any set of panels adds up.
class SectionTable {
public:
    SectionTable(const part::Mesh& mesh, const BeamAxis& axis);
    // Section at a station of the panels whose entry in `included` is not 0; area 0 if none of them is there.
    BeamSection section(int station, const std::vector<char>& included) const;

private:
    struct Moments {
        double area = 0;
        Eigen::Vector2d first = Eigen::Vector2d::Zero();
        Eigen::Matrix2d second = Eigen::Matrix2d::Zero();
    };
    int panel_count_;
    std::vector<Moments> moments_; // station * panel_count_ + panel
};

} // namespace holdtrue::distortion
