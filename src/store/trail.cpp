// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "store/trail.hpp"

#include <charconv>

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "base/text.hpp"
#include "store/digest.hpp"

namespace bw::store {
namespace {

using nlohmann::json;

constexpr std::size_t kMarkDigits = 16;
constexpr int kHex = 16;

int nibble(char c) {
    constexpr int kTen = 10;
    return base::is_digit(c) ? c - '0' : c - 'a' + kTen;
}

std::string raw_bytes(std::string_view hex) {
    std::string bytes;
    for (std::size_t i = 0; i + 1 < hex.size(); i += 2) {
        bytes += static_cast<char>(nibble(hex[i]) * kHex + nibble(hex[i + 1]));
    }
    return bytes;
}

json records_of(const EntryContent& content) {
    json records = json::array();
    for (std::size_t i = 0; i < content.entry.records.size(); ++i) {
        const Entry::Version& v = content.entry.records[i];
        records.push_back({{"kind", v.kind},
                           {"id", v.id},
                           {"version", v.version},
                           {"before", v.before},
                           {"after", v.after},
                           {"facts", content.facts[i]}});
    }
    return records;
}

json files_of(const Entry& entry) {
    json files = json::array();
    for (const Entry::File& f : entry.attachments) {
        files.push_back({{"name", f.name},
                         {"media_type", f.media_type},
                         {"sha256", f.sha256},
                         {"size", f.size}});
    }
    return files;
}

EntryContent content_of(const json& body) {
    EntryContent content;
    Entry& e = content.entry;
    body.at("seq").get_to(e.seq);
    body.at("at").get_to(e.at);
    body.at("person").get_to(e.person);
    body.at("duty").get_to(e.duty);
    body.at("device").get_to(e.device);
    body.at("act").get_to(e.act);
    body.at("subject").at("kind").get_to(e.subject_kind);
    body.at("subject").at("id").get_to(e.subject_id);
    body.at("why").get_to(e.why);
    body.at("request").get_to(e.request);
    body.at("answer").get_to(content.answer_sha256);
    e.asked = body.value("asked", "");
    for (const json& r : body.at("records")) {
        e.records.push_back(
            {r.at("kind"), r.at("id"), r.at("version"), r.at("before"), r.at("after")});
        content.facts.push_back(r.at("facts"));
    }
    for (const json& f : body.at("attachments")) {
        e.attachments.push_back({f.at("name"), f.at("media_type"), f.at("sha256"), f.at("size")});
    }
    return content;
}

}  // namespace

std::string entry_body(const EntryContent& content) {
    const Entry& e = content.entry;
    json body = {{"seq", e.seq},
                 {"at", e.at},
                 {"person", e.person},
                 {"duty", e.duty},
                 {"device", e.device},
                 {"act", e.act},
                 {"subject", {{"kind", e.subject_kind}, {"id", e.subject_id}}},
                 {"why", e.why},
                 {"request", e.request},
                 {"answer", content.answer_sha256},
                 {"records", records_of(content)},
                 {"attachments", files_of(e)}};
    if (!e.asked.empty()) {
        body["asked"] = e.asked;
    }
    return body.dump();
}

Result<EntryContent> read_entry(std::string_view body) {
    const json parsed = json::parse(body, nullptr, false);
    if (!parsed.is_object()) {
        return fail(ProblemCode::BrokenBooks, "an entry's content is no JSON object");
    }
    try {
        return content_of(parsed);
    } catch (const json::exception&) {
        return fail(ProblemCode::BrokenBooks, "an entry's content lacks a part");
    }
}

std::string chained(std::string_view previous_hex, std::string_view body) {
    return sha256_hex(raw_bytes(previous_hex).append(body));
}

std::string genesis_hash(std::string_view identity, std::string_view made) {
    const json body = {{"format", "brinewright books 1"}, {"identity", identity}, {"made", made}};
    return sha256_hex(body.dump(-1, ' ', false, json::error_handler_t::replace));
}

std::string mark_of(std::int64_t seq, std::string_view hash) {
    return fmt::format("{}-{}", seq, hash.substr(0, kMarkDigits));
}

Result<Mark> read_mark(std::string_view text) {
    Mark mark;
    const std::size_t dash = text.find('-');
    const auto number =
        std::from_chars(text.data(), text.data() + std::min(dash, text.size()), mark.seq);
    mark.start = base::lower_ascii(text.substr(std::min(dash, text.size() - 1) + 1));
    if (dash == std::string_view::npos || number.ec != std::errc{} ||
        number.ptr != text.data() + dash || mark.seq < 0 || mark.start.size() != kMarkDigits ||
        mark.start.find_first_not_of("0123456789abcdef") != std::string::npos) {
        return fail(ProblemCode::BadInput,
                    fmt::format("{} is no trail mark: it reads like 128-9f3a6b1c22d04e57",
                                base::quoted(text)));
    }
    return mark;
}

}  // namespace bw::store
