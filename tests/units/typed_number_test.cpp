#include "units/typed_number.h"

#include <doctest/doctest.h>

#include <string>

using namespace holdtrue::units;

TEST_CASE("numbers are read as people type them, with the fractions of an inch rule") {
    struct Row {
        const char* text;
        double value;
        std::size_t length;
    };
    for (const Row& row :
         {Row{"18.5", 18.5, 4}, Row{"+3 mm", 3, 2}, Row{"-40", -40, 3}, Row{" 2.50V", 2.5, 5}, Row{"1/4", 0.25, 3},
          Row{"5/16in", 0.3125, 4}, Row{"1 1/2 in", 1.5, 5}, Row{"3 / 8\"", 0.375, 5}, Row{"2 in", 2, 1},
          Row{"1/0", 1, 1}, Row{"1/", 1, 1}, Row{"1.5/2", 1.5, 3}, Row{"300mm/min", 300, 3}, Row{"1e-3", 1e-3, 4}}) {
        CAPTURE(row.text);
        const auto number = typed_number(row.text);
        REQUIRE(number);
        CHECK(number->value == doctest::Approx(row.value));
        CHECK(number->length == row.length);
    }
    for (const char* none : {"", "  ", "mm", "/4", "+", "nan", "inf"})
        CHECK_FALSE(typed_number(none));
}
