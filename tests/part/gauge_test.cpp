#include "part/gauge.h"
#include "part/gauge_text.h"

#include <Eigen/Geometry>
#include <doctest/doctest.h>

#include <cmath>
#include <numbers>

using namespace holdtrue::part;

namespace {

Gauge gauge_of(GaugeKind kind, std::vector<Point> points, Point direction = {0, 0, 1}) {
    Gauge gauge;
    gauge.kind = kind;
    gauge.point = std::move(points);
    gauge.panel.assign(gauge.point.size(), 0);
    gauge.direction = direction;
    return gauge;
}

const std::vector<Gauge> one_of_each{
    gauge_of(GaugeKind::distance, {{0, 0, 0}, {0.3, 0.4, 0}}),
    gauge_of(GaugeKind::bow, {{0, 0, 0}, {0.5, 0, 0}, {1, 0, 0}}),
    gauge_of(GaugeKind::twist, {{0, 0, 0}, {0, 0.1, 0}, {1, 0, 0}, {1, 0.1, 0}}, {1, 0, 0}),
    gauge_of(GaugeKind::squareness, {{0, 0, 0}, {0.8, 0, 0}, {0.8, 0.6, 0}, {0, 0.6, 0}}),
    gauge_of(GaugeKind::flatness, {{0, 0, 0}, {1, 0, 0}, {0.5, 0.3, 0}, {0, 1, 0}, {1, 1, 0}}),
    gauge_of(GaugeKind::angle, {{0, 0, 0}, {0.1, 0, 0}, {0, 0.1, 0}}),
    gauge_of(GaugeKind::tilt, {{0, 0, 0}, {0, 0.09, 0}}, {1, 0, 0})};

} // namespace

TEST_CASE("nominal readings of plain figures") {
    CHECK(nominal(one_of_each[0]) == doctest::Approx(0.5));
    CHECK(nominal(one_of_each[1]) == doctest::Approx(0));
    CHECK(nominal(one_of_each[2]) == doctest::Approx(0));
    CHECK(nominal(one_of_each[3]) == doctest::Approx(0));
    CHECK(nominal(one_of_each[4]) == doctest::Approx(0));
    CHECK(nominal(one_of_each[5]) == doctest::Approx(std::numbers::pi / 2));
    CHECK(nominal(one_of_each[6]) == doctest::Approx(0));
}

TEST_CASE("each gauge reads what it is named after") {
    CHECK(read_gauge(one_of_each[1], std::vector<Point>{{0, 0, 0}, {0.5, 0, -0.002}, {1, 0, 0}}) ==
          doctest::Approx(-0.002));
    CHECK(read_gauge(one_of_each[1], std::vector<Point>{{0, 0, 0}, {0.5, 0.007, 0}, {1, 0, 0}}) == doctest::Approx(0));
    // The far line turned by 1 degree from y towards z: positive about +x.
    const double one = std::numbers::pi / 180;
    CHECK(read_gauge(
              one_of_each[2],
              std::vector<Point>{{0, 0, 0}, {0, 0.1, 0}, {1, 0, 0}, {1, 0.1 * std::cos(one), 0.1 * std::sin(one)}}) ==
          doctest::Approx(one));
    // A rectangle sheared by 1 mm: diagonals hypot(0.801, 0.6) and hypot(0.799, 0.6).
    CHECK(read_gauge(one_of_each[3], std::vector<Point>{{0, 0, 0}, {0.8, 0, 0}, {0.801, 0.6, 0}, {0.001, 0.6, 0}}) ==
          doctest::Approx(std::hypot(0.801, 0.6) - std::hypot(0.799, 0.6)));
    // One corner of four lifted by h: the four stand h/2 apart from their best plane.
    Gauge four = gauge_of(GaugeKind::flatness, {{0, 0, 0}, {1, 0, 0}, {1, 1, 0}, {0, 1, 0}});
    CHECK(read_gauge(four, std::vector<Point>{{0, 0, 0}, {1, 0, 0}, {1, 1, 0.002}, {0, 1, 0}}) ==
          doctest::Approx(0.001).epsilon(1e-5));
    CHECK(read_gauge(one_of_each[6], std::vector<Point>{{0, 0, 0}, {0.001, 0.09, 0}}) ==
          doctest::Approx(std::atan2(0.001, 0.09)));
}

TEST_CASE("moving and turning the whole part changes no reading but tilt") {
    const Eigen::Isometry3d motion =
        Eigen::Translation3d(0.2, -0.1, 0.4) * Eigen::AngleAxisd(0.01, Point(1, 2, 3).normalized());
    for (const Gauge& gauge : one_of_each) {
        if (gauge.kind == GaugeKind::tilt)
            continue; // it is measured against where the axis was drawn
        std::vector<Point> moved;
        for (const Point& point : gauge.point)
            moved.push_back(motion * point);
        CHECK(read_gauge(gauge, moved) == doctest::Approx(nominal(gauge)).epsilon(1e-9));
    }
}

TEST_CASE("the gradient foretells small changes") {
    for (const Gauge& gauge : one_of_each) {
        if (gauge.kind == GaugeKind::flatness)
            continue; // its signed form differs from the reading
        const std::vector<Point> gradient = gauge_gradient(gauge);
        // A small move of the inner or last point along the sense the gauge counts.
        std::vector<Point> places = gauge.point;
        const std::size_t moved = gauge.kind == GaugeKind::bow ? 1 : places.size() - 1;
        const Point step = 1e-5 * (gauge.kind == GaugeKind::twist ? Point(0, 0, 1) : Point(1, 0, 1).normalized());
        places[moved] += step;
        CAPTURE(static_cast<int>(gauge.kind));
        CHECK(read_gauge(gauge, places) - nominal(gauge) == doctest::Approx(gradient[moved].dot(step)).epsilon(1e-3));
    }
}

TEST_CASE("the signed form of flatness is the lift of the middle point") {
    const std::vector<Point> gradient = gauge_gradient(one_of_each[4]);
    CHECK(std::abs(gradient[2].z()) == doctest::Approx(1));
    CHECK(gradient[0].z() == doctest::Approx(-gradient[2].z() / 4));
}

TEST_CASE("a reading just beyond its limit is not written as if it were on it") {
    Gauge gauge;
    gauge.tolerance = 0.12e-3;
    CHECK(gauge_error_text(gauge, -0.1204e-3) == "-0.1204 mm");
    CHECK(gauge_error_text(gauge, -0.1196e-3) == "-0.12 mm"); // kept, and so it reads
    CHECK(gauge_error_text(gauge, 0.13e-3) == "+0.13 mm");
    gauge.kind = GaugeKind::tilt;
    gauge.tolerance = 0.2 * 3.14159265358979 / 180;
    CHECK(gauge_error_text(gauge, 1.002 * gauge.tolerance) == "+0.2004°");
}
