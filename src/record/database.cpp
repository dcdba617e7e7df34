#include "record/database.h"

#include "text/input_error.h"
#include "text/regular_file.h"
#include "text/verify.h"

#include <sqlite3.h>

namespace holdtrue::record {
namespace {

using text::worded;

// What an SQLite result code means to the person at the keyboard, and what to do about it.
[[noreturn]] void refuse(const std::filesystem::path& file, int code, const std::string& told) {
    const auto error = [&](text::Told what, text::Told fix) {
        return text::InputError(file.string(), 0, std::move(what), std::move(fix));
    };
    switch (code & 0xff) {
    case SQLITE_FULL:
        throw error(worded("the disk is full, so nothing was recorded"),
                    worded("free some space and try again; what was there is safe"));
    case SQLITE_READONLY:
    case SQLITE_PERM:
    case SQLITE_AUTH:
        throw error(worded("the record can only be read here"),
                    worded("make the file and its folder writable, "
                           "or set XDG_DATA_HOME to a folder where you may write"));
    case SQLITE_CANTOPEN:
        throw error(worded("the record cannot be opened or created"),
                    worded("check that its folder exists and that you may write there, "
                           "or set XDG_DATA_HOME to another"));
    case SQLITE_BUSY:
    case SQLITE_LOCKED:
        throw error(worded("another program is writing the record"), worded("wait until it is done and try again"));
    case SQLITE_NOTADB:
        throw DamagedDatabase(file.string(), 0, worded("is not a record"),
                              worded("name a record, or move this file away"));
    case SQLITE_CORRUPT:
        throw DamagedDatabase(file.string(), 0, {worded("the record is damaged ({0})"), {told}},
                              worded("restore a backup: 'holdtrue record restore FILE' in a terminal"));
    case SQLITE_IOERR:
        throw error({worded("the record cannot be read or written ({0})"), {told}},
                    worded("check the disk and its free space; what was recorded before is safe"));
    default:
        throw error({worded("the record gave an error ({0})"), {told}},
                    worded("try again; if it stays, restore a backup"));
    }
}

} // namespace

Statement::Statement(const Database& database, std::string_view sql) : database_(database) {
    const int code =
        sqlite3_prepare_v2(database.handle(), sql.data(), static_cast<int>(sql.size()), &statement_, nullptr);
    if (code != SQLITE_OK)
        database.fail(code);
}

Statement::~Statement() { sqlite3_finalize(statement_); }

Statement& Statement::bind(std::int64_t value) {
    VERIFY(sqlite3_bind_int64(statement_, ++bound_, value) == SQLITE_OK, "a value for each question mark");
    return *this;
}
Statement& Statement::bind(double value) {
    VERIFY(sqlite3_bind_double(statement_, ++bound_, value) == SQLITE_OK, "a value for each question mark");
    return *this;
}
Statement& Statement::bind(std::string_view value) {
    const int code =
        sqlite3_bind_text64(statement_, ++bound_, value.data(), value.size(), SQLITE_TRANSIENT, SQLITE_UTF8);
    if (code != SQLITE_OK)
        database_.fail(code);
    return *this;
}

bool Statement::step() {
    const int code = sqlite3_step(statement_);
    if (code == SQLITE_ROW)
        return true;
    if (code != SQLITE_DONE)
        database_.fail(sqlite3_extended_errcode(database_.handle()));
    return false;
}

void Statement::run() {
    while (step()) {
    }
}

std::int64_t Statement::integer(int column) const { return sqlite3_column_int64(statement_, column); }
double Statement::number(int column) const { return sqlite3_column_double(statement_, column); }
std::string Statement::text(int column) const {
    const auto* bytes = reinterpret_cast<const char*>(sqlite3_column_text(statement_, column));
    return bytes ? std::string(bytes, static_cast<std::size_t>(sqlite3_column_bytes(statement_, column))) : "";
}

Database::Database(const std::filesystem::path& path, Access access) : path_(path) {
    std::error_code ignored;
    if (std::filesystem::exists(path, ignored))
        text::require_regular_file(path);
    const int flags = access == Access::read_only ? SQLITE_OPEN_READONLY : SQLITE_OPEN_READWRITE | SQLITE_OPEN_CREATE;
    const int code = sqlite3_open_v2(path.c_str(), &handle_, flags, nullptr);
    if (code != SQLITE_OK) {
        sqlite3_close(handle_);
        refuse(path, code, sqlite3_errstr(code));
    }
    sqlite3_extended_result_codes(handle_, 1);
    sqlite3_busy_timeout(handle_, 5000);
}

Database::~Database() { sqlite3_close(handle_); }

void Database::execute(const std::string& sql) const {
    const int code = sqlite3_exec(handle_, sql.c_str(), nullptr, nullptr, nullptr);
    if (code != SQLITE_OK)
        fail(code);
}

std::int64_t Database::last_row() const { return sqlite3_last_insert_rowid(handle_); }
bool Database::read_only() const { return sqlite3_db_readonly(handle_, "main") == 1; }

void Database::fail(int code) const { refuse(path_, code, sqlite3_errmsg(handle_)); }

Transaction::~Transaction() {
    // A failed statement may have rolled back already; then there is nothing left to do.
    if (open_ && !sqlite3_get_autocommit(database_.handle()))
        sqlite3_exec(database_.handle(), "ROLLBACK", nullptr, nullptr, nullptr);
}

void Transaction::commit() {
    database_.execute("COMMIT");
    open_ = false;
}

void copy(const Database& from, const Database& to) {
    sqlite3_backup* backup = sqlite3_backup_init(to.handle(), "main", from.handle(), "main");
    if (!backup)
        to.fail(sqlite3_extended_errcode(to.handle()));
    const int step = sqlite3_backup_step(backup, -1);
    const int finish = sqlite3_backup_finish(backup);
    if (step != SQLITE_DONE)
        to.fail(step);
    if (finish != SQLITE_OK)
        to.fail(finish);
}

} // namespace holdtrue::record
