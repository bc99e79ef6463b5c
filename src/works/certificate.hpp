// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <cstdint>
#include <string>
#include <string_view>

#include "base/result.hpp"
#include "works/word.hpp"

namespace bw::works {

enum class CertificateState : std::uint8_t { Issued, Replaced, Withdrawn };
template <>
inline constexpr std::size_t kWords<CertificateState> = 3;
[[nodiscard]] std::string_view name(CertificateState state);

/// Issued statement for one batch; each issue is a record of its own.
struct Certificate {
    std::string number;  ///< "C26-0012-K", of all its issues
    std::int64_t issue = 1;
    std::string batch;
    std::string product;
    CertificateState state = CertificateState::Issued;
    std::int64_t release = 1;  ///< number of the decision
    std::string release_mark;  ///< SHA-256 of the evidence that was signed
    std::string paper;         ///< SHA-256 of the PDF, which the books keep
    std::string data;          ///< SHA-256 of the same data as JSON
    std::string code;          ///< verification code, "9f3a-6b1c-22d0-4e57"
    std::string signature;     ///< Ed25519 of the PDF's bytes; empty: the works has no key
    std::string public_key;
    std::string trail_mark;  ///< newest when it was issued
    std::string issued_by, issued_at;
    std::string customer;
    std::string replaces;                       ///< "issue 1 of 2026-03-07: reason"
    std::string ended_by, ended_at, ended_why;  ///< of replacing or withdrawing

    [[nodiscard]] std::string id() const { return number + "/" + std::to_string(issue); }

    template <class Self, class Visitor>
    static void fields(Self& x, Visitor& v) {
        v("number", x.number);
        v("issue", x.issue);
        v("batch", x.batch);
        v("product", x.product);
        v("state", x.state);
        v("release", x.release);
        v("release_mark", x.release_mark);
        v("paper", x.paper);
        v("data", x.data);
        v("code", x.code);
        v("signature", x.signature);
        v("public_key", x.public_key);
        v("trail_mark", x.trail_mark);
        v("issued_by", x.issued_by);
        v("issued_at", x.issued_at);
        v("customer", x.customer);
        v("replaces", x.replaces);
        v("ended_by", x.ended_by);
        v("ended_at", x.ended_at);
        v("ended_why", x.ended_why);
    }
};

/// Ends an issue: replaced by the next one, or withdrawn.
///
/// Errors   Refused unless it is issued; BadInput without a reason.
[[nodiscard]] Result<Certificate> ended(Certificate certificate, CertificateState to,
                                        std::string_view by, std::string_view at,
                                        std::string_view why);

/// The code as it is printed, from a digest in hexadecimal: its first 16 digits in fours.
[[nodiscard]] std::string verification_code(std::string_view digest);

/// Whether a code as typed, with or without hyphens and blanks, in either case, is this one.
[[nodiscard]] bool is_code(std::string_view typed, std::string_view code);

}  // namespace bw::works
