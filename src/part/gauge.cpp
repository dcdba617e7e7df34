#include "part/gauge.h"

#include "text/verify.h"

#include <Eigen/Dense>

#include <algorithm>
#include <cmath>
#include <limits>

namespace holdtrue::part {
namespace {

Point across(const Point& vector, const Point& axis) { return vector - vector.dot(axis) * axis; }

// Offset of an inner point from the chord between the first and the last, counted along `direction`.
double offset_from_chord(std::span<const Point> places, std::size_t inner, const Point& direction) {
    const Point chord = places.back() - places.front();
    const Point from = places[inner] - places.front();
    const double share = from.dot(chord) / chord.squaredNorm();
    return (from - share * chord).dot(direction);
}

double bow(const Gauge& gauge, std::span<const Point> places) {
    double largest = 0;
    for (std::size_t k = 1; k + 1 < places.size(); ++k) {
        const double offset = offset_from_chord(places, k, gauge.direction);
        if (std::abs(offset) > std::abs(largest))
            largest = offset;
    }
    return largest;
}

double twist(const Gauge& gauge, std::span<const Point> places) {
    const Point first = across(places[1] - places[0], gauge.direction);
    const Point second = across(places[3] - places[2], gauge.direction);
    return std::atan2(first.cross(second).dot(gauge.direction), first.dot(second));
}

double angle_between(const Point& a, const Point& b) { return std::atan2(a.cross(b).norm(), a.dot(b)); }

Point plane_normal(std::span<const Point> places) {
    Point centre = Point::Zero();
    for (const Point& place : places)
        centre += place / static_cast<double>(places.size());
    Eigen::Matrix3d spread = Eigen::Matrix3d::Zero();
    for (const Point& place : places)
        spread += (place - centre) * (place - centre).transpose();
    return Eigen::SelfAdjointEigenSolver<Eigen::Matrix3d>(spread).eigenvectors().col(0); // smallest first
}

double flatness(std::span<const Point> places) {
    const Point normal = plane_normal(places);
    double low = std::numeric_limits<double>::infinity(), high = -low;
    for (const Point& place : places) {
        low = std::min(low, normal.dot(place));
        high = std::max(high, normal.dot(place));
    }
    return high - low;
}

// Readings with a corner at the drawn places are replaced by a smooth one that has the same size close by:
//   bow       offset of the middle inner point
//   flatness  height of the middle point in the list above the mean of the others, along the drawn plane's normal
//   tilt      lean of the axis towards `direction` (or square to the axis, where `direction` runs along it)
double signed_reading(const Gauge& gauge, std::span<const Point> places) {
    const std::vector<Point>& drawn = gauge.point;
    switch (gauge.kind) {
    case GaugeKind::bow:
        return offset_from_chord(places, places.size() / 2, gauge.direction);
    case GaugeKind::flatness: {
        const Point normal = plane_normal(drawn);
        const std::size_t middle = places.size() / 2;
        double others = 0;
        for (std::size_t k = 0; k < places.size(); ++k)
            if (k != middle)
                others += normal.dot(places[k]) / static_cast<double>(places.size() - 1);
        return normal.dot(places[middle]) - others;
    }
    case GaugeKind::tilt: {
        const Point axis = (drawn[1] - drawn[0]).normalized();
        Point towards = across(gauge.direction, axis);
        if (towards.norm() < 1e-6)
            towards = axis.unitOrthogonal();
        const Point now = places[1] - places[0];
        return std::atan2(now.dot(towards.normalized()), now.dot(axis));
    }
    default:
        return read_gauge(gauge, places);
    }
}

} // namespace

double read_gauge(const Gauge& gauge, std::span<const Point> places) {
    VERIFY(places.size() == gauge.point.size(), "a gauge is read at each of its points");
    switch (gauge.kind) {
    case GaugeKind::distance:
        return (places[1] - places[0]).norm();
    case GaugeKind::bow:
        return bow(gauge, places);
    case GaugeKind::twist:
        return twist(gauge, places);
    case GaugeKind::squareness:
        return (places[2] - places[0]).norm() - (places[3] - places[1]).norm();
    case GaugeKind::flatness:
        return flatness(places);
    case GaugeKind::angle:
        return angle_between(places[1] - places[0], places[2] - places[0]);
    case GaugeKind::tilt:
        return angle_between(gauge.point[1] - gauge.point[0], places[1] - places[0]);
    }
    return 0;
}

double nominal(const Gauge& gauge) { return read_gauge(gauge, gauge.point); }

std::vector<Point> gauge_gradient(const Gauge& gauge) {
    std::vector<Point> places = gauge.point;
    std::vector<Point> gradient(places.size(), Point::Zero());
    // Central differences: parts are metres in size, so a micrometre leaves ten good digits.
    const double step_m = 1e-6;
    for (std::size_t k = 0; k < places.size(); ++k)
        for (int axis = 0; axis < 3; ++axis) {
            places[k][axis] = gauge.point[k][axis] + step_m;
            const double above = signed_reading(gauge, places);
            places[k][axis] = gauge.point[k][axis] - step_m;
            const double below = signed_reading(gauge, places);
            places[k][axis] = gauge.point[k][axis];
            gradient[k][axis] = (above - below) / (2 * step_m);
        }
    return gradient;
}

} // namespace holdtrue::part
