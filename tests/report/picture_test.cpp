#include "report/picture.h"
#include "scratch_folder.h"
#include "text/input_error.h"
#include "weld/hand_made.h"

#include <doctest/doctest.h>

#include <filesystem>
#include <fstream>

using namespace holdtrue;

TEST_CASE("a picture is drawn as PNG and SVG") {
    const weld::Outcome outcome = test::outcome();
    grading::Mark mark;
    mark.total = 84;
    mark.passed = true;
    const ScratchFolder folder("picture");
    for (const char* name : {"arm.png", "arm.svg"}) {
        report::save_outcome_picture(folder.path / name, "T coupon: keep the flange flat", outcome, mark);
        CHECK(std::filesystem::file_size(folder.path / name) > 20000);
    }
}
