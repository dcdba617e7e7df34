#include "app/ui/axis.h"

#include <doctest/doctest.h>

#include <algorithm>

using namespace holdtrue;

TEST_CASE("marks of an axis are round in its unit, few, between its ends, and written with the unit") {
    const units::Unit &mm = units::length.units[0], &inch = units::length.units[1], &degree = units::angle.units[0];
    const auto texts = [](const std::vector<app::Tick>& marks) {
        std::vector<std::string> written;
        for (const app::Tick& mark : marks)
            written.push_back(mark.text);
        return written;
    };
    using Texts = std::vector<std::string>;
    CHECK(texts(app::ticks_in(mm, -0.264e-3, 0.264e-3, 4)) == Texts{"\u22120.2 mm", "0 mm", "+0.2 mm"});
    CHECK(texts(app::ticks_in(inch, 0, 0.012 * 25.4e-3, 3)) == Texts{"0 in", "0.005 in", "0.010 in"});
    CHECK(texts(app::ticks_in(degree, -0.33 * degree.scale, 0.33 * degree.scale, 4)) ==
          Texts{"\u22120.2°", "0°", "+0.2°"});
    CHECK(texts(app::ticks_in({}, 0, 37, 4)) == Texts{"0", "10", "20", "30"});
    for (const double span : {1e-6, 3.3e-5, 0.00042, 0.0087, 0.5})
        for (const int count : {2, 4, 7}) {
            const auto marks = app::ticks_in(mm, -span, span, count);
            CHECK(marks.size() >= 3);
            CHECK(static_cast<int>(marks.size()) <= std::max(count + 1, 5));
            CHECK(marks.front().value >= -span * (1 + 1e-9));
            CHECK(marks.back().value <= span * (1 + 1e-9));
            Texts written = texts(marks);
            std::ranges::sort(written);
            CHECK(std::ranges::adjacent_find(written) == written.end()); // decimals enough to tell them apart
        }
}
