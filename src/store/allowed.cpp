// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "store/allowed.hpp"

#include <algorithm>
#include <cmath>
#include <set>

#include <fmt/format.h>

#include "base/text.hpp"
#include "store/canonical_json.hpp"
#include "store/instant.hpp"

namespace bw::store {
namespace {

enum class Breaks { No, Yes };

Result<void> expect_text(std::string_view value, const char* field, std::size_t most,
                         Breaks breaks = Breaks::No) {
    const Place place{{}, 0, field};
    if (value.size() > most) {
        return fail(ProblemCode::TooLarge,
                    fmt::format("the text has {} bytes; at most {} are kept", value.size(), most),
                    place);
    }
    if (base::first_invalid_utf8(value)) {
        return fail(ProblemCode::BadInput, "the text is not UTF-8", place);
    }
    const auto control = [&](char c) {
        constexpr unsigned char kFirstPrintable = 0x20, kDelete = 0x7f;
        const auto byte = static_cast<unsigned char>(c);
        const bool is_break = c == '\n' || c == '\t' || c == '\r';
        return (byte < kFirstPrintable || byte == kDelete) && !(is_break && breaks == Breaks::Yes);
    };
    if (std::any_of(value.begin(), value.end(), control)) {
        return fail(ProblemCode::BadInput,
                    fmt::format("{} holds a control byte: write it without", base::quoted(value)),
                    place);
    }
    return {};
}

Result<void> expect_kind(std::string_view value, const char* field) {
    BW_CHECK(expect_name(value, field));
    const bool plain = std::all_of(value.begin(), value.end(), [](char c) {
        return base::is_lower(c) || base::is_digit(c) || c == '_';
    });
    if (!plain) {
        return fail(ProblemCode::BadInput,
                    fmt::format("{} is no kind: lower-case letters, digits and '_' make one",
                                base::quoted(value)),
                    {{}, 0, field});
    }
    return {};
}

Result<void> expect_instant(std::string_view value, const char* field) {
    auto read = milliseconds_of(value);
    if (!read) {
        read.error().place.field = field;
        return tl::make_unexpected(std::move(read).error());
    }
    return {};
}

Result<void> expect_act(const Act& act) {
    constexpr std::size_t kSha256Digits = 64;
    BW_CHECK(expect_name(act.request, "request"));
    BW_CHECK(expect_name(act.person, "person"));
    BW_CHECK(expect_text(act.duty, "duty", kMostNameBytes));
    BW_CHECK(expect_text(act.device, "device", kMostNameBytes));
    BW_CHECK(expect_name(act.act, "act"));
    BW_CHECK(expect_kind(act.subject_kind, "subject_kind"));
    BW_CHECK(expect_name(act.subject_id, "subject_id"));
    BW_CHECK(expect_text(act.why, "why", kMostTextBytes, Breaks::Yes));
    if (!act.asked.empty() &&
        (act.asked.size() != kSha256Digits ||
         act.asked.find_first_not_of("0123456789abcdef") != std::string::npos)) {
        return fail(ProblemCode::BadInput, "an order is stated by its SHA-256: 64 digits 0 to f",
                    {{}, 0, "asked"});
    }
    return expect_instant(act.at, "at");
}

Result<void> expect_number(const std::optional<double>& value, const char* field) {
    if (value && !std::isfinite(*value)) {
        return fail(ProblemCode::BadNumber, "the number is not finite: leave it out",
                    {{}, 0, field});
    }
    return {};
}

Result<void> expect_measurement(const Measurement& m) {
    BW_CHECK(expect_name(m.analyte, "analyte"));
    BW_CHECK(expect_text(m.sample, "sample", kMostNameBytes));
    BW_CHECK(expect_text(m.batch, "batch", kMostNameBytes));
    BW_CHECK(expect_text(m.run, "run", kMostNameBytes));
    BW_CHECK(expect_instant(m.at, "measurement.at"));
    BW_CHECK(expect_text(m.digits, "digits", kMostNameBytes));
    BW_CHECK(expect_number(m.value, "value"));
    BW_CHECK(expect_number(m.u, "u"));
    BW_CHECK(expect_text(m.unit, "unit", kMostNameBytes));
    return expect_text(m.state, "measurement.state", kMostNameBytes);
}

Result<void> expect_lists(const Write& write) {
    std::set<std::string> seen;
    for (const Link& link : write.links) {
        BW_CHECK(expect_name(link.role, "link.role"));
        BW_CHECK(expect_kind(link.kind, "link.kind"));
        BW_CHECK(expect_name(link.id, "link.id"));
        if (!seen.insert(fmt::format("{}\n{}\n{}", link.role, link.kind, link.id)).second) {
            return fail(
                ProblemCode::BadInput,
                fmt::format("the link '{}' to {}/{} stands twice", link.role, link.kind, link.id),
                {{}, 0, "links"});
        }
    }
    for (const std::string& key : write.keys) {
        BW_CHECK(expect_name(key, "keys"));
    }
    if (write.measurements.size() > kMostMeasurements) {
        return fail(ProblemCode::TooLarge,
                    fmt::format("one record states {} measurements; at most {} are kept",
                                write.measurements.size(), kMostMeasurements),
                    {{}, 0, "measurements"});
    }
    for (const Measurement& m : write.measurements) {
        BW_CHECK(expect_measurement(m));
    }
    return {};
}

Result<void> expect_write(const Write& write) {
    BW_CHECK(expect_kind(write.kind, "kind"));
    BW_CHECK(expect_name(write.id, "id"));
    BW_CHECK(expect_text(write.state, "state", kMostNameBytes));
    BW_CHECK(expect_text(write.title, "title", kMostLineBytes));
    if (write.expected_version < 0) {
        return fail(ProblemCode::BadInput, "the version before is 0 or more",
                    {{}, 0, "expected_version"});
    }
    BW_CHECK(expect_lists(write));
    if (write.body.size() > kMostBodyBytes) {
        return fail(ProblemCode::TooLarge,
                    fmt::format("the body of {}/{} has {} bytes; at most {} are kept", write.kind,
                                write.id, write.body.size(), kMostBodyBytes),
                    {{}, 0, "body"});
    }
    return expect_canonical(write.body);
}

Result<void> expect_file(const Attachment& file) {
    BW_CHECK(expect_name(file.name, "attachment.name"));
    BW_CHECK(expect_name(file.media_type, "attachment.media_type"));
    if (file.bytes.size() > kMostFileBytes) {
        return fail(ProblemCode::TooLarge,
                    fmt::format("{} has {} bytes; at most {} are kept", base::quoted(file.name),
                                file.bytes.size(), kMostFileBytes),
                    {{}, 0, "attachment"});
    }
    return {};
}

}  // namespace

Result<void> expect_name(std::string_view value, const char* field) {
    if (value.empty()) {
        return fail(ProblemCode::BadInput, "nothing is given here, and something is needed",
                    {{}, 0, field});
    }
    return expect_text(value, field, kMostNameBytes);
}

Result<void> expect_allowed(const Change& change) {
    BW_CHECK(expect_act(change.act));
    std::set<std::string> written;
    for (const Write& write : change.writes) {
        BW_CHECK(expect_write(write));
        if (!written.insert(write.kind + "/" + write.id).second) {
            return fail(ProblemCode::BadInput,
                        fmt::format("{}/{} is written twice in one act", write.kind, write.id),
                        {{}, 0, "writes"});
        }
    }
    for (const Expect& expected : change.expects) {
        BW_CHECK(expect_kind(expected.kind, "expects.kind"));
        BW_CHECK(expect_name(expected.id, "expects.id"));
    }
    for (const Attachment& file : change.attachments) {
        BW_CHECK(expect_file(file));
    }
    for (const Secret& secret : change.secrets) {
        BW_CHECK(expect_name(secret.person, "secrets.person"));
    }
    return expect_text(change.answer, "answer", kMostBodyBytes, Breaks::Yes);
}

Result<void> expect_utf8(std::string_view words, const char* field) {
    if (base::first_invalid_utf8(words) || words.find('\0') != std::string_view::npos) {
        return fail(ProblemCode::BadInput, "the text is not UTF-8", {{}, 0, field});
    }
    return {};
}

Result<void> expect_limit(std::int64_t limit, std::int64_t most) {
    if (limit < 1 || limit > most) {
        return fail(ProblemCode::OutOfRange,
                    fmt::format("a page has 1 to {} rows, not {}", most, limit), {{}, 0, "limit"});
    }
    return {};
}

}  // namespace bw::store
