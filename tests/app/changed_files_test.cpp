// Files edited outside while they are on the bench.
#include "app/session/session.h"
#include "exercises.h"

#include <doctest/doctest.h>

#include <fstream>
#include <iterator>

using namespace holdtrue;
using namespace holdtrue::app;
using app::test::Desk;
using app::test::shipped;

namespace fs = std::filesystem;

namespace {

void write(const fs::path& file, const std::string& text) { std::ofstream(file) << text; }

std::string read(const fs::path& file) {
    std::ifstream in(file);
    return {std::istreambuf_iterator<char>(in), {}};
}

} // namespace

TEST_CASE(
    "a file that changes on disk is read anew, a mistake in it leaves the bench as it was until it is put right") {
    const Desk desk("changed");
    const fs::path room = desk.places.configuration / "own";
    fs::create_directories(room / "exercises");
    // The shipped exercise with its part and shop, as an author has them.
    const auto copy = [&](const fs::path& from, const fs::path& to) {
        fs::create_directories(to.parent_path());
        fs::copy_file(from, to, fs::copy_options::overwrite_existing);
    };
    const fs::path source = HOLDTRUE_SOURCE_DIR;
    for (const char* file : {"assets/parts/tee_coupon.part.toml", "assets/shops/rookwood.shop.toml",
                             "lessons/exercises/tee_coupon.exercise.toml"})
        copy(source / file, room / file);
    const fs::path exercise = room / "lessons/exercises/tee_coupon.exercise.toml",
                   part = room / "assets/parts/tee_coupon.part.toml";

    Session session(desk.places);
    session.apply(act::Open{exercise});
    REQUIRE(session.problems().empty());
    CHECK_FALSE(session.look_for_changed_files());
    session.apply(act::WeldNext{0});
    REQUIRE(session.plan().moves.size() == 1);
    const std::string pass = session.part().passes[0].name, title = session.exercise().title;

    const std::string good = read(exercise);
    std::string renamed = good;
    renamed.replace(renamed.find(title), title.size(), "A tee of another name");
    write(exercise, renamed);
    CHECK(session.look_for_changed_files());
    CHECK(session.problems().empty());
    CHECK(session.exercise().title == "A tee of another name");
    REQUIRE(session.plan().moves.size() == 1);
    CHECK(session.part()
              .passes[static_cast<std::size_t>(std::get<weld::WeldPass>(session.plan().moves[0].what).pass)]
              .name == pass);
    CHECK(session.unsaved());

    write(exercise, renamed + "\nno_such_key = 1\n");
    CHECK(session.look_for_changed_files());
    REQUIRE_FALSE(session.problems().empty());
    CHECK(session.problems().front().line > 0);
    CHECK(session.exercise().title == "A tee of another name");
    write(exercise, good);
    CHECK(session.look_for_changed_files());
    CHECK(session.problems().empty());
    CHECK(session.exercise().title == title);

    // The plan: read anew while nothing else was changed on the bench, kept when something was.
    const fs::path plan = room / "mine.plan.toml";
    session.apply(act::SaveAs{plan});
    CHECK_FALSE(session.look_for_changed_files());
    const std::string other = read(plan);
    write(plan, other + "\n[[move]]\nwait_s = 60\n");
    CHECK(session.look_for_changed_files());
    CHECK(session.problems().empty());
    CHECK(session.plan().moves.size() == 2);
    session.apply(act::AddWait{30, 0, -1});
    write(plan, other);
    CHECK(session.look_for_changed_files());
    CHECK(session.plan().moves.size() == 3);
    CHECK(session.news());
}

TEST_CASE("a file that could not be opened is opened when its mistake has been put right") {
    const Desk desk("put_right");
    Session session(desk.places);
    const fs::path plan = desk.places.configuration / "p.plan.toml";
    fs::create_directories(plan.parent_path());
    session.apply(act::Open{shipped("tee_coupon.exercise.toml")});
    write(plan, "title = [\n");
    session.apply(act::Open{plan});
    REQUIRE_FALSE(session.problems().empty());
    std::string good = read(shipped("tee_coupon.model.plan.toml"));
    good.erase(good.find("exercise = "), good.find('\n', good.find("exercise = ")) - good.find("exercise = "));
    write(plan, good);
    CHECK(session.look_for_changed_files());
    CHECK(session.problems().empty());
    CHECK(session.plan().file == plan);
    CHECK(session.plan().moves.size() > 4);
}
