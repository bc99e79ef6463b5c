// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include <map>

#include "store/counts.hpp"
#include "store/facts.hpp"
#include "store/verify.hpp"

namespace bw::store {
namespace {

constexpr std::int64_t kPage = 200;  // records at once

/// What the projections hold of one record.
struct Projected {
    std::int64_t version = 0, entry = 0;
    std::string state, title;
    Facts facts;
};
using RecordKey = std::pair<std::string, std::string>;
using Page = std::map<RecordKey, Projected>;

Values range_of(const Rows& rows) {
    return {text(rows.front().text(0)), text(rows.front().text(1)), text(rows.back().text(0)),
            text(rows.back().text(1))};
}

/// The projections' rows from the first to the last record of a page. Rows of records between them
/// that do not exist come with them.
Result<Page> projected(Connection& c, const Values& range) {
    Page page;
    BW_TRY(current, c.query("SELECT kind, id, version, state, title, entry FROM current WHERE "
                            "(kind, id) >= ($1, $2) AND (kind, id) <= ($3, $4)",
                            range));
    for (const Row& row : current) {
        Projected& p = page[{row.text(0), row.text(1)}];
        p.version = row.integer(2);
        p.state = row.text(3);
        p.title = row.text(4);
        p.entry = row.integer(5);
    }
    BW_TRY(links, c.query("SELECT from_kind, from_id, role, to_kind, to_id FROM link WHERE "
                          "(from_kind, from_id) >= ($1, $2) AND (from_kind, from_id) <= ($3, $4) "
                          "ORDER BY from_kind, from_id, ordinal",
                          range));
    for (const Row& row : links) {
        page[{row.text(0), row.text(1)}].facts.links.push_back(
            {row.text(2), row.text(3), row.text(4)});
    }
    BW_TRY(keys, c.query("SELECT kind, id, key FROM search_key WHERE (kind, id) >= ($1, $2) AND "
                         "(kind, id) <= ($3, $4) ORDER BY kind, id, key",
                         range));
    for (const Row& row : keys) {
        page[{row.text(0), row.text(1)}].facts.keys.push_back(row.text(2));
    }
    BW_TRY(measured,
           c.query("SELECT kind, id, analyte, sample, batch, run, line, at, digits, value, "
                   "u, unit, state FROM measurement WHERE (kind, id) >= ($1, $2) AND "
                   "(kind, id) <= ($3, $4) ORDER BY kind, id, ordinal",
                   range));
    for (const Row& row : measured) {
        page[{row.text(0), row.text(1)}].facts.measurements.push_back(
            {row.text(2), row.text(3), row.text(4), row.text(5), row.integer(6), row.text(7),
             row.text(8), row.number(9), row.number(10), row.text(11), row.text(12)});
    }
    return page;
}

void compare(const Row& record, const Projected& p, Faults& faults) {
    const std::string name = fmt::format("{}/{}", record.text(0), record.text(1));
    if (p.version != record.integer(2) || p.state != record.text(3) || p.title != record.text(4) ||
        p.entry != record.integer(5)) {
        faults.add(
            fmt::format("the list shows another version, state or title of {} than its "
                        "newest version states",
                        name));
    }
    const auto facts = read_facts(record.text(6));
    if (!facts) {
        faults.add(fmt::format("{}: {}", name, facts.error().message));
        return;
    }
    if (p.facts.links != facts->links) {
        faults.add(fmt::format("the links of {} are not those its newest version states", name));
    }
    if (p.facts.keys != facts->keys) {
        faults.add(
            fmt::format("the search keys of {} are not those its newest version states", name));
    }
    if (p.facts.measurements != facts->measurements) {
        faults.add(
            fmt::format("the measurements listed for {} are not those its newest version "
                        "states",
                        name));
    }
}

/// Rows of records that the books do not have: a table holds more than was compared.
Result<void> find_strays(Connection& c, Faults& faults) {
    struct Table {
        std::string_view name, sql;
    };
    constexpr std::int64_t kFew = 10;
    for (const Table& table :
         {Table{"list",
                "SELECT DISTINCT kind, id FROM current c WHERE NOT EXISTS (SELECT 1 FROM "
                "record r WHERE r.kind = c.kind AND r.id = c.id) LIMIT $1"},
          Table{"links",
                "SELECT DISTINCT from_kind, from_id FROM link l WHERE NOT EXISTS (SELECT 1 "
                "FROM record r WHERE r.kind = l.from_kind AND r.id = l.from_id) LIMIT $1"},
          Table{"search keys",
                "SELECT DISTINCT kind, id FROM search_key k WHERE NOT EXISTS (SELECT "
                "1 FROM record r WHERE r.kind = k.kind AND r.id = k.id) LIMIT $1"},
          Table{"measurements",
                "SELECT DISTINCT kind, id FROM measurement m WHERE NOT EXISTS (SELECT 1 FROM "
                "record r WHERE r.kind = m.kind AND r.id = m.id) LIMIT $1"}}) {
        BW_TRY(rows, c.query(table.sql, {kFew}));
        for (const Row& row : rows) {
            faults.add(fmt::format("the {} name {}/{}, which is not in the books", table.name,
                                   row.text(0), row.text(1)));
        }
    }
    return {};
}

}  // namespace

Result<void> verify_projections(Connection& connection, Verification& report) {
    Faults faults(report);
    std::string kind, id;
    while (true) {
        BW_TRY(rows, connection.query(
                         "SELECT r.kind, r.id, r.version, r.state, r.title, r.entry, r.facts "
                         "FROM record r WHERE (r.kind, r.id) > ($1, $2) AND NOT EXISTS "
                         "(SELECT 1 FROM record n WHERE n.kind = r.kind AND n.id = r.id AND "
                         "n.version > r.version) ORDER BY r.kind, r.id LIMIT $3",
                         {kind, id, kPage}));
        if (rows.empty()) {
            break;
        }
        BW_TRY(page, projected(connection, range_of(rows)));
        for (const Row& row : rows) {
            compare(row, page[{row.text(0), row.text(1)}], faults);
        }
        kind = rows.back().text(0);
        id = rows.back().text(1);
    }
    return find_strays(connection, faults);
}

}  // namespace bw::store
