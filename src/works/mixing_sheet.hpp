// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <cstdint>
#include <string>

#include "works/signature.hpp"

namespace bw::works {

/// The end user's mixing sheet of a batch, signed for what it says on safety; each issue is a
/// record of its own, and the newest counts.
struct MixingSheet {
    std::string batch;
    std::string product;
    std::int64_t issue = 1;
    std::int64_t release = 1;  ///< number of the decision
    std::string release_mark;  ///< SHA-256 of the evidence that was signed
    std::string use_by;
    std::string paper;   ///< SHA-256 of the A5 PDF, which the books keep
    std::string narrow;  ///< of the A6 PDF
    std::string data;    ///< SHA-256 of the same data as JSON, the bytes that were signed
    Signature approved;

    /// "MS-B26-0001-9/1"
    [[nodiscard]] std::string id() const { return "MS-" + batch + "/" + std::to_string(issue); }

    template <class Self, class Visitor>
    static void fields(Self& x, Visitor& v) {
        v("batch", x.batch);
        v("product", x.product);
        v("issue", x.issue);
        v("release", x.release);
        v("release_mark", x.release_mark);
        v("use_by", x.use_by);
        v("paper", x.paper);
        v("narrow", x.narrow);
        v("data", x.data);
        v("approved", x.approved);
    }
};

}  // namespace bw::works
