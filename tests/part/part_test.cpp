#include "part/part.h"

#include <doctest/doctest.h>

using namespace holdtrue::part;

TEST_CASE("a place on an open path") {
    Joint joint;
    joint.path = {{0, 0, 0}, {3, 0, 0}, {3, 4, 0}};
    CHECK(path_length_m(joint) == doctest::Approx(7));
    CHECK((path_point(joint, 5) - Point(3, 2, 0)).norm() < 1e-12);
    CHECK((path_tangent(joint, 5) - Point(0, 1, 0)).norm() < 1e-12);
    CHECK((path_point(joint, -1) - Point(0, 0, 0)).norm() < 1e-12);
    CHECK((path_point(joint, 99) - Point(3, 4, 0)).norm() < 1e-12);
}

TEST_CASE("a closed path wraps") {
    Joint joint;
    joint.closed_path = true;
    joint.path = {{0, 0, 0}, {1, 0, 0}, {1, 1, 0}, {0, 1, 0}};
    CHECK(path_length_m(joint) == doctest::Approx(4));
    CHECK((path_point(joint, 3.5) - Point(0, 0.5, 0)).norm() < 1e-12);
    CHECK((path_point(joint, 4.25) - Point(0.25, 0, 0)).norm() < 1e-12);
    CHECK((path_point(joint, -0.25) - Point(0, 0.25, 0)).norm() < 1e-12);
    CHECK((path_tangent(joint, 3.5) - Point(0, -1, 0)).norm() < 1e-12);
}

TEST_CASE("a plug's place is counted, not measured") {
    Joint joint;
    joint.type = JointType::plug;
    joint.path = {{0, 0, 0}, {0.05, 0, 0}, {0.05, 0.03, 0}};
    CHECK((path_point(joint, 2) - Point(0.05, 0.03, 0)).norm() < 1e-12);
    CHECK(path_length_m(joint) == 0);
    CHECK(path_tangent(joint, 2).norm() == doctest::Approx(1));
}

TEST_CASE("names are found, and missing ones are not") {
    Part part;
    part.panels.resize(2);
    part.panels[1].name = "web";
    part.passes.push_back({"seam/1", 0, PassKind::run, 0, 1, 0});
    CHECK(find_panel(part, "web") == 1);
    CHECK(find_panel(part, "wep") == -1);
    CHECK(find_pass(part, "seam/1") == 0);
    CHECK(find_joint(part, "seam") == -1);
}
