// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <memory>
#include <string>

#include "store/database.hpp"

namespace bw::store {

/// Connects with libpq. `shown` is what messages call the server: the string without secrets.
/// Errors   Disk, when there is no connection; Refused, for a server that does not make commits
/// lasting or keeps other text than UTF-8.
[[nodiscard]] Result<std::unique_ptr<Connection>> open_postgres(const std::string& connection,
                                                                const std::string& shown,
                                                                int wait_ms);

}  // namespace bw::store
