#include "part/gauge.h"
#include "part/gauge_limit.h"
#include "part/part_tables.h"
#include "text/names.h"
#include "text/verify.h"
#include "units/quantity_text.h"

#include <Eigen/Dense>

#include <algorithm>

namespace holdtrue::part {
namespace {

using text::Table;
using text::worded;
using units::mm;

struct PointCount {
    std::size_t least, most;
    text::Wording words;
};

PointCount points_of(GaugeKind kind) {
    switch (kind) {
    case GaugeKind::distance:
        return {2, 2, worded("the two ends")};
    case GaugeKind::bow:
        return {3, 50, worded("one end, the places between, the other end")};
    case GaugeKind::twist:
        return {4, 4, worded("two of one line, two of the other")};
    case GaugeKind::squareness:
        return {4, 4, worded("the corners in order round")};
    case GaugeKind::flatness:
        return {4, 50, worded("spread over the face")};
    case GaugeKind::angle:
        return {3, 3, worded("the corner, then one on each leg")};
    case GaugeKind::tilt:
        return {2, 2, worded("the two ends of the axis")};
    }
    VERIFY(false, "every kind of gauge has its points");
    return {0, 0, worded("the two ends")};
}

// What about the drawn points leaves the gauge without a reading; empty if nothing.
text::Sentence no_reading(const Gauge& gauge) {
    const std::vector<Point>& p = gauge.point;
    for (std::size_t k = 0; k < p.size(); ++k)
        for (std::size_t other = 0; other < k; ++other)
            if ((p[k] - p[other]).norm() < 1 * mm && !(gauge.kind == GaugeKind::twist && k >= 2 && other < 2))
                return {worded("points {0} and {1} are the same place"),
                        {std::to_string(other + 1), std::to_string(k + 1)}};
    const auto along = [&](const Point& line) { return std::abs(line.normalized().dot(gauge.direction)) > 0.9; };
    if (gauge.kind == GaugeKind::bow && along(p.back() - p.front()))
        return worded("direction runs along the line from its first point to its last");
    if (gauge.kind == GaugeKind::twist && (along(p[1] - p[0]) || along(p[3] - p[2])))
        return worded("direction, the axis of twist, runs along one of its lines");
    if (gauge.kind == GaugeKind::flatness) {
        Point centre = Point::Zero();
        for (const Point& point : p)
            centre += point / static_cast<double>(p.size());
        Eigen::Matrix3d spread = Eigen::Matrix3d::Zero();
        for (const Point& point : p)
            spread += (point - centre) * (point - centre).transpose();
        const Eigen::Vector3d values = Eigen::SelfAdjointEigenSolver<Eigen::Matrix3d>(spread).eigenvalues();
        if (values[1] < 1e-4 * values[2])
            return worded("its points lie in one line");
    }
    return {};
}

} // namespace

Gauge read_gauge_table(Table& table, const Part& part) {
    Gauge gauge;
    gauge.line = table.line();
    gauge.name = text::read_name(table, worded("gauge"), names_of(part.gauges));
    gauge.title = table.text("title", gauge.name);
    const auto kind = table.kind<GaugeKind>("kind", {{"distance", GaugeKind::distance},
                                                     {"bow", GaugeKind::bow},
                                                     {"twist", GaugeKind::twist},
                                                     {"squareness", GaugeKind::squareness},
                                                     {"flatness", GaugeKind::flatness},
                                                     {"angle", GaugeKind::angle},
                                                     {"tilt", GaugeKind::tilt}});
    if (!kind)
        return gauge;
    gauge.kind = *kind;
    const bool needs_direction = gauge.kind == GaugeKind::bow || gauge.kind == GaugeKind::twist;
    gauge.direction =
        table.direction("direction", needs_direction ? std::nullopt : std::optional<Point>(gauge.direction));
    for (Table point : table.tables("points")) {
        gauge.panel.push_back(
            text::find_named(point, "panel", point.text("panel"), worded("panel"), names_of(part.panels)));
        gauge.point.push_back(point.point("at"));
    }
    const PointCount count = points_of(gauge.kind);
    if (gauge.point.size() < count.least || gauge.point.size() > count.most)
        table.problem("points", {worded("the gauge has {0} points"), {std::to_string(gauge.point.size())}},
                      {count.most > count.least ? worded("give {0} or more: {1}") : worded("give {0}: {1}"),
                       {std::to_string(count.least), count.words}});
    table.know({"tolerance_mm", "tolerance_in", "tolerance_deg", "class"}); // read once the points are known to be good
    return gauge;
}

void check_gauge(Table& table, const Part& part, Gauge& gauge) {
    const std::vector<Table> points = table.tables("points");
    for (std::size_t k = 0; k < gauge.point.size(); ++k) {
        Table point = points[k];
        check_on_panel(point, "at", part.panels[static_cast<std::size_t>(gauge.panel[k])], gauge.point[k]);
    }
    const text::Sentence reason = no_reading(gauge);
    if (reason.empty())
        read_limit(table, gauge);
    else
        table.problem("", {worded("gauge {0} cannot be read: {1}"), {gauge.name, reason}},
                      {worded("its points are: {0}"), {points_of(gauge.kind).words}});
}

} // namespace holdtrue::part
