// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "store/postgres_connection.hpp"

#include <charconv>
#include <cstdlib>
#include <unordered_map>

#include <fmt/format.h>
#include <libpq-fe.h>

#include "base/text.hpp"

namespace bw::store {
namespace {

struct Finish {
    void operator()(PGconn* connection) const { PQfinish(connection); }
};
struct Clear {
    void operator()(PGresult* result) const { PQclear(result); }
};
using Answer = std::unique_ptr<PGresult, Clear>;

// Object identifiers of built-in types (pg_type.dat of PostgreSQL 15).
constexpr Oid kBool = 16, kBytes = 17, kInt8 = 20, kInt4 = 23, kFloat8 = 701;

/// What libpq says goes over several lines, some of them indented; a complaint is one line.
std::string in_one_line(std::string_view said) {
    std::string out;
    for (const char c : said) {
        const bool blank = c == '\n' || c == '\t' || c == ' ';
        if (!blank) {
            out.push_back(c);
        } else if (!out.empty() && out.back() != ' ') {
            out.push_back(' ');
        }
    }
    return base::one_line(base::trim(out));
}

class PostgresConnection : public Connection {
public:
    PostgresConnection(PGconn* connection, std::string shown)
        : connection_(connection), shown_(std::move(shown)) {}

    using Connection::query;
    Result<Rows> query(std::string_view sql, const Values& parameters) override;
    Result<void> each(const std::string& sql,
                      const std::function<Result<void>(Row&)>& take) override;
    Result<void> script(const std::string& sql) override;
    Result<void> begin(Access access) override;
    Result<void> commit() override;
    void rollback() override;
    [[nodiscard]] Dialect dialect() const override { return Dialect::Postgres; }
    [[nodiscard]] bool lost() const override;
    [[nodiscard]] bool sync_failed() const override { return false; }  // the server stops itself

private:
    Result<std::string> prepared(std::string_view sql);
    Result<void> checked(const Answer& answer);
    tl::unexpected<Problem> refused(const PGresult* answer);

