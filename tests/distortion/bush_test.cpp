// A bush through a plate, welded all round in quarters on both sides: where it touches the plate, and how it tilts.
#include "distortion/condensed_response.h"
#include "distortion/full_response.h"
#include "distortion/job_run.h"
#include "part/read_part.h"
#include "sample_parts.h"
#include "shell_grid.h"

#include <doctest/doctest.h>

using namespace holdtrue;
using namespace holdtrue::distortion;
using namespace holdtrue::distortion::testing;

namespace {

constexpr const char* bush_in_plate = R"(
name = "bush_in_plate"
steel = "S235"
element_mm = 10
[[panel]]
name = "plate"
kind = "plate"
corners_mm = [[-80, -80, 0], [80, -80, 0], [80, 80, 0], [-80, 80, 0]]
thickness_mm = 3
[[panel.cut_out]]
at_mm = [0, 0, 0]
diameter_mm = 40.6
[[panel]]
name = "bush"
kind = "tube"
from_mm = [0, 0, -25]
to_mm = [0, 0, 25]
diameter_mm = 40
thickness_mm = 6
[[pose]]
name = "up"
up = [0, 0, 1]
[[joint]]
name = "top"
type = "fillet"
panels = ["bush", "plate"]
circle = { centre_mm = [0, 0, 1.5], diameter_mm = 40, axis = [0, 0, 1], start = [1, 0, 0] }
leg_mm = 4
passes = 4
tacks = 2
[[joint]]
name = "below"
type = "fillet"
panels = ["bush", "plate"]
circle = { centre_mm = [0, 0, -1.5], diameter_mm = 40, axis = [0, 0, -1], start = [1, 0, 0] }
leg_mm = 4
passes = 4
tacks = 2
[[gauge]]
name = "tilt"
kind = "tilt"
direction = [1, 0, 0]
points = [{ panel = "bush", at_mm = [17, 0, -24] }, { panel = "bush", at_mm = [17, 0, 24] }]
tolerance_deg = 0.4
)";

struct Bed {
    part::Part part = *part::parse_part(bush_in_plate, "bush_in_plate.part.toml");
    part::Mesh mesh = part::build_mesh(part);
};

// All that a quarter does to the plate and the bush, about as much as 250 J/mm would.
int add_shrinkage(Response& response, const PartModel& model, int pass) {
    std::vector<std::pair<int, double>> pull;
    for (const int group : model.groups_of_pass(pass)) {
        const GroupLoads& loads = model.loads_of(group);
        for (const std::size_t side : {0u, 1u}) {
            pull.emplace_back(loads.along_narrow[side], 20e3);
            pull.emplace_back(loads.across[side], 0.1e-3);
            pull.emplace_back(loads.bend[side], 0.005);
        }
    }
    return response.add_loads(pull);
}

} // namespace

TEST_CASE("a plate meets the bush in its hole from the side, and a tube that stands on a plate meets it from above") {
    const Bed bed;
    const std::vector<WeldGroup> through = weld_groups(bed.part, bed.mesh, {});
    CHECK(through.size() == 28); // four quarters of three groups and two tacks on each side
    for (const WeldGroup& group : through)
        for (const WeldPoint& at : group.points) {
            CHECK(at.stood_on == WeldPoint::StoodOn::a);
            CHECK(at.opening.dot(Point(at.place.x(), at.place.y(), 0).normalized()) > 0.95); // up to the facets' turn
        }

    std::string upright = bush_in_plate;
    upright.erase(upright.find("[[joint]]\nname = \"below\""),
                  upright.find("[[gauge]]") - upright.find("[[joint]]\nname = \"below\""));
    upright.replace(upright.find("0, -25]"), 7, "0, 1.5]");
    upright.replace(upright.find("17, 0, -24]"), 11, "17, 0, 2]");
    const auto part = part::parse_part(upright, "upright.part.toml");
    for (const WeldGroup& group : weld_groups(*part, part::build_mesh(*part), {}))
        for (const WeldPoint& at : group.points) {
            CHECK(at.stood_on == WeldPoint::StoodOn::b);
            CHECK(std::abs(at.opening.z()) > 0.99);
        }
}

TEST_CASE("a quarter tilts a bush, the opposite one as much the other way, all four leave it upright") {
    const Bed bed;
    const CondensedPart condensed(bed.part, bed.mesh);
    const PartModel& model = condensed.model();
    CondensedResponse response(condensed);
    std::vector<int> quarter;
    for (const int k : {1, 2, 3, 4})
        quarter.push_back(add_shrinkage(response, model, part::find_pass(bed.part, "top/" + std::to_string(k))));
    for (const WeldGroup& group : model.groups())
        if (group.kind == part::PassKind::run)
            tie_all(response, group);
    // Mean turn of the bush against the mean turn of the plate, about x and y.
    const auto tilt = [&] {
        const int bush = model.panel_row(part::find_panel(bed.part, "bush")) + 3;
        const int plate = model.panel_row(part::find_panel(bed.part, "plate")) + 3;
        return Eigen::Vector2d(response.value(bush) - response.value(plate),
                               response.value(bush + 1) - response.value(plate + 1));
    };
    std::vector<Eigen::Vector2d> of_quarter;
    for (const int action : quarter) {
        response.set_level(action, 1);
        of_quarter.push_back(tilt());
        response.set_level(action, 0);
    }
    const double one = of_quarter[0].norm();
    CHECK(one > 1e-4);
    CHECK((of_quarter[0] + of_quarter[2]).norm() < 0.05 * one);
    CHECK((of_quarter[1] + of_quarter[3]).norm() < 0.05 * one);
    CHECK(std::abs(of_quarter[0].dot(of_quarter[1])) < 0.05 * one * one); // a quarter round, a quarter turned
    CHECK(within(of_quarter[1].norm(), one, 0.05));
    for (const int action : quarter)
        response.set_level(action, 1);
    CHECK(tilt().norm() < 0.05 * one);
}

TEST_CASE("the tilt of a bush after every pass is that of the full sparse system, and hangs on the order") {
    const Bed bed;
    const CondensedPart condensed(bed.part, bed.mesh, {.groups = {}, .ground_n_per_m = 10});
    const auto play = [&](Response& response, const std::vector<std::string>& order) {
        Job job(bed.part, bed.mesh);
        for (const std::string& pass : order)
            job.weld(part::find_pass(bed.part, pass), 250e3);
        ShrinkageLaw law(bed.part, bed.mesh);
        law.prepare(job.steps());
        JobRun run(condensed.model(), response, law);
        std::vector<double> tilt;
        for (const Step& step : job.steps()) {
            run.play(step);
            tilt.push_back(run.gauges()[0]);
        }
        return tilt;
    };
    const std::vector<std::string> round{"top/tack1", "top/tack2", "top/1", "top/2", "top/3", "top/4"},
        across{"top/tack1", "top/tack2", "top/1", "top/3", "top/2", "top/4"};
    CondensedResponse quick(condensed), other(condensed);
    FullResponse whole(condensed.model());
    const std::vector<double> ours = play(quick, round), full = play(whole, round), diagonal = play(other, across);
    for (std::size_t k = 0; k < ours.size(); ++k)
        CHECK(std::abs(ours[k] - full[k]) <= 1e-6 * std::abs(full[k]) + 1e-9);
    MESSAGE("tilt ", 1e3 * ours.back(), " mrad round, ", 1e3 * diagonal.back(), " mrad by opposite quarters");
    CHECK(std::abs(ours.back() - diagonal.back()) > 0.1 * ours.back());
}
