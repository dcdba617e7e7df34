#include "distortion/estimate.h"
#include "part/gauge.h"
#include "units/units.h"

#include <doctest/doctest.h>

#include <cmath>

using namespace holdtrue;
using namespace holdtrue::units;

namespace {

part::Panel plate(const std::string& name, double thickness_m, part::Point a0, part::Point a1, part::Point along) {
    part::Panel panel;
    panel.name = name;
    panel.thickness_m = thickness_m;
    panel.profile_a = {a0, a1};
    panel.profile_b = {a0 + along, a1 + along};
    return panel;
}

part::Joint joint(const std::string& name, int a, int b, part::Point from, part::Point to) {
    part::Joint made;
    made.name = name;
    made.panel_a = a;
    made.panel_b = b;
    made.path = {from, to};
    made.size_m = 5 * mm;
    return made;
}

part::Gauge gauge(part::GaugeKind kind, std::vector<int> panels, std::vector<part::Point> points) {
    part::Gauge made;
    made.name = "gauge";
    made.kind = kind;
    made.panel = std::move(panels);
    made.point = std::move(points);
    return made;
}

// Flange 100 x 8, web 100 x 6, 1 m long, one weld line on the flange's upper face under the web.
part::Part tee_beam() {
    part::Part part;
    const part::Point along{1, 0, 0};
    part.panels = {plate("flange", 8 * mm, {0, -0.05, 0.004}, {0, 0.05, 0.004}, along),
                   plate("web", 6 * mm, {0, 0, 0.008}, {0, 0, 0.108}, along)};
    part.joints = {joint("seam", 1, 0, {0, 0, 0.008}, {1, 0, 0.008})};
    part.passes = {{"seam/1", 0, part::PassKind::run, 0, 1, 0}};
    const double axis_m = 27.143 * mm;
    part.gauges = {gauge(part::GaugeKind::distance, {1, 1}, {{0, 0, axis_m}, {1, 0, axis_m}}),
                   gauge(part::GaugeKind::bow, {0, 0, 0}, {{0, 0, 0.004}, {0.5, 0, 0.004}, {1, 0, 0.004}})};
    return part;
}

distortion::Step weld(int pass, double j_per_m) {
    distortion::Step step;
    step.kind = distortion::Step::Kind::weld;
    step.pass = pass;
    step.heat_input_j_per_m = j_per_m;
    step.heat_j = j_per_m;
    return step;
}

} // namespace

TEST_CASE("a T beam shortens and bends as tendon force and beam theory say") {
    // Worked by hand: A 1400 mm2, axis 27.143 mm from the flange face, I 1504038 mm4; tendon force 0.2 x 800 J/mm =
    // 160 kN (White, Leggatt & Dwight, about 1980, from memory): shortening 0.544 mm, camber 1.212 mm.
    const part::Part part = tee_beam();
    const part::Mesh mesh = part::build_mesh(part);
    const distortion::Result result = distortion::estimate(part, mesh, {weld(0, 800e3)});
    REQUIRE(result.gauge_after.size() == 2);
    REQUIRE(result.displacement_m.size() == 2);
    CHECK(result.gauge_after[0][0] - 1.0 == doctest::Approx(-0.544 * mm).epsilon(0.01));
    // The weld lies below the axis and shortens that side: the ends drop and the middle stands proud.
    CHECK(result.gauge_after[0][1] == doctest::Approx(1.212 * mm).epsilon(0.01));
    CHECK(result.bands[1].band > 0);
    CHECK(result.model == "beam-and-strip estimate");
}

TEST_CASE("no heat moves nothing and twice the heat moves twice as far") {
    const part::Part part = tee_beam();
    const part::Mesh mesh = part::build_mesh(part);
    const auto bow = [&](double j_per_m) {
        return distortion::estimate(part, mesh, {weld(0, j_per_m)}).gauge_after[1][1];
    };
    CHECK(std::abs(bow(0)) < 1e-9);
    CHECK(bow(400e3) == doctest::Approx(2 * bow(200e3)).epsilon(1e-3));
}

TEST_CASE("balanced seams leave no bow but keep the shortening, and a lone early seam bends its panel more") {
    // A web between two equal flanges; both seams tied by tacks, or the second flange not yet there.
    part::Part part = tee_beam();
    part.panels.push_back(plate("top", 8 * mm, {0, -0.05, 0.112}, {0, 0.05, 0.112}, {1, 0, 0}));
    part.joints.push_back(joint("top_seam", 1, 2, {0, 0, 0.108}, {1, 0, 0.108}));
    part.passes.push_back({"top_seam/1", 1, part::PassKind::run, 0, 1, 0});
    const part::Mesh mesh = part::build_mesh(part);

    for (part::Joint& one : part.joints)
        one.tacked = true;
    const distortion::Result tacked = distortion::estimate(part, mesh, {weld(0, 400e3), weld(1, 400e3)});
    CHECK(tacked.gauge_after[0][1] > 0.1 * mm);
    CHECK(std::abs(tacked.gauge_after[1][1]) < 1e-6);
    CHECK(tacked.gauge_after[1][0] < 1.0);

    for (part::Joint& one : part.joints)
        one.tacked = false;
    const distortion::Result loose = distortion::estimate(part, mesh, {weld(0, 400e3), weld(1, 400e3)});
    CHECK(loose.gauge_after[0][1] > tacked.gauge_after[0][1]);
    CHECK(loose.gauge_after[1][1] > 0.1 * mm);
}

TEST_CASE("a stop request ends the estimate early") {
    const part::Part part = tee_beam();
    const part::Mesh mesh = part::build_mesh(part);
    std::stop_source stop;
    stop.request_stop();
    CHECK(distortion::estimate(part, mesh, {weld(0, 1e5), weld(0, 1e5)}, stop.get_token()).gauge_after.size() == 1);
}
