#include "record/schema.h"

#include "text/input_error.h"

#include <array>

namespace holdtrue::record {
namespace {

constexpr std::int64_t application_id = 0x484c4454; // "HLDT"

// steps[k] brings version k to k + 1. A step that has shipped is never changed.
constexpr std::array steps{
    // Times are milliseconds since 1970 UTC. The plan is kept as text, so that any mark can be worked out again.
    R"(
    CREATE TABLE trainee (
        id INTEGER PRIMARY KEY, uuid TEXT NOT NULL UNIQUE, name TEXT NOT NULL UNIQUE, since_ms INTEGER NOT NULL);
    CREATE TABLE attempt (
        id INTEGER PRIMARY KEY, uuid TEXT NOT NULL UNIQUE,
        trainee INTEGER NOT NULL REFERENCES trainee ON DELETE CASCADE,
        exercise TEXT NOT NULL, title TEXT NOT NULL, plan TEXT NOT NULL,
        started_ms INTEGER NOT NULL, ended_ms INTEGER NOT NULL,
        mark REAL NOT NULL, passed INTEGER NOT NULL, program TEXT NOT NULL);
    CREATE INDEX attempt_of_trainee ON attempt (trainee, ended_ms);
    CREATE TABLE answer (
        id INTEGER PRIMARY KEY, uuid TEXT NOT NULL UNIQUE,
        trainee INTEGER NOT NULL REFERENCES trainee ON DELETE CASCADE,
        question TEXT NOT NULL, given TEXT NOT NULL, correct INTEGER NOT NULL, quality INTEGER NOT NULL,
        at_ms INTEGER NOT NULL, thinking_ms INTEGER NOT NULL);
    CREATE INDEX answer_of_trainee ON answer (trainee, question, at_ms);
    CREATE TABLE setting (key TEXT PRIMARY KEY, value TEXT NOT NULL) WITHOUT ROWID;
    )",
    // The parts of a mark, for the progress charts; hints taken; the seed of an exercise's variant.
    R"(
    ALTER TABLE attempt ADD COLUMN settings_points REAL NOT NULL DEFAULT 0;
    ALTER TABLE attempt ADD COLUMN order_points REAL NOT NULL DEFAULT 0;
    ALTER TABLE attempt ADD COLUMN gauge_points REAL NOT NULL DEFAULT 0;
    ALTER TABLE attempt ADD COLUMN prediction_points REAL NOT NULL DEFAULT 0;
    ALTER TABLE attempt ADD COLUMN time_points REAL NOT NULL DEFAULT 0;
    ALTER TABLE attempt ADD COLUMN hints INTEGER NOT NULL DEFAULT 0;
    ALTER TABLE attempt ADD COLUMN variant INTEGER NOT NULL DEFAULT 0;
    )",
    // Hints of an exercise that a trainee was given: what is known stays known, whatever a plan says.
    R"(
    CREATE TABLE hint (
        trainee INTEGER NOT NULL REFERENCES trainee ON DELETE CASCADE,
        exercise TEXT NOT NULL, number INTEGER NOT NULL, at_ms INTEGER NOT NULL,
        PRIMARY KEY (trainee, exercise, number)) WITHOUT ROWID;
    )",
};

std::int64_t pragma(const Database& database, const char* name) {
    Statement statement(database, std::string("PRAGMA ") + name);
    statement.step();
    return statement.integer(0);
}

} // namespace

int newest_version() { return static_cast<int>(steps.size()); }

int version_of(const Database& database) {
    const auto version = static_cast<int>(pragma(database, "user_version"));
    const std::int64_t owner = pragma(database, "application_id");
    Statement tables(database, "SELECT count(*) FROM sqlite_schema");
    tables.step();
    const bool empty = version == 0 && owner == 0 && tables.integer(0) == 0;
    if (!empty && owner != application_id)
        throw text::InputError(database.path().string(), 0, text::worded("is the database of another program"),
                               text::worded("move it away, or name a record of Holdtrue"));
    if (version > newest_version())
        throw text::InputError(
            database.path().string(), 0,
            {text::worded(
                 "the record was written by a newer Holdtrue (version {0} of its tables, this program knows {1})"),
             {std::to_string(version), std::to_string(newest_version())}},
            text::worded("use the newer program"));
    return version;
}

void migrate(const Database& database, int version) {
    if (version_of(database) >= version)
        return;
    Transaction transaction(database);
    // Another program may have done it while this one waited for the lock.
    for (int from = version_of(database); from < version; ++from)
        database.execute(steps[from]);
    database.execute("PRAGMA application_id = " + std::to_string(application_id));
    database.execute("PRAGMA user_version = " + std::to_string(version));
    transaction.commit();
}

void check_integrity(const Database& database) {
    Statement statement(database, "PRAGMA integrity_check(1)");
    statement.step();
    if (const std::string found = statement.text(0); found != "ok")
        throw DamagedDatabase(database.path().string(), 0, {text::worded("the record is damaged ({0})"), {found}},
                              text::worded("restore a backup: 'holdtrue record restore FILE' in a terminal"));
}

} // namespace holdtrue::record
