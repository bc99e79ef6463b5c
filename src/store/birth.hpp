// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <cstdint>
#include <memory>
#include <span>
#include <string>
#include <string_view>

#include "store/books.hpp"
#include "store/database.hpp"
#include "store/migrations.hpp"
#include "store/where.hpp"

namespace bw::store {

/// Stands in the head of each books.db, so that another SQLite file is not taken for books: "bwbs".
inline constexpr std::int32_t kApplicationId = 0x62776273;

/// Makes the folder and takes the lock. Errors DuplicateName, when books are there.
[[nodiscard]] Result<WriteLock> prepare_place(const Where& where);
/// A new database after these steps, without a first page.
[[nodiscard]] Result<std::unique_ptr<Connection>> make_tables(const Where& where,
                                                              std::span<const Migration> steps,
                                                              std::string_view at);
/// Gives new books their identity, from which their chain begins.
[[nodiscard]] Result<void> write_first_page(Connection& connection, std::string_view at);
/// Errors NotFound.
[[nodiscard]] Result<void> expect_books(const Where& place);

/// Every table as it is into books.db of a new folder, whatever step the books are at.
[[nodiscard]] Result<Copy> copy_tables(Connection& connection, const Where& place,
                                       std::span<const Migration> steps, const std::string& folder,
                                       std::string_view at);

/// Books::upgrade with the steps that a program knows.
[[nodiscard]] Result<std::string> upgrade_with(const std::string& where,
                                               std::span<const Migration> known,
                                               const std::string& at,
                                               const std::string& copy_folder);

}  // namespace bw::store
