// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "works/certificate.hpp"

#include <array>

#include <fmt/format.h>

#include "base/text.hpp"
#include "works/ways.hpp"

namespace bw::works {
namespace {

constexpr std::size_t kCodeDigits = 16;
constexpr std::size_t kGroup = 4;

std::string bare(std::string_view code) {
    std::string out;
    for (const char c : base::lower_ascii(code)) {
        if (c != '-' && c != ' ') {
            out += c;
        }
    }
    return out;
}

}  // namespace

std::string_view name(CertificateState state) {
    constexpr std::array<std::string_view, kWords<CertificateState>> kNames = {"issued", "replaced",
                                                                               "withdrawn"};
    return kNames.at(static_cast<std::size_t>(state));
}

Result<Certificate> ended(Certificate certificate, CertificateState to, std::string_view by,
                          std::string_view at, std::string_view why) {
    using enum CertificateState;
    constexpr std::array kWays = {Way{Issued, Replaced}, Way{Issued, Withdrawn}};
    BW_CHECK(check_way<CertificateState>("certificate " + certificate.id(), certificate.state, to,
                                         kWays));
    if (base::trim(why).empty()) {
        return fail(
            ProblemCode::BadInput,
            fmt::format("certificate {} cannot be {} without a reason", certificate.id(), name(to)),
            {"", 0, "why"});
    }
    certificate.state = to;
    certificate.ended_by = by;
    certificate.ended_at = at;
    certificate.ended_why = why;
    return certificate;
}

std::string verification_code(std::string_view digest) {
    base::expect(digest.size() >= kCodeDigits, "a digest is longer than a code");
    std::string out;
    for (std::size_t i = 0; i < kCodeDigits; ++i) {
        out += i > 0 && i % kGroup == 0 ? "-" : "";
        out += digest[i];
    }
    return out;
}

bool is_code(std::string_view typed, std::string_view code) {
    return !code.empty() && bare(typed) == bare(code);
}

}  // namespace bw::works
