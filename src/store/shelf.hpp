// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <atomic>
#include <memory>
#include <mutex>
#include <string>
#include <utility>
#include <vector>

#include "store/books.hpp"
#include "store/database.hpp"
#include "store/where.hpp"

namespace bw::store {

/// What is behind Books: one connection that writes, several that read, and the writing lock.
class Books::Shelf {
public:
    Shelf(Where place, OpenOptions options)
        : where_(std::move(place)), options_(std::move(options)) {}

    [[nodiscard]] const Where& where() const { return where_; }
    [[nodiscard]] const std::string& genesis() const { return genesis_; }

    /// Opens what `options` ask for, and refuses books of another version.
    [[nodiscard]] Result<void> open(WriteLock lock);

    /// Runs `work(connection)` alone among writers and commits what it did, if it went well.
    template <class Work>
    auto write(Work work) -> decltype(work(std::declval<Connection&>())) {
        const std::lock_guard<std::mutex> alone(writing_);
        BW_TRY(connection, writer());
        BW_TRY(transaction, begin_writing(*connection));
        auto done = work(*connection);
        if (!done) {
            return done;
        }
        auto committed = transaction.commit();
        if (!committed) {
            return tl::make_unexpected(stopped_by(*connection, std::move(committed).error()));
        }
        return done;
    }

    /// Runs `work(connection)` on a connection of its own; Snapshot: on one state throughout.
    template <class Work>
    auto read(Work work) const -> decltype(work(std::declval<Connection&>())) {
        BW_TRY(connection, take_reader());
        auto done = work(*connection);
        give_back(std::move(connection));
        return done;
    }
    template <class Work>
    auto read_snapshot(Work work) const -> decltype(work(std::declval<Connection&>())) {
        return read([&](Connection& c) -> decltype(work(c)) {
            BW_TRY(transaction, Transaction::begin(c, Access::Snapshot));
            static_cast<void>(transaction);  // ends with this block
            return work(c);
        });
    }

private:
    [[nodiscard]] Result<std::unique_ptr<Connection>> connect(bool to_write) const;
    /// connect(), while others are served.
    [[nodiscard]] Result<std::unique_ptr<Connection>> connect_again(bool to_write) const;
    [[nodiscard]] Result<Connection*> writer();
    [[nodiscard]] Result<Transaction> begin_writing(Connection& connection);
    [[nodiscard]] Problem stopped_by(Connection& connection, Problem problem);
    [[nodiscard]] Result<std::unique_ptr<Connection>> take_reader() const;
    void give_back(std::unique_ptr<Connection> connection) const;

    Where where_;
    OpenOptions options_;
    std::string genesis_;
    WriteLock lock_;
    std::mutex writing_;
    std::unique_ptr<Connection> writer_;
    std::atomic<bool> stopped_{false};
    mutable std::mutex shelving_;
    mutable std::vector<std::unique_ptr<Connection>> readers_;
};

}  // namespace bw::store
