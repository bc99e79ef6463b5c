// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include <algorithm>

#include <fmt/format.h>

#include "base/text.hpp"
#include "store/allowed.hpp"
#include "store/shelf.hpp"
#include "store/statement.hpp"
#include "store/trail.hpp"

namespace bw::store {
namespace {

constexpr std::int64_t kMostRows = 10000;                 // of one page of a list
constexpr std::string_view kBeyond = "\xF4\x8F\xBF\xBF";  // U+10FFFF: after every other character

constexpr std::string_view kRecordColumns =
    "SELECT kind, id, version, body, entry, state, title FROM record ";

Record record_of(Row& row) {
    return {row.text(0),    row.text(1), row.integer(2), row.take_text(3),
            row.integer(4), row.text(5), row.text(6)};
}

tl::unexpected<Problem> missing(std::string_view kind, std::string_view id) {
    return fail(ProblemCode::NotFound, fmt::format("there is no {} {}", kind, base::quoted(id)));
}

void choose(Statement& s, const ListQuery& q) {
    s.add("WHERE c.kind = {}", q.kind);
    if (!q.state.empty()) {
        s.add(" AND c.state = {}", q.state);
    }
    if (!q.id_prefix.empty()) {
        s.add(" AND c.id >= {} AND c.id < {}", q.id_prefix, q.id_prefix + std::string(kBeyond));
    }
    if (!q.title_prefix.empty()) {
        s.add(" AND c.title >= {} AND c.title < {}", q.title_prefix,
              q.title_prefix + std::string(kBeyond));
    }
    if (q.pointing_to) {
        s.add(
            " AND c.id IN (SELECT l.from_id FROM link l WHERE l.to_kind = {} AND l.to_id = {} "
            "AND l.from_kind = {}",
            q.pointing_to->kind, q.pointing_to->id, q.kind);
        if (!q.pointing_to->role.empty()) {
            s.add(" AND l.role = {}", q.pointing_to->role);
        }
        s.add(")");
    }
}

Result<void> expect_query(const ListQuery& q) {
    BW_CHECK(expect_name(q.kind, "kind"));
    for (const std::string* words : {&q.kind, &q.state, &q.id_prefix, &q.title_prefix, &q.after}) {
        BW_CHECK(expect_utf8(*words, "query"));
    }
    return expect_limit(q.limit, kMostRows);
}

Listed listed_of(Row& row, bool with_body) {
    Listed listed{row.text(0),    row.text(1), row.integer(2), row.text(3), row.text(4),
                  row.integer(5), {}};
    if (with_body) {
        listed.body = row.take_text(6);
    }
    return listed;
}

}  // namespace

Result<Record> Books::newest(std::string_view kind, std::string_view id) const {
    return shelf_->read([&](Connection& c) -> Result<Record> {
        BW_CHECK(expect_utf8(kind, "kind"));
        BW_CHECK(expect_utf8(id, "id"));
        BW_TRY(rows, c.query(std::string(kRecordColumns) +
                                 "WHERE kind = $1 AND id = $2 ORDER BY version DESC LIMIT 1",
                             {text(kind), text(id)}));
        if (rows.empty()) {
            return missing(kind, id);
        }
        return record_of(rows.front());
    });
}

Result<Record> Books::at(std::string_view kind, std::string_view id, std::int64_t version) const {
    return shelf_->read([&](Connection& c) -> Result<Record> {
        BW_CHECK(expect_utf8(kind, "kind"));
        BW_CHECK(expect_utf8(id, "id"));
        BW_TRY(rows,
               c.query(std::string(kRecordColumns) + "WHERE kind = $1 AND id = $2 AND version = $3",
                       {text(kind), text(id), version}));
        if (rows.empty()) {
            return fail(ProblemCode::NotFound, fmt::format("there is no version {} of {} {}",
                                                           version, kind, base::quoted(id)));
        }
        return record_of(rows.front());
    });
}

Result<std::vector<Record>> Books::history(std::string_view kind, std::string_view id) const {
    return shelf_->read([&](Connection& c) -> Result<std::vector<Record>> {
        BW_CHECK(expect_utf8(kind, "kind"));
        BW_CHECK(expect_utf8(id, "id"));
        BW_TRY(rows,
               c.query(std::string(kRecordColumns) + "WHERE kind = $1 AND id = $2 ORDER BY version",
                       {text(kind), text(id)}));
        if (rows.empty()) {
            return missing(kind, id);
        }
        std::vector<Record> records;
        records.reserve(rows.size());
        for (Row& row : rows) {
            records.push_back(record_of(row));
        }
        return records;
    });
}

Result<std::vector<Listed>> Books::list(const ListQuery& query) const {
    BW_CHECK(expect_query(query));
    Statement s;
    s.add("SELECT c.kind, c.id, c.version, c.state, c.title, c.entry");
    s.add(query.with_bodies ? ", r.body FROM current c JOIN record r ON r.kind = c.kind AND "
                              "r.id = c.id AND r.version = c.version "
                            : " FROM current c ");
    choose(s, query);
    if (!query.after.empty()) {
        s.add(query.descending ? " AND c.id < {}" : " AND c.id > {}", query.after);
    }
    s.add(query.descending ? " ORDER BY c.id DESC LIMIT {}" : " ORDER BY c.id LIMIT {}",
          query.limit);
    return shelf_->read([&](Connection& c) -> Result<std::vector<Listed>> {
        BW_TRY(rows, c.query(s.sql, s.values));
        std::vector<Listed> list;
        list.reserve(rows.size());
        for (Row& row : rows) {
            list.push_back(listed_of(row, query.with_bodies));
        }
        return list;
    });
}

Result<std::int64_t> Books::count(const ListQuery& query) const {
    BW_CHECK(expect_query(query));
    Statement s;
    s.add("SELECT count(*) FROM current c ");
    choose(s, query);
    return shelf_->read([&](Connection& c) -> Result<std::int64_t> {
        BW_TRY(rows, c.query(s.sql, s.values));
        return rows.front().integer(0);
    });
}

Result<std::vector<Link>> Books::links_from(std::string_view kind, std::string_view id) const {
    return shelf_->read([&](Connection& c) -> Result<std::vector<Link>> {
        BW_CHECK(expect_utf8(kind, "kind"));
        BW_CHECK(expect_utf8(id, "id"));
        BW_TRY(rows, c.query("SELECT role, to_kind, to_id FROM link WHERE from_kind = $1 AND "
                             "from_id = $2 ORDER BY ordinal",
                             {text(kind), text(id)}));
        std::vector<Link> links;
        links.reserve(rows.size());
        for (const Row& row : rows) {
            links.push_back({row.text(0), row.text(1), row.text(2)});
        }
        return links;
    });
}

Result<std::vector<LinkRow>> Books::links_from(std::string_view kind,
                                               std::span<const std::string> ids) const {
    constexpr std::size_t kAtOnce = 256;
    return shelf_->read([&](Connection& c) -> Result<std::vector<LinkRow>> {
        BW_CHECK(expect_utf8(kind, "kind"));
        std::vector<LinkRow> links;
        for (std::size_t next = 0; next < ids.size(); next += kAtOnce) {
            const auto some = ids.subspan(next, std::min(kAtOnce, ids.size() - next));
            for (const std::string& id : some) {
                BW_CHECK(expect_utf8(id, "id"));
            }
            Statement s;
            s.add("SELECT from_id, role, to_kind, to_id FROM link WHERE from_kind = {} AND from_id",
                  text(kind));
            s.add_in(some);
            s.add(" ORDER BY from_id, ordinal");
            BW_TRY(rows, c.query(s.sql, s.values));
            for (const Row& row : rows) {
                links.push_back(
                    {std::string(kind), row.text(0), {row.text(1), row.text(2), row.text(3)}});
            }
        }
        return links;
    });
}

Result<std::vector<LinkRow>> Books::links_to(std::string_view kind, std::string_view id,
                                             std::string_view role) const {
    return shelf_->read([&](Connection& c) -> Result<std::vector<LinkRow>> {
        for (const std::string_view words : {kind, id, role}) {
            BW_CHECK(expect_utf8(words, "query"));
        }
        BW_TRY(
            rows,
            c.query("SELECT from_kind, from_id, role FROM link WHERE to_kind = $1 AND to_id = $2 "
                    "AND ($3 = '' OR role = $3) ORDER BY role, from_kind, from_id",
                    {text(kind), text(id), text(role)}));
        std::vector<LinkRow> links;
        links.reserve(rows.size());
        for (const Row& row : rows) {
            links.push_back(
                {row.text(0), row.text(1), {row.text(2), std::string(kind), std::string(id)}});
        }
        return links;
    });
}

Result<std::vector<Listed>> Books::search(std::string_view words, std::int64_t limit) const {
    BW_CHECK(expect_name(words, "search"));
    BW_CHECK(expect_limit(limit, kMostRows));
    const std::string from = base::lower_ascii(words);
    constexpr std::int64_t kSeveral = 4;  // keys of one record that may begin alike
    return shelf_->read([&](Connection& c) -> Result<std::vector<Listed>> {
        BW_TRY(rows, c.query("SELECT c.kind, c.id, c.version, c.state, c.title, c.entry "
                             "FROM (SELECT min(k.key) AS key, k.kind, k.id FROM "
                             "(SELECT key, kind, id FROM search_key WHERE key >= $1 AND key < $2 "
                             "ORDER BY key, kind, id LIMIT $3) k GROUP BY k.kind, k.id) f "
                             "JOIN current c ON c.kind = f.kind AND c.id = f.id "
                             "ORDER BY f.key, c.kind, c.id LIMIT $4",
                             {from, from + std::string(kBeyond), kSeveral * limit, limit}));
        std::vector<Listed> found;
        found.reserve(rows.size());
        for (Row& row : rows) {
            found.push_back(listed_of(row, false));
        }
        return found;
    });
}

Result<Attachment> Books::attachment(std::string_view sha256) const {
    return shelf_->read([&](Connection& c) -> Result<Attachment> {
        BW_CHECK(expect_utf8(sha256, "sha256"));
        BW_TRY(rows, c.query("SELECT name, media_type, bytes FROM attachment WHERE sha256 = $1",
                             {text(sha256)}));
        if (rows.empty()) {
            return missing("attachment", sha256);
        }
        return Attachment{rows.front().text(0), rows.front().text(1), rows.front().bytes(2)};
    });
}

Result<std::vector<Entry>> Books::entries(const EntryQuery& query) const {
    BW_CHECK(expect_limit(query.limit, kMostRows));
    Statement s;
    s.add("SELECT e.seq, e.body, e.hash FROM entry e WHERE 1 = 1");
    if (!query.subject_kind.empty()) {
        BW_CHECK(expect_name(query.subject_kind, "subject_kind"));
        BW_CHECK(expect_name(query.subject_id, "subject_id"));
        s.add(
            " AND e.seq IN (SELECT a.seq FROM entry a WHERE a.subject_kind = {} AND "
            "a.subject_id = {}",
            query.subject_kind, query.subject_id);
        s.add(" UNION SELECT r.entry FROM record r WHERE r.kind = {} AND r.id = {})",
              query.subject_kind, query.subject_id);
    }
    if (!query.person.empty()) {
        BW_CHECK(expect_name(query.person, "person"));
        s.add(" AND e.person = {}", query.person);
    }
    if (query.from_seq > 0) {
        s.add(" AND e.seq >= {} ORDER BY e.seq", query.from_seq);
    } else {
        if (query.before_seq > 0) {
            s.add(" AND e.seq < {}", query.before_seq);
        }
        s.add(" ORDER BY e.seq DESC");
    }
    s.add(" LIMIT {}", query.limit);
    return shelf_->read([&](Connection& c) -> Result<std::vector<Entry>> {
        BW_TRY(rows, c.query(s.sql, s.values));
        std::vector<Entry> entries;
        for (Row& row : rows) {
            BW_TRY(content, read_entry(row.text(1)));
            content.entry.body = row.take_text(1);
            content.entry.hash = row.take_text(2);
            entries.push_back(std::move(content.entry));
        }
        return entries;
    });
}

}  // namespace bw::store
