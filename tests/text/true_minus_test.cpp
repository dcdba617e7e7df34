#include "text/true_minus.h"

#include <doctest/doctest.h>

using holdtrue::text::true_minus;

TEST_CASE("a hyphen before a figure is set as a minus, those within names and ranges stay") {
    CHECK(true_minus("-0.51 mm") == "−0.51 mm");
    CHECK(true_minus("bow -0.51 mm (-2 %)\n-3") == "bow −0.51 mm (−2 %)\n−3");
    for (const char* stays : {"seam-2", "5-30 s", "EN 1011-2", "2026-05-01", "-", "- 3", "--scale 2", "a -b", ""})
        CHECK(true_minus(stays) == stays);
}
