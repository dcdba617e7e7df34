#include "text/assets.h"
#include "text/input_error.h"

#include <doctest/doctest.h>

#include <cstdlib>
#include <fstream>

using namespace holdtrue;
namespace fs = std::filesystem;

TEST_CASE("assets are found where the environment says") {
    const fs::path folder = fs::temp_directory_path() / "holdtrue_assets_test";
    fs::create_directories(folder);
    setenv("HOLDTRUE_ASSETS", folder.c_str(), 1);
    CHECK(text::assets_folder() == folder);
    setenv("HOLDTRUE_ASSETS", (folder / "none").c_str(), 1);
    CHECK_THROWS_AS(text::assets_folder(), text::InputError);
    unsetenv("HOLDTRUE_ASSETS");
    fs::remove_all(folder);
}

TEST_CASE("without it they are those of the source tree") {
    unsetenv("HOLDTRUE_ASSETS");
    CHECK(fs::equivalent(text::assets_folder(), fs::path(HOLDTRUE_SOURCE_DIR) / "assets"));
}
