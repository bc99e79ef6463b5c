// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "store/shelf.hpp"

#include <fmt/format.h>

#include "store/migrations.hpp"
#include "store/postgres_connection.hpp"
#include "store/sqlite_connection.hpp"

namespace bw::store {
namespace {

constexpr std::size_t kMostIdleReaders = 8;

}  // namespace

Result<std::unique_ptr<Connection>> Books::Shelf::connect(bool to_write) const {
    BW_TRY(made, where_.postgres
                     ? open_postgres(where_.connection, where_.shown, options_.wait_ms)
                     : open_sqlite(where_.file(), to_write ? SqliteUse::Write : SqliteUse::Read,
                                   options_.wait_ms));
    return options_.between ? options_.between(std::move(made)) : std::move(made);
}

Result<std::unique_ptr<Connection>> Books::Shelf::connect_again(bool to_write) const {
    auto made = connect(to_write);
    if (!made && where_.postgres && made.error().code == ProblemCode::Disk) {
        // Somebody who has not signed in may read this: nothing of where the database is.
        made.error().message =
            "the database does not answer, so nothing was written: ask again in a while; 'store "
            "check' tells whoever looks after the server why";
    }
    return made;
}

Result<void> Books::Shelf::open(WriteLock lock) {
    lock_ = std::move(lock);
    const bool to_write = options_.mode == Mode::ReadWrite;
    BW_TRY(connection, connect(to_write));
    BW_TRY(has, has_books(*connection));
    if (!has) {
        return fail(ProblemCode::NotFound, "there are no books here: make some with 'store init'",
                    {where_.shown, 0, {}});
    }
    BW_TRY(done, migrations_done(*connection, migrations()));
    if (done < static_cast<int>(migrations().size())) {
        return fail(ProblemCode::Refused,
                    "the books are of an older program: bring them up with 'store upgrade', which "
                    "makes a copy first",
                    {where_.shown, 0, {}});
    }
    BW_TRY(rows, connection->query("SELECT genesis FROM books"));
    if (rows.size() != 1) {
        return fail(ProblemCode::BrokenBooks, "the books have lost their first page",
                    {where_.shown, 0, {}});
    }
    genesis_ = rows.front().text(0);
    if (to_write) {
        writer_ = std::move(connection);
    } else {
        give_back(std::move(connection));
    }
    return {};
}

Result<Connection*> Books::Shelf::writer() {
    if (options_.mode == Mode::ReadOnly) {
        return fail(ProblemCode::Refused, "the books were opened for reading only",
                    {where_.shown, 0, {}});
    }
    if (stopped_) {
        return fail(ProblemCode::Disk,
                    "writing has stopped, because the disk failed to keep what was written: look "
                    "after the disk, then open the books anew",
                    {where_.shown, 0, {}});
    }
    if (writer_->lost()) {
        BW_TRY(again, connect_again(true));
        writer_ = std::move(again);
    }
    return writer_.get();
}

Result<Transaction> Books::Shelf::begin_writing(Connection& connection) {
    BW_TRY(transaction, Transaction::begin(connection, Access::Write));
    if (connection.dialect() == Dialect::Postgres) {  // one writer at a time, readers go on
        BW_CHECK(connection.run("LOCK TABLE books IN EXCLUSIVE MODE"));
    }
    return std::move(transaction);
}

Problem Books::Shelf::stopped_by(Connection& connection, Problem problem) {
    if (connection.sync_failed()) {
        stopped_ = true;
        problem.message += "; writing stops until the books are opened anew";
    }
    return problem;
}

Result<std::unique_ptr<Connection>> Books::Shelf::take_reader() const {
    {
        const std::lock_guard<std::mutex> alone(shelving_);
        while (!readers_.empty()) {
            auto reader = std::move(readers_.back());
            readers_.pop_back();
            if (!reader->lost()) {
                return reader;
            }
        }
    }
    return connect_again(false);
}

void Books::Shelf::give_back(std::unique_ptr<Connection> connection) const {
    const std::lock_guard<std::mutex> alone(shelving_);
    if (!connection->lost() && readers_.size() < kMostIdleReaders) {
        readers_.push_back(std::move(connection));
    }
}

}  // namespace bw::store
