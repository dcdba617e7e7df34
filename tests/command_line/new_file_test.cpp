#include "command_line/program.h"

#include <doctest/doctest.h>

using namespace holdtrue::test;

TEST_CASE("each new file passes check as it is") {
    const ShippedCopy shipped;
    const std::string folder = shipped.folder().string();
    for (const std::string kind : {"part", "shop", "exercise", "plan"}) {
        const std::string stem = folder + "/mine_1", file = stem + "." + kind + ".toml";
        const Ran made = run_program("new " + kind + " '" + stem + "'");
        CAPTURE(made.output);
        CHECK(made.exit_code == 0);
        const Ran checked = run_program("check '" + file + "'");
        CAPTURE(checked.output);
        CHECK(checked.exit_code == 0);

        // What is there stays as it is.
        const std::string before = content_of(file);
        const Ran again = run_program("new " + kind + " '" + stem + "'");
        CHECK(again.exit_code == 2);
        CHECK(again.output.find("exists already; choose another name") != std::string::npos);
        CHECK(content_of(file) == before);
    }
}

TEST_CASE("a new exercise and plan refer to the files they are told to") {
    const ShippedCopy shipped;
    const std::string stem = shipped.folder().string() + "/mine";
    CHECK(run_program("new part '" + stem + "'").exit_code == 0);
    CHECK(run_program("new exercise '" + stem + "' --part '" + stem + ".part.toml'").exit_code == 0);
    CHECK(run_program("new plan '" + stem + "' --exercise '" + stem + ".exercise.toml'").exit_code == 0);
    CHECK(content_of(stem + ".exercise.toml").find("part = \"mine.part.toml\"") != std::string::npos);
    CHECK(run_program("check '" + stem + ".exercise.toml' '" + stem + ".plan.toml'").exit_code == 0);
}

TEST_CASE("names and places that cannot be are refused") {
    const Ran spaced = run_program("new part 'a b'");
    CHECK(spaced.exit_code == 2);
    CHECK(spaced.output.find("use letters, digits, _ and -") != std::string::npos);
    CHECK(run_program("new part /no/such/folder/x").exit_code == 2);
    CHECK(run_program("new gadget x").exit_code == 2);
    CHECK(run_program("new part").exit_code == 2);
}
