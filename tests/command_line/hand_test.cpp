// Hand-out, hints and hand-in as trainee and instructor go through them, with the built program.
#include "command_line/program.h"
#include "grading/read_exercise.h"
#include "grading/variant.h"
#include "record/raw_zip.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cstdlib>

using namespace holdtrue::test;
namespace fs = std::filesystem;

namespace {

std::string quoted(const fs::path& path) { return "'" + path.string() + "'"; }

bool has(const std::string& text, const std::string& words) { return text.find(words) != std::string::npos; }

// The program with a data folder of the test's own, so that no record of this machine is touched.
struct Workshop {
    ShippedCopy shipped;
    fs::path folder = shipped.folder();
    Workshop() { ::setenv("XDG_DATA_HOME", (folder / "data").c_str(), 1); }
    ~Workshop() { ::unsetenv("XDG_DATA_HOME"); }
};

std::string with_name(std::string plan, const std::string& name) {
    const std::string empty = "trainee = \"\"";
    return plan.replace(plan.find(empty), empty.size(), "trainee = \"" + name + "\"");
}

} // namespace

TEST_CASE("hand out, unpack, weld, take a hint, hand in, mark the class") {
    const Workshop shop;
    const fs::path out = shop.folder / "tee.handout.zip", home = shop.folder / "ann";
    const Ran packed = run_program("handout " + quoted(shop.shipped.find("tee_against_the_clock.exercise.toml")) +
                                   " -o " + quoted(out));
    CHECK_MESSAGE(packed.exit_code == 0, packed.output);
    CHECK(has(packed.output, "SHA-256 "));
    const Ran unpacked = run_program("unpack " + quoted(out) + " -d " + quoted(home));
    CHECK_MESSAGE(unpacked.exit_code == 0, unpacked.output);
    const fs::path exercise = home / "tee_against_the_clock.exercise.toml",
                   plan = home / "tee_against_the_clock.start.plan.toml";
    // A name whose variant has the wire that the starting plan takes.
    const auto as_written = holdtrue::grading::read_exercise(exercise);
    std::string ann = "Ann";
    const auto has_wire = [&] {
        const int drawn = holdtrue::grading::drawn_variant(as_written, ann);
        return !holdtrue::grading::read_exercise(exercise, drawn).shop->wires.front().id.ends_with("10");
    };
    while (!has_wire())
        ann += "n";
    write(plan, with_name(content_of(plan), ann));
    const Ran checked = run_program("check " + quoted(exercise) + " " + quoted(plan));
    CHECK_MESSAGE(checked.exit_code == 0, checked.output);
    CHECK(has(checked.output, "8 variants, 3 hints"));
    CHECK(has(checked.output, "in variant "));

    // Two hints; then the plan is made to forget them, which the record does not.
    run_program("record trainee add " + ann);
    const std::string ask = "hint " + quoted(exercise) + " " + quoted(plan);
    const Ran first = run_program(ask), second = run_program(ask);
    CHECK(has(first.output, "Hint 1 of 3"));
    CHECK(has(first.output, "and in the record of " + ann));
    CHECK(has(second.output, "Hint 2 of 3"));
    CHECK(has(content_of(plan), "hints = 2\n"));
    std::string forgetful = content_of(plan);
    forgetful.replace(forgetful.find("hints = 2"), 9, "hints = 0");
    write(plan, forgetful);
    const Ran third = run_program(ask), fourth = run_program(ask);
    CHECK(has(third.output, "Hint 3 of 3"));
    CHECK(fourth.exit_code == 2);
    CHECK(has(fourth.output, "all hints of the exercise were given"));
    write(plan, forgetful);
    const Ran welded = run_program("weld " + quoted(exercise) + " " + quoted(plan) + " --trainee " + ann);
    CHECK_MESSAGE(has(welded.output, "Hints taken"), welded.output);
    CHECK(has(welded.output, "Variant "));
    CHECK(has(run_program("record export --format csv").output, ",3,"));

    const fs::path class_folder = shop.folder / "class";
    fs::create_directories(class_folder);
    const Ran handed = run_program("handin " + quoted(plan) + " -o " + quoted(class_folder / "ann.handin.zip"));
    CHECK_MESSAGE(handed.exit_code == 0, handed.output);
    CHECK(has(handed.output, "hints 3"));
    // Ben copies Ann's plan under his own name; Cy claims a variant that is not his; Dee's file is broken.
    std::string ben = content_of(plan);
    ben.replace(ben.find('"' + ann + '"'), ann.size() + 2, "\"Ben\"");
    write(class_folder / "ben.plan.toml", ben);
    std::string cy = ben;
    cy.replace(cy.find("\"Ben\""), 5, "\"Cy\"");
    write(class_folder / "cy.plan.toml", "variant = 0\n" + cy);
    fs::create_directories(class_folder / "folder.plan.toml");
    write(class_folder / "dee.handin.zip", content_of(class_folder / "ann.handin.zip").substr(0, 300));
    const Ran marked = run_program("class " + quoted(exercise) + " " + quoted(class_folder) + " --csv " +
                                   quoted(shop.folder / "marks.csv"));
    CHECK_MESSAGE(marked.exit_code == 0, marked.output);
    CHECK(has(marked.output, "same plan as ann.handin.zip"));
    CHECK_FALSE(has(marked.output, "Left out")); // it is among the plans already
    CHECK(has(marked.output, "answers variant 0; the name Cy draws "));
    const std::string csv = content_of(shop.folder / "marks.csv");
    CHECK(has(csv, "\"ann.handin.zip\",\"" + ann + '"'));
    CHECK(has(csv, "dee.handin.zip"));
    CHECK(std::ranges::count(csv, '\n') == 6);
}

