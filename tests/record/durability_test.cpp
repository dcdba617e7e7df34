// What happens to the record when the program is killed, the disk is full, or it may only be read.
#include "record/bundle.h"
#include "record/record.h"
#include "record/schema.h"
#include "scratch_folder.h"
#include "text/input_error.h"

#include <doctest/doctest.h>
#include <fcntl.h>
#include <signal.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cerrno>
#include <chrono>
#include <cstdint>
#include <functional>
#include <random>
#include <stdexcept>
#include <system_error>
#include <thread>

using namespace holdtrue::record;
using holdtrue::text::InputError;
namespace fs = std::filesystem;

namespace {

// Runs `body` in a child process and returns what it wrote to the descriptor it got, all of it.
struct Child {
    pid_t pid = 0;
    int reads = -1;
};
Child start(const std::function<void(int)>& body) {
    int ends[2];
    REQUIRE(::pipe(ends) == 0);
    const pid_t pid = ::fork();
    REQUIRE(pid >= 0);
    if (pid == 0) {
        ::close(ends[0]);
        try {
            body(ends[1]);
        } catch (...) {
            ::_exit(3);
        }
        ::_exit(0);
    }
    ::close(ends[1]);
    return {pid, ends[0]};
}
std::string rest_of(int descriptor) {
    std::string all;
    char buffer[4096];
    for (ssize_t got; (got = ::read(descriptor, buffer, sizeof buffer)) > 0;)
        all.append(buffer, static_cast<std::size_t>(got));
    ::close(descriptor);
    return all;
}
void send(int descriptor, const std::string& text) { (void)!::write(descriptor, text.data(), text.size()); }

// The InputError that `call` ends with in a child process, or "" if it succeeds.
std::string complaint_in_child(const std::function<void()>& call) {
    const Child child = start([&](int out) {
        try {
            call();
        } catch (const InputError& error) {
            send(out, error.what());
        }
    });
    const std::string told = rest_of(child.reads);
    int status = 0;
    ::waitpid(child.pid, &status, 0);
    CHECK(WIFEXITED(status));
    CHECK(WEXITSTATUS(status) == 0);
    return told;
}

Attempt long_attempt(std::int64_t trainee, int number) {
    Attempt attempt;
    attempt.trainee = trainee;
    attempt.exercise = "lift_arm";
    attempt.plan = std::string(20'000, static_cast<char>('a' + number % 26)); // several pages each
    attempt.ended_ms = number;
    return attempt;
}

} // namespace

TEST_CASE("killed at any point, the record is whole and holds all that was reported done") {
    const ScratchFolder folder("kill");
    const fs::path path = folder.path / "record.sqlite";
    std::mt19937 random(20260504);
    int reported = 0, while_journal_was_there = 0;
    for (int round = 0; round < 30; ++round) {
        // The child migrates (in the first rounds), adds, and reports each attempt once it is committed.
        const Child child = start([&](int out) {
            Record record(path);
            const auto ann = record.find_trainee("Ann");
            const std::int64_t trainee = ann ? ann->id : record.add_trainee("Ann").id;
            for (int number = 0;; ++number) {
                record.add_attempt(long_attempt(trainee, number));
                send(out, ".");
            }
        });
        // Let it report some, then kill it wherever it is; in every third round before its first report.
        const int wanted = round % 3 == 0 ? 0 : std::uniform_int_distribution(1, 8)(random);
        for (int got = 0; got < wanted; ++got) {
            char dot;
            REQUIRE(::read(child.reads, &dot, 1) == 1);
        }
        reported += wanted;
        std::this_thread::sleep_for(std::chrono::microseconds(std::uniform_int_distribution(0, 6'000)(random)));
        ::kill(child.pid, SIGKILL);
        int status = 0;
        ::waitpid(child.pid, &status, 0);
        CHECK(WIFSIGNALED(status));
        reported += static_cast<int>(rest_of(child.reads).size());
        const fs::path journal = path.string() + "-journal";
        while_journal_was_there += fs::exists(journal) && fs::file_size(journal) > 0;

        const Record record(path);
        CHECK_NOTHROW(check_integrity(record.database()));
        const auto kept = static_cast<int>(record.attempts().size());
        // One may have been committed in each round without having been reported.
        CHECK(kept >= reported);
        CHECK(kept <= reported + round + 1);
        for (const Attempt& attempt : record.attempts())
            CHECK(attempt.plan == std::string(20'000, static_cast<char>('a' + attempt.ended_ms % 26)));
    }
    CHECK(reported > 0);
    MESSAGE(reported << " attempts reported; " << while_journal_was_there << " of 30 kills fell into a transaction");
}

TEST_CASE("a transaction that was cut off half-way is rolled back by the next to open the record") {
    const ScratchFolder folder("half");
    const fs::path path = folder.path / "record.sqlite";
    Record(path).add_trainee("Ann");
    const Child child = start([&](int) {
        Record record(path);
        // A cache of one page makes SQLite write the unfinished transaction into the file itself.
        record.database().execute("PRAGMA cache_size = 1; BEGIN IMMEDIATE");
        for (int number = 0; number < 20; ++number)
            record.add_attempt(long_attempt(1, number));
        ::kill(::getpid(), SIGKILL);
    });
    rest_of(child.reads);
    ::waitpid(child.pid, nullptr, 0);
    REQUIRE(fs::file_size(path) > 200'000);
    REQUIRE(fs::exists(path.string() + "-journal"));
    const Record record(path);
    CHECK_NOTHROW(check_integrity(record.database()));
    CHECK(record.attempts().empty());
    CHECK(record.trainees().size() == 1);
}

TEST_CASE("a full disk is told, and what was there stays") {
    const ScratchFolder folder("full");
    const fs::path path = folder.path / "record.sqlite";
    const std::int64_t ann = Record(path).add_trainee("Ann").id;
    SUBCASE("a limit on the size of files stands in for a full disk") {
        const std::string told = complaint_in_child([&] {
            ::signal(SIGXFSZ, SIG_IGN);
            const rlimit limit{fs::file_size(path) + 8192, fs::file_size(path) + 8192};
            ::setrlimit(RLIMIT_FSIZE, &limit);
            Record record(path);
            for (int number = 0; number < 100; ++number)
                record.add_attempt(long_attempt(ann, number));
        });
        CHECK(told.find("cannot be read or written") != std::string::npos);
        CHECK(told.find("free space") != std::string::npos);
    }
    SUBCASE("SQLite's own report of a full disk") {
        Record record(path);
        record.database().execute("PRAGMA max_page_count = 20");
        std::string told;
        try {
            for (int number = 0; number < 100; ++number)
                record.add_attempt(long_attempt(ann, number));
        } catch (const InputError& error) {
            told = error.what();
        }
        CHECK(told.find("the disk is full, so nothing was recorded") != std::string::npos);
    }
    const Record record(path);
    CHECK_NOTHROW(check_integrity(record.database()));
    CHECK(record.trainees().size() == 1);
}

TEST_CASE("unpacking on a full disk tells why, and leaves nothing behind") {
    const ScratchFolder folder("full");
    const std::string told = complaint_in_child([&] {
        ::signal(SIGXFSZ, SIG_IGN);
        const rlimit limit{4096, 4096};
        ::setrlimit(RLIMIT_FSIZE, &limit);
        Bundle bundle;
        bundle.files = {{"small", "x"}, {"rules/large", std::string(20'000, 'x')}};
        write_files(bundle, folder.path / "out");
    });
    CHECK(told.find("cannot be written: " + std::generic_category().message(EFBIG)) != std::string::npos);
    CHECK(fs::is_empty(folder.path));
}

TEST_CASE("a folder in the place of a record is called one") {
    const ScratchFolder folder("folder");
    CHECK(complaint_in_child([&] { Record{folder.path}; }).find("is a folder") != std::string::npos);
    CHECK(complaint_in_child([&] { restore(folder.path / "record.sqlite", folder.path); }).find("is a folder") !=
          std::string::npos);
    CHECK(fs::is_empty(folder.path));
}

TEST_CASE("a record that may only be read can be read, and refuses to be written") {
    const ScratchFolder folder("readonly");
    const fs::path path = folder.path / "record.sqlite";
    Record(path).add_trainee("Ann");
    fs::permissions(folder.path, fs::perms(0555));
    fs::permissions(path, fs::perms(0444));
    const auto as_nobody = [](const std::function<void()>& call) {
        return complaint_in_child([&] {
            if (::geteuid() == 0) { // root may write anywhere
                REQUIRE(::setgid(65534) == 0);
                REQUIRE(::setuid(65534) == 0);
            }
            call();
        });
    };
    CHECK(as_nobody([&] {
              if (Record(path).trainees().size() != 1)
                  throw std::runtime_error("not read");
          }).empty());
    CHECK(as_nobody([&] { Record(path).add_trainee("Bob"); }).find("can only be read") != std::string::npos);
    CHECK(as_nobody([&] { Record(folder.path / "new.sqlite"); }).find("cannot be opened or created") !=
          std::string::npos);
    CHECK(as_nobody([&] {
              Record(folder.path / "new" / "new.sqlite");
          }).find("folder of the record cannot be created") != std::string::npos);
    fs::permissions(folder.path, fs::perms(0755));
}
