// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include <array>
#include <cstdlib>
#include <filesystem>

#include <fmt/format.h>
#include <nlohmann/json.hpp>
#include <unistd.h>

#include "store/birth.hpp"
#include "store/counts.hpp"
#include "store/digest.hpp"
#include "store/instant.hpp"
#include "store/shelf.hpp"
#include "store/sqlite_connection.hpp"
#include "store/trail.hpp"

namespace bw::store {
namespace {

using nlohmann::json;
namespace fs = std::filesystem;

constexpr std::string_view kFormat = "brinewright copy 1";
constexpr std::size_t kMostManifestBytes = 1 << 20;

Result<void> make_new_folder(const std::string& folder) {
    std::error_code error;
    if (fs::exists(folder, error) && !fs::is_empty(folder, error)) {
        return fail(ProblemCode::DuplicateName, "the folder is not empty: name a new one",
                    {folder, 0, {}});
    }
    fs::create_directories(folder, error);
    if (error) {
        return fail(ProblemCode::Disk, fmt::format("making the folder failed: {}", error.message()),
                    {folder, 0, {}});
    }
    fs::permissions(folder, fs::perms::owner_all, error);
    return {};
}

struct Table {
    std::string name;
    std::vector<std::string> columns;
};

/// The tables of a SQLite database in the order they were made, which is the order to fill them in.
Result<std::vector<Table>> tables_of(Connection& sqlite) {
    std::vector<Table> tables;
    BW_TRY(names, sqlite.query("SELECT name FROM sqlite_schema WHERE type = 'table' AND name NOT "
                               "LIKE 'sqlite_%' AND name <> 'migration' ORDER BY rowid"));
    for (const Row& row : names) {
        Table table{row.text(0), {}};
        BW_TRY(columns, sqlite.query("SELECT name FROM pragma_table_info($1)", {table.name}));
        for (const Row& column : columns) {
            table.columns.push_back(column.text(0));
        }
        tables.push_back(std::move(table));
    }
    return tables;
}

/// All rows of one table from one database into another.
Result<void> pour(Connection& from, Connection& into, const Table& table) {
    std::string columns, places;
    for (std::size_t i = 0; i < table.columns.size(); ++i) {
        columns += (i == 0 ? "" : ", ") + table.columns[i];
        places += fmt::format("{}${}", i == 0 ? "" : ", ", i + 1);
    }
    const std::string insert =
        fmt::format("INSERT INTO {} ({}) VALUES ({})", table.name, columns, places);
    return from.each(fmt::format("SELECT {} FROM {}{}", columns, table.name,
                                 table.name == "entry" ? " ORDER BY seq" : ""),
                     [&](Row& row) { return into.run(insert, row.values()); });
}

Result<void> pour_all(Connection& from, Connection& into, Connection& sqlite) {
    BW_TRY(tables, tables_of(sqlite));
    BW_TRY(reading, Transaction::begin(from, Access::Snapshot));
    static_cast<void>(reading);  // ends with this block
    BW_TRY(writing, Transaction::begin(into, Access::Write));
    for (const Table& table : tables) {
        if (table.name != "session") {
            BW_CHECK(pour(from, into, table));
        }
    }
    return writing.commit();
}

json counts_json(const Counts& counts) {
    json kinds = json::object();
    for (const auto& [kind, count] : counts.kinds) {
        kinds[kind] = count;
    }
    return {{"kinds", kinds},
            {"entries", counts.entries},
            {"records", counts.records},
            {"attachments", counts.attachments},
            {"requests", counts.requests},
            {"links", counts.links},
            {"measurements", counts.measurements}};
}

Counts counts_from(const json& body) {
    Counts counts;
    for (const auto& [kind, count] : body.at("kinds").items()) {
        counts.kinds.emplace_back(kind, count.get<std::int64_t>());
    }
    body.at("entries").get_to(counts.entries);
    body.at("records").get_to(counts.records);
    body.at("attachments").get_to(counts.attachments);
    body.at("requests").get_to(counts.requests);
    body.at("links").get_to(counts.links);
    body.at("measurements").get_to(counts.measurements);
    return counts;
}

/// What the copy holds, said by the copy itself after a look at its structure.
Result<Copy> look_at(const std::string& folder) {
    Copy copy;
    copy.folder = folder;
    const std::string file = folder + "/books.db";
    {
        BW_TRY(connection, open_sqlite(file, SqliteUse::Write, 0));
        BW_TRY(sessions, connection->query("SELECT 1 FROM sqlite_schema WHERE name = 'session'"));
        if (!sessions.empty()) {  // nobody is signed in to a copy
            BW_CHECK(connection->run("DELETE FROM session"));
        }
        BW_TRY(pages, connection->query("PRAGMA quick_check(1)"));
        if (pages.size() != 1 || pages.front().text(0) != "ok") {
            return fail(ProblemCode::BrokenBooks, "the copy's structure is damaged", {file, 0, {}});
        }
        BW_TRY(last, connection->query("SELECT seq, hash FROM entry UNION ALL SELECT 0, genesis "
                                       "FROM books ORDER BY 1 DESC LIMIT 1"));
        copy.mark = mark_of(last.front().integer(0), last.front().text(1));
        BW_TRY(counts, counts_of(*connection));
        copy.counts = std::move(counts);
        BW_CHECK(connection->query("PRAGMA wal_checkpoint(TRUNCATE)"));
    }
    BW_TRY(sha256, sha256_of_file(file));
    copy.sha256 = std::move(sha256);
    return copy;
}

Result<Copy> with_manifest(const std::string& folder, std::string_view at) {
    BW_TRY(copy, look_at(folder));
    const json manifest = {{"format", kFormat},
                           {"at", at},
                           {"mark", copy.mark},
                           {"sha256", copy.sha256},
                           {"counts", counts_json(copy.counts)}};
    constexpr int kIndent = 2;
    BW_CHECK(write_file(folder + "/manifest.json", manifest.dump(kIndent) + "\n"));
    return copy;
}

/// The manifest, after the file was found to be the one it names.
Result<Copy> read_manifest(const std::string& folder) {
    const std::string path = folder + "/manifest.json";
    BW_TRY(bytes, read_file(path, kMostManifestBytes));
    const json manifest = json::parse(bytes, nullptr, false);
    Copy copy;
    copy.folder = folder;
    try {
        if (!manifest.is_object() || manifest.at("format") != kFormat) {
            return fail(ProblemCode::BadInput, "this is no manifest of a copy", {path, 0, {}});
        }
        manifest.at("mark").get_to(copy.mark);
        manifest.at("sha256").get_to(copy.sha256);
        copy.counts = counts_from(manifest.at("counts"));
    } catch (const json::exception&) {
        return fail(ProblemCode::BadInput, "the manifest of the copy lacks a part", {path, 0, {}});
    }
    BW_TRY(sha256, sha256_of_file(folder + "/books.db"));
    if (sha256 != copy.sha256) {
        return fail(ProblemCode::BrokenBooks,
                    "the copy's books.db is not the file that was copied: take another copy",
                    {folder, 0, {}});
    }
    return copy;
}

/// A folder that goes when it is no longer needed.
class TemporaryFolder {
public:
    static Result<TemporaryFolder> make() {
        std::error_code error;
        std::string name = (fs::temp_directory_path(error) / "books-rehearsal-XXXXXX").string();
        if (error || ::mkdtemp(name.data()) == nullptr) {
            return fail(ProblemCode::Disk, "no temporary folder can be made", {name, 0, {}});
        }
        return TemporaryFolder(std::move(name));
    }
    TemporaryFolder(TemporaryFolder&& other) noexcept : name_(std::move(other.name_)) {
        other.name_.clear();
    }
    TemporaryFolder& operator=(TemporaryFolder&&) = delete;
    TemporaryFolder(const TemporaryFolder&) = delete;
    TemporaryFolder& operator=(const TemporaryFolder&) = delete;
    ~TemporaryFolder() {
        std::error_code error;
        if (!name_.empty()) {
            fs::remove_all(name_, error);
        }
    }
    [[nodiscard]] const std::string& name() const { return name_; }

private:
    explicit TemporaryFolder(std::string name) : name_(std::move(name)) {}
    std::string name_;
};

}  // namespace

Result<Copy> copy_tables(Connection& connection, const Where& place,
                         std::span<const Migration> steps, const std::string& folder,
                         std::string_view at) {
    BW_CHECK(make_new_folder(folder));
    const Where target{false, folder, {}, folder};
    const auto poured = [&]() -> Result<void> {
        if (!place.postgres) {
            return copy_sqlite(place.file(), target.file());
        }
        BW_TRY(made, make_tables(target, steps, at));
        return pour_all(connection, *made, *made);
    }();
    if (!poured) {
        std::error_code error;
        fs::remove(target.file(), error);
        return tl::make_unexpected(poured.error());
    }
    return with_manifest(folder, at);
}

Result<Copy> Books::copy(const std::string& folder, const std::string& at) const {
    BW_CHECK(milliseconds_of(at));
    return shelf_->read(
        [&](Connection& c) { return copy_tables(c, shelf_->where(), migrations(), folder, at); });
}

Result<void> Books::restore(const std::string& copy_folder, const std::string& where) {
    BW_CHECK(read_manifest(copy_folder));
    BW_TRY(place, where_of(where));
    BW_TRY(lock, prepare_place(place));
    static_cast<void>(lock);  // held to the end
    const std::string file = copy_folder + "/books.db";
    if (!place.postgres) {
        return copy_sqlite(file, place.file());
    }
    BW_TRY(source, open_sqlite(file, SqliteUse::Read, 0));
    BW_TRY(done, migrations_done(*source, migrations()));
    BW_TRY(rows, source->query("SELECT max(at) FROM migration"));
    BW_TRY(made, make_tables(place, migrations().first(static_cast<std::size_t>(done)),
                             rows.front().text(0)));
    return pour_all(*source, *made, *source);
}

Result<Copy> Books::rehearse(const std::string& copy_folder) {
    BW_TRY(said, read_manifest(copy_folder));
    BW_TRY(folder, TemporaryFolder::make());
    const std::string place = folder.name() + "/books";
    BW_CHECK(restore(copy_folder, place));
    BW_TRY(books, open(place));
    VerifyOptions options;
    options.against = said.mark;
    BW_TRY(found, books.verify(options));
    if (!found.sound()) {
        return fail(ProblemCode::BrokenBooks,
                    fmt::format("the copy restores, but its books are not sound ({} faults): {}",
                                found.fault_count, found.faults.front()),
                    {copy_folder, 0, {}});
    }
    BW_TRY(counts, books.counts());
    if (counts != said.counts || found.mark != said.mark) {
        return fail(ProblemCode::BrokenBooks,
                    "the copy restores, but it does not hold what its manifest says",
                    {copy_folder, 0, {}});
    }
    return said;
}

}  // namespace bw::store
