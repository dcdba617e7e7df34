// A thin owner for an SQLite database: statements with bound values, transactions, and errors worded for people.
// Not for several threads at once; open one for each.
#pragma once

#include "text/input_error.h"

#include <cstdint>
#include <filesystem>
#include <memory>
#include <string>
#include <string_view>

struct sqlite3;
struct sqlite3_stmt;

namespace holdtrue::record {

class Database;

// The file is no database, or a damaged one: no trouble that passes, as a full disk or a lock may.
class DamagedDatabase : public text::InputError {
    using InputError::InputError;
};

// One prepared statement; values are bound in the order of its question marks.
class Statement {
public:
    Statement(const Database& database, std::string_view sql);
    ~Statement();
    Statement(const Statement&) = delete;
    Statement& operator=(const Statement&) = delete;

    Statement& bind(std::int64_t value);
    Statement& bind(double value);
    Statement& bind(std::string_view value);
    bool step(); // true: a row is there to read
    void run();  // to the end, ignoring rows

    std::int64_t integer(int column) const;
    double number(int column) const;
    std::string text(int column) const;

private:
    const Database& database_;
    sqlite3_stmt* statement_ = nullptr;
    int bound_ = 0;
};

class Database {
public:
    enum class Access { read_write, read_only };
    // Throws InputError: cannot be opened or created.
    Database(const std::filesystem::path& path, Access access);
    ~Database();
    Database(const Database&) = delete;
    Database& operator=(const Database&) = delete;

    void execute(const std::string& sql) const; // one or more statements without values
    std::int64_t last_row() const;
    bool read_only() const;
    sqlite3* handle() const { return handle_; }
    const std::filesystem::path& path() const { return path_; }

    // Throws the InputError that belongs to an SQLite result code, told for this file.
    [[noreturn]] void fail(int code) const;

private:
    std::filesystem::path path_;
    sqlite3* handle_ = nullptr;
};

// Rolls back unless committed.
class Transaction {
public:
    explicit Transaction(const Database& database) : database_(database) { database_.execute("BEGIN IMMEDIATE"); }
    ~Transaction();
    Transaction(const Transaction&) = delete;
    Transaction& operator=(const Transaction&) = delete;
    void commit();

private:
    const Database& database_;
    bool open_ = true;
};

// Copies a whole database, as one transaction of the target.
void copy(const Database& from, const Database& to);

} // namespace holdtrue::record
