// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <string>
#include <string_view>
#include <vector>

#include "base/result.hpp"
#include "store/record.hpp"

namespace bw::store {

/// What a write states about its record for lists and searches. It is kept beside the body, so that
/// the projections can be made anew, and the trail holds its digest.
struct Facts {
    std::vector<std::string> keys;  ///< lower case, sorted, the id among them
    std::vector<Link> links;
    std::vector<Measurement> measurements;
    bool operator==(const Facts&) const = default;
};

[[nodiscard]] Facts facts_of(const Write& write);
/// {"keys":[...],"links":[[role,kind,id],...],"measurements":[[analyte,sample,batch,run,line,at,
/// digits,value,u,unit,state],...]}, numbers as the shortest text that gives the same double.
[[nodiscard]] std::string facts_text(const Facts& facts);
/// Errors BrokenBooks.
[[nodiscard]] Result<Facts> read_facts(std::string_view text);

/// SHA-256 over state, line break, title, line break, facts: neither state nor title has line
/// breaks.
[[nodiscard]] std::string facts_digest(std::string_view state, std::string_view title,
                                       std::string_view facts);

}  // namespace bw::store
