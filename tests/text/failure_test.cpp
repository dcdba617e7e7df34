#include "text/failure.h"
#include "text/input_error.h"
#include "text/translate.h"

#include <doctest/doctest.h>

#include <filesystem>
#include <new>
#include <system_error>

using namespace holdtrue::text;

TEST_CASE("what stopped a computation is told in the reader's language") {
    const Translation spanish =
        Translation::read(std::filesystem::path(HOLDTRUE_SOURCE_DIR) / "assets/translations/es");
    CHECK(failure_words(std::bad_alloc()).english() == "there is not enough memory for it");
    CHECK(spanish.say(failure_words(std::bad_alloc())) == "no hay memoria suficiente para ello");
    const auto full = std::make_error_code(std::errc::no_space_on_device);
    CHECK(failure_words(std::filesystem::filesystem_error("", "a.toml", full)).english() == "a.toml: the disk is full");
    CHECK(spanish.say(failure_words(std::system_error(full))) == "el disco está lleno");
    const InputError mistake("a.toml", 3, worded("is a folder"), worded("name a file to be written"));
    CHECK(failure_words(mistake).english() == "a.toml:3: is a folder; name a file to be written");
    CHECK(failure_words(std::runtime_error("row 2 is empty")).english() == "row 2 is empty");
}
