// The record: trainees, their attempts at exercises and their answers to questions, in one SQLite file in the user's
// data folder. Several trainees may share a machine; one of them is current.
//
// Every change is one transaction, written with a rollback journal and synchronous=EXTRA: after a kill at any point,
// or a power cut, the record holds every change that was reported done and no half of another. (A write-ahead log
// would be faster but needs shared memory, which home folders on a network do not give.)
// Marks are kept as they were found, for charts; the plan is kept too, and a mark that counts is worked out from it.
#pragma once

#include "record/database.h"

#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

namespace holdtrue::record {

using Milliseconds = std::int64_t; // since 1970 UTC
Milliseconds now_ms();

struct Trainee {
    std::int64_t id = 0;
    std::string uuid, name;
    Milliseconds since_ms = 0;
};

struct Attempt {
    std::int64_t id = 0;
    std::string uuid; // given when recorded
    std::int64_t trainee = 0;
    std::string exercise, title; // name and title of the exercise
    std::int64_t variant = 0;    // seed of its variant; 0: as written
    std::string plan;            // text of the .plan.toml
    Milliseconds started_ms = 0, ended_ms = 0;
    double mark = 0; // 0 to 100, as found then
    bool passed = false;
    std::array<double, 5> points{}; // as grading::Mark::reached
    int hints = 0;
    std::string program; // version that found the mark
};

struct GivenAnswer {
    std::int64_t id = 0;
    std::string uuid; // given when recorded
    std::int64_t trainee = 0;
    std::string question; // "lesson/id"
    std::string given;    // as typed or chosen
    bool right = false;
    int quality = 0; // of SM-2, 0 to 5
    Milliseconds at_ms = 0;
    Milliseconds thinking_ms = 0;
};

// $XDG_DATA_HOME/holdtrue/record.sqlite, or below ~/.local/share. Throws InputError when there is no home.
std::filesystem::path default_path();

class Record {
public:
    // Opens, creates (with its folder) and migrates. A record on a disk that can only be read opens for reading.
    // Throws InputError: cannot be opened, damaged, of another program, of a newer one.
    explicit Record(const std::filesystem::path& path = default_path());

    std::vector<Trainee> trainees() const; // by name
    std::optional<Trainee> find_trainee(std::string_view name) const;
    // Throws InputError: the name is empty, too long, holds control characters, or is taken.
    Trainee add_trainee(const std::string& name, Milliseconds since_ms = now_ms());
    void rename_trainee(std::int64_t id, const std::string& name);
    // With all attempts and answers. After the current trainee the only one left is current; of several nobody is, so
    // that no work is kept under a name that nobody chose.
    void remove_trainee(std::int64_t id);
    std::optional<Trainee> current_trainee() const;
    void set_current_trainee(std::int64_t id);

    std::int64_t add_attempt(const Attempt& attempt);   // -> id; uuid and id of `attempt` are not looked at
    std::int64_t add_answer(const GivenAnswer& answer); // the same
    // In the order they were made; of one trainee or all.
    std::vector<Attempt> attempts(std::optional<std::int64_t> trainee = {}) const;
    std::vector<GivenAnswer> answers(std::optional<std::int64_t> trainee = {}) const;

    // The first `count` hints of an exercise were given; taking one twice is taking it once.
    void add_hints(std::int64_t trainee, const std::string& exercise, int count, Milliseconds at_ms = now_ms());
    int hints_taken(std::int64_t trainee, const std::string& exercise) const;

    void backup(const std::filesystem::path& to) const; // replaces `to` whole or not at all

    const std::filesystem::path& path() const { return database_.path(); }
    const Database& database() const { return database_; }

private:
    Database database_;
};

// Takes over a backup after checking it. What was there is first kept as <record>.before_restore, or .before_restore_2
// and so on where that is taken, even if it is damaged; returns where. Throws InputError and leaves the record as it
// was when the backup is no record, newer or damaged.
std::filesystem::path restore(const std::filesystem::path& record, const std::filesystem::path& backup);

} // namespace holdtrue::record