TEST_CASE("a hand-out with a rule of another version of the program is marked without it, and every mark says so") {
    const Workshop shop;
    const fs::path home = shop.folder / "tee", file = shop.folder / "tee.handout.zip",
                   exercise = home / "tee_coupon.exercise.toml";
    run_program("handout " + quoted(shop.shipped.find("tee_coupon.exercise.toml")) + " -o " + quoted(file));
    REQUIRE(run_program("unpack " + quoted(file) + " -d " + quoted(home)).exit_code == 0);
    const fs::path plans = shop.folder / "plans";
    fs::create_directories(plans);
    fs::copy_file(shop.shipped.find("tee_coupon.model.plan.toml"), plans / "ann.plan.toml");
    const std::string weld = "weld " + quoted(exercise) + " " + quoted(plans / "ann.plan.toml") + " --variant 0";
    const auto mark_of = [](const std::string& told) {
        const std::size_t at = told.find("Mark");
        return at == std::string::npos ? "no mark in: " + told : told.substr(at, told.find('\n', at) - at);
    };
    const Ran before = run_program(weld);

    write(home / "rules/other.toml",
          "[[rule]]\nid = \"later.rule\"\nabout = \"a\"\napplies = \"a\"\nsays = \"a\"\nunit = \"mm\"\nlow = 1\n"
          "source = \"a\"\nmark = \"handbook\"\nvalid = \"a\"\nseverity = \"fail\"\n");
    const Ran welded = run_program(weld);
    CHECK(welded.exit_code == before.exit_code);
    CHECK(mark_of(welded.output) == mark_of(before.output));
    CHECK_FALSE(has(before.output, "another version of the program"));
    CHECK_MESSAGE(has(welded.output, "later.rule"), welded.output);
    CHECK(has(welded.output, "another version of the program may mark otherwise"));
    const Ran marked = run_program("class " + quoted(exercise) + " " + quoted(plans));
    CHECK_MESSAGE(has(marked.output, "cannot judge 1 rule of the exercise"), marked.output);
    CHECK_FALSE(has(marked.output, "Most common remark: rules that")); // it is in every mark
    const Ran checked = run_program("check " + quoted(exercise));
    CHECK(checked.exit_code == 2);
    CHECK(has(checked.output, "other.toml:1: nothing in the program judges a rule later.rule as it stands"));
    // Whether it was passed cannot be said where the rule must be met.
    std::string asks = content_of(exercise);
    asks.replace(asks.find("must_pass = ["), 13, "must_pass = [\"later.rule\", ");
    write(exercise, asks);
    const Ran refused = run_program(weld);
    CHECK(refused.exit_code == 2);
    CHECK_MESSAGE(has(refused.output, "must_pass names rule later.rule, which this program cannot judge"),
                  refused.output);
}

