#include "record/progress.h"
#include "record/record.h"
#include "record/schema.h"
#include "scratch_folder.h"
#include "text/input_error.h"

#include <doctest/doctest.h>

#include <cstdlib>
#include <fstream>

using namespace holdtrue::record;
using holdtrue::text::InputError;
namespace fs = std::filesystem;

namespace {

Attempt attempt_of(std::int64_t trainee, double mark, Milliseconds ended_ms) {
    Attempt attempt;
    attempt.trainee = trainee;
    attempt.exercise = "lift_arm";
    attempt.title = "The lift arm";
    attempt.plan = "title = \"my plan\"\n";
    attempt.started_ms = ended_ms - 600'000;
    attempt.ended_ms = ended_ms;
    attempt.mark = mark;
    attempt.passed = mark >= 60;
    attempt.points = {20, 15.5, 25, 5, 8};
    attempt.hints = 1;
    attempt.variant = 7;
    attempt.program = "0.1.0";
    return attempt;
}

std::string complaint(const auto& call) {
    try {
        call();
    } catch (const InputError& error) {
        return error.what();
    }
    return "";
}

} // namespace

TEST_CASE("what is recorded is read back, of each trainee alone") {
    const ScratchFolder folder("record");
    const fs::path path = folder.path / "deep" / "record.sqlite";
    {
        Record record(path);
        const Trainee ann = record.add_trainee("Ann"), zoe = record.add_trainee("Zoë O'Hara");
        record.set_current_trainee(zoe.id);
        record.add_attempt(attempt_of(ann.id, 55, 2'000'000));
        record.add_attempt(attempt_of(ann.id, 72.5, 3'000'000));
        record.add_attempt(attempt_of(zoe.id, 90, 1'000'000));
        record.add_answer({0, "", ann.id, "fire_watch/reach", "6.0", true, 5, 4'000'000, 12'000});
    }
    const Record record(path);
    REQUIRE(record.trainees().size() == 2);
    CHECK(record.current_trainee()->name == "Zoë O'Hara");
    const std::int64_t ann = record.find_trainee("Ann")->id;
    const std::vector<Attempt> attempts = record.attempts(ann);
    REQUIRE(attempts.size() == 2);
    const Attempt& last = attempts[1];
    CHECK(last.mark == 72.5);
    CHECK(last.passed);
    CHECK(last.plan == "title = \"my plan\"\n");
    CHECK(last.points == std::array{20.0, 15.5, 25.0, 5.0, 8.0});
    CHECK(last.hints == 1);
    CHECK(last.variant == 7);
    CHECK(last.uuid.size() == 36);
    CHECK(last.uuid[14] == '4'); // RFC 9562, version 4
    CHECK(last.uuid != attempts[0].uuid);
    CHECK(record.attempts().size() == 3);
    CHECK(record.answers(ann).at(0).given == "6.0");

    const auto exercises = exercise_progress(record, ann);
    REQUIRE(exercises.size() == 1);
    CHECK(exercises[0].marks == std::vector{55.0, 72.5});
    CHECK(exercises[0].best == 72.5);
    CHECK(exercises[0].spent_ms == 1'200'000);
    const auto questions = question_progress(record, ann);
    REQUIRE(questions.size() == 1);
    CHECK(questions[0].right == 1);
    CHECK(questions[0].due_ms == 4'000'000 + 86'400'000); // SM-2: one day after the first right answer
}

TEST_CASE("trainees are renamed and removed with all that is theirs") {
    const ScratchFolder folder("trainee");
    Record record(folder.path / "r.sqlite");
    const Trainee ann = record.add_trainee("Ann"), bob = record.add_trainee("Bob");
    record.add_attempt(attempt_of(ann.id, 1, 1));
    record.add_attempt(attempt_of(bob.id, 2, 2));
    record.set_current_trainee(ann.id);
    record.rename_trainee(bob.id, "Robert");
    CHECK(record.find_trainee("Robert"));
    CHECK(record.find_trainee("rOBERT")->name == "Robert");
    CHECK_THROWS_AS(record.add_trainee("robert"), InputError); // one person
    const Trainee zoe = record.add_trainee("Zoe");
    record.remove_trainee(ann.id);
    CHECK(record.attempts().size() == 1);
    CHECK(!record.current_trainee()); // of two, nobody chose one
    record.remove_trainee(zoe.id);
    CHECK(!record.current_trainee()); // who was not current changes nothing
    const Trainee eve = record.add_trainee("Eve");
    record.set_current_trainee(eve.id);
    record.remove_trainee(eve.id);
    REQUIRE(record.current_trainee()); // the only one left
    CHECK(record.current_trainee()->name == "Robert");

    CHECK(complaint([&] { record.add_trainee("Robert"); }).find("already") != std::string::npos);
    for (const std::string& name : {std::string(""), std::string("  "), std::string("a\nb"), std::string(101, 'x'),
                                    std::string("\xff\xfe"), std::string("\xc3")})
        CHECK_THROWS_AS(record.add_trainee(name), InputError);
    const std::string hostile = "'; DROP TABLE trainee; --";
    record.add_trainee(hostile);
    CHECK(record.find_trainee(hostile));
    CHECK(record.trainees().size() == 2);
}

TEST_CASE("an older record is brought up to date and keeps what it holds") {
    const ScratchFolder folder("migration");
    const fs::path path = folder.path / "old.sqlite";
    {
        const Database database(path, Database::Access::read_write);
        migrate(database, 1);
        CHECK(version_of(database) == 1);
        database.execute("INSERT INTO trainee VALUES (1, 'u', 'Ann', 5);"
                         "INSERT INTO attempt VALUES (1, 'v', 1, 'tee_coupon', 'Tee', 'plan', 1, 2, 61.5, 1, '0.0.9')");
    }
    const Record record(path);
    CHECK(version_of(record.database()) == newest_version());
    const auto attempts = record.attempts();
    REQUIRE(attempts.size() == 1);
    CHECK(attempts[0].mark == 61.5);
    CHECK(attempts[0].hints == 0);
    CHECK(attempts[0].points == std::array<double, 5>{});
}

TEST_CASE("a newer record, another program's database and a damaged file are refused and left alone") {
    const ScratchFolder folder("refused");
    const fs::path newer = folder.path / "newer.sqlite", other = folder.path / "other.sqlite",
                   text = folder.path / "text.sqlite";
    {
        const Record record(newer);
        record.database().execute("PRAGMA user_version = 99");
        const Database database(other, Database::Access::read_write);
        database.execute("CREATE TABLE bread (flour)");
        std::ofstream(text) << std::string(5000, 'x');
    }
    CHECK(complaint([&] { Record record(newer); }).find("newer Holdtrue") != std::string::npos);
    CHECK(complaint([&] { Record record(other); }).find("another program") != std::string::npos);
    CHECK(complaint([&] { Record record(text); }).find("not a record") != std::string::npos);
    CHECK(fs::file_size(text) == 5000);
    CHECK_NOTHROW(Statement(Database(other, Database::Access::read_only), "SELECT flour FROM bread").run());
}

TEST_CASE("backup and restore") {
    const ScratchFolder folder("backup");
    const fs::path path = folder.path / "r.sqlite", saved = folder.path / "saved.sqlite";
    {
        Record record(path);
        record.add_trainee("Ann");
        record.backup(saved);
        record.add_trainee("Bob");
    }
    restore(path, saved);
    CHECK(Record(path).trainees().size() == 1);
    CHECK(Record(path.string() + ".before_restore").trainees().size() == 2);

    SUBCASE("over a damaged record, which is kept") {
        std::ofstream(path) << "rubbish" << std::string(9000, 'y');
        CHECK_THROWS_AS(Record{path}, InputError);
        restore(path, saved);
        CHECK(Record(path).trainees().size() == 1);
        CHECK(fs::file_size(path.string() + ".before_restore_2") == 9007);
        CHECK(Record(path.string() + ".before_restore").trainees().size() == 2); // still there
    }
    SUBCASE("never under the hands of another who writes it") {
        const Database writer(path, Database::Access::read_write);
        writer.execute("BEGIN EXCLUSIVE");
        CHECK(complaint([&] { restore(path, saved); }).find("another program is writing") != std::string::npos);
        writer.execute("INSERT INTO trainee (uuid, name, since_ms) VALUES ('c', 'Cy', 0)");
        writer.execute("COMMIT");
        CHECK(Record(path).trainees().size() == 2);
        CHECK(!fs::exists(path.string() + ".before_restore_2"));
    }
    SUBCASE("nor in the place of another program's database") {
        fs::remove(path);
        Database(path, Database::Access::read_write).execute("CREATE TABLE bread (flour)");
        CHECK_THROWS_AS(restore(path, saved), InputError);
        CHECK_NOTHROW(Statement(Database(path, Database::Access::read_only), "SELECT flour FROM bread").run());
    }
    SUBCASE("what is no backup is refused and changes nothing") {
        std::ofstream(folder.path / "no.sqlite") << std::string(3000, 'z');
        std::ofstream(folder.path / "empty.sqlite");
        fs::copy_file(saved, folder.path / "cut.sqlite");
        fs::resize_file(folder.path / "cut.sqlite", fs::file_size(saved) - 4096);
        for (const char* name : {"no.sqlite", "empty.sqlite", "cut.sqlite", "none.sqlite"})
            CHECK_THROWS_AS(restore(path, folder.path / name), InputError);
        CHECK(Record(path).trainees().size() == 1);
    }
}

TEST_CASE("the record lies in the XDG data folder") {
    const char* before_data = std::getenv("XDG_DATA_HOME");
    const std::string data = before_data ? before_data : "";
    ::setenv("XDG_DATA_HOME", "/data/of/me", 1);
    CHECK(default_path() == "/data/of/me/holdtrue/record.sqlite");
    ::setenv("XDG_DATA_HOME", "relative", 1); // to be ignored: XDG base directory specification
    const char* before_home = std::getenv("HOME");
    const std::string home = before_home ? before_home : "";
    ::setenv("HOME", "/home/me", 1);
    CHECK(default_path() == "/home/me/.local/share/holdtrue/record.sqlite");
    before_data ? ::setenv("XDG_DATA_HOME", data.c_str(), 1) : ::unsetenv("XDG_DATA_HOME");
    before_home ? ::setenv("HOME", home.c_str(), 1) : ::unsetenv("HOME");
}
