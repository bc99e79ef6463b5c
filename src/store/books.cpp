// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "store/books.hpp"

#include <filesystem>

#include <fmt/format.h>
#include <unistd.h>

#include "store/allowed.hpp"
#include "store/birth.hpp"
#include "store/digest.hpp"
#include "store/instant.hpp"
#include "store/migrations.hpp"
#include "store/postgres_connection.hpp"
#include "store/shelf.hpp"
#include "store/sqlite_connection.hpp"
#include "store/trail.hpp"

namespace bw::store {
namespace {

constexpr int kIdentityBytes = 8;
constexpr int kWait_ms = 5000;

}  // namespace

Result<void> write_first_page(Connection& connection, std::string_view at) {
    const std::string identity = random_hex(kIdentityBytes);
    return connection.run("INSERT INTO books (one, identity, made, genesis) VALUES (1, $1, $2, $3)",
                          {identity, text(at), genesis_hash(identity, at)});
}

Result<std::unique_ptr<Connection>> make_tables(const Where& where,
                                                std::span<const Migration> steps,
                                                std::string_view at) {
    std::unique_ptr<Connection> connection;
    if (where.postgres) {
        BW_TRY(made, open_postgres(where.connection, where.shown, kWait_ms));
        connection = std::move(made);
    } else {
        BW_TRY(made, open_sqlite(where.file(), SqliteUse::Make, kWait_ms));
        connection = std::move(made);
        BW_CHECK(connection->script(fmt::format("PRAGMA application_id = {}", kApplicationId)));
    }
    for (const Migration& step : steps) {
        BW_CHECK(migrate(*connection, step, at));
    }
    return connection;
}

Result<WriteLock> prepare_place(const Where& where) {
    if (where.postgres) {
        BW_TRY(connection, open_postgres(where.connection, where.shown, kWait_ms));
        BW_TRY(has, has_books(*connection));
        if (has) {
            return fail(ProblemCode::DuplicateName, "there are books here already",
                        {where.shown, 0, {}});
        }
        return WriteLock();
    }
    namespace fs = std::filesystem;
    std::error_code error;
    if (!fs::is_directory(where.folder, error)) {
        fs::create_directory(where.folder, error);
        if (error) {
            return fail(ProblemCode::Disk,
                        fmt::format("making the folder failed: {}", error.message()),
                        {where.shown, 0, {}});
        }
        fs::permissions(where.folder, fs::perms::owner_all, error);
    }
    const auto expect_none = [&]() -> Result<void> {
        if (fs::exists(where.file(), error)) {
            return fail(ProblemCode::DuplicateName, "there are books here already",
                        {where.shown, 0, {}});
        }
        return {};
    };
    BW_CHECK(expect_own_disk(where.folder));
    BW_CHECK(expect_none());  // before waiting for whoever writes there
    BW_TRY(lock, WriteLock::take(where.folder, kWait_ms));
    BW_CHECK(expect_none());  // and after whoever made books in the meantime
    return std::move(lock);
}

Books::Books(std::unique_ptr<Shelf> shelf) : shelf_(std::move(shelf)) {}
Books::Books(Books&&) noexcept = default;
Books& Books::operator=(Books&&) noexcept = default;
Books::~Books() = default;

Result<Books> Books::create(const std::string& where, const std::string& at) {
    BW_CHECK(milliseconds_of(at));
    BW_TRY(place, where_of(where));
    BW_TRY(lock, prepare_place(place));
    const auto filled = [&]() -> Result<void> {
        BW_TRY(connection, make_tables(place, migrations(), at));
        return write_first_page(*connection, at);
    }();
    if (!filled) {
        if (!place.postgres) {
            ::unlink(place.file().c_str());
        }
        return tl::make_unexpected(filled.error());
    }
    auto shelf = std::make_unique<Shelf>(place, OpenOptions{});
    BW_CHECK(shelf->open(std::move(lock)));
    return Books(std::move(shelf));
}

Result<void> expect_books(const Where& place) {
    std::error_code error;
    if (!place.postgres && !std::filesystem::exists(place.file(), error)) {
        return fail(ProblemCode::NotFound, "there are no books here: make some with 'store init'",
                    {place.shown, 0, {}});
    }
    return {};
}

Result<Books> Books::open(const std::string& where, OpenOptions options) {
    BW_TRY(place, where_of(where));
    BW_CHECK(expect_books(place));
    WriteLock lock;
    if (!place.postgres) {
        BW_CHECK(expect_own_disk(place.folder));
        if (options.mode == Mode::ReadWrite) {
            BW_TRY(taken, WriteLock::take(place.folder, options.wait_ms));
            lock = std::move(taken);
        }
    }
    auto shelf = std::make_unique<Shelf>(place, std::move(options));
    BW_CHECK(shelf->open(std::move(lock)));
    return Books(std::move(shelf));
}

Result<std::string> upgrade_with(const std::string& where, std::span<const Migration> known,
                                 const std::string& at, const std::string& copy_folder) {
    BW_CHECK(milliseconds_of(at));
    BW_TRY(place, where_of(where));
    BW_CHECK(expect_books(place));
    WriteLock lock;
    std::unique_ptr<Connection> connection;
    if (place.postgres) {
        BW_TRY(made, open_postgres(place.connection, place.shown, kWait_ms));
        connection = std::move(made);
    } else {
        BW_CHECK(expect_own_disk(place.folder));
        BW_TRY(taken, WriteLock::take(place.folder, kWait_ms));
        lock = std::move(taken);
        BW_TRY(made, open_sqlite(place.file(), SqliteUse::Write, kWait_ms));
        connection = std::move(made);
    }
    BW_TRY(done, migrations_done(*connection, known));
    if (done == static_cast<int>(known.size())) {
        return std::string();
    }
    if (place.postgres && copy_folder.empty()) {
        return fail(ProblemCode::BadInput,
                    "books on PostgreSQL need a folder for the copy that is made first",
                    {place.shown, 0, {}});
    }
    const std::string folder = copy_folder.empty()
                                   ? fmt::format("{}/copies/before-step-{}", place.folder, done + 1)
                                   : copy_folder;
    BW_CHECK(
        copy_tables(*connection, place, known.first(static_cast<std::size_t>(done)), folder, at));
    for (const Migration& step : known.subspan(static_cast<std::size_t>(done))) {
        BW_CHECK(migrate(*connection, step, at));
    }
    return folder;
}

Result<std::string> Books::upgrade(const std::string& where, const std::string& at,
                                   const std::string& copy_folder) {
    return upgrade_with(where, migrations(), at, copy_folder);
}

}  // namespace bw::store