TEST_CASE("a hint is not noted in a plan that ships with the program") {
    const Workshop shop; // its copy of the lessons takes the place of the program's
    const fs::path plan = shop.shipped.find("tee_coupon.model.plan.toml");
    ::setenv("HOLDTRUE_LESSONS", plan.parent_path().parent_path().c_str(), 1);
    const std::string before = content_of(plan);
    const Ran refused = run_program("hint tee_coupon " + quoted(plan));
    CHECK(refused.exit_code == 2);
    CHECK(has(refused.output, "copy it and name the copy"));
    CHECK(content_of(plan) == before);
    const fs::path mine = shop.folder / "mine.plan.toml";
    write(mine, before);
    const Ran noted = run_program("hint tee_coupon " + quoted(mine));
    ::unsetenv("HOLDTRUE_LESSONS");
    CHECK_MESSAGE(noted.exit_code == 0, noted.output);
    CHECK(has(content_of(mine), "hints = 1\n"));
}

TEST_CASE("a quantity with a comma, or out of all bounds, is told in one short line") {
    const Ran comma = run_program("setup --t1 3,5");
    CHECK(comma.exit_code == 2);
    CHECK(has(comma.output, "write a point in its place"));
    const Ran huge = run_program("setup --t1 1e62");
    CHECK(huge.exit_code == 2);
    CHECK(has(huge.output, "--t1 is 1e62 mm, out of range"));
}

TEST_CASE("trainees with letters of several bytes stand in columns") {
    const Workshop shop;
    run_program("record trainee add Bela");
    run_program("record trainee add 'Bél Ünal'");
    const std::string list = run_program("record trainee list").output;
    const std::size_t plain = list.find("since"), line = list.find('\n');
    const std::size_t wide = list.find("since", line) - line - 1;
    CHECK_MESSAGE(wide == plain + 2, list); // two letters of two bytes
}

TEST_CASE("a hostile or damaged bundle is exit code 2, one clear line, and nothing written") {
    const Workshop shop;
    const fs::path file = shop.folder / "bad.handout.zip", target = shop.folder / "target";
    const std::string good = [&] {
        run_program("handout " + quoted(shop.shipped.find("tee_coupon.exercise.toml")) + " -o " + quoted(file));
        return content_of(file);
    }();
    const auto refused = [&](const std::string& bytes, const std::string& words) {
        write(file, bytes);
        const Ran ran = run_program("unpack " + quoted(file) + " -d " + quoted(target));
        CHECK(ran.exit_code == 2);
        CHECK_MESSAGE(has(ran.output, words), ran.output);
        CHECK(std::ranges::count(ran.output, '\n') == 1);
        CHECK(!fs::exists(target));
        CHECK(!fs::exists(shop.folder / "evil"));
    };
    refused(raw_zip({{"../evil", "x"}}), "leads out of its folder");
    refused(raw_zip({{"/tmp/evil", "x"}}), "root of the disk");
    refused(raw_zip({{"link", "/etc", 0120777}, {"link/evil", "x"}}), "no plain file");
    refused(raw_zip({{"a", "1"}, {"a", "2"}}), "twice");
    refused(raw_zip({{"manifest.json", "{}"}}), "manifest");
    refused("", "is no zip archive");
    refused(good.substr(0, good.size() / 2), "bad.handout.zip");
    std::string flipped = good;
    flipped[good.size() / 3] = static_cast<char>(flipped[good.size() / 3] ^ 0x40);
    refused(flipped, "bad.handout.zip");
    write(file, good);
    fs::create_directories(target);
    write(target / "mine", "x");
    CHECK(run_program("unpack " + quoted(file) + " -d " + quoted(target)).exit_code == 2);
    CHECK(fs::exists(target / "mine"));
    CHECK(run_program("unpack " + quoted(shop.folder / "none.zip") + " -d " + quoted(target)).exit_code == 2);
    CHECK(run_program("handout " + quoted(shop.shipped.find("tee_coupon.exercise.toml")) + " -o " +
                      quoted(shop.folder / "x.zip"))
              .exit_code == 2);
}

TEST_CASE("the calibration sheet as a page to print") {
    const Workshop shop;
    for (const char* paper : {"a4", "letter"}) {
        const fs::path file = shop.folder / (std::string(paper) + ".pdf");
        const Ran ran =
            run_program("setup --calibration-sheet --shop " + quoted(shop.shipped.find("rookwood.shop.toml")) +
                        " --out " + quoted(file) + " --paper " + paper);
        CHECK_MESSAGE(ran.exit_code == 0, ran.output);
        CHECK(content_of(file).starts_with("%PDF"));
    }
    CHECK(run_program("setup --calibration-sheet --out " + quoted(shop.folder / "x.txt")).exit_code == 2);
    CHECK(run_program("setup --t1 3 --out x.pdf").exit_code == 2);
}
