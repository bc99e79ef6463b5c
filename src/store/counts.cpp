// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "store/counts.hpp"

#include "store/shelf.hpp"

namespace bw::store {

Result<Counts> counts_of(Connection& connection) {
    Counts counts;
    BW_TRY(kinds,
           connection.query("SELECT kind, count(*) FROM current GROUP BY kind ORDER BY kind"));
    for (const Row& row : kinds) {
        counts.kinds.emplace_back(row.text(0), row.integer(1));
    }
    BW_TRY(rows,
           connection.query("SELECT (SELECT count(*) FROM entry), (SELECT count(*) FROM record), "
                            "(SELECT count(*) FROM attachment), (SELECT count(*) FROM request), "
                            "(SELECT count(*) FROM link), (SELECT count(*) FROM measurement)"));
    std::size_t column = 0;
    for (std::int64_t* count : {&counts.entries, &counts.records, &counts.attachments,
                                &counts.requests, &counts.links, &counts.measurements}) {
        *count = rows.front().integer(column++);
    }
    return counts;
}

Result<Counts> Books::counts() const {
    return shelf_->read_snapshot([](Connection& c) { return counts_of(c); });
}

}  // namespace bw::store
