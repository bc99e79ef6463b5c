// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
// Column maps in the books: those that were kept by name, and those that runs were read by.
#include "service/kept_maps.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "base/text.hpp"
#include "service/import_map.hpp"
#include "service/import_map_words.hpp"
#include "store/digest.hpp"

namespace bw::service {
namespace {

constexpr std::int64_t kMostMaps = 1000;
constexpr std::int64_t kRunsLookedAt = 50;  // back from the newest one

/// Whether the map names each column of the table by its head, and none beside them.
bool fits(const io::ColumnMap& map, const io::CellTable& cells) {
    if (map.head_row == 0 || map.head_row > cells.rows() || map.columns.empty()) {
        return false;
    }
    for (const io::MapColumn& of : map.columns) {
        std::size_t here = 0;
        for (std::size_t c = 0; c < cells.columns(); ++c) {
            here += is_of(map, cells, of, c) ? 1U : 0U;
        }
        if (here != 1 || of.index) {
            return false;
        }
    }
    return map.columns.size() == cells.columns() || map.ignore_other_columns;
}

/// The kept map of the first name, in the order of names.
Result<bool> find_kept(const store::Books& books, const io::CellTable& cells, FoundMap& out) {
    store::ListQuery query;
    query.limit = kMostMaps;
    BW_TRY(maps, kept_list<works::KeptMap>(books, query));
    for (const auto& kept : maps) {
        auto map = map_of_text(kept.is.text);
        if (!map) {  // one that cannot be read is no reason to read no table at all
            out.remarks.push_back(
                fmt::format("The kept map {} cannot be read and is passed over: {}.",
                            base::quoted(kept.is.name), map.error().message));
            continue;
        }
        if (head_digest(cells, map->head_row) == kept.is.head) {
            out.map = std::move(*map);
            out.map->name = kept.is.name;
            out.from = fmt::format("the kept map {}", base::quoted(kept.is.name));
            return true;
        }
    }
    return false;
}

Result<void> find_used(const store::Books& books, const io::CellTable& cells, FoundMap& out) {
    store::ListQuery query;
    query.limit = kRunsLookedAt;
    query.descending = true;
    BW_TRY(runs, kept_list<works::Run>(books, query));
    std::vector<std::string> seen;
    for (const auto& run : runs) {
        const std::string& digest = run.is.column_map;
        if (digest.empty() || std::find(seen.begin(), seen.end(), digest) != seen.end()) {
            continue;
        }
        seen.push_back(digest);
        BW_TRY(kept, books.attachment(digest));
        auto map = map_of_text(kept.bytes);
        if (map && fits(*map, cells)) {
            out.map = std::move(*map);
            out.from = fmt::format("the map of run {}, whose table had these heads", run.is.number);
            return {};
        }
    }
    return {};
}

/// Whether a text is a SHA-256 as head_digest writes it.
bool is_digest(const std::string& text) {
    constexpr std::size_t kDigits = 64;
    return text.size() == kDigits && text.find_first_not_of("0123456789abcdef") == text.npos;
}

/// The record as it would be kept; its text is read back before anything is written.
Result<works::KeptMap> map_to_keep(const std::string& name, const std::string& map,
                                   const std::string& head) {
    works::KeptMap out;
    out.name = io::single_blanks(name);
    if (out.name.empty()) {
        return fail(ProblemCode::BadInput,
                    "a map is kept under a name: write one, as the instrument is called",
                    {"", 0, "name"});
    }
    if (!is_digest(head)) {
        return fail(ProblemCode::BadInput,
                    "head is to be the 64 digits that the proposal of the map gave for its heads",
                    {"", 0, "head"});
    }
    out.head = head;
    BW_TRY(read, map_of_text(map));
    read.name = out.name;
    out.text = io::column_map_toml(read);
    BW_CHECK(map_of_text(out.text));
    return out;
}

}  // namespace

Result<FoundMap> map_for_heads(const store::Books& books, const io::CellTable& cells) {
    FoundMap out;
    BW_TRY(kept, find_kept(books, cells, out));
    if (!kept) {
        BW_CHECK(find_used(books, cells, out));
    }
    return out;
}

std::string head_digest(const io::CellTable& table, std::size_t head_row) {
    std::string heads;
    for (std::size_t c = 0; head_row > 0 && c < table.columns(); ++c) {
        heads += io::single_blanks(table.at(head_row - 1, c).text) + "\n";
    }
    return store::sha256_hex(heads);
}

Result<io::ColumnMap> map_of_text(const std::string& text) {
    BW_TRY(document, io::parse_document(text, "column map"));
    return io::read_column_map(document);
}

Result<store::Receipt> keep_map(const Desk& desk, const std::string& name, const std::string& map,
                                const std::string& head, const Intent& intent) {
    BW_TRY(kept_map, map_to_keep(name, map, head));
    kept_map.kept_by = desk.person.id;
    return act(
        desk, {works::Deed::EnterResults, "results keep map", kKind<works::KeptMap>, kept_map.name},
        intent, [&](store::Change& change) -> Result<void> {
            BW_TRY(before, if_kept<works::KeptMap>(*desk.books, kept_map.name));
            change.writes.push_back(write_of(kept_map, before ? before->version : 0));
            change.answer = kept_map.name;
            return {};
        });
}

}  // namespace bw::service
