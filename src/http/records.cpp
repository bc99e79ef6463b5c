// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "http/records.hpp"

#include <charconv>

#include <fmt/format.h>

#include "base/text.hpp"
#include "http/answers.hpp"
#include "store/digest.hpp"

namespace bw::http {
namespace {

constexpr std::int64_t kMostRows = 1000, kRows = 200;
constexpr std::int64_t kMostEntries = 500, kEntries = 100;
constexpr std::size_t kShortestFind = 2;

std::string row_json(const store::Listed& row) {
    return fmt::format(R"({{"kind":{},"id":{},"version":{},"state":{},"title":{}{}}})",
                       json_string(row.kind), json_string(row.id), row.version,
                       json_string(row.state), json_string(row.title),
                       row.body.empty() ? "" : ",\"body\":" + row.body);
}

std::string rows_json(const std::vector<store::Listed>& rows) {
    std::string out;
    for (const store::Listed& row : rows) {
        out += (out.empty() ? "" : ",") + row_json(row);
    }
    return "[" + out + "]";
}

std::string link_json(std::string_view role, std::string_view kind, std::string_view id) {
    return fmt::format(R"({{"role":{},"kind":{},"id":{}}})", json_string(role), json_string(kind),
                       json_string(id));
}

Result<store::Entry> entry_of(const store::Books& books, std::int64_t seq) {
    store::EntryQuery query;
    query.from_seq = seq;
    query.limit = 1;
    BW_TRY(entries, books.entries(query));
    if (entries.empty() || entries.front().seq != seq) {
        return fail(ProblemCode::BrokenBooks, fmt::format("the trail has no entry {}", seq));
    }
    return std::move(entries.front());
}

}  // namespace

std::string given(const Request& request, std::string_view name) {
    return std::string(request.parameter(name).value_or(""));
}

Result<std::string> needed(const Request& request, std::string_view name) {
    std::string out = given(request, name);
    if (out.empty()) {
        return fail(ProblemCode::BadInput,
                    fmt::format("{} is not given: write ?{}=... behind the address",
                                base::quoted(name), name),
                    {"", 0, std::string(name)});
    }
    return out;
}

Result<std::int64_t> whole_of(const Request& request, std::string_view name, std::int64_t otherwise,
                              std::int64_t least, std::int64_t most) {
    const auto text = request.parameter(name);
    if (!text) {
        return otherwise;
    }
    std::int64_t out = 0;
    const auto [end, error] = std::from_chars(text->data(), text->data() + text->size(), out);
    if (error != std::errc() || end != text->data() + text->size() || out < least || out > most) {
        return fail(ProblemCode::BadInput,
                    fmt::format("{} is {}: a whole number from {} to {} is allowed",
                                base::quoted(name), base::quoted(*text), least, most),
                    {"", 0, std::string(name)});
    }
    return out;
}

Result<bool> flag_word(std::string_view word, std::string_view field) {
    if (word != "true" && word != "false") {
        return fail(ProblemCode::BadInput,
                    fmt::format("{} is {}: true or false is allowed", base::quoted(field),
                                base::quoted(word)),
                    {"", 0, std::string(field)});
    }
    return word == "true";
}

Result<bool> flag_of(const Request& request, std::string_view name) {
    const auto word = request.parameter(name);
    return word ? flag_word(*word, name) : Result<bool>(false);
}

Result<Response> list_records(const Request& request, const Caller& caller) {
    store::ListQuery query;
    BW_TRY(kind, needed(request, "kind"));
    BW_TRY(limit, whole_of(request, "limit", kRows, 1, kMostRows));
    query.kind = kind;
    query.limit = limit;
    query.state = given(request, "state");
    query.id_prefix = given(request, "prefix");
    query.title_prefix = given(request, "title");
    query.after = given(request, "after");
    BW_TRY(descending, flag_of(request, "descending"));
    query.descending = descending;
    query.with_bodies = true;
    const std::string to_kind = given(request, "to_kind");
    if (!to_kind.empty()) {
        BW_TRY(to_id, needed(request, "to_id"));
        query.pointing_to = store::Link{given(request, "role"), to_kind, to_id};
    }
    BW_TRY(rows, caller.desk.books->list(query));
    BW_TRY(total, caller.desk.books->count(query));
    return json_answer(
        fmt::format(R"({{"version":1,"rows":{},"total":{}}})", rows_json(rows), total));
}

Result<Response> show_record(const Request& request, const Caller& caller) {
    BW_TRY(kind, needed(request, "kind"));
    BW_TRY(id, needed(request, "id"));
    constexpr std::int64_t kMostVersions = 1'000'000'000;
    BW_TRY(version, whole_of(request, "version", 0, 1, kMostVersions));
    const store::Books& books = *caller.desk.books;
    BW_TRY(record, version > 0 ? books.at(kind, id, version) : books.newest(kind, id));
    BW_TRY(from, books.links_from(kind, id));
    BW_TRY(to, books.links_to(kind, id));
    std::string points;
    for (const store::Link& link : from) {
        points += (points.empty() ? "" : ",") + link_json(link.role, link.kind, link.id);
    }
    std::string pointed;
    for (const store::LinkRow& row : to) {
        pointed +=
            (pointed.empty() ? "" : ",") + link_json(row.to.role, row.from_kind, row.from_id);
    }
    return json_answer(fmt::format(
        R"({{"version":1,"kind":{},"id":{},"record_version":{},"state":{},"title":{},"entry":{},"content_mark":{},"body":{},"points_to":[{}],"pointed_to_by":[{}]}})",
        json_string(kind), json_string(id), record.version, json_string(record.state),
        json_string(record.title), record.entry, json_string(store::sha256_hex(record.body)),
        record.body, points, pointed));
}

Result<Response> show_history(const Request& request, const Caller& caller) {
    BW_TRY(kind, needed(request, "kind"));
    BW_TRY(id, needed(request, "id"));
    BW_TRY(versions, caller.desk.books->history(kind, id));
    std::string rows;
    for (const store::Record& r : versions) {
        BW_TRY(entry, entry_of(*caller.desk.books, r.entry));
        rows += fmt::format(
            R"({}{{"record_version":{},"entry":{},"at":{},"person":{},"duty":{},"act":{},"why":{},"state":{},"body":{}}})",
            rows.empty() ? "" : ",", r.version, r.entry, json_string(entry.at),
            json_string(entry.person), json_string(entry.duty), json_string(entry.act),
            json_string(entry.why), json_string(r.state), r.body);
    }
    return json_answer(fmt::format(R"({{"version":1,"rows":[{}]}})", rows));
}

Result<Response> show_trail(const Request& request, const Caller& caller) {
    store::EntryQuery query;
    constexpr std::int64_t kMostSeq = INT64_MAX;
    BW_TRY(before, whole_of(request, "before", 0, 1, kMostSeq));
    BW_TRY(limit, whole_of(request, "limit", kEntries, 1, kMostEntries));
    query.before_seq = before;
    query.limit = limit;
    query.subject_kind = given(request, "kind");
    query.subject_id = given(request, "id");
    query.person = given(request, "person");
    BW_TRY(entries, caller.desk.books->entries(query));
    BW_TRY(mark, caller.desk.books->mark());
    std::string rows;
    for (const store::Entry& e : entries) {
        rows += fmt::format(
            R"({}{{"seq":{},"at":{},"person":{},"duty":{},"device":{},"act":{},"subject_kind":{},"subject_id":{},"why":{},"hash":{}}})",
            rows.empty() ? "" : ",", e.seq, json_string(e.at), json_string(e.person),
            json_string(e.duty), json_string(e.device), json_string(e.act),
            json_string(e.subject_kind), json_string(e.subject_id), json_string(e.why),
            json_string(e.hash));
    }
    return json_answer(
        fmt::format(R"({{"version":1,"mark":{},"entries":[{}]}})", json_string(mark), rows));
}

Result<Response> find_records(const Request& request, const Caller& caller) {
    BW_TRY(text, needed(request, "text"));
    if (text.size() < kShortestFind) {
        return fail(ProblemCode::BadInput, "two characters or more are looked for",
                    {"", 0, "text"});
    }
    BW_TRY(rows, caller.desk.books->search(text));
    return json_answer(fmt::format(R"({{"version":1,"rows":{}}})", rows_json(rows)));
}

Result<Response> give_attachment(const Request& request, const Caller& caller) {
    BW_TRY(sha256, needed(request, "sha256"));
    BW_TRY(file, caller.desk.books->attachment(sha256));
    // As a download of no type: what somebody attached never runs as a page of ours.
    Response out = download(std::move(file.bytes), "application/octet-stream", file.name);
    out.headers.emplace_back("Content-Security-Policy", "sandbox");
    return out;
}

}  // namespace bw::http
