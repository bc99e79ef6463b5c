// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "store/verify.hpp"

#include <algorithm>
#include <iterator>

#include "store/migrations.hpp"
#include "store/shelf.hpp"
#include "store/trail.hpp"

namespace bw::store {
namespace {

constexpr std::size_t kMostFaults = 100;

Result<void> verify_pages(Connection& c, Verification& report) {
    if (c.dialect() != Dialect::Sqlite) {
        return {};
    }
    Faults faults(report);
    BW_TRY(pages, c.query("PRAGMA integrity_check(100)"));
    for (const Row& row : pages) {
        if (row.text(0) != "ok") {
            faults.add(fmt::format("the file's structure is damaged: {}", row.text(0)));
        }
    }
    BW_TRY(orphans, c.query("PRAGMA foreign_key_check"));
    for (const Row& row : orphans) {
        faults.add(fmt::format("row {} of table {} names an entry that is not there",
                               row.integer(1), row.text(0)));
    }
    return {};
}

Result<void> verify_schema(Connection& c, Verification& report) {
    Faults faults(report);
    const auto done = migrations_done(c, migrations());
    if (!done) {
        faults.add(done.error().message);
        return {};
    }
    BW_TRY(expected, expected_schema(c.dialect(), migrations(), *done));
    BW_TRY(found, schema_of(c));
    std::vector<std::string> lacking, added;
    std::set_difference(expected.begin(), expected.end(), found.begin(), found.end(),
                        std::back_inserter(lacking));
    std::set_difference(found.begin(), found.end(), expected.begin(), expected.end(),
                        std::back_inserter(added));
    const auto name = [](const std::string& line) { return line.substr(0, line.find(':')); };
    for (const std::string& line : lacking) {
        faults.add(fmt::format("the {} of the books is missing or was changed", name(line)));
    }
    for (const std::string& line : added) {
        faults.add(fmt::format("the {} does not belong into the books", name(line)));
    }
    return {};
}

Result<void> verify_first_page(Connection& c, const std::string& genesis, Verification& report) {
    Faults faults(report);
    BW_TRY(rows, c.query("SELECT identity, made, genesis FROM books"));
    if (rows.size() != 1 || rows.front().text(2) != genesis ||
        genesis_hash(rows.front().text(0), rows.front().text(1)) != genesis) {
        faults.add("the first page, from which the trail begins, was changed");
    }
    return {};
}

/// A damaged file stops a look half way: that is a finding, not a failure to look.
Result<void> finding(Result<void> looked, Verification& report) {
    if (!looked && (looked.error().code == ProblemCode::BrokenBooks ||
                    looked.error().code == ProblemCode::Internal)) {
        Faults(report).add(looked.error().message);
        return {};
    }
    return looked;
}

}  // namespace

void Faults::add(std::string sentence) {
    ++report_.fault_count;
    if (report_.faults.size() < kMostFaults) {
        report_.faults.push_back(std::move(sentence));
    }
}

Result<Verification> Books::verify(const VerifyOptions& options) const {
    return shelf_->read([&](Connection& c) -> Result<Verification> {
        Verification report;
        if (options.pages) {
            BW_CHECK(finding(verify_pages(c, report), report));
        }
        BW_TRY(transaction, Transaction::begin(c, Access::Snapshot));
        static_cast<void>(transaction);  // ends with this block
        BW_CHECK(finding(verify_schema(c, report), report));
        BW_CHECK(finding(verify_first_page(c, shelf_->genesis(), report), report));
        BW_CHECK(finding(verify_trail(c, shelf_->genesis(), options.against, report), report));
        if (options.projections) {
            BW_CHECK(finding(verify_projections(c, report), report));
        }
        return report;
    });
}

}  // namespace bw::store
