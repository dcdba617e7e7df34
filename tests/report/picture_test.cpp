#include "weld/hand_made.h"
#include "report/picture.h"
#include "text/input_error.h"

#include <doctest/doctest.h>
#include <unistd.h>

#include <filesystem>
#include <fstream>

using namespace holdtrue;

TEST_CASE("a picture is drawn as PNG and SVG") {
    const weld::Outcome outcome = test::outcome();
    grading::Mark mark;
    mark.total = 84;
    mark.passed = true;
    const auto folder = std::filesystem::temp_directory_path();
    for (const char* name : {"holdtrue_picture_test.png", "holdtrue_picture_test.svg"}) {
        report::save_outcome_picture(folder / name, "T coupon: keep the flange flat", outcome, mark);
        CHECK(std::filesystem::file_size(folder / name) > 20000);
    }
}
