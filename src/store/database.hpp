// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <cstddef>
#include <cstdint>
#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "base/result.hpp"

namespace bw::store {

/// Bytes of a column that is no text.
struct Blob {
    std::string bytes;
    bool operator==(const Blob&) const = default;
};

/// One value of a row or of a parameter; nothing is SQL's null.
using Value = std::variant<std::monostate, std::int64_t, double, std::string, Blob>;
using Values = std::vector<Value>;

[[nodiscard]] inline Value text(std::string_view value) { return std::string(value); }
[[nodiscard]] inline Value number(const std::optional<double>& value) {
    return value ? Value(*value) : Value();
}

/// One row of an answer. A column of another type than asked for reads as empty: whoever looks for
/// tampering compares contents, and no one else finds such columns.
class Row {
public:
    explicit Row(Values values) : values_(std::move(values)) {}
    [[nodiscard]] const std::string& text(std::size_t column) const;
    [[nodiscard]] std::string take_text(std::size_t column);
    [[nodiscard]] std::int64_t integer(std::size_t column) const;
    [[nodiscard]] std::optional<double> number(std::size_t column) const;
    [[nodiscard]] const std::string& bytes(std::size_t column) const;
    [[nodiscard]] const Values& values() const { return values_; }

private:
    Values values_;
};
using Rows = std::vector<Row>;

enum class Dialect : std::uint8_t { Sqlite, Postgres };

enum class Access : std::uint8_t {
    Write,     ///< alone among writers; sees what is newest
    Snapshot,  ///< reads one state of the books throughout
};

/// One connection to a database, for one thread at a time. Parameters are written $1, $2, ...
class Connection {
public:
    Connection() = default;
    Connection(const Connection&) = delete;
    Connection& operator=(const Connection&) = delete;
    virtual ~Connection() = default;

    /// One statement with all rows of its answer.
    [[nodiscard]] virtual Result<Rows> query(std::string_view sql, const Values& parameters) = 0;
    [[nodiscard]] Result<Rows> query(std::string_view sql) { return query(sql, {}); }
    /// One statement whose answer is not needed.
    [[nodiscard]] Result<void> run(std::string_view sql, const Values& parameters = {});
    /// One statement whose rows are handed over one by one, so that none is kept in memory.
    [[nodiscard]] virtual Result<void> each(const std::string& sql,
                                            const std::function<Result<void>(Row&)>& take) = 0;
    /// Several statements without parameters.
    [[nodiscard]] virtual Result<void> script(const std::string& sql) = 0;

    [[nodiscard]] virtual Result<void> begin(Access access) = 0;
    [[nodiscard]] virtual Result<void> commit() = 0;
    virtual void rollback() = 0;

    [[nodiscard]] virtual Dialect dialect() const = 0;
    /// The connection is gone, as far as can be known without asking: it must be made anew.
    [[nodiscard]] virtual bool lost() const = 0;
    /// The disk refused to make bytes lasting: what was written since is not known, and a second
    /// attempt may seem to succeed. Writing stops until the books are opened anew.
    [[nodiscard]] virtual bool sync_failed() const = 0;
};

/// A transaction that is undone when it is not committed.
class Transaction {
public:
    [[nodiscard]] static Result<Transaction> begin(Connection& connection, Access access);
    Transaction(Transaction&& other) noexcept : connection_(other.connection_) {
        other.connection_ = nullptr;
    }
    Transaction& operator=(Transaction&&) = delete;
    Transaction(const Transaction&) = delete;
    Transaction& operator=(const Transaction&) = delete;
    ~Transaction();
    [[nodiscard]] Result<void> commit();

private:
    explicit Transaction(Connection& connection) : connection_(&connection) {}
    Connection* connection_;
};

}  // namespace bw::store
