// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <memory>
#include <string>

#include "store/database.hpp"

namespace bw::store {

enum class SqliteUse : std::uint8_t {
    Make,    ///< the file must not be there
    Write,   ///< the one connection that writes and checkpoints
    Read,    ///< beside a writer, or where nothing is written
    Memory,  ///< ":memory:", for comparisons
};

/// Opens books.db with the settings of docs/reference/store.md.
/// Errors   Disk, BrokenBooks for a file that is no SQLite database.
[[nodiscard]] Result<std::unique_ptr<Connection>> open_sqlite(const std::string& file,
                                                              SqliteUse use, int wait_ms);

/// A whole database copied page by page into a new file while others read and write.
[[nodiscard]] Result<void> copy_sqlite(const std::string& from, const std::string& to);

}  // namespace bw::store
