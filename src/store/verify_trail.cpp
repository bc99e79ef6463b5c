// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include <map>
#include <unordered_set>

#include "store/digest.hpp"
#include "store/facts.hpp"
#include "store/trail.hpp"
#include "store/verify.hpp"

namespace bw::store {
namespace {

constexpr std::int64_t kPage = 256;  // entries at once

struct KeptVersion {
    std::int64_t version = 0;
    std::string sha256;
};

/// Walks the trail page by page, and beside it the rows that each entry wrote.
class Walk {
public:
    Walk(Connection& connection, const std::string& genesis, Verification& report)
        : c_(connection), report_(report), faults_(report), hash_(genesis) {}

    Result<void> all();
    Result<void> expect_mark(const std::string& against, const std::string& genesis);

private:
    Result<void> page(Rows& entries);
    void entry(const Row& row);
    void take(const EntryContent& content);
    Result<void> records(std::int64_t first, std::int64_t last);
    Result<void> files(std::int64_t first, std::int64_t last);
    Result<void> requests(std::int64_t first, std::int64_t last);
    Result<void> strays();

    Connection& c_;
    Verification& report_;
    Faults faults_;
    std::int64_t seq_ = 0;
    std::string hash_;
    std::string at_;
    // What the entries of the page in hand wrote.
    std::map<std::string, std::pair<Entry::Version, std::string>>
        versions_;  // by "entry/kind/id/v"
    std::map<std::string, std::pair<std::int64_t, Entry::File>> new_files_;
    std::map<std::string, std::pair<std::int64_t, std::string>> requests_;
    // What all entries wrote so far.
    std::unordered_map<std::string, KeptVersion> newest_;
    std::unordered_set<std::string> files_;
};

std::string version_key(std::int64_t entry, std::string_view kind, std::string_view id,
                        std::int64_t version) {
    return fmt::format("{}/{}/{}/{}", entry, kind, id, version);
}

std::string named(const Entry::Version& v) {
    return fmt::format("version {} of {}/{}", v.version, v.kind, v.id);
}

void Walk::entry(const Row& row) {
    const std::int64_t seq = row.integer(0);
    const std::string& body = row.text(4);
    if (seq != seq_ + 1) {
        faults_.add(seq == seq_ + 2 ? fmt::format("entry {} of the trail is missing", seq_ + 1)
                                    : fmt::format("entries {} to {} of the trail are missing",
                                                  seq_ + 1, seq - 1));
    }
    if (chained(hash_, body) != row.text(5)) {
        faults_.add(fmt::format(
            "entry {} of the trail was changed, or does not follow from the one before", seq));
    }
    seq_ = seq;
    hash_ = row.text(5);
    ++report_.entries;
    const auto content = read_entry(body);
    if (!content || entry_body(*content) != body) {
        faults_.add(fmt::format("the content of entry {} is no entry of the trail", seq));
        return;
    }
    const Entry& e = content->entry;
    if (e.seq != seq || e.person != row.text(1) || e.subject_kind != row.text(2) ||
        e.subject_id != row.text(3)) {
        faults_.add(
            fmt::format("entry {} is listed under another place, person or subject than "
                        "its content names",
                        seq));
    }
    if (e.at < at_) {
        report_.notices.push_back(fmt::format(
            "entry {} is dated {}, before the entry in front of it ({})", seq, e.at, at_));
    }
    at_ = e.at;
    take(*content);
}

void Walk::take(const EntryContent& content) {
    const Entry& e = content.entry;
    for (std::size_t i = 0; i < e.records.size(); ++i) {
        const Entry::Version& v = e.records[i];
        KeptVersion& kept = newest_[v.kind + "/" + v.id];
        if (v.version != kept.version + 1 || v.before != kept.sha256) {
            faults_.add(fmt::format("{} in entry {} does not follow from version {}", named(v),
                                    e.seq, kept.version));
        }
        kept = {v.version, v.after};
        versions_[version_key(e.seq, v.kind, v.id, v.version)] = {v, content.facts[i]};
    }
    for (const Entry::File& file : e.attachments) {
        if (files_.insert(file.sha256).second) {
            new_files_[file.sha256] = {e.seq, file};
        }
    }
    requests_[e.request] = {e.seq, content.answer_sha256};
}

Result<void> Walk::records(std::int64_t first, std::int64_t last) {
    BW_TRY(rows, c_.query("SELECT entry, kind, id, version, state, title, body, facts FROM record "
                          "WHERE entry >= $1 AND entry <= $2",
                          {first, last}));
    for (const Row& row : rows) {
        ++report_.records;
        const Entry::Version v{row.text(1), row.text(2), row.integer(3), {}, {}};
        const auto said = versions_.find(version_key(row.integer(0), v.kind, v.id, v.version));
        if (said == versions_.end()) {
            faults_.add(fmt::format("{} is in the books, but entry {} does not know it", named(v),
                                    row.integer(0)));
            continue;
        }
        if (sha256_hex(row.text(6)) != said->second.first.after) {
            faults_.add(
                fmt::format("the body of {} was changed (entry {})", named(v), row.integer(0)));
        }
        if (facts_digest(row.text(4), row.text(5), row.text(7)) != said->second.second) {
            faults_.add(fmt::format(
                "state, title, links, keys or measurements of {} were changed (entry {})", named(v),
                row.integer(0)));
        }
        versions_.erase(said);
    }
    for (const auto& [key, said] : versions_) {
        faults_.add(fmt::format("{} is missing (entry {})", named(said.first),
                                key.substr(0, key.find('/'))));
    }
    versions_.clear();
    return {};
}

Result<void> Walk::files(std::int64_t first, std::int64_t last) {
    BW_TRY(rows, c_.query("SELECT sha256, entry, name, media_type, size FROM attachment "
                          "WHERE entry >= $1 AND entry <= $2",
                          {first, last}));
    for (const Row& row : rows) {
        ++report_.attachments;
        const std::string& sha256 = row.text(0);
        const auto said = new_files_.find(sha256);
        if (said == new_files_.end()) {
            faults_.add(fmt::format("attachment {} is in the books, but entry {} does not bring it",
                                    sha256, row.integer(1)));
            continue;
        }
        const auto& [seq, file] = said->second;
        if (row.integer(1) != seq || row.text(2) != file.name || row.text(3) != file.media_type ||
            row.integer(4) != file.size) {
            faults_.add(fmt::format("name, kind or size of attachment {} was changed (entry {})",
                                    sha256, seq));
        }
        BW_TRY(bytes, c_.query("SELECT bytes FROM attachment WHERE sha256 = $1", {sha256}));
        if (bytes.size() != 1 || sha256_hex(bytes.front().bytes(0)) != sha256) {
            faults_.add(
                fmt::format("the bytes of attachment {} were changed (entry {})", sha256, seq));
        }
        new_files_.erase(said);
    }
    for (const auto& [sha256, said] : new_files_) {
        faults_.add(fmt::format("attachment {} ({}) is missing (entry {})", sha256,
                                said.second.name, said.first));
    }
    new_files_.clear();
    return {};
}

Result<void> Walk::requests(std::int64_t first, std::int64_t last) {
    BW_TRY(rows, c_.query("SELECT request, entry, answer FROM request WHERE entry >= $1 AND "
                          "entry <= $2",
                          {first, last}));
    for (const Row& row : rows) {
        ++report_.requests;
        const auto said = requests_.find(row.text(0));
        if (said == requests_.end() || said->second.first != row.integer(1)) {
            faults_.add(
                fmt::format("the request number {} is in the books, but entry {} has another",
                            row.text(0), row.integer(1)));
            continue;
        }
        if (sha256_hex(row.text(2)) != said->second.second) {
            faults_.add(
                fmt::format("the answer to the request of entry {} was changed", row.integer(1)));
        }
        requests_.erase(said);
    }
    for (const auto& [request, said] : requests_) {
        faults_.add(
            fmt::format("the request number {} of entry {} is missing", request, said.first));
    }
    requests_.clear();
    return {};
}

Result<void> Walk::page(Rows& entries) {
    const std::int64_t first = seq_ + 1;  // rows of missing entries are found as well
    for (const Row& row : entries) {
        entry(row);
    }
    BW_CHECK(records(first, seq_));
    BW_CHECK(files(first, seq_));
    return requests(first, seq_);
}

/// Rows of entries that are not there: before the first or after the last.
Result<void> Walk::strays() {
    BW_TRY(records, c_.query("SELECT kind, id, version, entry FROM record WHERE entry < 1 OR "
                             "entry > $1 ORDER BY entry",
                             {seq_}));
    for (const Row& row : records) {
        faults_.add(fmt::format("version {} of {}/{} belongs to entry {}, which is not there",
                                row.integer(2), row.text(0), row.text(1), row.integer(3)));
    }
    BW_TRY(files, c_.query("SELECT sha256, entry FROM attachment WHERE entry < 1 OR entry > $1 "
                           "ORDER BY entry",
                           {seq_}));
    for (const Row& row : files) {
        faults_.add(fmt::format("attachment {} belongs to entry {}, which is not there",
                                row.text(0), row.integer(1)));
    }
    BW_TRY(requests, c_.query("SELECT request, entry FROM request WHERE entry < 1 OR entry > $1 "
                              "ORDER BY entry",
                              {seq_}));
    for (const Row& row : requests) {
        faults_.add(fmt::format("the request number {} belongs to entry {}, which is not there",
                                row.text(0), row.integer(1)));
    }
    return {};
}

Result<void> Walk::all() {
    while (true) {
        BW_TRY(entries, c_.query("SELECT seq, person, subject_kind, subject_id, body, hash "
                                 "FROM entry WHERE seq > $1 ORDER BY seq LIMIT $2",
                                 {seq_, kPage}));
        if (entries.empty()) {
            break;
        }
        BW_CHECK(page(entries));
    }
    report_.mark = mark_of(seq_, hash_);
    return strays();
}

Result<void> Walk::expect_mark(const std::string& against, const std::string& genesis) {
    BW_TRY(mark, read_mark(against));
    if (mark.seq > seq_) {
        faults_.add(
            fmt::format("the trail ends at entry {}, but the mark {} was given at entry {}: "
                        "its end was cut off",
                        seq_, against, mark.seq));
        return {};
    }
    std::string hash = genesis;
    if (mark.seq > 0) {
        BW_TRY(rows, c_.query("SELECT hash FROM entry WHERE seq = $1", {mark.seq}));
        hash = rows.empty() ? std::string() : rows.front().text(0);
    }
    if (!hash.starts_with(mark.start)) {
        faults_.add(
            fmt::format("the mark {} is not in the trail: entries up to {} were written anew",
                        against, mark.seq));
    }
    return {};
}

}  // namespace

Result<void> verify_trail(Connection& connection, const std::string& genesis,
                          const std::optional<std::string>& against, Verification& report) {
    Walk walk(connection, genesis, report);
    BW_CHECK(walk.all());
    if (against) {
        BW_CHECK(walk.expect_mark(*against, genesis));
    }
    return {};
}

}  // namespace bw::store
