#include "record/record.h"

#include "record/schema.h"
#include "text/atomic_file.h"
#include "text/input_error.h"
#include "text/system_words.h"
#include "text/verify.h"

#include <unistd.h>

#include <chrono>
#include <cstdio>
#include <cstdlib>

namespace holdtrue::record {
namespace {

namespace fs = std::filesystem;

// Version 4 of RFC 9562: random but for six fixed bits.
std::string new_uuid() {
    std::array<unsigned char, 16> bytes;
    VERIFY(::getentropy(bytes.data(), bytes.size()) == 0, "the system gives random bytes");
    bytes[6] = static_cast<unsigned char>((bytes[6] & 0x0f) | 0x40);
    bytes[8] = static_cast<unsigned char>((bytes[8] & 0x3f) | 0x80);
    std::string text;
    for (std::size_t k = 0; k < bytes.size(); ++k) {
        char hex[3];
        std::snprintf(hex, sizeof hex, "%02x", bytes[k]);
        text += k == 4 || k == 6 || k == 8 || k == 10 ? "-" : "";
        text += hex;
    }
    return text;
}

bool is_utf8(std::string_view text) {
    for (std::size_t k = 0; k < text.size();) {
        const auto lead = static_cast<unsigned char>(text[k]);
        const std::size_t more = lead < 0x80                   ? 0
                                 : lead >= 0xc2 && lead < 0xe0 ? 1
                                 : lead >= 0xe0 && lead < 0xf0 ? 2
                                 : lead >= 0xf0 && lead < 0xf5 ? 3
                                                               : 9;
        if (more == 9 || k + more >= text.size())
            return false;
        for (std::size_t j = 1; j <= more; ++j)
            if ((static_cast<unsigned char>(text[k + j]) & 0xc0) != 0x80)
                return false;
        k += more + 1;
    }
    return true;
}

void check_name(const std::string& name, const Database& database) {
    const auto refuse = [&](text::Wording what, text::Wording fix) {
        throw text::InputError(database.path().string(), 0, what, fix);
    };
    if (name.find_first_not_of(' ') == std::string::npos)
        refuse(text::worded("a trainee's name is empty"), text::worded("give a name"));
    if (name.size() > 100)
        refuse(text::worded("a trainee's name is longer than 100 bytes"), text::worded("shorten it"));
    for (const char c : name)
        if (static_cast<unsigned char>(c) < 0x20 || c == 0x7f)
            refuse(text::worded("a trainee's name holds a control character"),
                   text::worded("use letters, digits and spaces"));
    if (!is_utf8(name))
        refuse(text::worded("a trainee's name is not UTF-8"), text::worded("use letters, digits and spaces"));
}

// Creates the folder of the record, readable by its owner alone: marks are personal data.
const fs::path& with_folder(const fs::path& path) {
    const fs::path folder = path.parent_path();
    std::error_code error;
    if (!folder.empty() && fs::create_directories(folder, error))
        fs::permissions(folder, fs::perms::owner_all, error);
    if (error)
        throw text::InputError(
            folder.string(), 0,
            {text::worded("the folder of the record cannot be created ({0})"), {text::system_words(error)}},
            text::worded("make a place for it, or set XDG_DATA_HOME to another folder"));
    return path;
}

Trainee trainee_of(const Statement& row) { return {row.integer(0), row.text(1), row.text(2), row.integer(3)}; }

std::optional<Trainee> first_trainee(Statement& statement) {
    return statement.step() ? std::optional(trainee_of(statement)) : std::nullopt;
}

constexpr const char* trainee_columns = "SELECT id, uuid, name, since_ms FROM trainee ";

} // namespace

Milliseconds now_ms() {
    using namespace std::chrono;
    return duration_cast<milliseconds>(system_clock::now().time_since_epoch()).count();
}

fs::path default_path() {
    // The XDG base directory specification: a relative path there is to be ignored.
    const char* data = std::getenv("XDG_DATA_HOME");
    const char* home = std::getenv("HOME");
    if (data && fs::path(data).is_absolute())
        return fs::path(data) / "holdtrue" / "record.sqlite";
    if (home && *home)
        return fs::path(home) / ".local" / "share" / "holdtrue" / "record.sqlite";
    throw text::InputError("", 0,
                           text::worded("there is no folder for the record: neither XDG_DATA_HOME nor HOME is set"),
                           text::worded("set one of them to a folder where you may write"));
}

Record::Record(const fs::path& path) : database_(with_folder(path), Database::Access::read_write) {
    database_.execute("PRAGMA foreign_keys = ON; PRAGMA synchronous = EXTRA");
    if (database_.read_only() && version_of(database_) < newest_version())
        throw text::InputError(
            path.string(), 0, text::worded("the record is of an older version and can only be read here"),
            text::worded("make the file and its folder writable once, so that it can be brought up to date"));
    if (!database_.read_only())
        migrate(database_);
}

std::vector<Trainee> Record::trainees() const {
    Statement statement(database_, std::string(trainee_columns) + "ORDER BY name");
    std::vector<Trainee> all;
    while (statement.step())
        all.push_back(trainee_of(statement));
    return all;
}

std::optional<Trainee> Record::find_trainee(std::string_view name) const {
    // Upper and lower case are one person; where a record has both, the name as written comes first.
    Statement statement(database_,
                        std::string(trainee_columns) + "WHERE name = ?1 COLLATE NOCASE ORDER BY name = ?1 DESC");
    statement.bind(name);
    return first_trainee(statement);
}

Trainee Record::add_trainee(const std::string& name, Milliseconds since_ms) {
    check_name(name, database_);
    Transaction transaction(database_);
    if (find_trainee(name))
        throw text::InputError(path().string(), 0, {text::worded("there is a trainee named \"{0}\" already"), {name}},
                               text::worded("give another name"));
    Trainee trainee{0, new_uuid(), name, since_ms};
    Statement(database_, "INSERT INTO trainee (uuid, name, since_ms) VALUES (?, ?, ?)")
        .bind(trainee.uuid)
        .bind(name)
        .bind(since_ms)
        .run();
    trainee.id = database_.last_row();
    transaction.commit();
    return trainee;
}

void Record::rename_trainee(std::int64_t id, const std::string& name) {
    check_name(name, database_);
    Transaction transaction(database_);
    if (const auto other = find_trainee(name); other && other->id != id)
        throw text::InputError(path().string(), 0, {text::worded("there is a trainee named \"{0}\" already"), {name}},
                               text::worded("give another name"));
    Statement(database_, "UPDATE trainee SET name = ? WHERE id = ?").bind(name).bind(id).run();
    transaction.commit();
}

void Record::remove_trainee(std::int64_t id) {
    Transaction transaction(database_);
    const bool was_current = current_trainee() && current_trainee()->id == id;
    Statement(database_, "DELETE FROM trainee WHERE id = ?").bind(id).run();
    if (const std::vector<Trainee> left = trainees(); was_current && left.size() == 1)
        set_current_trainee(left.front().id);
    transaction.commit();
}

std::optional<Trainee> Record::current_trainee() const {
    Statement statement(database_, std::string(trainee_columns) +
                                       "WHERE uuid = (SELECT value FROM setting WHERE key = 'current_trainee')");
    return first_trainee(statement);
}

void Record::set_current_trainee(std::int64_t id) {
    Statement(database_, "INSERT OR REPLACE INTO setting SELECT 'current_trainee', uuid FROM trainee WHERE id = ?")
        .bind(id)
        .run();
}

std::int64_t Record::add_attempt(const Attempt& attempt) {
    Statement statement(
        database_, "INSERT INTO attempt (uuid, trainee, exercise, title, plan, started_ms, ended_ms, mark, passed, "
                   "program, settings_points, order_points, gauge_points, prediction_points, time_points, hints, "
                   "variant) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)");
    statement.bind(new_uuid()).bind(attempt.trainee).bind(attempt.exercise).bind(attempt.title).bind(attempt.plan);
    statement.bind(attempt.started_ms).bind(attempt.ended_ms).bind(attempt.mark).bind(std::int64_t{attempt.passed});
    statement.bind(attempt.program);
    for (const double points : attempt.points)
        statement.bind(points);
    statement.bind(std::int64_t{attempt.hints}).bind(attempt.variant);
    statement.run();
    return database_.last_row();
}

void Record::add_hints(std::int64_t trainee, const std::string& exercise, int count, Milliseconds at_ms) {
    Transaction transaction(database_);
    for (int number = 1; number <= count; ++number)
        Statement(database_, "INSERT OR IGNORE INTO hint (trainee, exercise, number, at_ms) VALUES (?, ?, ?, ?)")
            .bind(trainee)
            .bind(exercise)
            .bind(std::int64_t{number})
            .bind(at_ms)
            .run();
    transaction.commit();
}

int Record::hints_taken(std::int64_t trainee, const std::string& exercise) const {
    Statement row(database_, "SELECT coalesce(max(number), 0) FROM hint WHERE trainee = ? AND exercise = ?");
    row.bind(trainee).bind(exercise).step();
    return static_cast<int>(row.integer(0));
}

std::int64_t Record::add_answer(const GivenAnswer& answer) {
    Statement(database_, "INSERT INTO answer (uuid, trainee, question, given, correct, quality, at_ms, thinking_ms) "
                         "VALUES (?, ?, ?, ?, ?, ?, ?, ?)")
        .bind(new_uuid())
        .bind(answer.trainee)
        .bind(answer.question)
        .bind(answer.given)
        .bind(std::int64_t{answer.right})
        .bind(std::int64_t{answer.quality})
        .bind(answer.at_ms)
        .bind(answer.thinking_ms)
        .run();
    return database_.last_row();
}

std::vector<Attempt> Record::attempts(std::optional<std::int64_t> trainee) const {
    Statement row(database_, "SELECT id, uuid, trainee, exercise, title, variant, plan, started_ms, ended_ms, mark, "
                             "passed, settings_points, order_points, gauge_points, prediction_points, time_points, "
                             "hints, program FROM attempt WHERE ? < 0 OR trainee = ? ORDER BY ended_ms, id");
    row.bind(trainee.value_or(-1)).bind(trainee.value_or(-1));
    std::vector<Attempt> all;
    while (row.step()) {
        Attempt& attempt = all.emplace_back();
        attempt.id = row.integer(0);
        attempt.uuid = row.text(1);
        attempt.trainee = row.integer(2);
        attempt.exercise = row.text(3);
        attempt.title = row.text(4);
        attempt.variant = row.integer(5);
        attempt.plan = row.text(6);
        attempt.started_ms = row.integer(7);
        attempt.ended_ms = row.integer(8);
        attempt.mark = row.number(9);
        attempt.passed = row.integer(10) != 0;
        for (int k = 0; k < 5; ++k)
            attempt.points[k] = row.number(11 + k);
        attempt.hints = static_cast<int>(row.integer(16));
        attempt.program = row.text(17);
    }
    return all;
}

std::vector<GivenAnswer> Record::answers(std::optional<std::int64_t> trainee) const {
    Statement row(database_, "SELECT id, uuid, trainee, question, given, correct, quality, at_ms, thinking_ms "
                             "FROM answer WHERE ? < 0 OR trainee = ? ORDER BY at_ms, id");
    row.bind(trainee.value_or(-1)).bind(trainee.value_or(-1));
    std::vector<GivenAnswer> all;
    while (row.step())
        all.push_back({row.integer(0), row.text(1), row.integer(2), row.text(3), row.text(4), row.integer(5) != 0,
                       static_cast<int>(row.integer(6)), row.integer(7), row.integer(8)});
    return all;
}

void Record::backup(const fs::path& to) const {
    try {
        text::write_atomically(
            to, [&](const fs::path& temporary) { copy(database_, Database(temporary, Database::Access::read_write)); });
    } catch (const text::InputError& error) {
        throw text::InputError(to.string(), 0,
                               {text::worded("the backup cannot be written ({0})"), {error.problems().front().what}},
                               text::worded("name a place with room where you may write"));
    }
}

fs::path restore(const fs::path& record, const fs::path& backup) {
    if (!fs::exists(backup))
        throw text::InputError(backup.string(), 0, text::worded("there is no such file"),
                               text::worded("name a backup made by 'holdtrue record backup'"));
    const Database source(backup, Database::Access::read_only);
    if (version_of(source) == 0)
        throw text::InputError(backup.string(), 0, text::worded("is not a record"),
                               text::worded("name a backup made by 'holdtrue record backup'"));
    check_integrity(source);

    fs::path kept = record.string() + ".before_restore";
    for (int number = 2; fs::exists(kept); ++number)
        kept = record.string() + ".before_restore_" + std::to_string(number);
    std::unique_ptr<Record> present;
    try {
        present = std::make_unique<Record>(record);
        check_integrity(present->database());
    } catch (const DamagedDatabase&) {
        // It goes aside with its journal, which must never be applied to another file.
        present.reset();
        fs::rename(record, kept);
        if (const fs::path journal = record.string() + "-journal"; fs::exists(journal))
            fs::rename(journal, kept.string() + "-journal");
        present = std::make_unique<Record>(record);
        copy(source, present->database());
        migrate(present->database());
        return kept;
    }
    present->backup(kept);
    copy(source, present->database());
    migrate(present->database());
    return kept;
}

} // namespace holdtrue::record
