// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "store/sqlite_connection.hpp"

#include <cerrno>
#include <cstring>
#include <unordered_map>

#include <fcntl.h>
#include <fmt/format.h>
#include <sqlite3.h>
#include <sys/stat.h>
#include <unistd.h>

namespace bw::store {
namespace {

struct Finalize {
    void operator()(sqlite3_stmt* statement) const { sqlite3_finalize(statement); }
};
using Statement = std::unique_ptr<sqlite3_stmt, Finalize>;

struct Close {
    void operator()(sqlite3* db) const { sqlite3_close_v2(db); }
};
using Handle = std::unique_ptr<sqlite3, Close>;

constexpr int kPrimaryCode =
    0xff;  // an extended result code holds its primary code in the low byte

tl::unexpected<Problem> refusal(sqlite3* db, const std::string& file, int code) {
    const std::string said = db != nullptr ? sqlite3_errmsg(db) : sqlite3_errstr(code);
    const int system = db != nullptr ? sqlite3_system_errno(db) : 0;
    const std::string why =
        system != 0 ? fmt::format("{} ({})", said, std::strerror(system)) : said;
    const Place place{file, 0, {}};
    switch (code & kPrimaryCode) {
        case SQLITE_FULL:
            return fail(ProblemCode::Disk,
                        "the disk is full, so nothing was written: make room and try again", place);
        case SQLITE_READONLY:
            return fail(ProblemCode::Disk, fmt::format("the books cannot be written here: {}", why),
                        place);
        case SQLITE_BUSY:
        case SQLITE_LOCKED:
            return fail(ProblemCode::Disk,
                        fmt::format("another program holds the books: {}; close it, or wait", why),
                        place);
        case SQLITE_CORRUPT:
        case SQLITE_NOTADB:
            return fail(ProblemCode::BrokenBooks,
                        fmt::format("the file is damaged: {}; restore the newest copy", why),
                        place);
        case SQLITE_IOERR:
        case SQLITE_CANTOPEN:
        case SQLITE_PERM:
        case SQLITE_NOMEM:
        case SQLITE_PROTOCOL:
            return fail(ProblemCode::Disk, fmt::format("reading or writing failed: {}", why),
                        place);
        case SQLITE_CONSTRAINT:
            return fail(ProblemCode::Refused, fmt::format("the books refuse this: {}", why), place);
        default:
            return fail(ProblemCode::Internal, fmt::format("the database says: {}", why), place);
    }
}

struct Prepared {
    Statement statement;
    std::vector<int> places;  ///< of $1, $2, ...: SQLite counts parameters as they first appear
};

class SqliteConnection : public Connection {
public:
    SqliteConnection(Handle db, std::string file) : db_(std::move(db)), file_(std::move(file)) {}
    ~SqliteConnection() override { statements_.clear(); }
    SqliteConnection(const SqliteConnection&) = delete;
    SqliteConnection& operator=(const SqliteConnection&) = delete;

    using Connection::query;
    Result<Rows> query(std::string_view sql, const Values& parameters) override;
    Result<void> each(const std::string& sql,
                      const std::function<Result<void>(Row&)>& take) override;
    Result<void> script(const std::string& sql) override;
    Result<void> begin(Access access) override;
    Result<void> commit() override { return script("COMMIT"); }
    void rollback() override;
    [[nodiscard]] Dialect dialect() const override { return Dialect::Sqlite; }
    [[nodiscard]] bool lost() const override { return false; }
    [[nodiscard]] bool sync_failed() const override { return sync_failed_; }

private:
    Result<Prepared*> prepared(std::string_view sql);
    Result<void> bind(Prepared& prepared, const Values& parameters);
    tl::unexpected<Problem> refused(int code);

