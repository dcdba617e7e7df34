// Small weld jobs made in code: a bead on a plate, a butt seam, a tee, a plugged lap.
#pragma once

#include "heat/plates.h"
#include "heat/weld_heat.h"

#include <utility>

namespace holdtrue::heat::test {

struct Job {
    std::shared_ptr<const part::Part> part;
    std::shared_ptr<const part::Mesh> mesh;
};

inline Job job_of(part::Part part) {
    auto shared = std::make_shared<const part::Part>(std::move(part));
    return {shared, std::make_shared<const part::Mesh>(part::build_mesh(*shared))};
}

// A bead along the middle of a plate, from margin to margin.
inline Job bead_on_plate(double length_m, double width_m, double thickness_m, double element_m, double margin_m) {
    part::Part part = part::test::part_of({part::test::plate(length_m, width_m, thickness_m)}, element_m);
    part::Joint joint;
    joint.name = "bead";
    joint.type = part::JointType::butt;
    joint.path = {{margin_m, width_m / 2, 0}, {length_m - margin_m, width_m / 2, 0}};
    joint.size_m = thickness_m;
    part.joints = {joint};
    part.passes = {{.name = "bead/1", .joint = 0, .from_m = 0, .to_m = length_m - 2 * margin_m}};
    return job_of(std::move(part));
}

// Two plates side by side along y = width / 2 with a butt joint between.
inline Job butt(double length_m, double width_m, double thickness_m, double element_m, double margin_m) {
    part::Panel a = part::test::plate(length_m, width_m / 2, thickness_m), b = a;
    a.name = "a";
    b.name = "b";
    for (part::Point& p : b.profile_a)
        p.y() += width_m / 2;
    for (part::Point& p : b.profile_b)
        p.y() += width_m / 2;
    part::Part part = part::test::part_of({a, b}, element_m);
    part::Joint joint;
    joint.name = "seam";
    joint.type = part::JointType::butt;
    joint.panel_a = 0;
    joint.panel_b = 1;
    joint.path = {{0, width_m / 2, 0}, {length_m, width_m / 2, 0}};
    joint.size_m = thickness_m;
    part::Joint bead = joint; // on plate a alone, beside the seam
    bead.name = "bead";
    bead.panel_b = 0;
    bead.path = {{margin_m, width_m / 2 - 0.03, 0}, {length_m - margin_m, width_m / 2 - 0.03, 0}};
    part.joints = {joint, bead};
    part.passes = {{.name = "seam/1", .joint = 0, .from_m = margin_m, .to_m = length_m - margin_m},
                   {.name = "seam/tack1", .joint = 0, .kind = part::PassKind::tack, .from_m = 0, .to_m = 0.01},
                   {.name = "bead/1", .joint = 1, .from_m = 0, .to_m = length_m - 2 * margin_m}};
    return job_of(std::move(part));
}

inline const Surroundings no_losses{.ambient_k = units::celsius(20), .convection_w_per_m2k = 0, .emissivity = 0};

} // namespace holdtrue::heat::test
