#include "distortion/job_run.h"
#include "part/gauge.h"

#include <Eigen/Geometry>

#include <algorithm>
#include <array>
#include <numeric>

namespace holdtrue::distortion {

Eigen::Matrix<double, 6, 1> JobRun::frame() {
    std::array<int, 6> rows{};
    std::iota(rows.begin(), rows.end(), model_.frame_row());
    return Eigen::Map<const Eigen::Matrix<double, 6, 1>>(response_.values(rows, Response::Asked::seldom).data());
}

std::vector<double> JobRun::gauges() {
    std::vector<int> rows;
    for (std::size_t g = 0; g < model_.part().gauges.size(); ++g)
        for (std::size_t k = 0; k < model_.part().gauges[g].point.size(); ++k)
            for (int axis = 0; axis < 3; ++axis)
                rows.push_back(model_.gauge_row(static_cast<int>(g), static_cast<int>(k)) + axis);
    const std::vector<double> moved = response_.values(rows, Response::Asked::seldom);
    const Eigen::Matrix<double, 6, 1> motion = frame();
    std::vector<double> readings;
    const double* of_place = moved.data();
    for (const part::Gauge& gauge : model_.part().gauges) {
        std::vector<part::Point> places = gauge.point;
        for (part::Point& place : places) {
            const part::Point arm = place - model_.middle();
            place += Eigen::Map<const part::Point>(of_place) - motion.head<3>() - motion.tail<3>().cross(arm);
            of_place += 3;
        }
        readings.push_back(part::read_gauge(gauge, places));
    }
    return readings;
}

} // namespace holdtrue::distortion
