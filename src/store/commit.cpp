// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>

#include "store/allowed.hpp"
#include "store/digest.hpp"
#include "store/facts.hpp"
#include "store/projections.hpp"
#include "store/secrets.hpp"
#include "store/shelf.hpp"
#include "store/trail.hpp"

namespace bw::store {
namespace {

struct Newest {
    std::int64_t version = 0;  ///< 0: there is none
    std::string body_sha256;
};

/// The version a record is at, read from what is protected.
Result<Newest> newest_of(Connection& connection, const std::string& kind, const std::string& id) {
    BW_TRY(rows, connection.query("SELECT version, body FROM record WHERE kind = $1 AND id = $2 "
                                  "ORDER BY version DESC LIMIT 1",
                                  {kind, id}));
    if (rows.empty()) {
        return Newest{};
    }
    return Newest{rows.front().integer(0), sha256_hex(rows.front().text(1))};
}

Result<void> expect_version(const std::string& kind, const std::string& id, std::int64_t expected,
                            std::int64_t newest) {
    if (expected == newest) {
        return {};
    }
    if (expected == 0) {
        return fail(ProblemCode::Conflict,
                    fmt::format("{}/{} must be new, but it is there at version {}: take another "
                                "name, or change that one",
                                kind, id, newest));
    }
    if (newest == 0) {
        return fail(ProblemCode::Conflict,
                    fmt::format("{}/{} was to be at version {}, but it is not in the books", kind,
                                id, expected));
    }
    return fail(ProblemCode::Conflict,
                fmt::format("{}/{} is at version {} now, and this act was decided on version {}: "
                            "read it again and decide anew",
                            kind, id, newest, expected));
}

/// What a request that was done before came to; Refused when it was another act.
Result<std::optional<Receipt>> known_receipt(Connection& connection, std::string_view request,
                                             const Act* act) {
    BW_TRY(rows, connection.query("SELECT q.entry, q.answer, e.body, e.hash FROM request q JOIN "
                                  "entry e ON e.seq = q.entry WHERE q.request = $1",
                                  {text(request)}));
    if (rows.empty()) {
        return std::optional<Receipt>();
    }
    const Row& row = rows.front();
    BW_TRY(content, read_entry(row.text(2)));
    if (act != nullptr && (content.entry.act != act->act || content.entry.person != act->person ||
                           content.entry.subject_kind != act->subject_kind)) {
        return fail(ProblemCode::Refused,
                    fmt::format("the request number {} was used for '{}' of {} in entry {}: make a "
                                "new number for each act",
                                request, content.entry.act, content.entry.person, row.integer(0)));
    }
    const std::string& asked = content.entry.asked;
    if (act != nullptr && !asked.empty() && !act->asked.empty() && asked != act->asked) {
        return fail(ProblemCode::Refused,
                    fmt::format("the request number {} was used for another order in entry {}, and "
                                "nothing was written now: give this order a new number",
                                request, row.integer(0)),
                    {"", 0, "request"});
    }
    Receipt receipt{row.integer(0), mark_of(row.integer(0), row.text(3)), true, row.text(1), {}};
    for (const Entry::File& file : content.entry.attachments) {
        receipt.attachments.push_back(file.sha256);
    }
    return std::optional<Receipt>(std::move(receipt));
}

struct Last {
    std::int64_t seq = 0;
    std::string hash;
};

Result<Last> last_entry(Connection& connection, const std::string& genesis) {
    BW_TRY(rows, connection.query("SELECT seq, hash FROM entry ORDER BY seq DESC LIMIT 1"));
    return rows.empty() ? Last{0, genesis} : Last{rows.front().integer(0), rows.front().text(1)};
}

/// What each write of a change states, and its text as it is kept.
struct Stated {
    Facts facts;
    std::string text;
};

std::vector<Stated> stated_by(const Change& change) {
    std::vector<Stated> all;
    all.reserve(change.writes.size());
    for (const Write& write : change.writes) {
        Facts facts = facts_of(write);
        std::string text = facts_text(facts);
        all.push_back({std::move(facts), std::move(text)});
    }
    return all;
}

/// The entry of a change, after every version it rests on was found to be the newest.
Result<EntryContent> entry_of(Connection& connection, const Change& change,
                              const std::vector<Stated>& stated, std::int64_t seq) {
    const Act& act = change.act;
    EntryContent content;
    content.entry = {seq,
                     act.at,
                     act.person,
                     act.duty,
                     act.device,
                     act.act,
                     act.subject_kind,
                     act.subject_id,
                     act.why,
                     act.request,
                     {},
                     {},
                     {},
                     {}};
    content.entry.asked = act.asked;
    content.answer_sha256 = sha256_hex(change.answer);
    for (const Expect& expected : change.expects) {
        BW_TRY(newest, newest_of(connection, expected.kind, expected.id));
        BW_CHECK(expect_version(expected.kind, expected.id, expected.version, newest.version));
    }
    for (std::size_t i = 0; i < change.writes.size(); ++i) {
        const Write& write = change.writes[i];
        BW_TRY(newest, newest_of(connection, write.kind, write.id));
        BW_CHECK(expect_version(write.kind, write.id, write.expected_version, newest.version));
        content.entry.records.push_back(
            {write.kind, write.id, newest.version + 1, newest.body_sha256, sha256_hex(write.body)});
        content.facts.push_back(facts_digest(write.state, write.title, stated[i].text));
    }
    for (const Attachment& file : change.attachments) {
        content.entry.attachments.push_back({file.name, file.media_type, sha256_hex(file.bytes),
                                             static_cast<std::int64_t>(file.bytes.size())});
    }
    return content;
}

Result<void> write_records(Connection& connection, const Change& change,
                           const std::vector<Stated>& stated, std::int64_t seq) {
    for (std::size_t i = 0; i < change.writes.size(); ++i) {
        const Write& write = change.writes[i];
        const Listed record{
            write.kind, write.id, write.expected_version + 1, write.state, write.title, seq, {}};
        BW_CHECK(connection.run(
            "INSERT INTO record (kind, id, version, entry, state, title, body, facts) "
            "VALUES ($1, $2, $3, $4, $5, $6, $7, $8)",
            {write.kind, write.id, record.version, seq, write.state, write.title, write.body,
             stated[i].text}));
        BW_CHECK(project(connection, record, stated[i].facts));
    }
    return {};
}

Result<void> write_files(Connection& connection, const Change& change,
                         const std::vector<Entry::File>& files, std::int64_t seq) {
    for (std::size_t i = 0; i < files.size(); ++i) {  // the same bytes are kept once
        BW_CHECK(
            connection.run("INSERT INTO attachment (sha256, entry, name, media_type, size, bytes) "
                           "VALUES ($1, $2, $3, $4, $5, $6) ON CONFLICT (sha256) DO NOTHING",
                           {files[i].sha256, seq, files[i].name, files[i].media_type, files[i].size,
                            Blob{change.attachments[i].bytes}}));
    }
    return {};
}

Result<Receipt> commit_one(Connection& connection, const Change& change,
                           const std::string& genesis) {
    BW_TRY(known, known_receipt(connection, change.act.request, &change.act));
    if (known) {
        return *known;
    }
    BW_TRY(last, last_entry(connection, genesis));
    const std::int64_t seq = last.seq + 1;
    const std::vector<Stated> stated = stated_by(change);
    BW_TRY(content, entry_of(connection, change, stated, seq));
    const std::string body = entry_body(content);
    const std::string hash = chained(last.hash, body);
    const Act& act = change.act;
    BW_CHECK(
        connection.run("INSERT INTO entry (seq, person, subject_kind, subject_id, body, hash) "
                       "VALUES ($1, $2, $3, $4, $5, $6)",
                       {seq, act.person, act.subject_kind, act.subject_id, body, hash}));
    BW_CHECK(write_records(connection, change, stated, seq));
    BW_CHECK(write_files(connection, change, content.entry.attachments, seq));
    for (const Secret& secret : change.secrets) {
        BW_CHECK(write_secret(connection, secret, act.at));
    }
    BW_CHECK(connection.run("INSERT INTO request (request, entry, answer) VALUES ($1, $2, $3)",
                            {act.request, seq, change.answer}));
    Receipt receipt{seq, mark_of(seq, hash), false, change.answer, {}};
    for (const Entry::File& file : content.entry.attachments) {
        receipt.attachments.push_back(file.sha256);
    }
    return receipt;
}

}  // namespace

Result<Receipt> Books::commit(const Change& change) {
    BW_CHECK(expect_allowed(change));
    return shelf_->write([&](Connection& c) { return commit_one(c, change, shelf_->genesis()); });
}

Result<std::vector<Receipt>> Books::commit_all(std::span<const Change> changes) {
    for (const Change& change : changes) {
        BW_CHECK(expect_allowed(change));
    }
    return shelf_->write([&](Connection& c) -> Result<std::vector<Receipt>> {
        std::vector<Receipt> receipts;
        for (const Change& change : changes) {
            BW_TRY(receipt, commit_one(c, change, shelf_->genesis()));
            receipts.push_back(std::move(receipt));
        }
        return receipts;
    });
}

Result<std::optional<Receipt>> Books::receipt(std::string_view request) const {
    BW_CHECK(expect_name(request, "request"));
    return shelf_->read([&](Connection& c) { return known_receipt(c, request, nullptr); });
}

Result<std::string> Books::mark() const {
    return shelf_->read([&](Connection& c) -> Result<std::string> {
        BW_TRY(last, last_entry(c, shelf_->genesis()));
        return mark_of(last.seq, last.hash);
    });
}

Result<void> Books::rebuild() {
    return shelf_->write([](Connection& c) { return rebuild_projections(c); });
}

}  // namespace bw::store
