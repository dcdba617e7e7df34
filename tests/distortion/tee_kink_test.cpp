// What a fillet bends a flange by is what its wing turns by: a short slice of a tee, cold, with nothing but kinks put
// in.
#include "distortion/condensed_response.h"
#include "sample_parts.h"

#include <doctest/doctest.h>

using namespace holdtrue;
using namespace holdtrue::distortion;
using namespace holdtrue::distortion::testing;

namespace {

constexpr double kink_rad = 0.01;

struct Turned {
    double left_rad = 0, right_rad = 0; // of the flange's wings, up, seen from the web
};

// Fillets 0 (left) and 1 (right) of the slice, in the order of `laid`: each is tied, then kinks the flange.
Turned turned_by(const PartModel& model, Response& response, const std::vector<int>& laid) {
    for (const int fillet : laid)
        for (const int g : model.groups_of_pass(fillet)) {
            const WeldGroup& group = model.groups()[static_cast<std::size_t>(g)];
            const std::vector<int> rows = group.tie_rows();
            response.tie(rows, response.values(rows));
            const std::vector<std::pair<int, double>> kink{{model.loads_of(g).bend[1], kink_rad}}; // of the flange
            response.set_level(response.add_loads(kink), 1);
        }
    const auto moved = [&](int gauge, int point) {
        const int row = model.gauge_row(gauge, point);
        return Point(response.value(row), response.value(row + 1), response.value(row + 2));
    };
    const auto slope = [&](int gauge) {
        const std::vector<Point>& at = model.part().gauges[static_cast<std::size_t>(gauge)].point;
        return (moved(gauge, 1) - moved(gauge, 0)).z() / (at[1] - at[0]).y();
    };
    const std::vector<Point>& web = model.part().gauges[2].point;
    const double web_rad = -(moved(2, 1) - moved(2, 0)).y() / (web[1] - web[0]).z();
    return {web_rad - slope(0), slope(1) - web_rad};
}

part::Part slice(double thickness_m, double element_m, bool line_under_web) {
    part::Part part = tee(0.02, 0.12, 0.06, thickness_m, element_m, 1, 0);
    if (!line_under_web)
        for (std::vector<Point>* profile : {&part.panels[0].profile_a, &part.panels[0].profile_b})
            profile->erase(profile->begin() + 1);
    const double x = 0.01, foot = thickness_m / 2;
    part.gauges.clear();
    part.gauges.push_back(
        gauge("left", part::GaugeKind::distance, {0, 0}, {{x, -0.055, 0}, {x, -0.035, 0}}, {0, 0, 1}));
    part.gauges.push_back(gauge("right", part::GaugeKind::distance, {0, 0}, {{x, 0.035, 0}, {x, 0.055, 0}}, {0, 0, 1}));
    part.gauges.push_back(
        gauge("web", part::GaugeKind::distance, {1, 1}, {{x, 0, foot}, {x, 0, foot + 0.05}}, {0, 0, 1}));
    return part;
}

} // namespace

// Meshes from a third of the web's thickness to three times it, whether or not the flange has a line under its middle.
TEST_CASE("the wing beside a fillet turns by the fillet's kink and the other stays, in either order and on any mesh") {
    for (const double thickness_m : {0.003, 0.005, 0.008})
        for (const double element_m : {0.0025, 0.004, 0.005, 0.010, 0.012})
            for (const bool line_under_web : {true, false}) {
                CAPTURE(thickness_m);
                CAPTURE(element_m);
                CAPTURE(line_under_web);
                const part::Part part = slice(thickness_m, element_m, line_under_web);
                const part::Mesh mesh = part::build_mesh(part);
                const CondensedPart condensed(part, mesh);
                const auto after = [&](const std::vector<int>& laid) {
                    CondensedResponse response(condensed);
                    return turned_by(condensed.model(), response, laid);
                };
                for (const std::vector<int>& both : {std::vector{0, 1}, std::vector{1, 0}}) {
                    const Turned turned = after(both);
                    CHECK(std::abs(turned.left_rad - kink_rad) < 0.02 * kink_rad);
                    CHECK(std::abs(turned.right_rad - kink_rad) < 0.02 * kink_rad);
                }
                const Turned left = after({0}), right = after({1});
                CHECK(std::abs(left.left_rad - kink_rad) < 0.02 * kink_rad);
                CHECK(std::abs(left.right_rad) < 0.02 * kink_rad);
                CHECK(std::abs(right.right_rad - kink_rad) < 0.02 * kink_rad);
                CHECK(std::abs(right.left_rad) < 0.02 * kink_rad);
            }
}
