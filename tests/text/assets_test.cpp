#include "scratch_folder.h"
#include "text/assets.h"
#include "text/input_error.h"

#include <doctest/doctest.h>

#include <cstdlib>
#include <fstream>

using namespace holdtrue;
namespace fs = std::filesystem;

TEST_CASE("assets are found where the environment says") {
    const ScratchFolder folder("assets");
    setenv("HOLDTRUE_ASSETS", folder.path.c_str(), 1);
    CHECK(text::assets_folder() == folder.path);
    setenv("HOLDTRUE_ASSETS", (folder.path / "none").c_str(), 1);
    CHECK_THROWS_AS(text::assets_folder(), text::InputError);
    unsetenv("HOLDTRUE_ASSETS");
}

TEST_CASE("without it they are those of the source tree") {
    unsetenv("HOLDTRUE_ASSETS");
    CHECK(fs::equivalent(text::assets_folder(), fs::path(HOLDTRUE_SOURCE_DIR) / "assets"));
}