    Handle db_;
    std::string file_;
    std::unordered_map<std::string, Prepared> statements_;
    bool sync_failed_ = false;
};

tl::unexpected<Problem> SqliteConnection::refused(int code) {
    const int extended = sqlite3_extended_errcode(db_.get());
    if (extended == SQLITE_IOERR_FSYNC || extended == SQLITE_IOERR_DIR_FSYNC) {
        sync_failed_ = true;
    }
    return refusal(db_.get(), file_, code);
}

Result<Prepared*> SqliteConnection::prepared(std::string_view sql) {
    std::string key(sql);
    const auto known = statements_.find(key);
    if (known != statements_.end()) {
        return &known->second;
    }
    sqlite3_stmt* raw = nullptr;
    const int code = sqlite3_prepare_v3(db_.get(), sql.data(), static_cast<int>(sql.size()),
                                        SQLITE_PREPARE_PERSISTENT, &raw, nullptr);
    if (code != SQLITE_OK) {
        return refused(code);
    }
    return &statements_.emplace(std::move(key), Prepared{Statement(raw), {}}).first->second;
}

int bind_one(sqlite3_stmt* statement, int at, const Value& value) {
    if (const auto* integer = std::get_if<std::int64_t>(&value)) {
        return sqlite3_bind_int64(statement, at, *integer);
    }
    if (const auto* real = std::get_if<double>(&value)) {
        return sqlite3_bind_double(statement, at, *real);
    }
    // The parameters outlive the statement's run, so SQLite need not copy them.
    if (const auto* words = std::get_if<std::string>(&value)) {
        return sqlite3_bind_text64(statement, at, words->data(), words->size(), SQLITE_STATIC,
                                   SQLITE_UTF8);
    }
    if (const auto* blob = std::get_if<Blob>(&value)) {
        return sqlite3_bind_blob64(statement, at, blob->bytes.data(), blob->bytes.size(),
                                   SQLITE_STATIC);
    }
    return sqlite3_bind_null(statement, at);
}

Result<void> SqliteConnection::bind(Prepared& prepared, const Values& parameters) {
    sqlite3_stmt* statement = prepared.statement.get();
    while (prepared.places.size() < parameters.size()) {
        const std::string name = fmt::format("${}", prepared.places.size() + 1);
        prepared.places.push_back(sqlite3_bind_parameter_index(statement, name.c_str()));
        base::expect(prepared.places.back() > 0, "each parameter stands in its statement");
    }
    for (std::size_t i = 0; i < parameters.size(); ++i) {
        const int code = bind_one(statement, prepared.places[i], parameters[i]);
        if (code != SQLITE_OK) {
            return refused(code);
        }
    }
    return {};
}

Value column_of(sqlite3_stmt* statement, int column) {
    switch (sqlite3_column_type(statement, column)) {
        case SQLITE_INTEGER:
            return std::int64_t{sqlite3_column_int64(statement, column)};
        case SQLITE_FLOAT:
            return sqlite3_column_double(statement, column);
        case SQLITE_NULL:
            return {};
        default:
            break;
    }
    const bool is_text = sqlite3_column_type(statement, column) == SQLITE_TEXT;
    const auto* data = static_cast<const char*>(sqlite3_column_blob(statement, column));
    const auto size = static_cast<std::size_t>(sqlite3_column_bytes(statement, column));
    std::string bytes = size == 0 ? std::string() : std::string(data, size);
    return is_text ? Value(std::move(bytes)) : Value(Blob{std::move(bytes)});
}

struct Reset {
    sqlite3_stmt* statement;
    explicit Reset(sqlite3_stmt* s) : statement(s) {}
    Reset(const Reset&) = delete;
    Reset& operator=(const Reset&) = delete;
    ~Reset() {
        sqlite3_reset(statement);
        sqlite3_clear_bindings(statement);
    }
};

Row row_of(sqlite3_stmt* statement) {
    const int columns = sqlite3_column_count(statement);
    Values values;
    values.reserve(static_cast<std::size_t>(columns));
    for (int i = 0; i < columns; ++i) {
        values.push_back(column_of(statement, i));
    }
    return Row(std::move(values));
}

Result<Rows> SqliteConnection::query(std::string_view sql, const Values& parameters) {
    BW_TRY(ready, prepared(sql));
    sqlite3_stmt* statement = ready->statement.get();
    const Reset reset(statement);
    BW_CHECK(bind(*ready, parameters));
    Rows rows;
    int code = sqlite3_step(statement);
    for (; code == SQLITE_ROW; code = sqlite3_step(statement)) {
        rows.push_back(row_of(statement));
    }
    if (code != SQLITE_DONE) {
        return refused(code);
    }
    return rows;
}

Result<void> SqliteConnection::each(const std::string& sql,
                                    const std::function<Result<void>(Row&)>& take) {
    BW_TRY(ready, prepared(sql));
    sqlite3_stmt* statement = ready->statement.get();
    const Reset reset(statement);
    int code = sqlite3_step(statement);
    for (; code == SQLITE_ROW; code = sqlite3_step(statement)) {
        Row row = row_of(statement);
        BW_CHECK(take(row));
    }
    if (code != SQLITE_DONE) {
        return refused(code);
    }
    return {};
}

Result<void> SqliteConnection::script(const std::string& sql) {
    const int code = sqlite3_exec(db_.get(), sql.c_str(), nullptr, nullptr, nullptr);
    if (code != SQLITE_OK) {
        return refused(code);
    }
    return {};
}

Result<void> SqliteConnection::begin(Access access) {
    if (access == Access::Write) {
        return script("BEGIN IMMEDIATE");
    }
    // A deferred transaction takes its snapshot with the first read. Where that fails, the
    // connection is not left inside a transaction that nobody ends.
    auto begun = script("BEGIN; SELECT count(*) FROM sqlite_schema;");
    if (!begun) {
        rollback();
    }
    return begun;
}

void SqliteConnection::rollback() {
    if (sqlite3_get_autocommit(db_.get()) == 0) {
        sqlite3_exec(db_.get(), "ROLLBACK", nullptr, nullptr, nullptr);
    }
}

std::string as_uri(const std::string& file) {
    std::string uri = "file:";
    for (const char c : file) {  // what would end the path of a URI is escaped
        if (c == '%' || c == '?' || c == '#') {
            uri += fmt::format("%{:02X}", static_cast<unsigned char>(c));
        } else {
            uri += c;
        }
    }
    return uri;
}

/// Nothing can change a file whose folder nobody may write into, if its journal is empty: SQLite
/// then needs no side files, which it could not make there.
bool unchanging(const std::string& file) {
    const std::string folder = file.substr(0, file.rfind('/'));
    struct stat journal {};
    const bool has_journal = ::stat((file + "-wal").c_str(), &journal) == 0 && journal.st_size > 0;
    return ::access(folder.c_str(), W_OK) != 0 && !has_journal;
}

Result<Handle> open_handle(const std::string& file, SqliteUse use) {
    int flags = SQLITE_OPEN_NOMUTEX | SQLITE_OPEN_URI | SQLITE_OPEN_EXRESCODE;
    std::string uri = as_uri(file);
    if (use == SqliteUse::Read) {
        flags |= SQLITE_OPEN_READONLY;
        uri += unchanging(file) ? "?immutable=1" : "";
    } else {
        flags |= SQLITE_OPEN_READWRITE | (use == SqliteUse::Memory ? SQLITE_OPEN_CREATE : 0);
    }
    if (use == SqliteUse::Make) {  // for its owner only: it holds the hashes of passwords
        constexpr mode_t kOwnerOnly = 0600;
        const int fd = ::open(file.c_str(), O_RDWR | O_CREAT | O_EXCL | O_CLOEXEC, kOwnerOnly);
        if (fd < 0) {
            return fail(ProblemCode::Disk,
                        fmt::format("making the file failed: {}", std::strerror(errno)),
                        {file, 0, {}});
        }
        ::close(fd);
    }
    sqlite3* raw = nullptr;
    const int code = sqlite3_open_v2(uri.c_str(), &raw, flags, nullptr);
    Handle db(raw);
    if (code != SQLITE_OK) {
        return refusal(raw, file, code);
    }
    return db;
}

void configure(sqlite3* db, SqliteUse use, int wait_ms) {
    sqlite3_db_config(db, SQLITE_DBCONFIG_DEFENSIVE, 1, nullptr);
    sqlite3_db_config(db, SQLITE_DBCONFIG_TRUSTED_SCHEMA, 0, nullptr);
    sqlite3_db_config(db, SQLITE_DBCONFIG_ENABLE_TRIGGER, 1, nullptr);
    sqlite3_db_config(db, SQLITE_DBCONFIG_ENABLE_FKEY, 1, nullptr);
    sqlite3_db_config(db, SQLITE_DBCONFIG_DQS_DML, 0, nullptr);
    sqlite3_db_config(db, SQLITE_DBCONFIG_DQS_DDL, 0, nullptr);
    if (use == SqliteUse::Read) {  // only the writer checkpoints (docs/adr/0013)
        sqlite3_db_config(db, SQLITE_DBCONFIG_NO_CKPT_ON_CLOSE, 1, nullptr);
    }
    sqlite3_busy_timeout(db, wait_ms);
}

// recursive_triggers: REPLACE, which deletes, then meets the triggers that refuse deleting.
constexpr const char* kSettings =
    "PRAGMA synchronous = FULL; PRAGMA foreign_keys = ON; PRAGMA trusted_schema = OFF;"
    "PRAGMA cell_size_check = ON; PRAGMA mmap_size = 0; PRAGMA recursive_triggers = ON;"
    "PRAGMA temp_store = MEMORY; PRAGMA cache_size = -32768;";

}  // namespace

Result<std::unique_ptr<Connection>> open_sqlite(const std::string& file, SqliteUse use,
                                                int wait_ms) {
    BW_TRY(db, open_handle(file, use));
    configure(db.get(), use, wait_ms);
    auto connection = std::make_unique<SqliteConnection>(std::move(db), file);
    BW_CHECK(connection->script(kSettings));
    if (use == SqliteUse::Read) {
        BW_CHECK(connection->script("PRAGMA query_only = ON; PRAGMA wal_autocheckpoint = 0;"));
        BW_CHECK(connection->query("SELECT count(*) FROM sqlite_schema"));
        return connection;
    }
    if (use == SqliteUse::Memory) {
        return connection;
    }
    BW_TRY(mode, connection->query("PRAGMA journal_mode = WAL"));
    if (mode.empty() || mode.front().text(0) != "wal") {
        return fail(ProblemCode::Disk,
                    "the disk offers no write-ahead log: keep the books on a disk of this machine",
                    {file, 0, {}});
    }
    return connection;
}

Result<void> copy_sqlite(const std::string& from, const std::string& to) {
    BW_TRY(source, open_handle(from, SqliteUse::Read));
    BW_TRY(target, open_handle(to, SqliteUse::Make));
    sqlite3_db_config(source.get(), SQLITE_DBCONFIG_NO_CKPT_ON_CLOSE, 1, nullptr);
    constexpr int kWait_ms = 5000;
    sqlite3_busy_timeout(source.get(), kWait_ms);
    sqlite3_backup* backup = sqlite3_backup_init(target.get(), "main", source.get(), "main");
    if (backup == nullptr) {
        return refusal(target.get(), to, sqlite3_errcode(target.get()));
    }
    constexpr int kAllPages = -1;  // in one go, so that a writer does not make it start again
    const int stepped = sqlite3_backup_step(backup, kAllPages);
    const int finished = sqlite3_backup_finish(backup);
    if (stepped != SQLITE_DONE) {
        return refusal(nullptr, to, finished != SQLITE_OK ? finished : stepped);
    }
    return {};
}

}  // namespace bw::store
