// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <cstdint>
#include <string>
#include <string_view>

#include "base/result.hpp"
#include "store/record.hpp"

namespace bw::store {

/// What one entry says of a record, beside what Entry shows.
struct EntryContent {
    Entry entry;                     ///< `hash` and `body` empty
    std::string answer_sha256;       ///< of the answer kept for repeats
    std::vector<std::string> facts;  ///< for each of entry.records: facts_digest of what it states
};

/// Canonical bytes of an entry: what the chain of hashes is made over.
[[nodiscard]] std::string entry_body(const EntryContent& content);
/// The reverse. Errors BrokenBooks, for bytes that entry_body does not make.
[[nodiscard]] Result<EntryContent> read_entry(std::string_view body);

/// SHA-256 over the 32 bytes of the hash before and the entry's bytes.
[[nodiscard]] std::string chained(std::string_view previous_hex, std::string_view body);

/// Hash before the first entry: SHA-256 of these canonical bytes.
[[nodiscard]] std::string genesis_hash(std::string_view identity, std::string_view made);

/// "128-9f3a6b1c22d04e57"
[[nodiscard]] std::string mark_of(std::int64_t seq, std::string_view hash);
struct Mark {
    std::int64_t seq = 0;
    std::string start;  ///< of the hash
};
/// Errors BadInput.
[[nodiscard]] Result<Mark> read_mark(std::string_view text);

}  // namespace bw::store