    std::unique_ptr<PGconn, Finish> connection_;
    std::string shown_;
    bool writing_ = false;  ///< from the beginning of a transaction that writes to its end
    std::unordered_map<std::string, std::string> statements_;
};

bool PostgresConnection::lost() const {
    // What a server says unasked is that it goes: the first look takes its words, the second meets
    // the end of the line.
    PQconsumeInput(connection_.get());
    PQconsumeInput(connection_.get());
    return PQstatus(connection_.get()) != CONNECTION_OK;
}

tl::unexpected<Problem> PostgresConnection::refused(const PGresult* answer) {
    const char* raw_state = PQresultErrorField(answer, PG_DIAG_SQLSTATE);
    const char* primary = PQresultErrorField(answer, PG_DIAG_MESSAGE_PRIMARY);
    const std::string state = raw_state != nullptr ? raw_state : "";
    const std::string said =
        in_one_line(primary != nullptr ? primary : PQerrorMessage(connection_.get()));
    const Place place{shown_, 0, {}};
    if (lost() || state.starts_with("08") || state.starts_with("57P")) {
        return fail(ProblemCode::Disk,
                    fmt::format("the connection to the database is lost ({}); {}", said,
                                writing_ ? "whether the last act was recorded is not known: send "
                                           "it again with the same request number"
                                         : "nothing was written: ask again"),
                    place);
    }
    if (state == "55P03" || state == "57014") {
        return fail(ProblemCode::Disk,
                    fmt::format("another program holds the books: {}; close it, or wait", said),
                    place);
    }
    if (state == "53100") {
        return fail(ProblemCode::Disk,
                    "the disk is full, so nothing was written: make room and try again", place);
    }
    if (state.starts_with("53") || state.starts_with("58") || state == "25006" ||
        state == "42501" || state.starts_with("40")) {
        return fail(ProblemCode::Disk, fmt::format("the database could not do this: {}", said),
                    place);
    }
    if (state.starts_with("XX00") && state != "XX000") {
        return fail(ProblemCode::BrokenBooks,
                    fmt::format("the database is damaged: {}; restore the newest copy", said),
                    place);
    }
    if (state.starts_with("23") || state == "P0001") {
        return fail(ProblemCode::Refused, fmt::format("the books refuse this: {}", said), place);
    }
    return fail(ProblemCode::Internal, fmt::format("the database says: {} ({})", said, state),
                place);
}

Result<void> PostgresConnection::checked(const Answer& answer) {
    const ExecStatusType status = PQresultStatus(answer.get());
    if (status != PGRES_COMMAND_OK && status != PGRES_TUPLES_OK) {
        return refused(answer.get());
    }
    return {};
}

Result<std::string> PostgresConnection::prepared(std::string_view sql) {
    std::string key(sql);
    const auto known = statements_.find(key);
    if (known != statements_.end()) {
        return known->second;
    }
    std::string name = fmt::format("s{}", statements_.size());
    const Answer answer(PQprepare(connection_.get(), name.c_str(), key.c_str(), 0, nullptr));
    BW_CHECK(checked(answer));
    statements_.emplace(std::move(key), name);
    return name;
}

/// Texts of the parameters as libpq takes them; bytes are sent as they are.
struct Sent {
    explicit Sent(const Values& parameters) {
        const std::size_t n = parameters.size();
        texts.resize(n);
        values.resize(n, nullptr);
        lengths.resize(n, 0);
        formats.resize(n, 0);
        for (std::size_t i = 0; i < n; ++i) {
            if (const auto* blob = std::get_if<Blob>(&parameters[i])) {
                values[i] = blob->bytes.data();
                lengths[i] = static_cast<int>(blob->bytes.size());
                formats[i] = 1;
            } else if (const auto* words = std::get_if<std::string>(&parameters[i])) {
                values[i] = words->c_str();
            } else if (const auto* integer = std::get_if<std::int64_t>(&parameters[i])) {
                texts[i] = fmt::format("{}", *integer);
                values[i] = texts[i].c_str();
            } else if (const auto* real = std::get_if<double>(&parameters[i])) {
                texts[i] = fmt::format("{}", *real);  // shortest text that gives the same double
                values[i] = texts[i].c_str();
            }
        }
    }
    std::vector<std::string> texts;
    std::vector<const char*> values;
    std::vector<int> lengths, formats;
};

template <class T>
T parsed(std::string_view words) {
    T value{};
    std::from_chars(words.data(), words.data() + words.size(), value);
    return value;
}

Value column_of(const PGresult* answer, int row, int column) {
    if (PQgetisnull(answer, row, column) != 0) {
        return {};
    }
    const std::string_view words(PQgetvalue(answer, row, column),
                                 static_cast<std::size_t>(PQgetlength(answer, row, column)));
    switch (PQftype(answer, column)) {
        case kInt8:
        case kInt4:
            return parsed<std::int64_t>(words);
        case kFloat8:
            return parsed<double>(words);
        case kBool:
            return std::int64_t{words == "t" ? 1 : 0};
        case kBytes: {
            std::size_t size = 0;
            const auto* escaped = reinterpret_cast<const unsigned char*>(words.data());
            unsigned char* bytes = PQunescapeBytea(escaped, &size);
            Blob blob{std::string(reinterpret_cast<const char*>(bytes), size)};
            PQfreemem(bytes);
            return blob;
        }
        default:
            return std::string(words);
    }
}

Row row_of(const PGresult* answer, int row) {
    const int columns = PQnfields(answer);
    Values values;
    values.reserve(static_cast<std::size_t>(columns));
    for (int column = 0; column < columns; ++column) {
        values.push_back(column_of(answer, row, column));
    }
    return Row(std::move(values));
}

Result<Rows> PostgresConnection::query(std::string_view sql, const Values& parameters) {
    BW_TRY(name, prepared(sql));
    const Sent sent(parameters);
    const Answer answer(PQexecPrepared(connection_.get(), name.c_str(),
                                       static_cast<int>(parameters.size()), sent.values.data(),
                                       sent.lengths.data(), sent.formats.data(), 0));
    BW_CHECK(checked(answer));
    Rows rows;
    const int count = PQntuples(answer.get());
    rows.reserve(static_cast<std::size_t>(count));
    for (int row = 0; row < count; ++row) {
        rows.push_back(row_of(answer.get(), row));
    }
    return rows;
}

Result<void> PostgresConnection::each(const std::string& sql,
                                      const std::function<Result<void>(Row&)>& take) {
    if (PQsendQuery(connection_.get(), sql.c_str()) == 0) {
        return refused(nullptr);
    }
    PQsetSingleRowMode(connection_.get());
    Result<void> done;
    // Also after a problem all answers are taken from the line, or the next statement meets them.
    while (Answer answer{PQgetResult(connection_.get())}) {
        if (!done) {
            continue;
        }
        if (PQresultStatus(answer.get()) == PGRES_SINGLE_TUPLE) {
            Row row = row_of(answer.get(), 0);
            done = take(row);
        } else {
            done = checked(answer);
        }
    }
    return done;
}

Result<void> PostgresConnection::script(const std::string& sql) {
    return checked(Answer(PQexec(connection_.get(), sql.c_str())));
}

Result<void> PostgresConnection::begin(Access access) {
    const bool write = access == Access::Write;
    BW_CHECK(script(write ? "BEGIN ISOLATION LEVEL READ COMMITTED READ WRITE"
                          : "BEGIN ISOLATION LEVEL REPEATABLE READ READ ONLY"));
    writing_ = write;
    return {};
}

Result<void> PostgresConnection::commit() {
    const Answer answer(PQexec(connection_.get(), "COMMIT"));
    BW_CHECK(checked(answer));
    if (std::string_view(PQcmdStatus(answer.get())) != "COMMIT") {
        return fail(ProblemCode::Internal, "the transaction had failed before", {shown_, 0, {}});
    }
    writing_ = false;
    return {};
}

void PostgresConnection::rollback() {
    if (PQtransactionStatus(connection_.get()) != PQTRANS_IDLE) {
        const Answer answer(PQexec(connection_.get(), "ROLLBACK"));
    }
    writing_ = false;
}

Result<void> expect_lasting(Connection& connection, const std::string& shown) {
    BW_TRY(rows, connection.query("SELECT current_setting('fsync'), "
                                  "current_setting('full_page_writes'), "
                                  "current_setting('server_encoding')"));
    const Row& row = rows.front();
    if (row.text(0) != "on" || row.text(1) != "on") {
        return fail(ProblemCode::Refused,
                    "the server runs with fsync or full_page_writes off and would lose acts with "
                    "the power: switch both on in its settings",
                    {shown, 0, {}});
    }
    if (row.text(2) != "UTF8") {
        return fail(
            ProblemCode::Refused,
            fmt::format("the database keeps {} text: make one with ENCODING 'UTF8'", row.text(2)),
            {shown, 0, {}});
    }
    return {};
}

}  // namespace

Result<std::unique_ptr<Connection>> open_postgres(const std::string& connection,
                                                  const std::string& shown, int wait_ms) {
    PGconn* raw = PQconnectdb(connection.c_str());
    auto made = std::make_unique<PostgresConnection>(raw, shown);
    if (PQstatus(raw) != CONNECTION_OK) {
        return fail(
            ProblemCode::Disk,
            fmt::format("no connection to the database: {}", in_one_line(PQerrorMessage(raw))),
            {shown, 0, {}});
    }
    PQsetNoticeProcessor(
        raw, [](void*, const char*) {}, nullptr);
    BW_CHECK(made->script(fmt::format(
        "SET synchronous_commit = on; SET client_encoding = 'UTF8'; SET timezone = 'UTC';"
        "SET standard_conforming_strings = on; SET bytea_output = 'hex';"
        "SET extra_float_digits = 1; SET lock_timeout = {}; SET jit = off;",
        wait_ms)));
    BW_CHECK(expect_lasting(*made, shown));
    return made;
}

}  // namespace bw::store
