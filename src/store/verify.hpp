// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <cstdint>
#include <set>
#include <string>
#include <unordered_map>

#include <fmt/format.h>

#include "store/books.hpp"
#include "store/database.hpp"

namespace bw::store {

/// Sentences about what is wrong, of which the first hundred are kept.
class Faults {
public:
    explicit Faults(Verification& report) : report_(report) {}
    void add(std::string sentence);

private:
    Verification& report_;
};

/// Entries with the records, attachments and requests that belong to them, followed from the first
/// to the last.
[[nodiscard]] Result<void> verify_trail(Connection& connection, const std::string& genesis,
                                        const std::optional<std::string>& against,
                                        Verification& report);

/// Lists, links, keys and measurements beside what the newest versions state.
[[nodiscard]] Result<void> verify_projections(Connection& connection, Verification& report);

}  // namespace bw::store
