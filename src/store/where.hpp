// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <memory>
#include <string>

#include "store/books.hpp"
#include "store/database.hpp"

namespace bw::store {

/// Where books lie, taken apart.
struct Where {
    bool postgres = false;
    std::string folder;      ///< SQLite: absolute
    std::string connection;  ///< PostgreSQL
    std::string shown;       ///< for messages, without secrets
    [[nodiscard]] std::string file() const { return folder + "/books.db"; }
};

[[nodiscard]] Result<Where> where_of(const std::string& text);

/// Refuses folders on disks of other machines, where locks and syncs are not to be trusted.
[[nodiscard]] Result<void> expect_own_disk(const std::string& folder);

/// The right to write in a folder, held by one process and one Books at a time: a lock of
/// books.lock that the system takes back when the process ends, however it ends.
class WriteLock {
public:
    /// Waits up to `wait_ms`. Errors Disk, which names the holder's process.
    [[nodiscard]] static Result<WriteLock> take(const std::string& folder, int wait_ms);
    WriteLock() = default;
    WriteLock(WriteLock&& other) noexcept;
    WriteLock& operator=(WriteLock&& other) noexcept;
    WriteLock(const WriteLock&) = delete;
    WriteLock& operator=(const WriteLock&) = delete;
    ~WriteLock();

private:
    int fd_ = -1;
};

/// Bytes into a file that appears whole or not at all, with mode 0600. Errors Disk.
[[nodiscard]] Result<void> write_file(const std::string& path, std::string_view bytes);
/// A whole file of up to `most` bytes. Errors Disk, NotFound, TooLarge.
[[nodiscard]] Result<std::string> read_file(const std::string& path, std::size_t most);

}  // namespace bw::store
