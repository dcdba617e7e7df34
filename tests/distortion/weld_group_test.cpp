// What a later pass covers of an earlier one, on lines of points along x.
#include "distortion/weld_group.h"
#include "sample_parts.h"

#include <doctest/doctest.h>

using namespace holdtrue;
using namespace holdtrue::distortion;

namespace {

WeldGroup line(double from_m, double to_m, double aside_m) {
    static const part::Part sample = testing::tee(0.1, 0.06, 0.04, 0.003, 0.01, 1, 0);
    static const WeldGroup like = weld_groups(sample, part::build_mesh(sample), {}).front();
    WeldGroup group = like;
    group.points.clear();
    group.length_m = to_m - from_m;
    constexpr int points = 6;
    for (int k = 0; k < points; ++k) {
        WeldPoint point = like.points.front();
        point.place = {from_m + (k + 0.5) * group.length_m / points, aside_m, 0};
        point.tangent = {1, 0, 0};
        group.points.push_back(point);
    }
    return group;
}

} // namespace

TEST_CASE("a pass run again over the same line covers all of it, one beside it a share, one further on nothing") {
    const WeldGroup first = line(0, 0.06, 0);
    CHECK(covered_share(first, 0.01, first, 0.01) == doctest::Approx(1));
    CHECK(covered_share(first, 0.01, first, 0.03) == doctest::Approx(1));
    // Strips of 10 mm on each side, 5 mm apart: 15 of 20 mm lie on one another.
    CHECK(covered_share(first, 0.01, line(0, 0.06, 0.005), 0.01) == doctest::Approx(0.75));
    CHECK(covered_share(first, 0.01, line(0, 0.06, 0.02), 0.01) == doctest::Approx(0).epsilon(1e-12));
    CHECK(covered_share(first, 0.01, line(0, 0.06, 0.05), 0.01) == 0);
    // Over its second half only.
    CHECK(covered_share(first, 0.01, line(0.03, 0.09, 0), 0.01) == doctest::Approx(0.5));
    CHECK(covered_share(first, 0.01, line(0.1, 0.16, 0), 0.01) == 0);
}
